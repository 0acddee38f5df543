package inflation_test

import (
	"testing"

	"gaugebook.dev/calc/finding"
	. "gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/unit"
)

// What settles whether a tire ran low: a cold reading where heat may hide it, else a look
// inside (common practice).
func TestWhatSettlesWhetherATireRanLow(t *testing.T) {
	for _, c := range []struct {
		name string
		w    Wheel
		want finding.Settle
	}{
		{"steel, 79 of 100 cold by a gauge that cannot tell", truckAt(79, cold), finding.SettleLookInside},
		{"steel, 84 warm", truckAt(84, drove), finding.SettleReadCold},
		{"a car's, 20 of 33 warm", carAt(20, drove), finding.SettleReadCold},
	} {
		f := find(Judge(c.w).Findings, finding.InflationRunLowUndecided)
		if f.ToSettle != c.want {
			t.Errorf("%s: %q, want %q (%v)", c.name, f.ToSettle, c.want, Judge(c.w).Findings)
		}
	}
}

// A flat tire is told by what was seen, and by what was read where it was.
func TestWhatAFlatTireIsToldBy(t *testing.T) {
	for _, c := range []struct {
		name string
		psi  float64 // 0: not read
		flat bool
		seen bool
	}{
		{"seen flat, not read", 0, true, true},
		{"seen flat, and read", 4, true, true},
		{"read alone", 4, false, false},
	} {
		w := carAt(c.psi, cold)
		if c.psi == 0 {
			w.Read = unit.None
		}
		w.Seen.Flat = c.flat
		f := find(Judge(w).Findings, finding.InflationFlat)
		if c.flat && f.Code == "" {
			t.Errorf("%s: %v", c.name, Judge(w).Findings)
		}
		seen := len(f.Evidence) > 0 && f.Evidence[0].Code == finding.FactInflationSeenFlat
		if seen != c.seen || f.Code != "" && (f.Measured.Unit != unit.None) != (c.psi > 0) {
			t.Errorf("%s: %+v, measured %v", c.name, f.Evidence, f.Measured)
		}
	}
}
