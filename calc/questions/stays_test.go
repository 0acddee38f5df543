package questions

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// What the tires lost at each place is taken from every two visits between which none was
// moved, the newest among them, and from no others (our own decision).
func TestStays(t *testing.T) {
	miles := func(n float64) unit.Distance { return unit.MustDistance(n, unit.Miles) }
	read := func(n float64) []tread.Reading {
		return []tread.Reading{{Depth: unit.MustDepth(n, unit.ThirtySecondsInch)}}
	}
	at := layout.MustParse("1L")
	before := func(ago, depth float64) visit.DepthsBefore {
		return visit.DepthsBefore{Ago: miles(ago), Gauge: tread.GaugeOf(tread.Told{}), Wheels: []visit.DepthsAt{{Position: at, Tire: "a", Readings: read(depth)}}}
	}
	in := func(change func(*RotationIn)) RotationIn {
		i := RotationIn{
			Vehicle: layout.Vehicle{Axles: []layout.Axle{{}}}, Gauge: tread.GaugeOf(tread.Told{}),
			Wheels:   []visit.Wheel{{Position: at, Depths: read(6)}},
			Rotating: visit.Rotating{Tires: map[layout.Position]visit.Turning{at: {ID: "a"}}, Before: []visit.DepthsBefore{before(5000, 7), before(11000, 9)}},
		}
		change(&i)
		return i
	}
	for _, c := range []struct {
		name   string
		change func(*RotationIn)
		want   []float64 // miles run at the place
	}{
		{"none was moved", func(*RotationIn) {}, []float64{5000, 6000}},
		{"in doubt since the last visit", func(i *RotationIn) { i.InDoubt = true }, []float64{6000}},
		{"rotated since the last visit", func(i *RotationIn) { i.Rotating.Changed = []*unit.Distance{new(miles(2000))} }, []float64{6000}},
		{"rotated between the visits before", func(i *RotationIn) { i.Rotating.Changed = []*unit.Distance{new(miles(8000))} }, []float64{5000}},
		{"another tire at the last visit", func(i *RotationIn) { i.Rotating.Before[0].Wheels[0].Tire = "b" }, nil},
		{"another tire at the first visit", func(i *RotationIn) { i.Rotating.Before[1].Wheels[0].Tire = "b" }, []float64{5000}},
	} {
		var got []float64
		i := in(c.change)
		i.Vehicle.Axles = nil // that the other places are not told is nothing to ask here
		for _, s := range i.stays() {
			got = append(got, s.Run.In(unit.Miles))
		}
		if !slices.EqualFunc(got, c.want, func(a, b float64) bool { return a-b < 0.01 && b-a < 0.01 }) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
