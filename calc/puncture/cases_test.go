package puncture

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

const (
	bookUS = "repair-us"
	bookUK = "repair-uk"
)

const (
	car     = "225/60R17 99H"
	ltE     = "LT245/75R16 120/116S E"
	ltF     = "LT275/70R18 F"
	truck   = "11R22.5"
	vRated  = "225/45R17 91V"
	narrow  = "155/70R13 75T"
	noRange = "LT245/75R16"
)

// from is the good tire on a marking in one book, changed.
func from(book, marking string, change func(*Input)) Input {
	in := good(marking, book)
	if marking == "" {
		in.Tire.Marking = sidewall.Marking{}
	}
	if change != nil {
		change(&in)
	}
	return in
}

// outside takes the tire back onto its wheel.
func outside(in *Input) {
	in.InsideSeen = false
	in.Injuries[0].Prepared = nil
	in.Injuries[0].ObjectInPlace = finding.Yes
	in.Injuries[0].Through = finding.NotAsked
}

// TestCases are invented cases with the answer a good technician gives
// (common practice). Where a case does not tell the tread, the angle or the
// size after preparing, the good tire's stand.
func TestCases(t *testing.T) {
	type want struct {
		answer  Answer
		method  Method
		urgency finding.Urgency
		failing []finding.Code // exactly these
		has     []any          // among open, missing, notes and cautions
	}
	for _, c := range []struct {
		name string
		in   Input
		want want
	}{
		{"nail in the crown, not demounted", from(bookUS, car, func(in *Input) { outside(in); in.Injuries[0].Size = inch(3. / 16) }),
			want{answer: NotDecidedDemountAndInspect, urgency: finding.ThisVisit, has: []any{finding.SettlePunctureInside, finding.SettlePunctureSizeAfterPreparing, finding.PunctureDoNotPull, finding.CautionPunctureDemount}}},
		{"the same, demounted and clean", from(bookUS, car, func(in *Input) { in.Injuries[0].Prepared = prepared(3./16, unit.Inches) }),
			want{answer: Repairable, method: Combination, urgency: finding.ThisVisit, has: []any{finding.CautionPunctureTrainedRepairer}}},
		{"5/16 in in a car tire", from(bookUS, car, func(in *Input) { in.Injuries[0].Size = inch(5. / 16) }),
			want{answer: NotRepairable, failing: []finding.Code{finding.PunctureSize}}},
		{"screw in the shoulder rib", from(bookUS, car, func(in *Input) {
			in.Injuries[0].Part, in.Injuries[0].BetweenOuterGrooves, in.Injuries[0].FromEdge = Shoulder, new(false), nil
		}),
			want{answer: NotRepairable, failing: []finding.Code{finding.PuncturePlace}}},
		{"driven at 6 of 33 psi, ring and dust inside", from(bookUS, car, func(in *Input) {
			in.Pressure.RunLow = finding.Yes
			in.Seen = []Mark{LinerRing, RubberDust}
		}), want{answer: NotRepairable, urgency: finding.BeforeDriving, failing: []finding.Code{finding.PunctureRunLowDamage}, has: []any{finding.CautionPunctureNoAir}}},
		{"string plug from last year", from(bookUS, car, func(in *Input) {
			in.Earlier = []Method{PlugOnly}
			in.Injuries[0].Overlaps = finding.No
		}), want{answer: NotRepairable, urgency: finding.ThisVisit, failing: []finding.Code{finding.PunctureEarlierRepair}}},
		{"short screw, soap test dry, probe stops short", from(bookUS, car, func(in *Input) {
			outside(in)
			in.Injuries[0].Through, in.Injuries[0].ObjectInPlace = finding.No, finding.No
		}), want{answer: NoInjury, urgency: finding.Note}},
		{"truck steer at 64 percent, driven", from(bookUS, truck, func(in *Input) {
			outside(in)
			in.Steer, in.Pressure.RunLow = true, finding.Yes
			in.Injuries[0].Size = inch(5. / 16)
		}), want{answer: NotDecidedDemountAndInspect, urgency: finding.BeforeDriving,
			has: []any{finding.SettlePunctureInside, finding.PunctureSteerNailHole, finding.CautionPunctureDemountTruck, finding.CautionPunctureNoAir}}},
		{"truck steer that passed inside", from(bookUS, truck, func(in *Input) {
			in.Steer, in.Pressure.RunLow = true, finding.Yes
			in.Injuries[0].Prepared = prepared(5./16, unit.Inches)
		}), want{answer: Repairable, method: Combination, has: []any{finding.PunctureSteerNailHole}}},
		{"truck, 1/2 in in the crown", from(bookUS, truck, func(in *Input) { in.Injuries[0].Size = inch(0.5) }),
			want{answer: NotAsNailHole, method: Section, failing: []finding.Code{finding.PunctureSize}, has: []any{finding.PunctureNotOnSteer}}},
		{"sealant inside, cleaned, no run-low marks", from(bookUS, car, func(in *Input) { in.Seen = []Mark{SealantInside} }),
			want{answer: Repairable, method: Combination, has: []any{finding.PunctureAskSealant, finding.CautionPunctureSealantFlammable}}},
		{"UK, 48 mm from the center line of a 155", from(bookUK, narrow, func(in *Input) { in.Injuries[0].FromCenter = mm(48) }),
			want{answer: NotRepairable, failing: []finding.Code{finding.PuncturePlace}}},
		{"1/16 in through the sidewall", from(bookUS, car, func(in *Input) {
			in.Injuries[0] = Injury{Part: Sidewall, Size: inch(1. / 16), HoldsAir: finding.No}
		}), want{answer: NotRepairable, urgency: finding.BeforeDriving, failing: []finding.Code{finding.PuncturePlace}}},
		{"11 years old, fine cracks", from(bookUS, car, func(in *Input) {
			in.Tire.Age = unit.Amount{Number: 11, Unit: unit.Years}
			in.Tire.Tread, in.Seen = tread32(6), []Mark{FineCracks}
		}), want{answer: Repairable, method: Combination, has: []any{finding.PunctureAge}}},
		{"foam liner, policy not known", from(bookUS, car, func(in *Input) { in.Tire.FoamLined = finding.Yes }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureMakerPolicy}}},

		{"over 25 degrees, within the size", from(bookUS, car, func(in *Input) { in.Injuries[0].Angle = degrees(40) }),
			want{answer: Repairable, method: TwoPiece, has: []any{finding.PunctureAngle}}},
		{"over 25 degrees, over the size", from(bookUS, car, func(in *Input) {
			in.Injuries[0].Angle, in.Injuries[0].Prepared = degrees(40), prepared(5./16, unit.Inches)
		}), want{answer: NotRepairable, failing: []finding.Code{finding.PunctureSize}}},
		{"angle not told", from(bookUS, car, func(in *Input) { in.Injuries[0].Angle = nil }),
			want{answer: Repairable, method: Combination, has: []any{finding.PunctureAngleNotTold}}},
		{"overlaps a good earlier repair", from(bookUS, car, func(in *Input) {
			in.Earlier, in.Injuries[0].Overlaps = []Method{Combination}, finding.Yes
		}), want{answer: NotRepairable, failing: []finding.Code{finding.PunctureOverlap}}},
		{"good earlier repair, overlap not told", from(bookUS, car, func(in *Input) { in.Earlier = []Method{Combination} }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureOverlap}}},
		{"earlier repair of unknown kind", from(bookUS, car, func(in *Input) {
			in.Earlier, in.Injuries[0].Overlaps = []Method{MethodNotTold}, finding.No
		}), want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureEarlierRepairKind}}},
		{"patch without a stem", from(bookUS, car, func(in *Input) {
			in.Earlier, in.Injuries[0].Overlaps = []Method{PatchOnly}, finding.No
		}), want{answer: NotRepairable, failing: []finding.Code{finding.PunctureEarlierRepair}}},
		{"boot in a car tire", from(bookUS, car, func(in *Input) {
			in.Earlier, in.Injuries[0].Overlaps = []Method{Boot}, finding.No
		}), want{answer: NotRepairable, failing: []finding.Code{finding.PunctureEarlierRepair}}},
		{"worn, within the gauge's uncertainty", from(bookUS, car, func(in *Input) {
			in.Tire.Tread = tread32(2.5)
			in.Tire.Tread.Std = float64(unit.MustDepth(0.5, unit.ThirtySecondsInch))
		}), want{answer: NotRepairable, urgency: finding.ThisVisit, failing: []finding.Code{finding.PunctureWorn}}},
		{"tread not measured", from(bookUS, car, func(in *Input) { in.Tire.Tread = nil }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureTread}}},
		{"light truck E, 5/16 in", from(bookUS, ltE, func(in *Input) { in.Injuries[0].Prepared = prepared(5./16, unit.Inches) }),
			want{answer: NotRepairable, failing: []finding.Code{finding.PunctureSize}}},
		{"light truck E, steel body told, 5/16 in", from(bookUS, ltE, func(in *Input) {
			in.Tire.Body = sidewall.SteelBody
			in.Injuries[0].Prepared = prepared(5./16, unit.Inches)
		}), want{answer: Repairable, method: Combination}},
		{"light truck F, 5/16 in", from(bookUS, ltF, func(in *Input) { in.Injuries[0].Prepared = prepared(5./16, unit.Inches) }),
			want{answer: Repairable, method: Combination}},
		{"light truck F, in the shoulder", from(bookUS, ltF, func(in *Input) {
			in.Injuries[0].Part, in.Injuries[0].BetweenOuterGrooves = Shoulder, nil
		}), want{answer: NotRepairable, failing: []finding.Code{finding.PuncturePlace}}},
		{"light truck without load range, 5/16 in", from(bookUS, noRange, func(in *Input) { in.Injuries[0].Prepared = prepared(5./16, unit.Inches) }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.PunctureSize, finding.SettlePunctureBodyPly}}},
		{"light truck without load range, 3/16 in", from(bookUS, noRange, func(in *Input) { in.Injuries[0].Prepared = prepared(3./16, unit.Inches) }),
			want{answer: Repairable, method: Combination}},
		{"truck, 1.25 in from the edge", from(bookUS, truck, func(in *Input) { in.Injuries[0].FromEdge = inch(1.25) }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.PunctureRepairersRule, finding.SettlePunctureRepairersRule}}},
		{"truck, 0.75 in from the edge", from(bookUS, truck, func(in *Input) { in.Injuries[0].FromEdge = inch(0.75) }),
			want{answer: NotAsNailHole, method: Section, failing: []finding.Code{finding.PuncturePlace}}},
		{"truck, crown but distance not told", from(bookUS, truck, func(in *Input) { in.Injuries[0].FromEdge = nil }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureEdgeDistance}}},
		{"truck, through the sidewall", from(bookUS, truck, func(in *Input) { in.Injuries[0].Part = Sidewall }),
			want{answer: NotAsNailHole, method: Section, failing: []finding.Code{finding.PuncturePlace}}},
		{"truck, through the bead", from(bookUS, truck, func(in *Input) { in.Injuries[0].Part = Bead }),
			want{answer: NotRepairable, failing: []finding.Code{finding.PuncturePlace}}},
		{"truck steer with an earlier section repair", from(bookUS, truck, func(in *Input) {
			in.Steer, in.Earlier, in.Injuries[0].Overlaps = true, []Method{Section}, finding.No
		}), want{answer: Repairable, method: Combination, has: []any{finding.PunctureSectionOnSteer}}},
		{"zipper ripple", from(bookUS, truck, func(in *Input) { outside(in); in.Seen = []Mark{Zipper} }),
			want{answer: NotRepairable, urgency: finding.BeforeDriving, failing: []finding.Code{finding.PunctureZipper}, has: []any{finding.CautionPunctureZipper}}},
		{"UK, V-rated, second repair", from(bookUK, vRated, func(in *Input) {
			in.Earlier, in.Injuries[0].Overlaps = []Method{Combination}, finding.No
		}), want{answer: NotRepairable, failing: []finding.Code{finding.PunctureTooMany}}},
		{"UK, section width not known", from(bookUK, "", func(in *Input) { in.Vehicle = layout.PassengerCar }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureSectionWidth}}},
		{"UK, center distance not told", from(bookUK, car, func(in *Input) { in.Injuries[0].FromCenter = nil }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureCenterDistance}}},
		{"UK, a truck tire", from(bookUK, truck, nil), want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureRules}}},
		{"self-supporting, policy not known", from(bookUS, car, func(in *Input) { in.Tire.SelfSupporting = finding.Yes }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureMakerPolicy}}},
		{"self-supporting, its maker allows it", from(bookUS, car, func(in *Input) {
			in.Tire.SelfSupporting, in.Tire.Policy = finding.Yes, PolicyAllows
		}), want{answer: Repairable, method: Combination}},
		{"sealant-lined, its maker forbids it", from(bookUS, car, func(in *Input) {
			in.Tire.SealantLined, in.Tire.Policy = finding.Yes, PolicyForbids
		}), want{answer: NotRepairable, failing: []finding.Code{finding.PunctureMakerPolicy}}},
		{"self-supporting not asked", from(bookUS, car, nil),
			want{answer: Repairable, method: Combination, has: []any{finding.PunctureSelfSupporting}}},
		{"tire not known, 3/16 in", from(bookUS, "", func(in *Input) { in.Injuries[0].Prepared = prepared(3./16, unit.Inches) }),
			want{answer: Repairable, method: Combination}},
		{"tire not known, 5/16 in", from(bookUS, "", func(in *Input) { in.Injuries[0].Prepared = prepared(5./16, unit.Inches) }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureTireSize, finding.PunctureSize}}},
		{"tire not known, 1/2 in", from(bookUS, "", func(in *Input) { in.Injuries[0].Prepared = prepared(0.5, unit.Inches) }),
			want{answer: NotAsNailHole, method: Section, failing: []finding.Code{finding.PunctureSize, finding.PunctureSize}}},
		{"tire not known, 1/2 in, outside the grooves, 2.5 in from the edge", from(bookUS, "", func(in *Input) {
			in.Injuries[0].Prepared, in.Injuries[0].BetweenOuterGrooves = prepared(0.5, unit.Inches), new(false)
		}), want{answer: NotAsNailHole, method: Section, failing: []finding.Code{finding.PunctureSize, finding.PuncturePlace, finding.PunctureSize}}},
		{"tire of a car not known, 5/16 in", from(bookUS, "", func(in *Input) {
			in.Vehicle, in.Injuries[0].Prepared = layout.PassengerCar, prepared(5./16, unit.Inches)
		}), want{answer: NotRepairable, failing: []finding.Code{finding.PunctureSize}}},
		{"place not told", from(bookUS, car, func(in *Input) {
			in.Injuries[0].Part, in.Injuries[0].BetweenOuterGrooves = PartNotTold, nil
		}), want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePuncturePlace}}},
		{"cord seen from outside", from(bookUS, car, func(in *Input) { outside(in); in.Seen = []Mark{CordShowing} }),
			want{answer: NotRepairable, urgency: finding.BeforeDriving, failing: []finding.Code{finding.PunctureCord}}},
		{"scuff ring from outside", from(bookUS, car, func(in *Input) { outside(in); in.Seen = []Mark{ScuffRing} }),
			want{answer: NotDecidedDemountAndInspect, urgency: finding.BeforeDriving, has: []any{finding.PunctureScuffRing, finding.CautionPunctureNoAir}}},
		{"holding air and pressure not told", from(bookUS, car, func(in *Input) {
			outside(in)
			in.Injuries[0].HoldsAir, in.Pressure = finding.NotAsked, Pressure{}
		}), want{answer: NotDecidedDemountAndInspect, urgency: finding.BeforeDriving}},
		{"holding air not told, pressure good", from(bookUS, car, func(in *Input) { outside(in); in.Injuries[0].HoldsAir = finding.NotAsked }),
			want{answer: NotDecidedDemountAndInspect, urgency: finding.ThisVisit}},
		{"leaking", from(bookUS, car, func(in *Input) { outside(in); in.Injuries[0].HoldsAir = finding.No }),
			want{answer: NotDecidedDemountAndInspect, urgency: finding.BeforeDriving}},
		{"probe stops short, holding air not told", from(bookUS, car, func(in *Input) {
			outside(in)
			in.Injuries[0].Through, in.Injuries[0].HoldsAir = finding.No, finding.NotAsked
		}), want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureHoldsAir}}},
		{"probe stops short, but it leaks", from(bookUS, car, func(in *Input) {
			in.Injuries[0].Through, in.Injuries[0].HoldsAir = finding.No, finding.No
		}), want{answer: NotDecidedDemountAndInspect, urgency: finding.BeforeDriving, has: []any{finding.SettlePunctureReach}}},
		{"probe stops short, but it ran low", from(bookUS, car, func(in *Input) {
			outside(in)
			in.Injuries[0].Through, in.Pressure.RunLow = finding.No, finding.Yes
		}), want{answer: NotDecidedDemountAndInspect, urgency: finding.BeforeDriving, has: []any{finding.SettlePunctureInside}}},
		{"probe stops short, tire worn", from(bookUS, car, func(in *Input) {
			in.Injuries[0].Through, in.Tire.Tread = finding.No, tread32(2)
		}), want{answer: NotRepairable, failing: []finding.Code{finding.PunctureWorn}}},
		{"object still in place though prepared", from(bookUS, car, func(in *Input) { in.Injuries[0].ObjectInPlace = finding.Yes }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureSizeAfterPreparing}}},
		{"outside, provably over the limit", from(bookUS, car, func(in *Input) { outside(in); in.Injuries[0].Size = mm(6.9) }),
			want{answer: NotRepairable, failing: []finding.Code{finding.PunctureSize}}},
		{"outside, at the limit", from(bookUS, car, func(in *Input) { outside(in); in.Injuries[0].Size = mm(6.6) }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.PunctureSize, finding.SettlePunctureSizeAfterPreparing}}},
		{"two holes, both good", from(bookUS, car, func(in *Input) {
			in.Injuries[0].Overlaps = finding.No
			in.Injuries = append(in.Injuries, in.Injuries[0])
			in.Injuries[1].Angle = degrees(40)
		}), want{answer: Repairable, method: TwoPiece, has: []any{finding.PunctureSeveralInjuries}}},
		{"two holes, one in the sidewall", from(bookUS, car, func(in *Input) {
			in.Injuries = append(in.Injuries, Injury{Part: Sidewall})
		}), want{answer: NotRepairable, failing: []finding.Code{finding.PuncturePlace}}},
		{"a hole and a screw that stops short", from(bookUS, car, func(in *Input) {
			in.Injuries = append(in.Injuries, Injury{Part: Shoulder, Through: finding.No})
		}), want{answer: Repairable, method: Combination}},
		{"everything wrong at once", from(bookUS, car, func(in *Input) {
			in.Injuries[0].Prepared, in.Injuries[0].Part = prepared(0.5, unit.Inches), Sidewall
			in.Tire.Tread, in.Seen, in.Earlier = tread32(1), []Mark{LinerRing, CordShowing}, []Method{PlugOnly}
			in.Injuries[0].Overlaps = finding.No
		}), want{answer: NotRepairable, urgency: finding.BeforeDriving,
			failing: []finding.Code{finding.PunctureRunLowDamage, finding.PunctureCord, finding.PunctureEarlierRepair, finding.PunctureWorn, finding.PunctureSize, finding.PuncturePlace}}},
		{"no injury told", from(bookUS, car, func(in *Input) { in.Injuries = nil }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureInjury}}},
		{"a motorcycle", from(bookUS, car, func(in *Input) { in.Vehicle = layout.Motorcycle }),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureRules}}},
		{"a country whose rules were not read", func() Input { in := good(car); in.Books = nil; return in }(),
			want{answer: NotDecidedDemountAndInspect, has: []any{finding.SettlePunctureRules}}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := Judge(c.in)
			if r.Answer != c.want.answer {
				t.Fatalf("%s, want answer %v; failing %v, open %v, missing %v", r.Main.Code, c.want.answer, codes(r.Failing), codes(r.Open), r.Missing)
			}
			if r.Method != c.want.method && r.Answer != NotAsNailHole {
				t.Errorf("method %v, want %v", r.Method, c.want.method)
			}
			if c.want.urgency != 0 && r.Main.Urgency != c.want.urgency {
				t.Errorf("urgency %v, want %v", r.Main.Urgency, c.want.urgency)
			}
			if got := codes(r.Failing); !slices.Equal(got, c.want.failing) {
				t.Errorf("failing %v, want %v", got, c.want.failing)
			}
			said := slices.Concat(each(codes(r.Open)), each(r.Missing), each(codes(r.Notes)), each(r.Cautions))
			for _, h := range c.want.has {
				if !slices.Contains(said, h) {
					t.Errorf("%s is not among %v", h, said)
				}
			}
			if r.Answer == NotRepairable && (r.Open != nil || r.Missing != nil || r.LookFor != nil) {
				t.Errorf("not repairable, and still open %v, missing %v, to look for %v", codes(r.Open), r.Missing, r.LookFor)
			}
			main := mainCodes[r.Answer]
			if r.Answer == NotDecidedDemountAndInspect && (c.in.InsideSeen || len(r.First) > 0) {
				main = finding.PunctureNotDecided // what is missing is not the look inside
			}
			if r.Main.Code != main || (r.Answer == NotDecidedDemountAndInspect) != (r.Main.ToSettle != "") {
				t.Errorf("main finding %+v", r.Main)
			}
		})
	}
}

