package measure_test

import (
	"math"
	"math/rand/v2"
	"testing"

	. "gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

const step = 7_937_500.0 // 1/32 in in units of 0.1 nm

// The gauges of the trade (common practice): graduated in thirty-seconds with a
// hand's repeatability of 0.40/32 in; electronic to 0.1 mm with 0.15 mm.
var (
	graduated  = Gauge[unit.Depth]{Resolution: unit.MustDepth(1, unit.ThirtySecondsInch), Repeatability: unit.MustDepth(0.4, unit.ThirtySecondsInch)}
	electronic = Gauge[unit.Depth]{Resolution: unit.MustDepth(0.1, unit.Millimeters), Repeatability: unit.MustDepth(0.15, unit.Millimeters)}
	bare       = Gauge[unit.Depth]{Resolution: unit.MustDepth(1, unit.ThirtySecondsInch)}
)

// TestUncertainty: JCGM 100:2008, 4.3.7 (rectangular distributions, q/√12 and
// a/√3) and 5.1.2 (in squares), k = 2.
func TestUncertainty(t *testing.T) {
	a, b := graduated.Read(unit.Depth(step)), graduated.Read(unit.Depth(2*step))
	ea, eb := electronic.Read(0), electronic.Read(0)
	ra, rb := bare.Read(0), bare.Read(0)
	psi := Gauge[unit.Pressure]{Resolution: unit.MustPressure(1, unit.PSI), Accuracy: unit.MustPressure(1, unit.PSI)}
	fine := Gauge[unit.Pressure]{Resolution: unit.MustPressure(0.1, unit.PSI), Accuracy: unit.MustPressure(1, unit.PSI)}
	for _, c := range []struct {
		name      string
		got, want float64
	}{
		{"1/32 gauge, one reading, in 1/32", Coverage * a.Std / step, 0.99},
		{"1/32 gauge, difference of two, in 1/32", Coverage * a.Minus(b).Std / step, 1.40},
		{"0.1 mm electronic, one reading, mm", Coverage * ea.Std / 1e7, 0.31},
		{"0.1 mm electronic, difference, mm", Coverage * ea.Minus(eb).Std / 1e7, 0.43},
		{"resolution alone, difference, in 1/32", Coverage * ra.Minus(rb).Std / step, 0.82},
		{"mean of four readings, in 1/32", Coverage * Mean(a, b, a, b).Std / step, 0.49},
		{"pressure, 1 psi steps, ±1 psi", Coverage * psi.Std() / float64(psi.Resolution), 1.29},
		{"a finer display lowers only its own part", Coverage * fine.Std() / float64(psi.Resolution), 1.16},
	} {
		if math.Abs(c.got-c.want) > 0.005 {
			t.Errorf("%s: U = %.4f, want %.2f", c.name, c.got, c.want)
		}
	}
	if m := Mean(a, b); m.Of != unit.Depth(1.5*step) {
		t.Errorf("mean of 1/32 and 2/32 is %v", m.Of.In(unit.ThirtySecondsInch))
	}
}

// TestOneStepIsNoise: a single step between two readings of a 1/32 gauge is not
// called, two steps are (common practice, from the numbers above).
func TestOneStepIsNoise(t *testing.T) {
	for steps, want := range map[float64]Outcome{1: CannotTell, 2: Above} {
		d := graduated.Read(unit.Depth((3 + steps) * step)).Minus(graduated.Read(unit.Depth(3 * step)))
		if got := AtMost(d, 0).Outcome; got != want {
			t.Errorf("%v steps apart: %v, want %v", steps, got, want)
		}
	}
	// Resolution alone would call the single step.
	d := bare.Read(unit.Depth(4 * step)).Minus(bare.Read(unit.Depth(3 * step)))
	if got := AtMost(d, 0).Outcome; got != Above {
		t.Errorf("resolution alone: %v", got)
	}
}

// TestAgainstALimit: exactly at a limit, with an exact number, the limit is
// kept, for a minimum and for a maximum ("at least 4/32 in", 49 CFR 393.75(b);
// "at most" 1/4 in). Within U of it nobody can tell.
func TestAgainstALimit(t *testing.T) {
	limit := unit.MustDepth(4, unit.ThirtySecondsInch)
	for _, c := range []struct {
		name          string
		v             Value[unit.Depth]
		least, atMost Outcome
	}{
		{"exactly at it, exact", Exact(limit), Above, Below},
		{"0.1 nm under it, exact", Exact(limit - 1), Below, Below},
		{"0.1 nm over it, exact", Exact(limit + 1), Above, Above},
		{"exactly at it, with a gauge", graduated.Read(limit), CannotTell, CannotTell},
		{"one step over, with a gauge", graduated.Read(limit + unit.Depth(step)), Above, Above},
		{"one step under, with a gauge", graduated.Read(limit - unit.Depth(step)), Below, Below},
		{"half a step over, with a gauge", graduated.Read(limit + unit.Depth(step/2)), CannotTell, CannotTell},
		{"exactly U over", Value[unit.Depth]{limit + 2000, 1000}, CannotTell, CannotTell},
		{"just more than U over", Value[unit.Depth]{limit + 2001, 1000}, Above, Above},
	} {
		least, most := AtLeast(c.v, limit), AtMost(c.v, limit)
		if least.Outcome != c.least || most.Outcome != c.atMost {
			t.Errorf("%s: at least: %v, at most: %v; want %v, %v", c.name, least.Outcome, most.Outcome, c.least, c.atMost)
		}
	}
}

// TestUnitChange: a pressure limit met exactly in psi is met exactly in kPa.
func TestUnitChange(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 5000 {
		label := 20 + float64(r.IntN(1000))/10
		limit := 0.8 * unit.MustPressure(label, unit.PSI)
		kpa := unit.MustPressure(label, unit.PSI).In(unit.Kilopascals) * 0.8
		v := Exact(unit.MustPressure(kpa, unit.Kilopascals))
		if a, b := AtLeast(v, limit).Outcome, AtMost(v, limit).Outcome; a != Above || b != Below {
			t.Fatalf("80%% of %v psi in kPa: at least %v, at most %v", label, a, b)
		}
	}
}

func TestOutcomeNames(t *testing.T) {
	for o, want := range map[Outcome]string{NotCompared: "not compared", Below: "below", Above: "above", CannotTell: "cannot tell"} {
		if o.String() != want {
			t.Errorf("%d is %q, want %q", o, o, want)
		}
	}
}
