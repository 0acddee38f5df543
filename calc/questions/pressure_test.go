package questions

import (
	"math"
	"slices"
	"testing"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

func psi(n float64) unit.Pressure { return unit.MustPressure(n, unit.PSI) }

// steel is a steel-cord tire of a truck, at a place, that was found at so many psi of 100
// after a drive, and rated for so many pounds.
func steel(at string, found, pounds float64) (visit.Wheel, inflation.Wheel) {
	p := layout.MustParse(at)
	w := visit.Wheel{Position: p, Tire: visit.Tire{LoadSingle: unit.MustMass(pounds, unit.Pounds)}}
	return w, inflation.Wheel{
		At: p, Class: layout.Heavy, Body: sidewall.SteelBody, Found: psi(found), Read: unit.PSI, Label: psi(100),
		Conditions: inflation.Conditions{DrivenHere: finding.Yes, Distance: unit.MustDistance(20, unit.Miles)},
	}
}

// The law's own allowance for heat, 49 CFR 393.75(i)(2): 5 psi up to a rating of 4,000 lb,
// 15 psi over it, off a reading within the hour of a drive.
func TestHeatAllowance(t *testing.T) {
	federal := []rulebook.Applied{{Book: rulebook.Must("us-commercial")}}
	same := func(*visit.Wheel, *inflation.Wheel) {}
	fabric := func(_ *visit.Wheel, a *inflation.Wheel) { a.Class, a.Body = layout.LightTruck, sidewall.FabricBody }
	for _, c := range []struct {
		name      string
		at        string
		found, lb float64
		change    func(*visit.Wheel, *inflation.Wheel)
		candidate bool
		told      bool
		allowance float64
	}{
		{"112 psi less 15 is short of 100", "2LO", 112, 6000, same, false, true, 15},
		{"115 less 15 is 100", "2LO", 115, 6000, same, false, false, 0},
		{"114.9 less 15 is short", "2LO", 114.9, 6000, same, false, true, 15},
		{"104.9 psi less 5 is short", "2LO", 104.9, 4000, fabric, false, true, 5},
		{"105 less 5 is 100", "2LO", 105, 4000, fabric, false, false, 0},
		{"rated for 4,001 lb", "2LO", 112, 4001, same, false, true, 15},
		{"its rating not told", "2LO", 104, 0, same, false, false, 0},
		{"a law that may bind", "2LO", 112, 6000, same, true, false, 0},
		{"no reading", "2LO", 112, 6000, func(_ *visit.Wheel, a *inflation.Wheel) { a.Read = unit.None }, false, false, 0},
		{"no label", "2LO", 112, 6000, func(_ *visit.Wheel, a *inflation.Wheel) { a.Label = 0 }, false, false, 0},
		{"no label, and less than the allowance", "2LO", 10, 6000, func(_ *visit.Wheel, a *inflation.Wheel) { a.Label = 0 }, false, false, 0},
		{"not driven", "2LO", 112, 6000, func(_ *visit.Wheel, a *inflation.Wheel) { a.Conditions.DrivenHere = finding.No }, false, false, 0},
		{"parked for an hour", "2LO", 112, 6000, func(_ *visit.Wheel, a *inflation.Wheel) { a.Conditions.Parked = time.Hour }, false, true, 15},
		{"parked for longer", "2LO", 112, 6000, func(_ *visit.Wheel, a *inflation.Wheel) { a.Conditions.Parked = time.Hour + time.Minute }, false, false, 0},
		{"already told as short", "2LO", 70, 6000, same, false, false, 0},
	} {
		w, air := steel(c.at, c.found, c.lb)
		c.change(&w, &air)
		books := []rulebook.Applied{{Book: federal[0].Book, Candidate: c.candidate}}
		p := w.Position
		out := Heat(HeatIn{
			Laws: Laws{Vehicle: layout.Vehicle{Class: layout.Heavy}, Books: books}, Wheels: []visit.Wheel{w},
			Airs: Airs{Wheels: map[layout.Position]inflation.Wheel{p: air}, Results: map[layout.Position]inflation.Result{p: inflation.Judge(air)}},
		})
		if (len(out.Findings) == 1) != c.told || len(out.Findings) > 1 {
			t.Errorf("%s: %v", c.name, out.Findings)
			continue
		}
		if !c.told {
			continue
		}
		f := out.Findings[0]
		if f.Code != finding.InflationHeatAllowance || f.Urgency != finding.Note || f.Outcome != measure.CannotTell || f.ToSettle != finding.SettleReadCold || len(f.Positions) != 1 || f.Positions[0] != p {
			t.Errorf("%s: %+v", c.name, f)
		}
		if took := f.Told(finding.FactInflationAllowance); math.Abs(took.Number-c.allowance) > 1e-9 || f.Told(finding.FactInflationRead).Number != c.found || math.Abs(f.Measured.Number-(c.found-c.allowance)) > 0.051 {
			t.Errorf("%s: %v off %v is %v", c.name, took, f.Told(finding.FactInflationRead), f.Measured)
		}
	}
	w, air := steel("S", 112, 6000)
	out := Heat(HeatIn{Laws: Laws{Books: federal}, Wheels: []visit.Wheel{w}, Airs: Airs{
		Wheels: map[layout.Position]inflation.Wheel{w.Position: air}, Results: map[layout.Position]inflation.Result{w.Position: inflation.Judge(air)},
	}})
	if len(out.Findings) > 0 {
		t.Errorf("a spare: %v", out.Findings)
	}
}

// Figures of one tire's pressure: what to set, when the lamp has to be on (49 CFR 571.138
// S4.2(a): a quarter below the label, no lower than a minimum by its class), and the load
// that the pressure carries.
func TestFigures(t *testing.T) {
	car := inflation.Wheel{At: layout.MustParse("1L"), Class: layout.PassengerCar, Found: psi(28), Read: unit.PSI, Label: psi(36), Sidewall: psi(51), Load: inflation.StandardLoad,
		Conditions: inflation.Conditions{DrivenHere: finding.No}}
	tire := visit.Tire{Size: "P215/60R16 94T", Marking: sidewall.Parse("P215/60R16 94T")}
	with := func(f func(*inflation.Wheel)) inflation.Wheel { w := car; f(&w); return w }
	same := with(func(*inflation.Wheel) {})
	for _, c := range []struct {
		name     string
		air      inflation.Wheel
		read     bool
		set      float64
		lamp     float64
		supports bool
	}{
		{"28 of 36 psi, cold", same, true, 36, 27, true},
		{"36 of 36", with(func(w *inflation.Wheel) { w.Found = psi(36) }), true, 0, 27, true},
		{"38 of 36", with(func(w *inflation.Wheel) { w.Found = psi(38) }), true, 0, 27, true},
		{"not read, the label's alone", with(func(w *inflation.Wheel) { w.Found = psi(36) }), false, 36, 27, false},
		{"no label", with(func(w *inflation.Wheel) { w.Label = 0 }), true, 0, 0, true},
		{"a label above the sidewall", with(func(w *inflation.Wheel) { w.Sidewall = psi(35) }), true, 0, 27, true},
		{"run low: seen inside first", with(func(w *inflation.Wheel) { w.Found = psi(5) }), true, 0, 27, false},
		{"a light truck", with(func(w *inflation.Wheel) { w.Class, w.Body = layout.LightTruck, sidewall.FabricBody }), true, 36, 27, true},
		{"a motorhome: no rule on its lamp", with(func(w *inflation.Wheel) { w.Class, w.Body = layout.Motorhome, sidewall.FabricBody }), true, 36, 0, true},
		{"duals: no rule", with(func(w *inflation.Wheel) {
			w.Class, w.Body, w.At = layout.LightTruck, sidewall.FabricBody, layout.MustParse("2LO")
		}), true, 36, 0, false},
	} {
		got := Figures(FiguresIn{Air: c.air, Found: inflation.Judge(c.air), Tire: tire, Read: c.read})
		if math.Abs(got.SetNow.In(unit.PSI)-c.set) > 0.01 || math.Abs(got.LampOn.In(unit.PSI)-c.lamp) > 0.05 || (got.Supports > 0) != c.supports {
			t.Errorf("%s: set %.2f, lamp %.2f, carries %v", c.name, got.SetNow.In(unit.PSI), got.LampOn.In(unit.PSI), got.Supports)
		}
	}
	if got := Figures(FiguresIn{Air: same, Found: inflation.Judge(same), Read: true}); got.Supports != 0 {
		t.Errorf("a tire whose marking was not read carries %v", got.Supports)
	}
}

// Of a wheel that the work opens, and that nobody told of how many pieces it is, that is
// asked on a large vehicle; of one that is told, or not opened, it is not.
func TestRimsAreAskedWhereTheyAreOpened(t *testing.T) {
	truck := visit.Labels{Vehicle: layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{Steered: true, ColdNormal: psi(100), LabelUnit: unit.PSI}}}, Bound: finding.Yes}
	car := visit.Labels{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{{Steered: true, ColdNormal: psi(33), LabelUnit: unit.PSI}}}}
	left, right := layout.MustParse("1L"), layout.MustParse("1R")
	wheels := []visit.Wheel{{Position: right}, {Position: left, Rim: inflation.OnePiece}}
	for _, c := range []struct {
		name   string
		labels visit.Labels
		wheels []visit.Wheel
		opened []layout.Position
		asked  []layout.Position
	}{
		{"told", truck, wheels, []layout.Position{left}, nil},
		{"not told", truck, wheels, []layout.Position{right}, []layout.Position{right}},
		{"both", truck, wheels, []layout.Position{left, right}, []layout.Position{right}},
		{"neither opened", truck, wheels, nil, nil},
		{"not reported", truck, nil, []layout.Position{left}, []layout.Position{left}},
		{"of a car", car, nil, []layout.Position{left}, nil},
	} {
		var asked []layout.Position
		for _, a := range Rims(RimsIn{Labels: c.labels, Wheels: c.wheels, Opened: c.opened}).Asked {
			if a.Code == finding.AskRim {
				asked = append(asked, a.Positions...)
			}
		}
		if !slices.Equal(asked, c.asked) {
			t.Errorf("%s: %v, want %v", c.name, asked, c.asked)
		}
	}
}
