package tread_test

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// samples are vehicles of every class, light and heavy, and a wheel of each.
func samples() (vs []layout.Vehicle, at []layout.Position) {
	for class := layout.PassengerCar; class <= layout.Motorhome; class++ {
		for _, kilograms := range []float64{1900, 3000, 5000, 9000, 18_000} {
			v := layout.Vehicle{Class: class, GrossRating: unit.MustMass(kilograms, unit.Kilograms), Axles: []layout.Axle{{Steered: true}, {Driven: true}}}
			if class == layout.Trailer {
				v.Axles = []layout.Axle{{}, {}}
			}
			if !rulebook.Contradicts(v) {
				vs = append(vs, v)
			}
		}
	}
	return vs, []layout.Position{layout.MustParse("1L"), layout.MustParse("2L")}
}

// speaksOf is a vehicle, one of its wheels and a day of which a limit speaks.
func speaksOf(t *testing.T, l rulebook.Limit) (v layout.Vehicle, p layout.Position, day unit.Date) {
	t.Helper()
	day = january
	for l.Winter != nil && l.Winter.Covers(day) != finding.Yes {
		day = day.After(15)
	}
	vs, at := samples()
	for _, v := range vs {
		for _, p := range at {
			if l.AppliesTo(v, p) {
				return v, p, day
			}
		}
	}
	t.Fatal("speaks of no vehicle")
	return v, p, day
}

// Every least depth of a law or a model is witnessed at it, above and below it: its figure
// as its source has it stands in law_figures.csv. Exactly at it is kept, the smallest step
// under it is not, and a gauge that reads it decides nothing.
func TestEveryLimitAtAboveAndBelow(t *testing.T) {
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			depth := l.Subject == rulebook.TreadDepth || l.Subject == rulebook.WinterTire && !l.Value.IsZero()
			if b.Country == "" || !depth || l.Applies.CrossPly {
				continue
			}
			rule := b.ID + "." + l.ID
			t.Run(rule, func(t *testing.T) {
				v, p, day := speaksOf(t, l)
				c := under(v, b.ID)
				c.AsOf, c.Wintry = day, finding.Yes
				n, u := l.Value.Number, l.Value.Unit
				gauge, step := halfMM, 0.01
				if u == unit.ThirtySecondsInch {
					gauge, step = thirtySecond, 0.1
				}
				for _, x := range []struct {
					read float64
					by   measure.Gauge[unit.Depth]
					want measure.Outcome
				}{
					{n, exact, measure.Above}, {n + step, exact, measure.Above}, {n - step, exact, measure.Below},
					{n, gauge, measure.CannotTell}, {2 * n, gauge, measure.Above}, {0, gauge, measure.Below},
				} {
					w := winterTire(at(p.String(), x.by, all(x.read, u)))
					if l.Winter != nil && l.Winter.DepthWillDo {
						w.ThreePeaks, w.MudAndSnow, w.Studded = finding.No, finding.No, finding.No
					}
					of := judge(t, c, w)
					if l.Subject == rulebook.WinterTire {
						r := tread.Winter(c, w)
						of = tread.Result{Findings: r.Findings, Met: r.Met}
					}
					if got := outcome(t, of, rule); got != x.want {
						t.Errorf("%v %v with a gauge of %v on a vehicle of class %d: %v, want %v", x.read, u, x.by.Resolution, v.Class, got, x.want)
					}
				}
			})
		}
	}
}

