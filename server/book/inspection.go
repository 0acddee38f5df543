package book

import (
	"context"
	"maps"
	"slices"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
)

// RecordInspection keeps a visit and judges it. The same visit again is answered
// as the first time, with repeated set; another one under its id is refused.
func (b *Book) RecordInspection(ctx context.Context, shop, by, language string, visit check.Visit) (kept *pb.KeptInspection, repeated bool, err error) {
	unlock, err := b.lock(ctx, shop, visit.Inspection().GetVehicleId())
	if err != nil {
		return nil, false, err
	}
	defer unlock()
	r := &recording{book: b, shop: shop, by: by, language: language, checked: visit, visit: visit.Inspection()}
	n, err := b.commit(ctx, shop, r.decide)
	if err != nil {
		return nil, false, err
	}
	if r.first != nil {
		return r.first, true, nil
	}
	r.kept.Number = revisionOf(n)
	return r.kept, false, nil
}

// recording is one command that keeps a visit.
type recording struct {
	book               *Book
	shop, by, language string
	checked            check.Visit
	visit              *pb.Inspection // that was checked

	first   *pb.KeptInspection     // an equal visit that was kept before
	request *pb.AssessVisitRequest // as it was judged
	kept    *pb.KeptInspection
}

func (r *recording) decide(s view) (*history.Draft, error) {
	first, err := s.inspection(r.visit.GetId())
	if err != nil {
		return nil, err
	}
	if first != nil {
		if !proto.Equal(first.GetInspection(), r.visit) {
			return nil, refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "inspection.id", "another visit has the id %s", r.visit.GetId()).with("id", r.visit.GetId())
		}
		r.first = first
		return nil, nil //nolint:nilnil // no draft: an equal visit is kept already
	}
	is, err := s.vehicle(r.visit.GetVehicleId())
	if err != nil {
		return nil, err
	}
	if !is.there() {
		return nil, refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, "inspection.vehicle_id", "the vehicle %s has not arrived; send it first", r.visit.GetVehicleId()).with("id", r.visit.GetVehicleId())
	}
	if problems := r.checked.On(is.record); len(problems) > 0 {
		return nil, &Unfit{problems}
	}
	d := &drafting{}
	d.expect(visitKey(r.visit.GetId()), history.Absent)
	d.expect(vehicleKey(r.visit.GetVehicleId()), is.revision)
	d.expect(stateKey(r.visit.GetVehicleId()), is.version)
	at, err := r.place(s, d, is.state)
	if err != nil {
		return nil, err
	}
	brought, err := r.bring(s, d, is.state.GetTires())
	if err != nil {
		return nil, err
	}
	if err := r.judge(s, is.record, at, brought); err != nil {
		return nil, err
	}
	next := at.goOn(r.kept, brought)
	if err := r.settle(s, d, is.state.GetTires(), next, brought); err != nil {
		return nil, err
	}
	r.write(d, is, next, tiresOf(at.before.GetTires(), at.root, r.visit.GetWheels()))
	if err := r.comesDue(s, d, is, at, next, brought); err != nil {
		return nil, err
	}
	return d.done()
}

// place finds where in the vehicle's record the visit stands: at the end, or,
// when it corrects another, where that one stood. A visit is corrected once.
func (r *recording) place(s view, d *drafting, now *pb.GetVehicleResponse) (course, error) {
	id := r.visit.GetCorrects().GetInspectionId()
	if id == "" {
		earlier, err := s.lastVisits(r.visit.GetVehicleId())
		return course{before: now, earlier: earlier, root: r.visit.GetId()}, err
	}
	old, err := s.inspection(id)
	switch {
	case err != nil:
		return course{}, err
	case old == nil:
		return course{}, refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, "inspection.corrects.inspection_id", "the visit %s that this corrects has not arrived; send it first", id).with("id", id)
	case old.GetReplacedBy() != "":
		return course{}, refuse(pb.ErrorReason_ERROR_REASON_ALREADY_CORRECTED, "inspection.corrects.inspection_id", "the visit %s was corrected already; correct the correction", id).with("by", old.GetReplacedBy())
	case old.GetInspection().GetVehicleId() != r.visit.GetVehicleId():
		return course{}, refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "inspection.corrects.inspection_id", "the visit %s is of another vehicle", id)
	}
	d.expect(replacedKey(id), history.Absent)
	d.put(replacedKey(id), &pb.KeptInspection{ReplacedBy: r.visit.GetId()})
	return s.course(r.visit.GetVehicleId(), id)
}

