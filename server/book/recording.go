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
	r := &recording{book: b, shop: shop, checked: checked, sent: by.Sent, visit: visit{by: b.sender(by.Name), inspection: in}}
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
	across   *across             // vehicles on which some of these were, or are later
	placing
}

func (r *recording) id() string { return r.visit.inspection.GetId() }

func (r *recording) decide(s view) (*history.Draft, error) {
	var err error
	if r.first, err = s.visit(r.id()); err != nil {
		return nil, err
	}
	if r.first != nil {
		if !r.book.same(s, r.first.inspection, r.visit.inspection) {
			return nil, refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "inspection.id", "another visit has the id %s", r.id()).with("id", r.id())
		}
		return nil, nil //nolint:nilnil // no draft: an equal visit is kept already
	}
	vehicleID := r.visit.inspection.GetVehicleId()
	if r.vehicle, err = s.vehicle(vehicleID); err != nil {
		return nil, err
	}
	r.visit.vehicle = r.vehicle.record.GetId()
	if !r.vehicle.there() {
		return nil, refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, "inspection.vehicle_id", "the vehicle %s has not arrived; send it first", vehicleID).with("id", vehicleID)
	}
	if problems := r.checked.On(r.vehicle.nameless()); len(problems) > 0 {
		return nil, &Mismatch{problems}
	}
	d := &drafting{}
	r.across = newAcross(s, d)
	r.across.own = r.visit.vehicle
	s = r.across.view
	d.expect(visitKey(r.id()), history.Absent)
	r.across.known(r.vehicle)
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
	if err := r.name(); err != nil {
		return nil, err
	}
	next, err := r.onward(s)
	if err != nil {
		return nil, err
	}
	next.recorded = r.visit.time
	if err := r.write(s, d, next); err != nil {
		return nil, err
	}
	return d.done()
}

// name gives what the visit found its open ids.
func (r *recording) name() error {
	here := &r.steps[r.here]
	here.arrivals = r.arrivals
	after, err := r.across.take(here, r.before)
	here.before.came = here.came
	here.before.name(&r.visit, after)
	return err
}

// find finds where in the vehicle's record the visit stands. A visit is corrected once.
func (r *recording) find(s view, d *drafting) error {
	vehicle, corrected := r.visit.vehicle, r.visit.inspection.GetCorrects().GetInspectionId()
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
	case old.vehicle != vehicle:
		return refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "inspection.corrects.inspection_id", "the visit %s is of another vehicle", corrected)
	case r.book.importing && !old.imported():
		return refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "inspection.corrects.inspection_id", "the visit %s was recorded here: its correction is not imported", corrected)
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
	r.oldCover = c.inspection
	d.replaced(c, r.id())
	d.lived(old, c.inspection, nil)
	if order := plain(old.inspection.GetOrderReference()); order != "" {
		d.delete(orderKey(order, vehicle, corrected))
	}
	return r.findPlace(s, old)
}

// arrive reads the tires that the visit names and that were not on its vehicle.
func (r *recording) arrive(s view, d *drafting) error {
	tires, versions, err := s.arrivals(r.visit.inspection, r.before.tires)
	if err != nil {
		return err
	}
	r.arrivals = tires
	var known []*pb.Tire
	for _, id := range slices.Sorted(maps.Keys(tires)) {
		d.expect(tireKey(id), versions[id])
		if versions[id] != history.Absent {
			known = append(known, tires[id])
		}
	}
	if len(known) > 0 {
		d.put(arrivalsKey(r.id()), &rows.Tires{Tires: d.tiresSent(known)})
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

// write puts what the visit changes: the visit, the covering row, what is made of the vehicle
// and of those that its tires were on or came to, their tires, the lists, the feed.
func (r *recording) write(s view, d *drafting, next state) error {
	known, err := s.dues(r.visit.vehicle)
	if err != nil {
		return err
	}
	due, err := r.comesDue(s, next)
	if err != nil {
		return err
	}
	own := &passed{was: r.vehicle, now: r.vehicle, through: true}
	own.now.state = next
	a := r.across
	a.vehicles[r.visit.vehicle], a.own = own, ""
	d.visit(&r.visit)
	if err := r.photos(s, d); err != nil {
		return err
	}
	if err := r.writeSteps(d); err != nil {
		return err
	}
	if err := a.part(r.parting); err != nil {
		return err
	}
	if err := a.settle(); err != nil {
		return err
	}
	a.own = r.visit.vehicle
	due = mounted(due, own.now.state.tires)
	d.state(r.visit.vehicle, own.now.state)
	d.list(own.was, own.now, known, due)
	d.due(r.vehicle.record, known, due)
	return r.tell(d, own)
}

// tell puts the change that the counter is told, and the tires that moved with it.
func (r *recording) tell(d *drafting, own *passed) error {
	c := newChange(r.visit.time)
	what := &rows.VisitChange{
		InspectionId: c.texts.Number(r.id()), VehicleId: c.texts.Number(r.vehicle.record.GetId()), Tag: c.texts.Number(r.vehicle.record.GetTag()),
	}
	c.row.What = &rows.Change_Inspection{Inspection: what}
	c.touches(own.now, own.now.state)
	others, err := r.across.others(c)
	if err != nil {
		return err
	}
	all := append([]*passed{own}, others...)
	for _, v := range all {
		what.Opened = append(what.Opened, c.texts.Numbers(v.now.state.opened(v.was.state))...)
		what.Closed = append(what.Closed, c.closes(v.now.state.closed(v.was.state))...)
	}
	before, after := tiresOfAll(all)
	d.tires(before, after, r.visit.entry)
	d.change(c)
	return r.passing(d)
}

// passing puts tires that the visit saw first and that are on no vehicle by now.
func (r *recording) passing(d *drafting) error {
	for _, t := range r.steps[r.here].take().tires {
		_, e, err := r.across.tire(t.GetId())
		if err != nil {
			return err
		}
		if !e.there() {
			t = proto.CloneOf(t)
			t.Place = nil
			d.record(tireKey(t.GetId()), t, r.visit.entry)
		}
	}
	return nil
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
