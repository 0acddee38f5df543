package past_test

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/past"
	"gaugebook.dev/calc/unit"
)

// day is a day of March 2026.
func day(n int) unit.Date { return unit.Date{Year: 2026, Month: 3, Day: n} }

// resting is a visit without an odometer that reports one wheel.
func resting(on int, place, tire string) past.Visit {
	return past.Visit{ID: place, Day: day(on), Wheels: []past.Wheel{{At: at(place), Tire: tire}}}
}

// Which earlier visit without an odometer tells of a wheel of the twentieth: the latest by
// its day, if no tire may have come there since.
func TestRested(t *testing.T) {
	with := func(v past.Visit, change func(*past.Visit)) past.Visit { change(&v); return v }
	today := resting(20, "2L", "")
	driven := func(v *past.Visit) { v.Odometer = miles(5000) }
	made := func(week string) func(*past.Visit) { return func(v *past.Visit) { v.Wheels[0].Made = week } }
	toldMoved := func(v *past.Visit) { v.Moved = true }
	did := func(kind finding.Done, on unit.Date, places ...string) past.Work {
		w := noted(kind, 0, places...)
		w.Day = on
		return w
	}
	worked := func(w past.Work) func(*past.Visit) { return func(v *past.Visit) { v.Work = []past.Work{w} } }
	for _, c := range []struct {
		name    string
		today   past.Visit
		earlier []past.Visit
		moves   []past.Moves
		notes   []past.Work
		tire    past.Tire
		want    int // the visit, -1: none
	}{
		{name: "none", today: today, want: -1},
		{name: "the latest", today: today, earlier: []past.Visit{resting(1, "2L", ""), resting(9, "2L", ""), resting(5, "2L", "")}, want: 1},
		{name: "another place", today: today, earlier: []past.Visit{resting(9, "2R", "")}, want: -1},
		{name: "of the same day", today: today, earlier: []past.Visit{resting(20, "2L", "")}, want: -1},
		{name: "of the day before", today: today, earlier: []past.Visit{resting(19, "2L", "")}, want: 0},
		{name: "of a later day", today: today, earlier: []past.Visit{resting(21, "2L", "")}, want: -1},
		{name: "of no day", today: today, earlier: []past.Visit{with(resting(9, "2L", ""), func(v *past.Visit) { v.Day = unit.Date{} })}, want: -1},
		{name: "today of no day", today: with(today, func(v *past.Visit) { v.Day = unit.Date{} }), earlier: []past.Visit{resting(9, "2L", "")}, want: -1},
		{name: "an odometer then alone", today: today, earlier: []past.Visit{with(resting(9, "2L", ""), driven)}, want: 0},
		{name: "an odometer today alone", today: with(today, driven), earlier: []past.Visit{resting(9, "2L", "")}, want: 0},
		{name: "odometers at both: told by distance", today: with(today, driven), earlier: []past.Visit{with(resting(9, "2L", ""), driven)}, want: -1},
		{name: "the spare", today: resting(20, "S", ""), earlier: []past.Visit{resting(9, "S", "")}, want: -1},
		{name: "replaced by a later visit", today: today, earlier: []past.Visit{resting(9, "2L", ""), with(resting(8, "2L", ""), func(v *past.Visit) { v.ID, v.Corrects = "right", "2L" })}, want: 1},
		{name: "the same tire named", today: resting(20, "2L", a), earlier: []past.Visit{resting(9, "2L", a)}, tire: past.Tire{ID: a}, want: 0},
		{name: "another tire named", today: resting(20, "2L", a), earlier: []past.Visit{resting(9, "2L", b)}, tire: past.Tire{ID: a}, want: -1},
		{name: "named today alone", today: resting(20, "2L", a), earlier: []past.Visit{resting(9, "2L", "")}, tire: past.Tire{ID: a}, want: 0},
		{name: "other dates on the sidewalls", today: with(today, made("2324")), earlier: []past.Visit{with(resting(9, "2L", ""), made("1120"))}, want: -1},
		{name: "one date read", today: with(today, made("2324")), earlier: []past.Visit{resting(9, "2L", "")}, want: 0},
		{name: "moves on record", today: today, earlier: []past.Visit{resting(9, "2L", "")}, moves: []past.Moves{moved(100, to("2L"))}, want: -1},
		{name: "told today to have moved", today: with(today, toldMoved), earlier: []past.Visit{resting(9, "2L", "")}, want: -1},
		{name: "told between", today: today, earlier: []past.Visit{resting(9, "2L", ""), with(resting(12, "2R", ""), toldMoved)}, want: -1},
		{name: "told before", today: today, earlier: []past.Visit{resting(9, "2L", ""), with(resting(8, "2R", ""), toldMoved)}, want: 0},
		{name: "rotated since", today: today, earlier: []past.Visit{resting(9, "2L", "")}, notes: []past.Work{did(finding.DoneTiresRotated, day(12))}, want: -1},
		{name: "rotated on that day", today: today, earlier: []past.Visit{resting(9, "2L", "")}, notes: []past.Work{did(finding.DoneTiresRotated, day(9))}, want: -1},
		{name: "rotated before", today: today, earlier: []past.Visit{resting(9, "2L", "")}, notes: []past.Work{did(finding.DoneTiresRotated, day(8))}, want: 0},
		{name: "rotated, nobody knows when", today: today, earlier: []past.Visit{resting(9, "2L", "")}, notes: []past.Work{did(finding.DoneTiresRotated, unit.Date{})}, want: -1},
		{name: "replaced there since", today: today, earlier: []past.Visit{resting(9, "2L", "")}, notes: []past.Work{did(finding.DoneTiresReplaced, day(12), "2L")}, want: -1},
		{name: "replaced elsewhere", today: today, earlier: []past.Visit{resting(9, "2L", "")}, notes: []past.Work{did(finding.DoneTiresReplaced, day(12), "2R")}, want: 0},
		{name: "the season changed", today: today, earlier: []past.Visit{with(resting(9, "2L", ""), worked(did(finding.DoneSeasonChanged, day(12))))}, want: -1},
		{name: "aligned since", today: today, earlier: []past.Visit{resting(9, "2L", "")}, notes: []past.Work{did(finding.DoneAlignmentSet, day(12))}, want: 0},
	} {
		visit, wheel, ok := past.Of(c.today, c.earlier, c.moves, c.notes).Rested(0, c.tire)
		if !ok {
			visit = -1
		}
		if visit != c.want || ok && c.earlier[visit].Wheels[wheel].At != c.today.Wheels[0].At {
			t.Errorf("%s: visit %d, wheel %d, want %d", c.name, visit, wheel, c.want)
		}
	}
}

