package questions

import (
	"testing"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// "More than 10 years" (reg. 27 as amended in 2020, as reported): exactly ten
// years is not more, and the date tells the week alone. Week 18 of 2016 is
// Sunday, May 1 to Saturday, May 7 (49 CFR 574.5(b)(3): week 1 is the first full
// week).
func TestOverTenYears(t *testing.T) {
	week := sidewall.Made{Year: 2016, Week: 18}
	if first, last := week.Days(); first.String() != "2016-05-01" || last.String() != "2016-05-07" {
		t.Fatalf("week 18 of 2016 is %v to %v", first, last)
	}
	for _, c := range []struct {
		month, day int
		want       measure.Outcome
	}{
		{4, 30, measure.Below},
		{5, 1, measure.Below}, // ten years to the day at the most
		{5, 2, measure.CannotTell},
		{5, 7, measure.CannotTell},
		{5, 8, measure.Above},
		{12, 31, measure.Above},
	} {
		if got := overYears(week, unit.Date{Year: 2026, Month: c.month, Day: c.day}, 10); got != c.want {
			t.Errorf("2026-%02d-%02d: %v, want %v", c.month, c.day, got, c.want)
		}
	}
	if got := overYears(sidewall.Made{Year: 2018, Week: 1}, unit.Date{Year: 2027, Month: 12, Day: 31}, 10); got != measure.Below {
		t.Errorf("in its tenth year: %v", got)
	}
}
