package past

import (
	"fmt"
	"testing"

	"gaugebook.dev/calc/unit"
)

// Visits stand in the order of their days, their odometers, and their names; between two that
// nothing tells apart the order in which they are told decides. A day that one of them lacks
// orders none of them.
func TestTheOrderOfVisits(t *testing.T) {
	miles := func(n float64) *unit.Distance { d := unit.MustDistance(n, unit.Miles); return &d }
	day := func(n int) unit.Date { return unit.Date{Year: 2026, Month: 1, Day: n} }
	for _, c := range []struct {
		name   string
		visits []Visit
		want   string
	}{
		{"by day", []Visit{{Day: day(2), Odometer: miles(10)}, {Day: day(1), Odometer: miles(20)}}, "[1 0]"},
		{"by odometer", []Visit{{Odometer: miles(20)}, {Odometer: miles(10)}}, "[1 0]"},
		{"one without a day", []Visit{{Day: day(2), Odometer: miles(10)}, {Odometer: miles(20)}, {Day: day(1), Odometer: miles(30)}}, "[0 1 2]"},
		{"by name", []Visit{{ID: "b"}, {ID: "a"}}, "[1 0]"},
		{"alike", []Visit{{ID: "a"}, {ID: "a"}, {ID: "a"}}, "[0 1 2]"},
	} {
		if got := fmt.Sprint(inOrder(c.visits)); got != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}
