package sidewall_test

import (
	"testing"

	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Two digits typed the other way round (common practice).
func TestSwappedRim(t *testing.T) {
	for marking, want := range map[string][2]float64{ // meant, written
		"225/60R61 98H": {16, 61}, "P215/60R61": {16, 61}, "LT245/75R61 120/116S E": {16, 61}, "225/45ZR71": {17, 71}, "155D41": {14, 41},
		"225/60R16 98H": {}, "225/60R88": {}, "": {}, "tire": {}, "11R22.5": {},
	} {
		written, meant, ok := sidewall.SwappedRim(marking)
		if ok != (want[0] > 0) || ok && (meant != unit.MustLength(want[0], unit.Inches) || written != unit.MustLength(want[1], unit.Inches)) {
			t.Errorf("%q: %v for %v, %v", marking, meant.In(unit.Inches), written.In(unit.Inches), ok)
		}
	}
}

// The years of 2015 to 2026 whose 53rd Sunday is theirs: the calendar.
func TestWeek53InItsYear(t *testing.T) {
	for year := 2015; year <= 2026; year++ {
		want := year == 2017 || year == 2023
		if got := (sidewall.Made{Year: year, Week: 53}).InItsYear(); got != want {
			t.Errorf("%d: %v", year, got)
		}
		if !(sidewall.Made{Year: year, Week: 52}).InItsYear() {
			t.Errorf("%d has no week 52", year)
		}
	}
}
