package order

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// What a finding asks for is told with what it is set to, at which wheels and when: the amount,
// the tire of two that goes, the reading that ends a doubt (our own decision).
func TestWhatALineIsToldWith(t *testing.T) {
	p := layout.MustParse
	psi := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.PSI} }
	torque := unit.Amount{Number: 100, Unit: unit.PoundFeet}
	with := func(f finding.Finding, do func(*finding.Finding)) finding.Finding { do(&f); return f }
	const soon = finding.ThisVisit
	car := visit.Visit{Torque: torque, Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}}
	read := func(names ...string) visit.Visit {
		v := car
		for _, n := range names {
			v.Wheels = append(v.Wheels, visit.Wheel{Position: p(n), Pressure: visit.Pressure{Of: unit.MustPressure(33, unit.PSI), Read: unit.PSI}})
		}
		return v
	}
	lower := func(f *finding.Finding) { f.Evidence = []finding.Evidence{{Code: tread.LowerTire(p("1R"))}} }
	asLabel := func(in *In) { in.Facts.Fitment.AsLabel = map[layout.Position]bool{p("1L"): true} }
	for _, c := range []struct {
		name   string
		f      finding.Finding
		v      visit.Visit
		change func(*In)
		want   []string
		target unit.Amount
		cold   bool
	}{
		{"sizes mixed, one of them the label's", of(finding.FitmentSizesMixed, soon, "1L", "1R"), car, asLabel, []string{"tires.fit-right 1R"}, unit.Amount{}, false},
		{"sizes mixed, none of them", of(finding.FitmentSizesMixed, soon, "1L", "1R"), car, nil, []string{"tires.fit-right 1L 1R"}, unit.Amount{}, false},
		{"a size that needs more air", with(of(finding.FitmentPressureForSize, soon, "1L"), func(f *finding.Finding) { f.Measured = psi(38.2) }), car, nil, []string{"air.set-for-size 1L"}, psi(38.2), true},
		{"a spare that is low", with(of(finding.SpareLow, soon, "S"), func(f *finding.Finding) { f.Limit = psi(60) }), car, nil, []string{"spare.set S"}, psi(60), false},
		{"a battery", of(finding.SensorBatteryLow, finding.Plan, "1L"), car, nil, []string{"sensor.renew 1L when.tire-comes-off"}, unit.Amount{}, false},
		{"a doubt, and what ends it", settledBy(of(finding.DoubtPressureUnit, soon, "1L"), finding.SettlePressureUnit), car, nil, []string{"measure.to-settle 1L by " + string(finding.SettlePressureUnit)}, unit.Amount{}, false},
		{"nothing ends it", of(finding.SensorDiffers, soon, "1L"), car, nil, nil, unit.Amount{}, false},
		{"a lamp, and two not read", settledBy(of(finding.InflationLampOnNotAllRead, soon), finding.SettleReadAllWheels), read("1L", "2L"), nil, []string{"measure.to-settle 1R 2R by " + string(finding.SettleReadAllWheels)}, unit.Amount{}, false},
		{"a lamp, and all read", settledBy(of(finding.InflationLampOnNotAllRead, soon), finding.SettleReadAllWheels), read("1L", "1R", "2L", "2R"), nil, nil, unit.Amount{}, false},
		{"two treads, the lower told", with(of(finding.TreadAxleDifferenceLimit, soon, "1L", "1R"), lower), car, nil, []string{"tires.match-axle 1R"}, unit.Amount{}, false},
		{"two treads, which is lower not told", of(finding.TreadAxleDifferenceLimit, soon, "1L", "1R"), car, nil, []string{"tires.match-axle 1L 1R"}, unit.Amount{}, false},
		{"no torque on record", of(finding.TorqueNoRecord, soon, "1L"), car, nil, []string{"wheel.torque 1L"}, torque, false},
		{"a check that is owed", of(finding.TorqueRecheckOwed, soon, "1L"), car, nil, []string{"wheel.torque-check 1L"}, torque, false},
		{"duals apart", of(finding.MatchDual, soon, "2LI", "2LO"), car, nil, []string{"dual.match 2LI 2LO"}, unit.Amount{}, false},
		{"duals that may be", undecided(of(finding.MatchDual, soon, "2LI", "2LO"), finding.SettleTapeCircumference), car, nil, []string{"measure.to-settle 2LI 2LO by " + string(finding.SettleTapeCircumference), "dual.match 2LI 2LO when.tape-shows-it"}, unit.Amount{}, false},
		{"duals, as a note", of(finding.MatchDual, finding.Note, "2LI", "2LO"), car, nil, nil, unit.Amount{}, false},
		{"a sealant, and a sensor that may be clogged", of(finding.ComplaintSealantUsed, soon, "1L"), car, nil, []string{"sensor.check 1L", "sealant.ask-first 1L"}, unit.Amount{}, false},
		{"a sealant in the spare, which has none", of(finding.ComplaintSealantUsed, soon, "S"), car, nil, []string{"sealant.ask-first S"}, unit.Amount{}, false},
	} {
		in := In{Visit: c.v}
		if c.change != nil {
			c.change(&in)
		}
		lines := in.by(c.f)
		if got := told(lines); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
			continue
		}
		if n := len(lines); n > 0 && (lines[n-1].Target != c.target || lines[n-1].FinishCold != c.cold) {
			t.Errorf("%s: to %v, finished cold %v", c.name, lines[n-1].Target, lines[n-1].FinishCold)
		}
	}
}