// TestStrictestBookGoverns: 6.2 mm passes 1/4 in and fails 6 mm; with the
// country not told the tire is not repairable and the rule is a candidate.
func TestStrictestBookGoverns(t *testing.T) {
	in := good(car, bookUS, bookUK)
	in.Injuries[0].Prepared = prepared(6.2, unit.Millimeters)
	r := Judge(in)
	if r.Answer != NotRepairable || len(r.Failing) != 1 || r.Failing[0].Rule.ID != "repair-uk.hole" || !r.Failing[0].Candidate {
		t.Fatalf("%v %+v", r.Main.Code, r.Failing)
	}
	in.Injuries[0].Prepared = prepared(7, unit.Millimeters)
	if r = Judge(in); len(r.Failing) != 2 {
		t.Fatalf("both rules fail: %+v", r.Failing)
	}
	in.Books = []string{bookUS}
	in.Injuries[0].Prepared = prepared(6.2, unit.Millimeters)
	if r = Judge(in); r.Answer != Repairable {
		t.Fatalf("%v", r.Main.Code)
	}
}

// TestSizeFindingShowsTheRulesUnit: 5/16 in against 1/4 in, in inches.
func TestSizeFindingShowsTheRulesUnit(t *testing.T) {
	in := good(car, bookUS)
	in.Injuries[0].Prepared = prepared(5./16, unit.Inches)
	f := Judge(in).Failing[0]
	if f.Measured.String() != "0.3125 in" || f.Limit.String() != "0.25 in" || f.Margin.String() != "0.0625 in" || f.Outcome != measure.Above {
		t.Errorf("%+v", f)
	}
}

