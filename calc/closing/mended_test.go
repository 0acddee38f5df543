package closing

import (
	"testing"

	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// What clears a tire that ran low: the inside and both sidewalls told clean; of steel
// cord the look under air in the device, too (the trade's guideline). Each alone clears
// none.
func TestCleared(t *testing.T) {
	clean := &visit.Inside{Ring: finding.No, Dust: finding.No, Wrinkles: finding.No, Liner: finding.No, BadRepair: finding.No}
	passed := visit.UnderAir{Twenty: finding.Yes, Working: finding.Yes, Popped: finding.No, Named: true}
	both := []visit.Looked{{What: finding.LookedOuterSidewall}, {What: finding.LookedInnerSidewall}}
	psi := visit.Pressure{Of: unit.MustPressure(100, unit.PSI), Read: unit.PSI}
	for _, c := range []struct {
		name          string
		w             visit.Wheel
		fabric, steel bool
	}{
		{"nothing", visit.Wheel{}, false, false},
		{"inside clean", visit.Wheel{Looked: both, Mended: visit.Mended{Inside: clean}}, true, false},
		{"inside clean, sidewalls not seen", visit.Wheel{Mended: visit.Mended{Inside: clean, UnderAir: passed}}, false, false},
		{"under air alone", visit.Wheel{Looked: both, Mended: visit.Mended{UnderAir: passed}}, false, false},
		{"inside clean and under air", visit.Wheel{Looked: both, Mended: visit.Mended{Inside: clean, UnderAir: passed}}, true, true},
		{"popped under air", visit.Wheel{Looked: both, Mended: visit.Mended{Inside: clean, UnderAir: visit.UnderAir{Twenty: finding.Yes, Working: finding.Yes, Popped: finding.Yes, Named: true}}}, true, false},
		{"under air by nobody named", visit.Wheel{Looked: both, Mended: visit.Mended{Inside: clean, UnderAir: visit.UnderAir{Twenty: finding.Yes, Working: finding.Yes, Popped: finding.No}}}, true, false},
		{"ring inside", visit.Wheel{Looked: both, Mended: visit.Mended{Inside: &visit.Inside{Ring: finding.Yes, Dust: finding.No, Wrinkles: finding.No, Liner: finding.No, BadRepair: finding.No}, UnderAir: passed}}, false, false},
	} {
		c.w.Position, c.w.PressureLeft = left, psi
		f := finding.Finding{Code: finding.InflationRunLow, Urgency: finding.BeforeDriving, Positions: []layout.Position{left}}
		in := In{Findings: []finding.Finding{f}, Visit: visit.Visit{
			Vehicle: layout.Vehicle{Axles: []layout.Axle{{ColdNormal: psi.Of, LabelUnit: unit.PSI}}}, Wheels: []visit.Wheel{c.w},
		}}
		for steel, want := range map[bool]bool{false: c.fabric, true: c.steel} {
			if in.Device = nil; steel {
				in.Device = []layout.Position{left}
			}
			if got := AsLeft(in).Closed(f); got != want {
				t.Errorf("%s, steel %v: closed %v", c.name, steel, got)
			}
		}
	}
}

// whole is a wheel at which all that closes anything was told, and what of the visit goes
// with it.
func whole() (visit.Wheel, In) {
	cutter, five := unit.MustLength(6, unit.Millimeters), 5
	psi := visit.Pressure{Of: unit.MustPressure(33, unit.PSI), Read: unit.PSI}
	w := visit.Wheel{
		Position: left, Pressure: psi, PressureLeft: psi, Looked: []visit.Looked{{What: finding.LookedOuterSidewall}, {What: finding.LookedInnerSidewall}},
		Fastening: &fastener.Work{Counted: &five, Replaced: &five},
		Mended: visit.Mended{
			Inside:    &visit.Inside{Ring: finding.No, Dust: finding.No, Wrinkles: finding.No, Liner: finding.No, BadRepair: finding.No},
			UnderAir:  visit.UnderAir{Twenty: finding.Yes, Working: finding.Yes, Popped: finding.No, Named: true},
			Repair:    visit.Repair{Cutter: &cutter, Method: puncture.Combination, SoapedDry: finding.Yes},
			ObjectOut: visit.ObjectOut{Dry: finding.Yes, DryFilled: finding.Yes},
		},
	}
	in := In{Torqued: []layout.Position{left}, PutRight: []layout.Position{left}}
	in.Visit.Vehicle = layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{{ColdNormal: psi.Of, LabelUnit: unit.PSI}, {ColdNormal: psi.Of, LabelUnit: unit.PSI}}}
	return w, in
}

