package book

import (
	"context"
	"slices"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// bareTire is a tire as callers record it: without what the server fills in.
func bareTire(t *pb.Tire) *pb.Tire {
	c := proto.CloneOf(t)
	c.Revision, c.Place = "", nil
	return c
}

// tire reads a tire as it is now, with its place.
func (v view) tire(id string) (*pb.Tire, entry, error) {
	t := &pb.Tire{}
	e, err := v.record(tireKey(id), t)
	return t, e, err
}

// recordedTire is a tire that was recorded while it was on a vehicle.
type recordedTire struct{ tire *pb.Tire }

func (r recordedTire) on(s state) state {
	next := s.clone()
	for i, t := range next.tires {
		if t.GetId() == r.tire.GetId() {
			changed := proto.CloneOf(r.tire)
			changed.Place = t.GetPlace()
			next.tires[i] = changed
		}
	}
	return next
}

// RecordTire keeps a new tire, or changes the one whose revision is given, as RecordVehicle
// does with vehicles. Where it is, is not told so: visits and moves say it.
func (b *Book) RecordTire(ctx context.Context, shop string, sent *pb.Tire, empty []string) (*pb.Recorded, error) {
	unlock, err := b.lock(ctx, shop, sent.GetId())
	if err != nil {
		return nil, err
	}
	defer unlock()
	var repeated *pb.Recorded
	var e entry
	n, err := b.commit(ctx, shop, func(s view) (*history.Draft, error) {
		now, was, err := s.tire(sent.GetId())
		if err != nil {
			return nil, err
		}
		next := bareTire(sent)
		if was.there() {
			next = merged(bareTire(now), bareTire(sent), empty)
		}
		first := &pb.Tire{}
		born, err := s.record(tireBornKey(sent.GetId()), first)
		if err != nil {
			return nil, err
		}
		repeated = repeatedTire(now, next, was, sent, first, born)
		if b.importing && was.there() && proto.Equal(bareTire(now), bareTire(sent)) { // as it is by now, also where only a visit told of it
			repeated = was.recorded(true, was.number)
		}
		if repeated != nil {
			return nil, nil //nolint:nilnil // no draft: the tire is recorded just so
		}
		switch revision := sent.GetRevision(); {
		case !was.there() && revision != "":
			return nil, refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "tire.id", "no tire %s in this shop", sent.GetId()).with("id", sent.GetId())
		case was.there() && revision == "" && !born.there():
			// A visit named it before its own record arrived.
		case was.there() && revision == "":
			return nil, refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "tire.id", "another tire has the id %s", sent.GetId()).with("id", sent.GetId())
		case revision != decimal(was.number):
			return nil, refuse(pb.ErrorReason_ERROR_REASON_REVISION_STALE, "tire.revision", "the tire was changed since it was read").with("revision", decimal(was.number))
		}
		next.Place = now.GetPlace()
		e.time = timestamppb.New(b.now())
		d, err := s.tireDraft(next, was, &e)
		if err != nil {
			return nil, err
		}
		if !born.there() {
			d.expect(tireBornKey(sent.GetId()), history.Absent)
			d.record(tireBornKey(sent.GetId()), bareTire(sent), e)
		}
		return d.done()
	})
	if err != nil || repeated != nil {
		return repeated, err
	}
	e.number = n
	return e.recorded(false, n), nil
}

// repeatedTire tells where the tire was recorded just so; nil: it was not.
func repeatedTire(now, next *pb.Tire, was entry, sent, first *pb.Tire, born entry) *pb.Recorded {
	switch {
	case !was.there():
	case sent.GetRevision() != "" && proto.Equal(bareTire(now), next):
		return was.recorded(true, was.number)
	case sent.GetRevision() == "" && born.there() && proto.Equal(first, bareTire(sent)):
		return born.recorded(true, was.number)
	}
	return nil
}

// tireDraft writes a tire in place of what was, and what its vehicle has of it.
func (v view) tireDraft(next *pb.Tire, was entry, e *entry) (*drafting, error) {
	d, id := &drafting{}, next.GetId()
	d.expect(tireKey(id), was.number)
	c := newChange(e.time)
	if on := next.GetPlace().GetMounted().GetVehicleId(); on != "" {
		of, err := v.vehicle(on)
		if err != nil {
			return nil, err
		}
		e.time = nextTime(e.time, of.state.recorded)
		after := recordedTire{next}.on(of.state)
		d.event(on, *e, id, &rows.Event{What: &rows.Event_Tire{Tire: d.sent(bareTire(next))}})
		if err := v.happened(d, of, after, e.time); err != nil {
			return nil, err
		}
		c.touches(of, after)
	}
	d.record(tireKey(id), next, *e)
	c.row.What = &rows.Change_Tire{Tire: c.texts.Number(id)}
	d.change(c)
	return d, d.err
}

