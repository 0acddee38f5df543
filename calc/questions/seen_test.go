package questions

import (
	"fmt"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

func mmLong(n float64) *unit.Length {
	l := unit.MustLength(n, unit.Millimeters)
	return &l
}

// What is seen is found once for a tire, and what lies between two duals once for both,
// whoever of the two it was seen at; what it does to tire, sensor and valve is noted.
func TestWhatIsSeenIsFoundOnce(t *testing.T) {
	w := func(at string, kinds ...finding.Observation) visit.Wheel {
		out := visit.Wheel{Position: layout.MustParse(at)}
		for _, k := range kinds {
			out.Observations = append(out.Observations, visit.Observation{Kind: k})
		}
		return out
	}
	left := func(w visit.Wheel, kinds ...finding.Observation) visit.Wheel {
		for _, k := range kinds {
			w.ObservationsLeft = append(w.ObservationsLeft, visit.Observation{Kind: k})
		}
		return w
	}
	between := finding.ObservedObjectBetweenDuals
	for _, c := range []struct {
		name                    string
		wheels                  []visit.Wheel
		found                   []string
		scrapped, silent, valve []string
	}{
		{"nothing", []visit.Wheel{w("1L")}, nil, nil, nil, nil},
		{"a bulge", []visit.Wheel{w("1L", finding.ObservedBulge)}, []string{"damage.bulge 1L"}, []string{"1L"}, nil, nil},
		{"two bulges", []visit.Wheel{w("1L", finding.ObservedBulge, finding.ObservedBulge)}, []string{"damage.bulge 1L"}, []string{"1L"}, nil, nil},
		{"and as left", []visit.Wheel{left(w("1L", finding.ObservedBulge), finding.ObservedBulge)}, []string{"damage.bulge 1L"}, []string{"1L"}, nil, nil},
		{"as left alone", []visit.Wheel{left(w("1L"), finding.ObservedCurbScuff)}, []string{"damage.curb-scuff 1L"}, nil, nil, nil},
		{"on two tires", []visit.Wheel{w("1L", finding.ObservedBulge), w("1R", finding.ObservedBulge)}, []string{"damage.bulge 1L", "damage.bulge 1R"}, []string{"1L", "1R"}, nil, nil},
		{"a silent sensor", []visit.Wheel{w("2R", finding.ObservedSensorNotAnswering)}, []string{"sensor.not-answering 2R"}, nil, []string{"2R"}, nil},
		{"a valve", []visit.Wheel{w("2R", finding.ObservedValveCracked)}, []string{"valve.cracked 2R"}, nil, nil, []string{"2R"}},
		{"what means nothing by itself, before what does", []visit.Wheel{w("1L", finding.ObservedInjury, finding.ObservedCurbScuff)}, []string{"damage.curb-scuff 1L"}, nil, nil, nil},
		{"between duals, at one", []visit.Wheel{w("2LO", between)}, []string{"dual.object-between 2LI 2LO"}, nil, nil, nil},
		{"at both", []visit.Wheel{w("2LO", between), w("2LI", between)}, []string{"dual.object-between 2LI 2LO"}, nil, nil, nil},
		{"at two pairs", []visit.Wheel{w("2LI", between), w("2RI", between)}, []string{"dual.object-between 2LI 2LO", "dual.object-between 2RI 2RO"}, nil, nil, nil},
		{"at a single wheel", []visit.Wheel{w("1L", between)}, []string{"dual.object-between 1L"}, nil, nil, nil},
		{"of one dual alone", []visit.Wheel{w("2LO", finding.ObservedBulge)}, []string{"damage.bulge 2LO"}, []string{"2LO"}, nil, nil},
	} {
		out := Damage(DamageIn{Wheels: c.wheels})
		var scrapped []string
		for p, is := range out.Scrapped {
			if is {
				scrapped = append(scrapped, p.String())
			}
		}
		slices.Sort(scrapped)
		names := func(ps []layout.Position) (all []string) {
			for _, p := range ps {
				all = append(all, p.String())
			}
			return all
		}
		if got := doubtsOf(out.Findings); !slices.Equal(got, c.found) || !slices.Equal(scrapped, c.scrapped) || !slices.Equal(names(out.Silent), c.silent) || !slices.Equal(names(out.ValveWrong), c.valve) {
			t.Errorf("%s: %q, scrapped %v, silent %v, valves %v", c.name, got, scrapped, out.Silent, out.ValveWrong)
		}
	}
}

// Where it was seen and how large it is told with it, in the unit that it was measured in.
func TestWhereSomethingWasSeenIsTold(t *testing.T) {
	size := unit.MustLength(1.5, unit.Inches)
	o := visit.Observation{Kind: finding.ObservedBulge, Across: layout.Outboard, Part: finding.PartSidewall, Side: finding.SideOuter, Size: &size, SizeUnit: unit.Inches}
	f := observed(finding.KindOf(finding.DamageBulge), layout.MustParse("1L"), o)
	if f.Place != (finding.Place{Across: layout.Outboard, Part: finding.PartSidewall, Side: finding.SideOuter}) || f.Urgency != finding.BeforeDriving || f.Caution != finding.CautionBulge || f.Rule != practice {
		t.Errorf("%+v", f)
	}
	if len(f.Evidence) != 1 || f.Evidence[0].Code != finding.FactDamageSize || f.Evidence[0].Amount != (unit.Amount{Number: 1.5, Unit: unit.Inches}) {
		t.Errorf("%+v", f.Evidence)
	}
	o.Size = nil
	if f := observed(finding.KindOf(finding.DamageBulge), layout.MustParse("1L"), o); len(f.Evidence) != 0 {
		t.Errorf("not measured: %+v", f.Evidence)
	}
}

// A cut of more than 25 mm or 10 percent of the section width, whichever is the greater,
// that reaches ply or cord is forbidden (reg. 27(1)(c), read); whether one that is long
// enough reaches it is asked. Where the law may bind nothing waits for it.
func TestCutsByTheLaw(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	cut, cord := finding.ObservedCut, finding.ObservedCutToCord
	for _, c := range []struct {
		name    string
		kind    finding.Observation
		long    *unit.Length
		width   float64
		may     bool
		want    measure.Outcome // not compared: nothing is found
		urgency finding.Urgency
	}{
		{"40 mm to the cord", cord, mmLong(40), 195, false, measure.Above, finding.BeforeDriving},
		{"how deep not told", cut, mmLong(40), 195, false, measure.CannotTell, finding.BeforeDriving},
		{"about as long as allowed", cord, mmLong(25), 195, false, measure.CannotTell, finding.BeforeDriving},
		{"short", cord, mmLong(15), 195, false, measure.NotCompared, 0},
		{"40 mm of a wide tire", cord, mmLong(40), 315, false, measure.Above, finding.BeforeDriving},
		{"28 mm of a wide tire", cord, mmLong(27), 315, false, measure.NotCompared, 0},
		{"not measured", cord, nil, 195, false, measure.NotCompared, 0},
		{"where the law may bind", cord, mmLong(40), 195, true, measure.Above, finding.ThisVisit},
	} {
		w := visit.Wheel{Position: layout.MustParse("1L"), Observations: []visit.Observation{{Kind: c.kind, Size: c.long, SizeUnit: unit.Millimeters}}}
		w.Tire.Marking.SectionWidth = unit.MustLength(c.width, unit.Millimeters)
		out := Damage(DamageIn{Laws: Laws{Vehicle: car, Books: []rulebook.Applied{{Book: rulebook.Must("uk-light"), Candidate: c.may}}}, Wheels: []visit.Wheel{w}})
		i := slices.IndexFunc(out.Findings, func(f finding.Finding) bool { return f.Code == finding.DamageCutLimit })
		if (i < 0) != (c.want == measure.NotCompared) {
			t.Errorf("%s: %+v", c.name, out.Findings)
		}
		if i < 0 {
			continue
		}
		f := out.Findings[i]
		if f.Outcome != c.want || f.Urgency != c.urgency || f.Candidate != c.may || f.Caution != finding.CautionDamagedTire || f.Rule.ID == "" || f.Measured.Unit != unit.Millimeters {
			t.Errorf("%s: %+v", c.name, f)
		}
		if asks := f.ToSettle == finding.SettleProbeCut; asks != (c.kind == cut) {
			t.Errorf("%s: settled by %q", c.name, f.ToSettle)
		}
	}
}

// What is good at a place is not told where something was seen that lies there: at the side
// and part that it was seen at, else wherever it may lie.
func TestWhatLiesInAPlace(t *testing.T) {
	outer, inner, tread := finding.LookedOuterSidewall, finding.LookedInnerSidewall, finding.LookedTreadFullTurn
	for _, c := range []struct {
		name string
		o    visit.Observation
		hurt []finding.Looked
	}{
		{"a cut somewhere", visit.Observation{Kind: finding.ObservedCut}, []finding.Looked{tread, outer, inner}},
		{"in the outer sidewall", visit.Observation{Kind: finding.ObservedCut, Side: finding.SideOuter, Part: finding.PartSidewall}, []finding.Looked{outer}},
		{"in the inner sidewall", visit.Observation{Kind: finding.ObservedCut, Side: finding.SideInner, Part: finding.PartSidewall}, []finding.Looked{inner}},
		{"in a sidewall", visit.Observation{Kind: finding.ObservedCut, Part: finding.PartSidewall}, []finding.Looked{outer, inner}},
		{"in the crown", visit.Observation{Kind: finding.ObservedCut, Part: finding.PartCrown}, []finding.Looked{tread}},
		{"in the outer shoulder", visit.Observation{Kind: finding.ObservedCut, Part: finding.PartShoulder, Side: finding.SideOuter}, []finding.Looked{tread}},
		{"at the outer side", visit.Observation{Kind: finding.ObservedCut, Side: finding.SideOuter}, []finding.Looked{tread, outer}},
		{"a valve that leaks", visit.Observation{Kind: finding.ObservedValveSeatLeaking}, []finding.Looked{finding.LookedValve}},
		{"a loose nut", visit.Observation{Kind: finding.ObservedFastenerLoose}, []finding.Looked{finding.LookedFasteners}},
	} {
		w := visit.Wheel{Observations: []visit.Observation{{Kind: finding.ObservedFoamInside}, c.o}}
		for place := range finding.LookedKinds() {
			if place.Kind == finding.LookedInsideOfTire || place.Kind == finding.LookedWheel {
				continue
			}
			if got := hurtAt(w, place.Kind); got != slices.Contains(c.hurt, place.Kind) {
				t.Errorf("%s: at %s %v", c.name, place.Kind, got)
			}
		}
	}
}

// Each place is good, not looked at for its reason, or not told; a part of the tread is no
// look round all of it.
func TestEachPlaceIsGoodOrNotLookedAt(t *testing.T) {
	told := func(ls ...visit.Looked) visit.Wheel { return visit.Wheel{Position: layout.MustParse("1L"), Looked: ls} }
	seen := func(kinds ...finding.Looked) (all []visit.Looked) {
		for _, k := range kinds {
			all = append(all, visit.Looked{What: k})
		}
		return all
	}
	wheel := func(w visit.Wheel, valveWrong bool) string {
		var a LookedAnswer
		said := a.wheel(w, valveWrong)
		out := ""
		for _, c := range a.Checked {
			out += string(c.Code) + " "
		}
		for _, n := range a.NotLooked {
			out += fmt.Sprintf("not %s: %q ", n.What, n.Reason)
		}
		if said[finding.LookedTreadFullTurn] {
			out += "tread told"
		}
		return out
	}
	for _, c := range []struct {
		name  string
		w     visit.Wheel
		valve bool
		want  string
	}{
		{"nothing", told(), false, ""},
		{"tread and valve", told(seen(finding.LookedTreadFullTurn, finding.LookedValve)...), false, "looked.tread-full-turn looked.valve tread told"},
		{"a valve that is wrong for its label", told(seen(finding.LookedValve)...), true, ""},
		{"a tire whose valve is wrong", told(seen(finding.LookedOuterSidewall)...), true, "looked.outer-sidewall "},
		{"part of the tread", told(seen(finding.LookedTreadPart)...), false, fmt.Sprintf("not tread-full-turn: %q tread told", finding.NotLookedPartOnly)},
		{"not, for its reason", told(visit.Looked{What: finding.LookedInnerSidewall, NotBecause: "dirty"}), false, `not inner-sidewall: "dirty" `},
	} {
		if got := wheel(c.w, c.valve); got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
	dual := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{Dual: true}}}
	wheels := []visit.Wheel{{Position: layout.MustParse("1LO")}, {Position: layout.MustParse("1LI")}, {Position: layout.MustParse("1RI")}, {Position: layout.MustParse("1RO"), Looked: seen(finding.LookedInsideOfTire)}}
	in := LookedIn{Vehicle: dual, Wheels: wheels, Airs: Airs{Results: map[layout.Position]inflation.Result{layout.MustParse("1LO"): {Demount: true}, layout.MustParse("1RO"): {Demount: true}}},
		Repairs: []Repair{{Position: layout.MustParse("1LI"), Result: puncture.Result{LookFor: []finding.LookFor{finding.LookForLiner}}}, {Position: layout.MustParse("1RI")}}}
	at := map[finding.Looked]string{}
	for _, n := range Looked(in).NotLooked {
		at[n.What] = fmt.Sprint(n.Positions)
	}
	if at[finding.LookedWheelFace] != "[1LO 1RO]" || at[finding.LookedFasteners] != "[1LO 1RO]" || at[finding.LookedValve] != "[1LO 1LI 1RI 1RO]" && at[finding.LookedValve] != "[1LI 1LO 1RI 1RO]" {
		t.Errorf("of duals: %v", at)
	}
	if got := at[finding.LookedInsideOfTire]; got != "[1LI 1LO]" && got != "[1LO 1LI]" {
		t.Errorf("inside: %v", got)
	}
}

