package inflation_test

import (
	"math"
	"testing"

	"pgregory.net/rapid"

	. "gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

func ratingOf(t rapid.TB, marking string, printed sidewall.Printed) sidewall.Rating {
	t.Helper()
	r, ok := sidewall.RatingOf(sidewall.Parse(marking), printed)
	if !ok {
		t.Fatalf("%s: its rating is not known", marking)
	}
	return r
}

// TestSupports: 6,175 lb at 110 psi (trade press on pressure in truck tires). What
// twice the uncertainty reaches is what the lowest such pressure carries; no
// uncertainty of the pressure is left where that carries the rated load too.
func TestSupports(t *testing.T) {
	truck := ratingOf(t, "295/75R22.5 144", sidewall.Printed{Maximum: psi(110), Single: unit.MustMass(6175, unit.Pounds)})
	v, ok := Supports(truck, measure.Value[unit.Pressure]{Of: psi(110), Std: float64(psi(1))}, false)
	if low := v.Of.In(unit.Pounds) - 2*unit.Mass(v.Std).In(unit.Pounds); !ok || math.Abs(low-6175*math.Pow(108./110, 0.7)) > 1e-6 {
		t.Errorf("at 110 psi, known to 1 psi: %v lb, at least %v", v.Of.In(unit.Pounds), low)
	}
	v, ok = Supports(truck, measure.Exact(psi(105)), false)
	if want := 0.01 * float64(v.Of) / math.Sqrt(3); !ok || math.Abs(v.Std-want) > 1e-9 {
		t.Errorf("at exactly 105 psi the law is left open by %v kg, want %v", v.Std, want)
	}
	if v, ok = Supports(truck, measure.Value[unit.Pressure]{Of: psi(115), Std: float64(psi(1))}, false); !ok || v.Std != 0 || v.Of != truck.Single {
		t.Errorf("at 115 psi: %v", v)
	}
	trailer := ratingOf(t, "ST205/75R15 107M D", sidewall.Printed{Maximum: psi(65)})
	v, ok = Supports(trailer, measure.Value[unit.Pressure]{Of: psi(65), Std: float64(psi(1))}, false)
	if low := float64(v.Of) - 2*v.Std; !ok || math.Abs(low-975*63./65) > 1e-9 {
		t.Errorf("a trailer tire at 65 psi, known to 1 psi: at least %v kg", low)
	}
	if v, ok = Supports(trailer, measure.Exact(psi(64)), false); ok {
		t.Errorf("a trailer tire at 64 psi supports %v: no table is known", v)
	}
}

// TestSupportsNeverTooMuch: what is said to be supported for sure is never more
// than the lowest pressure that fits the reading carries, and never more than
// rated; a reading that is less sure makes nothing more sure.
func TestSupportsNeverTooMuch(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		r := ratingOf(t, rapid.SampledFrom([]string{"P225/60R16 97T", "225/60R16 98H XL", "LT245/75R16 120/116S E"}).Draw(t, "marking"), sidewall.Printed{})
		read := psi(rapid.Float64Range(36, 90).Draw(t, "psi"))
		std := rapid.Float64Range(0, 20).Draw(t, "std")
		v, ok := Supports(r, measure.Value[unit.Pressure]{Of: read, Std: std}, false)
		if !ok {
			t.Fatalf("%v kPa: no figure", read)
		}
		sure := float64(v.Of) - 2*v.Std
		worst := float64(r.Law.Share(read-unit.Pressure(2*std))) * float64(r.Single)
		if sure > worst+1e-9 || v.Of > r.Single {
			t.Fatalf("%v ± %v kPa: at least %v kg, the lowest carries %v", read, 2*std, sure, worst)
		}
		less, _ := Supports(r, measure.Value[unit.Pressure]{Of: read, Std: std + 1}, false)
		if float64(less.Of)-2*less.Std > sure+1e-9 {
			t.Fatalf("less sure of the pressure and surer of the load: %v, %v", less, v)
		}
	})
}
