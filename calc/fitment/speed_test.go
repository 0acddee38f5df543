package fitment_test

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Tires slower than the vehicle, at, below and above what each law asks for. Speeds of
// symbols: L 120, M 130, N 140, P 150, Q 160, R 170, S 180, T 190, V 240 km/h
// (testdata/published/speed_symbol.csv).
func TestSlowerThanTheVehicle(t *testing.T) {
	const yes, no, open = finding.Yes, finding.No, finding.NotAsked
	january, july := unit.Date{Year: 2026, Month: 1, Day: 12}, unit.Date{Year: 2026, Month: 7, Day: 10}
	for _, c := range []struct {
		law    string
		symbol string
		peaks  finding.Answer
		letter finding.Answer // M+S
		top    float64        // km/h, 0 not told
		shown  finding.Answer
		on     unit.Date
		want   string // the finding, "kept", the question, or nothing
		least  float64
		source string
	}{
		{"eu-es", "P", yes, yes, 210, open, july, "fitment.speed-by-law", 160, "Reglamento General de Vehículos, anexo VII.5"},
		{"eu-es", "Q", yes, yes, 210, open, july, "kept", 0, "anexo VII.5: 160 km/h where the vehicle is faster"},
		{"eu-es", "P", no, yes, 150, open, july, "kept", 0, "anexo VII.5: else the vehicle's own"},
		{"eu-es", "N", no, yes, 150, open, july, "fitment.speed-by-law", 150, "anexo VII.5"},
		{"eu-es", "P", yes, no, 210, open, july, "", 0, "marked M+S"},
		{"eu-de", "Q", yes, open, 210, yes, july, "kept", 0, "StVZO § 36 Abs. 5"},
		{"eu-de", "Q", yes, open, 210, no, july, "fitment.speed-not-shown", 0, "StVZO § 36 Abs. 5"},
		{"eu-de", "Q", yes, open, 210, open, july, "ask.speed-shown", 0, "StVZO § 36 Abs. 5"},
		{"eu-de", "Q", yes, open, 160, no, july, "", 0, "no slower than the vehicle"},
		{"eu-de", "Q", yes, open, 0, no, july, "ask.maximum-speed", 0, "below the label's symbol"},
		{"eu-de", "T", yes, open, 0, no, july, "", 0, "the label's symbol is T"},
		{"eu-de", "Q", no, yes, 210, no, january, "", 0, "M+S alone made a winter tire to 2024-09-30"},
		{"eu-it", "Q", yes, yes, 210, open, january, "kept", 0, "15 October to 15 May, as reported"},
		{"eu-it", "P", yes, yes, 210, open, january, "fitment.speed-by-law", 160, "the symbol Q, as reported"},
		{"eu-it", "Q", yes, yes, 210, open, unit.Date{Year: 2026, Month: 5, Day: 15}, "kept", 0, "its last day"},
		{"eu-it", "Q", yes, yes, 210, open, unit.Date{Year: 2026, Month: 5, Day: 16}, "fitment.speed-by-law", 210, "the day after"},
		{"eu-be", "Q", yes, yes, 210, no, january, "fitment.speed-not-shown", 0, "1 October to 30 April with a label, as reported"},
		{"eu-be", "Q", yes, yes, 210, yes, july, "fitment.speed-by-law", 210, "out of season"},
		{"eu-pl", "P", no, yes, 210, yes, july, "fitment.speed-by-law", 160, "§ 11 ust. 5a, as reported"},
		{"eu-pl", "Q", no, yes, 210, no, july, "fitment.speed-not-shown", 0, "§ 11 ust. 5a, as reported"},
		{"au-wa", "M", no, no, 210, open, july, "fitment.speed-by-law", 140, "Vehicle Standards Rules 2002, r. 46: 140 of any car"},
		{"au-wa", "R", no, no, 210, open, july, "fitment.speed-by-law", 180, "r. 46: 180 of a car, but an off-road one"},
		{"au-wa", "M", no, no, 130, open, july, "kept", 0, "r. 46: the vehicle's top speed where that is less"},
		{"au-wa", "S", no, no, 210, open, july, "kept", 0, "r. 46"},
		{"au-wa", "S", no, no, 0, open, july, "kept", 0, "r. 46: fast enough however fast the vehicle is"},
		{"au-wa", "R", no, no, 170, open, july, "kept", 0, "r. 46: as fast as the vehicle"},
		{"au-wa", "M", no, no, 0, open, july, "ask.maximum-speed", 0, "r. 46"},
	} {
		marking := sidewall.Parse("195/65R15 91" + c.symbol)
		w := fitment.Wheel{At: layout.MustParse("1L"), Tire: fitment.Tire{Marking: marking, ThreePeaks: c.peaks, MudAndSnow: c.letter, Studded: no}}
		v := layout.Vehicle{Class: layout.PassengerCar, GrossRating: unit.MustMass(1900, unit.Kilograms), Fastest: unit.MustSpeed(c.top, unit.KilometersPerHour),
			Axles: []layout.Axle{{Steered: true, Size: "195/65R15 91T"}, {Size: "195/65R15 91T"}}}
		r := fitment.Judge(fitment.Vehicle{Layout: v, Books: []rulebook.Applied{{Book: rulebook.Must(c.law)}}, AsOf: c.on, Shown: c.shown, Wheels: []fitment.Wheel{w}})
		got, least := speedSaid(r)
		if got != c.want || least != c.least {
			t.Errorf("%s, %s on a vehicle of %v km/h on %v: %q of %v, want %q of %v (%s)", c.law, c.symbol, c.top, c.on, got, least, c.want, c.least, c.source)
		}
	}
}