// What is told of a tire and seen in it decides a repair: each mark by its own name, what
// earlier repairs were, and how the hole was prepared where it is the only one.
func TestWhatARepairIsDecidedBy(t *testing.T) {
	yes, no := finding.Yes, finding.No
	cutter := unit.MustLength(6, unit.Millimeters)
	own := unit.MustLength(5, unit.Millimeters)
	hole := func(w visit.Wheel) puncture.Input {
		w.Position = layout.MustParse("1L")
		return HolesIn{Laws: Laws{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}}}.hole(w)
	}
	for _, c := range []struct {
		name    string
		inside  *visit.Inside
		seen    []finding.Observation
		marks   []puncture.Mark
		earlier []puncture.Method
	}{
		{"nothing", nil, nil, nil, nil},
		{"clean", &visit.Inside{Ring: no, Dust: no, Wrinkles: no, Liner: no, BadRepair: no}, nil, nil, nil},
		{"a ring", &visit.Inside{Ring: yes}, nil, []puncture.Mark{puncture.LinerRing}, nil},
		{"wrinkles", &visit.Inside{Wrinkles: yes}, nil, []puncture.Mark{puncture.LinerRing}, nil},
		{"dust", &visit.Inside{Dust: yes}, nil, []puncture.Mark{puncture.RubberDust}, nil},
		{"the liner split", &visit.Inside{Liner: yes}, nil, []puncture.Mark{puncture.LinerSplit}, nil},
		{"a bad repair", &visit.Inside{BadRepair: yes}, nil, nil, []puncture.Method{puncture.PlugOnly}},
		{"a ring told twice", &visit.Inside{Ring: yes, Wrinkles: yes}, []finding.Observation{finding.ObservedRunLowLinerRing}, []puncture.Mark{puncture.LinerRing}, nil},
		{"a smell", nil, []finding.Observation{finding.ObservedRunLowSmell}, []puncture.Mark{puncture.RubberDust}, nil},
		{"a scuff ring", nil, []finding.Observation{finding.ObservedRunLowScuffRing}, []puncture.Mark{puncture.ScuffRing}, nil},
		{"a ripple", nil, []finding.Observation{finding.ObservedRadialRipple}, []puncture.Mark{puncture.Zipper}, nil},
		{"cord and cracks", nil, []finding.Observation{finding.ObservedCutToCord, finding.ObservedCracksFine}, []puncture.Mark{puncture.CordShowing, puncture.FineCracks}, nil},
		{"a string plug", nil, []finding.Observation{finding.ObservedEarlierRepairStringPlug}, nil, []puncture.Method{puncture.PlugOnly}},
		{"a patch alone", nil, []finding.Observation{finding.ObservedEarlierRepairPatchWithoutStem}, nil, []puncture.Method{puncture.PatchOnly}},
		{"a combination", nil, []finding.Observation{finding.ObservedEarlierRepairCombination}, nil, []puncture.Method{puncture.Combination}},
		{"a section repair", nil, []finding.Observation{finding.ObservedEarlierRepairSection}, nil, []puncture.Method{puncture.Section}},
		{"a boot", nil, []finding.Observation{finding.ObservedEarlierRepairReinforcement}, nil, []puncture.Method{puncture.Boot}},
		{"one that fails", nil, []finding.Observation{finding.ObservedEarlierRepairFailing}, nil, []puncture.Method{puncture.PlugOnly}},
	} {
		w := visit.Wheel{Mended: visit.Mended{Inside: c.inside}}
		for _, k := range c.seen {
			w.Observations = append(w.Observations, visit.Observation{Kind: k})
		}
		in := hole(w)
		slices.Sort(c.marks)
		if !slices.Equal(in.Seen, c.marks) || !slices.Equal(in.Earlier, c.earlier) || len(in.Injuries) != 0 {
			t.Errorf("%s: %v, earlier %v", c.name, in.Seen, in.Earlier)
		}
		if seen := in.InsideSeen; seen != (c.name == "clean") {
			t.Errorf("%s: inside seen %v", c.name, seen)
		}
	}
	injuries := func(n int, prepared *unit.Length) visit.Wheel {
		w := visit.Wheel{Mended: visit.Mended{Repair: visit.Repair{Cutter: &cutter}}}
		for range n {
			w.Observations = append(w.Observations, visit.Observation{Kind: finding.ObservedInjury, Injury: &puncture.Injury{Prepared: prepared}})
		}
		return w
	}
	if got := hole(injuries(1, nil)).Injuries[0].Prepared; got == nil || *got != cutter {
		t.Errorf("the hole that was prepared: %v", got)
	}
	if got := hole(injuries(1, &own)).Injuries[0].Prepared; got == nil || *got != own {
		t.Errorf("told of the hole: %v", got)
	}
	if got := hole(injuries(2, nil)).Injuries; got[0].Prepared != nil || got[1].Prepared != nil {
		t.Errorf("of two holes: %v", got)
	}
	for o, want := range map[finding.Observation]finding.Answer{finding.ObservedObjectInTread: yes, finding.ObservedObjectRemoved: finding.NotAsked, finding.ObservedInjury: finding.NotAsked} {
		for _, i := range []*puncture.Injury{nil, {}} {
			if got := injury(visit.Observation{Kind: o, Injury: i}).ObjectInPlace; got != want {
				t.Errorf("%s: the object is in place: %v", o, got)
			}
		}
	}
	if got := injury(visit.Observation{Kind: finding.ObservedObjectInTread, Injury: &puncture.Injury{ObjectInPlace: no}}).ObjectInPlace; got != no {
		t.Errorf("told to be out: %v", got)
	}
}

