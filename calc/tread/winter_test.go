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

var (
	january = unit.Date{Year: 2026, Month: 1, Day: 15}
	july    = unit.Date{Year: 2026, Month: 7, Day: 15}
)

// winterTire carries both marks.
func winterTire(w tread.Wheel) tread.Wheel {
	w.ThreePeaks, w.MudAndSnow = finding.Yes, finding.Yes
	return w
}

func onWintryRoads(c tread.Context) tread.Context {
	c.AsOf, c.Wintry = january, finding.Yes
	return c
}

func winterOutcome(t *testing.T, r tread.WinterResult, rule string) measure.Outcome {
	t.Helper()
	return outcome(t, tread.Result{Findings: r.Findings, Met: r.Met}, rule)
}

// TestPublishedWinterLimits walks every winter minimum at it, under it, and
// through a gauge on each side; the source of each row stands in the file.
func TestPublishedWinterLimits(t *testing.T) {
	for _, row := range published(t, "winter_limits.csv") {
		rule := row[1]
		t.Run(row[0], func(t *testing.T) {
			v := layout.Vehicle{Class: classNamed[row[2]], GrossRating: unit.MustMass(number(t, row[3]), unitNamed[row[4]]), Axles: make([]layout.Axle, 2)}
			book, limit := bookOf(t, rule)
			w := winterTire(at(row[5], gaugeNamed[row[9]], all(number(t, row[7]), unitNamed[row[8]])))
			w.CrossPly = row[6] == "yes"
			r := tread.Winter(onWintryRoads(under(v, book.ID)), w)
			want := row[10]
			if limit.Authority != finding.LawInUse && want == "above" {
				want = measure.NotCompared.String() // advice that is followed is worth no line
			}
			if got := winterOutcome(t, r, rule); got.String() != want {
				t.Errorf("%s at %s %s with a gauge of %s: %v, want %s", rule, row[7], row[8], row[9], got, want)
			}
			if k := knownNamed[row[12]]; k != limit.Known {
				t.Errorf("%s is marked known %d, the row says %s", rule, limit.Known, row[12])
			}
		})
	}
}

// By when a winter minimum is to be met, by day and road: the trigger of each
// rule as its source has it; urgencies are common practice.
func TestWinterTriggers(t *testing.T) {
	const notAsked, yes, no = finding.NotAsked, finding.Yes, finding.No
	for _, c := range []struct {
		rule   string
		day    unit.Date
		road   finding.Answer
		want   finding.Urgency // not told: not found
		why    finding.Fact
		asked  bool
		source string
	}{
		{"eu-at.winter-depth", january, yes, finding.ThisVisit, finding.FactTreadWinterRoadWintry, false, "Austria: season and road"},
		{"eu-at.winter-depth", january, no, finding.Plan, finding.FactTreadWinterRoadClear, false, "Austria: it may snow tomorrow"},
		{"eu-at.winter-depth", january, notAsked, finding.ThisVisit, finding.FactTreadWinterRoadNotAsked, true, "Austria: told with its condition"},
		{"eu-at.winter-depth", january, finding.NotKnown, finding.ThisVisit, finding.FactTreadWinterRoadNotAsked, true, "Austria"},
		{"eu-at.winter-depth", july, yes, 0, "", false, "Austria: out of season, whatever lies on the road"},
		{"eu-at.winter-depth", unit.Date{}, yes, finding.ThisVisit, finding.FactTreadWinterRoadWintry, false, "the day not told"},
		{"eu-at.winter-depth", unit.Date{}, notAsked, finding.ThisVisit, finding.FactTreadWinterRoadNotAsked, true, "the day not told"},

		{"eu-sk.winter-depth", january, yes, finding.ThisVisit, finding.FactTreadWinterRoadWintry, false, "Slovakia: road"},
		{"eu-sk.winter-depth", july, yes, finding.ThisVisit, finding.FactTreadWinterRoadWintry, false, "snow in July is snow"},
		{"eu-sk.winter-depth", july, notAsked, 0, "", false, "nobody is asked about snow in July"},
		{"eu-sk.winter-depth", july, no, 0, "", false, "nobody plans for it in July"},
		{"eu-sk.winter-depth", january, no, finding.Plan, finding.FactTreadWinterRoadClear, false, "Slovakia"},
		{"eu-sk.winter-depth", unit.Date{}, notAsked, finding.ThisVisit, finding.FactTreadWinterRoadNotAsked, true, "the day not told"},

		{"winter-si.season", january, no, finding.ThisVisit, finding.FactTreadWinterInSeason, false, "Slovenia: season"},
		{"winter-si.season", july, yes, finding.ThisVisit, finding.FactTreadWinterRoadWintry, false, "Slovenia: and in winter conditions"},
		{"winter-si.season", july, notAsked, 0, "", false, "Slovenia: out of season"},
		{"winter-si.season", unit.Date{Year: 2026, Month: 3, Day: 20}, no, 0, "", false, "Slovenia: out of season, on a clear road"},
		{"winter-si.season", unit.Date{Year: 2026, Month: 11, Day: 5}, notAsked, finding.ThisVisit, finding.FactTreadWinterRoadNotAsked, true, "Slovenia: before the season, the road not told"},
		{"winter-si.season", unit.Date{}, yes, finding.ThisVisit, finding.FactTreadWinterRoadWintry, false, "Slovenia"},
		{"winter-si.season", unit.Date{}, no, finding.Plan, finding.FactTreadWinterDayNotTold, false, "Slovenia"},

		{"ca-bc.winter-depth", january, no, finding.Plan, finding.FactTreadWinterSignedRoads, false, "British Columbia: signed highways in season"},
		{"ca-bc.winter-depth", july, yes, 0, "", false, "British Columbia: out of season"},
		{"us-ca.snow-instead-of-chains", july, no, finding.Note, finding.FactTreadWinterSignedRoads, false, "California: where called for"},
		{"nz.winter-depth", january, no, finding.ThisVisit, finding.FactTreadWinterWheneverFitted, false, "New Zealand: a winter tire, any day"},
	} {
		book, limit := bookOf(t, c.rule)
		ctx := under(layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}, book.ID)
		ctx.AsOf, ctx.Wintry = c.day, c.road
		r := tread.Winter(ctx, winterTire(at("1L", exact, all(1, limit.Value.Unit))))
		f, _ := ofRule(tread.Result{Findings: r.Findings}, c.rule)
		if f.Urgency != c.want {
			t.Errorf("%s on %v, wintry %d: urgency %d, want %d (%s)", c.rule, c.day, c.road, f.Urgency, c.want, c.source)
		}
		if _, ok := says(f, c.why); c.why != "" && !ok {
			t.Errorf("%s on %v, wintry %d: does not say %s: %v", c.rule, c.day, c.road, c.why, f.Evidence)
		}
		if got := slices.Contains(r.Missing, finding.AskSnowSlushOrIce); got != c.asked {
			t.Errorf("%s on %v, wintry %d: road asked %v", c.rule, c.day, c.road, got)
		}
	}
}

