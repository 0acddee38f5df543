package book

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
)

// earlierVisits is how many of a vehicle's visits before this one are evidence
// for it.
const earlierVisits = 20

// RecordInspection keeps a visit and judges it. The same visit again is answered
// as the first time, with repeated set; another one under its id is refused.
func (b *Book) RecordInspection(ctx context.Context, shop, by, language string, visit *pb.Inspection) (kept *pb.KeptInspection, repeated bool, err error) {
	defer b.locks.lock(shop + "\x00" + visit.GetVehicleId())()
	r := &recording{book: b, shop: shop, by: by, language: language, visit: visit}
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
	visit              *pb.Inspection

	first *pb.KeptInspection // an equal visit that was kept before
	kept  *pb.KeptInspection
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
	state, _, version, err := s.vehicle(r.visit.GetVehicleId())
	if err != nil {
		return nil, err
	}
	if state == nil {
		return nil, refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, "inspection.vehicle_id", "the vehicle %s has not arrived; send it first", r.visit.GetVehicleId()).with("id", r.visit.GetVehicleId())
	}
	if problems := check.Inspection("inspection", r.visit, state.GetVehicle()); len(problems) > 0 {
		return nil, &Unfit{problems}
	}
	d := &drafting{}
	d.expect(visitKey(r.visit.GetId()), history.Absent)
	d.expect(vehicleKey(r.visit.GetVehicleId()), version)
	corrected, err := r.correct(s, d)
	if err != nil {
		return nil, err
	}
	if err := r.judge(s, state, corrected); err != nil {
		return nil, err
	}
	r.write(d, state, corrected)
	return d.done()
}

// correct reads the visit that this one corrects and guards that it is
// corrected once; nil when it corrects none.
func (r *recording) correct(s view, d *drafting) (*pb.KeptInspection, error) {
	id := r.visit.GetCorrects().GetInspectionId()
	if id == "" {
		return nil, nil //nolint:nilnil // it corrects none
	}
	old, err := s.inspection(id)
	switch {
	case err != nil:
		return nil, err
	case old == nil:
		return nil, refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, "inspection.corrects.inspection_id", "the visit %s that this corrects has not arrived; send it first", id).with("id", id)
	case old.GetReplacedBy() != "":
		return nil, refuse(pb.ErrorReason_ERROR_REASON_ALREADY_CORRECTED, "inspection.corrects.inspection_id", "the visit %s was corrected already; correct the correction", id).with("by", old.GetReplacedBy())
	case old.GetInspection().GetVehicleId() != r.visit.GetVehicleId():
		return nil, refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "inspection.corrects.inspection_id", "the visit %s is of another vehicle", id)
	}
	d.expect(replacedKey(id), history.Absent)
	d.put(replacedKey(id), &pb.KeptInspection{ReplacedBy: r.visit.GetId()})
	return old, nil
}

// judge makes the assessment from the visit, the tires the book knows, and the
// visits before it.
func (r *recording) judge(s view, state *pb.GetVehicleResponse, corrected *pb.KeptInspection) error {
	settings, _, err := s.shop(r.shop)
	if err != nil {
		return err
	}
	earlier, err := s.earlier(r.visit.GetVehicleId(), corrected.GetInspection().GetId())
	if err != nil {
		return err
	}
	req := Request(settings, state.GetVehicle(), r.visit)
	req.Tires, req.Earlier = state.GetTires(), earlier
	if r.language != "" {
		req.Language = r.language
	}
	for _, w := range req.GetInspection().GetWheels() {
		w.TireId = tireAt(state.GetTires(), r.visit.GetId(), w)
	}
	last, err := s.s.Last(s.ctx)
	if err != nil {
		return err
	}
	r.kept = &pb.KeptInspection{
		Inspection: r.visit, RecordedAt: timestamppb.New(r.book.now()), RecordedBy: r.by, Assessment: r.book.judge(req),
	}
	r.kept.Assessment.Basis.BookPosition = revisionOf(last)
	return nil
}