// An earlier repair that is none is found where no hole is judged, and with a hole is part of
// that.
func TestImproperRepairsWithoutAHole(t *testing.T) {
	seen := func(kinds ...finding.Observation) []visit.Wheel {
		w := visit.Wheel{Position: layout.MustParse("2R")}
		for _, k := range kinds {
			w.Observations = append(w.Observations, visit.Observation{Kind: k})
		}
		return []visit.Wheel{w}
	}
	vehicle := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	for _, c := range []struct {
		name   string
		wheels []visit.Wheel
		found  bool
		judged int
	}{
		{"a plug", seen(finding.ObservedEarlierRepairStringPlug), true, 0},
		{"a patch without a stem", seen(finding.ObservedEarlierRepairPatchWithoutStem), true, 0},
		{"a combination", seen(finding.ObservedEarlierRepairCombination), false, 0},
		{"a repair, how not told", seen(finding.ObservedEarlierRepair), false, 0},
		{"a plug and a hole", seen(finding.ObservedEarlierRepairStringPlug, finding.ObservedInjury), false, 1},
		{"nothing", seen(), false, 0},
		{"two tires", append(seen(finding.ObservedInjury), visit.Wheel{Position: layout.MustParse("1L"), Observations: []visit.Observation{{Kind: finding.ObservedInjury}}}), false, 2},
	} {
		out := Holes(HolesIn{Laws: Laws{Vehicle: vehicle}, Wheels: c.wheels})
		i := slices.IndexFunc(out.Findings, func(f finding.Finding) bool { return f.Code == finding.RepairImproperEarlier })
		if (i >= 0) != c.found || len(out.Repairs) != c.judged {
			t.Errorf("%s: %+v, %d judged", c.name, out.Findings, len(out.Repairs))
		}
		if i >= 0 && (out.Findings[i].Urgency != finding.ThisVisit || out.Findings[i].Positions[0].String() != "2R" || out.Findings[i].Rule.Authority != finding.CommonPractice || out.Findings[i].Rule.Known != finding.Reported) {
			t.Errorf("%s: %+v", c.name, out.Findings[i])
		}
		for k, r := range out.Repairs {
			got, ok := out.Of(r.Position)
			var want []string
			for _, f := range slices.Concat([]finding.Finding{r.Result.Main}, r.Result.Failing, r.Result.Open, r.Result.Notes) {
				want = append(want, string(f.Code)+" "+r.Position.String())
			}
			var told []string
			for _, f := range out.Findings {
				if f.Positions[0] == r.Position {
					told = append(told, string(f.Code)+" "+f.Positions[0].String())
				}
			}
			if !ok || got.Answer != r.Result.Answer || !slices.Equal(told, want) || r.Position != c.wheels[k].Position {
				t.Errorf("%s: %v of %v: %q", c.name, got.Answer, r.Position, told)
			}
		}
		if _, ok := out.Of(layout.MustParse("2L")); ok {
			t.Errorf("%s: a tire without a hole is judged", c.name)
		}
	}
}

