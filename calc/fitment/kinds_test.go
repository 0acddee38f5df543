package fitment

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// bias is a tire of a numeric size with bias plies.
func bias() Tire {
	return Tire{Marking: sidewall.Marking{Class: sidewall.NumericHeavy, Construction: sidewall.Bias}}
}

func radial() Tire {
	return Tire{Marking: sidewall.Marking{Class: sidewall.NumericHeavy, Construction: sidewall.Radial}}
}

// Bias and radial tires on one axle: a commercial vehicle does not pass its
// periodic inspection (Appendix A to 49 CFR 396, read in the matching code of a
// State); in the United Kingdom reg. 26 forbids it, and radial tires ahead of
// bias tires (as reported).
func TestConstructionMix(t *testing.T) {
	for _, c := range []struct {
		name  string
		tires [4]Tire
		book  string
		rules []string // of the findings
	}{
		{"all radial", [4]Tire{radial(), radial(), radial(), radial()}, "us-commercial", nil},
		{"one bias, commercial", [4]Tire{radial(), bias(), radial(), radial()}, "us-commercial", []string{"us-commercial.construction"}},
		{"one bias, United Kingdom", [4]Tire{radial(), radial(), radial(), bias()}, "uk-light", []string{"uk-light.construction", "uk-light.radial-ahead"}},
		{"one bias, no law known", [4]Tire{radial(), radial(), radial(), bias()}, "us-light", []string{""}},
		{"radial ahead of bias", [4]Tire{radial(), radial(), bias(), bias()}, "uk-light", []string{"uk-light.radial-ahead"}},
		{"bias ahead of radial", [4]Tire{bias(), bias(), radial(), radial()}, "uk-light", nil},
		{"not told", [4]Tire{{}, bias(), {}, radial()}, "us-commercial", nil},
	} {
		r := Judge(Vehicle{Layout: car(layout.RearDrive), Books: []rulebook.Applied{{Book: rulebook.Must(c.book)}},
			Wheels: four(func(w *Wheel, i int) { w.Tire = c.tires[i] })})
		var rules []string
		for _, f := range append(found(r, finding.FitmentConstructionMixed), found(r, finding.FitmentRadialAhead)...) {
			rules = append(rules, f.Rule.ID)
			if f.Urgency != finding.ThisVisit {
				t.Errorf("%s: %v", c.name, f.Urgency)
			}
		}
		if !slices.Equal(rules, c.rules) {
			t.Errorf("%s: %q, want %q", c.name, rules, c.rules)
		}
	}
}

// Sizes or seasons mixed on an axle, winter tires on one axle only: at this
// visit. Load ranges and designs: to plan (common practice).
func TestMixes(t *testing.T) {
	with := func(change func(*Tire)) Tire { t := oneDesign; change(&t); return t }
	peak := with(func(t *Tire) { t.ThreePeaks = finding.Yes })
	plain := with(func(t *Tire) { t.ThreePeaks = finding.No })
	for _, c := range []struct {
		name  string
		tires [4]Tire
		code  finding.Code // "": none of them
		at    string
		u     finding.Urgency
	}{
		{"alike", [4]Tire{oneDesign, oneDesign, oneDesign, oneDesign}, "", "", 0},
		{"size on the front axle", [4]Tire{oneDesign, marked("P205/60R16 91T"), oneDesign, oneDesign}, finding.FitmentSizesMixed, "1L 1R ", finding.ThisVisit},
		{"sizes by axle", [4]Tire{oneDesign, oneDesign, marked("P235/55R16 96T"), marked("P235/55R16 96T")}, "", "", 0},
		{"load ranges", [4]Tire{marked("LT245/75R16 D"), marked("LT245/75R16 E"), oneDesign, oneDesign}, finding.FitmentLoadMixed, "1L 1R ", finding.Plan},
		{"passenger beside LT", [4]Tire{oneDesign, oneDesign, marked("P245/75R16 109S"), marked("LT245/75R16 E")}, finding.FitmentLoadMixed, "2L 2R ", finding.Plan},
		{"directional beside not", [4]Tire{with(func(t *Tire) { t.Directional = finding.Yes }), with(func(t *Tire) { t.Directional = finding.No }), oneDesign, oneDesign}, finding.FitmentDesignsMixed, "1L 1R ", finding.Plan},
		{"winter on the front axle", [4]Tire{peak, peak, plain, plain}, finding.FitmentSeasonOneAxle, "1L 1R 2L 2R ", finding.ThisVisit},
		{"winter on one wheel", [4]Tire{peak, plain, plain, plain}, finding.FitmentSeasonMixed, "1L 1R ", finding.ThisVisit},
		{"winter all round", [4]Tire{peak, peak, peak, peak}, "", "", 0},
		{"rears not read", [4]Tire{peak, peak, oneDesign, oneDesign}, "", "", 0},
	} {
		r := Judge(Vehicle{Layout: car(layout.RearDrive), Wheels: four(func(w *Wheel, i int) { w.Tire = c.tires[i] })})
		if c.code == "" {
			if len(r.Findings) != 0 {
				t.Errorf("%s: %+v", c.name, r.Findings)
			}
		} else if fs := found(r, c.code); len(fs) != 1 || at(fs[0]) != c.at || fs[0].Urgency != c.u || len(r.Findings) != 1 {
			t.Errorf("%s: %+v", c.name, r.Findings)
		}
		if c.name == "rears not read" != asked(r, finding.AskSeasonMarks) {
			t.Errorf("%s: asked for the marks: %v", c.name, asked(r, finding.AskSeasonMarks))
		}
	}
	heavy := truck()
	r := Judge(Vehicle{Layout: heavy, Wheels: []Wheel{{At: layout.MustParse("1L"), Tire: plain}, {At: layout.MustParse("2LO"), Tire: peak}}})
	if len(found(r, finding.FitmentSeasonOneAxle)) != 0 {
		t.Error("winter treads on the driving axle of a truck are usual")
	}
}