// TestEvidenceIsInTheBooksUnits: inches and thirty-seconds, or millimeters.
func TestEvidenceIsInTheBooksUnits(t *testing.T) {
	for book, want := range map[string]string{bookUS: "0.125 in 0.125 in 7/32 in", bookUK: "3.175 mm 3.175 mm 5.556 mm"} {
		var got []string
		for _, e := range Judge(good(car, book)).Main.Evidence {
			got = append(got, e.Amount.String())
		}
		if strings.Join(got, " ") != want {
			t.Errorf("%s: %v, want %s", book, got, want)
		}
	}
}

// TestLookForBeginsWithRunLow: what decides first is looked for first.
func TestLookForBeginsWithRunLow(t *testing.T) {
	in := good(truck, bookUS)
	outside(&in)
	r := Judge(in)
	if len(r.LookFor) < 5 || r.LookFor[0] != finding.LookForRunLow || !slices.Contains(r.LookFor, finding.LookForZipper) {
		t.Errorf("%v", r.LookFor)
	}
	if r = Judge(good(car, bookUS)); r.LookFor != nil || r.Missing != nil {
		t.Errorf("repairable, and still to look for %v, missing %v", r.LookFor, r.Missing)
	}
}

// anyInput makes an arbitrary input that a caller could give.
func anyInput(r *rand.Rand) Input {
	pick := func(xs ...string) string { return xs[r.IntN(len(xs))] }
	answer := func() finding.Answer { return finding.Answer(r.IntN(4)) }
	in := good(car, bookUS)
	in.Books = [][]string{{bookUS}, {bookUK}, {bookUS, bookUK}, nil}[r.IntN(4)]
	in.Tire.Marking = sidewall.Parse(pick(car, ltE, ltF, truck, vRated, narrow, noRange, ""))
	in.Vehicle = []layout.Class{layout.ClassNotTold, layout.PassengerCar, layout.LightTruck, layout.Heavy}[r.IntN(4)]
	in.Tire.Tread = tread32(float64(r.IntN(40)) / 4)
	in.Steer, in.InsideSeen = r.IntN(2) == 0, r.IntN(3) > 0
	in.Pressure = Pressure{answer(), answer()}
	if r.IntN(4) == 0 {
		in.Tire.FoamLined, in.Tire.Policy = answer(), Policy(r.IntN(3))
	}
	for range r.IntN(2) {
		in.Earlier = append(in.Earlier, Method(r.IntN(int(Boot)+1)))
	}
	in.Injuries = nil
	for range 1 + r.IntN(2) {
		i := Injury{Part: Part(r.IntN(5)), Angle: degrees(float64(r.IntN(50))), Through: answer(), Overlaps: answer(), HoldsAir: answer(), ObjectInPlace: answer()}
		i.Size, i.Prepared = mm(float64(r.IntN(140))/10), prepared(float64(r.IntN(140))/10, unit.Millimeters)
		i.FromEdge, i.FromCenter = mm(float64(r.IntN(90))), mm(float64(r.IntN(90)))
		if r.IntN(2) == 0 {
			i.BetweenOuterGrooves = new(r.IntN(2) == 0)
		}
		if r.IntN(5) < 3 { // half the inputs should have a chance
			i.Part, i.Overlaps, i.ObjectInPlace, i.BetweenOuterGrooves = Crown, finding.No, finding.No, nil
			i.Prepared, i.Size = prepared(float64(r.IntN(100))/10, unit.Millimeters), nil
		}
		in.Injuries = append(in.Injuries, i)
	}
	return in
}

