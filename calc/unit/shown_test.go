package unit_test

import (
	"strings"
	"testing"

	. "gaugebook.dev/calc/unit"
)

// An amount is told no finer than it is known: to the power of ten that is no more than its
// standard uncertainty (common practice).
func TestNoFinerThanItIsKnown(t *testing.T) {
	mi := func(n float64) Amount { return Amount{Number: n, Unit: Miles} }
	for _, c := range []struct{ number, std, want float64 }{
		{1_234, 0, 1_234}, {1_234, 1, 1_234}, {1_234, 9, 1_234}, {1_234, 10, 1_230}, {1_236, 99, 1_240}, {1_234, 100, 1_200}, {1_250, 250, 1_300}, {1_234, 1_000, 1_000}, {-1_234, 100, -1_200}, {1_234, -100, 1_200},
	} {
		if got := mi(c.number).AsFine(mi(c.std)); got != mi(c.want) {
			t.Errorf("%v, known to %v: %v, want %v", c.number, c.std, got, c.want)
		}
	}
	if got := mi(1_234).AsFine(Amount{Number: 100, Unit: Kilometers}); got != mi(1_234) {
		t.Errorf("an uncertainty in another unit: %v", got)
	}
	rate := func(n float64) Amount { return Amount{Number: n, Unit: ThirtySecondsPer1000Miles} }
	if got := rate(0.1234).AsFine(rate(0.2)); got != rate(0.1) {
		t.Errorf("%v", got)
	}
}

// A day that no calendar has is refused as it was told, and the years of the trade are taken.
func TestDaysOfTheCalendar(t *testing.T) {
	for _, c := range []struct {
		y, m, d int
		ok      bool
	}{
		{1900, 1, 1, true}, {1899, 12, 31, false}, {9999, 12, 31, true}, {10_000, 1, 1, false}, {2024, 2, 29, true}, {2026, 2, 29, false}, {2026, 13, 1, false}, {2026, 0, 1, false}, {2026, 4, 31, false}, {2026, 4, 0, false},
	} {
		got, err := DateOf(c.y, c.m, c.d)
		if (err == nil) != c.ok || c.ok && got != (Date{c.y, c.m, c.d}) || !c.ok && !got.IsZero() {
			t.Errorf("%d-%d-%d: %v, %v", c.y, c.m, c.d, got, err)
		}
	}
	if _, err := DateOf(2026, 4, 31); err == nil || !strings.Contains(err.Error(), "2026-04-31") {
		t.Errorf("%v", err)
	}
}