// An arrow that opposes the roll is put right by remounting; swapping sides is
// enough only where both wheels of the axle are wrong and nothing else is
// (common practice).
func TestMarks(t *testing.T) {
	agrees, opposes := Marks{Arrow: ArrowAgrees}, Marks{Arrow: ArrowOpposes}
	for _, c := range []struct {
		name  string
		marks [4]Marks
		at    string // where arrows oppose
		swap  bool
	}{
		{"all agree", [4]Marks{agrees, agrees, agrees, agrees}, "", false},
		{"backward after a repair elsewhere", [4]Marks{agrees, opposes, agrees, agrees}, "1R ", false},
		{"both of an axle", [4]Marks{opposes, opposes, agrees, agrees}, "1L 1R ", true},
		{"one of each axle", [4]Marks{opposes, agrees, agrees, opposes}, "1L 2R ", false},
		{"both, one with OUTSIDE in", [4]Marks{{Arrow: ArrowOpposes, Outside: FacesIn}, opposes, agrees, agrees}, "1L 1R ", false},
		{"not looked at", [4]Marks{}, "", false},
	} {
		r := Judge(Vehicle{Layout: car(layout.FrontDrive), Wheels: four(func(w *Wheel, i int) { w.Marks = c.marks[i] })})
		where, swap := "", false
		for _, f := range found(r, finding.MountArrowOpposes) {
			where += at(f)
			_, cures := evidence(f, finding.FactMountSwapCures)
			swap = swap || cures
			if f.Urgency != finding.ThisVisit {
				t.Errorf("%s: %v", c.name, f.Urgency)
			}
		}
		if where != c.at || swap != c.swap {
			t.Errorf("%s: at %q, swap %v", c.name, where, swap)
		}
	}
	r := Judge(Vehicle{Layout: car(layout.FrontDrive), Wheels: four(func(w *Wheel, i int) {
		w.Marks = [4]Marks{{Outside: FacesIn}, {Outside: FacesOut}, {Date: FacesIn}, {Date: FacesOut}}[i]
	})})
	if fs := found(r, finding.MountOutsideIn); len(fs) != 1 || at(fs[0]) != "1L " || fs[0].Urgency != finding.ThisVisit {
		t.Errorf("OUTSIDE in: %+v", fs)
	}
	if fs := found(r, finding.MountDateInboard); len(fs) != 1 || at(fs[0]) != "2L " || fs[0].Urgency != finding.Note {
		t.Errorf("date inboard: %+v", fs)
	}
	if fs := found(Judge(Vehicle{Layout: car(layout.FrontDrive), Wheels: []Wheel{{At: layout.Position{Spare: true}, Marks: Marks{Arrow: ArrowOpposes}}}}), finding.MountArrowOpposes); len(fs) != 0 {
		t.Error("a spare in its place rolls nowhere")
	}
}

