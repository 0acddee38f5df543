package book

import (
	"cmp"
	"context"
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/translate"
)

// What a judgement tells of a limit that a tire comes to.
const (
	reachesLimit = string(finding.TrendReachesLimit)
	expectedDay  = string(finding.FactTrendDay)
	earliestDay  = string(finding.FactTrendEarliestDay)
	latestDay    = string(finding.FactTrendLatestDay)
)

// comesDue gives what comes due of the vehicle. Of each wheel the newest visit that
// read its tread counts, as that visit is judged by what is known now. Mostly that is
// this visit, and what it did not read stays as it was.
func (r *recording) comesDue(s view, next state) ([]*rows.DueRow, error) {
	before, err := s.dues(r.visit.vehicle)
	if err != nil {
		return nil, err
	}
	if r.visit.imported() {
		return mounted(before, next.tires), nil
	}
	if r.visit.inspection.GetCorrects() != nil || len(r.steps) > 1 {
		return r.dueByAll(s, next)
	}
	due := dueBy(r.asked, r.visit.assessment, next.tires)
	for _, row := range before {
		p := row.GetPositions()[0]
		if !tells(r.visit.inspection, p) && tireAt(r.vehicle.state.tires, p).GetId() == tireAt(next.tires, p).GetId() {
			due = append(due, row)
		}
	}
	return mounted(due, next.tires), nil
}

// dueByAll goes through the vehicle's record from the newest visit back, with this one
// in its place, and judges again each visit that tells of a wheel what no newer one does,
// until all wheels are told of.
func (r *recording) dueByAll(s view, next state) ([]*rows.DueRow, error) {
	due := &dueWalk{recording: r, view: s, next: next, told: map[string]bool{}}
	for _, step := range slices.Backward(r.steps) {
		if step.visit == nil || step.imported() {
			continue
		}
		if more, err := due.visit(step.key, step.inspection, step.judgedFrom); err != nil || !more {
			return mounted(due.rows, next.tires), err
		}
	}
	err := s.covers(r.vehicle.record.GetId(), r.steps[0].key, true, func(c covered) (bool, error) {
		if c.root == r.place.root || c.GetImported() {
			return true, nil
		}
		return due.visit(c.key, c.inspection, func() (step, error) { return r.stepOf(s, c) })
	})
	return mounted(due.rows, next.tires), err
}

// judgedFrom is the step itself.
func (s step) judgedFrom() (step, error) { return s, nil }

// stepOf reads a visit whole, with what was before it.
func (r *recording) stepOf(s view, c covered) (step, error) {
	out, err := s.step(c)
	if err != nil {
		return out, err
	}
	out.before, err = s.stateBefore(r.vehicle.record.GetId(), c.key, knowledge{without: r.place.root})
	return out, err
}

// dueWalk gathers what comes due from the newest visit back.
type dueWalk struct {
	*recording
	view view
	next state
	told map[string]bool // wheels that a newer visit has told of
	rows []*rows.DueRow
}

// visit takes in one visit, which is judged again where it tells of a wheel what no newer
// one does. more tells that there are wheels yet that none has told of.
func (w *dueWalk) visit(k history.Key, in *pb.Inspection, whole func() (step, error)) (more bool, err error) {
	if slices.ContainsFunc(in.GetWheels(), func(r *pb.WheelReport) bool { return readAt(r) && !w.told[r.GetPosition()] }) {
		if err := w.judge(k, whole); err != nil {
			return false, err
		}
	}
	for _, t := range w.next.tires {
		w.told[position(t)] = w.told[position(t)] || tells(in, position(t))
		more = more || !w.told[position(t)]
	}
	return more, nil
}

