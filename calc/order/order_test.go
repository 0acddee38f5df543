package order

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/closing"
	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// of is a finding at some wheels.
func of(code finding.Code, u finding.Urgency, at ...string) finding.Finding {
	return finding.Finding{Code: code, Urgency: u, Positions: places(at...)}
}

func settledBy(f finding.Finding, s finding.Settle) finding.Finding { f.ToSettle = s; return f }

func undecided(f finding.Finding, s finding.Settle) finding.Finding {
	f.Outcome, f.ToSettle = measure.CannotTell, s
	return f
}

// told is a line with what it settles.
func told(ws []Work) (all []string) {
	for _, w := range ws {
		s := lineOf(w)
		if w.Settle != "" {
			s += " by " + string(w.Settle)
		}
		all = append(all, s)
	}
	return all
}

// What holds a vehicle: what is proved, until it is put right; what is in doubt, until the
// look or reading that ends it, where nothing proved holds it there already (our own
// decision).
func TestHeldUntil(t *testing.T) {
	ripple, limit := finding.DamageRadialRipple, finding.TreadLegalLimit
	const drive, soon = finding.BeforeDriving, finding.ThisVisit
	doubt := func(at string) finding.Finding { return undecided(of(limit, drive, at), finding.SettleReadBetterGauge) }
	by := string(finding.SettleReadBetterGauge)
	for _, c := range []struct {
		name   string
		found  []finding.Finding
		closed int // how many, from the first on
		want   []string
	}{
		{"nothing", nil, 0, nil},
		{"not before driving", []finding.Finding{of(limit, soon, "1L")}, 0, nil},
		{"proved", []finding.Finding{of(ripple, drive, "1R"), of(limit, drive, "1L")}, 0, []string{"vehicle.hold 1L 1R"}},
		{"put right", []finding.Finding{of(ripple, drive, "1R"), of(limit, drive, "1L")}, 1, []string{"vehicle.hold 1L"}},
		{"in doubt", []finding.Finding{doubt("1L")}, 0, []string{"vehicle.hold 1L by " + by}},
		{"in doubt, and nothing would end it", []finding.Finding{undecided(of(limit, drive, "1L"), "")}, 0, []string{"vehicle.hold 1L"}},
		{"in doubt where something proved holds it", []finding.Finding{doubt("1L"), of(ripple, drive, "1L")}, 0, []string{"vehicle.hold 1L"}},
		{"in doubt elsewhere", []finding.Finding{doubt("1L"), of(ripple, drive, "1R")}, 0, []string{"vehicle.hold 1R", "vehicle.hold 1L by " + by}},
		{"proved, with something to settle", []finding.Finding{settledBy(of(ripple, drive, "1L"), finding.SettleLookInside)}, 0, []string{"vehicle.hold 1L"}},
	} {
		in := In{Findings: c.found, Left: closing.Left{Done: map[string]finding.Closed{}}}
		for _, f := range c.found[:c.closed] {
			in.Left.Done[f.ID()] = finding.Closed("invented")
		}
		got := in.hold()
		if lines := told(got); !slices.Equal(lines, c.want) {
			t.Errorf("%s: %q, want %q", c.name, lines, c.want)
		}
		for _, w := range got {
			if w.Urgency != drive {
				t.Errorf("%s: urgency %d", c.name, w.Urgency)
			}
		}
	}
}

// What comes before anything else (common practice): no air into a tire that has to be
// seen inside, chocks before one is let down, and an object left in until it is dealt with.
func TestMadeSafeFirst(t *testing.T) {
	p := layout.MustParse("1L")
	nail := []visit.Observation{{Kind: finding.ObservedObjectInTread}}
	for _, c := range []struct {
		name    string
		air     inflation.Result
		seen    []visit.Observation
		want    []string
		caution finding.Caution
	}{
		{"nothing", inflation.Result{}, nil, nil, ""},
		{"no air", inflation.Result{NoAir: true}, nil, []string{"air.none 1L"}, finding.CautionRunLow},
		{"no air, let down first", inflation.Result{NoAir: true, Deflate: true}, nil, []string{"vehicle.chock", "air.none 1L"}, finding.CautionDeflate},
		{"let down, and air may go in", inflation.Result{Deflate: true}, nil, nil, ""},
		{"a nail in it", inflation.Result{}, nail, []string{"object.leave-in 1L"}, ""},
		{"something else seen", inflation.Result{}, []visit.Observation{{Kind: finding.ObservedScalloped}}, nil, ""},
	} {
		in := In{Visit: visit.Visit{Wheels: []visit.Wheel{{Position: p, Observations: c.seen}}}}
		in.Facts.Air.Airs.Results = map[layout.Position]inflation.Result{p: c.air}
		got := in.makeSafe()
		if lines := told(got); !slices.Equal(lines, c.want) {
			t.Errorf("%s: %q, want %q", c.name, lines, c.want)
		}
		for _, w := range got {
			if w.Code == finding.WorkAirNone && w.Caution != c.caution {
				t.Errorf("%s: caution %q", c.name, w.Caution)
			}
		}
	}
}

