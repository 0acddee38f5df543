package questions

import (
	"maps"
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
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
		if slices.Contains(f.Positions, at) && finding.KindOf(f.Code).Measured == finding.TreadDepth {
			t.Beside = append(t.Beside, Beside{f.ID(), finding.Evidence{Code: finding.FactTreadUnconfirmed, Against: true}})
		}
	}
}

// turned is what is said of a newest reading that contradicts the older ones.
func (u shownIn) turned(t trend.Turn) finding.Finding {
	return finding.Finding{
		Code: finding.TrendNewestInDoubt, Urgency: finding.ThisVisit, Measured: u.deep(t.Newest.Depth.Of), ToSettle: finding.SettleMovedOrMisread,
		Evidence: []finding.Evidence{{Code: finding.FactTrendExpected, Amount: u.deep(max(0, t.Expected.Of)).AsFine(u.deep(unit.Depth(measure.Coverage * t.Expected.Std)))}},
	}
}

// uneven is what is said of wear that is not steady.
func (u shownIn) uneven(t trend.Trend) finding.Finding {
	book := rulebook.Must("trend")
	return finding.Finding{
		Code: finding.TrendUneven, Urgency: finding.Note, Measured: t.Line.RSquared().Amount().Rounded(), Limit: book.Limit("linear-share").Value,
		Rule: book.RuleOf(book.Limit("linear-share")),
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

// about is a distance of a crossing, no finer than its interval lets it be known, and
// rather sooner than later.
func (u shownIn) about(d unit.Distance, c trend.Crossing) unit.Amount {
	return u.to(d, u.step(c), math.Floor)
}

// step is what the distances of a crossing are rounded to: a quarter of its interval
// at the most.
func (u shownIn) step(c trend.Crossing) float64 { return round125(half(c).In(u.distance) / 2) }

// half is half of the interval of a crossing, no more than the distance to it.
func half(c trend.Crossing) unit.Distance {
	switch {
	case c.Earliest != nil && c.Latest != nil:
		return min((*c.Latest-*c.Earliest)/2, *c.At)
	case c.Earliest != nil:
		return min(*c.At-*c.Earliest, *c.At)
	}
	return *c.At
}

// within is a distance that is not to be passed.
func (u shownIn) within(d unit.Distance) unit.Amount {
	return u.to(d, round125(d.In(u.distance)/5), math.Floor)
}

// round125 is the greatest of 1, 2 and 5 times a power of ten that is no more than a
// number, at least 100: what lies ahead is not known finer.
func round125(n float64) float64 {
	step := 100.0
	for ten := step; ten <= n*(1+1e-9); ten *= 10 {
		for _, k := range []float64{1, 2, 5} {
			if k*ten <= n*(1+1e-9) {
				step = k * ten
			}
		}
	}
	return step
}

func (u shownIn) to(d unit.Distance, step float64, round func(float64) float64) unit.Amount {
	// Whole ones first, so that the last bit decides no hundred.
	return unit.Amount{Number: step * round(math.Round(d.In(u.distance))/step), Unit: u.distance}
}
