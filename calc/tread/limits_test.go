package tread_test

import (
	"encoding/csv"
	"os"
	"strconv"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

var (
	unitNamed  = map[string]unit.Unit{"/32 in": unit.ThirtySecondsInch, "mm": unit.Millimeters, "lb": unit.Pounds, "kg": unit.Kilograms}
	classNamed = map[string]layout.Class{"car": layout.PassengerCar, "light truck": layout.LightTruck, "heavy": layout.Heavy, "trailer": layout.Trailer}
	gaugeNamed = map[string]measure.Gauge[unit.Depth]{"exact": exact, "1/32 in": thirtySecond, "0.5 mm": halfMM}
	knownNamed = map[string]finding.Known{"read": finding.Read, "reported": finding.Reported, "from memory": finding.FromMemory}
)

// published are the rows of a file of published values, without its heading.
func published(t *testing.T, name string) [][]string {
	t.Helper()
	file, err := os.Open("../../testdata/published/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	rows, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

func number(t *testing.T, s string) float64 {
	t.Helper()
	n, err := strconv.ParseFloat(s, 64)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestPublishedLimits walks every depth limit at it, under it, and through a
// gauge on each side; the source of each row stands in the file.
func TestPublishedLimits(t *testing.T) {
	for _, row := range published(t, "depth_limits.csv") {
		id, rule, known := row[0], row[1], row[11]
		t.Run(id, func(t *testing.T) {
			gross := unit.MustMass(number(t, row[3]), unitNamed[row[4]])
			v := layout.Vehicle{Class: classNamed[row[2]], GrossRating: gross, Axles: make([]layout.Axle, 2)}
			book, limit := bookOf(t, rule)
			r := judge(t, under(v, book.ID), at(row[5], gaugeNamed[row[8]], all(number(t, row[6]), unitNamed[row[7]])))
			want := row[9]
			if want == "not crossed" {
				want = measure.NotCompared.String()
			}
			if got := outcome(t, r, rule); got.String() != want {
				t.Errorf("%s at %s %s with a gauge of %s: %v, want %s", rule, row[6], row[7], row[8], got, want)
			}
			if k, ok := knownNamed[known]; ok && k != limit.Known {
				t.Errorf("%s is marked known %d, the row says %s", rule, limit.Known, known)
			}
		})
	}
}

func bookOf(t *testing.T, rule string) (*rulebook.Book, rulebook.Limit) {
	t.Helper()
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			if b.ID+"."+l.ID == rule {
				return b, l
			}
		}
	}
	t.Fatalf("no rule %s", rule)
	return nil, rulebook.Limit{}
}

// A finding shows its numbers in the rule's own unit, whatever was read.
func TestShownInTheRulesUnit(t *testing.T) {
	for _, c := range []struct {
		rule                    string
		vehicle                 layout.Vehicle
		read                    float64
		in                      unit.Unit
		measured, limit, margin unit.Amount
		source                  string
	}{
		{"uk-light.depth", car, 2, unit.ThirtySecondsInch, unit.Amount{Number: 1.588, Unit: unit.Millimeters}.OfTread(),
			unit.Amount{Number: 1.6, Unit: unit.Millimeters}.OfTread(), unit.Amount{Number: -0.013, Unit: unit.Millimeters}.OfTread(),
			"reg. 27(4)(f); 2/32 in = 1.5875 mm, NIST SP 811"},
		{"us-commercial.front-depth", truck, 3, unit.Millimeters, unit.Amount{Number: 3.78, Unit: unit.ThirtySecondsInch},
			unit.Amount{Number: 4, Unit: unit.ThirtySecondsInch}, unit.Amount{Number: -0.22, Unit: unit.ThirtySecondsInch},
			"49 CFR 393.75(b); 3 mm = 3.7795/32 in, NIST SP 811"},
	} {
		book, _ := bookOf(t, c.rule)
		f, ok := ofRule(judge(t, under(c.vehicle, book.ID), at("1L", exact, all(c.read, c.in))), c.rule)
		if f = f.Rounded(); !ok || f.Measured != c.measured || f.Limit != c.limit || f.Margin != c.margin {
			t.Errorf("%s: %v against %v, margin %v; want %v against %v, margin %v (%s)",
				c.rule, f.Measured, f.Limit, f.Margin, c.measured, c.limit, c.margin, c.source)
		}
	}
}

// Bars are 1.6 mm high, +0.6/-0 mm (UN Regulation 30, as the French order cites
// it): flush bars mean worn out, and prove nothing under a law of 1.6 mm.
func TestFlushBarsProveNoLaw(t *testing.T) {
	for _, c := range []struct {
		read float64
		want measure.Outcome
	}{
		{1.6, measure.Above},
		{1.9, measure.Above},
		{2.2, measure.Above},
		{1.59, measure.Below},
	} {
		w := at("1L", exact, all(c.read, unit.Millimeters))
		w.BarsFlush = true
		r := judge(t, under(car, "uk-light"), w)
		if got := outcome(t, r, "uk-light.depth"); got != c.want {
			t.Errorf("%v mm with flush bars: law %v, want %v", c.read, got, c.want)
		}
		if !r.WornOut {
			t.Errorf("%v mm with flush bars is not worn out", c.read)
		}
	}
}

// What stands behind a rule decides code and urgency: law in use, model
// standard; a candidate never asks for more than this visit.
func TestAuthority(t *testing.T) {
	low := all(1.5, unit.ThirtySecondsInch)
	for _, c := range []struct {
		name    string
		context tread.Context
		rule    string
		code    finding.Code
		urgency finding.Urgency
		source  string
	}{
		{"law", under(truck, "us-commercial"), "us-commercial.front-depth", finding.TreadLegalLimit, finding.BeforeDriving, "49 CFR 393.75(b)"},
		{"law that may apply", candidate(under(truck, "us-commercial")), "us-commercial.front-depth", finding.TreadLegalLimit, finding.ThisVisit, "49 CFR 390.5"},
		{"law in another country", under(car, "eu-de"), "eu-de.depth", finding.TreadLegalLimit, finding.BeforeDriving, "StVZO § 36 Abs. 3"},
		{"model for heavy vehicles", under(truck, "us-heavy-model"), "us-heavy-model.front-depth", finding.TreadModelLimit, finding.ThisVisit, "49 CFR 570.53: binds no person by itself"},
		{"model for light vehicles", under(car, "us-light"), "us-light.depth", finding.TreadModelLimit, finding.ThisVisit, "49 CFR Part 570 Subpart A, from memory"},
	} {
		f, ok := ofRule(judge(t, c.context, at("1L", exact, low)), c.rule)
		if !ok || f.Code != c.code || f.Urgency != c.urgency || f.Candidate != c.context.Books[0].Candidate {
			t.Errorf("%s: %+v, want %s at urgency %d (%s)", c.name, f, c.code, c.urgency, c.source)
		}
	}
	for _, id := range []string{"us-light", "us-heavy-model"} {
		for _, v := range []layout.Vehicle{car, truck} {
			r := judge(t, under(v, id), at("1L", exact, low))
			if f, ok := has(r, finding.TreadLegalLimit); ok || r.BelowLaw {
				t.Errorf("a model standard is called law: %+v", f)
			}
		}
	}
}

// A spare is not in use on the road: its condition is judged, no law is.
func TestSpare(t *testing.T) {
	for _, id := range []string{"us-commercial", "uk-heavy", "eu-at"} {
		r := judge(t, under(truck, id), at("S", exact, all(0.5, unit.Millimeters)))
		if r.BelowLaw || !r.WornOut || len(r.Findings) != 1 {
			t.Errorf("%s: spare at 0.5 mm: %+v", id, r.Findings)
		}
	}
}

func TestNothingRead(t *testing.T) {
	if r, ok := tread.Judge(under(car, "us-light"), at("1L", exact, nil)); ok {
		t.Errorf("no reading, yet judged: %+v", r)
	}
}