// A reading that decides comes before work starts, and not at a tire that is worn out
// whatever it says.
func TestMeasuredFirst(t *testing.T) {
	p := layout.MustParse("1L")
	gauge, cold, body := finding.SettleReadBetterGauge, finding.SettleReadCold, finding.SettleReadBodyPly
	const drive, soon, plan = finding.BeforeDriving, finding.ThisVisit, finding.Plan
	byGauge, byBody := []string{"measure.to-settle 1L by " + string(gauge)}, []string{"measure.to-settle 1L by " + string(body)}
	readCold := []string{"air.read-cold 1L"}
	for _, c := range []struct {
		name  string
		found finding.Finding
		worn  bool
		why   finding.Target
		hole  bool
		want  []string
	}{
		{"a legal limit in doubt", undecided(of(finding.TreadLegalLimit, drive, "1L"), gauge), false, "", false, byGauge},
		{"and worn out anyhow", undecided(of(finding.TreadLegalLimit, drive, "1L"), gauge), true, "", false, nil},
		{"a legal limit, proved", of(finding.TreadLegalLimit, drive, "1L"), false, "", false, nil},
		{"a limit to fit in doubt", undecided(of(finding.TreadFittingLimit, drive, "1L"), gauge), false, "", false, byGauge},
		{"a winter minimum in doubt", undecided(of(finding.TreadWinterMinimum, soon, "1L"), gauge), false, "", false, byGauge},
		{"one to plan for", undecided(of(finding.TreadWinterMinimum, plan, "1L"), gauge), false, "", false, nil},
		{"a model's limit in doubt", undecided(of(finding.TreadModelLimit, soon, "1L"), gauge), false, "", false, byGauge},
		{"and worn out anyhow, too", undecided(of(finding.TreadModelLimit, soon, "1L"), gauge), true, "", false, nil},
		{"a model's limit that nothing settles", undecided(of(finding.TreadModelLimit, soon, "1L"), ""), false, "", false, nil},
		{"a cut in doubt", undecided(of(finding.DamageCutLimit, soon, "1L"), gauge), false, "", false, byGauge},
		{"a cut, proved", of(finding.DamageCutLimit, soon, "1L"), false, "", false, nil},
		{"the body not told", settledBy(of(finding.InflationRunLowUndecided, soon, "1L"), body), false, "", false, byBody},
		{"the body not told, to plan for", settledBy(of(finding.InflationLow, plan, "1L"), body), false, "", false, nil},
		{"ran low, decided cold", settledBy(of(finding.InflationRunLowUndecided, soon, "1L"), cold), false, "", false, readCold},
		{"and it has a hole", settledBy(of(finding.InflationRunLowUndecided, soon, "1L"), cold), false, "", true, nil},
		{"ran low, decided inside", settledBy(of(finding.InflationRunLowUndecided, soon, "1L"), finding.SettleLookInside), false, "", false, nil},
		{"a leak to be read cold, that waits", settledBy(of(finding.InflationFindLeak, soon, "1L"), cold), false, finding.TargetWait, false, readCold},
		{"that has its target", settledBy(of(finding.InflationFindLeak, soon, "1L"), cold), false, finding.TargetLabel, false, nil},
		{"too full, to be let down cold", of(finding.InflationAboveSidewallMaximum, soon, "1L"), false, finding.TargetLowerCold, false, readCold},
		{"too full, let down now", of(finding.InflationAboveSidewallMaximum, soon, "1L"), false, finding.TargetLetDown, false, nil},
		{"of two wheels", settledBy(of(finding.InflationRunLowUndecided, soon, "1L", "1R"), cold), false, "", false, nil},
	} {
		in := In{Findings: []finding.Finding{c.found}}
		in.Facts.Treads = questions.Treads{p: tread.Result{WornOut: c.worn}}
		in.Facts.Air.Airs.Results = map[layout.Position]inflation.Result{p: {Target: inflation.Target{Why: c.why}}}
		if c.hole {
			in.Facts.Holes.Repairs = []questions.Repair{{Position: p}}
		}
		if lines := told(in.measureFirst()); !slices.Equal(lines, c.want) {
			t.Errorf("%s: %q, want %q", c.name, lines, c.want)
		}
	}
}