// bring reads the tires that the visit names and that were not on its vehicle,
// and takes each off the vehicle it was on.
func (r *recording) bring(s view, d *drafting, on []*pb.Tire) (map[string]*pb.Tire, error) {
	brought, versions, err := s.strangers(r.visit, on)
	if err != nil {
		return nil, err
	}
	others, were := map[string]known{}, &pb.GetVehicleResponse{}
	for _, id := range slices.Sorted(maps.Keys(brought)) {
		d.expect(tireKey(id), versions[id])
		if versions[id] != history.Absent {
			were.Tires = append(were.Tires, brought[id])
		}
		if vehicle := brought[id].GetPlace().GetMounted().GetVehicleId(); vehicle != "" && vehicle != r.visit.GetVehicleId() {
			if err := s.takeOff(others, vehicle, id); err != nil {
				return nil, err
			}
		}
	}
	if len(were.GetTires()) > 0 {
		d.put(broughtKey(r.visit.GetId()), were)
	}
	for _, vehicle := range slices.Sorted(maps.Keys(others)) {
		is := others[vehicle]
		d.expect(vehicleKey(vehicle), is.revision)
		d.expect(stateKey(vehicle), is.version)
		d.put(stateKey(vehicle), is.state)
		rows, err := s.dues(vehicle)
		if err != nil {
			return nil, err
		}
		d.due(is.record, rows, mounted(rows, is.state.GetTires()))
	}
	return brought, nil
}

// strangers reads the tires that a visit names and that are not among those on
// its vehicle. Of one that nobody knows only the id is given.
func (v view) strangers(visit *pb.Inspection, on []*pb.Tire) (tires map[string]*pb.Tire, versions map[string]history.Number, err error) {
	tires, versions = map[string]*pb.Tire{}, map[string]history.Number{}
	for _, w := range visit.GetWheels() {
		if id := w.GetTireId(); id != "" && !among(on, id) {
			tires[id] = &pb.Tire{Id: id}
			if versions[id], _, err = v.get(tireKey(id), tires[id]); err != nil {
				return nil, nil, err
			}
		}
	}
	return tires, versions, nil
}

func among(tires []*pb.Tire, id string) bool {
	return slices.ContainsFunc(tires, func(t *pb.Tire) bool { return t.GetId() == id })
}

// settle leaves out the tires that are on another vehicle by now: going through
// the record anew, a visit of old times does not bring them back.
func (r *recording) settle(s view, d *drafting, on []*pb.Tire, next *pb.GetVehicleResponse, brought map[string]*pb.Tire) error {
	var stay []*pb.Tire
	for _, t := range next.GetTires() {
		if !among(on, t.GetId()) && brought[t.GetId()] == nil {
			is := &pb.Tire{}
			version, _, err := s.get(tireKey(t.GetId()), is)
			if err != nil {
				return err
			}
			d.expect(tireKey(t.GetId()), version)
			if vehicle := is.GetPlace().GetMounted().GetVehicleId(); vehicle != "" && vehicle != r.visit.GetVehicleId() {
				continue
			}
		}
		stay = append(stay, t)
	}
	next.Tires = stay
	return nil
}

// takeOff takes a tire off another vehicle.
func (v view) takeOff(others map[string]known, vehicle, tire string) error {
	is, read := others[vehicle]
	if !read {
		var err error
		if is, err = v.vehicle(vehicle); err != nil {
			return err
		}
	}
	is.state.Tires = slices.DeleteFunc(is.state.GetTires(), func(t *pb.Tire) bool { return t.GetId() == tire })
	others[vehicle] = is
	return nil
}

// judge makes the assessment from the visit, the tires the book knows, and the
// visits before it.
func (r *recording) judge(s view, v *pb.Vehicle, at course, brought map[string]*pb.Tire) error {
	req, err := s.request(r.shop, v, r.visit, at, brought)
	if err != nil {
		return err
	}
	if r.language != "" {
		req.Language = r.language
	}
	r.request = req
	r.kept = &pb.KeptInspection{
		Inspection: r.visit, RecordedAt: timestamppb.New(r.book.now()), RecordedBy: r.by,
	}
	r.kept.Assessment, err = s.judged(r.book.judge, r.shop, req)
	return err
}