func clone(in Input) Input {
	in.Injuries, in.Seen, in.Earlier = slices.Clone(in.Injuries), slices.Clone(in.Seen), slices.Clone(in.Earlier)
	return in
}

// TestWorseNeverImproves: a larger hole, a place nearer the shoulder, less
// tread, one more damage, one more book or a shut inside never improves the answer.
func TestWorseNeverImproves(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	worse := map[string]func(*Input, *Injury){
		"larger after preparing": func(_ *Input, i *Injury) { *i.Prepared += unit.Length(r.IntN(30_000_000)) },
		"larger as found": func(_ *Input, i *Injury) {
			if i.Size != nil {
				v := *i.Size
				v.Of += unit.Length(r.IntN(30_000_000))
				i.Size = &v
			}
		},
		"nearer the shoulder edge": func(_ *Input, i *Injury) {
			v := *i.FromEdge
			v.Of -= unit.Length(r.Int64N(int64(v.Of) + 1))
			i.FromEdge = &v
		},
		"farther from the center line": func(_ *Input, i *Injury) {
			v := *i.FromCenter
			v.Of += unit.Length(r.IntN(300_000_000))
			i.FromCenter = &v
		},
		"outside the grooves": func(_ *Input, i *Injury) { i.BetweenOuterGrooves = new(false) },
		"in the next part":    func(_ *Input, i *Injury) { i.Part = min(max(i.Part, Crown)+1, Bead) },
		"less tread": func(in *Input, _ *Injury) {
			v := *in.Tire.Tread
			v.Of -= unit.Depth(r.Int64N(int64(v.Of) + 1))
			in.Tire.Tread = &v
		},
		"one more mark":   func(in *Input, _ *Injury) { in.Seen = append(in.Seen, Mark(1+r.IntN(int(SealantInside)))) },
		"one more repair": func(in *Input, _ *Injury) { in.Earlier = append(in.Earlier, Method(r.IntN(int(Boot)+1))) },
		"one more injury": func(in *Input, i *Injury) { in.Injuries = append(in.Injuries, *i) },
		"inside not seen": func(in *Input, _ *Injury) { in.InsideSeen = false },
		"run low":         func(in *Input, _ *Injury) { in.Pressure.RunLow = finding.Yes },
		"leaks":           func(_ *Input, i *Injury) { i.HoldsAir = finding.No },
		"overlaps":        func(_ *Input, i *Injury) { i.Overlaps = finding.Yes },
		"maker forbids":   func(in *Input, _ *Injury) { in.Tire.Policy = PolicyForbids },
		"one more rulebook": func(in *Input, _ *Injury) {
			if len(in.Books) == 1 {
				in.Books = []string{bookUS, bookUK}
			}
		},
	}
	var names []string
	for name := range worse {
		names = append(names, name)
	}
	slices.Sort(names)
	moved := map[string]bool{}
	for range 1500 {
		in := anyInput(r)
		before := Judge(in)
		for _, name := range names {
			if name == "in the next part" && in.Injuries[0].Part == PartNotTold {
				continue // to tell the part is not to move the hole
			}
			changed := clone(in)
			worse[name](&changed, &changed.Injuries[0])
			after := Judge(changed)
			if after.Answer < before.Answer {
				t.Fatalf("%s improved %v to %v: %+v", name, before.Main.Code, after.Main.Code, in)
			}
			moved[name] = moved[name] || after.Answer > before.Answer
		}
	}
	for _, name := range names {
		if !moved[name] {
			t.Errorf("%s never changed an answer: the test says nothing", name)
		}
	}
}

