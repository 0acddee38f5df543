package sidewall

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/unit"
)

// Three digits end with the week that begins on 2 July 2000 (64 FR 36807; the day is from
// memory), and one digit of a year is that of every decade since 1971 (49 CFR 574.5).
func TestReadingsOfThreeDigits(t *testing.T) {
	week26, week27 := (Made{Year: 2000, Week: 26}).begins(), (Made{Year: 2000, Week: 27}).begins()
	if week26 != (unit.Date{Year: 2000, Month: 6, Day: 25}) || week27 != FourDigits { // the calendar: 2 January 2000 was a Sunday
		t.Fatalf("week 26 of 2000 begins %v, week 27 %v", week26, week27)
	}
	for _, c := range []struct {
		week, year int
		nineties   bool
		want       []int
	}{
		{26, 0, false, []int{2000, 1990, 1980}},
		{27, 0, false, []int{1990, 1980}},
		{52, 0, false, []int{1990, 1980}},
		{26, 0, true, []int{1990}},
		{1, 1, false, []int{1991, 1981, 1971}},
		{10, 9, false, []int{1999, 1989, 1979}},
		{10, 9, true, []int{1999}},
	} {
		var years []int
		for _, m := range readings(c.week, c.year, true, c.nineties) {
			years = append(years, m.Year)
		}
		if !slices.Equal(years, c.want) {
			t.Errorf("week %d of a year that ends in %d, of the nineties %v: %v, want %v", c.week, c.year, c.nineties, years, c.want)
		}
	}
	if got := readings(27, 0, false, false); !slices.Equal(got, []Made{{Year: 2000, Week: 27}}) {
		t.Errorf("2700: %v", got)
	}
}