// Request is a visit as it is judged: where visit or vehicle say nothing, the
// shop's settings do. The visit itself is kept as it came.
func Request(settings *pb.Shop, v *pb.Vehicle, visit *pb.Inspection) *pb.AssessVisitRequest {
	req := &pb.AssessVisitRequest{Vehicle: proto.CloneOf(v), Inspection: proto.CloneOf(visit), Language: settings.GetLanguage()}
	in := req.GetInspection()
	if len(in.GetGauges()) == 0 {
		in.Gauges = settings.GetGauges()
	}
	if in.GetLocalDate() == nil {
		in.LocalDate = localDate(in.GetTakenAt(), settings.GetTimeZone())
	}
	if settings.GetAltitude() != nil && in.GetConditions().GetAtmosphere() == nil {
		if in.Conditions == nil {
			in.Conditions = &pb.Conditions{}
		}
		in.Conditions.Atmosphere = &pb.Conditions_Altitude{Altitude: settings.GetAltitude()}
	}
	if settings.GetCountry() != "" && req.GetVehicle().GetUse().GetCountry() == "" {
		if req.Vehicle.Use == nil {
			req.Vehicle.Use = &pb.VehicleUse{}
		}
		req.Vehicle.Use.Country, req.Vehicle.Use.State = settings.GetCountry(), settings.GetState()
	}
	return req
}

// tireNames is the name space from which a tire that nobody named gets its id,
// so that the same visit repeated names the same tire.
var tireNames = uuid.NewSHA1(uuid.NameSpaceOID, []byte("gaugebook tire of a visit"))

// tireAt is the tire of a wheel: the one named, else the one last mounted there,
// else a new one whose id follows from the visit and the position.
func tireAt(mounted []*pb.Tire, visit string, w *pb.WheelReport) string {
	if w.GetTireId() != "" {
		return w.GetTireId()
	}
	for _, t := range mounted {
		if t.GetPlace().GetMounted().GetPosition() == w.GetPosition() {
			return t.GetId()
		}
	}
	return uuid.NewSHA1(tireNames, []byte(visit+" "+w.GetPosition())).String()
}

// write puts what the visit changes: the entry, the vehicle with its tires and
// open findings, the covering row, the lists, the feed.
func (r *recording) write(d *drafting, state *pb.GetVehicleResponse, corrected *pb.KeptInspection) {
	id, vehicle := r.visit.GetId(), r.visit.GetVehicleId()
	next := proto.CloneOf(state)
	r.mount(d, next)
	next.OpenFindings = r.open(state, next, corrected)
	next.LastInspectionId, next.LastSeen = id, r.kept.GetRecordedAt()
	d.put(visitKey(id), r.kept)
	d.put(vehicleKey(vehicle), next)
	d.put(historyKey(vehicle, r.kept.GetRecordedAt().AsTime().UnixNano(), id), cover(r.kept))
	r.book.list(d, state, next)
	d.feed(&pb.Change{RecordedAt: r.kept.GetRecordedAt(), What: &pb.Change_Inspection{Inspection: &pb.InspectionChange{
		InspectionId: id, VehicleId: vehicle, Tag: next.GetVehicle().GetTag(), Corrects: r.visit.GetCorrects().GetInspectionId(),
		Findings: r.kept.GetAssessment().GetFindings(), ClosedFindingIds: gone(state.GetOpenFindings(), next.GetOpenFindings()),
		Work: r.kept.GetAssessment().GetWork(),
	}}})
}

// mount notes which tire is on which wheel. A tire named elsewhere moves; the
// one it takes the place of is no longer mounted.
func (r *recording) mount(d *drafting, next *pb.GetVehicleResponse) {
	for _, w := range r.visit.GetWheels() {
		id := tireAt(next.GetTires(), r.visit.GetId(), w)
		var tire *pb.Tire
		next.Tires = slices.DeleteFunc(next.GetTires(), func(t *pb.Tire) bool {
			if t.GetId() == id {
				tire = t
			}
			return t.GetId() == id || t.GetPlace().GetMounted().GetPosition() == w.GetPosition()
		})
		if tire == nil {
			tire = &pb.Tire{Id: id}
		}
		if w.GetSidewall() != nil {
			merged := &pb.Sidewall{}
			if tire.GetSidewall() != nil {
				merged = proto.CloneOf(tire.GetSidewall())
			}
			proto.Merge(merged, w.GetSidewall())
			tire.Sidewall = merged
		}
		tire.Place = &pb.TirePlace{At: &pb.TirePlace_Mounted{Mounted: &pb.MountedAt{VehicleId: r.visit.GetVehicleId(), Position: w.GetPosition()}}}
		next.Tires = append(next.Tires, tire)
		d.put(tireKey(id), tire)
	}
	slices.SortFunc(next.Tires, func(a, b *pb.Tire) int {
		return slices.Compare([]byte(a.GetPlace().GetMounted().GetPosition()), []byte(b.GetPlace().GetMounted().GetPosition()))
	})
}

