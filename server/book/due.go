package book

import (
	"cmp"
	"context"
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/history"
)

// What a judgement tells of a limit that a tire comes to.
const (
	reachesLimit = string(finding.TrendReachesLimit)
	expectedDay  = string(finding.FactTrendDay)
	earliestDay  = string(finding.FactTrendEarliestDay)
	latestDay    = string(finding.FactTrendLatestDay)
)

// comesDue puts what comes due of the vehicle. Of each wheel the newest visit that
// read its tread counts, newest by its day, as that visit is judged by what is known
// now. Mostly that is this visit, and what it did not read stays as it was.
func (r *recording) comesDue(s view, d *drafting, is known, at course, next *pb.GetVehicleResponse, brought map[string]*pb.Tire) error {
	before, err := s.dues(r.visit.GetVehicleId())
	if err != nil {
		return err
	}
	settings, _, err := s.shop(r.shop)
	if err != nil {
		return err
	}
	older := func(e *pb.Inspection) bool { return after(day(e, settings), day(r.visit, settings)) }
	if r.visit.GetCorrects() != nil || slices.ContainsFunc(at.earlier, older) {
		rows, err := r.dueAnew(s, is, at, next, brought)
		if err != nil {
			return err
		}
		d.due(is.record, before, rows)
		return nil
	}
	rows := dueBy(r.request, r.kept.GetAssessment(), next.GetTires())
	for _, row := range before {
		p := row.GetPositions()[0]
		if !tells(r.request, p) && tireAt(is.state.GetTires(), p).GetId() == tireAt(next.GetTires(), p).GetId() {
			rows = append(rows, row)
		}
	}
	d.due(is.record, before, mounted(rows, next.GetTires()))
	return nil
}

// dueAnew goes through the vehicle's record from the newest visit back, with this one
// in its place, and judges anew each visit that tells of a wheel what no newer one does.
func (r *recording) dueAnew(s view, is known, at course, next *pb.GetVehicleResponse, brought map[string]*pb.Tire) ([]*pb.ComingDueRow, error) {
	visits, err := r.newestFirst(s, is, at, brought)
	if err != nil {
		return nil, err
	}
	var rows []*pb.ComingDueRow
	for i, req := range visits {
		told := func(at string) bool {
			return slices.ContainsFunc(visits[:i], func(newer *pb.AssessVisitRequest) bool { return tells(newer, at) })
		}
		if !slices.ContainsFunc(req.GetInspection().GetWheels(), func(w *pb.WheelReport) bool { return readAt(w) && !told(w.GetPosition()) }) {
			continue
		}
		for _, row := range dueBy(req, r.book.judge(r.shop, req), next.GetTires()) {
			if !told(row.GetPositions()[0]) {
				rows = append(rows, row)
			}
		}
	}
	return mounted(rows, next.GetTires()), nil
}

// newestFirst are the visits of the record as they would be judged now, with this one
// in its place: after all that stand before them, and those that came late. One whose
// day is not known is of the newest day before it.
func (r *recording) newestFirst(s view, is known, at course, brought map[string]*pb.Tire) ([]*pb.AssessVisitRequest, error) {
	all, err := r.entries(s, at.root)
	if err != nil {
		return nil, err
	}
	places := make([]place, len(all))
	so := course{before: &pb.GetVehicleResponse{}}
	var newest *pb.CalendarDate
	settings, _, err := s.shop(r.shop)
	if err != nil {
		return nil, err
	}
	for i, e := range all {
		p := &places[i]
		so.root = e.root
		p.entry, p.course, p.day, p.tires = e, so, day(e.kept.GetInspection(), settings), brought
		if e.kept != r.kept {
			if p.tires, err = s.broughtThen(e.kept.GetInspection(), so.before.GetTires()); err != nil {
				return nil, err
			}
		}
		if p.day == nil {
			p.day = newest
		}
		if newest == nil || after(p.day, newest) {
			newest = p.day
		}
		so = so.past(e, p.tires)
	}
	for i := range places {
		p := &places[i]
		for k := i + 1; k < len(places); k++ {
			if after(p.day, places[k].day) {
				p.course.earlier = append(slices.Clip(p.course.earlier), so.earlier[k])
			}
		}
	}
	slices.Reverse(places)
	slices.SortStableFunc(places, func(a, b place) int { return -compareDays(a.day, b.day) })
	var visits []*pb.AssessVisitRequest
	for _, p := range places {
		req, err := s.request(r.shop, is.record, p.kept.GetInspection(), p.course, p.tires)
		if err != nil {
			return nil, err
		}
		visits = append(visits, req)
	}
	return visits, nil
}

