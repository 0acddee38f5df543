package rotation

import (
	"math"
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Maps are compared by whole tens of meters: less is no difference.
func TestFarIsToTenMeters(t *testing.T) {
	meters := func(n float64) *unit.Distance {
		return new(unit.MustDistance(1, unit.Kilometers) * unit.Distance(n/1000))
	}
	for n, want := range map[float64]float64{0: 0, 4: 0, -4: 0, 6: 1, 14: 1, 16: 2, 10_000: 1000} {
		if got := far(meters(n)); got != want {
			t.Errorf("%v m is %v, want %v", n, got, want)
		}
	}
	if far(nil) != 0 {
		t.Error("what is not known is no distance")
	}
}

// A rate is as unsure as its stays differ, where they differ by more than their
// uncertainties explain: by the root of the mean square of their residuals (a line through
// the origin by weighted least squares, from memory).
func TestRatesAreAsUnsureAsTheyDiffer(t *testing.T) {
	p := layout.MustParse("1L")
	stay := func(run, lost, std float64) Stay {
		return Stay{At: p, Run: unit.Distance(run), Lost: measure.Value[unit.Depth]{Of: unit.Depth(lost), Std: std}}
	}
	for _, c := range []struct {
		name     string
		stays    []Stay
		rate     float64
		std      float64
		notThere bool
	}{
		{"one", []Stay{stay(100, 200, 10)}, 2, 0.1, false},
		{"two that agree", []Stay{stay(100, 200, 10), stay(100, 200, 10)}, 2, 0.1 / math.Sqrt2, false},
		{"two that differ", []Stay{stay(100, 170, 10), stay(100, 230, 10)}, 2, 0.1 / math.Sqrt2 * math.Sqrt(18), false},
		{"three that differ", []Stay{stay(100, 160, 10), stay(100, 200, 10), stay(100, 240, 10)}, 2, 0.1 / math.Sqrt(3) * math.Sqrt(16), false},
		{"weighted by what is known", []Stay{stay(100, 200, 10), stay(200, 100, 1e9)}, 2, 0.1, false},
		{"not known how well", []Stay{stay(100, 200, 0)}, 0, 0, true},
		{"no distance", []Stay{stay(0, 200, 10)}, 0, 0, true},
	} {
		got, ok := Rates(c.stays)[p]
		if ok == c.notThere || math.Abs(float64(got.Of)-c.rate) > 1e-6 || math.Abs(got.Std-c.std) > 1e-6 {
			t.Errorf("%s: %v ± %v, want %v ± %v", c.name, got.Of, got.Std, c.rate, c.std)
		}
	}
}
