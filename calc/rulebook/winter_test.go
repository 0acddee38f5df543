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
		{"eu-cz.winter-depth", unit.Date{Year: 2026, Month: 3, Day: 31}, finding.Yes, "Zákon 361/2000 § 40a: November 1 to March 31"},
		{"eu-cz.winter-depth", unit.Date{Year: 2026, Month: 4, Day: 1}, finding.No, "Zákon 361/2000 § 40a"},
		{"eu-cz.heavy-winter-depth", unit.Date{Year: 2026, Month: 11, Day: 1}, finding.Yes, "Zákon 361/2000 § 40a"},
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
		{"eu-sk.winter-depth", unit.Date{}, finding.Yes, "no season of its own"},
		{"eu-sk.heavy-winter-depth", unit.Date{Year: 2026, Month: 11, Day: 14}, finding.No, "Zákon 8/2009 § 38: November 15 to March 31"},
		{"eu-sk.heavy-winter-depth", unit.Date{Year: 2026, Month: 11, Day: 15}, finding.Yes, "Zákon 8/2009 § 38"},
		{"eu-sk.heavy-winter-depth", unit.Date{Year: 2026, Month: 3, Day: 31}, finding.Yes, "Zákon 8/2009 § 38"},
		{"eu-fi.winter-depth", unit.Date{Year: 2026, Month: 10, Day: 31}, finding.No, "Tieliikennelaki 105 §: November to March"},
		{"eu-fi.winter-depth", unit.Date{Year: 2026, Month: 3, Day: 31}, finding.Yes, "Tieliikennelaki 105 §"},
		{"eu-se.winter", unit.Date{Year: 2026, Month: 11, Day: 30}, finding.No, "Trafikförordning 4 kap. 18 a §: December 1 to March 31"},
		{"eu-se.winter", unit.Date{Year: 2026, Month: 12, Day: 1}, finding.Yes, "Trafikförordning 4 kap. 18 a §"},
		{"eu-se.heavy-winter", unit.Date{Year: 2026, Month: 11, Day: 9}, finding.No, "Trafikförordning 4 kap. 18 b §: November 10 to April 10"},
		{"eu-se.heavy-winter", unit.Date{Year: 2026, Month: 4, Day: 10}, finding.Yes, "Trafikförordning 4 kap. 18 b §"},
		{"eu-se.heavy-winter", unit.Date{Year: 2026, Month: 4, Day: 11}, finding.No, "Trafikförordning 4 kap. 18 b §"},
		{"eu-fr.winter", unit.Date{Year: 2026, Month: 10, Day: 31}, finding.No, "Code de la route D314-8: November 1 to March 31"},
		{"eu-fr.winter", unit.Date{Year: 2026, Month: 11, Day: 1}, finding.Yes, "Code de la route D314-8"},
		{"no.winter-depth", unit.Date{Year: 2026, Month: 10, Day: 31}, finding.No, "Norway: November 1 to the first Sunday after Easter Monday, official guidance"},
		{"no.winter-depth", unit.Date{Year: 2026, Month: 11, Day: 1}, finding.Yes, "Norway"},
		{"no.winter-depth", unit.Date{Year: 2026, Month: 4, Day: 12}, finding.Yes, "Norway: Easter is on April 5 in 2026"},
		{"no.winter-depth", unit.Date{Year: 2026, Month: 4, Day: 13}, finding.No, "Norway: Easter is on April 5 in 2026"},
		{"no.winter-depth", unit.Date{Year: 1991, Month: 4, Day: 7}, finding.Yes, "Easter on March 31, 1991 (Astronomical Algorithms, chapter 8, textbook)"},
		{"no.winter-depth", unit.Date{Year: 1991, Month: 4, Day: 8}, finding.No, "Easter on March 31, 1991 (the same)"},
		{"no.winter-depth", unit.Date{Year: 1992, Month: 4, Day: 26}, finding.Yes, "Easter on April 19, 1992 (the same)"},
		{"no.winter-depth", unit.Date{Year: 1992, Month: 4, Day: 27}, finding.No, "Easter on April 19, 1992 (the same)"},
		{"no.winter-depth", unit.Date{Year: 2000, Month: 4, Day: 30}, finding.Yes, "Easter on April 23, 2000 (the same)"},
		{"no.winter-depth", unit.Date{Year: 2000, Month: 5, Day: 1}, finding.No, "Easter on April 23, 2000 (the same)"},
		{"no-north.winter-depth", unit.Date{Year: 2026, Month: 10, Day: 16}, finding.Yes, "Norway, northern counties: October 16 to April 30, official guidance"},
		{"no-north.winter-depth", unit.Date{Year: 2026, Month: 5, Day: 1}, finding.No, "Norway, northern counties"},
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

// A limit says when it holds if, and only if, it is one on winter tires, a least depth of
// the winter, one on studs or on tires slower than the vehicle; what it says is whole.
func TestTriggers(t *testing.T) {
	each(func(name string, _ *rulebook.Book, l rulebook.Limit) {
		about := l.Subject == rulebook.WinterTire || l.Subject == rulebook.WinterAdvised
		if about && l.Winter == nil || l.Winter != nil && !about && l.Subject != rulebook.TreadDepth && l.Subject != rulebook.Studs && l.Subject != rulebook.SlowerTire {
			t.Errorf("%s: %q, winter %v", name, l.Subject, l.Winter)
		}
		if l.Winter == nil {
			return
		}
		if (l.Winter.Trigger == 0) != (l.Subject == rulebook.SlowerTire) {
			t.Errorf("%s: trigger %d", name, l.Winter.Trigger)
		}
		switch l.Winter.Trigger {
		case rulebook.InSeason, rulebook.InSeasonAndConditions, rulebook.InSeasonOrConditions:
			if !l.Winter.HasSeason() {
				t.Errorf("%s: no season", name)
			}
		}
		if (l.Subject == rulebook.WinterAdvised) == (l.Authority == finding.LawInUse) {
			t.Errorf("%s: %q with authority %d", name, l.Subject, l.Authority)
		}
		if l.Value.IsZero() && !l.Winter.Required && l.Subject != rulebook.Studs && !l.Shown {
			t.Errorf("%s: asks for nothing", name)
		}
	})
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
		{"eu-cz.heavy-winter-depth", twoSteered, "3LO", true, "driven wheels over 3,500 kg"},
		{"eu-cz.heavy-winter-depth", twoSteered, "1L", false, "driven wheels over 3,500 kg"},
		{"eu-cz.winter-depth", twoSteered, "1L", false, "up to 3,500 kg"},

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

// A season of one day is that day alone.
func TestSeasonOfOneDay(t *testing.T) {
	one := rulebook.Winter{Trigger: rulebook.InSeason, From: rulebook.Day{Month: 12, Day: 24}, Until: rulebook.Day{Month: 12, Day: 24}}
	for day, want := range map[int]finding.Answer{23: finding.No, 24: finding.Yes, 25: finding.No} {
		if got := one.Covers(unit.Date{Year: 2026, Month: 12, Day: day}); got != want {
			t.Errorf("on the %dth: %d", day, got)
		}
	}
}