// TestMissingIsNeverGood: taking away what is known of a tire never makes the
// answer Repairable or NoInjury, and never better than what a good tire gets.
func TestMissingIsNeverGood(t *testing.T) {
	take := map[string]func(*Input){
		"inside":   func(in *Input) { in.InsideSeen = false },
		"prepared": func(in *Input) { in.Injuries[0].Prepared = nil },
		"tread":    func(in *Input) { in.Tire.Tread = nil },
		"injury":   func(in *Input) { in.Injuries = nil },
		"books":    func(in *Input) { in.Books = nil },
		"place": func(in *Input) {
			i := &in.Injuries[0]
			i.Part, i.BetweenOuterGrooves, i.FromEdge, i.FromCenter = PartNotTold, nil, nil, nil
		},
		"foam": func(in *Input) { in.Tire.FoamLined = finding.NotKnown },
		"probe and air": func(in *Input) {
			in.InsideSeen = false
			in.Injuries[0].Through, in.Injuries[0].HoldsAir = finding.No, finding.NotKnown
		},
	}
	for _, book := range []string{bookUS, bookUK} {
		for _, marking := range []string{car, ltE, ltF, truck} {
			if book == bookUK && marking == truck {
				continue // no rules were read: never repairable at all
			}
			in := good(marking, book)
			if r := Judge(in); r.Answer != Repairable {
				t.Fatalf("%s %s: %v %v", book, marking, r.Main.Code, r.Missing)
			}
			for name, f := range take {
				less := clone(in)
				f(&less)
				if r := Judge(less); r.Answer != NotDecidedDemountAndInspect || len(r.Missing) == 0 {
					t.Errorf("%s %s without %s: %v, missing %v", book, marking, name, r.Main.Code, r.Missing)
				}
			}
		}
	}
}

