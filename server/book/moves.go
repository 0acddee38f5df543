package book

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
)

// moves are moves of tires that happened together, as the book holds them.
type moves struct {
	entry
	moves    *pb.TireMoves
	rotation *pb.ProposedRotation // nil: the moves were told
	vehicle  string               // that they were told of
	tires    []*pb.Tire           // as known then, where they are afterwards
	of       string               // the vehicle whose record is gone through
}

// moves reads moves; nil when there are none.
func (v view) moves(id string) (*moves, error) {
	row := &rows.Moves{}
	number, found, err := v.get(movesKey(id), row)
	if err != nil || !found {
		return nil, err
	}
	out := &moves{entry: entry{number, row.GetRecordedTime(), row.GetCountedTime()}, moves: &pb.TireMoves{}, vehicle: row.GetVehicleId()}
	if out.tires, err = tiresRead(row.GetTires()); err != nil {
		return nil, err
	}
	for _, t := range out.tires {
		if m := t.GetPlace().GetMounted(); m != nil {
			if m.VehicleId, err = v.resolved(m.GetVehicleId()); err != nil {
				return nil, err
			}
		}
	}
	if row.GetRotation() != nil {
		out.rotation = &pb.ProposedRotation{}
		if err := proto.Unmarshal(row.GetRotation(), out.rotation); err != nil {
			return nil, err
		}
	}
	return out, proto.Unmarshal(row.GetMoves(), out.moves)
}

// on is what the moves make of a vehicle: tires that went are gone, tires that came are
// there, and one whose place was taken and that was not moved itself is there no more. Of
// two that came to one place of what was found to be one vehicle, the last is there.
func (m *moves) on(s state) state {
	tires := slices.Clone(s.tires)
	taken := map[string]bool{}
	var came []*pb.Tire
	for _, t := range m.tires {
		if known := slices.IndexFunc(tires, func(o *pb.Tire) bool { return o.GetId() == t.GetId() }); known >= 0 {
			place := t.GetPlace()
			t = proto.CloneOf(tires[known])
			t.Place = place
			tires = slices.Delete(tires, known, known+1)
		}
		if t.GetPlace().GetMounted().GetVehicleId() == m.of {
			came = slices.DeleteFunc(came, func(o *pb.Tire) bool { return position(o) == position(t) })
			taken[position(t)] = true
			came = append(came, t)
		}
	}
	tires = append(slices.DeleteFunc(tires, func(t *pb.Tire) bool { return taken[position(t)] }), came...)
	slices.SortFunc(tires, func(a, b *pb.Tire) int { return strings.Compare(position(a), position(b)) })
	return s.remounted(tires, m.gone)
}

// gone says what closes what is of a tire that these moves took off the vehicle.
func (m *moves) gone(tire string) finding.Closed {
	i := slices.IndexFunc(m.tires, func(t *pb.Tire) bool { return t.GetId() == tire })
	switch {
	case i < 0:
		return ""
	case m.tires[i].GetPlace().GetMounted() != nil:
		return finding.ClosedMovedOn
	}
	return finding.ClosedTireOff
}

// MoveTires keeps moves of tires, all or none. The same moves again are answered as the first
// time, as repeated.
//
// rotation, where it is told, is one that was proposed: it stands for the moves.
func (b *Book) MoveTires(ctx context.Context, shop, vehicleID string, sent *pb.TireMoves, rotation *pb.ProposedRotation) (*pb.Recorded, error) {
	unlock, err := b.lock(ctx, shop, vehicleID)
	if err != nil {
		return nil, err
	}
	defer unlock()
	r := &moving{book: b, vehicle: vehicleID, told: sent, rotation: rotation, sent: sent}
	n, err := b.commit(ctx, shop, r.decide)
	if err != nil || r.repeated != nil {
		return r.repeated, err
	}
	r.entry.number = n
	return r.entry.recorded(false, history.Absent), nil
}

// moving is one command that keeps moves.
type moving struct {
	entry
	book     *Book
	vehicle  string
	told     *pb.TireMoves // as they were sent
	rotation *pb.ProposedRotation
	sent     *pb.TireMoves // with the moves of a rotation that was proposed
	repeated *pb.Recorded

	vehicles map[string]vehicle // that tires are moved on, off or onto
	versions map[string]history.Number
	tires    []*pb.Tire // where they are afterwards
}

