package questions

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

// worn are depths of one tire in thirty-seconds, one each 10,000 miles, read finely.
func worn(depths ...float64) (all []trend.Point) {
	fine := unit.MustDepth(0.1, unit.ThirtySecondsInch)
	for i, d := range depths {
		all = append(all, trend.Point{Run: unit.MustDistance(float64(10_000*(i+1)), unit.Miles), Depth: measure.Value[unit.Depth]{Of: unit.MustDepth(d, unit.ThirtySecondsInch), Std: float64(fine)}})
	}
	return all
}

// Of one tire wearing steadily it is foretold when it reaches its limits, and what a life
// says beside that is a note; only a newest reading that the older ones contradict asks
// for something at this visit.
func TestLifeOfOneTire(t *testing.T) {
	limits := []unit.Depth{unit.MustDepth(4, unit.ThirtySecondsInch), unit.MustDepth(2, unit.ThirtySecondsInch)}
	dated := func(points []trend.Point) []trend.Point {
		for i := range points {
			points[i].Day = unit.Date{Year: 2020 + i, Month: 6, Day: 1}
		}
		return points
	}
	for _, c := range []struct {
		name     string
		points   []trend.Point
		perDay   unit.Distance
		foretold bool
		dated    bool
		found    map[finding.Code]finding.Urgency
	}{
		{"steady", worn(9, 8, 7, 6), 0, true, false, nil},
		{"steady, by its days", dated(worn(9, 8, 7, 6)), 0, true, true, nil},
		{"steady, by what is driven in a day, and no day told", worn(9, 8, 7, 6), unit.MustDistance(30, unit.Miles), true, false, nil},
		{"one reading", worn(9), 0, false, false, nil},
		{"none", nil, 0, false, false, nil},
		{"one odd reading among many", worn(9, 8.5, 8, 7.5, 4, 6.5, 6, 5.5), 0, true, false, map[finding.Code]finding.Urgency{finding.TrendOddReading: finding.Note}},
		{"the newest in doubt", worn(9, 8.5, 8, 7.5, 7, 3), 0, false, false, map[finding.Code]finding.Urgency{finding.TrendNewestInDoubt: finding.ThisVisit}},
		{"tread that grew: by what came after", worn(6, 5, 9, 8), 0, true, false, map[finding.Code]finding.Urgency{finding.TrendGrew: finding.Note}},
	} {
		out := Life(LifeIn{Points: c.points, Limits: limits, PerDay: c.perDay, Depth: unit.ThirtySecondsInch, Distance: unit.Miles})
		if len(out.Crossings) != 2 || len(out.Days) != 2 || out.Crossings[0].Limit != limits[0] || out.Crossings[1].Limit != limits[1] {
			t.Fatalf("%s: %d crossings", c.name, len(out.Crossings))
		}
		for i, crossing := range out.Crossings {
			if foretold := crossing.At != nil; foretold != c.foretold || !out.Days[i].At.IsZero() != c.dated {
				t.Errorf("%s: limit %d foretold %v, on %v", c.name, i, foretold, out.Days[i].At)
			}
		}
		got := map[finding.Code]finding.Urgency{}
		for _, f := range out.Findings {
			got[f.Code] = f.Urgency
		}
		for code, urgency := range c.found {
			if got[code] != urgency {
				t.Errorf("%s: %s has urgency %d", c.name, code, got[code])
			}
			delete(got, code)
		}
		for code, urgency := range got {
			if urgency != finding.Note || c.found == nil {
				t.Errorf("%s: %s found, urgency %d", c.name, code, urgency)
			}
		}
	}
}

// Readings set aside are told once for each reason, the further ones as evidence; an
// assumed depth when new that lies within break-in is no reading.
func TestWhatIsSetAsideIsTold(t *testing.T) {
	aside := func(why trend.Why, run, depth float64, assumed bool) trend.Aside {
		return trend.Aside{Why: why, Point: trend.Point{Run: unit.MustDistance(run, unit.Miles), Depth: measure.Exact(unit.MustDepth(depth, unit.ThirtySecondsInch)), Assumed: assumed}}
	}
	u := shownIn{unit.ThirtySecondsInch, unit.Miles}
	fs := u.doubts(trend.Trend{Aside: []trend.Aside{
		aside(trend.Odd, 20_000, 4, false), aside(trend.BreakingIn, 500, 10, true), aside(trend.BreakingIn, 800, 9.5, false), aside(trend.Odd, 30_000, 5, false),
	}}, false)
	if len(fs) != 2 || fs[0].Code != finding.TrendOddReading || fs[1].Code != finding.TrendBrokeIn {
		t.Fatalf("%+v", fs)
	}
	odd, fresh := fs[0], fs[1]
	if odd.Urgency != finding.Note || odd.Measured.Number != 4 || odd.ToSettle != finding.SettleMovedOrMisread || len(odd.Evidence) != 2 ||
		odd.Evidence[0].Code != finding.FactTrendOddAt || odd.Evidence[0].Amount.Number != 20_000 || odd.Evidence[1].Code != finding.FactTrendSetAside || odd.Evidence[1].Amount.Number != 5 {
		t.Errorf("odd: %+v", odd)
	}
	if fresh.Urgency != finding.Note || fresh.Measured.Number != 9.5 || fresh.Limit.IsZero() || fresh.Rule.ID == "" || len(fresh.Evidence) != 0 {
		t.Errorf("breaking in: %+v", fresh)
	}
	back := u.doubts(trend.Trend{Aside: []trend.Aside{aside(trend.Odd, -20_000, 4, false)}}, true)[0].Evidence[0]
	if back.Code != finding.FactTrendAgo || back.Amount.Number != 20_000 {
		t.Errorf("counted back from today: %+v", back)
	}
}
