package sidewall_test

import (
	"testing"

	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Two digits typed the other way round (common practice).
func TestSwappedRim(t *testing.T) {
	for marking, want := range map[string]float64{
		"225/60R61 98H": 16, "P215/60R61": 16, "LT245/75R61 120/116S E": 16, "225/45ZR71": 17, "155D41": 14,
		"225/60R16 98H": 0, "225/60R88": 0, "": 0, "tire": 0, "11R22.5": 0,
	} {
		written, meant, ok := sidewall.SwappedRim(marking)
		if ok != (want > 0) || ok && (meant != unit.MustLength(want, unit.Inches) || written == meant) {
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
