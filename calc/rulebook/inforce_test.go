package rulebook_test

import (
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// A version of a law is chosen from its first day in force on, and the one before it for
// every earlier day; of a day that is not told the newest.
func TestVersionByTheDay(t *testing.T) {
	newest, _ := rulebook.Get("eu-de")
	former, _ := rulebook.Get("eu-de@3")
	newest.InForce, former.InForce = unit.Date{Year: 2027, Month: 3, Day: 1}, unit.Date{Year: 2025, Month: 1, Day: 1}
	defer func() { newest.InForce, former.InForce = unit.Date{}, unit.Date{} }()
	for day, want := range map[unit.Date]string{
		{Year: 2024, Month: 12, Day: 31}: "eu-de@2", {Year: 2025, Month: 1, Day: 1}: "eu-de@3", {Year: 2027, Month: 2, Day: 28}: "eu-de@3",
		{Year: 2027, Month: 3, Day: 1}: "eu-de@4", {Year: 2030, Month: 1, Day: 1}: "eu-de@4", {}: "eu-de@4", {Year: 1999, Month: 1, Day: 1}: "eu-de@2",
	} {
		books, _ := rulebook.Choose(layout.Vehicle{Class: layout.PassengerCar}, rulebook.Use{Places: places("DE"), On: day}, nil)
		if len(books) != 1 || books[0].Name() != want {
			t.Errorf("on %v: %s, want %s", day, books[0].Name(), want)
		}
		if asked, _ := rulebook.Choose(layout.Vehicle{}, rulebook.Use{On: day}, []string{"eu-de"}); asked[0].Book != newest {
			t.Errorf("on %v: asked for by its id it is %s", day, asked[0].Name())
		}
	}
}

// A first day in force is after those of all versions before it, and of a version that
// there is.
func TestFirstDaysInForce(t *testing.T) {
	for _, b := range rulebook.Versions() {
		for _, o := range rulebook.Versions() {
			if o.ID == b.ID && o.Version < b.Version && !b.InForce.IsZero() && !o.InForce.IsZero() && o.InForce.DaysUntil(b.InForce) <= 0 {
				t.Errorf("%s is in force from %v, %s from %v", b.Name(), b.InForce, o.Name(), o.InForce)
			}
		}
		if !b.InForce.IsZero() && b.Version == 1 {
			t.Errorf("%s: before its first day there is no version of it", b.Name())
		}
	}
}