// TestUnitsChangeNothing: a size in inches or in millimeters is the same size.
func TestUnitsChangeNothing(t *testing.T) {
	for n := range 400 {
		size := float64(n) / 1000 // in; 25.4 of them are 0.01 mm steps exactly
		a, b := good(car, bookUS), good(car, bookUS)
		a.Injuries[0].Prepared = prepared(size, unit.Inches)
		b.Injuries[0].Prepared = prepared(size*25.4, unit.Millimeters)
		if Judge(a).Answer != Judge(b).Answer {
			t.Fatalf("%g in", size)
		}
	}
}

// TestEveryRuleIsAskedFor: every rule id that the code names is in its book.
func TestEveryRuleIsAskedFor(t *testing.T) {
	both := []string{"found-size-uncertainty", "distance-uncertainty", "angle-uncertainty", "angle", "maker-policy", "fast", "age-advice",
		"inside-seen", "fill-and-seal", "earlier-repair", "worn", "overlap", "damage", "count"}
	for book, ids := range map[string][]string{
		bookUS: append([]string{"hole-fabric", "hole-steel", "crown-only", "crown-grooves", "crown-edge", "truck-crown", "truck-shoulder", "section-not-on-steer", "steer-nail-hole"}, both...),
		bookUK: append([]string{"hole", "area-narrow", "area-middle", "area-wide", "area-only", "count-fast"}, both...),
	} {
		b := rulebook.Must(book)
		for _, id := range ids {
			b.Limit(id) // panics when it is not there
		}
		if len(b.Limits) != len(ids) {
			t.Errorf("%s has %d limits, %d are asked for", book, len(b.Limits), len(ids))
		}
	}
}