// nextTime is a moment, later than that of the last record of a vehicle.
func nextTime(at, last *timestamppb.Timestamp) *timestamppb.Timestamp { return next(at.AsTime(), last) }

// GetTire gives a tire and its repairs, the oldest first.
func (b *Book) GetTire(ctx context.Context, shop, id string) (*pb.GetTireResponse, error) {
	out := &pb.GetTireResponse{}
	err := b.read(ctx, shop, func(s view) error {
		t, e, err := s.tire(id)
		if err != nil {
			return err
		}
		if !e.there() {
			return noTire(id)
		}
		t.Revision, out.Tire = decimal(e.number), t
		kept, err := s.repairs(id)
		for _, k := range kept {
			out.Repairs = append(out.Repairs, k.repair)
		}
		return err
	})
	return out, err
}

func noTire(id string) error {
	return refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "tire_id", "no tire %s in this shop", id).with("id", id)
}

// keptRepair is a repair with when it was recorded.
type keptRepair struct {
	repair *pb.Repair
	time   *timestamppb.Timestamp
}

// repairs reads the repairs of a tire, the oldest first.
func (v view) repairs(tire string) (all []keptRepair, err error) {
	row := &rows.Repairs{}
	if _, _, err = v.get(repairsKey(tire), row); err != nil {
		return nil, err
	}
	for _, r := range row.GetRepairs() {
		k := keptRepair{&pb.Repair{}, r.GetRecordedTime()}
		if err := proto.Unmarshal(r.GetMessage(), k.repair); err != nil {
			return nil, err
		}
		all = append(all, k)
	}
	return all, nil
}

// repairsOf are the repairs of tires that were done before a visit, as far as they had been
// recorded: a repair stays with its tire for life.
func (v view) repairsOf(tires []*pb.Tire, visit *pb.Inspection, known *timestamppb.Timestamp) (all []*pb.Repair, err error) {
	for _, t := range tires {
		kept, err := v.repairs(t.GetId())
		if err != nil {
			return nil, err
		}
		for _, k := range kept {
			later := visit.GetTakenTime() != nil && k.repair.GetDoneTime() != nil && nanos(k.repair.GetDoneTime()) > nanos(visit.GetTakenTime())
			if !later && (known == nil || nanos(k.time) <= nanos(known)) {
				all = append(all, k.repair)
			}
		}
	}
	return all, nil
}

// RecordRepair keeps a repair that was done. The same repair again is answered as the first
// time, as repeated.
func (b *Book) RecordRepair(ctx context.Context, shop string, sent *pb.Repair) (*pb.Recorded, error) {
	var repeated *pb.Recorded
	e := entry{}
	n, err := b.commit(ctx, shop, func(s view) (*history.Draft, error) {
		repeated = nil
		was := &pb.Repair{}
		first, err := s.record(repairKey(sent.GetId()), was)
		if err != nil {
			return nil, err
		}
		if first.there() {
			if !proto.Equal(was, sent) {
				return nil, refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "repair.id", "another repair has the id %s", sent.GetId()).with("id", sent.GetId())
			}
			repeated = first.recorded(true, history.Absent)
			return nil, nil //nolint:nilnil // no draft: an equal repair is kept already
		}
		if _, of, err := s.tire(sent.GetTireId()); err != nil || !of.there() {
			if err == nil {
				err = refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, "repair.tire_id", "the tire %s has not arrived; send it first", sent.GetTireId()).with("id", sent.GetTireId())
			}
			return nil, err
		}
		e.time = timestamppb.New(b.now())
		if e.stood, err = b.standing(sent.GetDoneTime(), e.time, "repair.done_time"); err != nil {
			return nil, err
		}
		return s.repairDraft(sent, e)
	})
	if err != nil || repeated != nil {
		return repeated, err
	}
	e.number = n
	return e.recorded(false, history.Absent), nil
}

func (v view) repairDraft(sent *pb.Repair, e entry) (*history.Draft, error) {
	row := &rows.Repairs{}
	version, _, err := v.get(repairsKey(sent.GetTireId()), row)
	if err != nil {
		return nil, err
	}
	d := &drafting{}
	d.expect(repairKey(sent.GetId()), history.Absent)
	d.expect(repairsKey(sent.GetTireId()), version)
	d.put(repairKey(sent.GetId()), &rows.Record{Message: d.sent(sent), RecordedTime: e.time, CountedTime: e.stood})
	row.Repairs = append(row.Repairs, &rows.Record{Message: d.sent(sent), RecordedTime: e.time})
	d.put(repairsKey(sent.GetTireId()), row)
	at := e.at()
	if done := sent.GetDoneTime(); done != nil && nanos(done) < nanos(at) {
		at = done
	}
	d.put(lifeKey(sent.GetTireId(), at, e.time, e.time, sent.GetId(), ""), &rows.TireEvent{What: &rows.TireEvent_Repair{}})
	c := newChange(e.time)
	c.row.What = &rows.Change_Repair{Repair: d.sent(sent)}
	d.change(c)
	return d.done()
}

