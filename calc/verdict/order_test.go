package verdict

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/unit"
)

// Positions stand in order and each once, and those that came stay as they were.
func TestPositionsOnce(t *testing.T) {
	p := layout.MustParse
	in := []layout.Position{p("2R"), p("1L"), p("2R"), p("1R")}
	if got := fmt.Sprint(once(in)); got != "[1L 1R 2R]" || in[0] != p("2R") || in[2] != p("2R") {
		t.Errorf("%v of %v", got, in)
	}
	if got := once([]layout.Position{p("2R"), p("1L")}); fmt.Sprint(got) != "[1L 2R]" {
		t.Errorf("%v", got)
	}
	if got := once(nil); got != nil {
		t.Errorf("%v", got)
	}
}

// A practice told in thirty-seconds is shown in millimeters to who measures in them; an amount
// in another unit stays.
func TestThirtySecondsShownInMillimeters(t *testing.T) {
	in32 := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch} }
	mm := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Millimeters} }
	f := finding.Finding{Measured: mm(3), Limit: in32(4), Margin: in32(-1), Uncertainty: in32(0.5)}
	inMillimeters(&f)
	near := func(a unit.Amount, n float64) bool { // an inch is 25.4 mm (international yard, 1959)
		return a.Unit == unit.Millimeters && math.Abs(a.Number-n) < 0.001
	}
	if f.Measured != mm(3) || !near(f.Limit, 3.175) || !near(f.Margin, -0.79375) || !near(f.Uncertainty, 0.396875) {
		t.Errorf("measured %v against %v, margin %v, uncertainty %v", f.Measured, f.Limit, f.Margin, f.Uncertainty)
	}
	other := finding.Finding{Measured: in32(3), Limit: mm(1.6)}
	inMillimeters(&other)
	if other.Measured != in32(3) || other.Limit != mm(1.6) {
		t.Errorf("a limit in millimeters: %+v", other)
	}
}

// A line of work names what it answers in the order in which it was found.
func TestALineNamesFindingsInTheirOrder(t *testing.T) {
	var v Verdict
	var ids []string
	for _, c := range []finding.Code{finding.DamageBulge, finding.TreadWornToBars, finding.AgeReplaceAdvised} {
		f := finding.Finding{Code: c, Positions: []layout.Position{layout.MustParse("1L")}}
		v.Findings, ids = append(v.Findings, f), append(ids, f.ID())
	}
	backward := slices.Clone(ids)
	slices.Reverse(backward)
	v.Work = []order.Work{{Findings: backward}, {Findings: []string{ids[1], ids[0]}}}
	v.orderAnswered()
	if !slices.Equal(v.Work[0].Findings, ids) || !slices.Equal(v.Work[1].Findings, ids[:2]) {
		t.Errorf("%v, want %v", v.Work, ids)
	}
}