// Which mark makes a winter tire: in Quebec the mountain or studs (as reported),
// in Austria M+S too (KDV § 4 Abs. 4).
func TestWinterMarks(t *testing.T) {
	const notAsked, yes, no = finding.NotAsked, finding.Yes, finding.No
	for _, c := range []struct {
		rule              string
		peaks, mud, studs finding.Answer
		found, met, asked bool
	}{
		{"ca-qc.winter-mark", yes, notAsked, notAsked, false, true, false},
		{"ca-qc.winter-mark", no, yes, no, true, false, false},
		{"ca-qc.winter-mark", no, no, yes, false, true, false},
		{"ca-qc.winter-mark", no, yes, notAsked, false, false, true},
		{"ca-qc.winter-mark", notAsked, yes, no, false, false, true},
		{"eu-at.winter-depth", no, yes, no, false, true, false},
		{"eu-at.winter-depth", no, no, no, true, false, false},
		{"eu-at.winter-depth", no, no, yes, false, true, false},
		{"eu-at.winter-depth", notAsked, no, no, false, false, true},
		{"winter-si.season", no, no, no, true, false, false},

		{"eu-de.winter", yes, no, no, false, true, false},             // StVZO § 36 Abs. 4: the mountain alone, since October 1, 2024
		{"eu-de.winter", no, yes, no, true, false, false},             // M+S no longer
		{"eu-de.winter", no, no, yes, true, false, false},             // studs make none
		{"eu-de.winter", notAsked, yes, no, false, false, true},       //
		{"eu-sk.winter-depth", yes, no, no, true, false, false},       // Zákon 8/2009 § 38: marked M+S
		{"eu-sk.winter-depth", no, yes, no, false, true, false},       //
		{"eu-cz.winter-depth", notAsked, yes, no, false, true, false}, // Vyhláška 153/2023, E: M+S
		{"eu-fr.winter", yes, yes, no, false, true, false},            // Code de la route D314-8: both together
		{"eu-fr.winter", yes, no, no, true, false, false},             //
		{"eu-fr.winter", no, yes, no, true, false, false},             //
		{"eu-fr.winter", yes, notAsked, no, false, false, true},       //
		{"eu-fr.winter", no, no, yes, false, true, false},             // studded tires count
	} {
		book, _ := bookOf(t, c.rule)
		w := at("1L", exact, all(7, unit.Millimeters))
		w.ThreePeaks, w.MudAndSnow, w.Studded = c.peaks, c.mud, c.studs
		r := tread.Winter(onWintryRoads(under(car, book.ID)), w)
		found := slices.ContainsFunc(r.Findings, func(f finding.Finding) bool { return f.Code == finding.TreadWinterMark && f.Rule.ID == c.rule })
		met := slices.ContainsFunc(r.Met, func(k tread.Checked) bool { return k.Rule.ID == c.rule })
		if found != c.found || met != c.met || slices.Contains(r.Missing, finding.AskWinterMark) != c.asked {
			t.Errorf("%s with %d %d %d: found %v, met %v, asked %v", c.rule, c.peaks, c.mud, c.studs, found, met, r.Missing)
		}
	}
}

