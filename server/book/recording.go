package book

import (
	"context"
	"maps"
	"slices"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
)

// Sender is who sent a visit, and when by the clock of the phone; nil: not told.
type Sender struct {
	Name string
	Sent *timestamppb.Timestamp
}

// RecordInspection keeps a visit and judges it. The same visit again is answered
// as the first time, as repeated; another one under its id is refused.
func (b *Book) RecordInspection(ctx context.Context, shop string, by Sender, checked check.Visit) (Kept, error) {
	in := checked.Inspection()
	unlock, err := b.lock(ctx, shop, in.GetVehicleId())
	if err != nil {
		return Kept{}, err
	}
	defer unlock()
	r := &recording{book: b, shop: shop, checked: checked, sent: by.Sent, visit: visit{by: by.Name, inspection: in}}
	n, err := b.commit(ctx, shop, r.decide)
	if err != nil {
		return Kept{}, err
	}
	if r.first != nil {
		return r.first.message(true), nil
	}
	r.visit.number = n
	return r.visit.message(false), nil
}

// recording is one command that keeps a visit.
type recording struct {
	book    *Book
	shop    string
	checked check.Visit
	sent    *timestamppb.Timestamp // by the phone's clock

	first *visit                 // an equal visit that was kept before
	visit visit                  // as it is kept
	asked *pb.AssessVisitRequest // as it was judged

	vehicle  vehicle             // as it was before
	arrivals map[string]*pb.Tire // tires that the visit names and that were not on its vehicle
	others   map[string]vehicle  // vehicles from which some of these were taken, without them
	placing
}

func (r *recording) id() string { return r.visit.inspection.GetId() }

func (r *recording) decide(s view) (*history.Draft, error) {
	var err error
	if r.first, err = s.visit(r.id()); err != nil {
		return nil, err
	}
	if r.first != nil {
		if !proto.Equal(r.first.inspection, r.visit.inspection) {
			return nil, refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "inspection.id", "another visit has the id %s", r.id()).with("id", r.id())
		}
		return nil, nil //nolint:nilnil // no draft: an equal visit is kept already
	}
	vehicleID := r.visit.inspection.GetVehicleId()
	if r.vehicle, err = s.vehicle(vehicleID); err != nil {
		return nil, err
	}
	if !r.vehicle.there() {
		return nil, refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, "inspection.vehicle_id", "the vehicle %s has not arrived; send it first", vehicleID).with("id", vehicleID)
	}
	if problems := r.checked.On(r.vehicle.record); len(problems) > 0 {
		return nil, &Mismatch{problems}
	}
	d := &drafting{}
	d.expect(visitKey(r.id()), history.Absent)
	d.expect(vehicleKey(vehicleID), r.vehicle.number)
	d.expect(stateKey(vehicleID), r.vehicle.version)
	if err := r.find(s, d); err != nil {
		return nil, err
	}
	if err := r.arrive(s, d); err != nil {
		return nil, err
	}
	if err := r.judge(s); err != nil {
		return nil, err
	}
	if err := r.putRight(s); err != nil {
		return nil, err
	}
	r.before.name(&r.visit, r.before.after(r.place.root, &r.visit, r.arrivals))
	next, err := r.onward(s)
	if err != nil {
		return nil, err
	}
	next.recorded = r.visit.time
	if err := r.dropDeparted(s, d, &next); err != nil {
		return nil, err
	}
	due, err := r.comesDue(s, next)
	if err != nil {
		return nil, err
	}
	if err := r.write(s, d, next, due); err != nil {
		return nil, err
	}
	return d.done()
}

// find finds where in the vehicle's record the visit stands. A visit is corrected once.
func (r *recording) find(s view, d *drafting) error {
	vehicle, corrected := r.visit.inspection.GetVehicleId(), r.visit.inspection.GetCorrects().GetInspectionId()
	if corrected == "" {
		return r.findPlace(s, nil)
	}
	old, err := s.visit(corrected)
	switch {
	case err != nil:
		return err
	case old == nil:
		return refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, "inspection.corrects.inspection_id", "the visit %s that this corrects has not arrived; send it first", corrected).with("id", corrected)
	case old.replacedBy != "":
		return refuse(pb.ErrorReason_ERROR_REASON_ALREADY_CORRECTED, "inspection.corrects.inspection_id", "the visit %s was corrected already; correct the correction", corrected).with("by", old.replacedBy)
	case old.inspection.GetVehicleId() != vehicle:
		return refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "inspection.corrects.inspection_id", "the visit %s is of another vehicle", corrected)
	}
	d.expect(replacedKey(corrected), history.Absent)
	d.put(replacedKey(corrected), &rows.Replaced{By: r.id()})
	row, err := s.s.Get(s.ctx, old.key())
	if err != nil {
		return err
	}
	c, err := s.readCover(row)
	if err != nil {
		return err
	}
	d.replaced(c, r.id())
	d.lived(old, c.inspection, nil)
	return r.findPlace(s, old)
}

// arrive reads the tires that the visit names and that were not on its vehicle,
// and takes each off the vehicle it was on.
func (r *recording) arrive(s view, d *drafting) error {
	tires, versions, err := s.arrivals(r.visit.inspection, r.vehicle.state.tires)
	if err != nil {
		return err
	}
	r.arrivals, r.others = tires, map[string]vehicle{}
	var known []*pb.Tire
	for _, id := range slices.Sorted(maps.Keys(tires)) {
		d.expect(tireKey(id), versions[id])
		if versions[id] != history.Absent {
			known = append(known, tires[id])
		}
		if on := tires[id].GetPlace().GetMounted().GetVehicleId(); on != "" && on != r.visit.inspection.GetVehicleId() {
			if err := r.takeOff(s, on, id); err != nil {
				return err
			}
		}
	}
	if len(known) > 0 {
		d.put(arrivalsKey(r.id()), &rows.Tires{Tires: d.tiresSent(known)})
	}
	for _, id := range slices.Sorted(maps.Keys(r.others)) {
		other := r.others[id]
		d.expect(vehicleKey(id), other.number)
		d.expect(stateKey(id), other.version)
		d.state(id, other.state)
		before, err := s.dues(id)
		if err != nil {
			return err
		}
		after := mounted(before, other.state.tires)
		d.due(other.record, before, after)
		was, err := s.vehicle(id)
		if err != nil {
			return err
		}
		d.list(was, other, before, after)
	}
	return nil
}

