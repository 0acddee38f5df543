package inflation_test

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	. "gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Which wheels the rule on servicing wheels of large vehicles speaks of (29 CFR
// 1910.177(a)(1)), and where each rim is filled: 1910.177(d)(1)-(3) as reprinted; of
// wheels that nobody told, travel trailers and spoke rims common practice.
func TestRims(t *testing.T) {
	type says struct {
		service Servicing
		fill    Fill
		emptied bool
		ask     bool
	}
	outside := says{OutsideRule, FillClear, false, false}
	for _, c := range []struct {
		name string
		w    Wheel
		says says
	}{
		{"truck, nobody told", Wheel{Class: layout.Heavy}, says{LargeWheel, FillDevice, true, true}},
		{"truck, rings (d)(1)", Wheel{Class: layout.Heavy, Rim: MultiPiece}, says{LargeWheel, FillDevice, true, false}},
		{"truck, one piece (d)(2)", Wheel{Class: layout.Heavy, Rim: OnePiece}, says{LargeWheel, FillGuarded, false, false}},
		{"truck, one piece, at 80 % (f)(2)", Wheel{Class: layout.Heavy, Rim: OnePiece, Read: 1, Found: psi(80), Label: psi(100)}, says{LargeWheel, FillGuarded, true, false}},
		{"truck, one piece, just over 80 %", Wheel{Class: layout.Heavy, Rim: OnePiece, Read: 1, Found: psi(80.1), Label: psi(100)}, says{LargeWheel, FillGuarded, false, false}},
		{"truck, one piece, seen flat", Wheel{Class: layout.Heavy, Rim: OnePiece, Seen: Seen{Flat: true}}, says{LargeWheel, FillGuarded, true, false}},
		{"truck, spoke rim of one piece", Wheel{Class: layout.Heavy, Rim: Demountable}, says{LargeWheel, FillGuarded, true, false}},
		{"bus, nobody told", Wheel{Class: layout.Bus}, says{LargeWheel, FillDevice, true, true}},
		{"trailer on truck tires", Wheel{Class: layout.Trailer, Tire: sidewall.NumericHeavy}, says{LargeWheel, FillDevice, true, true}},
		{"trailer, tires not told", Wheel{Class: layout.Trailer}, says{LargeWheel, FillDevice, true, true}},
		{"travel trailer on ST tires", Wheel{Class: layout.Trailer, Tire: sidewall.SpecialTrailer}, says{ShopsRule, FillByShop, false, true}},
		{"travel trailer on ST tires, one piece", Wheel{Class: layout.Trailer, Tire: sidewall.SpecialTrailer, Rim: OnePiece}, says{ShopsRule, FillByShop, false, false}},
		{"travel trailer with rings", Wheel{Class: layout.Trailer, Tire: sidewall.LightTruckTire, Rim: MultiPiece}, says{ShopsRule, FillDevice, false, false}},
		{"motorhome on truck tires", Wheel{Class: layout.Motorhome, Tire: sidewall.MetricHeavy}, says{LargeWheel, FillDevice, true, true}},
		{"motorhome on a van, LT tires", Wheel{Class: layout.Motorhome, Tire: sidewall.LightTruckTire}, outside},
		{"pickup on LT tires, whatever was told of its wheels", Wheel{Class: layout.LightTruck, Tire: sidewall.LightTruckTire, Rim: MultiPiece}, outside},
		{"pickup on car tires", Wheel{Class: layout.LightTruck, Tire: sidewall.PMetric}, outside},
		{"van, tires not told", Wheel{Class: layout.LightTruck}, outside},
		{"light truck on truck tires", Wheel{Class: layout.LightTruck, Tire: sidewall.MetricHeavy}, says{LargeWheel, FillDevice, true, true}},
		{"car", Wheel{Class: layout.PassengerCar, Tire: sidewall.PMetric}, outside},
		{"class not told", Wheel{}, outside},
		{"spare of a truck", Wheel{Class: layout.PassengerCar, On: layout.Heavy}, says{LargeWheel, FillDevice, true, true}},
	} {
		if got := (says{c.w.Servicing(), c.w.Fill(), c.w.Emptied(), c.w.AskRim()}); got != c.says {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.says)
		}
	}
}

// A law is cited only where a wheel with rings is told, and only where that law may bind:
// else the trade's guideline on steel cord (29 CFR 1910.177(f)(4); the industry guideline,
// as reported by the trade press).
func TestAirOnLargeWheels(t *testing.T) {
	for _, c := range []struct {
		name  string
		rim   Rim
		bound finding.Answer
		rule  string
		law   bool
		may   bool
	}{
		{"rings, in the US", MultiPiece, finding.Yes, "pressure.air-on-vehicle", true, false},
		{"rings, country not told", MultiPiece, finding.NotAsked, "pressure.air-on-vehicle", true, true},
		{"rings, elsewhere", MultiPiece, finding.No, "pressure.air-on-vehicle-steel", false, false},
		{"one piece", OnePiece, finding.Yes, "pressure.air-on-vehicle-steel", false, false},
		{"spoke rim", Demountable, finding.Yes, "pressure.air-on-vehicle-steel", false, false},
		{"nobody told", RimNotTold, finding.Yes, "pressure.air-on-vehicle-steel", false, false},
	} {
		for _, class := range []layout.Class{layout.Heavy, layout.Bus, layout.Trailer, layout.Motorhome} {
			w := exact(truckAt(80, cold))
			w.Class, w.Rim, w.Bound = class, c.rim, c.bound
			f := find(Judge(w).Findings, finding.InflationNoAirOnVehicle)
			if f.Rule.ID != c.rule || (f.Rule.Authority == finding.LawInUse) != c.law || f.Candidate != c.may || c.law != bindsEmployers(f) {
				t.Errorf("%s, class %d: %+v", c.name, class, f)
			}
		}
	}
	parked := exact(truckAt(70, cold))
	parked.Class, parked.Tire, parked.DrivenLow.Driven = layout.Trailer, sidewall.SpecialTrailer, finding.No
	if r := Judge(parked); r.NoAir || r.Target.Show == 0 {
		t.Errorf("a travel trailer that stood, and was not towed so, is filled: %+v", r)
	}
}

