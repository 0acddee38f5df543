package tread_test

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// Wear bars show at 1/16 in (49 CFR 571.139 S5.4, 571.119 S6.4). At the bars a
// tire is worn out, whatever the gauge can prove (common practice).
func TestWornToBars(t *testing.T) {
	u := unit.ThirtySecondsInch
	for _, c := range []struct {
		name         string
		context      tread.Context
		position     string
		gauge        measure.Gauge[unit.Depth]
		read         float64
		flush, clear bool
		worn         bool
	}{
		{"2/32 by a gauge", under(car, "us-light"), "1L", thirtySecond, 2, false, false, true},
		{"1/32 by a gauge", under(car, "us-light"), "1L", thirtySecond, 1, false, false, true},
		{"3/32 is clear of them", under(car, "us-light"), "1L", thirtySecond, 3, false, false, false},
		{"2.5/32 may be at them", under(car, "us-light"), "1L", thirtySecond, 2.5, false, false, true},
		{"exactly at them", under(car, "us-light"), "1L", exact, 2, false, false, true},
		{"just above them", under(car, "us-light"), "1L", exact, 2.1, false, false, false},
		{"bars seen flush outrank 5/32", under(car, "us-light"), "1L", thirtySecond, 5, true, false, true},
		{"bars seen clear speak against it", under(car, "us-light"), "1L", thirtySecond, 2, false, true, true},
		{"4/32 on a truck's steer axle", under(truck, "us-commercial"), "1L", thirtySecond, 4, false, false, false},
		{"1.6 mm exactly under a metric law", under(car, "uk-light"), "1L", exact, 1.6 / 25.4 * 32, false, false, true},
		{"2/32 exactly is under metric bars", under(car, "uk-light"), "1L", exact, 2, false, false, true},
		{"no law told", under(car), "1L", thirtySecond, 2, false, false, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			depth := unit.Depth(c.read*float64(in32(1)) + 0.5)
			w := at(c.position, c.gauge, []tread.Reading{{Groove: 1, Station: 1, Depth: depth, AsRead: depth.Amount(u)}})
			w.BarsFlush, w.BarsClear = c.flush, c.clear
			r := judge(t, c.context, w)
			f, found := has(r, finding.TreadWornToBars)
			if r.WornOut != c.worn || found != c.worn {
				t.Fatalf("worn out %v, found %v, want %v", r.WornOut, found, c.worn)
			}
			if !found {
				if r.Met[0].Code != finding.CheckedTreadWornToBars {
					t.Errorf("not said to be clear of the bars: %+v", r.Met)
				}
				return
			}
			if f.Urgency != finding.ThisVisit {
				t.Errorf("urgency %d, want this visit", f.Urgency)
			}
			if _, said := says(f, finding.FactTreadBarsSeenFlush); said != c.flush {
				t.Errorf("bars seen flush said: %v", said)
			}
			if e, said := says(f, finding.FactTreadBarsSeenClear); said != c.clear || e.Against != c.clear {
				t.Errorf("bars seen clear said: %v, against: %v", said, e.Against)
			}
		})
	}
}

// At 2/32 in by a gauge of 1/32 in the two answers differ: worn out, and the
// legal status open (JCGM 100:2008: U = 0.99/32 in).
func TestConditionIsNotLegalStatus(t *testing.T) {
	u := unit.ThirtySecondsInch
	for _, c := range []struct {
		context tread.Context
		rule    string
		read    float64
		worn    bool
		legal   measure.Outcome
	}{
		{under(car, "us-light"), "us-light.depth", 2, true, measure.CannotTell},
		{under(truck, "us-commercial"), "us-commercial.front-depth", 4, false, measure.CannotTell},
		{under(truck, "us-commercial"), "us-commercial.front-depth", 3, false, measure.Below},
		{under(truck, "us-heavy-model"), "us-heavy-model.front-depth", 5, false, measure.Above},
	} {
		r := judge(t, c.context, at("1L", thirtySecond, all(c.read, u)))
		if got := outcome(t, r, c.rule); got != c.legal || r.WornOut != c.worn {
			t.Errorf("%v/32 under %s: worn out %v, legal status %v; want %v, %v", c.read, c.rule, r.WornOut, got, c.worn, c.legal)
		}
	}
	// A heavy vehicle at 1.2 mm in Britain keeps its law and is worn out.
	r := judge(t, under(truck, "uk-heavy"), at("1L", exact, all(1.2, unit.Millimeters)))
	if got := outcome(t, r, "uk-heavy.depth"); got != measure.Above || !r.WornOut || r.BelowLaw {
		t.Errorf("1.2 mm: %v, worn out %v, below the law %v (reg. 27(4)(e))", got, r.WornOut, r.BelowLaw)
	}
}