// Below a winter minimum a tire whose mark nobody read is found, and asked about;
// nothing is said of it where only a fitted winter tire is meant.
func TestWinterMarkNotRead(t *testing.T) {
	for rule, want := range map[string][2]bool{ // found, asked
		"eu-at.winter-depth": {true, true}, "eu-sk.winter-depth": {true, true}, "nz.winter-depth": {false, true},
		"us-ca.snow-instead-of-chains": {false, false},
	} {
		book, limit := bookOf(t, rule)
		r := tread.Winter(onWintryRoads(under(car, book.ID)), at("1L", exact, all(2, limit.Value.Unit)))
		f, found := ofRule(tread.Result{Findings: r.Findings}, rule)
		_, said := says(f, finding.FactTreadWinterMarkNotRead)
		if asked := slices.Contains(r.Missing, finding.AskWinterMark); found != want[0] || said != found || asked != want[1] {
			t.Errorf("%s: found %v, said %v, asked %v", rule, found, said, asked)
		}
	}
}

// The mark is judged without a depth; a spare is on no road.
func TestWinterWithoutDepth(t *testing.T) {
	w := at("1L", exact, nil)
	w.ThreePeaks, w.MudAndSnow, w.Studded = finding.No, finding.No, finding.No
	c := onWintryRoads(under(car, "eu-at"))
	if r := tread.Winter(c, w); len(r.Findings) != 1 || r.Findings[0].Code != finding.TreadWinterMark {
		t.Errorf("no mark, no depth: %+v", r)
	}
	if r := tread.Winter(c, winterTire(w)); len(r.Findings)+len(r.Met) != 0 {
		t.Errorf("a mark, no depth: %+v", r)
	}
	w.Position = layout.MustParse("S")
	if r := tread.Winter(c, w); len(r.Findings)+len(r.Met)+len(r.Missing) != 0 {
		t.Errorf("a spare: %+v", r)
	}
	if r := tread.Winter(candidate(c), winterTire(at("1L", exact, all(3, unit.Millimeters)))); !r.Findings[0].Candidate {
		t.Errorf("a law that may apply is called certain: %+v", r)
	}
}

// A cross-ply tire has its own limit where the book has one, and the common one
// elsewhere.
func TestCrossPly(t *testing.T) {
	w := winterTire(at("2L", exact, all(5.5, unit.Millimeters)))
	c := onWintryRoads(under(truck, "eu-at"))
	if r := tread.Winter(c, w); len(r.Findings) != 0 {
		t.Errorf("radial at 5.5 mm: %+v", r.Findings)
	}
	w.CrossPly = true
	if r := tread.Winter(c, w); len(r.Findings) != 1 || r.Findings[0].Rule.ID != "eu-at.heavy-winter-cross-ply" {
		t.Errorf("cross-ply at 5.5 mm: %+v", r.Findings)
	}
	w.Readings = all(3, unit.Millimeters)
	if r := tread.Winter(onWintryRoads(under(car, "eu-at")), w); len(r.Findings) != 1 || r.Findings[0].Rule.ID != "eu-at.winter-depth" {
		t.Errorf("cross-ply on a car: %+v", r.Findings)
	}
}