// A tire beside a flat or low one carried two loads and is warm from it: above its twin
// across the axle that is evidence, and over its label it is not on purpose (common
// practice). Read cold, it is warm from nothing.
func TestTwoLoads(t *testing.T) {
	for _, c := range []struct {
		name         string
		on           Conditions
		outer, inner float64
		carried      finding.Code
		twin         string
	}{
		{"mate flat", drove, 118, 0, finding.InflationDualMateCarriedLoad, "100 psi"},
		{"mate ran low", drove, 118, 70, finding.InflationDualMateCarriedLoad, "100 psi"},
		{"mate lower", drove, 118, 90, finding.InflationDualSpread, "100 psi"},
		{"as its twin", drove, 100, 0, finding.InflationDualMateCarriedLoad, ""},
		{"read cold", cold, 118, 0, finding.InflationDualMateCarriedLoad, ""},
	} {
		r := JudgeVehicle(truckOf(c.on, c.outer, c.inner))
		twin := ""
		for _, e := range find(r.Findings, c.carried).Evidence {
			if e.Code == finding.FactInflationTwinRead {
				twin = e.Amount.String()
			}
		}
		above := slices.ContainsFunc(r.Wheels, func(w Result) bool { return w.At.Dual == layout.Outer && w.Has(finding.InflationAboveLabel) })
		if twin != c.twin || above || find(r.Findings, c.carried).Code == "" {
			t.Errorf("%s: twin %q, on purpose %v: %v", c.name, twin, above, shown(r))
		}
	}
}

func bindsEmployers(f finding.Finding) bool {
	return slices.ContainsFunc(f.Evidence, func(e finding.Evidence) bool { return e.Code == finding.FactInflationBindsEmployers })
}

// What the law says of a wheel is told where it binds, and is of that paragraph.
func TestRimRule(t *testing.T) {
	for rim, want := range map[Rim]string{RimNotTold: "", OnePiece: "29 CFR 1910.177(g)", Demountable: "29 CFR 1910.177(g)", MultiPiece: "29 CFR 1910.177(f)(2)(ii)"} {
		f, says := (Wheel{Class: layout.Heavy, Rim: rim, Bound: finding.Yes}).RimRule()
		if says != (want != "") || f.Rule.Citation != want {
			t.Errorf("rim %d: %v %q, want %q", rim, says, f.Rule.Citation, want)
		}
		for _, w := range []Wheel{{Class: layout.Heavy, Rim: rim}, {Class: layout.Heavy, Rim: rim, Bound: finding.No}, {Class: layout.PassengerCar, Rim: rim, Bound: finding.Yes}} {
			if _, says := w.RimRule(); says {
				t.Errorf("rim %d: said where it binds nobody: %+v", rim, w)
			}
		}
	}
}

// Two tires side by side that are too far apart are set at this visit; what the gauge cannot
// tell, or only a tire that has cooled down can set right, waits. More than 5 psi is too far
// (common practice).
func TestHowSoonDualsAreSet(t *testing.T) {
	coarse := measure.Gauge[unit.Pressure]{Accuracy: psi(3)}
	for _, c := range []struct {
		name     string
		on       Conditions
		lo, li   float64
		gauge    measure.Gauge[unit.Pressure]
		sidewall float64 // of both
		want     finding.Urgency
		settle   finding.Settle
	}{
		{"5 psi apart", cold, 100, 95, measure.Gauge[unit.Pressure]{}, 120, 0, ""},
		{"8 psi apart", cold, 100, 92, measure.Gauge[unit.Pressure]{}, 120, finding.ThisVisit, ""},
		{"the other way round", cold, 92, 100, measure.Gauge[unit.Pressure]{}, 120, finding.ThisVisit, ""},
		{"6 psi, by a gauge that cannot tell", cold, 100, 94, coarse, 120, finding.Plan, finding.SettleReadBetterGauge},
		{"warm, and the lower may come up", drove, 118, 108, measure.Gauge[unit.Pressure]{}, 120, finding.ThisVisit, ""},
		{"warm, and its sidewall does not let it", drove, 118, 108, measure.Gauge[unit.Pressure]{}, 110, finding.Plan, ""},
	} {
		v := truckOf(c.on, c.lo, c.li)
		for i := range v.Wheels {
			v.Wheels[i].Gauge, v.Wheels[i].Sidewall = c.gauge, psi(c.sidewall)
		}
		f := find(JudgeVehicle(v).Findings, finding.InflationDualSpread)
		if f.Urgency != c.want || f.ToSettle != c.settle {
			t.Errorf("%s: urgency %d, settled by %q", c.name, f.Urgency, f.ToSettle)
		}
	}
}
