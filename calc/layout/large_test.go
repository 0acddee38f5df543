package layout

import (
	"testing"

	"gaugebook.dev/calc/unit"
)

// Of a vehicle whose class is told it is told; of another, any one sign lets it be large
// (our own decision).
func TestMayBeLarge(t *testing.T) {
	axles := func(n int) []Axle { return make([]Axle, n) }
	for _, c := range []struct {
		name string
		v    Vehicle
		want bool
	}{
		{"nothing told", Vehicle{Axles: axles(2)}, false},
		{"contradicted", Vehicle{Axles: axles(2), Doubted: true}, true},
		{"three axles", Vehicle{Axles: axles(3)}, true},
		{"rated 10,000 lb", Vehicle{Axles: axles(2), GrossRating: unit.MustMass(10_000, unit.Pounds)}, false},
		{"rated 10,001 lb", Vehicle{Axles: axles(2), GrossRating: unit.MustMass(10_001, unit.Pounds)}, true},
		{"a pickup of three axles", Vehicle{Class: LightTruck, Axles: axles(3), Doubted: true, GrossRating: unit.MustMass(12_000, unit.Pounds)}, false},
	} {
		if got := c.v.MayBeLarge(); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