// A place that a tire may come to sets it to that place's label; where none is told the line
// stands without a figure.
func TestANewPlaceSetsItsLabel(t *testing.T) {
	axle := layout.Axle{ColdNormal: unit.MustPressure(35, unit.PSI), LabelUnit: unit.PSI}
	in := In{Visit: visit.Visit{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{{LabelUnit: unit.PSI}, axle}}}}
	for at, want := range map[string]unit.Amount{"1L": {}, "2L": {Number: 35, Unit: unit.PSI}} {
		w := in.newPlace(layout.MustParse(at), finding.WhenWheelsChangedPlace)
		if w.Target != want || w.Code != finding.WorkRotationSetPressures || w.Condition != finding.WhenWheelsChangedPlace || len(w.Positions) != 1 || w.Positions[0].String() != at {
			t.Errorf("%s: %+v", at, w)
		}
	}
}

// The tires of a pair leave alike: the lower comes up to the higher, cold or warm, whichever of
// the two it is; none of a pair that gets no air, and none where nothing is known to be apart
// (common practice; a warm tire is never let down).
func TestDualsLeaveAlike(t *testing.T) {
	inner, outer := layout.MustParse("2LI"), layout.MustParse("2LO")
	psi := func(n float64) unit.Pressure { return unit.MustPressure(n, unit.PSI) }
	truck := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{ColdNormal: psi(100), LabelUnit: unit.PSI}, {ColdNormal: psi(100), LabelUnit: unit.PSI, Dual: true}}}
	spread := of(finding.InflationDualSpread, finding.ThisVisit, "2LI", "2LO")
	set := func(n float64, at string) Work {
		return Work{Code: finding.WorkAirSet, Positions: places(at), Target: unit.Amount{Number: n, Unit: unit.PSI}}
	}
	for _, c := range []struct {
		name         string
		inner, outer float64 // found, 0: not read
		found        bool
		sets         []Work
		noAir        string
		want         []string
		to           float64
	}{
		{"found apart", 90, 100, true, nil, "", []string{"air.match-mates 2LI"}, 100},
		{"the outer is lower", 100, 90, true, nil, "", []string{"air.match-mates 2LO"}, 100},
		{"nothing found", 90, 100, false, nil, "", nil, 0},
		{"set further apart", 90, 90, false, []Work{set(100, "2LI")}, "", []string{"air.set 2LI", "air.match-mates 2LO"}, 100},
		{"set alike", 90, 100, true, []Work{set(100, "2LI")}, "", []string{"air.set 2LI"}, 0},
		{"the higher holds more than it should", 80, 110, true, []Work{set(100, "2LI")}, "", []string{"air.set 2LI", "air.lower-cold 2LO"}, 0},
		{"the lower gets no air", 90, 100, true, nil, "2LI", nil, 0},
		{"the higher gets none", 90, 100, true, nil, "2LO", []string{"air.match-mates 2LI"}, 100},
		{"one not read", 0, 100, true, nil, "", nil, 0},
		{"the lines of other wheels stay", 90, 100, true, []Work{set(100, "1L")}, "", []string{"air.set 1L", "air.match-mates 2LI"}, 100},
	} {
		in := In{Visit: visit.Visit{Vehicle: truck}}
		if c.found {
			in.Findings = []finding.Finding{spread}
		}
		in.Facts.Air.Airs = questions.Airs{Wheels: map[layout.Position]inflation.Wheel{}, Results: map[layout.Position]inflation.Result{}}
		for p, n := range map[layout.Position]float64{inner: c.inner, outer: c.outer} {
			w := visit.Wheel{Position: p}
			if n > 0 {
				w.Pressure = visit.Pressure{Of: psi(n), Read: unit.PSI}
			}
			in.Visit.Wheels = append(in.Visit.Wheels, w)
			in.Facts.Air.Airs.Wheels[p] = in.Visit.Labels().Air(w, w.Pressure, inflation.Conditions{DrivenHere: finding.No})
			in.Facts.Air.Airs.Results[p] = inflation.Result{At: p, NoAir: p.String() == c.noAir, Cold: inflation.Cold{Basis: finding.FactInflationBasisCold}}
		}
		got := in.evenDuals(slices.Clone(c.sets))
		var lines []string
		for _, w := range got {
			lines = append(lines, lineOf(w))
		}
		if !slices.Equal(lines, c.want) {
			t.Errorf("%s: %q, want %q", c.name, lines, c.want)
			continue
		}
		if c.to > 0 && (got[len(got)-1].Target.Number != c.to || !got[len(got)-1].FinishCold) {
			t.Errorf("%s: to %v", c.name, got[len(got)-1].Target)
		}
	}
}

// A tire that is filled anew is set to its label, and waits for the label to be read only where
// nobody told it.
func TestATireFilledAnewWaitsForItsLabelAlone(t *testing.T) {
	p := layout.MustParse("1L")
	for label, want := range map[float64]finding.Condition{33: "", 0: finding.WhenLabelIsRead} {
		axle := layout.Axle{LabelUnit: unit.PSI}
		if label > 0 {
			axle.ColdNormal = unit.MustPressure(label, unit.PSI)
		}
		v := visit.Visit{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{axle}}, Wheels: []visit.Wheel{{Position: p}}}
		in := In{Visit: v}
		in.Facts.Air.Airs = questions.Airs{Wheels: map[layout.Position]inflation.Wheel{}, Results: map[layout.Position]inflation.Result{}}
		in.Facts.Air.Airs.Wheels[p] = v.Labels().Air(v.Wheels[0], visit.Pressure{}, inflation.Conditions{DrivenHere: finding.No})
		for _, w := range in.air(p, true, false) {
			if w.Code != finding.WorkAirSet || w.Condition != want || w.Target.Number != label {
				t.Errorf("a label of %v: %+v", label, w)
			}
		}
	}
}
