package order

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
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
