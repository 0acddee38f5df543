package trend_test

import (
	"testing"

	"gaugebook.dev/calc/measure"
	. "gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

// How far a reading lies from where the older ones put it, on either side.
func TestHowFarAReadingLiesOff(t *testing.T) {
	for _, c := range []struct{ newest, expected, want float64 }{{3, 7, 4}, {7, 3, 4}, {5, 5, 0}} {
		turn := Turn{Newest: at(0, c.newest, 0.1), Expected: measure.Value[unit.Depth]{Of: unit.MustDepth(c.expected, unit.ThirtySecondsInch)}}
		if got := turn.Off(); got != unit.MustDepth(c.want, unit.ThirtySecondsInch) {
			t.Errorf("%v, expected %v: %v", c.newest, c.expected, got.In(unit.ThirtySecondsInch))
		}
	}
}