// 6/32 in of 10/32 in new is 50 percent of the usable tread, not 60
// (computed; common practice of pro-rata adjustment).
func TestUsableLeft(t *testing.T) {
	for _, c := range []struct {
		lowest, whenNew, limit float64
		want                   unit.Ratio
		ok                     bool
	}{
		{6, 10, 2, 0.5, true},
		{10, 10, 2, 1, true},
		{2, 10, 2, 0, true},
		{1, 10, 2, 0, true},
		{6, 2, 2, 0, false},
		{6, 0, 2, 0, false},
	} {
		if got, ok := tread.UsableLeft(in32(c.lowest), in32(c.whenNew), in32(c.limit)); got != c.want || ok != c.ok {
			t.Errorf("%v of %v to %v: %v, %v; want %v, %v", c.lowest, c.whenNew, c.limit, got, ok, c.want, c.ok)
		}
	}
	w := at("1L", thirtySecond, all(4, unit.ThirtySecondsInch))
	w.New = map[int]unit.Depth{0: in32(10), 1: in32(12)}
	r := judge(t, under(car, "us-light"), w)
	if !r.UsableKnow || r.Usable != 0.2 || r.UsableOf != in32(12) {
		t.Errorf("a groove's own new depth: %v of %v", r.Usable, r.UsableOf)
	}
	f, _ := has(r, finding.TreadWetAdvice)
	share, _ := says(f, finding.FactTreadUsableLeft)
	of, _ := says(f, finding.FactTreadNewDepth)
	if share.Amount.String() != "20%" || of.Amount.String() != "12/32 in" {
		t.Errorf("said: %v left of %v", share.Amount, of.Amount)
	}
}

// The ladder of advice, with its sources in the advice rulebook: 4/32 in wet,
// 5/32 in snow, 6/32 in before winter; metric 3 mm and 4 mm.
func TestAdvice(t *testing.T) {
	inch, metric := unit.ThirtySecondsInch, unit.Millimeters
	summer, september, february := unit.Date{Year: 2025, Month: 7, Day: 1}, unit.Date{Year: 2025, Month: 9, Day: 1}, unit.Date{Year: 2026, Month: 2, Day: 28}
	lightTruck := car
	lightTruck.Class = layout.LightTruck
	for _, c := range []struct {
		name    string
		context tread.Context
		date    unit.Date
		read    float64
		in      unit.Unit
		want    finding.Code
	}{
		{"no date, 3/32", under(car, "us-light"), unit.Date{}, 3, inch, finding.TreadWetAdvice},
		{"no date, 4/32", under(car, "us-light"), unit.Date{}, 4, inch, finding.TreadWetAdvice},
		{"no date, 5/32", under(car, "us-light"), unit.Date{}, 5, inch, ""},
		{"summer, 5/32", under(car, "us-light"), summer, 5, inch, ""},
		{"September, 4/32: the lowest rung", under(car, "us-light"), september, 4, inch, finding.TreadWetAdvice},
		{"September, 5/32", under(car, "us-light"), september, 5, inch, finding.TreadSnowAdvice},
		{"September, 6/32", under(car, "us-light"), september, 6, inch, finding.TreadWinterAdvice},
		{"February, 6/32", under(lightTruck, "us-light"), february, 6, inch, finding.TreadWinterAdvice},
		{"September, 7/32", under(car, "us-light"), september, 7, inch, ""},
		{"at the bars the condition says enough", under(car, "us-light"), september, 2, inch, ""},
		{"metric, 3 mm", under(car, "eu-de"), summer, 3, metric, finding.TreadWetAdvice},
		{"metric, 4 mm in summer", under(car, "eu-de"), summer, 4, metric, ""},
		{"metric, 4 mm in September", under(car, "eu-de"), september, 4, metric, finding.TreadSnowAdvice},
		{"metric, 5 mm in September", under(car, "eu-de"), september, 5, metric, ""},
		{"a heavy truck has no such ladder", under(truck, "us-heavy-model"), september, 5, inch, ""},
		{"nor has a trailer", under(trailer, "us-commercial"), september, 4, inch, ""},
	} {
		gauge := thirtySecond
		if c.in == metric {
			gauge = halfMM
		}
		c.context.AsOf = c.date
		r := judge(t, c.context, at("2R", gauge, all(c.read, c.in)))
		var got []finding.Code
		for _, f := range r.Findings {
			switch f.Code {
			case finding.TreadWetAdvice, finding.TreadSnowAdvice, finding.TreadWinterAdvice:
				got = append(got, f.Code)
				if f.Urgency != finding.Plan || f.Rule.Authority != finding.CommonPractice {
					t.Errorf("%s: advice is no plan of common practice: %+v", c.name, f)
				}
				if f.Limit.Unit != c.in {
					t.Errorf("%s: limit shown as %v", c.name, f.Limit)
				}
			}
		}
		if (c.want == "" && len(got) > 0) || (c.want != "" && (len(got) != 1 || got[0] != c.want)) {
			t.Errorf("%s: %v, want %q", c.name, got, c.want)
		}
	}
	c := under(car, "us-light")
	if f, ok := has(judge(t, c, at("S", thirtySecond, all(4, inch))), finding.TreadWetAdvice); ok {
		t.Errorf("advice on a spare: %+v", f)
	}
}

