package verdict

import (
	"fmt"
	"testing"

	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

// A gain in days: miles over the miles of a day, the ends at the pace that makes them
// wider. Worked by hand at 50 miles a day, 20 in the slowest month and 100 in the fastest.
func TestGainInDays(t *testing.T) {
	day := func(n float64) unit.Distance { return unit.MustDistance(n, unit.Miles) }
	usual := &trend.Pace{Slow: day(20), Mean: day(50), Fast: day(100)}
	for _, row := range []struct {
		pace              *trend.Pace
		likely, low, high float64 // miles
		want              string
	}{
		{usual, 1000, 500, 3000, "20 5 150"},
		{usual, 1000, -600, 3000, "20 -30 150"},
		{usual, -1000, -3000, -600, "-20 -150 -6"},
		{usual, 0, 0, 0, "0 0 0"},
		{usual, 1000, 550, 3010, "20 5 151"}, // outward, to whole days
		{&trend.Pace{Mean: day(50), Fast: day(100)}, 1000, -600, 3000, "20 - -"},
		{usual, 1000, 500, 20 * 365 * 31, "20 5 -"}, // beyond the life of a tire
		{nil, 1000, 500, 3000, "- - -"},
	} {
		at, low, high := day(row.likely), day(row.low), day(row.high)
		a, l, h := Rotation{Pace: row.pace}.Days(rotation.Gain{At: &at, Low: &low, High: &high})
		shown := func(n *int) string {
			if n == nil {
				return "-"
			}
			return fmt.Sprint(*n)
		}
		if got := shown(a) + " " + shown(l) + " " + shown(h); got != row.want {
			t.Errorf("%v, %v to %v: %s, want %s", row.likely, row.low, row.high, got, row.want)
		}
	}
	if a, l, h := (Rotation{Pace: usual}).Days(rotation.Gain{}); a != nil || l != nil || h != nil {
		t.Errorf("of nothing: %v, %v, %v", a, l, h)
	}
}
