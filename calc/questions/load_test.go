package questions

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Each tire of an axle on a scale is judged by its own marking and pressure; what of it was
// not read is asked for.
func TestEachTireOfAnAxleOnAScale(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{{ColdNormal: psi(33), LabelUnit: unit.PSI}, {ColdNormal: psi(33), LabelUnit: unit.PSI}}}
	const strong, weak = "P215/60R16 94T", "P175/65R14 81T" // 670 kg; 462 kg
	wheel := func(at, size string, found float64) visit.Wheel {
		w := visit.Wheel{Position: layout.MustParse(at), Tire: visit.Tire{Size: size, Marking: sidewall.Parse(size)}}
		if found > 0 {
			w.Pressure = visit.Pressure{Of: psi(found), Read: unit.PSI}
		}
		return w
	}
	for _, c := range []struct {
		name   string
		wheels []visit.Wheel
		kg     float64 // of the front axle
		found  []string
		asked  []string
	}{
		{"both carry it", []visit.Wheel{wheel("1L", strong, 35), wheel("1R", strong, 35)}, 1000, nil, nil},
		{"one is not rated for it", []visit.Wheel{wheel("1L", strong, 35), wheel("1R", weak, 35)}, 1000, []string{"load.above-rating 1R"}, nil},
		{"the other is not", []visit.Wheel{wheel("1L", weak, 35), wheel("1R", strong, 35)}, 1000, []string{"load.above-rating 1L"}, nil},
		{"one has too little air", []visit.Wheel{wheel("1L", strong, 35), wheel("1R", strong, 26)}, 1200, []string{"load.pressure-too-low 1R"}, nil},
		{"one was not read", []visit.Wheel{wheel("1L", strong, 35), wheel("1R", strong, 0)}, 1000, nil, []string{"inflation.need-reading 1R"}},
		{"one is not known", []visit.Wheel{wheel("1L", strong, 35), wheel("1R", "", 35)}, 1000, nil, []string{"ask.load-rating 1R"}},
		{"one was not reported", []visit.Wheel{wheel("1L", strong, 35)}, 1000, nil, []string{"ask.load-rating 1R", "inflation.need-reading 1R"}},
	} {
		in := LoadIn{
			Laws: Laws{Vehicle: car}, Wheels: c.wheels, Airs: Airs{Wheels: map[layout.Position]inflation.Wheel{}, Results: map[layout.Position]inflation.Result{}},
			Scale: visit.Scale{Vehicle: car, Axles: []visit.AxleWeight{{Axle: 1, Weight: unit.MustMass(c.kg, unit.Kilograms), ReadIn: unit.Kilograms}}},
		}
		for _, w := range c.wheels {
			air := visit.Labels{Vehicle: car}.Air(w, w.Pressure, inflation.Conditions{DrivenHere: finding.No})
			in.Airs.Wheels[w.Position], in.Airs.Results[w.Position] = air, inflation.Judge(air)
		}
		out := Load(in)
		var asked []string
		for _, a := range out.Asked {
			s := string(a.Code)
			for _, p := range a.Positions {
				s += " " + p.String()
			}
			asked = append(asked, s)
		}
		slices.Sort(asked)
		if got := doubtsOf(out.Findings); !slices.Equal(got, c.found) || !slices.Equal(asked, c.asked) {
			t.Errorf("%s: found %q, asked %q", c.name, got, asked)
		}
	}
}

