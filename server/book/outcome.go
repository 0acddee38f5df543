package book

import (
	"context"
	"slices"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// outcome is what became of a finding, as the book holds it.
type outcome struct {
	entry
	said     *pb.Outcome // without what identifies a person
	by       string      // who sent it
	vehicle  string
	openID   string         // what the finding was called at the visit that the outcome names; "": it asked for nothing there
	closedBy finding.Closed // what may close it; "": nothing
}

// outcome reads an outcome; nil when there is none.
func (v view) outcome(id string) (*outcome, error) {
	row := &rows.Outcome{}
	number, found, err := v.get(outcomeKey(id), row)
	if err != nil || !found {
		return nil, err
	}
	out := &outcome{
		entry: entry{number, row.GetRecordedTime(), row.GetCountedTime()}, said: &pb.Outcome{}, by: row.GetRecordedBy(), vehicle: row.GetVehicleId(), openID: row.GetOpenId(),
		closedBy: finding.Closed(row.GetClosedBy()),
	}
	return out, proto.Unmarshal(row.GetOutcome(), out.said)
}

// outcome puts an outcome, and what identifies a person in a row of its own.
func (d *drafting) outcome(o *outcome, persons *pb.Outcome) {
	id := o.said.GetId()
	d.put(outcomeKey(id), &rows.Outcome{
		Outcome: d.sent(o.said), RecordedTime: o.time, RecordedBy: o.by, VehicleId: o.vehicle, OpenId: o.openID, ClosedBy: string(o.closedBy), CountedTime: o.stood,
	})
	if proto.Size(persons) > 0 {
		d.record(deciderKey(id), persons, o.entry)
	}
	d.event(o.vehicle, o.entry, id, &rows.Event{What: &rows.Event_Outcome{Outcome: id}})
}

// persons adds what identifies a person to an outcome, where it was not erased.
func (v view) persons(o *pb.Outcome) error {
	persons := &pb.Outcome{}
	if _, err := v.record(deciderKey(o.GetId()), persons); err != nil {
		return err
	}
	proto.Merge(o, persons)
	return nil
}

// parted parts what identifies a person from the rest of an outcome.
func parted(o *pb.Outcome) (rest, persons *pb.Outcome) {
	rest, persons = proto.CloneOf(o), &pb.Outcome{DecidedBy: o.GetDecidedBy(), Warning: o.GetWarning()}
	rest.DecidedBy, rest.Warning = "", nil
	return rest, persons
}

// of is which of what is open an outcome is of, -1: of none. What its visit found, if that
// found it last, comes before what only has the name that the outcome knows it by: a
// correction may have made two of one.
func (o *outcome) of(open []openFinding) int {
	for _, about := range []func(openFinding) bool{
		func(f openFinding) bool {
			return f.visitID == o.said.GetInspectionId() && f.findingID == o.said.GetFindingId()
		},
		func(f openFinding) bool { return f.openID == o.openID },
		func(f openFinding) bool { return o.openID != "" && slices.Contains(f.also, o.openID) },
	} {
		if i := slices.IndexFunc(open, about); i >= 0 {
			return i
		}
	}
	return -1
}

// on is what the outcome makes of its vehicle: it stands with the finding, or closes it.
func (o *outcome) on(s state) state {
	next := s.clone()
	if o.imported() {
		return next
	}
	i := o.of(s.open)
	next.left = left(o.said.GetLeftBy(), s.left)
	if i < 0 {
		return next
	}
	if o.closes(next.open[i]) {
		next.closedBy[next.open[i].openID] = &pb.Said{Code: string(o.closedBy)}
		next.open = slices.Delete(next.open, i, i+1)
		next.headline = headline(next.open, unheld(s.headline), nil)
		return next
	}
	f := &next.open[i]
	f.outcomes = append(slices.Clip(f.outcomes), o.said.GetId())
	f.until = o.said.GetUntilDate()
	return next
}

// unheld is a headline without what held the vehicle, and without what was to be done: that
// may have been of what was closed, and nobody looked again.
func unheld(h *pb.Headline) *pb.Headline {
	h = proto.CloneOf(h)
	if h.GetHold() == pb.Hold_HOLD_DO_NOT_MOVE || h.GetHold() == pb.Hold_HOLD_OFF_THE_ROAD {
		h.Hold, h.Positions = pb.Hold_HOLD_CANNOT_TELL, nil
	}
	h.Unknown, h.First, h.Ask, h.Quote = nil, nil, nil, nil
	return h
}

// closes tells whether an outcome closes what is open as it is by then: a correction may have
// made it graver. What protects someone stays open until a reading as left, or a later visit,
// closes it; what was withdrawn was no finding.
func (o *outcome) closes(f openFinding) bool {
	return o.closedBy != "" && (!f.protects || o.closedBy == finding.ClosedTakenBack)
}

// protects tells that nobody's word closes a finding.
func protects(f *pb.Finding) bool {
	return f.GetUrgency() == pb.Urgency_URGENCY_BEFORE_DRIVING || f.GetCaution() != ""
}

// closedByDecision is what a decision may close a finding by.
var closedByDecision = map[pb.Decision]finding.Closed{
	pb.Decision_DECISION_WITHDRAWN: finding.ClosedTakenBack, pb.Decision_DECISION_DONE: finding.ClosedDoneHere,
	pb.Decision_DECISION_DONE_ELSEWHERE: finding.ClosedDoneElsewhere,
}

// Decided is a finding with what became of it, without words.
type Decided struct {
	Recorded  *pb.Recorded
	Finding   *pb.OpenFinding
	FrontRear bool // how its positions are told
}

// RecordOutcome keeps what became of a finding. The same outcome again is answered as the
// first time, as repeated; another one under its id is refused.
func (b *Book) RecordOutcome(ctx context.Context, shop, by string, sent *pb.Outcome) (Decided, error) {
	vehicleID, err := b.vehicleOf(ctx, shop, sent.GetInspectionId())
	if err != nil {
		return Decided{}, err
	}
	unlock, err := b.lock(ctx, shop, vehicleID)
	if err != nil {
		return Decided{}, err
	}
	defer unlock()
	r := &deciding{book: b, sent: sent, by: b.sender(by)}
	n, err := b.commit(ctx, shop, r.decide)
	if err != nil {
		return Decided{}, err
	}
	out := Decided{}
	if r.first != nil {
		out.Recorded = r.first.recorded(true, history.Absent)
	} else {
		out.Recorded = entry{number: n, time: r.outcome.time}.recorded(false, history.Absent)
	}
	err = b.read(ctx, shop, func(s view) error {
		out.Finding, out.FrontRear, err = s.decided(sent)
		return err
	})
	return out, err
}

// vehicleOf is the vehicle of a visit.
func (b *Book) vehicleOf(ctx context.Context, shop, visit string) (vehicle string, err error) {
	err = b.read(ctx, shop, func(s view) error {
		v, err := s.visit(visit)
		if err == nil && v == nil {
			err = refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, "outcome.inspection_id", "the visit %s has not arrived; send it first", visit).with("id", visit)
		}
		vehicle = v.vehicleID()
		return err
	})
	return vehicle, err
}