// What a finding asks for by itself, where its own words make another line of it than that
// of its kind.
func TestWhatAFindingAsksFor(t *testing.T) {
	evidence := func(f finding.Finding, e finding.Fact) finding.Finding {
		f.Evidence = append(slices.Clone(f.Evidence), finding.Evidence{Code: e})
		return f
	}
	const soon, plan, note = finding.ThisVisit, finding.Plan, finding.Note
	p := layout.MustParse("1L")
	for _, c := range []struct {
		name   string
		f      finding.Finding
		change func(*In)
		want   []string
	}{
		{"mounted the wrong way round", of(finding.MountArrowOpposes, soon, "1L", "1R"), nil, []string{"tire.demount-inspect 1L 1R", "tire.remount 1L 1R"}},
		{"two that are, on one axle", evidence(of(finding.MountArrowOpposes, soon, "1L", "1R"), finding.FactMountSwapCures), nil, []string{"wheels.swap-sides 1L 1R"}},
		{"a slow leak", of(finding.ComplaintSlowLeak, soon, "1L"), nil, []string{"air.find-leak 1L"}},
		{"a slow leak, nobody says where", of(finding.ComplaintSlowLeak, soon), nil, nil},
		{"a slow leak, and the hole is known", of(finding.ComplaintSlowLeak, soon, "1L"), func(in *In) { in.Facts.Holes.Repairs = []questions.Repair{{Position: p}} }, nil},
		{"a slow leak of a tire that is done for", of(finding.ComplaintSlowLeak, soon, "1L"), func(in *In) { in.Facts.Scrapped = map[layout.Position]bool{p: true} }, nil},
		{"a slow leak, and no air may go in", of(finding.ComplaintSlowLeak, soon, "1L"), func(in *In) { in.Facts.Air.Airs.Results = map[layout.Position]inflation.Result{p: {NoAir: true}} }, nil},
		{"a slow leak, let down", of(finding.ComplaintSlowLeak, soon, "1L"), func(in *In) { in.Facts.Air.Airs.Results = map[layout.Position]inflation.Result{p: {Deflate: true}} }, nil},
		{"loses faster", of(finding.TrendLosesFaster, plan, "1L"), nil, []string{"air.find-leak 1L"}},
		{"loses faster, as a note", of(finding.TrendLosesFaster, note, "1L"), nil, nil},
		{"grew: one of two was misread", settledBy(of(finding.TrendGrew, soon, "1L"), finding.SettleMovedOrMisread), nil, []string{"measure.again 1L"}},
		{"grew, as a note", settledBy(of(finding.TrendGrew, note, "1L"), finding.SettleMovedOrMisread), nil, nil},
	} {
		in := In{}
		if c.change != nil {
			c.change(&in)
		}
		if lines := told(in.by(c.f)); !slices.Equal(lines, c.want) {
			t.Errorf("%s: %q, want %q", c.name, lines, c.want)
		}
	}
}

// Lines that facts ask for beside the findings.
func TestWhatFactsAskFor(t *testing.T) {
	p, q := layout.MustParse("1L"), layout.MustParse("1R")
	due := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Miles} }
	in := In{Visit: visit.Visit{Wheels: []visit.Wheel{{Position: p}, {Position: q, Pressure: visit.Pressure{Of: unit.MustPressure(33, unit.PSI), Read: unit.PSI}}}}}
	in.Facts.Load.Reduce = []layout.Position{p, q}
	in.Facts.Fasteners.Renew = []fastener.Renewal{{At: p}, {At: q, All: true}}
	in.Facts.Fasteners.Due = []fastener.Due{{At: p, From: due(50), By: due(100)}, {At: q, From: due(10), By: due(10), Trailer: true}}
	want := []string{
		"load.reduce 1L", "measure.to-settle 1L by " + string(finding.SettleReadAllWheels), "load.reduce 1R",
		"fasteners.renew-with-neighbors 1L", "fasteners.renew-all 1R",
		"owed.torque-recheck 1L 50-100", "owed.torque-recheck-trailer 1R 10-10",
	}
	if got := told(in.asked()); !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// A comparison in doubt is measured, and matched if the tape shows it; the lower tire of