// An ordinary rubber snap-in valve is made for 65 psi (common practice, from
// memory); what is marked on a valve wins.
func TestValves(t *testing.T) {
	psi := func(n float64) unit.Pressure { return unit.MustPressure(n, unit.PSI) }
	for _, c := range []struct {
		name  string
		valve Valve
		label float64
		under bool
		met   bool
	}{
		{"rubber at 33", Valve{RubberSnapIn: true}, 33, false, true},
		{"rubber at 65", Valve{RubberSnapIn: true}, 65, false, true},
		{"rubber at 80", Valve{RubberSnapIn: true}, 80, true, false},
		{"marked 100, at 80", Valve{RubberSnapIn: true, Rating: psi(100), RatingUnit: unit.PSI}, 80, false, true},
		{"marked 60, at 65", Valve{RubberSnapIn: true, Rating: psi(60), RatingUnit: unit.PSI}, 65, true, false},
		{"another kind, not marked", Valve{}, 80, false, false},
		{"label not told", Valve{RubberSnapIn: true}, 0, false, false},
	} {
		r := Judge(Vehicle{Layout: car(layout.RearDrive), Wheels: []Wheel{{At: layout.MustParse("2L"), Valve: c.valve, Label: psi(c.label), LabelUnit: unit.PSI}}})
		if under := len(found(r, finding.ValveUnderRated)) == 1; under != c.under || met(r, finding.CheckedValveUnderRated) != c.met {
			t.Errorf("%s: under-rated %v, met %v", c.name, under, met(r, finding.CheckedValveUnderRated))
		}
		if under, _ := c.valve.UnderRated(psi(c.label)); under != c.under {
			t.Errorf("%s: UnderRated says %v", c.name, under)
		}
	}
	r := Judge(Vehicle{Layout: car(layout.RearDrive), Wheels: []Wheel{{At: layout.MustParse("2L"), Valve: Valve{AluminumStem: true, BrassCoreBare: true}}}})
	if fs := found(r, finding.ValveCoreSeizes); len(fs) != 1 || fs[0].Urgency != finding.Note {
		t.Errorf("%+v", r.Findings)
	}
}

// Age is by the week of making; no age alone keeps a vehicle from driving
// (common practice: yearly checks after five to six years, replacement by ten).
func TestAge(t *testing.T) {
	made := func(week, year int) Tire { return Tire{Made: sidewall.Made{Week: week, Year: year}} }
	after := func(t Tire, years int) Tire { t.ReplaceAfter = years; return t }
	for _, c := range []struct {
		name string
		tire Tire
		code finding.Code
		u    finding.Urgency
		says float64
		by   float64
	}{
		{"four years", made(18, 2021), "", 0, 0, 0},
		{"week 18 of 2016, nine years", made(18, 2016), finding.AgeCheckYearly, finding.Note, 9, 5},
		{"ten years", made(18, 2015), finding.AgeReplaceAdvised, finding.Plan, 10, 10},
		{"maker says six", after(made(18, 2018), 6), finding.AgeReplaceAdvised, finding.Plan, 7, 6},
		{"maker says twelve, at ten", after(made(18, 2015), 12), finding.AgeCheckYearly, finding.Note, 10, 5},
		{"not read", Tire{}, "", 0, 0, 0},
	} {
		v := Vehicle{Layout: car(layout.RearDrive), AsOf: unit.Date{Year: 2025, Month: 11, Day: 1}, Wheels: []Wheel{{At: layout.MustParse("1L"), Tire: c.tire}}}
		r := Judge(v)
		if c.code == "" {
			if len(r.Findings) != 0 {
				t.Errorf("%s: %+v", c.name, r.Findings)
			}
			continue
		}
		fs := found(r, c.code)
		if len(fs) != 1 || fs[0].Urgency != c.u || fs[0].Measured.Number != c.says || fs[0].Limit.Number != c.by {
			t.Errorf("%s: %+v", c.name, r.Findings)
			continue
		}
		week, _ := evidence(fs[0], finding.FactAgeMadeWeek)
		year, _ := evidence(fs[0], finding.FactAgeMadeYear)
		if int(week.Number) != c.tire.Made.Week || int(year.Number) != c.tire.Made.Year {
			t.Errorf("%s: made in week %v of %v", c.name, week, year)
		}
		v.AsOf = unit.Date{}
		if r := Judge(v); len(r.Findings) != 0 {
			t.Errorf("%s: judged without a day: %+v", c.name, r.Findings)
		}
	}
}

