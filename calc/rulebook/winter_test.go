package rulebook_test

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// The first and the last day of each season, and the days beside them.
func TestSeasons(t *testing.T) {
	for _, c := range []struct {
		rule   string
		day    unit.Date
		want   finding.Answer
		source string
	}{
		{"eu-at.winter-depth", unit.Date{Year: 2025, Month: 10, Day: 31}, finding.No, "Austria, November 1 to April 15, as reported"},
		{"eu-at.winter-depth", unit.Date{Year: 2025, Month: 11, Day: 1}, finding.Yes, "Austria"},
		{"eu-at.winter-depth", unit.Date{Year: 2026, Month: 4, Day: 15}, finding.Yes, "Austria"},
		{"eu-at.winter-depth", unit.Date{Year: 2026, Month: 4, Day: 16}, finding.No, "Austria"},
		{"winter-cz.depth", unit.Date{Year: 2026, Month: 3, Day: 31}, finding.Yes, "Act 361/2000 § 40a, as reported: November 1 to March 31"},
		{"winter-cz.depth", unit.Date{Year: 2026, Month: 4, Day: 1}, finding.No, "Act 361/2000 § 40a, as reported"},
		{"winter-cz.heavy-depth", unit.Date{Year: 2026, Month: 11, Day: 1}, finding.Yes, "Act 361/2000 § 40a, as reported"},
		{"winter-si.season", unit.Date{Year: 2026, Month: 11, Day: 14}, finding.No, "Slovenia, as reported: November 15 to March 15"},
		{"winter-si.season", unit.Date{Year: 2026, Month: 11, Day: 15}, finding.Yes, "Slovenia, as reported"},
		{"winter-si.season", unit.Date{Year: 2026, Month: 3, Day: 16}, finding.No, "Slovenia, as reported"},
		{"ca-bc.winter-depth", unit.Date{Year: 2026, Month: 9, Day: 30}, finding.No, "British Columbia, as reported: October 1 to March 31"},
		{"ca-bc.winter-depth", unit.Date{Year: 2026, Month: 10, Day: 1}, finding.Yes, "British Columbia, as reported"},
		{"ca-bc.winter-depth", unit.Date{Year: 2027, Month: 3, Day: 31}, finding.Yes, "British Columbia, as reported; other reports: March 30"},
		{"ca-qc.winter-mark", unit.Date{Year: 2026, Month: 11, Day: 30}, finding.No, "Quebec, as reported: December 1 to March 15"},
		{"ca-qc.winter-mark", unit.Date{Year: 2026, Month: 12, Day: 1}, finding.Yes, "Quebec, as reported"},
		{"ca-qc.winter-mark", unit.Date{Year: 2027, Month: 3, Day: 15}, finding.Yes, "Quebec, as reported"},
		{"ca-qc.winter-mark", unit.Date{Year: 2027, Month: 3, Day: 16}, finding.No, "Quebec, as reported"},
		{"ca-qc.winter-mark", unit.Date{}, finding.NotKnown, "no day told"},
		{"winter-sk.depth", unit.Date{}, finding.Yes, "no season of its own"},
	} {
		l := find(t, c.rule)
		if got := l.Winter.Covers(c.day); got != c.want {
			t.Errorf("%s on %v: %d, want %d (%s)", c.rule, c.day, got, c.want, c.source)
		}
	}
	within := rulebook.Winter{From: rulebook.Day{Month: 6, Day: 1}, Until: rulebook.Day{Month: 9, Day: 15}}
	for day, want := range map[unit.Date]finding.Answer{
		{Year: 2026, Month: 5, Day: 31}: finding.No, {Year: 2026, Month: 6, Day: 1}: finding.Yes,
		{Year: 2026, Month: 9, Day: 15}: finding.Yes, {Year: 2026, Month: 12, Day: 1}: finding.No,
	} {
		if got := within.Covers(day); got != want {
			t.Errorf("a season within the year on %v: %d, want %d", day, got, want)
		}
	}
}