func (w *dueWalk) judge(k history.Key, whole func() (step, error)) error {
	s, err := whole()
	if err != nil {
		return err
	}
	earlier, err := w.view.evidenceBefore(w.vehicle.record.GetId(), k, knowledge{without: w.place.root})
	if err != nil {
		return err
	}
	at := course{before: s.before, root: s.root, known: w.known}
	if at.earlier, at.between, err = w.view.around(w.vehicle.record.GetId(), w.again(earlier, k), k, nil); err != nil {
		return err
	}
	req, err := w.view.request(w.shop, w.vehicle.record, s.inspection, at, s.arrivals)
	if err != nil {
		return err
	}
	for _, row := range dueBy(req, w.book.judge(w.shop, req), w.next.tires) {
		if !w.told[row.GetPositions()[0]] {
			w.rows = append(w.rows, row)
		}
	}
	return nil
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
func tells(in *pb.Inspection, wheel string) bool {
	return exchanged(in, wheel) || slices.ContainsFunc(in.GetWheels(), func(w *pb.WheelReport) bool { return w.GetPosition() == wheel && readAt(w) })
}

func readAt(w *pb.WheelReport) bool {
	return slices.ContainsFunc(w.GetTread(), func(t *pb.TreadReading) bool { return t.GetPhase() != pb.Phase_PHASE_AS_LEFT })
}

// exchanged tells that another tire came to a wheel at the end of a visit.
func exchanged(in *pb.Inspection, position string) bool {
	for _, d := range translate.DoneAt(in) {
		kind := d.Kind == finding.DoneTiresReplaced || d.Kind == finding.DoneSeasonChanged
		if kind && (len(d.At) == 0 || slices.Contains(d.At, translate.Position(position))) {
			return true
		}
	}
	return false
}

// dueBy gives what a judged visit says of limits ahead, a row for each wheel and limit
// that applies and of which a day can be told, while the tire is still there. A limit that may be
// reached by now has the visit's day as its earliest.
func dueBy(req *pb.AssessVisitRequest, a *pb.Assessment, on []*pb.Tire) []*rows.DueRow {
	in := req.GetInspection()
	there := func(wheel string) bool {
		return slices.ContainsFunc(in.GetWheels(), func(w *pb.WheelReport) bool {
			return w.GetPosition() == wheel && w.GetTireId() == tireAt(on, wheel).GetId()
		})
	}
	var due []*rows.DueRow
	for _, f := range a.GetFindings() {
		if f.GetCode() != reachesLimit || candidate(f) || len(f.GetPositions()) != 1 || exchanged(in, f.GetPositions()[0]) || !there(f.GetPositions()[0]) {
			continue
		}
		row := &rows.DueRow{Positions: f.GetPositions(), LimitId: ruleOf(f), EarliestDate: in.GetLocalDate()}
		for _, e := range f.GetEvidence() {
			switch d := e.GetAmount().GetDate(); e.GetCode() {
			case expectedDay:
				row.ExpectedDate = d
			case earliestDay:
				row.EarliestDate = d
			case latestDay:
				row.LatestDate = d
			}
		}
		if row.GetExpectedDate() != nil {
			due = append(due, row)
		}
	}
	return due
}

// mounted are the rows of wheels that have a tire, with its size.
func mounted(due []*rows.DueRow, on []*pb.Tire) []*rows.DueRow {
	var out []*rows.DueRow
	for _, row := range due {
		if t := tireAt(on, row.GetPositions()[0]); t != nil {
			row = proto.CloneOf(row)
			row.Size = t.GetSidewall().GetMarking()
			out = append(out, row)
		}
	}
	return out
}

// ruleOf is the rule that a finding was judged by.
func ruleOf(f *pb.Finding) string {
	if len(f.GetRules()) == 0 {
		return ""
	}
	return f.GetRules()[0].GetId()
}

// dues reads what comes due of a vehicle, wheel by wheel.
func (v view) dues(vehicle string) ([]*rows.DueRow, error) {
	row := &rows.DueRows{}
	_, _, err := v.get(duesKey(vehicle), row)
	return row.GetRows(), err
}

// due replaces what comes due of a vehicle.
func (d *drafting) due(v *pb.Vehicle, before, after []*rows.DueRow) {
	if len(before) == 0 && len(after) == 0 {
		return
	}
	now := map[history.Key]bool{}
	for n, row := range together(after) {
		row.VehicleId, row.Tag = v.GetId(), v.GetTag()
		k := dueKey(row.GetExpectedDate(), v.GetId(), n)
		now[k] = true
		d.put(k, row)
	}
	for n, row := range together(before) {
		if k := dueKey(row.GetExpectedDate(), v.GetId(), n); !now[k] {
			d.delete(k)
		}
	}
	if len(after) == 0 {
		d.delete(duesKey(v.GetId()))
		return
	}
	d.put(duesKey(v.GetId()), &rows.DueRows{Rows: after})
}

// together makes one row of the wheels of which all else is the same, the soonest
// first.
func together(due []*rows.DueRow) []*rows.DueRow {
	same := func(a, b *rows.DueRow) bool {
		return a.GetLimitId() == b.GetLimitId() && a.GetSize() == b.GetSize() &&
			proto.Equal(a.GetExpectedDate(), b.GetExpectedDate()) && proto.Equal(a.GetEarliestDate(), b.GetEarliestDate()) && proto.Equal(a.GetLatestDate(), b.GetLatestDate())
	}
	var out []*rows.DueRow
	for _, row := range due {
		if i := slices.IndexFunc(out, func(o *rows.DueRow) bool { return same(o, row) }); i >= 0 {
			out[i].Positions = append(out[i].Positions, row.GetPositions()...)
		} else {
			out = append(out, proto.CloneOf(row))
		}
	}
	for _, row := range out {
		slices.Sort(row.GetPositions())
	}
	slices.SortFunc(out, func(a, b *rows.DueRow) int {
		return cmp.Or(compareDays(a.GetExpectedDate(), b.GetExpectedDate()), cmp.Compare(a.GetPositions()[0], b.GetPositions()[0]), cmp.Compare(a.GetLimitId(), b.GetLimitId()))
	})
	return out
}

// ListComingDue gives a page of what comes due from one day, nil: from today at the shop,
// until another, the soonest first.
func (b *Book) ListComingDue(ctx context.Context, shop string, from, until *pb.CalendarDate, size int, token string) (*pb.ListComingDueResponse, error) {
	of := list{shop, key(dueMark)}
	behind, err := b.pageAfter(of, token)
	if err != nil {
		return nil, err
	}
	out := &pb.ListComingDueResponse{}
	err = b.read(ctx, shop, func(s view) error {
		if behind == "" {
			if from == nil {
				settings, _, err := s.shop(shop)
				if err != nil {
					return err
				}
				from = today(b.now(), settings)
			}
			behind = dayKey(from)
		}
		page, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: behind, Limit: size})
		if err != nil {
			return err
		}
		for _, r := range page.Rows {
			row := &rows.DueRow{}
			if err := decode(r.Value, row); err != nil {
				return err
			}
			if after(row.GetExpectedDate(), until) {
				return nil
			}
			out.Rows = append(out.Rows, &pb.ComingDueRow{
				VehicleId: row.GetVehicleId(), Positions: row.GetPositions(), Size: row.GetSize(), Tag: row.GetTag(), LimitId: row.GetLimitId(),
				ExpectedDate: row.GetExpectedDate(), EarliestDate: row.GetEarliestDate(), LatestDate: row.GetLatestDate(),
			})
		}
		out.NextPageToken = b.pageToken(of, page)
		return nil
	})
	return out, err
}