// an axle is the one that another comes in the place of.
func TestMatching(t *testing.T) {
	line := Work{Code: finding.WorkDualMatch, Positions: places("2LI", "2LO")}
	pair := of(finding.MatchDual, finding.ThisVisit, "2LI", "2LO")
	for name, c := range map[string]struct {
		f    finding.Finding
		want []string
	}{
		"proved":   {pair, []string{"dual.match 2LI 2LO"}},
		"in doubt": {undecided(pair, finding.SettleReadBetterGauge), []string{"measure.to-settle 2LI 2LO by " + string(finding.SettleReadBetterGauge), "dual.match 2LI 2LO " + string(finding.WhenTapeShowsIt)}},
		"a note":   {of(finding.MatchDual, finding.Note, "2LI", "2LO"), nil},
	} {
		if got := told(match(c.f, line)); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", name, got, c.want)
		}
	}
	apart := of(finding.TreadAxleDifference, finding.ThisVisit, "1L", "1R")
	for fact, want := range map[finding.Fact][]layout.Position{
		finding.FactTreadLeftIsLower: places("1L"), finding.FactTreadRightIsLower: places("1R"), "": places("1L", "1R"),
	} {
		f := apart
		f.Evidence = []finding.Evidence{{Code: fact}}
		if got := (In{}).lower(f); !slices.Equal(got, want) {
			t.Errorf("%q: %v, want %v", fact, got, want)
		}
	}
}

// What the answer about a hole asks for: decided, the work; open, what is measured first,
// and a look inside unless measuring alone may end it.
func TestWorkOnAHole(t *testing.T) {
	p := layout.MustParse("1L")
	inside := visit.Wheel{Position: p, Looked: []visit.Looked{{What: finding.LookedInsideOfTire}}}
	outside := visit.Wheel{Position: p}
	first := []finding.Settle{finding.SettleReadBetterGauge}
	missing := first
	by := "measure.to-settle 1L by " + string(finding.SettleReadBetterGauge)
	look := []string{"tire.demount-inspect 1L", "repair.after-inspection 1L " + string(finding.WhenInsideClean)}
	for _, c := range []struct {
		name   string
		wheel  visit.Wheel
		r      puncture.Result
		want   []string
		proved bool
	}{
		{"not to be repaired", outside, puncture.Result{Answer: puncture.NotRepairable, Least: puncture.NotRepairable}, []string{"tire.replace 1L"}, true},
		{"likely not to be, and open how bad it is", outside, puncture.Result{Answer: puncture.NotRepairable, Least: puncture.Repairable}, look, false},
		{"no nail hole", outside, puncture.Result{Answer: puncture.NotAsNailHole, Least: puncture.NotAsNailHole}, []string{"repair.refer-section 1L"}, true},
		{"to be repaired", inside, puncture.Result{Answer: puncture.Repairable, Least: puncture.Repairable, Method: puncture.Combination}, []string{"repair.combination 1L"}, true},
		{"in two pieces", inside, puncture.Result{Answer: puncture.Repairable, Least: puncture.Repairable, Method: puncture.TwoPiece}, []string{"repair.two-piece 1L"}, true},
		{"no injury", outside, puncture.Result{Answer: puncture.NoInjury}, []string{"object.remove-and-soap 1L"}, true},
		{"open, and the inside was seen", inside, puncture.Result{}, []string{"repair.find-out 1L"}, false},
		{"open", outside, puncture.Result{}, look, false},
		{"open, and a reading may end it", outside, puncture.Result{First: first, Missing: missing}, []string{by}, false},
		{"open, and more is missing", outside, puncture.Result{First: first, Missing: append(missing, finding.SettleLookInside)}, append([]string{by}, look...), false},
	} {
		got := repair(c.wheel, c.r)
		if lines := told(got); !slices.Equal(lines, c.want) {
			t.Errorf("%s: %q, want %q", c.name, lines, c.want)
		}
		for _, w := range got {
			if (w.rests == finding.Proved) != c.proved {
				t.Errorf("%s: %s rests on %v", c.name, w.Code, w.rests)
			}
		}
	}
}

// The tire that carried the load of its low neighbor comes off too, without air.
func TestMatesThatCarriedTheLoad(t *testing.T) {
	for code, want := range map[finding.Code][]string{
		finding.InflationDualMateCarriedLoad:   {"air.none 2LI", "air.deflate-first 2LI", "tire.demount-inspect 2LI", "tire.restraining-device 2LI " + string(finding.WhenPassedInside)},
		finding.InflationTandemMateCarriedLoad: {"air.none 2LI", "air.deflate-first 2LI", "tire.demount-inspect 2LI", "tire.restraining-device 2LI " + string(finding.WhenPassedInside)},
		finding.InflationLow:                   nil,
	} {
		got := In{Findings: []finding.Finding{of(code, finding.ThisVisit, "2LI")}}.inspectMates()
		if lines := told(got); !slices.Equal(lines, want) {
			t.Errorf("%s: %q", code, lines)
		}
		if len(got) > 0 && (got[0].Caution != finding.CautionDeflate || got[3].Target.IsZero()) {
			t.Errorf("%s: %+v", code, got)
		}
	}
}
