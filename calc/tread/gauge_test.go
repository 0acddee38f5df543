package tread_test

import (
	"testing"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// What is told of a gauge counts, and the defaults of the trade for the rest (common
// practice, from memory).
func TestGaugeOf(t *testing.T) {
	thirtySeconds := func(n float64) unit.Depth { return unit.MustDepth(n, unit.ThirtySecondsInch) }
	mm := func(n float64) unit.Depth { return unit.MustDepth(n, unit.Millimeters) }
	for _, c := range []struct {
		name string
		told tread.Told
		want measure.Gauge[unit.Depth]
	}{
		{"nothing", tread.Told{}, measure.Gauge[unit.Depth]{Resolution: thirtySeconds(1), Repeatability: thirtySeconds(0.4)}},
		{"in thirty-seconds", tread.Told{Step: thirtySeconds(1), In: unit.ThirtySecondsInch}, measure.Gauge[unit.Depth]{Resolution: thirtySeconds(1), Repeatability: thirtySeconds(0.4)}},
		{"in half millimeters", tread.Told{Step: mm(0.5), In: unit.Millimeters}, measure.Gauge[unit.Depth]{Resolution: mm(0.5), Repeatability: mm(0.32)}},
		{"a finer display lowers the hand's share only where it is electronic", tread.Told{Step: mm(0.2), In: unit.Millimeters}, measure.Gauge[unit.Depth]{Resolution: mm(0.2), Repeatability: mm(0.32)}},
		{"shows a tenth", tread.Told{Step: mm(0.1), In: unit.Millimeters}, measure.Gauge[unit.Depth]{Resolution: mm(0.1), Repeatability: mm(0.15)}},
		{"electronic in thirty-seconds", tread.Told{Step: thirtySeconds(0.5), In: unit.ThirtySecondsInch, Electronic: true},
			measure.Gauge[unit.Depth]{Resolution: thirtySeconds(0.5), Repeatability: mm(0.15)}},
		{"repeatability and accuracy told, and zero is told", tread.Told{Step: mm(0.1), In: unit.Millimeters, Repeatability: new(mm(0)), Accuracy: mm(0.05)},
			measure.Gauge[unit.Depth]{Resolution: mm(0.1), Accuracy: mm(0.05)}},
	} {
		if got := tread.GaugeOf(c.told); got != c.want {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.want)
		}
	}
}
