package rulebook

import (
	"testing"

	"gaugebook.dev/calc/unit"
)

// Easter Sundays, worked out by another algorithm than the one tested (the ecclesiastical lunar tables', from
// memory): the earliest and the latest that there are, and years in which the Sunday is a
// week before what the moon alone gives, among them.
func TestEaster(t *testing.T) {
	for _, want := range []unit.Date{
		{Year: 1818, Month: 3, Day: 22}, {Year: 1886, Month: 4, Day: 25}, {Year: 1943, Month: 4, Day: 25}, {Year: 1954, Month: 4, Day: 18}, {Year: 1961, Month: 4, Day: 2}, {Year: 1981, Month: 4, Day: 19},
		{Year: 1991, Month: 3, Day: 31}, {Year: 1992, Month: 4, Day: 19}, {Year: 1993, Month: 4, Day: 11}, {Year: 1999, Month: 4, Day: 4}, {Year: 2000, Month: 4, Day: 23},
		{Year: 2008, Month: 3, Day: 23}, {Year: 2019, Month: 4, Day: 21}, {Year: 2024, Month: 3, Day: 31}, {Year: 2025, Month: 4, Day: 20}, {Year: 2026, Month: 4, Day: 5}, {Year: 2027, Month: 3, Day: 28},
		{Year: 2038, Month: 4, Day: 25}, {Year: 2049, Month: 4, Day: 18}, {Year: 2076, Month: 4, Day: 19}, {Year: 2100, Month: 3, Day: 28}, {Year: 2285, Month: 3, Day: 22},
	} {
		if got := easter(want.Year); got != want {
			t.Errorf("%v, want %v", got, want)
		}
	}
}