func (r *moving) decide(s view) (*history.Draft, error) {
	r.repeated, r.vehicles, r.versions, r.tires = nil, map[string]vehicle{}, map[string]history.Number{}, nil
	first, err := s.moves(r.sent.GetId())
	if err != nil {
		return nil, err
	}
	if first != nil {
		kept := proto.CloneOf(first.moves)
		if first.rotation != nil {
			kept.Moves = nil // it stood for them
		}
		if !r.same(s, first, kept) {
			return nil, refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "moves.id", "other moves have the id %s", r.sent.GetId()).with("id", r.sent.GetId())
		}
		r.repeated = first.recorded(true, history.Absent)
		return nil, nil //nolint:nilnil // no draft: equal moves are kept already
	}
	if err := r.involve(s, r.vehicle, "vehicle_id"); err != nil {
		return nil, err
	}
	if r.rotation != nil {
		if r.sent, err = r.rotated(s); err != nil {
			return nil, err
		}
	}
	for i, m := range r.sent.GetMoves() {
		if err := r.move(s, m, fmt.Sprintf("moves.moves[%d]", i)); err != nil {
			return nil, err
		}
	}
	return r.write(s)
}

// same tells that the moves were kept just so. Moves that a rotation stood for are imported as
// moves.
func (r *moving) same(s view, first *moves, kept *pb.TireMoves) bool {
	if r.book.importing && r.rotation == nil {
		kept = first.moves
	} else if !proto.Equal(first.rotation, r.rotation) {
		return false
	}
	of := func(id string, m *pb.TireMoves) *pb.MoveTiresRequest {
		return &pb.MoveTiresRequest{VehicleId: id, Moves: m}
	}
	return r.book.same(s, of(first.vehicle, kept), of(r.vehicle, r.told))
}

// comesLast refuses moves that are imported and stand before what is recorded already: where
// their tires were then, nobody has told.
func (r *moving) comesLast(a *across, spot history.Key) error {
	if !r.imported() {
		return nil
	}
	for _, on := range slices.Sorted(maps.Keys(r.vehicles)) {
		if last, err := a.isLast(on, historyOf(on)+spot); err != nil || !last {
			return cmp.Or(err, error(refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "moves.done_time", "of the vehicle %s something later is recorded already: import moves in their order", on)))
		}
	}
	for _, t := range r.tires {
		if next, err := a.next(t.GetId(), spot); err != nil || next.spot != "" {
			return cmp.Or(err, error(refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "moves.done_time", "of the tire %s something later is recorded already: import moves in their order", t.GetId())))
		}
	}
	return nil
}

// involve reads a vehicle of which tires are moved.
func (r *moving) involve(s view, id, field string) error {
	if _, read := r.vehicles[id]; read {
		return nil
	}
	v, err := s.vehicle(id)
	if err != nil {
		return err
	}
	if _, read := r.vehicles[v.record.GetId()]; read {
		return nil
	}
	if !v.there() {
		return refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, field, "the vehicle %s has not arrived; send it first", id).with("id", id)
	}
	r.vehicles[v.record.GetId()] = v
	return nil
}

// move finds where one tire is and where it goes.
func (r *moving) move(s view, m *pb.TireMove, field string) error {
	t, e, err := s.tire(m.GetTireId())
	if err != nil {
		return err
	}
	if !e.there() {
		return refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, field+".tire_id", "the tire %s has not arrived; send it first", m.GetTireId()).with("id", m.GetTireId())
	}
	from, to := t.GetPlace().GetMounted(), proto.CloneOf(m.GetTo())
	if from != nil {
		if err := r.involve(s, from.GetVehicleId(), field+".tire_id"); err != nil {
			return err
		}
	}
	if onto := to.GetMounted(); onto != nil {
		if err := r.involve(s, onto.GetVehicleId(), field+".to.mounted.vehicle_id"); err != nil {
			return err
		}
		if onto.VehicleId, err = s.resolved(onto.GetVehicleId()); err != nil {
			return err
		}
		if problems := check.At(field+".to.mounted.position", onto.GetPosition(), r.vehicles[onto.GetVehicleId()].record); len(problems) > 0 {
			return &Mismatch{problems}
		}
		if onto.GetFacesOut() == pb.SidewallFace_SIDEWALL_FACE_UNSPECIFIED {
			onto.FacesOut = facesOut(from, onto, m.GetTurned())
		}
	}
	if r.taken(to.GetMounted()) {
		return refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, field+".to", "two tires in one place")
	}
	moved := proto.CloneOf(t)
	moved.Place = to
	r.tires, r.versions[m.GetTireId()] = append(r.tires, moved), e.number
	return nil
}

