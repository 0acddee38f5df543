package order

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// treadOf is a tread that was read at one depth, in thirty-seconds.
func treadOf(at string, n float64) tread.Result {
	d := unit.MustDepth(n, unit.ThirtySecondsInch)
	s, _ := tread.Summarize(tread.Wheel{Position: layout.MustParse(at), Readings: []tread.Reading{{Across: layout.Center, Depth: d, AsRead: d.Amount(unit.ThirtySecondsInch)}}})
	r := tread.Result{Summary: s}
	r.BarLimit.Value = unit.Amount{Number: 2, Unit: unit.ThirtySecondsInch}
	return r
}

// What is worn out is replaced (common practice): one tire with the choice of its mate,
// both where both are spent or a law on winter tires asks for it; where the answer is open
// it waits for the reading.
func TestWornTiresAreReplaced(t *testing.T) {
	car := layout.Vehicle{Class: layout.Bus, Axles: make([]layout.Axle, 2)}
	truck := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{Steered: true}, {Dual: true}}}
	const drive, soon, plan = finding.BeforeDriving, finding.ThisVisit, finding.Plan
	worn := func(at string) finding.Finding { return of(finding.TreadWornToBars, soon, at) }
	may := of(finding.TreadLegalLimit, soon, "1L")
	may.Candidate = true
	open := undecided(of(finding.TreadLegalLimit, drive, "1L"), finding.SettleReadBetterGauge)
	under := undecided(of(finding.TreadLegalLimit, drive, "1R"), finding.SettleReadBetterGauge)
	under.Margin = unit.Amount{Number: -0.5, Unit: unit.ThirtySecondsInch}
	over := under
	over.Margin.Number = 0.5
	ifBelow := "tire.replace-if-below 1L " + string(finding.WhenBelowOnceSettled)
	for _, c := range []struct {
		name     string
		v        layout.Vehicle
		found    []finding.Finding
		read     []string // wheels whose tread was read, at 7/32
		scrapped string
		want     []string
	}{
		{"nothing worn", car, nil, []string{"1L", "1R"}, "", nil},
		{"one, and its mate read", car, []finding.Finding{worn("1L")}, []string{"1R"}, "", []string{"tire.replace 1L", "tires.one-or-two 1R"}},
		{"one, and its mate not read", car, []finding.Finding{worn("1L")}, nil, "", []string{"tire.replace 1L"}},
		{"one, and its mate done for", car, []finding.Finding{worn("1L")}, []string{"1R"}, "1R", []string{"tire.replace 1L"}},
		{"both", car, []finding.Finding{worn("1L"), worn("1R")}, []string{"1L", "1R"}, "", []string{"tires.replace-pair 1L 1R"}},
		{"one, and its mate under its limit as far as the gauge can tell", car, []finding.Finding{worn("1L"), under}, []string{"1R"}, "", []string{"tires.replace-pair 1L 1R"}},
		{"one, and its mate over it as far as that", car, []finding.Finding{worn("1L"), over}, []string{"1R"}, "", []string{"tire.replace 1L", "tires.one-or-two 1R"}},
		{"of duals", truck, []finding.Finding{worn("2LI")}, []string{"2LO", "2RI"}, "", []string{"tire.replace 2LI"}},
		{"a spare", car, []finding.Finding{worn("S")}, nil, "", []string{"tire.replace S"}},
		{"by a law that may bind", car, []finding.Finding{may}, nil, "", nil},
		{"open", car, []finding.Finding{open}, nil, "", []string{ifBelow}},
		{"open, and worn out anyhow", car, []finding.Finding{open, worn("1L")}, nil, "", []string{"tire.replace 1L"}},
		{"by winter's law, this visit", car, []finding.Finding{of(finding.TreadWinterMinimum, soon, "1L")}, []string{"1R"}, "", []string{"tires.replace-pair 1L 1R"}},
		{"by winter's law, its mate not read", car, []finding.Finding{of(finding.TreadWinterMinimum, soon, "1L")}, nil, "", []string{"tire.replace 1L"}},
		{"by winter's law, to plan for", car, []finding.Finding{of(finding.TreadWinterMinimum, plan, "1L")}, []string{"1R"}, "", nil},
		{"too old", car, []finding.Finding{of(finding.AgeLegalLimit, drive, "1L")}, nil, "", []string{"tire.replace 1L"}},
		{"no winter tire", car, []finding.Finding{of(finding.TreadWinterMark, soon, "1L")}, nil, "", []string{"tires.fit-winter 1L"}},
		{"no winter tire, and no law asks for one", car, []finding.Finding{of(finding.TreadWinterMark, plan, "1L")}, nil, "", nil},
	} {
		in := In{Visit: visit.Visit{Vehicle: c.v}, Findings: c.found, Facts: Facts{Treads: questions.Treads{}, Scrapped: map[layout.Position]bool{}}}
		for _, at := range c.read {
			in.Facts.Treads[layout.MustParse(at)] = treadOf(at, 7)
		}
		if c.scrapped != "" {
			in.Facts.Scrapped[layout.MustParse(c.scrapped)] = true
		}
		var l lines
		in.replaceWorn(&l)
		if got := linesOf(l); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		for _, w := range l {
			if w.Code == finding.WorkTiresOneOrTwo && (w.Target.Number != 7 || w.Urgency != plan) {
				t.Errorf("%s: of a mate with %v, urgency %d", c.name, w.Target, w.Urgency)
			}
		}
	}
}