// vehicleID is the vehicle of a visit; "" of none.
func (v *visit) vehicleID() string {
	if v == nil {
		return ""
	}
	return v.vehicle
}

// deciding is one command that keeps an outcome.
type deciding struct {
	book *Book
	sent *pb.Outcome
	by   string

	first   *outcome // an equal outcome that was kept before
	outcome *outcome // as it is kept
}

func (r *deciding) decide(s view) (*history.Draft, error) {
	id := r.sent.GetId()
	rest, persons := parted(r.sent)
	var err error
	if r.first, err = s.outcome(id); err != nil {
		return nil, err
	}
	if r.first != nil {
		return nil, s.sameOutcome(r.first, r.sent, r.book.importing)
	}
	visit, err := s.visit(r.sent.GetInspectionId())
	if err != nil {
		return nil, err
	}
	of := visit.finding(r.sent.GetFindingId())
	if r.book.importing && !visit.imported() {
		return nil, refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "outcome.inspection_id", "the visit %s was recorded here: what became of its findings is not imported", visit.inspection.GetId())
	}
	if of == nil && !r.book.importing { // judged by today's rules, history may have other findings
		return nil, refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "outcome.finding_id", "the visit has no finding %s", r.sent.GetFindingId()).with("id", r.sent.GetFindingId())
	}
	r.outcome = &outcome{said: rest, by: r.by}
	if of != nil && asks(of) { // else its visit says that it is open no more, whatever corrects that visit
		r.outcome.openID, r.outcome.closedBy = of.GetOpenId(), closedByDecision[r.sent.GetDecision()]
	}
	v, err := s.whereOpen(r.outcome, visit)
	if err != nil {
		return nil, err
	}
	at := next(r.book.now(), v.state.recorded)
	r.outcome.time, r.outcome.vehicle = at, v.record.GetId()
	if r.outcome.stood, err = r.book.standing(visit.counted, at, "outcome"); err != nil {
		return nil, err
	}
	after := r.outcome.on(v.state)
	d := &drafting{}
	d.expect(outcomeKey(id), history.Absent)
	d.outcome(r.outcome, persons)
	if err := s.happened(d, v, after, at); err != nil {
		return nil, err
	}
	c := newChange(at)
	c.row.What = &rows.Change_Outcome{Outcome: c.texts.Number(id)}
	c.row.Closed = c.closes(after.closed(v.state))
	c.touches(v, after)
	d.change(c)
	return d.done()
}