// Whether a tire ran low is asked of what its pressure and a look say, and of nothing where
// neither was told.
func TestWhetherATireRanLow(t *testing.T) {
	p := layout.MustParse("1L")
	result := func(codes ...finding.Code) inflation.Result {
		r := inflation.Result{}
		for _, c := range codes {
			r.Findings = append(r.Findings, finding.Finding{Code: c})
		}
		return r
	}
	yes, no := finding.Yes, finding.No
	for _, c := range []struct {
		name string
		w    visit.Wheel
		r    inflation.Result
		want puncture.Pressure
	}{
		{"not read", visit.Wheel{Position: p}, result(finding.InflationRunLow), puncture.Pressure{}},
		{"read, and good", reading("1L", 33, unit.PSI), result(), puncture.Pressure{Flat: no, RunLow: no}},
		{"seen flat", visit.Wheel{Position: p, Observations: []visit.Observation{{Kind: finding.ObservedFlat}}}, result(finding.InflationFlat), puncture.Pressure{Flat: yes, RunLow: no}},
		{"ran low", reading("1L", 12, unit.PSI), result(finding.InflationRunLow), puncture.Pressure{Flat: no, RunLow: yes}},
		{"may have", reading("1L", 12, unit.PSI), result(finding.InflationRunLowUndecided), puncture.Pressure{Flat: no, RunLow: finding.NotKnown}},
	} {
		if got := (HolesIn{Airs: Airs{Results: map[layout.Position]inflation.Result{p: c.r}}}).ranLow(c.w); got != c.want {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
}

// What an axle's tires carry is told where every one of them is known and read, and what it
// needs where each of them can carry its share: of what the axle weighs, else of its rating.
// A P215/60R16 94T carries 670 kg at 35 psi (the standard's 240 kPa).
func TestWhatAnAxleCarries(t *testing.T) {
	const known, other = "P215/60R16 94T", "P175/65R14 81T" // 670 kg; 462 kg
	kg := func(n float64) unit.Mass { return unit.MustMass(n, unit.Kilograms) }
	car := func(front, rear float64) layout.Vehicle {
		return layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{
			{ColdNormal: psi(33), LabelUnit: unit.PSI, Rating: kg(front)}, {ColdNormal: psi(33), LabelUnit: unit.PSI, Rating: kg(rear)},
		}}
	}
	wheel := func(at, size string, found float64) visit.Wheel {
		w := visit.Wheel{Position: layout.MustParse(at), Tire: visit.Tire{Size: size, Marking: sidewall.Parse(size)}}
		if found > 0 {
			w.Pressure = visit.Pressure{Of: psi(found), Read: unit.PSI}
		}
		return w
	}
	for _, c := range []struct {
		name      string
		vehicle   layout.Vehicle
		weighed   float64 // the front axle
		wheels    []visit.Wheel
		supported bool
		needed    bool
		rear      bool
	}{
		{"both known and read", car(1200, 0), 0, []visit.Wheel{wheel("1L", known, 35), wheel("1R", known, 35)}, true, true, false},
		{"no rating and no scale", car(0, 0), 0, []visit.Wheel{wheel("1L", known, 35), wheel("1R", known, 35)}, true, false, false},
		{"weighed", car(0, 0), 1200, []visit.Wheel{wheel("1L", known, 35), wheel("1R", known, 35)}, true, true, false},
		{"weighed more than they carry", car(1200, 0), 1400, []visit.Wheel{wheel("1L", known, 35), wheel("1R", known, 35)}, true, false, false},
		{"rated for more than one carries", car(1200, 0), 0, []visit.Wheel{wheel("1L", known, 35), wheel("1R", other, 35)}, true, false, false},
		{"one not read", car(1200, 0), 0, []visit.Wheel{wheel("1L", known, 35), wheel("1R", known, 0)}, false, true, false},
		{"the first not read", car(1200, 0), 0, []visit.Wheel{wheel("1L", known, 0), wheel("1R", known, 35)}, false, true, false},
		{"one not known", car(1200, 0), 0, []visit.Wheel{wheel("1L", known, 35), wheel("1R", "", 35)}, false, false, false},
		{"one not reported", car(1200, 0), 0, []visit.Wheel{wheel("1L", known, 35)}, false, false, false},
		{"the rear", car(0, 1200), 0, []visit.Wheel{wheel("2L", known, 35), wheel("2R", known, 35)}, true, true, true},
	} {
		in := CarryingIn{Scale: visit.Scale{Vehicle: c.vehicle}, Wheels: c.wheels, Airs: Airs{Wheels: map[layout.Position]inflation.Wheel{}, Results: map[layout.Position]inflation.Result{}}}
		if c.weighed > 0 {
			in.Scale.Axles = []visit.AxleWeight{{Axle: 1, Weight: kg(c.weighed), ReadIn: unit.Kilograms}}
		}
		for _, w := range c.wheels {
			air := visit.Labels{Vehicle: c.vehicle}.Air(w, w.Pressure, inflation.Conditions{DrivenHere: finding.No})
			in.Airs.Wheels[w.Position], in.Airs.Results[w.Position] = air, inflation.Judge(air)
			in.Fits = append(in.Fits, fitment.Fit{At: w.Position})
		}
		out := Carrying(in)
		if (len(out.Axles) > 0) != (c.supported || c.needed) {
			t.Errorf("%s: %+v", c.name, out.Axles)
		}
		for _, l := range out.Axles {
			if (l.Axle == 2) != c.rear || l.Unit != unit.PSI || (l.Supported > 0) != c.supported || (l.Needed > 0) != c.needed {
				t.Errorf("%s: %+v", c.name, l)
			}
		}
		sum := unit.Mass(0)
		for i, f := range out.Fits {
			w := c.wheels[i]
			if carries := w.Pressure.Read != unit.None && w.Tire.Size != ""; (f.Supported > 0) != carries || f.At != w.Position {
				t.Errorf("%s: %+v", c.name, f)
			}
			sum += f.Supported
		}
		if c.supported && out.Axles[0].Supported != sum {
			t.Errorf("%s: the axle's tires carry %v, each by itself %v", c.name, out.Axles[0].Supported, sum)
		}
	}
}
