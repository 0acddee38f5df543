package verdict

import (
	"math"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

// Life is how long one tire has left by its depths over distance.
type Life struct {
	Trend     trend.Trend
	Crossings []trend.Crossing // by limit, in the order asked
	Days      []trend.Days     // of the crossings
	Findings  []finding.Finding
}

// JudgeLife estimates the life of one tire from its depths in any order. perDay is
// what is driven in a day, 0 when not told: then it is taken from the days of the
// depths. Depths and distances of findings are shown in the units given.
func JudgeLife(points []trend.Point, limits []unit.Depth, perDay unit.Distance, depth, distance unit.Unit) Life {
	out := Life{Trend: trend.Follow(points, nil)}
	pace, ok := trend.PaceOf(out.Trend.Used)
	if perDay > 0 {
		pace, ok = trend.Pace{}, false
		for _, p := range out.Trend.Used {
			if !p.Day.IsZero() {
				pace, ok = trend.PaceTold(perDay, p.Run, p.Day), true
			}
		}
	}
	for _, l := range limits {
		c := trend.Crossing{Limit: l}
		if out.Trend.Known {
			c = out.Trend.Line.Crossing(l)
		}
		var days trend.Days
		if ok {
			days = pace.Dates(c)
		}
		out.Crossings, out.Days = append(out.Crossings, c), append(out.Days, days)
	}
	u := shownIn{depth, distance}
	if most, ok := lastRise(out.Trend.Rises); ok {
		out.Findings = append(out.Findings, u.grew(most))
	}
	out.Findings = append(out.Findings, u.doubts(out.Trend, false)...)
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
				at := finding.Evidence{Code: finding.FactTrendOddAt, Amount: u.far(a.Run, math.Round)}
				if back {
					at = finding.Evidence{Code: finding.FactTrendAgo, Amount: u.far(-a.Run, math.Round)}
				}
				f = &finding.Finding{
					Code: finding.TrendOddReading, Urgency: finding.Note, Measured: u.deep(a.Depth.Of), ToSettle: finding.SettleMovedOrMisread, Evidence: []finding.Evidence{at},
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
	if t.Linear == trend.NotLinear {
		fs = append(fs, finding.Finding{
			Code: finding.TrendUneven, Urgency: finding.Note, Measured: t.Line.RSquared().Amount().Rounded(), Limit: book.Limit("linear-share").Value,
			Rule: book.RuleOf(book.Limit("linear-share")),
		})
	}
	return fs
}
