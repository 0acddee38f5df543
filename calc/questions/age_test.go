package questions

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
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

// Which vehicles the law on age binds (reg. 27 as amended in 2020, as reported: buses and
// coaches, goods vehicles over 3,500 kg, minibuses by their seats), and what it says of a
// tire of an age. Seats that nobody told are asked for, and the law may bind.
func TestAgeByTheLaw(t *testing.T) {
	old, young, turning := sidewall.Made{Year: 2014, Week: 10}, sidewall.Made{Year: 2020, Week: 10}, sidewall.Made{Year: 2016, Week: 18}
	today := unit.Date{Year: 2026, Month: 5, Day: 4}
	bus := func(seats int) layout.Vehicle {
		return layout.Vehicle{Class: layout.Bus, Seats: seats, Axles: []layout.Axle{{Steered: true}, {}}}
	}
	truck := layout.Vehicle{Class: layout.Heavy, GrossRating: unit.MustMass(7500, unit.Kilograms), Axles: []layout.Axle{{Steered: true}, {Dual: true}}}
	for _, c := range []struct {
		name    string
		vehicle layout.Vehicle
		book    string
		may     bool
		at      string
		made    sidewall.Made
		day     unit.Date
		want    measure.Outcome // not compared: nothing is found
		urgency finding.Urgency
		met     bool
		asked   []finding.Question
	}{
		{"a truck's front tire of 12 years", truck, "uk-heavy", false, "1L", old, today, measure.Above, finding.BeforeDriving, false, nil},
		{"where the law may bind", truck, "uk-heavy", true, "1L", old, today, measure.Above, finding.ThisVisit, false, nil},
		{"of 6 years", truck, "uk-heavy", false, "1L", young, today, measure.NotCompared, 0, true, nil},
		{"in the week of its birthday", truck, "uk-heavy", false, "1L", turning, today, measure.CannotTell, finding.BeforeDriving, false, nil},
		{"its week not read", truck, "uk-heavy", false, "1L", sidewall.Made{}, today, measure.NotCompared, 0, false, []finding.Question{finding.AskWeekOfMaking}},
		{"on its rear axle", truck, "uk-heavy", false, "2LO", old, today, measure.NotCompared, 0, false, nil},
		{"the day not told", truck, "uk-heavy", false, "1L", old, unit.Date{}, measure.NotCompared, 0, false, nil},
		{"a minibus of 12 seats", bus(12), "uk-light", false, "2L", old, today, measure.Above, finding.BeforeDriving, false, nil},
		{"its seats not told", bus(0), "uk-light", false, "2L", old, today, measure.Above, finding.ThisVisit, false, []finding.Question{finding.AskSeats}},
		{"neither its seats nor its week", bus(0), "uk-light", false, "2L", sidewall.Made{}, today, measure.NotCompared, 0, false, []finding.Question{finding.AskSeats, finding.AskWeekOfMaking}},
		{"a bus of 9 seats and less", bus(9), "uk-light", false, "2L", old, today, measure.NotCompared, 0, false, nil},
	} {
		w := visit.Wheel{Position: layout.MustParse(c.at)}
		w.Tire.Made = c.made
		laws := Laws{Vehicle: c.vehicle, Books: []rulebook.Applied{{Book: rulebook.Must(c.book), Candidate: c.may}}}
		out := Age(AgeIn{Laws: laws, AsOf: c.day, Wheels: []visit.Wheel{w}})
		var asked []finding.Question
		for _, a := range out.Asked {
			asked = append(asked, a.Code)
		}
		if !slices.Equal(asked, c.asked) || (len(out.Checked) > 0) != c.met || (len(out.Findings) > 0) != (c.want != measure.NotCompared) {
			t.Errorf("%s: asked %v, met %v, found %v", c.name, asked, out.Checked, out.Findings)
			continue
		}
		if c.want == measure.NotCompared {
			continue
		}
		f := out.Findings[0]
		if len(out.Findings) != 1 || f.Code != finding.AgeLegalLimit || f.Outcome != c.want || f.Urgency != c.urgency || f.Candidate != (c.urgency == finding.ThisVisit) || f.Positions[0] != w.Position {
			t.Errorf("%s: %+v", c.name, out.Findings)
		}
		if settles := f.ToSettle == finding.SettleDayOfMaking; settles != (c.want == measure.CannotTell) {
			t.Errorf("%s: settled by %q", c.name, f.ToSettle)
		}
	}
}
