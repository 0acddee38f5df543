package fitment

import (
	"testing"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// A difference is over a practice's limit where it is more, and where the gauge proves that there
// is one at all: as much as the limit is kept, and one step of a gauge is noise (common practice).
func TestOverALimit(t *testing.T) {
	in32 := func(n float64) unit.Depth { return unit.MustDepth(n, unit.ThirtySecondsInch) }
	for _, c := range []struct {
		by, std, limit float64
		want           bool
	}{
		{2, 0, 2, false}, {2.01, 0, 2, true}, {1.99, 0, 2, false}, {3, 1, 2, true}, {3, 1.6, 2, false}, {0, 0, 0, false},
	} {
		v := measure.Value[unit.Depth]{Of: in32(c.by), Std: float64(in32(c.std))}
		if _, got := over(v, in32(c.limit)); got != c.want {
			t.Errorf("%v/32, known to %v, over %v: %v", c.by, c.std, c.limit, got)
		}
	}
}