// A limit says when it holds if, and only if, it is one on winter tires; each
// trigger is that of its source.
func TestTriggers(t *testing.T) {
	want := map[string]rulebook.Trigger{
		"us-ca.snow-instead-of-chains": rulebook.OnSignedRoads,
		"eu-de.winter-advice":          rulebook.InConditions,
		"eu-at.winter-depth":           rulebook.InSeasonAndConditions,
		"eu-at.heavy-winter-depth":     rulebook.InSeasonAndConditions,
		"eu-at.heavy-winter-cross-ply": rulebook.InSeasonAndConditions,
		"eu-fr.winter-depth":           rulebook.OnSignedRoads,
		"winter-cz.depth":              rulebook.InSeasonAndConditions,
		"winter-cz.heavy-depth":        rulebook.InSeasonAndConditions,
		"winter-sk.depth":              rulebook.InConditions,
		"winter-sk.heavy-depth":        rulebook.InConditions,
		"winter-si.season":             rulebook.InSeason,
		"winter-si.depth":              rulebook.InSeason,
		"winter-ee.depth":              rulebook.InConditions,
		"winter-fi.depth":              rulebook.InConditions,
		"winter-se.depth":              rulebook.InConditions,
		"winter-no.depth":              rulebook.InConditions,
		"winter-lv.depth":              rulebook.InConditions,
		"ca-bc.winter-depth":           rulebook.OnSignedRoads,
		"ca-qc.winter-mark":            rulebook.InSeason,
		"ca-qc.winter-advice":          rulebook.InSeason,
		"nz.winter-depth":              rulebook.WheneverFitted,
	}
	each(func(name string, _ *rulebook.Book, l rulebook.Limit) {
		about := l.Subject == rulebook.WinterTire || l.Subject == rulebook.WinterAdvised
		if about != (l.Winter != nil) {
			t.Errorf("%s: %q, winter %v", name, l.Subject, l.Winter)
		}
		if l.Winter == nil {
			return
		}
		if l.Winter.Trigger != want[name] {
			t.Errorf("%s: trigger %d, want %d", name, l.Winter.Trigger, want[name])
		}
		delete(want, name)
		seasonal := l.Winter.Trigger == rulebook.InSeason || l.Winter.Trigger == rulebook.InSeasonAndConditions
		if seasonal && !l.Winter.HasSeason() {
			t.Errorf("%s: no season", name)
		}
		if (l.Subject == rulebook.WinterTire) != (l.Authority == finding.LawInUse) {
			t.Errorf("%s: %q with authority %d", name, l.Subject, l.Authority)
		}
		if l.Value.IsZero() && !l.Winter.Required {
			t.Errorf("%s: asks for nothing", name)
		}
	})
	for name := range want {
		t.Errorf("%s is not there", name)
	}
}

func find(t *testing.T, rule string) rulebook.Limit {
	t.Helper()
	var found []rulebook.Limit
	each(func(name string, _ *rulebook.Book, l rulebook.Limit) {
		if name == rule {
			found = append(found, l)
		}
	})
	if len(found) == 0 {
		t.Fatalf("no rule %s", rule)
	}
	return found[len(found)-1]
}

