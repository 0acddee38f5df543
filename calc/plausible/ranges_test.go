package plausible_test

import (
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/plausible"
	"gaugebook.dev/calc/unit"
)

// What tires of each kind of vehicle hold, what tread they have, how warm a bay is and how
// large the hole of a nail (common practice, from memory): the ends are among it, and the next
// number is not.
func TestWhatAQuantityMayBe(t *testing.T) {
	for _, c := range []struct {
		of        plausible.Quantity
		on        layout.Class
		low, high float64
		u         unit.Unit
	}{
		{plausible.TirePressure, layout.ClassNotTold, 15, 135, unit.PSI},
		{plausible.TirePressure, layout.PassengerCar, 20, 65, unit.PSI},
		{plausible.TirePressure, layout.LightTruck, 20, 110, unit.PSI},
		{plausible.TirePressure, layout.Heavy, 60, 135, unit.PSI},
		{plausible.TirePressure, layout.Bus, 60, 135, unit.PSI},
		{plausible.TirePressure, layout.Trailer, 15, 135, unit.PSI},
		{plausible.TirePressure, layout.Motorhome, 35, 130, unit.PSI},
		{plausible.TreadDepth, layout.PassengerCar, 0, 14, unit.ThirtySecondsInch},
		{plausible.TreadDepth, layout.LightTruck, 0, 21, unit.ThirtySecondsInch},
		{plausible.TreadDepth, layout.Heavy, 0, 32, unit.ThirtySecondsInch},
		{plausible.TreadDepth, layout.ClassNotTold, 0, 32, unit.ThirtySecondsInch},
		{plausible.AirTemperature, layout.ClassNotTold, -45, 50, unit.Celsius},
		{plausible.HoleSize, layout.PassengerCar, 0, 25, unit.Millimeters},
	} {
		r := plausible.Of(c.of, c.on)
		for n, want := range map[float64]bool{c.low - 1: false, c.low: true, c.low + 1: true, c.high - 1: true, c.high: true, c.high + 1: false} {
			if got := r.Has(unit.Amount{Number: n, Unit: c.u}); got != want {
				t.Errorf("quantity %d of class %d: %v %v: %v", c.of, c.on, n, c.u, got)
			}
		}
	}
}

// The ends of a range are in it in whatever unit they are told, and a number of another
// quantity never is.
func TestTheEndsOfARange(t *testing.T) {
	label := unit.Amount{Number: 33, Unit: unit.PSI}
	r := plausible.Around(label, 0.5, 1.6)
	for _, share := range []float64{0.5, 1.6} {
		there, ok := unit.Amount{Number: 33 * share, Unit: unit.PSI}.To(unit.Kilopascals)
		if !ok || !r.Has(there) {
			t.Errorf("%v of the label: %v", share, there)
		}
	}
	if r.Has(unit.Amount{Number: 33 * 0.499, Unit: unit.PSI}) || r.Has(unit.Amount{Number: 33 * 1.601, Unit: unit.PSI}) || r.Has(unit.Amount{Number: 33, Unit: unit.Millimeters}) {
		t.Error("beyond the ends, or no pressure at all")
	}
}