// placeSize is the length of the three times of a place in a key.
const placeSize = 3 * 8

// lifeKey orders what happened to a tire as visits are ordered.
func lifeKey(tire string, at, root, recorded *timestamppb.Timestamp, id, position string) history.Key {
	return lifeOf(tire).Int64(nanos(at)).Int64(nanos(root)).Int64(nanos(recorded)).Text(id).Text(position)
}

// lived notes with the tires of a visit that the visit saw them, in place of what was noted.
// was and now name its tires; nil: none.
func (d *drafting) lived(v *visit, was, now *pb.Inspection) {
	k := func(w *pb.WheelReport) history.Key {
		return lifeKey(w.GetTireId(), v.counted, v.rootTime, v.time, v.inspection.GetId(), w.GetPosition())
	}
	noted := map[history.Key]bool{}
	for _, w := range now.GetWheels() {
		noted[k(w)] = true
		told := slices.Contains(named(v.inspection), w.GetTireId()) || isSeenFirst(v.root, w)
		d.put(k(w), &rows.TireEvent{What: &rows.TireEvent_Inspection{}, Told: told})
	}
	for _, w := range was.GetWheels() {
		if !noted[k(w)] {
			d.delete(k(w))
		}
	}
}

// ListTireHistory gives a page of what happened to a tire, the newest first.
func (b *Book) ListTireHistory(ctx context.Context, shop, tire string, size int, token string) (page Page[*pb.TireEvent], err error) {
	of := list{shop, lifeOf(tire)}
	behind, err := b.pageAfter(of, token)
	if err != nil {
		return page, err
	}
	err = b.read(ctx, shop, func(s view) error {
		if _, e, err := s.tire(tire); err != nil || !e.there() {
			if err == nil {
				err = noTire(tire)
			}
			return err
		}
		found, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: behind, Limit: size, Reverse: true})
		if err != nil {
			return err
		}
		read := &visits{view: s}
		for _, r := range found.Rows {
			e, err := read.tireEvent(tire, r)
			if err != nil {
				return err
			}
			page.Rows = append(page.Rows, e)
		}
		page.Next = b.pageToken(of, found)
		return nil
	})
	return page, err
}

// tireEvent is what happened to a tire as callers see it. Its key says which record it is of,
// and at which wheel.
func (r *visits) tireEvent(tire string, kept history.Row) (*pb.TireEvent, error) {
	out, row := &pb.TireEvent{}, &rows.TireEvent{}
	if err := decode(kept.Value, row); err != nil {
		return nil, err
	}
	texts := kept.Key.Texts(len(lifeOf(tire)) + placeSize)
	id, at := texts[0], texts[1]
	switch row.GetWhat().(type) {
	case *rows.TireEvent_Inspection:
		v, err := r.get(id)
		if err != nil || v == nil {
			return out, err
		}
		in := v.inspection
		out.Number, out.DoneTime, out.Odometer, out.RecordId = decimal(v.number), in.GetTakenTime(), in.GetOdometer(), in.GetId()
		out.Mounted = &pb.MountedPlace{VehicleId: in.GetVehicleId(), Position: at}
		for _, w := range in.GetWheels() {
			if w.GetPosition() == at {
				out.What = &pb.TireEvent_Measured{Measured: w}
			}
		}
	case *rows.TireEvent_Moves:
		m, err := r.moves(id)
		if err != nil || m == nil {
			return out, err
		}
		out.Number, out.DoneTime, out.Odometer, out.RecordId = decimal(m.number), m.moves.GetDoneTime(), m.moves.GetOdometer(), m.moves.GetId()
		if i := slices.IndexFunc(m.tires, func(t *pb.Tire) bool { return t.GetId() == tire }); i >= 0 {
			out.What, out.Mounted = &pb.TireEvent_Moved{Moved: m.tires[i].GetPlace()}, m.tires[i].GetPlace().GetMounted()
		}
	case *rows.TireEvent_Repair:
		repair := &pb.Repair{}
		e, err := r.record(repairKey(id), repair)
		if err != nil {
			return nil, err
		}
		out.Number, out.DoneTime, out.RecordId, out.What = decimal(e.number), repair.GetDoneTime(), repair.GetId(), &pb.TireEvent_Repaired{Repaired: repair}
	}
	return out, nil
}
