package questions

import (
	"maps"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// How far a distance that lies ahead is told: to 1, 2 or 5 times a power of ten, a hundred
// at the least, no finer than it is known.
func TestStepsOfADistance(t *testing.T) {
	for n, want := range map[float64]float64{0: 100, 99: 100, 100: 100, 199: 100, 200: 200, 499: 200, 500: 500, 999: 500, 1_000: 1_000, 2_000: 2_000, 4_999: 2_000, 5_000: 5_000, 10_000: 10_000, 199.9999999: 200} {
		if got := round125(n); got != want {
			t.Errorf("%v: %v, want %v", n, got, want)
		}
	}
	miles := func(n float64) *unit.Distance { d := unit.MustDistance(n, unit.Miles); return &d }
	for _, c := range []struct {
		c    trend.Crossing
		want float64
	}{
		{trend.Crossing{At: miles(10_000), Earliest: miles(8_000), Latest: miles(14_000)}, 3_000},
		{trend.Crossing{At: miles(2_000), Earliest: miles(1_000), Latest: miles(14_000)}, 2_000},
		{trend.Crossing{At: miles(10_000), Earliest: miles(8_000)}, 2_000},
		{trend.Crossing{At: miles(2_000), Earliest: miles(-8_000)}, 2_000},
		{trend.Crossing{At: miles(10_000), Latest: miles(14_000)}, 10_000},
		{trend.Crossing{At: miles(10_000)}, 10_000},
	} {
		if got := half(c.c); got < unit.MustDistance(c.want-1, unit.Miles) || got > unit.MustDistance(c.want+1, unit.Miles) {
			t.Errorf("%v: %v miles, want %v", c.c, got.In(unit.Miles), c.want)
		}
	}
}

// lifeAt is the life of a tire that is out in so many miles, for a limit.
func lifeAt(miles, earlier, later float64, l lifeLimit) life {
	at, from, to := unit.MustDistance(miles, unit.Miles), unit.MustDistance(miles-earlier, unit.Miles), unit.MustDistance(miles+later, unit.Miles)
	return life{out: trend.Crossing{At: &at, Earliest: &from, Latest: &to}, trend: trend.Follow(worn(9, 8, 7, 6), nil), limit: l}
}

// The tire that is out first is told with those that are out at about the same time by the
// same limit, and asks for a plan where that is soon.
func TestWhichTireIsOutFirst(t *testing.T) {
	bars := lifeLimit{value: unit.Amount{Number: 2, Unit: unit.ThirtySecondsInch}}
	law := lifeLimit{value: unit.Amount{Number: 4, Unit: unit.ThirtySecondsInch}}
	due := trend.Due().In(unit.Miles)
	for _, c := range []struct {
		name  string
		lives map[string]life
		want  []string
		plan  bool
	}{
		{"one", map[string]life{"1L": lifeAt(20_000, 4_000, 4_000, bars)}, []string{"1L"}, false},
		{"the sooner one", map[string]life{"1L": lifeAt(20_000, 4_000, 4_000, bars), "1R": lifeAt(12_000, 4_000, 4_000, bars)}, []string{"1R"}, false},
		{"about the same", map[string]life{"1L": lifeAt(13_000, 4_000, 4_000, bars), "1R": lifeAt(12_000, 4_000, 4_000, bars)}, []string{"1L", "1R"}, false},
		{"a quarter of the interval later", map[string]life{"1L": lifeAt(14_000, 4_000, 4_000, bars), "1R": lifeAt(12_000, 4_000, 4_000, bars)}, []string{"1L", "1R"}, false},
		{"more", map[string]life{"1L": lifeAt(14_100, 4_000, 4_000, bars), "1R": lifeAt(12_000, 4_000, 4_000, bars)}, []string{"1R"}, false},
		{"by another limit", map[string]life{"1L": lifeAt(12_100, 4_000, 4_000, law), "1R": lifeAt(12_000, 4_000, 4_000, bars)}, []string{"1R"}, false},
		{"soon", map[string]life{"1L": lifeAt(due, 400, 400, bars)}, []string{"1L"}, true},
		{"not so soon", map[string]life{"1L": lifeAt(due+1, 400, 400, bars)}, []string{"1L"}, false},
		{"none", nil, nil, false},
	} {
		tr := trending{unit: shownIn{unit.ThirtySecondsInch, unit.Miles}}
		lives := map[layout.Position]life{}
		for _, at := range slices.Sorted(maps.Keys(c.lives)) {
			lives[layout.MustParse(at)] = c.lives[at]
		}
		tr.firstOut(lives)
		if len(tr.Findings) > 0 != (c.want != nil) {
			t.Errorf("%s: %+v", c.name, tr.Findings)
		}
		if c.want == nil {
			continue
		}
		f := tr.Findings[0]
		var at []string
		for _, p := range f.Positions {
			at = append(at, p.String())
		}
		want := finding.Note
		if c.plan {
			want = finding.Plan
		}
		if f.Code != finding.TrendFirstOut || !slices.Equal(at, c.want) || f.Urgency != want || f.Limit != lives[f.Positions[len(f.Positions)-1]].limit.value || len(f.Evidence) == 0 {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}

// A life is told by its rate, its readings and its ends: the earliest as "may be now" where
// it is no more than that, the latest as not known where none is, and each day that is to come.
func TestWhatALifeIsToldBy(t *testing.T) {
	u := shownIn{unit.ThirtySecondsInch, unit.Miles}
	points := worn(9, 8, 7, 6)
	for i := range points {
		points[i].Day = unit.Date{Year: 2020 + i, Month: 6, Day: 1}
		points[i].Run -= unit.MustDistance(40_000, unit.Miles)
	}
	tr := trend.Follow(points, nil)
	codes := func(c trend.Crossing, today unit.Date) (all []finding.Fact) {
		for _, e := range u.lifeEvidence(c, tr, today) {
			all = append(all, e.Code)
		}
		return all
	}
	whole := lifeAt(20_000, 4_000, 4_000, lifeLimit{}).out
	may, zero := whole, unit.Distance(0)
	may.Earliest = nil
	now := whole
	now.Earliest = &zero
	open := whole
	open.Latest = nil
	rest := []finding.Fact{finding.FactTrendRate, finding.FactTrendReadings}
	days := []finding.Fact{finding.FactTrendDay, finding.FactTrendEarliestDay, finding.FactTrendLatestDay}
	day := unit.Date{Year: 2023, Month: 7, Day: 1}
	for _, c := range []struct {
		name  string
		c     trend.Crossing
		today unit.Date
		want  []finding.Fact
	}{
		{"whole", whole, day, slices.Concat([]finding.Fact{finding.FactTrendEarliest, finding.FactTrendLatest}, rest, days)},
		{"it may be now", may, day, slices.Concat([]finding.Fact{finding.FactTrendMayBeNow, finding.FactTrendLatest}, rest, []finding.Fact{finding.FactTrendDay, finding.FactTrendLatestDay})},
		{"it is as near as now", now, day, slices.Concat([]finding.Fact{finding.FactTrendMayBeNow, finding.FactTrendLatest}, rest, []finding.Fact{finding.FactTrendDay, finding.FactTrendLatestDay})},
		{"no end", open, day, slices.Concat([]finding.Fact{finding.FactTrendEarliest, finding.FactTrendNoLatest}, rest, days[:2])},
		{"long past", whole, unit.Date{Year: 2090, Month: 1, Day: 1}, slices.Concat([]finding.Fact{finding.FactTrendEarliest, finding.FactTrendLatest}, rest)},
	} {
		if got := codes(c.c, c.today); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
	es := u.lifeEvidence(whole, tr, day)
	if es[0].Amount.Number != 16_000 || es[1].Amount.Number != 24_000 || es[3].Amount != (unit.Amount{Number: 4, Unit: unit.Count}) || es[2].Amount.Number != 0.1 {
		t.Errorf("%+v", es)
	}
	if es[5].Day.Compare(es[4].Day) >= 0 || es[4].Day.Compare(es[6].Day) >= 0 {
		t.Errorf("days %v, %v, %v", es[4].Day, es[5].Day, es[6].Day)
	}
}

// What a tire lost since the visit before that read it: only where it stayed, that visit says
// how it was left and on which day; one that read nothing is passed over, and a reading of the
// tire at rest that is later counts instead.
func TestWhatATireLost(t *testing.T) {
	day := func(m, d int) unit.Date { return unit.Date{Year: 2026, Month: m, Day: d} }
	left := func(m int, n float64) visit.Before {
		return visit.Before{Day: day(m, 1), Stayed: true, Left: visit.Pressure{Of: psi(n), Read: unit.PSI}}
	}
	with := func(b visit.Before, do func(*visit.Before)) visit.Before { do(&b); return b }
	labels := visit.Labels{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{{ColdNormal: psi(33), LabelUnit: unit.PSI}}}}
	rested := left(5, 35)
	onTheDay := left(3, 35)
	for _, c := range []struct {
		name   string
		at     string
		found  float64
		today  unit.Date
		before []visit.Before
		rested *visit.Before
		days   int // 0: not told
	}{
		{"since March", "1L", 30, day(6, 1), []visit.Before{left(3, 36)}, nil, 92},
		{"the newest of two", "1L", 30, day(6, 1), []visit.Before{left(5, 36), left(3, 36)}, nil, 31},
		{"one that read nothing between", "1L", 30, day(6, 1), []visit.Before{{Day: day(5, 1), Stayed: true}, left(3, 36)}, nil, 92},
		{"found and not left", "1L", 30, day(6, 1), []visit.Before{{Day: day(5, 1), Stayed: true, Found: visit.Pressure{Of: psi(30), Read: unit.PSI}}, left(3, 36)}, nil, 0},
		{"it went elsewhere", "1L", 30, day(6, 1), []visit.Before{with(left(3, 36), func(b *visit.Before) { b.Stayed = false })}, nil, 0},
		{"on no known day", "1L", 30, day(6, 1), []visit.Before{with(left(3, 36), func(b *visit.Before) { b.Day = unit.Date{} })}, nil, 0},
		{"never before", "1L", 30, day(6, 1), nil, nil, 0},
		{"not read today", "1L", 0, day(6, 1), []visit.Before{left(3, 36)}, nil, 0},
		{"today is not told", "1L", 30, unit.Date{}, []visit.Before{left(3, 36)}, nil, 0},
		{"the spare", "S", 30, day(6, 1), []visit.Before{left(3, 36)}, nil, 0},
		{"read at rest since", "1L", 30, day(6, 1), []visit.Before{left(3, 36)}, &rested, 31},
		{"read at rest, and never before", "1L", 30, day(6, 1), nil, &rested, 31},
		{"read at rest a day later", "1L", 30, day(6, 1), []visit.Before{with(left(4, 36), func(b *visit.Before) { b.Day = day(4, 30) })}, &rested, 31},
		{"read at rest on the day", "1L", 30, day(6, 1), []visit.Before{with(left(3, 36), func(b *visit.Before) { b.Stayed = false })}, &onTheDay, 0},
	} {
		w := visit.Wheel{Position: layout.MustParse(c.at), Before: c.before, Rested: c.rested}
		if c.found > 0 {
			w.Pressure = visit.Pressure{Of: psi(c.found), Read: unit.PSI}
		}
		on := inflation.Conditions{DrivenHere: finding.No}
		in := LossIn{Labels: labels, Conditions: on, Day: c.today, Airs: Airs{Wheels: map[layout.Position]inflation.Wheel{w.Position: labels.Air(w, w.Pressure, on)}}}
		got, ok := in.lost(w)
		if ok != (c.days > 0) || ok && (got.days != c.days || got.at != w.Position || got.rate.Of <= 0) {
			t.Errorf("%s: %+v, %v", c.name, got, ok)
		}
	}
}

// Tires that lose alike, and more than is usual, are told together, over their days, in the
// first of their units.
func TestTiresThatLoseAlike(t *testing.T) {
	fast := trend.UsualLoss() * 3
	one := func(at string, u unit.Unit, rate unit.LossRate) losing {
		return losing{at: layout.MustParse(at), rate: measure.Value[unit.LossRate]{Of: rate, Std: float64(rate) / 100}, days: 60, oneHeat: true, pressure: visit.Pressure{Read: u}}
	}
	var a Answer
	a.loseAlike([]losing{one("1L", unit.PSI, fast), one("1R", unit.PSI, fast), one("2L", unit.PSI, fast)})
	if len(a.Findings) != 1 {
		t.Fatalf("%+v", a.Findings)
	}
	f := a.Findings[0]
	if f.Code != finding.TrendLosesAlike || f.Urgency != finding.Note || len(f.Positions) != 3 || f.Positions[2].String() != "2L" || f.Measured.Unit != unit.PSIPerMonth {
		t.Errorf("%+v", f)
	}
	if len(f.Evidence) != 1 || f.Evidence[0].Code != finding.FactTrendDays || f.Evidence[0].Amount != (unit.Amount{Number: 60, Unit: unit.Count}) {
		t.Errorf("%+v", f.Evidence)
	}
	var usual Answer
	usual.loseAlike([]losing{one("1L", unit.PSI, trend.UsualLoss()), one("1R", unit.PSI, trend.UsualLoss())})
	if len(usual.Findings) != 0 {
		t.Errorf("as much as usual: %+v", usual.Findings)
	}
}