// A tire taken off a commercial front axle for its depth may serve where a lower limit
// applies: 49 CFR 393.75(b) asks for 4/32 in front, (c) for 2/32 elsewhere.
func TestTakenOffTheFrontItMayServe(t *testing.T) {
	truck := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{Steered: true}, {Dual: true}}}
	federal := []rulebook.Applied{{Book: rulebook.Must("us-commercial")}}
	front := []layout.Position{layout.MustParse("1L")}
	for _, c := range []struct {
		name  string
		at    string
		depth float64
		books []rulebook.Applied
		worn  bool
		scrap bool
		want  bool
	}{
		{"of 3/32", "1L", 3, federal, false, false, true},
		{"of 2/32", "1L", 2, federal, false, false, true},
		{"of less", "1L", 1.5, federal, false, false, false},
		{"of another axle", "2LO", 3, federal, false, false, false},
		{"worn out", "1L", 3, federal, true, false, false},
		{"done for", "1L", 3, federal, false, true, false},
		{"no law that lets it", "1L", 3, []rulebook.Applied{{Book: rulebook.Must("eu-de")}}, false, false, false},
	} {
		p := layout.MustParse(c.at)
		r := treadOf(c.at, c.depth)
		r.WornOut = c.worn
		in := In{Visit: visit.Visit{Vehicle: truck}, Books: c.books, Facts: Facts{Treads: questions.Treads{p: r}, Scrapped: map[layout.Position]bool{p: c.scrap}}}
		got := in.reuse([]layout.Position{p})
		if (len(got) == 1) != c.want || len(got) == 1 && (got[0].Code != finding.WorkTireReuseElsewhere || got[0].Condition != finding.WhenSoundAndMatching || got[0].Positions[0] != p) {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	if got := (In{Visit: visit.Visit{Vehicle: truck}, Books: federal}).reuse(front); got != nil {
		t.Errorf("not read: %+v", got)
	}
}

// A law on the depths of one axle takes the mate along where a new tire would differ from
// it by more; one that only may bind does not.
func TestNewTireApartFromItsMate(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	p, mate := layout.MustParse("1L"), layout.MustParse("1R")
	var law *rulebook.Book
	var most unit.Depth
	for _, b := range rulebook.All() {
		for _, l := range b.About(rulebook.DepthDifference) {
			if law == nil && b.ID != "advice" && l.AppliesTo(car, p) && l.Authority == finding.LawInUse {
				law, most = b, l.Depth()
			}
		}
	}
	if law == nil {
		t.Fatal("no law on the depths of one axle")
	}
	left := unit.MustDepth(4, unit.ThirtySecondsInch)
	for _, c := range []struct {
		name  string
		fresh unit.Depth
		may   bool
		want  bool
	}{
		{"by as much as it may", left + most, false, false},
		{"by more", left + most + 1, false, true},
		{"by more, of a law that may bind", left + most + 1, true, false},
		{"when new not told", 0, false, false},
	} {
		w := visit.Wheel{Position: p}
		if c.fresh > 0 {
			w.Tire.New = map[int]unit.Depth{0: c.fresh}
		}
		in := In{Visit: visit.Visit{Vehicle: car, Wheels: []visit.Wheel{w}}, Books: []rulebook.Applied{{Book: law, Candidate: c.may}}, Facts: Facts{Treads: questions.Treads{mate: treadOf("1R", 4)}}}
		if got := in.apart(p, mate); got != c.want {
			t.Errorf("%s, %s: %v", law.ID, c.name, got)
		}
	}
}

// Where new tires go (common practice): a new pair in front of a light vehicle whose tires
// are of one size makes way for the deeper pair in the rear, if those were read and stay;
// on an all-wheel drive what is replaced has to match what stays; on a commercial vehicle's
// front axle the rules on steered axles are told.
func TestWhereNewTiresGo(t *testing.T) {
	pair := func(at ...string) lines { return lines{{Code: finding.WorkTiresReplacePair, Positions: places(at...)}} }
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{{Size: "205/55R16"}, {Size: "205/55R16"}}}
	mixed, heavy, awd := car, car, car
	mixed.Axles = []layout.Axle{{Size: "205/55R16"}, {Size: "225/50R16"}}
	heavy.Class, awd.Drive = layout.Heavy, layout.AllDrive
	federal := []rulebook.Applied{{Book: rulebook.Must("us-commercial")}}
	const deeper, steered = "tires.deeper-pair-to-rear 1L 1R 2L 2R", "tire.steer-axle-rules 1L 1R"
	for _, c := range []struct {
		name     string
		v        layout.Vehicle
		books    []rulebook.Applied
		l        lines
		read     []string
		scrapped string
		want     []string
		match    []layout.Position
	}{
		{"a pair in front", car, nil, pair("1L", "1R"), []string{"2L", "2R"}, "", []string{deeper}, nil},
		{"a pair in the rear", car, nil, pair("2L", "2R"), []string{"1L", "1R"}, "", nil, nil},
		{"the rear not read", car, nil, pair("1L", "1R"), []string{"2L"}, "", nil, nil},
		{"one in the rear done for", car, nil, pair("1L", "1R"), []string{"2L", "2R"}, "2R", nil, nil},
		{"the rear replaced too", car, nil, pair("1L", "1R", "2L", "2R"), []string{"2L", "2R"}, "", nil, nil},
		{"of two sizes", mixed, nil, pair("1L", "1R"), []string{"2L", "2R"}, "", nil, nil},
		{"of a heavy vehicle", heavy, nil, pair("1L", "1R"), []string{"2L", "2R"}, "", nil, nil},
		{"under a law on steered axles", heavy, federal, pair("1L", "1R"), nil, "", []string{steered}, nil},
		{"under a law that says nothing of it", heavy, []rulebook.Applied{{Book: rulebook.Must("eu-de")}}, pair("1L", "1R"), nil, "", nil, nil},
		{"its rear, under that law", heavy, federal, pair("2L", "2R"), nil, "", nil, nil},
		{"all wheels driven", awd, nil, pair("2L", "2R"), nil, "", nil, places("2L", "2R")},
		{"all wheels driven, all replaced", awd, nil, pair("1L", "1R", "2L", "2R"), nil, "", nil, nil},
		{"all wheels driven, none replaced", awd, nil, nil, nil, "", nil, nil},
	} {
		in := In{Visit: visit.Visit{Vehicle: c.v}, Books: c.books, Facts: Facts{Treads: questions.Treads{}, Scrapped: map[layout.Position]bool{}}}
		for _, at := range c.read {
			in.Facts.Treads[layout.MustParse(at)] = treadOf(at, 7)
		}
		if c.scrapped != "" {
			in.Facts.Scrapped[layout.MustParse(c.scrapped)] = true
		}
		if got := linesOf(in.place(slices.Clone(c.l))); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
		match := in.matchRest(slices.Clone(c.l))
		if (len(match) == 1) != (c.match != nil) || len(match) == 1 && (!slices.Equal(match[0].Positions, c.match) || match[0].Code != finding.WorkTiresMatchSet || match[0].Condition != finding.WhenRestDiffer) {
			t.Errorf("%s: matched %+v", c.name, match)
		}
	}
}
