package closing

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// What clears a tire that ran low: the inside and both sidewalls told clean; of steel
// cord the look under air in the device, too (the trade's guideline). Each alone clears
// none.
func TestCleared(t *testing.T) {
	clean := &visit.Inside{Ring: finding.No, Dust: finding.No, Wrinkles: finding.No, Liner: finding.No, BadRepair: finding.No}
	passed := visit.UnderAir{Twenty: finding.Yes, Working: finding.Yes, Popped: finding.No, Named: true}
	both := []visit.Looked{{What: finding.LookedOuterSidewall}, {What: finding.LookedInnerSidewall}}
	psi := visit.Pressure{Of: unit.MustPressure(100, unit.PSI), Read: unit.PSI}
	for _, c := range []struct {
		name          string
		w             visit.Wheel
		fabric, steel bool
	}{
		{"nothing", visit.Wheel{}, false, false},
		{"inside clean", visit.Wheel{Looked: both, Mended: visit.Mended{Inside: clean}}, true, false},
		{"inside clean, sidewalls not seen", visit.Wheel{Mended: visit.Mended{Inside: clean, UnderAir: passed}}, false, false},
		{"under air alone", visit.Wheel{Looked: both, Mended: visit.Mended{UnderAir: passed}}, false, false},
		{"inside clean and under air", visit.Wheel{Looked: both, Mended: visit.Mended{Inside: clean, UnderAir: passed}}, true, true},
		{"popped under air", visit.Wheel{Looked: both, Mended: visit.Mended{Inside: clean, UnderAir: visit.UnderAir{Twenty: finding.Yes, Working: finding.Yes, Popped: finding.Yes, Named: true}}}, true, false},
		{"under air by nobody named", visit.Wheel{Looked: both, Mended: visit.Mended{Inside: clean, UnderAir: visit.UnderAir{Twenty: finding.Yes, Working: finding.Yes, Popped: finding.No}}}, true, false},
		{"ring inside", visit.Wheel{Looked: both, Mended: visit.Mended{Inside: &visit.Inside{Ring: finding.Yes, Dust: finding.No, Wrinkles: finding.No, Liner: finding.No, BadRepair: finding.No}, UnderAir: passed}}, false, false},
	} {
		c.w.Position, c.w.PressureLeft = left, psi
		f := finding.Finding{Code: finding.InflationRunLow, Urgency: finding.BeforeDriving, Positions: []layout.Position{left}}
		in := In{Findings: []finding.Finding{f}, Visit: visit.Visit{
			Vehicle: layout.Vehicle{Axles: []layout.Axle{{ColdNormal: psi.Of, LabelUnit: unit.PSI}}}, Wheels: []visit.Wheel{c.w},
		}}
		for steel, want := range map[bool]bool{false: c.fabric, true: c.steel} {
			if in.Device = nil; steel {
				in.Device = []layout.Position{left}
			}
			if got := AsLeft(in).Closed(f); got != want {
				t.Errorf("%s, steel %v: closed %v", c.name, steel, got)
			}
		}
	}
}
