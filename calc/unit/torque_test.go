package unit_test

import (
	"math"
	"testing"

	. "gaugebook.dev/calc/unit"
)

// Factor of NIST Special Publication 811, Appendix B.8: pound-force foot to
// newton meter, 1.355 818 E+00.
func TestTorque(t *testing.T) {
	for _, c := range []struct {
		n    float64
		from Unit
		want float64
		to   Unit
	}{
		{1, PoundFeet, 1.355818, NewtonMeters},
		{100, PoundFeet, 135.5818, NewtonMeters},
		{1.355818, NewtonMeters, 1, PoundFeet},
		{120, NewtonMeters, 120, NewtonMeters},
	} {
		if got := MustTorque(c.n, c.from).In(c.to); math.Abs(got-c.want) > 1e-6*c.want {
			t.Errorf("%v %v is %.8f %v, want %v", c.n, c.from, got, c.to, c.want)
		}
	}
	for _, c := range []struct {
		n float64
		u Unit
	}{{0, PoundFeet}, {-1, NewtonMeters}, {math.NaN(), PoundFeet}, {100, PSI}} {
		if _, err := TorqueOf(c.n, c.u); err == nil {
			t.Errorf("%v %v is taken for a torque", c.n, c.u)
		}
	}
}
