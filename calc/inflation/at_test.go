package inflation_test

import (
	"math"
	"testing"

	"gaugebook.dev/calc/finding"
	. "gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// TestColdOn: 33 psi read cold at 90 °F are 29.5 psi at 50 °F by the gas law at
// constant volume (University Physics vol. 2), and the gauge's share of doubt
// shrinks with them.
func TestColdOn(t *testing.T) {
	w := Wheel{
		Found: psi(33), Read: unit.PSI, Gauge: measure.Gauge[unit.Pressure]{Accuracy: psi(1)},
		Conditions: Conditions{Here: fahrenheit(90), DrivenHere: finding.No},
	}
	got, ok := w.ColdOn(Conditions{Here: fahrenheit(50)})
	ratio := (50 + 459.67) / (90 + 459.67)
	if want := (33+14.6959)*ratio - 14.6959; !ok || math.Abs(got.Of.In(unit.PSI)-want) > 1e-4 {
		t.Errorf("%.4f psi, %v; want %.4f", got.Of.In(unit.PSI), ok, want)
	}
	if want := w.Gauge.Std() * ratio; math.Abs(got.Std-want) > 1e-9 {
		t.Errorf("± %v, want %v", got.Std, want)
	}
	if same, ok := w.ColdOn(Conditions{}); ok || same.Of != w.Found {
		t.Errorf("without the temperature of the other day: %v, %v", same, ok)
	}
}