// What keeps a tire from going to another place, each reason once.
func TestWhatKeepsATireInItsPlace(t *testing.T) {
	p := layout.MustParse("1L")
	seen := func(kinds ...finding.Observation) (all []visit.Observation) {
		for _, k := range kinds {
			all = append(all, visit.Observation{Kind: k})
		}
		return all
	}
	for _, c := range []struct {
		name  string
		w     visit.Wheel
		air   finding.Code
		holes []Repair
		want  []finding.Reason
	}{
		{"nothing", visit.Wheel{Position: p}, "", nil, nil},
		{"hurt twice over", visit.Wheel{Position: p, Observations: seen(finding.ObservedBulge, finding.ObservedCut)}, "", nil, []finding.Reason{finding.ReasonTireHurt}},
		{"a bulge", visit.Wheel{Position: p, Observations: seen(finding.ObservedBulge)}, "", nil, []finding.Reason{finding.ReasonTireHurt}},
		{"a cut", visit.Wheel{Position: p, Observations: seen(finding.ObservedCut)}, "", nil, []finding.Reason{finding.ReasonTireHurt}},
		{"scuffed, which is a note", visit.Wheel{Position: p, Observations: seen(finding.ObservedCurbScuff)}, "", nil, nil},
		{"its wheel bent, which can wait", visit.Wheel{Position: p, Observations: seen(finding.ObservedWheelBentOuterLip)}, "", nil, nil},
		{"worn to its bars", visit.Wheel{Position: p, Observations: seen(finding.ObservedAtWearBars)}, "", nil, nil},
		{"its wheel cracked", visit.Wheel{Position: p, Observations: seen(finding.ObservedWheelCrack)}, "", nil, []finding.Reason{finding.ReasonWheelFirst}},
		{"flat", visit.Wheel{Position: p}, finding.InflationFlat, nil, []finding.Reason{finding.ReasonMayHaveRunLow}},
		{"ran low", visit.Wheel{Position: p}, finding.InflationRunLow, nil, []finding.Reason{finding.ReasonMayHaveRunLow}},
		{"may have run low", visit.Wheel{Position: p}, finding.InflationRunLowUndecided, nil, []finding.Reason{finding.ReasonMayHaveRunLow}},
		{"low", visit.Wheel{Position: p}, finding.InflationLow, nil, nil},
		{"a hole", visit.Wheel{Position: p}, "", []Repair{{Position: p}}, []finding.Reason{finding.ReasonRepairOpen}},
		{"a hole elsewhere", visit.Wheel{Position: p}, "", []Repair{{Position: p.Mirror()}}, nil},
		{"no injury", visit.Wheel{Position: p}, "", []Repair{{Position: p, Result: puncture.Result{Answer: puncture.NoInjury}}}, nil},
		{"a temporary spare", visit.Wheel{Position: p, Tire: visit.Tire{Marking: sidewall.Parse("T125/70D15 95M")}}, "", nil, []finding.Reason{finding.ReasonTemporarySpare}},
		{"a temporary spare in its own place", visit.Wheel{Position: layout.MustParse("S"), Tire: visit.Tire{Marking: sidewall.Parse("T125/70D15 95M")}}, "", nil, nil},
	} {
		in := RotationIn{Airs: Airs{Results: map[layout.Position]inflation.Result{}}, Repairs: c.holes}
		if c.air != "" {
			in.Airs.Results[p] = inflation.Result{Findings: []finding.Finding{{Code: c.air}}}
		}
		if got := in.against(c.w); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// What may explain a lamp that no pressure explains: each by itself (common practice).
func TestWhatMayExplainALamp(t *testing.T) {
	spare := layout.Position{Spare: true}
	full := visit.Labels{Vehicle: layout.Vehicle{Axles: []layout.Axle{{ColdNormal: psi(33)}}}, Spare: visit.Spare{FullSize: true}}
	read := map[layout.Position]inflation.Wheel{spare: {Read: unit.PSI}}
	short := func(code finding.Code) Airs {
		return Airs{Wheels: read, Results: map[layout.Position]inflation.Result{spare: {Findings: []finding.Finding{{Code: code}}}}}
	}
	for _, c := range []struct {
		name  string
		in    SensorIn
		found []finding.Code
		want  []finding.Fact
	}{
		{"nothing", SensorIn{}, nil, nil},
		{"one seen not to answer", SensorIn{Silent: []layout.Position{layout.MustParse("1L")}}, nil, []finding.Fact{finding.FactSensorOneSilent}},
		{"one that does not answer", SensorIn{}, []finding.Code{finding.SensorNotAnswering}, []finding.Fact{finding.FactSensorOneSilent}},
		{"a battery low", SensorIn{}, []finding.Code{finding.SensorBatteryLow}, []finding.Fact{finding.FactSensorOneBatteryLow}},
		{"places mixed", SensorIn{}, []finding.Code{finding.SensorNotLearned}, []finding.Fact{finding.FactSensorPlacesMixed}},
		{"a full-size spare that is low", SensorIn{Labels: full, Airs: short(finding.InflationLow)}, nil, []finding.Fact{finding.FactSensorSpareShort}},
		{"below its label", SensorIn{Labels: full, Airs: short(finding.InflationBelowLabel)}, nil, []finding.Fact{finding.FactSensorSpareShort}},
		{"flat", SensorIn{Labels: full, Airs: short(finding.InflationFlat)}, nil, []finding.Fact{finding.FactSensorSpareShort}},
		{"with a leak", SensorIn{Labels: full, Airs: short(finding.InflationFindLeak)}, nil, []finding.Fact{finding.FactSensorSpareShort}},
		{"as it should be", SensorIn{Labels: full, Airs: short(finding.InflationAboveLabel)}, nil, nil},
		{"not read", SensorIn{Labels: full}, nil, []finding.Fact{finding.FactSensorSpareNotRead}},
		{"another spare, not read", SensorIn{}, nil, nil},
		{"another spare, low", SensorIn{Airs: short(finding.InflationLow)}, nil, nil},
	} {
		var found []finding.Finding
		for _, code := range c.found {
			found = append(found, finding.Finding{Code: code})
		}
		if got := c.in.lamp(found); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// A loss is told by its rate, in the unit that the pressure was read in, and its days; that
// no temperature brings the readings together speaks against it.
func TestWhatALossIsToldBy(t *testing.T) {
	for read, shown := range map[unit.Unit]unit.Unit{unit.PSI: unit.PSIPerMonth, unit.Kilopascals: unit.KilopascalsPerMonth, unit.Bar: unit.BarPerMonth} {
		for _, oneHeat := range []bool{true, false} {
			l := losing{days: 90, oneHeat: oneHeat, pressure: visit.Pressure{Read: read}}
			u := lossUnit(l.pressure)
			es := lossEvidence(l, u)
			if u != shown || es[0].Code != finding.FactTrendLoss || es[0].Amount.Unit != shown || es[1].Code != finding.FactTrendDays || es[1].Amount.Number != 90 {
				t.Errorf("read in %v: %+v", read, es)
			}
			if told := len(es) == 3 && es[2].Code == finding.FactTrendTemperatureNotTold && es[2].Against; told == oneHeat || len(es) > 3 {
				t.Errorf("at one temperature %v: %+v", oneHeat, es)
			}
		}
	}
}
