package trend_test

import (
	"testing"

	. "gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

// A tire is looked at again before it may be out at the fastest rate known: its line's, or
// that since the reading before. One of 6/32 that loses 1/32 each 5,000 miles has 20,000 to 2/32.
func TestHowFarToTheNextLook(t *testing.T) {
	for _, c := range []struct {
		name   string
		points []Point
		limit  float64
		miles  float64 // -1: none
	}{
		{"steady", []Point{at(0, 8, 0.05), at(5_000, 7, 0.05), at(10_000, 6, 0.05)}, 2, 20_000},
		{"a nearer limit", []Point{at(0, 8, 0.05), at(5_000, 7, 0.05), at(10_000, 6, 0.05)}, 4, 10_000},
		{"faster of late", []Point{at(0, 8, 0.05), at(10_000, 7, 0.05), at(12_500, 6, 0.05)}, 2, 10_000},
		{"two readings", []Point{at(0, 8, 0.05), at(10_000, 6, 0.05)}, 2, 20_000},
		{"at the limit", []Point{at(0, 8, 0.05), at(10_000, 6, 0.05)}, 6, -1},
		{"nothing lost", []Point{at(0, 6, 0.05), at(10_000, 6, 0.05)}, 2, -1},
		{"one reading", []Point{at(0, 6, 0.05)}, 2, -1},
		{"a lifetime away", []Point{at(0, 6.0001, 0.05), at(10_000_000, 6, 0.05)}, 2, -1},
	} {
		got, ok := Follow(c.points, nil).LookAgain(unit.MustDepth(c.limit, unit.ThirtySecondsInch))
		if ok != (c.miles >= 0) || ok && (got.In(unit.Miles) < c.miles*0.99 || got.In(unit.Miles) > c.miles*1.01) {
			t.Errorf("%s: %v miles, %v", c.name, got.In(unit.Miles), ok)
		}
	}
}