// whereOpen is the vehicle on which it is open what an outcome is of: that of its visit, or the
// one to which its tire went since.
func (v view) whereOpen(o *outcome, of *visit) (vehicle, error) {
	own, err := v.vehicle(of.vehicleID())
	at := first(of.finding(o.said.GetFindingId()).GetPositions())
	if err != nil || o.of(own.state.open) >= 0 || at == "" {
		return own, err
	}
	for by := of; err == nil && by != nil; by, err = v.visit(by.replacedBy) {
		other, err := v.whereNow(by, at)
		if err != nil || o.of(other.state.open) >= 0 {
			return other, err
		}
	}
	return own, err
}

// whereNow is the vehicle on which the tire is that a visit saw at a wheel.
func (v view) whereNow(of *visit, at string) (vehicle, error) {
	then, err := v.tiresThen(of)
	if err != nil {
		return vehicle{}, err
	}
	t, _, err := v.tire(then[at])
	if err != nil || t.GetPlace().GetMounted() == nil {
		return vehicle{}, err
	}
	return v.vehicle(t.GetPlace().GetMounted().GetVehicleId())
}

// finding is one of a visit's, nil where it has none of that id.
func (v *visit) finding(id string) *pb.Finding {
	for _, f := range v.assessment.GetFindings() {
		if f.GetId() == id {
			return f
		}
	}
	return nil
}

// sameOutcome refuses an outcome under the id of another. Where what identifies a person was
// erased, or is not imported, the rest is compared.
func (v view) sameOutcome(kept *outcome, sent *pb.Outcome, importing bool) error {
	was, now := proto.CloneOf(kept.said), sent
	if _, persons := parted(sent); !importing || proto.Size(persons) > 0 {
		if err := v.persons(was); err != nil {
			return err
		}
	}
	if proto.Equal(was, kept.said) {
		now, _ = parted(sent)
	}
	if !proto.Equal(was, now) {
		return refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "outcome.id", "another outcome has the id %s", sent.GetId()).with("id", sent.GetId())
	}
	return nil
}

// happened writes what an event makes of a vehicle.
func (v view) happened(d *drafting, of vehicle, after state, at *timestamppb.Timestamp) error {
	now := of
	now.state = after
	return v.becomes(d, of, now, at)
}

// becomes writes what a vehicle is after an event.
func (v view) becomes(d *drafting, of, now vehicle, at *timestamppb.Timestamp) error {
	id := of.record.GetId()
	d.expect(vehicleKey(id), of.number)
	d.expect(stateKey(id), of.version)
	now.state.recorded = at
	d.state(id, now.state)
	before, err := v.dues(id)
	if err != nil {
		return err
	}
	due := mounted(slices.DeleteFunc(slices.Clone(before), func(row *rows.DueRow) bool {
		p := row.GetPositions()[0]
		return tireAt(of.state.tires, p).GetId() != tireAt(now.state.tires, p).GetId()
	}), now.state.tires)
	d.due(of.record, before, due)
	d.list(of, now, before, due)
	return nil
}

// decided is a finding as it stands now, with all its outcomes.
func (v view) decided(sent *pb.Outcome) (*pb.OpenFinding, bool, error) {
	visit, err := v.visit(sent.GetInspectionId())
	if err != nil {
		return nil, false, err
	}
	o, err := v.outcome(sent.GetId())
	if err != nil {
		return nil, false, err
	}
	of, err := v.vehicle(o.vehicle)
	if err != nil {
		return nil, false, err
	}
	read := &visits{view: v}
	for _, f := range of.state.open {
		if !slices.Contains(f.outcomes, sent.GetId()) {
			continue
		}
		found, err := read.get(f.visitID)
		if err != nil {
			return nil, false, err
		}
		out, err := read.openFinding(f, of.record.GetId(), found)
		return out, of.frontRear(), err
	}
	err = v.persons(o.said)
	return &pb.OpenFinding{
		VehicleId: visit.vehicleID(), InspectionId: sent.GetInspectionId(), Finding: proto.CloneOf(visit.finding(sent.GetFindingId())), Outcomes: []*pb.Outcome{o.said},
	}, of.frontRear(), err
}