// speedSaid is what was said of how fast a tire is by a law, and what it asks for.
func speedSaid(r fitment.Result) (said string, least float64) {
	for _, q := range r.Asked {
		if q.Code == finding.AskMaximumSpeed || q.Code == finding.AskSpeedShown {
			said = string(q.Code)
		}
	}
	for _, m := range r.Met {
		if m.Code == finding.CheckedFitmentSpeedByLaw || m.Code == finding.CheckedFitmentSpeedShown {
			said = "kept"
		}
	}
	for _, f := range r.Findings {
		if f.Code == finding.FitmentSpeedByLaw || f.Code == finding.FitmentSpeedNotShown {
			return string(f.Code), f.Limit.Number
		}
	}
	return said, 0
}

// How fast the vehicle is, where nobody told, is asked for by a tire that is slower than a
// law asks of every car: 140 km/h, and 180 of one that stays on the road.
func TestWhichTireAsksHowFastTheVehicleIs(t *testing.T) {
	for symbol, want := range map[string]bool{"M": true, "N": true, "R": true, "S": false, "T": false, "V": false} {
		w := fitment.Wheel{At: layout.MustParse("1L"), Tire: fitment.Tire{Marking: sidewall.Parse("195/65R15 91" + symbol)}}
		v := layout.Vehicle{Class: layout.PassengerCar, GrossRating: unit.MustMass(1900, unit.Kilograms),
			Axles: []layout.Axle{{Steered: true, Size: "195/65R15 91T"}, {Size: "195/65R15 91T"}}}
		r := fitment.Judge(fitment.Vehicle{Layout: v, Books: []rulebook.Applied{{Book: rulebook.Must("au-wa")}}, AsOf: unit.Date{Year: 2026, Month: 7, Day: 10}, Wheels: []fitment.Wheel{w}})
		if got := slices.ContainsFunc(r.Asked, func(q fitment.Asked) bool { return q.Code == finding.AskMaximumSpeed }); got != want {
			t.Errorf("%s: asked %v, want %v", symbol, got, want)
		}
	}
}

// A law that only may bind plans a tire that is too slow by itself, and is not told beside one
// that says so for certain.
func TestTooSlowByALawThatMayBind(t *testing.T) {
	w := fitment.Wheel{At: layout.MustParse("1L"), Tire: fitment.Tire{Marking: sidewall.Parse("195/65R15 91M")}}
	v := layout.Vehicle{Class: layout.PassengerCar, Fastest: unit.MustSpeed(210, unit.KilometersPerHour), Axles: []layout.Axle{{Steered: true, Size: "195/65R15 91T"}, {Size: "195/65R15 91T"}}}
	sure, may := rulebook.Applied{Book: rulebook.Must("au-wa")}, rulebook.Applied{Book: rulebook.Must("au-wa"), Candidate: true}
	for _, c := range []struct {
		name  string
		books []rulebook.Applied
		want  []finding.Urgency
	}{
		{"it binds", []rulebook.Applied{sure}, []finding.Urgency{finding.ThisVisit}},
		{"it may", []rulebook.Applied{may}, []finding.Urgency{finding.Plan}},
	} {
		r := fitment.Judge(fitment.Vehicle{Layout: v, Books: c.books, AsOf: unit.Date{Year: 2026, Month: 7, Day: 10}, Wheels: []fitment.Wheel{w}})
		var got []finding.Urgency
		for _, f := range r.Findings {
			if f.Code == finding.FitmentSpeedByLaw {
				got = append(got, f.Urgency)
			}
		}
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