func each[C any](codes []C) (all []any) {
	for _, c := range codes {
		all = append(all, c)
	}
	return all
}

// The order of injuries is one order, whichever of two comes first: the larger hole before
// the smaller, and what is told of one before what is told of none (our own decision).
// Every field decides where the others are equal.
func TestInjuriesHaveOneOrder(t *testing.T) {
	length := func(n float64) *measure.Value[unit.Length] {
		v := measure.Exact(unit.MustLength(n, unit.Millimeters))
		return &v
	}
	bare := func(n float64) *unit.Length { return &length(n).Of }
	angle := func(n float64) *measure.Value[unit.Angle] {
		v := measure.Exact(unit.Angle(n))
		return &v
	}
	yes, no := true, false
	for _, row := range []struct {
		name           string
		before, behind Injury
	}{
		{"prepared", Injury{Prepared: bare(6)}, Injury{Prepared: bare(5)}},
		{"prepared, not told", Injury{Prepared: bare(5)}, Injury{}},
		{"prepared before as found", Injury{Prepared: bare(5), Size: length(1)}, Injury{Size: length(6)}},
		{"size", Injury{Size: length(6)}, Injury{Size: length(5)}},
		{"size, not told", Injury{Size: length(5)}, Injury{}},
		{"angle", Injury{Angle: angle(0.2)}, Injury{Angle: angle(0.1)}},
		{"angle, not told", Injury{Angle: angle(0.1)}, Injury{}},
		{"from the edge", Injury{FromEdge: length(10)}, Injury{FromEdge: length(20)}},
		{"from the edge, not told", Injury{FromEdge: length(10)}, Injury{}},
		{"from the center", Injury{FromCenter: length(60)}, Injury{FromCenter: length(50)}},
		{"from the center, not told", Injury{FromCenter: length(50)}, Injury{}},
		{"between the outer grooves", Injury{BetweenOuterGrooves: &no}, Injury{BetweenOuterGrooves: &yes}},
		{"between the outer grooves, not told", Injury{BetweenOuterGrooves: &yes}, Injury{}},
		{"nearest", Injury{Nearest: length(10)}, Injury{Nearest: length(20)}},
		{"nearest, not told", Injury{Nearest: length(10)}, Injury{}},
		{"unit", Injury{UnitWidth: bare(50)}, Injury{UnitWidth: bare(40)}},
		{"unit, not told", Injury{UnitWidth: bare(40)}, Injury{}},
	} {
		first, last, same := row.before.Compare(row.behind), row.behind.Compare(row.before), row.before.Compare(row.before)
		if first != -1 || last != 1 || same != 0 {
			t.Errorf("%s: %d and %d, itself %d", row.name, first, last, same)
		}
	}
}