// place is where a visit stands in the record.
type place struct {
	entry
	course
	day   *pb.CalendarDate
	tires map[string]*pb.Tire // that it brought
}

// entries are the visits that stand once this one is kept.
func (r *recording) entries(s view, root string) ([]entry, error) {
	chapters, err := s.chapters(r.visit.GetVehicleId())
	if err != nil {
		return nil, err
	}
	all, err := s.standing(chapters)
	this := entry{r.kept, chapter{id: r.visit.GetId(), root: root}}
	if i := slices.IndexFunc(all, func(e entry) bool { return e.root == root }); i >= 0 {
		all[i] = this
		return all, err
	}
	return append(all, this), err
}

// compareDays orders days; those of which none is known are alike.
func compareDays(a, b *pb.CalendarDate) int {
	switch {
	case after(a, b):
		return 1
	case after(b, a):
		return -1
	}
	return 0
}

// tells whether a visit settles what is known of the tire at a position: it read the
// tread as found, or left another tire there.
func tells(req *pb.AssessVisitRequest, at string) bool {
	in := req.GetInspection()
	return exchanged(in, at) || slices.ContainsFunc(in.GetWheels(), func(w *pb.WheelReport) bool { return w.GetPosition() == at && readAt(w) })
}

func readAt(w *pb.WheelReport) bool {
	return slices.ContainsFunc(w.GetTread(), func(t *pb.TreadReading) bool { return t.GetPhase() != pb.Phase_PHASE_AS_LEFT })
}

// exchanged tells that another tire came to a wheel at the end of a visit.
func exchanged(in *pb.Inspection, position string) bool {
	return slices.ContainsFunc(in.GetWorkDone(), func(w *pb.WorkDone) bool {
		kind := w.GetKind() == pb.WorkKind_WORK_KIND_TIRES_REPLACED || w.GetKind() == pb.WorkKind_WORK_KIND_SEASON_CHANGED
		here := len(w.GetPositions()) == 0 || slices.Contains(w.GetPositions(), position)
		now := (w.GetOdometer() == nil || proto.Equal(w.GetOdometer(), in.GetOdometer())) && (w.GetDate() == nil || proto.Equal(w.GetDate(), in.GetLocalDate()))
		return kind && here && now
	})
}

// dueBy gives what a judged visit says of limits ahead, a row for each wheel and limit
// that applies and of which a day can be told, while the tire is still there. A limit that may be
// reached by now has the visit's day as its earliest.
func dueBy(req *pb.AssessVisitRequest, a *pb.Assessment, on []*pb.Tire) []*pb.ComingDueRow {
	in := req.GetInspection()
	there := func(at string) bool {
		return slices.ContainsFunc(in.GetWheels(), func(w *pb.WheelReport) bool { return w.GetPosition() == at && w.GetTireId() == tireAt(on, at).GetId() })
	}
	var rows []*pb.ComingDueRow
	for _, f := range a.GetFindings() {
		if f.GetCode() != reachesLimit || f.GetCandidate() || len(f.GetPositions()) != 1 || exchanged(in, f.GetPositions()[0]) || !there(f.GetPositions()[0]) {
			continue
		}
		row := &pb.ComingDueRow{Positions: f.GetPositions(), LimitId: f.GetRule().GetId(), Earliest: in.GetLocalDate()}
		for _, e := range f.GetEvidence() {
			switch d := e.GetAmount().GetDate(); e.GetCode() {
			case expectedDay:
				row.Expected = d
			case earliestDay:
				row.Earliest = d
			case latestDay:
				row.Latest = d
			}
		}
		if row.GetExpected() != nil {
			rows = append(rows, row)
		}
	}
	return rows
}

