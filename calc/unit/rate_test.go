package unit_test

import (
	"math"
	"testing"

	. "gaugebook.dev/calc/unit"
)

// TestRates: exact by the inch of 25.4 mm, the mile of 1609.344 m and the pound-force
// per square inch of NIST SP 811; a month is 30 days.
func TestRates(t *testing.T) {
	wear := MustWearRate(1, ThirtySecondsPer1000Miles)
	loss := MustLossRate(1, PSIPerMonth)
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"mm per 1,000 km", wear.In(MillimetersPer1000Kilometer), 0.79375 / 1.609344},
		{"kPa a month", loss.In(KilopascalsPerMonth), 6.894757293168},
		{"bar a month", loss.In(BarPerMonth), 0.06894757293168},
		{"kPa a day", float64(loss), 6.894757293168 / 30},
	} {
		if math.Abs(c.got-c.want) > 1e-11*c.want {
			t.Errorf("%s: %.15g, want %.15g", c.name, c.got, c.want)
		}
	}
	if _, err := WearRateOf(1, PSI); err == nil {
		t.Error("wear in psi")
	}
	if _, err := LossRateOf(math.NaN(), PSIPerMonth); err == nil {
		t.Error("a loss that is no number")
	}
}