// arrivals reads the tires that a visit names and that are not among those on its
// vehicle. Of one that nobody knows only the id is given.
func (v view) arrivals(visit *pb.Inspection, on []*pb.Tire) (tires map[string]*pb.Tire, versions map[string]history.Number, err error) {
	tires, versions = map[string]*pb.Tire{}, map[string]history.Number{}
	for _, w := range visit.GetWheels() {
		if id := w.GetTireId(); id != "" && !among(on, id) {
			tires[id] = &pb.Tire{Id: id}
			e, err := v.record(tireKey(id), tires[id])
			if err != nil {
				return nil, nil, err
			}
			versions[id] = e.number
		}
	}
	return tires, versions, nil
}

// takeOff takes a tire off another vehicle.
func (r *recording) takeOff(s view, vehicle, tire string) error {
	other, read := r.others[vehicle]
	if !read {
		var err error
		if other, err = s.vehicle(vehicle); err != nil {
			return err
		}
	}
	other.state.tires = slices.DeleteFunc(other.state.tires, func(t *pb.Tire) bool { return t.GetId() == tire })
	r.others[vehicle] = other
	return nil
}

// dropDeparted leaves out the tires that are on another vehicle by now: going
// through the record again, a visit of old times does not bring them back.
func (r *recording) dropDeparted(s view, d *drafting, next *state) error {
	var stay []*pb.Tire
	for _, t := range next.tires {
		if !among(r.vehicle.state.tires, t.GetId()) && r.arrivals[t.GetId()] == nil {
			now := &pb.Tire{}
			e, err := s.record(tireKey(t.GetId()), now)
			if err != nil {
				return err
			}
			d.expect(tireKey(t.GetId()), e.number)
			if on := now.GetPlace().GetMounted().GetVehicleId(); on != "" && on != r.visit.inspection.GetVehicleId() {
				continue
			}
		}
		stay = append(stay, t)
	}
	next.tires = stay
	return nil
}

// judge makes the assessment from the visit, the tires the book knows, and the
// visits before it.
func (r *recording) judge(s view) error {
	req, err := s.request(r.shop, r.vehicle.record, r.visit.inspection, r.course, r.arrivals)
	if err != nil {
		return err
	}
	r.asked = req
	r.visit.frontRear = r.vehicle.frontRear()
	r.visit.assessment, err = s.judged(r.book.judge, r.shop, r.vehicle.record, req)
	return err
}

// judged judges a request about a vehicle by what the book holds now.
func (v view) judged(judge Judge, shop string, of *pb.Vehicle, req *pb.AssessVisitRequest) (*pb.Assessment, error) {
	last, err := v.s.Last(v.ctx)
	if err != nil {
		return nil, err
	}
	a := judge(shop, req)
	a.Basis.BookPosition, a.Basis.PlaceOfShop = decimal(last), placeOfShop(of, req)
	return a, nil
}

// write puts what the visit changes: the visit, what is made of the vehicle, its
// tires, the covering row, the lists, the feed.
func (r *recording) write(s view, d *drafting, next state, due []*rows.DueRow) error {
	in, before := r.visit.inspection, r.vehicle.state
	d.visit(&r.visit)
	d.state(in.GetVehicleId(), next)
	d.tires(before.tires, next.tires, r.visit.entry)
	if err := r.writeSteps(d, s); err != nil {
		return err
	}
	known, err := s.dues(in.GetVehicleId())
	if err != nil {
		return err
	}
	now := r.vehicle
	now.state = next
	d.list(r.vehicle, now, known, due)
	d.due(r.vehicle.record, known, due)
	d.change(r.change(next))
	return nil
}

// change is what the counter is told.
func (r *recording) change(next state) entryOfFeed {
	before, c := r.vehicle.state, newChange(r.visit.time)
	what := &rows.VisitChange{
		InspectionId: c.texts.Number(r.id()), VehicleId: c.texts.Number(r.vehicle.record.GetId()), Tag: c.texts.Number(r.vehicle.record.GetTag()),
		Opened: c.texts.Numbers(next.opened(before)),
	}
	what.Closed = c.closes(next.closed(before))
	c.row.What = &rows.Change_Inspection{Inspection: what}
	c.touches(r.vehicle, next)
	for _, id := range slices.Sorted(maps.Keys(r.others)) {
		c.touches(r.others[id], r.others[id].state)
	}
	return c
}

// tires puts the rows of tires that changed or went.
func (d *drafting) tires(before, after []*pb.Tire, e entry) {
	gone := map[string]*pb.Tire{}
	for _, t := range before {
		gone[t.GetId()] = t
	}
	for _, t := range after {
		if !proto.Equal(gone[t.GetId()], t) {
			d.record(tireKey(t.GetId()), t, e)
		}
		delete(gone, t.GetId())
	}
	for _, id := range slices.Sorted(maps.Keys(gone)) {
		t := proto.CloneOf(gone[id])
		t.Place = nil // taken off, and nobody said where it went
		d.record(tireKey(id), t, e)
	}
}
