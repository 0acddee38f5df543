package questions

import (
	"maps"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// life is when a tire is out, by the trend of the groove that is first.
type life struct {
	out   trend.Crossing
	trend trend.Trend
	limit lifeLimit
}

// outlived tells that a tire comes to the age at which its replacement is advised
// anyway before its tread ends: nothing is told beyond that. One whose week of making
// was not read was made today at the latest.
func (t *trending) outlived(w visit.Wheel, tr trend.Trend, c trend.Crossing) bool {
	pace, ok := trend.PaceOf(tr.Used)
	if !ok || t.Day.IsZero() {
		return false
	}
	out := pace.Dates(c).At
	if out.IsZero() {
		return true // a lifetime away
	}
	made, years := t.Day, int(rulebook.Must("fitment").Limit("age-replace").Value.Number)
	if w.Tire.Made != (sidewall.Made{}) {
		made, _ = w.Tire.Made.Days()
	}
	if told := w.Fitment.Tire.ReplaceAfter; told > 0 {
		years = told
	}
	made.Year += years
	return made.Compare(out) < 0
}

// unforeseen tells that the line of a groove says nothing of what comes: the newest
// reading contradicts the older ones, or they tell of no steady wear. Then the tire is
// looked at again by the time that it may be out at the fastest rate known.
func (t *trending) unforeseen(w visit.Wheel, r tread.Result, grooves map[int]trend.Trend, limit unit.Depth) bool {
	var f finding.Finding
	var again *unit.Distance
	var most unit.Depth
	confirmed := true
	for _, col := range slices.Sorted(maps.Keys(grooves)) {
		g := grooves[col]
		if ahead, ok := g.LookAgain(limit); ok && (again == nil || ahead < *again) {
			again = &ahead
		}
		switch {
		case g.Turned != nil:
			confirmed = confirmed && r.Summary.ReadTwice(col)
			if off := g.Turned.Off(); off > most {
				f, most = t.unit.turned(*g.Turned), off
				f.Place = columnPlace(col, byGroove(r.Summary))
			}
		case g.Linear == trend.NotLinear && f.Code == "":
			f = t.unit.uneven(g)
		}
	}
	if f.Code == "" {
		return false
	}
	if f.Code == finding.TrendNewestInDoubt && confirmed {
		f.Code, f.Urgency, f.ToSettle = finding.TrendWearsOtherwise, finding.Plan, finding.SettleWhatChanged
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactTrendReadTwice})
	}
	f.Positions = []layout.Position{w.Position}
	if f.Code == finding.TrendNewestInDoubt {
		t.restsOnDoubt(w.Position)
	}
	if again != nil {
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactTrendLookAgain, Amount: t.unit.within(*again)})
		if *again <= trend.Due() {
			f.Urgency = min(f.Urgency, finding.Plan)
		}
	}
	t.find(f)
	return true
}

// restsOnDoubt says beside what rests on the depths of a tire that one of them is in
// doubt.
func (t *trending) restsOnDoubt(at layout.Position) {
	for _, f := range t.Depths {
		if slices.Contains(f.At, at) && finding.KindOf(f.Code).Measured == finding.TreadDepth {
			t.Beside = append(t.Beside, Beside{f.Finding, finding.Evidence{Code: finding.FactTreadUnconfirmed, Against: true}})
		}
	}
}

// firstOut is the tire that runs out first, with those that do so at the same time as
// far as anybody can tell.
func (t *trending) firstOut(lives map[layout.Position]life) {
	var first life
	at := slices.SortedFunc(maps.Keys(lives), layout.Position.Compare)
	for _, p := range at {
		if l := lives[p]; first.out.At == nil || *l.out.At < *first.out.At {
			first = l
		}
	}
	if first.out.At == nil {
		return
	}
	f := finding.Finding{
		Code: finding.TrendFirstOut, Urgency: finding.Note, Measured: t.unit.about(*first.out.At, first.out),
		Limit: first.limit.value, Rule: first.limit.rule, Evidence: t.unit.lifeEvidence(first.out, first.trend, t.Day),
	}
	for _, p := range at {
		if l := lives[p]; *l.out.At-*first.out.At <= half(first.out)/2 && l.limit == first.limit {
			f.Positions = append(f.Positions, p)
		}
	}
	if *first.out.At <= trend.Due() {
		f.Urgency = finding.Plan
	}
	t.find(f)
}