// How long a tire was in use is told beside its age where the day it was fitted is known, from
// that day on; by when tires are commonly replaced, where its maker did not say.
func TestWhatIsToldBesideAnAge(t *testing.T) {
	day := unit.Date{Year: 2025, Month: 11, Day: 1}
	for _, c := range []struct {
		name   string
		fitted unit.Date
		maker  int
		years  float64 // -1: not told
		by     bool
	}{
		{"not told", unit.Date{}, 0, -1, true},
		{"two years ago", unit.Date{Year: 2023, Month: 11, Day: 1}, 0, 2, true},
		{"today", day, 0, 0, true},
		{"tomorrow", unit.Date{Year: 2025, Month: 11, Day: 2}, 0, -1, true},
		{"and the maker says twelve", unit.Date{Year: 2023, Month: 11, Day: 1}, 12, 2, false},
	} {
		tire := Tire{Made: sidewall.Made{Week: 18, Year: 2018}, Fitted: c.fitted, ReplaceAfter: c.maker}
		fs := found(Judge(Vehicle{Layout: car(layout.RearDrive), AsOf: day, Wheels: []Wheel{{At: layout.MustParse("1L"), Tire: tire}}}), finding.AgeCheckYearly)
		if len(fs) != 1 {
			t.Fatalf("%s: %+v", c.name, fs)
		}
		years, told := evidence(fs[0], finding.FactAgeYearsSinceFitted)
		by, said := evidence(fs[0], finding.FactAgeCommonlyReplacedBy)
		if told != (c.years >= 0) || told && years.Number != c.years || said != c.by || said && by.Number != 10 {
			t.Errorf("%s: in use %v (%v), replaced by %v (%v)", c.name, years, told, by, said)
		}
	}
}

// Trailers, motorhomes and spares: age governs before tread. Where joined cracks
// finish a tire of a trailer, those as old go with it (common practice).
func TestAgeGovernsOnTrailers(t *testing.T) {
	old := sidewall.Made{Week: 20, Year: 2017}
	v := Vehicle{Layout: layout.Vehicle{Class: layout.Trailer, Axles: make([]layout.Axle, 1)}, AsOf: unit.Date{Year: 2026, Month: 6, Day: 15}, Wheels: []Wheel{
		{At: layout.MustParse("1L"), Tire: Tire{Made: old, Cracked: true, Fitted: unit.Date{Year: 2020, Month: 6, Day: 15}}},
		{At: layout.MustParse("1R"), Tire: Tire{Made: sidewall.Made{Week: 1, Year: 2024}}},
		{At: layout.Position{Spare: true}, Tire: Tire{Made: old}},
	}}
	r := Judge(v)
	fs := found(r, finding.AgeAsOldAsCracked)
	if len(fs) != 1 || at(fs[0]) != "S " || fs[0].Urgency != finding.ThisVisit || fs[0].Measured.Number != 9 {
		t.Errorf("%+v", fs)
	}
	for _, f := range found(r, finding.AgeCheckYearly) {
		if _, ok := evidence(f, finding.FactAgeGovernsBeforeTread); !ok {
			t.Errorf("%s: age does not govern", at(f))
		}
	}
	if since, ok := evidence(found(r, finding.AgeCheckYearly)[0], finding.FactAgeYearsSinceFitted); !ok || since.Number != 6 {
		t.Errorf("fitted six years ago, not made: %v", since)
	}
	if fs := found(r, finding.AgeApartOnAxle); len(fs) != 1 || at(fs[0]) != "1L " {
		t.Errorf("apart on the axle: %+v", fs)
	}
	v.Layout.Class = layout.PassengerCar
	if len(found(Judge(v), finding.AgeAsOldAsCracked)) != 0 {
		t.Error("a car's tires go by their own cracks")
	}
}

// A spare in service that is no full match comes off again, and is not compared
// with the others; one that matches is (common practice).
func TestSpareInService(t *testing.T) {
	at2R := layout.MustParse("2R")
	for _, c := range []struct {
		name     string
		spare    Spare
		at2R     Tire
		compared bool
	}{
		{"none", Spare{}, oneDesign, true},
		{"told", Spare{InService: at2R}, oneDesign, false},
		{"seen by its marking", Spare{}, marked("T125/70D15 95M"), false},
		{"told, of another design", Spare{InService: at2R}, marked("P205/60R16 91T"), false},
		{"matching by what was told, not by its marking", Spare{Matching: true, InService: at2R}, marked("T125/70D15 95M"), false},
		{"matching", Spare{Matching: true, InService: at2R}, oneDesign, true},
	} {
		v := Vehicle{Layout: withLabel(car(layout.AllDrive), "P215/60R16 94T"), Spare: c.spare, Wheels: four(func(w *Wheel, i int) {
			if w.Tire, w.Depth = oneDesign, read(graduated, 8); i == 3 {
				w.Tire, w.Depth = c.at2R, read(graduated, 2)
			}
		})}
		r := Judge(v)
		if n := len(found(r, finding.MatchAllWheelDrive)) + len(found(r, finding.FitmentSizesMixed)) + len(found(r, finding.FitmentSizeNotLabel)); (n > 0) != c.compared || met(r, finding.CheckedMatchAllWheelDrive) {
			t.Errorf("%s: %+v", c.name, r.Findings)
		}
	}
}