// A tire that is told as replaced has the identification that was read before it was: one
// of the two is not so.
func TestSameTire(t *testing.T) {
	const mark, other = "DOT 4B9X ABC1 1224", "DOT 7C2Y XYZ2 3025"
	marked := func(v past.Visit, mark string) past.Visit { v.Wheels[0].Marked = mark; return v }
	replaced := func(on unit.Date, odometer float64, places ...string) past.Work {
		w := noted(finding.DoneTiresReplaced, odometer, places...)
		w.Day = on
		return w
	}
	noDay := unit.Date{}
	was := marked(resting(9, "2L", ""), mark)
	driven := func(v past.Visit, n float64) past.Visit { v.Odometer = miles(n); return v }
	for _, c := range []struct {
		name    string
		today   past.Visit
		earlier []past.Visit
		notes   []past.Work
		want    bool
	}{
		{"replaced since, and marked the same", marked(resting(20, "2L", ""), mark), []past.Visit{was}, []past.Work{replaced(day(12), 0, "2L")}, true},
		{"on the day of that reading", marked(resting(20, "2L", ""), mark), []past.Visit{was}, []past.Work{replaced(day(9), 0, "2L")}, true},
		{"before that reading", marked(resting(20, "2L", ""), mark), []past.Visit{was}, []past.Work{replaced(day(8), 0, "2L")}, false},
		{"marked otherwise", marked(resting(20, "2L", ""), other), []past.Visit{was}, []past.Work{replaced(day(12), 0, "2L")}, false},
		{"not marked today", resting(20, "2L", ""), []past.Visit{resting(9, "2L", "")}, []past.Work{replaced(day(12), 0, "2L")}, false},
		{"replaced at another wheel", marked(resting(20, "2L", ""), mark), []past.Visit{was}, []past.Work{replaced(day(12), 0, "2R")}, false},
		{"read at another wheel", marked(resting(20, "2L", ""), mark), []past.Visit{marked(resting(9, "2R", ""), mark)}, []past.Work{replaced(day(12), 0, "2L")}, false},
		{"rotated", marked(resting(20, "2L", ""), mark), []past.Visit{was}, []past.Work{noted(finding.DoneTiresRotated, 0, "2L")}, false},
		{"no day, by the odometer", marked(resting(20, "2L", ""), mark), []past.Visit{driven(was, 100)}, []past.Work{replaced(noDay, 100, "2L")}, true},
		{"no day, at a lower odometer", marked(resting(20, "2L", ""), mark), []past.Visit{driven(was, 100)}, []past.Work{replaced(noDay, 99, "2L")}, false},
		{"neither", marked(resting(20, "2L", ""), mark), []past.Visit{was}, []past.Work{replaced(noDay, 0, "2L")}, false},
		{"a visit of no day", marked(resting(20, "2L", ""), mark), []past.Visit{func() past.Visit { v := was; v.Day = noDay; return v }()}, []past.Work{replaced(day(12), 0, "2L")}, false},
		{"a visit that was replaced", marked(resting(20, "2L", ""), mark), []past.Visit{was, {ID: "right", Corrects: was.ID, Day: day(9)}}, []past.Work{replaced(day(12), 0, "2L")}, false},
		{"one after another that tells nothing", marked(resting(20, "2L", ""), mark), []past.Visit{marked(resting(3, "2L", ""), other), was}, []past.Work{replaced(day(12), 0, "2L")}, true},
	} {
		if got := past.Of(c.today, c.earlier, nil, c.notes).SameTire(0); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

func TestCounting(t *testing.T) {
	a, b, c := resting(1, "1L", ""), resting(2, "1R", ""), resting(3, "2L", "")
	c.Corrects = a.ID
	if got := past.Of(resting(20, "2R", ""), []past.Visit{a, b, c}, nil, nil).Counting(); !slices.Equal(got, []int{1, 2}) {
		t.Errorf("%v", got)
	}
}