// For winter tires too: a tighter rulebook never finds less, less tread is never
// better, and what nobody asked is never better than what was denied.
func TestWinterIsNeverBetter(t *testing.T) {
	d := dice()
	ids := []string{"eu-at", "eu-fr", "eu-de", "eu-cz", "eu-sk", "winter-si", "eu-fi", "no", "ca-bc", "ca-qc", "nz", "us-ca"}
	answers := []finding.Answer{finding.NotAsked, finding.Yes, finding.No, finding.NotKnown}
	for range rounds {
		c := under(layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}, ids[d.IntN(len(ids))])
		c.AsOf, c.Wintry = unit.Date{Year: 2026, Month: 1 + d.IntN(12), Day: 1 + d.IntN(28)}, answers[d.IntN(4)]
		depth := float64(d.IntN(60)) / 10
		w := at("1L", halfMM, all(depth, unit.Millimeters))
		w.ThreePeaks, w.MudAndSnow, w.Studded = answers[d.IntN(4)], answers[d.IntN(4)], answers[d.IntN(4)]
		before := tread.Winter(c, w)

		worn := w
		worn.Readings = all(depth/2, unit.Millimeters)
		stricter := *c.Books[0].Book
		stricter.Limits = slices.Clone(stricter.Limits)
		for i := range stricter.Limits {
			stricter.Limits[i].Value.Number *= 1.3
		}
		tight := c
		tight.Books = []rulebook.Applied{{Book: &stricter}}
		unasked := c
		unasked.Wintry = finding.NotAsked
		for how, after := range map[string]tread.WinterResult{
			"worn further": tread.Winter(c, worn), "under tighter rules": tread.Winter(tight, w),
		} {
			notBetter(t, how, before, after)
		}
		if c.Wintry == finding.No {
			notBetter(t, "with the road not asked", before, tread.Winter(unasked, w))
		}
	}
}

func notBetter(t *testing.T, how string, before, after tread.WinterResult) {
	t.Helper()
	for _, f := range before.Findings {
		g, ok := ofRule(tread.Result{Findings: after.Findings}, f.Rule.ID)
		if !ok || g.Urgency > f.Urgency {
			t.Fatalf("%s, less is found: %+v, then %+v", how, f, g)
		}
	}
}

// Studded tires: barred outright, out of a season, or out of it but for the road. Finland
// 106 §, as read; Bulgaria ЗДвП чл. 9(1), as reported; Washington RCW 46.37.420(2), as read;
// Quebec r. 44, as reported.
func TestStuds(t *testing.T) {
	const notAsked, yes, no = finding.NotAsked, finding.Yes, finding.No
	date := func(month, day int) unit.Date { return unit.Date{Year: 2026, Month: month, Day: day} }
	for _, c := range []struct {
		name   string
		rule   string
		day    unit.Date
		road   finding.Answer
		studs  finding.Answer
		barred bool
		may    bool
		asked  bool
	}{
		{"Bulgaria in January, on snow", "winter-bg.studs", january, yes, yes, true, false, false},
		{"Bulgaria, without studs", "winter-bg.studs", january, yes, no, false, false, false},
		{"Bulgaria, not told whether studded", "winter-bg.studs", january, yes, notAsked, false, false, false},
		{"Washington in January", "us-wa.studs", january, notAsked, yes, false, false, false},
		{"Washington in July", "us-wa.studs", july, notAsked, yes, true, false, false},
		{"Washington in July, on snow", "us-wa.studs", july, yes, yes, true, false, false},
		{"Washington on November 1", "us-wa.studs", date(11, 1), no, yes, false, false, false},
		{"Washington on October 31", "us-wa.studs", date(10, 31), no, yes, true, false, false},
		{"Washington, the day not told", "us-wa.studs", unit.Date{}, no, yes, false, false, false},
		{"Quebec on October 15", "ca-qc.studs", date(10, 15), no, yes, false, false, false},
		{"Quebec on October 14", "ca-qc.studs", date(10, 14), no, yes, true, false, false},
		{"Finland in January", "eu-fi.studs", january, no, yes, false, false, false},
		{"Finland in July, on a dry road", "eu-fi.studs", july, no, yes, true, false, false},
		{"Finland in July, on snow", "eu-fi.studs", july, yes, yes, false, false, false},
		{"Finland in July, the road not told", "eu-fi.studs", july, notAsked, yes, true, true, true},
	} {
		book, limit := bookOf(t, c.rule)
		ctx := under(car, book.ID)
		ctx.AsOf, ctx.Wintry = c.day, c.road
		w := winterTire(at("1L", exact, all(8, unit.Millimeters)))
		w.Studded = c.studs
		r := tread.Winter(ctx, w)
		f, found := ofRule(tread.Result{Findings: r.Findings}, c.rule)
		asked := slices.Contains(r.Missing, finding.AskSnowSlushOrIce)
		if found != c.barred || f.Candidate != c.may || asked != c.asked {
			t.Errorf("%s: barred %v, may be %v, asked %v", c.name, found, f.Candidate, asked)
		}
		if found && (f.Code != finding.TreadStudsBarred || f.Urgency != finding.ThisVisit || f.Rule.Citation != limit.Citation || !slices.Equal(f.Positions, []layout.Position{w.Position})) {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}
