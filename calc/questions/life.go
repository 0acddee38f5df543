package questions

import (
	"cmp"
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

// LifeIn are the depths of one tire over distance, in any order.
type LifeIn struct {
	Points   []trend.Point
	Limits   []unit.Depth
	PerDay   unit.Distance // driven in a day, 0 when not told: then it is taken from the days of the depths
	Depth    unit.Unit     // that depths and distances of findings are shown in
	Distance unit.Unit
}

// LifeAnswer is how long one tire has left by its depths over distance.
type LifeAnswer struct {
	Answer
	Trend     trend.Trend
	Crossings []trend.Crossing // by limit, in the order asked
	Days      []trend.Days     // of the crossings
}

// Life estimates the life of one tire.
func Life(in LifeIn) LifeAnswer {
	// Distances are those of the tire, or the odometer of its vehicle: either way it was new
	// at none, or ran in long before these depths.
	var isNew unit.Distance
	out := LifeAnswer{Trend: trend.Follow(in.Points, &isNew)}
	pace, ok := trend.PaceOf(out.Trend.Used)
	if in.PerDay > 0 {
		pace, ok = trend.Pace{}, false
		for _, p := range out.Trend.Used {
			if !p.Day.IsZero() {
				pace, ok = trend.PaceTold(in.PerDay, p.Run, p.Day), true
			}
		}
	}
	for _, l := range in.Limits {
		c := trend.Crossing{Limit: l}
		if out.Trend.Foretells() {
			c = out.Trend.Reaches(l)
		}
		var days trend.Days
		if ok {
			days = pace.Dates(c)
		}
		out.Crossings, out.Days = append(out.Crossings, c), append(out.Days, days)
	}
	u := shownIn{in.Depth, in.Distance}
	if most, ok := lastRise(out.Trend.Rises); ok {
		out.find(u.grew(most))
	}
	switch t := out.Trend; {
	case t.Turned != nil:
		out.find(u.turned(*t.Turned))
	case t.Linear == trend.NotLinear:
		out.find(u.uneven(t))
	}
	out.find(u.doubts(out.Trend, false)...)
	for i, f := range out.Findings {
		out.Findings[i] = f.Rounded()
	}
	finding.Sort(out.Findings)
	return out
}

// doubts are what speaks against an estimate as a whole. Distances of the trend are
// counted back from today, or as the tire or odometer has them.
func (u shownIn) doubts(t trend.Trend, back bool) (fs []finding.Finding) {
	book := rulebook.Must("trend")
	// One finding for each reason: further readings are its evidence.
	for _, why := range []trend.Why{trend.Odd, trend.BreakingIn} {
		var f *finding.Finding
		for _, a := range t.Aside {
			switch {
			case a.Why != why, why == trend.BreakingIn && a.Assumed:
			case f != nil:
				f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactTrendSetAside, Amount: u.deep(a.Depth.Of)})
			case why == trend.Odd:
				where := finding.Evidence{Code: finding.FactTrendOddAt, Amount: u.far(a.Run, math.Round)}
				if back {
					where = finding.Evidence{Code: finding.FactTrendAgo, Amount: u.far(-a.Run, math.Round)}
				}
				f = &finding.Finding{
					Code: finding.TrendOddReading, Urgency: finding.Note, Measured: u.deep(a.Depth.Of), ToSettle: finding.SettleMovedOrMisread, Evidence: []finding.Evidence{where},
				}
			default:
				l := book.Limit("break-in")
				f = &finding.Finding{Code: finding.TrendBrokeIn, Urgency: finding.Note, Measured: u.deep(a.Depth.Of), Limit: l.Value, Rule: book.RuleOf(l)}
			}
		}
		if f != nil {
			fs = append(fs, *f)
		}
	}
	if t.Unsteady() {
		l := book.Limit("pace-changes")
		fs = append(fs, finding.Finding{Code: finding.TrendUnsteady, Urgency: finding.Note, Measured: t.Line.RSquared().Amount().Rounded(), Limit: l.Value, Rule: book.RuleOf(l)})
	}
	return fs
}

// lifeEvidence is what an estimate rests on; today is when it is made.
func (u shownIn) lifeEvidence(c trend.Crossing, t trend.Trend, today unit.Date) []finding.Evidence {
	es := []finding.Evidence{{Code: finding.FactTrendMayBeNow}}
	if c.Earliest != nil && *c.Earliest > 0 {
		es[0] = finding.Evidence{Code: finding.FactTrendEarliest, Amount: u.to(*c.Earliest, min(u.step(c), round125(c.Earliest.In(u.distance))), math.Floor)}
	}
	latest := finding.Evidence{Code: finding.FactTrendNoLatest}
	if c.Latest != nil {
		latest = finding.Evidence{Code: finding.FactTrendLatest, Amount: u.to(*c.Latest, u.step(c), math.Ceil)}
	}
	rate := t.Line.Rate()
	std := unit.WearRate(rate.Std).Amount(u.wear())
	es = append(es, latest,
		finding.Evidence{Code: finding.FactTrendRate, Amount: rate.Of.Amount(u.wear()).AsFine(std), Uncertainty: std.Rounded()},
		finding.Evidence{Code: finding.FactTrendReadings, Amount: unit.Amount{Number: float64(measured(t.Used)), Unit: unit.Count}})
	if pace, ok := trend.PaceOf(t.Used); ok {
		days := pace.Dates(c)
		for _, d := range []finding.Evidence{{Code: finding.FactTrendDay, Day: days.At}, {Code: finding.FactTrendEarliestDay, Day: days.Earliest}, {Code: finding.FactTrendLatestDay, Day: days.Latest}} {
			if !d.Day.IsZero() && today.Compare(d.Day) < 0 {
				es = append(es, d)
			}
		}
	}
	for _, p := range t.Used {
		if p.Assumed {
			es = append(es, finding.Evidence{Code: finding.FactTrendNewDepthAssumed, Amount: u.deep(p.Depth.Of), Uncertainty: u.deep(unit.Depth(p.Depth.Std)), Against: true})
		}
	}
	for _, a := range t.Aside {
		if a.Why == trend.Odd {
			es = append(es, finding.Evidence{Code: finding.FactTrendSetAside, Amount: u.deep(a.Depth.Of), Against: true})
		}
	}
	return es
}

func measured(points []trend.Point) (n int) {
	for _, p := range points {
		if !p.Assumed {
			n++
		}
	}
	return n
}

// lastRise is the latest rise, of several at once the greatest.
func lastRise(rs []trend.Rise) (trend.Rise, bool) {
	if len(rs) == 0 {
		return trend.Rise{}, false
	}
	return slices.MaxFunc(rs, func(a, b trend.Rise) int {
		return cmp.Or(cmp.Compare(a.To.Run, b.To.Run), cmp.Compare(a.By(), b.By()))
	}), true
}

// grew is what is said of a rise.
func (u shownIn) grew(r trend.Rise) finding.Finding {
	was := finding.FactTrendWas
	if r.From.Assumed {
		was = finding.FactTrendWasNew
	}
	book := rulebook.Must("trend")
	return finding.Finding{
		Code: finding.TrendGrew, Urgency: finding.Note, Measured: r.By().Amount(u.depth), Limit: book.Limit("growth").Value, Rule: book.RuleOf(book.Limit("growth")),
		ToSettle: finding.SettleMovedOrMisread,
		Evidence: []finding.Evidence{{Code: was, Amount: u.deep(r.From.Depth.Of)}, {Code: finding.FactTrendIs, Amount: u.deep(r.To.Depth.Of)}},
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