// open are the findings that are open after the visit: its own that ask for
// something and were not closed as left, and of those open before the ones that
// it did not judge again. What must not be driven on stays open on the same tire
// until an as-left reading closes it; a corrected visit's findings fall with it.
func (r *recording) open(before, after *pb.GetVehicleResponse, corrected *pb.KeptInspection) []*pb.Finding {
	now := r.kept.GetAssessment().GetFindings()
	var open []*pb.Finding
	for _, f := range now {
		if f.GetUrgency() != pb.Urgency_URGENCY_NOTE && f.GetAsLeft() == nil {
			open = append(open, f)
		}
	}
	reported := map[string]bool{}
	for _, w := range r.visit.GetWheels() {
		reported[w.GetPosition()] = true
	}
	for _, f := range before.GetOpenFindings() {
		if has(now, f) || has(corrected.GetAssessment().GetFindings(), f) {
			continue
		}
		again := !slices.ContainsFunc(f.GetPositions(), func(p string) bool { return !reported[p] })
		grave := f.GetUrgency() == pb.Urgency_URGENCY_BEFORE_DRIVING && sameTires(before, after, f.GetPositions())
		if !again || grave {
			open = append(open, f)
		}
	}
	slices.SortStableFunc(open, func(a, b *pb.Finding) int { return int(a.GetUrgency()) - int(b.GetUrgency()) })
	return open
}

func has(fs []*pb.Finding, f *pb.Finding) bool {
	return slices.ContainsFunc(fs, func(o *pb.Finding) bool { return o.GetId() == f.GetId() })
}

// sameTires tells whether the same tires are still at the positions.
func sameTires(before, after *pb.GetVehicleResponse, at []string) bool {
	tire := func(s *pb.GetVehicleResponse, p string) string {
		for _, t := range s.GetTires() {
			if t.GetPlace().GetMounted().GetPosition() == p {
				return t.GetId()
			}
		}
		return ""
	}
	return !slices.ContainsFunc(at, func(p string) bool { return tire(before, p) != tire(after, p) })
}

// gone lists the ids of findings that were open and are not any more.
func gone(before, after []*pb.Finding) []string {
	var ids []string
	for _, f := range before {
		if !has(after, f) {
			ids = append(ids, f.GetId())
		}
	}
	return ids
}

// cover is what later visits and lists need of this one: the readings that are
// evidence, without observations, looks and sentences.
func cover(k *pb.KeptInspection) *pb.KeptInspection {
	in := k.GetInspection()
	small := &pb.Inspection{
		Id: in.GetId(), VehicleId: in.GetVehicleId(), TakenAt: in.GetTakenAt(), LocalDate: in.GetLocalDate(), Odometer: in.GetOdometer(),
		Conditions: in.GetConditions(), Gauges: in.GetGauges(), WorkDone: in.GetWorkDone(), Corrects: in.GetCorrects(),
	}
	for _, w := range in.GetWheels() {
		small.Wheels = append(small.Wheels, &pb.WheelReport{Position: w.GetPosition(), TireId: w.GetTireId(), Tread: w.GetTread(), Pressures: w.GetPressures()})
	}
	c := &pb.KeptInspection{Inspection: small, RecordedAt: k.GetRecordedAt(), Assessment: &pb.Assessment{}}
	for _, f := range k.GetAssessment().GetFindings() {
		c.Assessment.Findings = append(c.Assessment.Findings, &pb.Finding{Id: f.GetId(), Urgency: f.GetUrgency()})
	}
	return c
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

// earlier reads a vehicle's last visits, oldest first, without those that were
// corrected and without the one that is being corrected now.
func (v view) earlier(vehicle, corrected string) ([]*pb.Inspection, error) {
	page, err := v.s.Scan(v.ctx, history.Range{Prefix: historyOf(vehicle), Limit: earlierVisits, Reverse: true})
	if err != nil {
		return nil, err
	}
	var out []*pb.Inspection
	for _, row := range slices.Backward(page.Rows) {
		k := &pb.KeptInspection{}
		if err := decode(row.Value, k); err != nil {
			return nil, err
		}
		by, err := v.replacedBy(k.GetInspection().GetId())
		if err != nil {
			return nil, err
		}
		if by == "" && k.GetInspection().GetId() != corrected {
			out = append(out, k.GetInspection())
		}
	}
	return out, nil
}

// GetInspection gives a visit as kept and as judged then.
func (b *Book) GetInspection(ctx context.Context, shop, id string) (*pb.KeptInspection, error) {
	var out *pb.KeptInspection
	err := b.read(ctx, shop, func(s view) (err error) {
		out, err = s.inspection(id)
		if err == nil && out == nil {
			err = refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "inspection_id", "no visit %s in this shop", id).with("id", id)
		}
		return err
	})
	return out, err
}