// Which wheels a rule speaks of, with what says so.
func TestWheelsOfARule(t *testing.T) {
	axles := func(as ...layout.Axle) []layout.Axle { return as }
	frontDrive := layout.Vehicle{Class: layout.PassengerCar, Axles: axles(layout.Axle{Steered: true, Driven: true}, layout.Axle{})}
	notTold := layout.Vehicle{Class: layout.PassengerCar, Axles: axles(layout.Axle{Steered: true}, layout.Axle{})}
	truck := func(rating unit.Mass, as ...layout.Axle) layout.Vehicle {
		return layout.Vehicle{Class: layout.Heavy, GrossRating: rating, Axles: as}
	}
	van := func(rating unit.Mass) layout.Vehicle {
		return layout.Vehicle{Class: layout.LightTruck, GrossRating: rating, Axles: axles(layout.Axle{Steered: true})}
	}
	twoSteered := truck(kilos(32_000), layout.Axle{Steered: true}, layout.Axle{Steered: true}, layout.Axle{Dual: true, Driven: true}, layout.Axle{Steered: true})
	bus := func(seats int) layout.Vehicle {
		return layout.Vehicle{Class: layout.Bus, GrossRating: kilos(5000), Seats: seats, Axles: axles(layout.Axle{Steered: true}, layout.Axle{Dual: true, Driven: true})}
	}
	single := bus(16)
	single.Axles = axles(layout.Axle{Steered: true}, layout.Axle{Driven: true})
	for _, c := range []struct {
		rule    string
		vehicle layout.Vehicle
		at      string
		want    bool
		source  string
	}{
		{"ca-bc.winter-depth", frontDrive, "1L", true, "the drive axle, as reported"},
		{"ca-bc.winter-depth", frontDrive, "2L", false, "the drive axle, as reported"},
		{"ca-bc.winter-depth", notTold, "2L", true, "what is not told narrows nothing"},
		{"ca-bc.winter-depth", twoSteered, "3LO", false, "passenger vehicles, as reported"},
		{"winter-cz.heavy-depth", twoSteered, "3LO", true, "driven wheels over 3,500 kg, as reported"},
		{"winter-cz.heavy-depth", twoSteered, "1L", false, "driven wheels over 3,500 kg, as reported"},
		{"winter-cz.depth", twoSteered, "1L", false, "up to 3,500 kg, as reported"},

		{"uk-heavy.age", twoSteered, "1L", true, "front steered axles, as reported"},
		{"uk-heavy.age", twoSteered, "2R", true, "front steered axles, as reported"},
		{"uk-heavy.age", twoSteered, "3LO", false, "front steered axles, as reported"},
		{"uk-heavy.age", twoSteered, "4L", false, "a steered axle behind one that is not is none in front"},
		{"uk-heavy.age", twoSteered, "S", false, "on the axles"},
		{"uk-heavy.age", van(kilos(3500)), "1L", false, "over 3,500 kg, as reported"},
		{"uk-heavy.age", van(kilos(3501)), "1L", true, "over 3,500 kg, as reported"},
		{"uk-heavy.age", layout.Vehicle{Class: layout.Trailer, GrossRating: kilos(20_000), Axles: axles(layout.Axle{Steered: true})}, "1L", false, "trailers have no front axle"},
		{"uk-heavy.age", layout.Vehicle{Class: layout.Motorhome, GrossRating: kilos(5000), Axles: axles(layout.Axle{Steered: true})}, "1L", false, "goods vehicles, buses, coaches"},
		{"uk-heavy.age", bus(53), "1L", true, "buses and coaches, as reported"},
		{"uk-heavy.minibus-age", bus(9), "1L", false, "9 to 16 passenger seats, as reported"},
		{"uk-heavy.minibus-age", bus(10), "1L", true, "9 passenger seats and the driver's"},
		{"uk-heavy.minibus-age", bus(17), "1L", true, "16 passenger seats and the driver's"},
		{"uk-heavy.minibus-age", bus(18), "1L", false, "17 passenger seats"},
		{"uk-heavy.minibus-age", bus(0), "1L", true, "what is not told narrows nothing"},
		{"uk-heavy.minibus-age", bus(16), "2LO", false, "single wheels, as reported"},
		{"uk-heavy.minibus-age", single, "2L", true, "all single wheels, as reported"},
		{"uk-heavy.minibus-age", single, "S", false, "wheels in use"},
		{"uk-light.minibus-age", single, "2L", true, "a minibus is one by its seats"},
	} {
		l := find(t, c.rule)
		if got := l.AppliesTo(c.vehicle, layout.MustParse(c.at)); got != c.want {
			t.Errorf("%s at %s: applies %v, want %v (%s)", c.rule, c.at, got, c.want, c.source)
		}
	}
}
