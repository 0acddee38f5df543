package unit_test

import (
	"testing"

	. "gaugebook.dev/calc/unit"
)

// A pressure is told as somebody can set it, upward: whole psi, five kilopascals, tenths of a
// bar (common practice); what is no pressure stays.
func TestPressuresAsTheyAreSet(t *testing.T) {
	for _, c := range []struct {
		n    float64
		u    Unit
		want float64
	}{
		{33, PSI, 33}, {32.1, PSI, 33}, {32.9, PSI, 33}, {230, Kilopascals, 230}, {231, Kilopascals, 235}, {234.9, Kilopascals, 235}, {2.3, Bar, 2.3}, {2.31, Bar, 2.4}, {2.39, Bar, 2.4}, {7.3, Millimeters, 7.3},
	} {
		if got := (Amount{Number: c.n, Unit: c.u}).ToSet(); got != (Amount{Number: c.want, Unit: c.u}) {
			t.Errorf("%v %v: %v", c.n, c.u, got)
		}
	}
}