// request is a visit at its place in the vehicle's record as it is judged.
func (v view) request(shop string, vehicle *pb.Vehicle, visit *pb.Inspection, at course, brought map[string]*pb.Tire) (*pb.AssessVisitRequest, error) {
	settings, _, err := v.shop(shop)
	if err != nil {
		return nil, err
	}
	req := withDefaults(settings, vehicle, visit)
	for i, id := range tiresOf(at.before.GetTires(), at.root, req.GetInspection().GetWheels()) {
		req.Inspection.Wheels[i].TireId = id
	}
	req.Tires = slices.Clone(at.before.GetTires())
	for _, id := range slices.Sorted(maps.Keys(brought)) {
		req.Tires = append(req.Tires, brought[id])
	}
	req.Earlier = evidence(at.earlier, req.GetInspection(), settings)
	return req, nil
}

// judged judges a request by what the book holds now.
func (v view) judged(judge Judge, shop string, req *pb.AssessVisitRequest) (*pb.Assessment, error) {
	last, err := v.s.Last(v.ctx)
	if err != nil {
		return nil, err
	}
	a := judge(shop, req)
	a.Basis.BookPosition = revisionOf(last)
	return a, nil
}

// write puts what the visit changes: the entry, what is made of the vehicle, its
// tires, the covering row, the lists, the feed.
func (r *recording) write(d *drafting, is known, next *pb.GetVehicleResponse, tires []string) {
	id, vehicle := r.visit.GetId(), r.visit.GetVehicleId()
	d.put(visitKey(id), r.kept)
	d.put(stateKey(vehicle), next)
	d.tires(is.state.GetTires(), next.GetTires())
	d.put(historyKey(vehicle, r.kept.GetRecordedAt().AsTime().UnixNano(), id), cover(r.kept, tires))
	d.list(is.record, is.state, next)
	d.feed(r.change(is, next))
}

// change is what the counter is told: who adds the findings that ask for
// something to those open and then takes away the closed ones has what is open.
func (r *recording) change(is known, next *pb.GetVehicleResponse) *pb.Change {
	findings := slices.Clone(r.kept.GetAssessment().GetFindings())
	for _, f := range next.GetOpenFindings() {
		if !has(findings, f) && !has(is.state.GetOpenFindings(), f) {
			findings = append(findings, f) // open again: the visit that closed it was corrected
		}
	}
	closed := gone(is.state.GetOpenFindings(), next.GetOpenFindings())
	for _, f := range findings {
		if asks(f) && !has(next.GetOpenFindings(), f) && !slices.Contains(closed, f.GetId()) {
			closed = append(closed, f.GetId()) // a visit after the corrected one has closed it
		}
	}
	return &pb.Change{RecordedAt: r.kept.GetRecordedAt(), What: &pb.Change_Inspection{Inspection: &pb.InspectionChange{
		InspectionId: r.visit.GetId(), VehicleId: r.visit.GetVehicleId(), Tag: is.record.GetTag(), Corrects: r.visit.GetCorrects().GetInspectionId(),
		Findings: findings, ClosedFindingIds: closed, Work: r.kept.GetAssessment().GetWork(),
	}}}
}

// tires puts the rows of tires that changed or went.
func (d *drafting) tires(before, after []*pb.Tire) {
	were := map[string]*pb.Tire{}
	for _, t := range before {
		were[t.GetId()] = t
	}
	for _, t := range after {
		if !proto.Equal(were[t.GetId()], t) {
			d.put(tireKey(t.GetId()), t)
		}
		delete(were, t.GetId())
	}
	for _, id := range slices.Sorted(maps.Keys(were)) {
		t := proto.CloneOf(were[id])
		t.Place = nil // taken off, and nobody said where it went
		d.put(tireKey(id), t)
	}
}