// Each part that closes a finding by work keeps it open while it alone is missing (common
// practice).
func TestEachPartOfTheWorkIsAskedFor(t *testing.T) {
	type change = func(*visit.Wheel, *In)
	none := func(*visit.Wheel, *In) {}
	noInside := func(w *visit.Wheel, _ *In) { w.Mended.Inside = nil }
	noAir := func(w *visit.Wheel, _ *In) { w.PressureLeft = visit.Pressure{} }
	noTorque := func(_ *visit.Wheel, in *In) { in.Torqued = nil }
	noDry := func(w *visit.Wheel, _ *In) { w.Mended.Repair.SoapedDry = finding.NotAsked }
	noLook := func(w *visit.Wheel, _ *In) { w.Looked = w.Looked[:1] }
	notUnderAir := func(w *visit.Wheel, _ *In) { w.Mended.UnderAir = visit.UnderAir{} }
	device := func(_ *visit.Wheel, in *In) { in.Device = []layout.Position{left} }
	ranLow := func(_ *visit.Wheel, in *In) { in.NoAir = []layout.Position{left} }
	noRepair := func(w *visit.Wheel, _ *In) { w.Mended.Repair = visit.Repair{} }
	noObject := func(w *visit.Wheel, _ *In) { w.Mended.ObjectOut = visit.ObjectOut{} }
	done := func(kind finding.Done, at ...layout.Position) change {
		return func(_ *visit.Wheel, in *In) { in.Visit.Done = append(in.Visit.Done, visit.Done{Kind: kind, At: at}) }
	}
	beside := func(code finding.Code, at layout.Position) change {
		return func(_ *visit.Wheel, in *In) {
			in.Findings = append(in.Findings, finding.Finding{Code: code, Urgency: finding.ThisVisit, Positions: []layout.Position{at}})
		}
	}
	seenLeft := func(o finding.Observation) change {
		return func(w *visit.Wheel, _ *In) { w.ObservationsLeft = []visit.Observation{{Kind: o}} }
	}
	right := layout.MustParse("1R")
	for _, c := range []struct {
		name    string
		code    finding.Code
		changes []change
		want    finding.Closed
	}{
		{"a hole", finding.PunctureRepairable, []change{none}, finding.ClosedRepaired},
		{"inside not told", finding.PunctureRepairable, []change{noInside}, ""},
		{"not filled", finding.PunctureRepairable, []change{noAir}, ""},
		{"no torque", finding.PunctureRepairable, []change{noTorque}, ""},
		{"not soaped", finding.PunctureRepairable, []change{noDry}, ""},
		{"not to be repaired", finding.PunctureRepairable, []change{beside(finding.PunctureNotRepairable, left)}, ""},
		{"no nail hole", finding.PunctureRepairable, []change{beside(finding.PunctureNotAsNailHole, left)}, ""},
		{"another is not to be repaired", finding.PunctureRepairable, []change{beside(finding.PunctureNotRepairable, right)}, finding.ClosedRepaired},
		{"no injury", finding.PunctureNoInjury, []change{none}, finding.ClosedObjectOut},
		{"the object not out", finding.PunctureNoInjury, []change{noObject}, ""},
		{"dry, not filled", finding.PunctureNoInjury, []change{func(w *visit.Wheel, _ *In) { w.Mended.ObjectOut.DryFilled = finding.No }}, ""},
		{"ran low", finding.InflationRunLow, []change{none}, finding.ClosedCleared},
		{"ran low, one side not seen", finding.InflationRunLow, []change{noLook}, ""},
		{"ran low, not filled", finding.InflationRunLow, []change{noAir}, ""},
		{"of steel cord", finding.InflationRunLow, []change{device, notUnderAir}, ""},
		{"of steel cord, under air", finding.InflationRunLow, []change{device}, finding.ClosedCleared},
		{"to be filled in the device", finding.InflationNoAirOnVehicle, []change{notUnderAir}, finding.ClosedCleared},
		{"filled there", finding.InflationNoAirOnVehicle, []change{noInside}, finding.ClosedCleared},
		{"neither", finding.InflationNoAirOnVehicle, []change{noInside, notUnderAir}, ""},
		{"filled there, and not at its label", finding.InflationNoAirOnVehicle, []change{noAir}, ""},
		{"a leak, repaired", finding.InflationFindLeak, []change{noObject}, finding.ClosedLeakMended},
		{"a leak, the object out", finding.InflationFindLeak, []change{noRepair}, finding.ClosedLeakMended},
		{"a leak, neither", finding.InflationFindLeak, []change{noRepair, noObject}, ""},
		{"a leak, a valve renewed", finding.InflationFindLeak, []change{noRepair, noObject, done(finding.DoneValveRenewed, left)}, finding.ClosedLeakMended},
		{"a leak, the bead seat cleaned", finding.InflationFindLeak, []change{noRepair, noObject, done(finding.DoneBeadSeatCleaned, left)}, finding.ClosedLeakMended},
		{"a leak, balanced", finding.InflationFindLeak, []change{noRepair, noObject, done(finding.DoneBalanced, left)}, ""},
		{"a leak, another's valve renewed", finding.InflationFindLeak, []change{noRepair, noObject, done(finding.DoneValveRenewed, right)}, ""},
		{"a leak, it may have run low", finding.InflationFindLeak, []change{ranLow, noInside, noRepair}, ""},
		{"a leak, it may have run low, and is cleared", finding.InflationFindLeak, []change{ranLow}, finding.ClosedLeakMended},
		{"a leak, not filled", finding.InflationFindLeak, []change{noAir}, ""},
		{"wrong seats", finding.FastenerWrongSeat, []change{none}, finding.ClosedFastenersPutRight},
		{"wrong seats, not put right", finding.FastenerWrongSeat, []change{func(_ *visit.Wheel, in *In) { in.PutRight = nil }}, ""},
		{"wrong seats, one not renewed", finding.FastenerWrongSeat, []change{func(w *visit.Wheel, _ *In) {
			n := 4
			w.Fastening = &fastener.Work{Counted: w.Fastening.Counted, Replaced: &n}
		}}, ""},
		{"wrong seats, not counted", finding.FastenerWrongSeat, []change{func(w *visit.Wheel, _ *In) { w.Fastening = &fastener.Work{Replaced: w.Fastening.Replaced} }}, ""},
		{"wrong seats, renewed not told", finding.FastenerWrongSeat, []change{func(w *visit.Wheel, _ *In) { w.Fastening = &fastener.Work{Counted: w.Fastening.Counted} }}, ""},
		{"wrong seats, the wheel not off", finding.FastenerWrongSeat, []change{func(w *visit.Wheel, _ *In) { w.Fastening = nil }}, ""},
		{"a bulge", finding.DamageBulge, []change{none}, ""},
		{"a bulge, another tire", finding.DamageBulge, []change{func(w *visit.Wheel, _ *In) { w.Mended.Fitted = true }}, finding.ClosedOtherTire},
		{"a cut, another tire", finding.DamageCut, []change{func(w *visit.Wheel, _ *In) { w.Mended.Fitted = true }}, finding.ClosedOtherTire},
		{"rubbing, another tire, and what it rubs on stays", finding.DamageRubbing, []change{func(w *visit.Wheel, _ *In) { w.Mended.Fitted = true }}, ""},
		{"a wear shape of the place, another tire", finding.WearToeIn, []change{func(w *visit.Wheel, _ *In) { w.Mended.Fitted = true }}, ""},
		{"no torque on record, another tire", finding.TorqueNoRecord, []change{func(w *visit.Wheel, _ *In) { w.Mended.Fitted = true }}, ""},
		{"a valve, another tire", finding.ValveLeaking, []change{func(w *visit.Wheel, _ *In) { w.Mended.Fitted = true }}, ""},
		{"a bulge seen as left", finding.DamageBulge, []change{func(w *visit.Wheel, _ *In) { w.Mended.Fitted = true }, seenLeft(finding.ObservedBulge)}, ""},
		{"a bulge, and a cut seen as left", finding.DamageBulge, []change{func(w *visit.Wheel, _ *In) { w.Mended.Fitted = true }, seenLeft(finding.ObservedCut)}, finding.ClosedOtherTire},
	} {
		w, in := whole()
		for _, do := range c.changes {
			do(&w, &in)
		}
		f := finding.Finding{Code: c.code, Urgency: finding.BeforeDriving, Positions: []layout.Position{left}}
		in.Findings = append(in.Findings, f)
		in.Visit.Wheels = []visit.Wheel{w, {Position: right}}
		if got := AsLeft(in).Done[f.ID()]; got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// An observation is taken back by name, by more than a look, and of each kind that means the
// finding.
func TestWhatIsTakenBack(t *testing.T) {
	holds := func(k finding.Observation) visit.TakenBack {
		return visit.TakenBack{Kind: k, Was: finding.ObservedCurbScuff, Felt: true, Named: true}
	}
	seen := func(kinds ...finding.Observation) (all []visit.Observation) {
		for _, k := range kinds {
			all = append(all, visit.Observation{Kind: k})
		}
		return all
	}
	look := holds(finding.ObservedBulge)
	look.Felt = false
	for _, c := range []struct {
		name string
		seen []visit.Observation
		back []visit.TakenBack
		want bool
	}{
		{"seen", seen(finding.ObservedBulge), nil, false},
		{"taken back", seen(finding.ObservedBulge), []visit.TakenBack{holds(finding.ObservedBulge)}, true},
		{"by a look", seen(finding.ObservedBulge), []visit.TakenBack{look}, false},
		{"another", seen(finding.ObservedBulge), []visit.TakenBack{holds(finding.ObservedCut)}, false},
		{"beside what stays", seen(finding.ObservedBulge, finding.ObservedCut), []visit.TakenBack{holds(finding.ObservedBulge)}, true},
		{"nothing", nil, nil, false},
	} {
		w := visit.Wheel{Observations: c.seen, Mended: visit.Mended{TakenBack: c.back}}
		if got := takenBack(w, finding.DamageBulge); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// Two duals are near each other where one of them was set, and what each was left with, or
// found with where it was not touched, is no further apart than allowed.
func TestPressuresOfAPairAsLeft(t *testing.T) {
	outer, inner := layout.MustParse("2LO"), layout.MustParse("2LI")
	psi := func(n float64) visit.Pressure {
		if n == 0 {
			return visit.Pressure{}
		}
		return visit.Pressure{Of: unit.MustPressure(n, unit.PSI), Read: unit.PSI}
	}
	for _, c := range []struct {
		name                     string
		found, set, found2, set2 float64
		apart                    float64
		kept                     bool
	}{
		{"neither was touched", 100, 0, 100, 0, 0, false},
		{"the first was set", 90, 100, 100, 0, 0, true},
		{"the second was", 100, 0, 90, 100, 0, true},
		{"5 apart", 90, 95, 100, 0, 5, true},
		{"more", 90, 94, 100, 0, 6, false},
		{"both set", 80, 100, 90, 103, 3, true},
	} {
		in := In{}
		in.Visit.Wheels = []visit.Wheel{
			{Position: outer, Pressure: psi(c.found), PressureLeft: psi(c.set)}, {Position: layout.MustParse("1L"), Pressure: psi(50)},
			{Position: inner, Pressure: psi(c.found2), PressureLeft: psi(c.set2)},
		}
		f := finding.Finding{Code: finding.InflationDualSpread, Positions: []layout.Position{inner, outer}, Limit: unit.Amount{Number: 5, Unit: unit.PSI}}
		apart, kept := in.near(f)
		if kept != c.kept || kept && apart != (unit.Amount{Number: c.apart, Unit: unit.PSI}) {
			t.Errorf("%s: %v apart, kept %v", c.name, apart, kept)
		}
	}
}

// What holds a spare in its place is right where it was counted and none of it is damaged.
func TestWhatHoldsASpare(t *testing.T) {
	spare, five, zero, one := layout.MustParse("S"), 5, 0, 1
	for _, c := range []struct {
		name string
		at   layout.Position
		work *fastener.Work
		want bool
	}{
		{"counted, none damaged", spare, &fastener.Work{Counted: &five, Damaged: &zero}, true},
		{"one damaged", spare, &fastener.Work{Counted: &five, Damaged: &one}, false},
		{"damage not told", spare, &fastener.Work{Counted: &five}, false},
		{"not counted", spare, &fastener.Work{Damaged: &zero}, false},
		{"not off", spare, nil, false},
		{"a wheel of the road", left, &fastener.Work{Counted: &five, Damaged: &zero}, false},
	} {
		in := In{}
		in.Visit.Wheels = []visit.Wheel{{Position: c.at, Fastening: c.work}}
		if got := in.carrierRight(c.at); got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// A valve is right for its place where it is rated for the label of that place: not where
// nobody told the label.
func TestAValveIsRightForItsLabel(t *testing.T) {
	for _, c := range []struct {
		name          string
		label, rating float64
		want          bool
	}{{"rated for it", 60, 65, true}, {"rated for less", 80, 65, false}, {"no label", 0, 65, false}} {
		v := visit.Visit{Vehicle: layout.Vehicle{Class: layout.LightTruck, Axles: []layout.Axle{{LabelUnit: unit.PSI}}}}
		if c.label > 0 {
			v.Vehicle.Axles[0].ColdNormal = unit.MustPressure(c.label, unit.PSI)
		}
		w := visit.Wheel{Position: left}
		w.FitmentLeft.Valve = &fitment.Valve{Rating: unit.MustPressure(c.rating, unit.PSI)}
		if got := (In{Visit: v}).wheel(w).right[finding.LeftValve]; got != c.want {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}