// Deeper than any new tire of the class is asked about, never refused: 14/32 in
// on a car, 21/32 in on a light truck, 32/32 in on a highway truck (common
// practice).
func TestUnlikelyDepth(t *testing.T) {
	of := func(c layout.Class) layout.Vehicle { return layout.Vehicle{Class: c, Axles: make([]layout.Axle, 2)} }
	for _, c := range []struct {
		class layout.Class
		read  float64
		ask   bool
	}{
		{layout.PassengerCar, 14, false}, {layout.PassengerCar, 14.1, true}, {layout.PassengerCar, 17, true},
		{layout.LightTruck, 21, false}, {layout.LightTruck, 22, true},
		{layout.Motorhome, 22, true},
		{layout.Heavy, 32, false}, {layout.Heavy, 33, true},
		{layout.Bus, 33, true}, {layout.Trailer, 33, true},
		{layout.ClassNotTold, 33, false},
	} {
		rs := append(all(7, unit.ThirtySecondsInch), reading(4, 1, c.read, unit.ThirtySecondsInch))
		r := judge(t, under(of(c.class), "us-light"), at("1L", thirtySecond, rs))
		f, asked := has(r, finding.TreadUnlikelyDepth)
		if asked != c.ask {
			t.Errorf("class %d, %v/32: asked %v, want %v", c.class, c.read, asked, c.ask)
		}
		if asked && (f.Urgency != finding.Note || f.ToSettle != finding.SettleMeasureAgain || f.Place.Groove != 4 || f.Measured.Number != c.read) {
			t.Errorf("class %d, %v/32: %+v", c.class, c.read, f)
		}
	}
	// Measured again as 7, the 17 is still asked about.
	rs := append(all(7, unit.ThirtySecondsInch), reading(1, 1, 17, unit.ThirtySecondsInch))
	if _, ok := has(judge(t, under(car, "us-light"), at("1L", thirtySecond, rs)), finding.TreadUnlikelyDepth); !ok {
		t.Error("17/32 on a car is not asked about beside a repeat of 7/32")
	}
}

// Which bars are meant follows the law of the place that counts most: 1.6 mm where it is
// metric.
func TestBarsByLaw(t *testing.T) {
	for _, c := range []struct {
		books []string
		want  string
	}{
		{[]string{"us-light"}, "wear-bars"},
		{[]string{"uk-light"}, "wear-bars-metric"},
		{[]string{"uk-light", "us-light"}, "wear-bars-metric"},
		{[]string{"us-light", "uk-light"}, "wear-bars"},
		{[]string{"eu-fr", "advice"}, "wear-bars-metric"},
		{[]string{"advice"}, "wear-bars"},
		{nil, "wear-bars"},
	} {
		r := judge(t, under(car, c.books...), at("1L", exact, all(8, unit.ThirtySecondsInch)))
		if want := rulebook.Must("advice").Limit(c.want); r.BarLimit.ID != want.ID {
			t.Errorf("under %v: %s, want %s", c.books, r.BarLimit.ID, want.ID)
		}
	}
}
