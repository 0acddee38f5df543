package rotation

import (
	"testing"

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
