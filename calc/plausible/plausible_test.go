package plausible_test

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/plausible"
	"gaugebook.dev/calc/unit"
)

// What was probably meant (common practice: people type the number that they see, and
// the unit that the last one left in the field).
func TestMeant(t *testing.T) {
	psi := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.PSI} }
	kpa := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Kilopascals} }
	bar := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Bar} }
	mm := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Millimeters} }
	deg := func(n float64, u unit.Unit) unit.Amount { return unit.Amount{Number: n, Unit: u} }
	for _, c := range []struct {
		of   plausible.Quantity
		on   layout.Class
		read unit.Amount
		want []unit.Amount
	}{
		{plausible.TirePressure, layout.PassengerCar, psi(33), nil},
		{plausible.TirePressure, layout.PassengerCar, psi(230), []unit.Amount{kpa(230), psi(23)}},
		{plausible.TirePressure, layout.PassengerCar, kpa(33), []unit.Amount{psi(33)}},
		{plausible.TirePressure, layout.PassengerCar, bar(33), []unit.Amount{psi(33), bar(3.3)}},
		{plausible.TirePressure, layout.PassengerCar, psi(2.3), []unit.Amount{bar(2.3)}},
		{plausible.TirePressure, layout.PassengerCar, kpa(2.3), []unit.Amount{bar(2.3)}},
		{plausible.TirePressure, layout.PassengerCar, psi(6), nil}, // low, and nothing else
		{plausible.TirePressure, layout.Heavy, psi(725), []unit.Amount{kpa(725), psi(72.5)}},
		{plausible.TirePressure, layout.Heavy, bar(105), []unit.Amount{psi(105)}},
		{plausible.TirePressure, layout.Heavy, psi(7.2), []unit.Amount{bar(7.2)}},
		{plausible.TreadDepth, layout.PassengerCar, mm(7), nil},
		{plausible.TreadDepth, layout.PassengerCar, mm(32), []unit.Amount{mm(3.2)}},
		{plausible.TreadDepth, layout.Heavy, mm(32), []unit.Amount{{Number: 32, Unit: unit.ThirtySecondsInch}, mm(3.2)}},
		{plausible.TreadDepth, layout.PassengerCar, deg(17, unit.ThirtySecondsInch), nil}, // asked about, with nothing to offer
		{plausible.AirTemperature, layout.ClassNotTold, deg(68, unit.Celsius), []unit.Amount{deg(68, unit.Fahrenheit)}},
		{plausible.HoleSize, layout.ClassNotTold, deg(4, unit.Inches), []unit.Amount{mm(4)}},
	} {
		if got := plausible.Of(c.of, c.on).Meant(c.of, c.read); !slices.Equal(got, c.want) {
			t.Errorf("%v on %v: %v, want %v", c.read, c.on, got, c.want)
		}
	}
}

// What is meant lies in the range, and what lies there was meant as it stands, on every
// kind of vehicle and by a label of its own.
func TestMeantIsPlausible(t *testing.T) {
	units := map[plausible.Quantity][]unit.Unit{
		plausible.TirePressure: {unit.PSI, unit.Kilopascals, unit.Bar}, plausible.TreadDepth: {unit.ThirtySecondsInch, unit.Millimeters},
		plausible.AirTemperature: {unit.Fahrenheit, unit.Celsius}, plausible.HoleSize: {unit.Millimeters, unit.Inches},
	}
	for q, us := range units {
		for c := layout.ClassNotTold; c <= layout.Motorhome; c++ {
			label := plausible.Around(unit.Amount{Number: 2.3, Unit: unit.Bar}, 0.5, 1.6)
			for _, r := range []plausible.Range{plausible.Of(q, c), label} {
				if !r.Has(unit.Amount{Number: r.Low, Unit: r.Unit}) || !r.Has(unit.Amount{Number: r.High, Unit: r.Unit}) {
					t.Errorf("%v: an end is not in it", r)
				}
				for n := 0.5; n < 1000; n *= 1.1 {
					for _, u := range us {
						read := unit.Amount{Number: n, Unit: u}
						meant := r.Meant(q, read)
						if r.Has(read) && len(meant) > 0 || slices.ContainsFunc(meant, func(a unit.Amount) bool { return !r.Has(a) || a == read }) {
							t.Errorf("%v in %v: %v", read, r, meant)
						}
					}
				}
			}
		}
	}
}
