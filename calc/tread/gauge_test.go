package tread_test

import (
	"math"
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// twice are summaries of a tire, read at three places at three parts, of which so many
// were read twice with a difference between the readings, in thirty-seconds.
func twice(t *testing.T, differ ...float64) (all []tread.Summary) {
	t.Helper()
	for len(differ) > 0 {
		n := min(9, len(differ))
		var rs []tread.Reading
		for i, d := range differ[:n] {
			for _, depth := range []float64{6, 6 + d} {
				rs = append(rs, tread.Reading{Across: layout.Inboard + layout.Across(i%3), Station: 1 + i/3, Depth: unit.MustDepth(depth, unit.ThirtySecondsInch)})
			}
		}
		s, ok := tread.Summarize(tread.Wheel{Position: layout.MustParse("1L"), Readings: rs})
		if !ok {
			t.Fatal("not read")
		}
		all, differ = append(all, s), differ[n:]
	}
	return all
}

// How steady a hand is by what it read twice: the variance of one reading from pairs is half
// of the mean square of their differences, less what the step of the gauge makes of itself,
// a twelfth of its square (statistics of duplicates and of rounding, from memory). Nine
// pairs tell it, and it is never steadier than told.
func TestAHandAsItShows(t *testing.T) {
	in32 := func(n float64) unit.Depth { return unit.MustDepth(n, unit.ThirtySecondsInch) }
	alike := func(d float64, n int) (all []float64) {
		for range n {
			all = append(all, d)
		}
		return all
	}
	for _, c := range []struct {
		name    string
		step    float64
		steady  float64
		differs []float64
		want    float64
	}{
		{"eight pairs tell nothing", 0.1, 0.4, alike(3, 8), 0.4},
		{"nine that differ by 3/32", 0.1, 0.4, alike(3, 9), math.Sqrt(4.5 - 0.01/12)},
		{"of two tires", 0.1, 0.4, alike(3, 18), math.Sqrt(4.5 - 0.01/12)},
		{"some differ", 0.1, 0.4, []float64{2, 0, 0, 2, 0, 2, 0, 0, 0}, math.Sqrt(3*2.0/9 - 0.01/12)},
		{"by a coarse step", 2, 0.4, alike(2, 9), math.Sqrt(2 - 4.0/12)},
		{"what the step explains", 2, 0.4, []float64{0, 0, 0, 0, 0, 0, 0, 0, 1}, 0.4},
		{"steadier than told", 0.1, 1, []float64{0.1, 0, 0.1, 0, 0, 0.1, 0, 0, 0}, 1},
		{"all alike", 0.1, 0.4, alike(0, 9), 0.4},
	} {
		g := measure.Gauge[unit.Depth]{Resolution: in32(c.step), Repeatability: in32(c.steady)}
		got := tread.AsShown(g, twice(t, c.differs...)...)
		if n := got.Repeatability.In(unit.ThirtySecondsInch); math.Abs(n-c.want) > 1e-3 || got.Resolution != g.Resolution {
			t.Errorf("%s: %.4f, want %.4f", c.name, n, c.want)
		}
	}
}
