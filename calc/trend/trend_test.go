package trend_test

import (
	"math"
	"slices"
	"testing"

	"gaugebook.dev/calc/measure"
	. "gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

// noise of a gauge of 1/32 in by hand: a step of 1 and a repeatability of 0.40
// (JCGM 100:2008, 4.3.7; repeatability common practice).
const byHand = 0.4938

func run(depths map[float64]float64) (ps []Point) {
	for miles, d := range depths {
		ps = append(ps, at(miles, d, byHand))
	}
	return ps
}

// TestFollow: what shapes the line and what is set aside. The rules are those of
// the trend book (common practice, ASTM F1016 scope, 49 CFR 575.104(e)(2)).
func TestFollow(t *testing.T) {
	for _, c := range []struct {
		name   string
		points []Point
		isNew  float64 // mi, negative: not known
		used   int
		aside  []Why
		rises  int
		linear Linear
	}{
		{"one reading", run(map[float64]float64{0: 10}), -1, 1, nil, 0, LinearNotTold},
		{"two readings", run(map[float64]float64{0: 10, 10_000: 8}), -1, 2, nil, 0, LinearNotTold},
		{"three intervals on a line", run(map[float64]float64{1000: 10, 11_000: 8, 21_000: 6, 31_000: 4}), -1, 4, nil, 0, IsLinear},
		{"little wear, hidden by noise", run(map[float64]float64{0: 10, 2000: 9, 4000: 10, 6000: 9}), -1, 4, nil, 0, LinearNotTold},
		{"on a line, and less wear than the gauge can tell", []Point{at(0, 7, byHand), at(2000, 6.99, byHand), at(4000, 6.98, byHand), at(6000, 6.97, byHand)}, -1, 4, nil, 0, LinearNotTold},
		{"a fine gauge and uneven wear", []Point{at(0, 10, 0.1), at(5000, 6.5, 0.1), at(10_000, 6.4, 0.1), at(15_000, 6.3, 0.1), at(20_000, 3, 0.1)}, -1, 5, nil, 0, NotLinear},
		{"one step up is noise", run(map[float64]float64{0: 8, 5000: 7, 10_000: 8}), -1, 3, nil, 0, LinearNotTold},
		{"just under two steps up is noise", []Point{at(0, 8, byHand), at(5000, 9.99, byHand)}, -1, 2, nil, 0, LinearNotTold},
		{"two steps up is asked about", run(map[float64]float64{0: 8, 5000: 6, 10_000: 8}), -1, 1, []Why{BeforeGrowth, BeforeGrowth}, 1, LinearNotTold},
		{"new tires on the way", run(map[float64]float64{0: 6, 10_000: 4, 20_000: 10, 30_000: 8}), -1, 2, []Why{BeforeGrowth, BeforeGrowth}, 1, LinearNotTold},
		{"one misreading among many", run(map[float64]float64{0: 10, 5000: 9, 10_000: 8, 15_000: 3, 20_000: 6, 25_000: 5}), -1, 5, []Why{Odd}, 1, IsLinear},
		{"a misreading with two others cannot be told", run(map[float64]float64{0: 10, 5000: 5, 10_000: 6}), -1, 3, nil, 0, LinearNotTold},
		{"break-in with enough after it", run(map[float64]float64{100: 11, 5000: 9, 10_000: 8, 15_000: 7, 20_000: 6}), 0, 4, []Why{BreakingIn}, 0, IsLinear},
		{"break-in with too few after it", run(map[float64]float64{100: 11, 5000: 9, 10_000: 8, 15_000: 7}), 0, 4, nil, 0, IsLinear},
		{"800 miles are past break-in", run(map[float64]float64{800: 10, 5000: 9, 10_000: 8, 15_000: 7, 20_000: 6}), 0, 5, nil, 0, IsLinear},
		{"when new is not known", run(map[float64]float64{100: 11, 5000: 9, 10_000: 8, 15_000: 7, 20_000: 6}), -1, 5, nil, 0, IsLinear},
	} {
		var isNew *unit.Distance
		if c.isNew >= 0 {
			d := miles(c.isNew)
			isNew = &d
		}
		f := Follow(c.points, isNew)
		if len(f.Used) != c.used || len(f.Aside) != len(c.aside) || len(f.Rises) != c.rises || f.Linear != c.linear || f.Known != (c.used > 1) {
			t.Errorf("%s: used %d, aside %v, rises %d, linear %d (R² %.3f)", c.name, len(f.Used), f.Aside, len(f.Rises), f.Linear, f.Line.RSquared())
			continue
		}
		for i, a := range f.Aside {
			if a.Why != c.aside[i] {
				t.Errorf("%s: set aside for %d, want %d", c.name, a.Why, c.aside[i])
			}
		}
	}
}

// TestMisreadingIsTheOne that is set aside, wherever it stands among the older ones.
// Of the newest nobody knows yet whether it is misread.
func TestMisreadingIsTheOne(t *testing.T) {
	for bad := range 8 {
		for _, by := range []float64{-4, 4} {
			var ps []Point
			for i := range 8 {
				d := 10 - 0.75*float64(i)
				if i == bad {
					d += by
				}
				ps = append(ps, at(float64(5000*i), d, byHand))
			}
			f := Follow(ps, nil)
			odd := 0
			for _, a := range f.Aside {
				if a.Why == Odd {
					odd++
					if a.Run != ps[bad].Run {
						t.Errorf("reading %d off by %g: set aside the one at %v", bad, by, a.Run.In(unit.Miles))
					}
				}
			}
			switch newest := bad == len(ps)-1; {
			case (newest && by < 0) != (f.Turned != nil), newest && odd != 0, !newest && odd != 1:
				t.Errorf("reading %d off by %g: %d set aside as odd, turned %v", bad, by, odd, f.Turned)
			}
		}
	}
}

// TestNewDepth: one visit and a depth when new, which is a rectangle of half-width
// 1/32 in for its groove and 2/32 in for the tire (common practice; u = a/√3 by
// JCGM 100:2008, 4.3.7).
func TestNewDepth(t *testing.T) {
	for _, c := range []struct {
		ofGroove bool
		half     float64
	}{{true, 1}, {false, 2}} {
		v := NewDepth(depth(10), c.ofGroove)
		if want := c.half * float64(depth(1)) / math.Sqrt(3); v.Of != depth(10) || math.Abs(v.Std-want) > 1 {
			t.Errorf("of the groove %v: %v, want ± %g", c.ofGroove, v, want)
		}
		f := Follow([]Point{{Depth: v, Assumed: true}, at(20_000, 6, byHand)}, nil)
		if !f.Known || !assumed(f) {
			t.Errorf("no line from a new depth and one visit: %+v", f)
		}
		if got := f.Line.Crossing(depth(2)).At.In(unit.Miles); math.Abs(got-40_000) > 0.01 {
			t.Errorf("2/32 in at %.1f mi, want 40,000", got)
		}
	}
	later := []Point{at(1000, 9, byHand), at(9000, 8, byHand), at(17_000, 7, byHand), at(25_000, 6, byHand)}
	if f := Follow(append(later, Point{Depth: NewDepth(depth(10), false), Assumed: true}), nil); assumed(f) {
		t.Error("with three intervals after break-in the assumed depth still shapes the line")
	}
}

// assumed tells that a depth when new that nobody measured shapes the line.
func assumed(f Trend) bool {
	return slices.ContainsFunc(f.Used, func(p Point) bool { return p.Assumed })
}

// TestPace: distance by day from the days of readings, the slowest and the fastest
// month as its spread, and the days of a crossing.
func TestPace(t *testing.T) {
	day := func(y, m, d int) unit.Date { return unit.Date{Year: y, Month: m, Day: d} }
	on := func(p Point, d unit.Date) Point { p.Day = d; return p }
	ps := []Point{
		on(at(20_000, 8, byHand), day(2024, 9, 27)), // 200 days after the first, 50 mi a day
		on(at(10_000, 9, byHand), day(2024, 3, 11)),
		on(at(20_900, 8, byHand), day(2024, 10, 7)), // ten days are no month: with the stretch to the last
		on(at(26_000, 7, byHand), day(2025, 1, 5)),  // 100 days after the second: 60 mi a day
		{Run: 0, Day: day(2020, 1, 1), Assumed: true},
	}
	p, ok := PaceOf(ps)
	if !ok || p.From != miles(26_000) || p.Day != day(2025, 1, 5) {
		t.Fatalf("%+v, %v", p, ok)
	}
	for _, c := range []struct {
		name string
		got  unit.Distance
		want float64
	}{{"slow", p.Slow, 50}, {"mean", p.Mean, 16_000.0 / 300}, {"fast", p.Fast, 60}} {
		if math.Abs(c.got.In(unit.Miles)-c.want) > 1e-9 {
			t.Errorf("%s: %.4f mi a day, want %.4f", c.name, c.got.In(unit.Miles), c.want)
		}
	}
	ends := func(earliest, at, latest float64) Crossing {
		a, e, l := miles(at), miles(earliest), miles(latest)
		return Crossing{At: &a, Earliest: &e, Latest: &l}
	}
	if got, want := p.Dates(ends(29_000, 32_000, 36_000)), (Days{At: day(2025, 4, 28), Earliest: day(2025, 2, 24), Latest: day(2025, 7, 24)}); got != want {
		t.Errorf("ahead: %v, want %v", got, want) // 6000/53.3 = 112.5, 3000/60 = 50, 10,000/50 = 200 days
	}
	if got := p.Dates(ends(20_000, 23_000, 25_000)); got.Earliest != day(2024, 9, 7) || got.Latest != day(2024, 12, 20) {
		t.Errorf("passed: %v, want 120 days ago at the slowest and 16 at the fastest", got)
	}
	if got := p.Dates(Crossing{}); got != (Days{}) {
		t.Errorf("not told: %v", got)
	}
	if got := PaceTold(miles(1), miles(0), day(2025, 1, 1)).Dates(ends(1, 20_000, 20_000)); !got.At.IsZero() || got.Earliest != day(2025, 1, 2) {
		t.Errorf("55 years away: %v", got)
	}
	if _, ok := PaceOf(ps[2:4]); !ok {
		t.Error("90 days tell no pace")
	}
	if _, ok := PaceOf([]Point{ps[0], ps[2]}); ok {
		t.Error("ten days tell a pace")
	}
	if _, ok := PaceOf([]Point{on(ps[0], day(2025, 9, 27)), ps[3]}); ok {
		t.Error("an odometer that fell tells a pace")
	}
}

// TestSeveral: a tire is out with its first groove, a pair with its last tire.
func TestSeveral(t *testing.T) {
	d := func(n float64) *unit.Distance { m := miles(n); return &m }
	a := Crossing{Limit: depth(2), At: d(30), Earliest: d(20), Latest: d(50)}
	b := Crossing{Limit: depth(2), At: d(28), Earliest: d(25)}
	none := Crossing{Limit: depth(2)}
	for _, c := range []struct {
		name string
		got  Crossing
		want [3]float64 // 0: nil
	}{
		{"first", First(a, b), [3]float64{28, 20, 50}},
		{"last", Last(a, b), [3]float64{30, 25, 0}},
		{"first with one not in sight", First(a, none), [3]float64{30, 0, 50}},
		{"last with one not in sight", Last(a, none), [3]float64{0, 20, 0}},
		{"of none", First(), [3]float64{}},
	} {
		for i, p := range []*unit.Distance{c.got.At, c.got.Earliest, c.got.Latest} {
			if (p != nil) != (c.want[i] != 0) || p != nil && *p != miles(c.want[i]) {
				t.Errorf("%s: %d is %v, want %g", c.name, i, p, c.want[i])
			}
		}
	}
}

// TestLeak: about 1 psi a month is usual (vehicle owner's information, as
// reported); one tire more than 3 psi a month faster than its mates is a leak
// (common practice).
func TestLeak(t *testing.T) {
	psi := func(n, std float64) measure.Value[unit.Pressure] {
		return measure.Value[unit.Pressure]{Of: unit.MustPressure(n, unit.PSI), Std: std * unit.MustPressure(1, unit.PSI).In(unit.Kilopascals)}
	}
	lost := func(n, std float64, days int) measure.Value[unit.LossRate] {
		r, ok := Held{Left: psi(35, std), Found: psi(35-n, std), Days: days}.Loss()
		if !ok {
			t.Fatalf("no rate over %d days", days)
		}
		return r
	}
	if got := lost(2, 0, 60).Of.In(unit.PSIPerMonth); math.Abs(got-1) > 1e-12 {
		t.Errorf("2 psi in 60 days are %g psi a month", got)
	}
	for _, c := range []struct {
		name   string
		tire   measure.Value[unit.LossRate]
		others []measure.Value[unit.LossRate]
		want   measure.Outcome
	}{
		{"as its mates", lost(3, 0.6, 90), []measure.Value[unit.LossRate]{lost(3, 0.6, 90), lost(2, 0.6, 90), lost(4, 0.6, 90)}, measure.Below},
		{"a leak", lost(15, 0.6, 90), []measure.Value[unit.LossRate]{lost(3, 0.6, 90), lost(2, 0.6, 90), lost(3, 0.6, 90)}, measure.Above},
		{"a leak beside another", lost(15, 0.6, 90), []measure.Value[unit.LossRate]{lost(18, 0.6, 90), lost(2, 0.6, 90), lost(3, 0.6, 90)}, measure.Above},
		{"too few days to tell", lost(3, 0.6, 14), []measure.Value[unit.LossRate]{lost(0, 0.6, 14), lost(0, 0.6, 14), lost(1, 0.6, 14)}, measure.CannotTell},
		{"exactly 3 faster is none", lost(4, 0, 30), []measure.Value[unit.LossRate]{lost(1, 0, 30)}, measure.Below},
		{"without mates", lost(15, 0.6, 90), nil, measure.NotCompared},
	} {
		if _, got, ok := Leak(c.tire, c.others); got.Outcome != c.want || ok != (len(c.others) > 0) {
			t.Errorf("%s: %v, want %v", c.name, got.Outcome, c.want)
		}
	}
	if _, ok := (Held{Left: psi(35, 0), Found: psi(34, 0)}).Loss(); ok {
		t.Error("a rate within a day")
	}
}

// TestAtGrowthItself: a reading as far from the line of the others as growth is asked
// about is odd, and a newest one turns the line, wherever the odometer starts and
// whatever way it is wrong: which is no question of how sums were rounded.
func TestAtGrowthItself(t *testing.T) {
	growth := Growth().In(unit.ThirtySecondsInch)
	for start := range 3000 {
		from := float64(start) * 61.7
		for _, by := range []float64{growth, -growth} {
			flat := func(bad int, off float64) (ps []Point) {
				for i := range 5 {
					d := 6.0
					if i == bad {
						d += off
					}
					ps = append(ps, at(from+float64(7000*i), d, 0.2))
				}
				return ps
			}
			for bad := range 4 {
				if f := Follow(flat(bad, by), nil); len(f.Aside) == 0 || f.Aside[0].Why != Odd || f.Aside[0].Run != miles(from+float64(7000*bad)) {
					t.Fatalf("from %g mi, reading %d off by %g: set aside %v", from, bad, by, f.Aside)
				}
			}
			if f := Follow(flat(4, by), nil); (f.Turned != nil) != (by < 0) {
				t.Fatalf("from %g mi, the newest off by %g: turned %v", from, by, f.Turned)
			}
		}
	}
}