// taken tells that another of these moves goes to a place: it may be told by two ids of one
// vehicle, of which the request itself does not know.
func (r *moving) taken(place *pb.MountedPlace) bool {
	return slices.ContainsFunc(r.tires, func(t *pb.Tire) bool {
		on := t.GetPlace().GetMounted()
		return on != nil && place != nil && on.GetVehicleId() == place.GetVehicleId() && on.GetPosition() == place.GetPosition()
	})
}

// facesOut is which face looks outward after a move, where it is known which one did before.
// Not told to be turned or not, a disc wheel that moves between an outer dual and any other
// position is turned. Common practice.
func facesOut(from, to *pb.MountedPlace, turned pb.Answer) pb.SidewallFace {
	outer := func(p *pb.MountedPlace) bool { return strings.HasSuffix(p.GetPosition(), "O") }
	turn := turned == pb.Answer_ANSWER_YES || turned == pb.Answer_ANSWER_UNSPECIFIED && from != nil && outer(from) != outer(to)
	if !turn {
		return from.GetFacesOut()
	}
	return map[pb.SidewallFace]pb.SidewallFace{
		pb.SidewallFace_SIDEWALL_FACE_FULL_IDENTIFICATION:    pb.SidewallFace_SIDEWALL_FACE_PARTIAL_IDENTIFICATION,
		pb.SidewallFace_SIDEWALL_FACE_PARTIAL_IDENTIFICATION: pb.SidewallFace_SIDEWALL_FACE_FULL_IDENTIFICATION,
		pb.SidewallFace_SIDEWALL_FACE_MARKED_A:               pb.SidewallFace_SIDEWALL_FACE_MARKED_B,
		pb.SidewallFace_SIDEWALL_FACE_MARKED_B:               pb.SidewallFace_SIDEWALL_FACE_MARKED_A,
	}[from.GetFacesOut()]
}

func (r *moving) write(s view) (*history.Draft, error) {
	r.entry.time = timestamppb.New(r.book.now())
	for _, v := range r.vehicles {
		r.entry.time = nextTime(r.entry.time, v.state.recorded)
	}
	var err error
	if r.stood, err = r.book.standing(r.sent.GetDoneTime(), r.entry.time, "moves.done_time"); err != nil {
		return nil, err
	}
	d, id := &drafting{}, r.sent.GetId()
	d.expect(movesKey(id), history.Absent)
	row := &rows.Moves{Moves: d.sent(r.sent), RecordedTime: r.entry.time, VehicleId: r.vehicle, Tires: d.tiresSent(r.tires), CountedTime: r.stood}
	if r.rotation != nil {
		row.Rotation = d.sent(r.rotation)
	}
	d.put(movesKey(id), row)
	a := newAcross(s, d)
	if err := r.goThrough(a); err != nil {
		return nil, err
	}
	c := newChange(r.entry.time)
	c.row.What = &rows.Change_Moves{Moves: c.texts.Number(id)}
	all, err := a.others(c)
	if err != nil {
		return nil, err
	}
	for _, v := range all {
		c.row.Closed = append(c.row.Closed, c.closes(v.now.state.closed(v.was.state))...)
		c.row.Opened = append(c.row.Opened, c.texts.Numbers(v.now.state.opened(v.was.state))...)
	}
	before, after := tiresOfAll(all)
	d.tires(before, after, r.entry)
	for _, t := range r.tires {
		d.record(tireKey(t.GetId()), t, r.entry)
	}
	d.change(c)
	return d.done()
}

// goThrough puts the moves into the records of the vehicles, and goes through these.
func (r *moving) goThrough(a *across) error {
	id, at := r.sent.GetId(), r.entry.time
	spot := history.Key("").Int64(nanos(r.at())).Int64(nanos(at)).Int64(nanos(at)).Text(id)
	if err := r.comesLast(a, spot); err != nil {
		return err
	}
	for _, t := range r.tires {
		on := t.GetPlace().GetMounted().GetVehicleId()
		a.draft.expect(tireKey(t.GetId()), r.versions[t.GetId()])
		if err := a.tell(t.GetId(), on, spot); err != nil {
			return err
		}
		a.draft.put(lifeKey(t.GetId(), r.at(), at, at, id, ""), &rows.TireEvent{What: &rows.TireEvent_Moves{}, VehicleId: on})
	}
	for _, on := range slices.Sorted(maps.Keys(r.vehicles)) {
		a.draft.event(on, r.entry, id, &rows.Event{What: &rows.Event_Moves{Moves: id}})
		a.from(on, spot)
		v, err := a.pass(on)
		if err != nil {
			return err
		}
		v.now.state.recorded = at
	}
	return a.settle()
}
