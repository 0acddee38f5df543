package rulebook

import (
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// A car rated above 10,000 lb is none, and a heavy truck rated at or below the weight from
// which the law calls it heavy is none; what is not told contradicts nothing.
func TestWhatContradictsItsClass(t *testing.T) {
	pounds := func(n float64) unit.Mass { return unit.MustMass(n, unit.Pounds) }
	for _, c := range []struct {
		class  layout.Class
		rating float64
		want   bool
	}{
		{layout.PassengerCar, 0, false}, {layout.PassengerCar, 10_000, false}, {layout.PassengerCar, 10_001, true},
		{layout.Heavy, 0, false}, {layout.Heavy, 10_000, true}, {layout.Heavy, 10_001, false}, {layout.LightTruck, 20_000, false}, {layout.Bus, 5_000, false},
	} {
		v := layout.Vehicle{Class: c.class}
		if c.rating > 0 {
			v.GrossRating = pounds(c.rating)
		}
		if got := contradicts(v, pounds(10_000)); got != c.want {
			t.Errorf("class %d rated at %v lb: %v", c.class, c.rating, got)
		}
	}
}
