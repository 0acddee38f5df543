package verdict

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// A tire that reads as left what its label asks for, by a gauge that cannot tell, is not
// set again but read by one that can; others are set, and one that is proved right is
// neither (common practice).
func TestReadAgainByABetterGauge(t *testing.T) {
	left := func(psi, step float64) visit.Pressure {
		return visit.Pressure{Of: unit.MustPressure(psi, unit.PSI), Read: unit.PSI, Gauge: measure.Gauge[unit.Pressure]{Resolution: unit.MustPressure(step, unit.PSI), Accuracy: unit.MustPressure(step, unit.PSI)}}
	}
	for _, c := range []struct {
		name  string
		left  visit.Pressure
		again bool
		set   bool
	}{
		{"not read as left", visit.Pressure{}, false, true},
		{"left as it should be", left(35, 0.1), false, false},
		{"left so, as far as a coarse gauge can tell", left(33, 5), true, false},
		{"left short", left(27, 0.1), false, true},
	} {
		v := whole(24, 24, 33, 33)
		v.Wheels[0].PressureLeft = c.left
		r := Judge(v)
		at := place("1L")
		sets := func(w order.Work) bool { return w.Code == finding.WorkAirSet && slices.Contains(w.Positions, at) }
		reads := func(w order.Work) bool {
			return w.Code == finding.WorkMeasureToSettle && w.Settle == finding.SettleReadBetterGauge && slices.Contains(w.Positions, at)
		}
		if slices.ContainsFunc(r.Work, reads) != c.again || slices.ContainsFunc(r.Work, sets) != c.set {
			t.Errorf("%s: %+v", c.name, r.Work)
		}
		if !slices.ContainsFunc(r.Work, func(w order.Work) bool {
			return w.Code == finding.WorkAirSet && slices.Contains(w.Positions, place("1R"))
		}) {
			t.Errorf("%s: the other is not set", c.name)
		}
		for _, w := range r.Work {
			if w.Settle == finding.SettleReadBetterGauge && !slices.Equal(w.Positions, placesOf("1L")) {
				t.Errorf("%s: read again at %v", c.name, w.Positions)
			}
		}
	}
}
