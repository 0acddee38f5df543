package trend_test

import (
	"math"
	"testing"

	"gaugebook.dev/calc/measure"
	. "gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

// TestReaches: the ends of a life with the gauge's zero in the level, by Fieller's theorem
// computed apart from this program, and 1.4 times nearer to the last reading or farther from it.
func TestReaches(t *testing.T) {
	hand := measure.Gauge[unit.Depth]{Resolution: depth(1), Repeatability: depth(0.4)}
	told := hand
	told.Accuracy = depth(1)
	read := func(g measure.Gauge[unit.Depth], run, thirtySeconds float64) Point {
		p := Read(g, depth(thirtySeconds))
		p.Run = miles(run)
		return p
	}
	isNew := Point{Depth: NewDepth(depth(11), false), Assumed: true}
	for _, c := range []struct {
		name             string
		points           []Point
		earliest, latest float64
	}{
		{"two visits, zero not told", []Point{read(hand, 0, 10), read(hand, 10_000, 7)}, 16_382.86, 60_062.17},
		{"two visits, the same accuracy told", []Point{read(told, 0, 10), read(told, 10_000, 7)}, 16_382.86, 60_062.17},
		{"one visit and the depth when new", []Point{isNew, read(hand, 22_000, 7)}, 31_683.15, 153_290.28},
	} {
		got := Follow(c.points, nil).Reaches(depth(2))
		if got.Earliest == nil || got.Latest == nil || math.Abs(got.Earliest.In(unit.Miles)-c.earliest) > 1 || math.Abs(got.Latest.In(unit.Miles)-c.latest) > 1 {
			t.Errorf("%s: %v to %v, want %v to %v mi", c.name, got.Earliest, got.Latest, c.earliest, c.latest)
		}
	}
}

// TestZeroIsCommon: a gauge that is off alike at all visits is off as much after many.
func TestZeroIsCommon(t *testing.T) {
	g := measure.Gauge[unit.Depth]{Resolution: depth(0.01), Accuracy: depth(1)}
	var ps []Point
	for i := range 20 {
		p := Read(g, depth(10-float64(i)*0.3))
		p.Run = miles(1000 * float64(i))
		ps = append(ps, p)
	}
	life := Follow(ps, nil)
	c := life.Reaches(depth(2))
	rate := 0.3 / 1000
	// Half-width 1/32, rectangular, at 95 percent of a normal: 1.13/32 of wear, and 1.4 times as fast.
	want := (8 - 1.96/math.Sqrt(3)) / rate
	if now := 19_000.0; c.Earliest == nil || math.Abs(c.Earliest.In(unit.Miles)-(now+(want-now)/1.4)) > 60 {
		t.Errorf("earliest %v, want about %.0f mi", c.Earliest, now+(want-now)/1.4)
	}
}

// TestUnsteady: wear that the gauge's noise does not explain is said to be none along a line,
// as long as a life is told by it.
func TestUnsteady(t *testing.T) {
	for _, c := range []struct {
		name   string
		depths []float64
		want   bool
	}{
		{"steady", []float64{10, 9, 8, 7, 6}, false},
		{"faster of late, by less than is asked about", []float64{10, 9.4, 8.8, 8.2, 6.9}, true},
		{"faster of late, by as much: no life is told", []float64{10, 9.4, 8.8, 8.2, 4}, false},
	} {
		var ps []Point
		for i, d := range c.depths {
			ps = append(ps, at(5000*float64(i), d, 0.2))
		}
		if got := Follow(ps, nil).Unsteady(); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