// ListInspections gives a page of a vehicle's visits, the newest first.
func (b *Book) ListInspections(ctx context.Context, shop, vehicle string, size int, token string) (*pb.ListInspectionsResponse, error) {
	after, err := b.pageAfter(token, shop, "h")
	if err != nil {
		return nil, err
	}
	out := &pb.ListInspectionsResponse{}
	err = b.read(ctx, shop, func(s view) error {
		if state, _, _, err := s.vehicle(vehicle); err != nil || state == nil {
			if err == nil {
				err = refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle_id", "no vehicle %s in this shop", vehicle).with("id", vehicle)
			}
			return err
		}
		page, err := s.s.Scan(s.ctx, history.Range{Prefix: historyOf(vehicle), After: after, Limit: size, Reverse: true})
		if err != nil {
			return err
		}
		for _, row := range page.Rows {
			k := &pb.KeptInspection{}
			if err := decode(row.Value, k); err != nil {
				return err
			}
			sum := &pb.InspectionSummary{
				InspectionId: k.GetInspection().GetId(), TakenAt: k.GetInspection().GetTakenAt(),
				Worst: worst(k.GetAssessment().GetFindings()), Number: revisionOf(row.Version),
			}
			for _, f := range k.GetAssessment().GetFindings() {
				sum.FindingIds = append(sum.FindingIds, f.GetId())
			}
			if sum.ReplacedBy, err = s.replacedBy(sum.GetInspectionId()); err != nil {
				return err
			}
			out.Inspections = append(out.Inspections, sum)
		}
		if page.More {
			out.NextPageToken = b.pageToken(shop, "h", page.Rows[len(page.Rows)-1].Key)
		}
		return nil
	})
	return out, err
}

// Reassess judges a kept visit anew as it would be judged now, with the visits
// before it, and says which findings differ. Nothing is stored.
func (b *Book) Reassess(ctx context.Context, shop, id, rulebook, language string) (*pb.ReassessInspectionResponse, error) {
	var req *pb.AssessVisitRequest
	var old *pb.Assessment
	err := b.read(ctx, shop, func(s view) error {
		kept, err := s.inspection(id)
		if err != nil {
			return err
		}
		if kept == nil {
			return refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "inspection_id", "no visit %s in this shop", id).with("id", id)
		}
		settings, _, err := s.shop(shop)
		if err != nil {
			return err
		}
		state, _, _, err := s.vehicle(kept.GetInspection().GetVehicleId())
		if err != nil {
			return err
		}
		old = kept.GetAssessment()
		req = Request(settings, state.GetVehicle(), kept.GetInspection())
		req.Tires = state.GetTires()
		all, err := s.earlier(kept.GetInspection().GetVehicleId(), id)
		for _, e := range all {
			if e.GetTakenAt().AsTime().Before(kept.GetInspection().GetTakenAt().AsTime()) {
				req.Earlier = append(req.Earlier, e)
			}
		}
		return err
	})
	if err != nil {
		return nil, err
	}
	if rulebook != "" {
		req.RulebookIds = []string{rulebook}
	}
	if language != "" {
		req.Language = language
	}
	return difference(old, b.judge(req)), nil
}

func difference(old, now *pb.Assessment) *pb.ReassessInspectionResponse {
	out := &pb.ReassessInspectionResponse{Assessment: now}
	before := map[string]*pb.Finding{}
	for _, f := range old.GetFindings() {
		before[f.GetId()] = f
	}
	for _, f := range now.GetFindings() {
		was, there := before[f.GetId()]
		switch {
		case !there:
			out.Appeared = append(out.Appeared, f.GetId())
		case !proto.Equal(was, f):
			out.Changed = append(out.Changed, f.GetId())
		}
		delete(before, f.GetId())
	}
	for _, f := range old.GetFindings() {
		if before[f.GetId()] != nil {
			out.Disappeared = append(out.Disappeared, f.GetId())
		}
	}
	return out
}