// mounted are the rows of wheels that have a tire, with its size.
func mounted(rows []*pb.ComingDueRow, on []*pb.Tire) []*pb.ComingDueRow {
	var out []*pb.ComingDueRow
	for _, row := range rows {
		if t := tireAt(on, row.GetPositions()[0]); t != nil {
			row = proto.CloneOf(row)
			row.Size = t.GetSidewall().GetMarking()
			out = append(out, row)
		}
	}
	return out
}

// tireAt is the tire at a position, nil where none is known.
func tireAt(on []*pb.Tire, at string) *pb.Tire {
	for _, t := range on {
		if position(t) == at {
			return t
		}
	}
	return nil
}

// dues reads what comes due of a vehicle, wheel by wheel.
func (v view) dues(vehicle string) ([]*pb.ComingDueRow, error) {
	kept := &pb.ListComingDueResponse{}
	_, _, err := v.get(duesKey(vehicle), kept)
	return kept.GetRows(), err
}

// due replaces what comes due of a vehicle.
func (d *drafting) due(v *pb.Vehicle, before, after []*pb.ComingDueRow) {
	if len(before) == 0 && len(after) == 0 {
		return
	}
	are := map[history.Key]bool{}
	for n, row := range together(after) {
		row.VehicleId, row.Tag = v.GetId(), v.GetTag()
		k := dueKey(row.GetExpected(), v.GetId(), n)
		are[k] = true
		d.put(k, row)
	}
	for n, row := range together(before) {
		if k := dueKey(row.GetExpected(), v.GetId(), n); !are[k] {
			d.Delete = append(d.Delete, k)
		}
	}
	if len(after) == 0 {
		d.Delete = append(d.Delete, duesKey(v.GetId()))
		return
	}
	d.put(duesKey(v.GetId()), &pb.ListComingDueResponse{Rows: after})
}

// together makes one row of the wheels of which all else is the same, the soonest
// first.
func together(rows []*pb.ComingDueRow) []*pb.ComingDueRow {
	same := func(a, b *pb.ComingDueRow) bool {
		return a.GetLimitId() == b.GetLimitId() && a.GetSize() == b.GetSize() &&
			proto.Equal(a.GetExpected(), b.GetExpected()) && proto.Equal(a.GetEarliest(), b.GetEarliest()) && proto.Equal(a.GetLatest(), b.GetLatest())
	}
	var out []*pb.ComingDueRow
	for _, row := range rows {
		if i := slices.IndexFunc(out, func(o *pb.ComingDueRow) bool { return same(o, row) }); i >= 0 {
			out[i].Positions = append(out[i].Positions, row.GetPositions()...)
		} else {
			out = append(out, proto.CloneOf(row))
		}
	}
	for _, row := range out {
		slices.Sort(row.GetPositions())
	}
	slices.SortFunc(out, func(a, b *pb.ComingDueRow) int {
		return cmp.Or(compareDays(a.GetExpected(), b.GetExpected()), cmp.Compare(a.GetPositions()[0], b.GetPositions()[0]), cmp.Compare(a.GetLimitId(), b.GetLimitId()))
	})
	return out
}

// ListComingDue gives a page of what comes due until a day, the soonest first.
func (b *Book) ListComingDue(ctx context.Context, shop string, until *pb.CalendarDate, size int, token string) (*pb.ListComingDueResponse, error) {
	of := list{shop, key(dueMark)}
	from, err := b.pageAfter(of, token)
	if err != nil {
		return nil, err
	}
	out := &pb.ListComingDueResponse{}
	err = b.read(ctx, shop, func(s view) error {
		rows, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: from, Limit: size})
		if err != nil {
			return err
		}
		for _, r := range rows.Rows {
			row := &pb.ComingDueRow{}
			if err := decode(r.Value, row); err != nil {
				return err
			}
			if after(row.GetExpected(), until) {
				return nil
			}
			out.Rows = append(out.Rows, row)
		}
		out.NextPageToken = b.pageToken(of, rows)
		return nil
	})
	return out, err
}
