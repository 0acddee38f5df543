package order

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// at is a line of work at some wheels.
func at(code finding.Work, on finding.Condition, names ...string) Work {
	return Work{Code: code, Condition: on, Positions: places(names...)}
}

// Whatever comes off goes on again (common practice): asked for, taken off, looked at
// while it is off, its valve renewed, balanced, mounted and hung; on a condition where
// that was one.
func TestWhatComesOffGoesOnAgain(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	trailer := layout.Vehicle{Class: layout.Trailer, Axles: make([]layout.Axle, 2)}
	truck := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{Steered: true}, {Dual: true, Driven: true}}}
	const may, leak = finding.WhenWheelComesOff, finding.WhenPassedInside
	off := []string{"air.compare-mate 1L", "consent.look 1L", "vehicle.chock", "wheel.hang 1L", "wheel.look-while-off 1L", "wheel.take-off 1L"}
	bare := []string{"tire.mount 1L", "tire.soap 1L", "valve.renew 1L"}
	all := func(more ...[]string) []string { return slices.Sorted(slices.Values(slices.Concat(more...))) }
	for _, c := range []struct {
		name string
		of   layout.Vehicle
		l    lines
		want []string
	}{
		{"nothing comes off", car, lines{at(finding.WorkAirSet, "", "1L")}, nil},
		{"a wheel alone", car, lines{at(finding.WorkReferBrakesHub, "", "1L")}, off},
		{"a tire seen inside", car, lines{at(finding.WorkTireDemountInspect, "", "1L")}, all(off, bare, []string{"wheel.balance 1L"})},
		{"a tire replaced", car, lines{at(finding.WorkTireReplace, "", "1L")}, all(off, bare, []string{"consent.mend 1L", "tire.check-new 1L", "wheel.balance 1L"})},
		{"of a trailer: seldom balanced", trailer, lines{at(finding.WorkTireDemountInspect, "", "1L")}, all(off, bare)},
		{"of a heavy vehicle: faces cleaned", truck, lines{at(finding.WorkReferBrakesHub, "", "1L")}, all(off, []string{"wheel.mating-faces 1L"})},
		{"perhaps", car, lines{at(finding.WorkReferBrakesHub, may, "1L")},
			[]string{"consent.look 1L " + string(may), "vehicle.chock " + string(may), "wheel.hang 1L " + string(may), "wheel.take-off 1L " + string(may)}},
		{"two perhaps: chocked once", car, lines{at(finding.WorkReferBrakesHub, may, "1L", "1R")},
			[]string{"consent.look 1L " + string(may), "consent.look 1R " + string(may), "vehicle.chock " + string(may),
				"wheel.hang 1L " + string(may), "wheel.hang 1R " + string(may), "wheel.take-off 1L " + string(may), "wheel.take-off 1R " + string(may)}},
		{"on one condition and another: if it comes off", car, lines{at(finding.WorkReferBrakesHub, leak, "1L"), at(finding.WorkTiresOneOrTwo, "", "1L"), at(finding.WorkWheelClearSpace, may, "1L")},
			[]string{"consent.look 1L " + string(may), "vehicle.chock " + string(may), "wheel.hang 1L " + string(may), "wheel.take-off 1L " + string(may)}},
		{"perhaps, and in any case", car, lines{at(finding.WorkReferBrakesHub, may, "1L"), at(finding.WorkWheelClearSpace, "", "1L")}, off},
		{"the tire of a spare", car, lines{at(finding.WorkTireDemountInspect, "", "S")}, []string{"tire.mount S", "tire.soap S", "valve.renew S"}},
	} {
		in := In{Visit: visit.Visit{Vehicle: c.of}}
		got := linesOf(in.refit(slices.Clone(c.l)))
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// What contradicts another line on one wheel gives way to it, at that wheel alone; wheels
// that change places do so together or not.
func TestGivesWay(t *testing.T) {
	for _, c := range []struct {
		name string
		l    lines
		want []string
	}{
		{"nothing contradicts", lines{at(finding.WorkTireReplace, "", "1L"), at(finding.WorkTireDemountInspect, "", "1R")}, []string{"tire.demount-inspect 1R", "tire.replace 1L"}},
		{"an inspection to a replacement", lines{at(finding.WorkTireReplace, "", "1L"), at(finding.WorkTireDemountInspect, "", "1L", "1R")}, []string{"tire.demount-inspect 1R", "tire.replace 1L"}},
		{"one to a pair", lines{at(finding.WorkTireReplace, "", "1L"), at(finding.WorkTiresReplacePair, "", "1L", "1R")}, []string{"tires.replace-pair 1L 1R"}},
		{"left in to taken out", lines{at(finding.WorkObjectLeaveIn, "", "1L"), at(finding.WorkObjectRemoveAndSoap, "", "1L")}, []string{"object.remove-and-soap 1L"}},
		{"a check to a torque", lines{at(finding.WorkWheelTorqueCheck, "", "1L", "1R"), at(finding.WorkWheelTorque, "", "1R")}, []string{"wheel.torque 1R", "wheel.torque-check 1L"}},
		{"sides changed together, or not", lines{at(finding.WorkWheelsSwapSides, "", "1L", "1R"), at(finding.WorkTireReplace, "", "1L")}, []string{"tire.replace 1L"}},
		{"and those of another axle are", lines{at(finding.WorkWheelsSwapSides, "", "1L", "1R"), at(finding.WorkTireReplace, "", "2L")}, []string{"tire.replace 2L", "wheels.swap-sides 1L 1R"}},
		{"a matched one to a replaced one", lines{at(finding.WorkTiresMatchAxle, "", "1L"), at(finding.WorkTiresReplacePair, "", "1L", "1R")}, []string{"tires.replace-pair 1L 1R"}},
	} {
		l := lines{}
		for _, w := range c.l {
			w.Positions = slices.Clone(w.Positions)
			l = append(l, w)
		}
		l.giveWay()
		if got := linesOf(l); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// The same line for several wheels is one: by the sooner urgency, the graver caution and
// the findings of both. What differs in anything that is told stays apart.
func TestLinesAreOne(t *testing.T) {
	first := Work{Code: finding.WorkAirFindLeak, Positions: places("1L"), Urgency: finding.Plan, from: []string{"a"}}
	second := Work{Code: finding.WorkAirFindLeak, Positions: places("1R", "1L"), Urgency: finding.ThisVisit, from: []string{"b"}}
	var l lines
	l.add(first, second)
	if len(l) != 1 || !slices.Equal(l[0].Positions, places("1L", "1R")) || l[0].Urgency != finding.ThisVisit || !slices.Equal(l[0].from, []string{"a", "b"}) {
		t.Errorf("%+v", l)
	}
	l = nil
	l.add(second, first)
	if len(l) != 1 || l[0].Urgency != finding.ThisVisit {
		t.Errorf("the other way round: %+v", l)
	}
	l = nil
	l.add(Work{Code: first.Code, Positions: places("1L")}, first)
	if len(l) != 1 || l[0].Urgency != finding.Plan || l[0].from != nil {
		t.Errorf("one without an urgency, asked for by all of its wheels: %+v", l)
	}
	for name, change := range map[string]func(*Work){
		"code":      func(w *Work) { w.Code = finding.WorkTireLookClosely },
		"target":    func(w *Work) { w.Target = unit.Amount{Number: 33, Unit: unit.PSI} },
		"condition": func(w *Work) { w.Condition = finding.WhenWheelComesOff },
		"settle":    func(w *Work) { w.Settle = finding.SettleReadCold },
		"due":       func(w *Work) { w.DueBy = unit.Amount{Number: 100, Unit: unit.Miles} },
		"cold":      func(w *Work) { w.FinishCold = true },
	} {
		other := first
		change(&other)
		l = nil
		l.add(first, other)
		if len(l) != 2 {
			t.Errorf("another %s: %+v", name, l)
		}
	}
	given := places("1L")
	l = nil
	l.add(Work{Code: first.Code, Positions: given}, Work{Code: first.Code, Positions: places("1R")})
	if len(given) != 1 || given[0] != layout.MustParse("1L") {
		t.Errorf("what was given has changed: %v", given)
	}
}

// From doubt comes no line that needs proof, unless it waits for what decides.
func TestNoLineFromDoubt(t *testing.T) {
	replace, look := at(finding.WorkTireReplace, "", "1L"), at(finding.WorkTireLookClosely, "", "1L")
	waits := at(finding.WorkTireReplace, finding.WhenPassedInside, "1L")
	for _, c := range []struct {
		name string
		w    Work
		by   finding.Certainty
		want bool
	}{
		{"replaced by proof", replace, finding.Proved, true},
		{"by doubt", replace, finding.Undecided, false},
		{"by what may apply", replace, finding.MayApply, false},
		{"by doubt, if it decides so", waits, finding.Undecided, true},
		{"a look by doubt", look, finding.Undecided, true},
	} {
		var l lines
		l.add(c.w.by(c.by))
		if (len(l) == 1) != c.want {
			t.Errorf("%s: %v", c.name, l)
		}
		if len(l) == 1 && l[0].rests != finding.CertaintyNotTold {
			t.Errorf("%s rests on %v", c.name, l[0].rests)
		}
	}
	if len(do("")) != 0 {
		t.Error("a line without a code")
	}
}

// A line answers the findings at its wheels, but for notes, and is as urgent as the
// gravest of them; what is due later is to plan for. One without wheels answers those of
// the vehicle; one that findings alone ask for, those.
func TestLinesAnswerFindings(t *testing.T) {
	here, grave, there := of(finding.WearToeIn, finding.ThisVisit, "1L", "1R"), of(finding.DamageRadialRipple, finding.BeforeDriving, "1L"), of(finding.WearScalloped, finding.Plan, "2L")
	note, whole := of(finding.WearNotRound, finding.Note, "1L"), of(finding.ComplaintVibration, finding.ThisVisit)
	found := []finding.Finding{here, grave, there, note, whole}
	id := func(fs ...finding.Finding) (all []string) {
		for _, f := range fs {
			all = append(all, f.ID())
		}
		return all
	}
	for _, c := range []struct {
		name    string
		w       Work
		answers []string
		urgency finding.Urgency
	}{
		{"at one wheel", at(finding.WorkTireReplace, "", "1L"), id(here, grave), finding.BeforeDriving},
		{"at the other", at(finding.WorkTireReplace, "", "1R"), id(here), finding.ThisVisit},
		{"where there is none", at(finding.WorkTireReplace, "", "2R"), nil, finding.Plan},
		{"of the vehicle", Work{Code: finding.WorkRoadTest}, id(whole), finding.ThisVisit},
		{"asked for by one alone", Work{Code: finding.WorkTireReplace, Positions: places("1L"), from: id(here)}, id(here), finding.ThisVisit},
		{"due later", at(finding.WorkOwedTorqueRecheck, "", "1L"), id(here, grave), finding.Plan},
		{"with an urgency of its own", Work{Code: finding.WorkTireReplace, Positions: places("2L"), Urgency: finding.ThisVisit}, id(there), finding.ThisVisit},
	} {
		l := lines{c.w}
		got := l.inOrder(found)[0]
		if !slices.Equal(got.Findings, c.answers) || got.Urgency != c.urgency || got.Step != finding.WorkOf(c.w.Code).Step() || got.from != nil {
			t.Errorf("%s: answers %v, urgency %d", c.name, got.Findings, got.Urgency)
		}
	}
}

// Lines come in the order of work; of one kind by their wheels, then by what they settle,
// when they are due and what is set.
func TestLinesInOrder(t *testing.T) {
	due := func(n float64) Work {
		return Work{Code: finding.WorkOwedTorqueRecheckTrailer, Positions: places("1L"), DueBy: unit.Amount{Number: n, Unit: unit.Miles}}
	}
	set := func(psi float64) Work {
		return Work{Code: finding.WorkAirSet, Positions: places("1L"), Target: unit.Amount{Number: psi, Unit: unit.PSI}}
	}
	settle := func(s finding.Settle) Work {
		return Work{Code: finding.WorkMeasureToSettle, Positions: places("1L"), Settle: s}
	}
	a, b := min(finding.SettleReadCold, finding.SettleReadBetterGauge), max(finding.SettleReadCold, finding.SettleReadBetterGauge)
	want := lines{at(finding.WorkVehicleHold, "", "2L"), settle(a), settle(b), at(finding.WorkTireReplace, "", "1L"), at(finding.WorkTireReplace, "", "1R"), set(30), set(33), due(10), due(25), due(50)}
	for turn := range want {
		l := slices.Clone(want)
		slices.Reverse(l)
		l = slices.Concat(l[turn:], l[:turn])
		got := l.inOrder(nil)
		for i, w := range got {
			if w.ID() != want[i].ID() || w.Target != want[i].Target {
				t.Fatalf("place %d has %s, want %s", i, w.ID(), want[i].ID())
			}
		}
	}
	l := lines{at(finding.WorkTireReplace, "", "2R", "1L", "2R")}
	if got := l.inOrder(nil)[0].Positions; !slices.Equal(got, places("1L", "2R")) {
		t.Errorf("its wheels: %v", got)
	}
}