// cover is what later visits and lists need of a visit: the readings that are
// evidence, each with the tire they are of, without observations, looks and
// sentences.
func cover(k *pb.KeptInspection, tires []string) *pb.KeptInspection {
	c := &pb.KeptInspection{Inspection: bearing(k.GetInspection(), tires), RecordedAt: k.GetRecordedAt(), Assessment: &pb.Assessment{}}
	for _, f := range k.GetAssessment().GetFindings() {
		c.Assessment.Findings = append(c.Assessment.Findings, &pb.Finding{Id: f.GetId(), Urgency: f.GetUrgency()})
	}
	return c
}

// bearing is what of a visit bears on later ones.
func bearing(in *pb.Inspection, tires []string) *pb.Inspection {
	small := &pb.Inspection{
		Id: in.GetId(), VehicleId: in.GetVehicleId(), TakenAt: in.GetTakenAt(), LocalDate: in.GetLocalDate(), Odometer: in.GetOdometer(),
		Conditions: in.GetConditions(), Gauges: in.GetGauges(), WorkDone: in.GetWorkDone(), Corrects: in.GetCorrects(),
	}
	for i, w := range in.GetWheels() {
		small.Wheels = append(small.Wheels, &pb.WheelReport{
			Position: w.GetPosition(), TireId: tires[i], Tread: w.GetTread(), Pressures: w.GetPressures(),
			FastenerWork: w.GetFastenerWork(), TorqueRecheck: w.GetTorqueRecheck(),
		})
	}
	return small
}

// inspection reads a kept visit whole; nil when there is none.
func (v view) inspection(id string) (*pb.KeptInspection, error) {
	kept := &pb.KeptInspection{}
	version, found, err := v.get(visitKey(id), kept)
	if err != nil || !found {
		return nil, err
	}
	kept.Number = revisionOf(version)
	kept.ReplacedBy, err = v.replacedBy(id)
	return kept, err
}

func (v view) replacedBy(id string) (string, error) {
	by := &pb.KeptInspection{}
	_, _, err := v.get(replacedKey(id), by)
	return by.GetReplacedBy(), err
}

// GetInspection gives a visit as kept and as judged then.
func (b *Book) GetInspection(ctx context.Context, shop, id string) (*pb.KeptInspection, error) {
	var out *pb.KeptInspection
	err := b.read(ctx, shop, func(s view) (err error) {
		out, err = s.inspection(id)
		if err == nil && out == nil {
			err = noVisit(id)
		}
		return err
	})
	return out, err
}

func noVisit(id string) error {
	return refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "inspection_id", "no visit %s in this shop", id).with("id", id)
}

// ListInspections gives a page of a vehicle's visits, the newest first.
func (b *Book) ListInspections(ctx context.Context, shop, vehicle string, size int, token string) (*pb.ListInspectionsResponse, error) {
	of := list{shop, historyOf(vehicle)}
	after, err := b.pageAfter(of, token)
	if err != nil {
		return nil, err
	}
	out := &pb.ListInspectionsResponse{}
	err = b.read(ctx, shop, func(s view) error {
		if is, err := s.vehicle(vehicle); err != nil || !is.there() {
			if err == nil {
				err = noVehicle(vehicle)
			}
			return err
		}
		rows, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: after, Limit: size, Reverse: true})
		if err != nil {
			return err
		}
		for _, row := range rows.Rows {
			k := &pb.KeptInspection{}
			if err := decode(row.Value, k); err != nil {
				return err
			}
			k.Number = revisionOf(row.Version) // the row was put with the visit and never since
			if k.ReplacedBy, err = s.replacedBy(k.GetInspection().GetId()); err != nil {
				return err
			}
			out.Inspections = append(out.Inspections, summary(k))
		}
		out.NextPageToken = b.pageToken(of, rows)
		return nil
	})
	return out, err
}

func summary(k *pb.KeptInspection) *pb.InspectionSummary {
	sum := &pb.InspectionSummary{
		InspectionId: k.GetInspection().GetId(), TakenAt: k.GetInspection().GetTakenAt(),
		Worst: worst(k.GetAssessment().GetFindings()), Number: k.GetNumber(), ReplacedBy: k.GetReplacedBy(),
	}
	for _, f := range k.GetAssessment().GetFindings() {
		sum.FindingIds = append(sum.FindingIds, f.GetId())
	}
	return sum
}
