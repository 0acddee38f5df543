package inflation_test

import (
	"testing"

	"gaugebook.dev/calc/finding"
	. "gaugebook.dev/calc/inflation"
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