// A least depth of the winter binds every tire, whatever its mark: in its season, or while
// it is open whether it holds, as a law that may bind.
func TestSeasonalDepth(t *testing.T) {
	const notAsked, yes, no = finding.NotAsked, finding.Yes, finding.No
	november := unit.Date{Year: 2026, Month: 11, Day: 1}
	loaded := layout.Vehicle{Class: layout.Trailer, GrossRating: unit.MustMass(18_000, unit.Kilograms), Axles: make([]layout.Axle, 2)}
	for _, c := range []struct {
		name    string
		vehicle layout.Vehicle
		rule    string
		day     unit.Date
		road    finding.Answer
		read    float64
		want    finding.Urgency // not told: not found
		may     bool
		asked   bool
	}{
		{"a summer tire of 2 mm in a Norwegian January", car, "no.winter-depth", january, notAsked, 2, finding.BeforeDriving, false, false},
		{"on the first day of the season", car, "no.winter-depth", november, no, 2, finding.BeforeDriving, false, false},
		{"on the day before it", car, "no.winter-depth", november.After(-1), yes, 2, 0, false, false},
		{"at the limit", car, "no.winter-depth", january, notAsked, 3, 0, false, false},
		{"in July", car, "no.winter-depth", july, notAsked, 2, 0, false, false},
		{"the day not told", car, "no.winter-depth", unit.Date{}, notAsked, 2, finding.ThisVisit, true, false},
		{"a Norwegian truck of 4 mm", truck, "no.heavy-winter-depth", january, notAsked, 4, finding.BeforeDriving, false, false},
		{"a Finnish trailer on snow", loaded, "eu-fi.heavy-other-depth", january, yes, 2, finding.BeforeDriving, false, false},
		{"on a clear road", loaded, "eu-fi.heavy-other-depth", january, no, 2, 0, false, false},
		{"the road not told", loaded, "eu-fi.heavy-other-depth", january, notAsked, 2, finding.ThisVisit, true, true},
	} {
		book, _ := bookOf(t, c.rule)
		ctx := under(c.vehicle, book.ID)
		ctx.AsOf, ctx.Wintry = c.day, c.road
		w := at("1L", exact, all(c.read, unit.Millimeters))
		w.ThreePeaks, w.MudAndSnow, w.Studded = no, no, no
		r := judge(t, ctx, w)
		f, found := ofRule(r, c.rule)
		if f.Urgency != c.want || f.Candidate != c.may || found && f.Code != finding.TreadLegalLimit {
			t.Errorf("%s: %+v, want urgency %d, may bind %v", c.name, f, c.want, c.may)
		}
		if got := slices.Contains(r.Missing, finding.AskSnowSlushOrIce); got != c.asked {
			t.Errorf("%s: road asked %v", c.name, got)
		}
	}
}

// In Germany M+S made a winter tire to September 30, 2024 (StVZO § 36 Abs. 4a).
func TestMudAndSnowUntil(t *testing.T) {
	w := at("1L", exact, all(7, unit.Millimeters))
	w.ThreePeaks, w.MudAndSnow, w.Studded = finding.No, finding.Yes, finding.No
	for day, found := range map[unit.Date]bool{{Year: 2024, Month: 9, Day: 30}: false, {Year: 2024, Month: 10, Day: 1}: true, january: true} {
		c := under(car, "eu-de")
		c.AsOf, c.Wintry = day, finding.Yes
		if r := tread.Winter(c, w); (len(r.Findings) > 0) != found {
			t.Errorf("M+S alone on %v: %+v", day, r.Findings)
		}
	}
}

// What is left of a tread ends where the tire's use ends at its place: at the wear bars, or
// at a law in use that asks for more there. 49 CFR 393.75(b), (c): 4/32 in front, 2/32 in
// behind; reg. 27(4)(e): 1 mm, less than the bars.
func TestUsableEndsAtTheLaw(t *testing.T) {
	for _, c := range []struct {
		context tread.Context
		at      string
		read    float64
		percent float64
		by      string
	}{
		{under(truck, "us-commercial"), "1L", 4, 0, "us-commercial.front-depth"},
		{under(truck, "us-commercial"), "1L", 11, 50, "us-commercial.front-depth"},
		{under(truck, "us-commercial"), "2L", 10, 50, "advice.wear-bars"},
		{candidate(under(truck, "us-commercial")), "1L", 10, 50, "advice.wear-bars"},
		{under(truck, "us-heavy-model"), "1L", 10, 50, "advice.wear-bars"},
		{under(truck, "uk-heavy"), "1L", 2, 0, "advice.wear-bars-metric"},
	} {
		w := at(c.at, exact, all(c.read, unit.ThirtySecondsInch))
		w.New = map[int]unit.Depth{0: in32(18)}
		r := judge(t, c.context, w)
		if got := r.Usable.Amount().Rounded().Number; got != c.percent || r.UsableBy.ID != c.by {
			t.Errorf("%s at %s, %v/32: %v%% to %s, want %v%% to %s", c.context.Books[0].ID, c.at, c.read, got, r.UsableBy.ID, c.percent, c.by)
		}
	}
}
