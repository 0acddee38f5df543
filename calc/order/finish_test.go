package order

import (
	"fmt"
	"slices"
	"testing"

	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

func places(names ...string) (ps []layout.Position) {
	for _, n := range names {
		ps = append(ps, layout.MustParse(n))
	}
	return ps
}

// codesOf are the lines, each with what it waits for.
func codesOf(ws []Work) (all []string) {
	for _, w := range ws {
		s := string(w.Code)
		if w.Condition != "" {
			s += " " + string(w.Condition)
		}
		all = append(all, s)
	}
	return all
}

// What sensors and the lamp need after the work (common practice): a direct system
// learns places where wheels changed them, an indirect one is reset where pressures or
// wheels changed, the lamp is seen to go out where it was lit or where it may have been
// touched.
func TestSensorsAfterTheWork(t *testing.T) {
	const relearn, reset, lamp = string(finding.WorkSensorRelearn), string(finding.WorkSensorReset), string(finding.WorkLampCheck)
	const moved = " " + string(finding.WhenWheelsChangedPlace)
	nothing := lines(nil)
	air := lines{{Code: finding.WorkAirSet, Positions: places("1L")}}
	off := lines{{Code: finding.WorkTireReplace, Positions: places("1L")}}
	mayComeOff := lines{{Code: finding.WorkTireReplace, Positions: places("1L"), Condition: finding.WhenWheelComesOff}}
	rotated := lines{{Code: finding.WorkTiresRotate, Positions: places("1L", "2L")}}
	with := func(m sensor.Kind, changes ...func(*visit.Visit)) visit.Visit {
		v := visit.Visit{Monitoring: m, Lamp: inflation.LampOff, LampLeft: inflation.LampOff}
		for _, c := range changes {
			c(&v)
		}
		return v
	}
	done := func(r visit.Reset) func(*visit.Visit) { return func(v *visit.Visit) { v.Reset = r } }
	lit := func(found, left inflation.Lamp) func(*visit.Visit) {
		return func(v *visit.Visit) { v.Lamp, v.LampLeft = found, left }
	}
	turned := func(v *visit.Visit) { v.Done = []visit.Done{{Kind: finding.DoneTiresRotated}} }
	owed := []finding.Finding{{Code: finding.SensorRelearnOwed}}
	notLearned := []finding.Finding{{Code: finding.SensorNotLearned}}
	for _, c := range []struct {
		name  string
		v     visit.Visit
		found []finding.Finding
		l     lines
		want  []string
	}{
		{"indirect, nothing done", with(sensor.Indirect), nil, nothing, nil},
		{"indirect, air set", with(sensor.Indirect), nil, air, []string{reset}},
		{"indirect, air set and reset", with(sensor.Indirect, done(visit.ResetOnly)), nil, air, nil},
		{"indirect, air set, reset not needed", with(sensor.Indirect, done(visit.ResetNotNeeded)), nil, air, nil},
		{"indirect, air set, told not to be reset", with(sensor.Indirect, done(visit.ResetNotDone)), nil, air, []string{reset}},
		{"indirect, a tire replaced", with(sensor.Indirect), nil, off, []string{reset}},
		{"indirect, rotated", with(sensor.Indirect), nil, rotated, []string{reset}},
		{"direct, nothing done", with(sensor.Direct), nil, nothing, nil},
		{"direct, air set", with(sensor.Direct), nil, air, nil},
		{"direct, a wheel off", with(sensor.Direct), nil, off, []string{relearn + moved}},
		{"direct, a wheel that may come off", with(sensor.Direct), nil, mayComeOff, nil},
		{"direct, to be rotated", with(sensor.Direct), nil, rotated, []string{relearn}},
		{"direct, rotated", with(sensor.Direct, turned), nil, nothing, []string{relearn}},
		{"direct, rotated and learned", with(sensor.Direct, turned, done(visit.Relearned)), nil, nothing, nil},
		{"direct, rotated, not needed", with(sensor.Direct, turned, done(visit.ResetNotNeeded)), nil, nothing, nil},
		{"direct, rotated and reset only", with(sensor.Direct, turned, done(visit.ResetOnly)), nil, nothing, []string{relearn}},
		{"owed since an earlier visit", with(sensor.Direct), owed, nothing, []string{relearn}},
		{"owed, and told as learned", with(sensor.Direct, done(visit.Relearned)), owed, nothing, []string{relearn}},
		{"shown at other places", with(sensor.Direct), notLearned, nothing, []string{relearn}},
		{"owed, of an unknown system told as none", with(sensor.None), owed, nothing, []string{relearn}},
		{"none, a wheel off", with(sensor.None), nil, off, nil},
		{"none, the lamp found lit", with(sensor.None, lit(inflation.LampOn, inflation.LampOff)), nil, nothing, nil},
		{"none, the lamp lit at the end", with(sensor.None, lit(inflation.LampOff, inflation.LampOn)), nil, nothing, []string{lamp}},
		{"direct, found lit and left off", with(sensor.Direct, lit(inflation.LampOn, inflation.LampOff)), nil, nothing, nil},
		{"direct, found lit, the end not told", with(sensor.Direct, lit(inflation.LampOn, inflation.LampNotTold)), nil, nothing, []string{lamp}},
		{"direct, left lit", with(sensor.Direct, lit(inflation.LampOff, inflation.LampFlashing)), nil, nothing, []string{lamp}},
		{"direct, a wheel off, the end not told", with(sensor.Direct, lit(inflation.LampOff, inflation.LampNotTold)), nil, off, []string{relearn + moved, lamp}},
		{"not told which, a wheel off, the end not told", with(sensor.KindNotTold, lit(inflation.LampOff, inflation.LampNotTold)), nil, off, []string{relearn + moved}},
		{"direct, nothing done, the end not told", with(sensor.Direct, lit(inflation.LampOff, inflation.LampNotTold)), nil, nothing, nil},
	} {
		in := In{Visit: c.v, Findings: c.found}
		if got := codesOf(in.sensors(slices.Clone(c.l))); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// What comes with a rotation, whoever makes it (common practice): label pressures of the
// new places, torque and its recheck of wheels on the road, arrows of all, and what the
// monitoring needs.
func TestAfterARotation(t *testing.T) {
	p := layout.MustParse
	map5 := rotation.Map{Moves: []rotation.Move{{From: p("2L"), To: p("1L")}, {From: p("1L"), To: p("2R")}, {From: p("S"), To: p("2L")}, {From: p("2R"), To: p("S")}}}
	torque := unit.Amount{Number: 100, Unit: unit.PoundFeet}
	for monitoring, watch := range map[sensor.Kind][]string{
		sensor.None: nil, sensor.Indirect: {"sensor.reset"}, sensor.Direct: {"sensor.relearn"}, sensor.KindNotTold: {"sensor.relearn"},
	} {
		v := visit.Visit{Monitoring: monitoring, Torque: torque, Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}}
		got := After(v, map5)
		want := slices.Concat([]string{"rotation.set-pressures", "wheel.torque"}, watch, []string{"rotation.check-arrows", "owed.torque-recheck"})
		if codes := codesOf(got); !slices.Equal(codes, want) {
			t.Fatalf("monitoring %v: %q, want %q", monitoring, codes, want)
		}
		all, road := places("1L", "2L", "2R", "S"), places("1L", "2L", "2R")
		for _, w := range got {
			at, of := all, unit.Amount{}
			switch w.Code {
			case finding.WorkWheelTorque, finding.WorkOwedTorqueRecheck:
				at, of = road, torque
			case finding.WorkSensorReset, finding.WorkSensorRelearn:
				at = nil
			}
			if !slices.Equal(w.Positions, at) || w.Target != of {
				t.Errorf("%s: of %v to %v, want of %v to %v", w.Code, w.Positions, w.Target, at, of)
			}
			if k := finding.WorkOf(w.Code); w.Step != k.Step() || w.Caution != k.Caution || w.Urgency != finding.Plan {
				t.Errorf("%s: step %v, caution %q, urgency %v", w.Code, w.Step, w.Caution, w.Urgency)
			}
			if w.Code == finding.WorkOwedTorqueRecheck && (w.DueFrom.String() == w.DueBy.String() || w.DueBy.Number == 0) {
				t.Errorf("due from %v by %v", w.DueFrom, w.DueBy)
			}
		}
	}
	if got := After(visit.Visit{}, rotation.Map{}); got != nil {
		t.Errorf("after no rotation: %v", got)
	}
}

// lineOf is a line as a test tells it: its code, wheels, what it waits for, and when it is
// due.
func lineOf(w Work) string {
	s := string(w.Code)
	for _, p := range w.Positions {
		s += " " + p.String()
	}
	if w.Condition != "" {
		s += " " + string(w.Condition)
	}
	if w.DueBy.Number != 0 {
		s += fmt.Sprintf(" %v-%v", w.DueFrom.Number, w.DueBy.Number)
	}
	return s
}

func linesOf(ws []Work) (all []string) {
	for _, w := range ws {
		all = append(all, lineOf(w))
	}
	slices.Sort(all)
	return all
}

// Torque is set on every wheel that comes off, and checked after 50 to 100 miles; on a
// trailer after 10, 25 and 50 (common practice). An inner dual comes off with its outer.
func TestTorqueOfWhatComesOff(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	trailer := layout.Vehicle{Class: layout.Trailer, Axles: make([]layout.Axle, 2)}
	truck := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{Steered: true}, {Dual: true, Driven: true}}}
	replaced := func(on finding.Condition, at ...string) Work {
		return Work{Code: finding.WorkTireReplace, Positions: places(at...), Condition: on}
	}
	wheel := func(at string, change func(*visit.Wheel)) visit.Wheel {
		w := visit.Wheel{Position: layout.MustParse(at)}
		change(&w)
		return w
	}
	noKey := func(w *visit.Wheel) {
		w.Looked = []visit.Looked{{What: finding.LookedInsideOfTire, NotBecause: finding.NotLookedNoKey}}
	}
	fastened := func(w *visit.Wheel) { w.Fastening = new(fastener.Work) }
	fastenedAndRead := func(w *visit.Wheel) { w.Fastening, w.PressureLeft.Read = new(fastener.Work), unit.PSI }
	const may = finding.WhenWheelComesOff
	for _, c := range []struct {
		name   string
		of     layout.Vehicle
		wheels []visit.Wheel
		l      lines
		want   []string
	}{
		{"nothing comes off", car, nil, nil, nil},
		{"one wheel", car, nil, lines{replaced("", "1L")}, []string{"owed.torque-recheck 1L 50-100", "wheel.torque 1L"}},
		{"two, one of them perhaps", car, nil, lines{replaced("", "1L"), replaced(may, "1R")},
			[]string{"owed.torque-recheck 1L 50-100", "owed.torque-recheck 1R when.wheel-comes-off 50-100", "wheel.torque 1L", "wheel.torque 1R when.wheel-comes-off"}},
		{"perhaps, and torqued in any case", car, nil, lines{replaced(may, "1R"), {Code: finding.WorkWheelTorque, Positions: places("1R")}}, []string{"owed.torque-recheck 1R when.wheel-comes-off 50-100"}},
		{"a spare hangs in its place", car, nil, lines{replaced("", "S")}, nil},
		{"of a trailer", trailer, nil, lines{replaced("", "1L")}, []string{"owed.torque-recheck-trailer 1L 10-10", "owed.torque-recheck-trailer 1L 25-25", "owed.torque-recheck-trailer 1L 50-50", "wheel.torque 1L"}},
		{"an inner dual, and its outer", truck, nil, lines{replaced("", "2LI")}, []string{"owed.torque-recheck 2LI 50-100", "owed.torque-recheck 2LO 50-100", "wheel.torque 2LI", "wheel.torque 2LO"}},
		{"an outer dual alone", truck, nil, lines{replaced("", "2LO")}, []string{"owed.torque-recheck 2LO 50-100", "wheel.torque 2LO"}},
		{"no key for its nuts", car, []visit.Wheel{wheel("1L", noKey)}, lines{replaced("", "1L")}, []string{"fasteners.find-key 1L", "owed.torque-recheck 1L 50-100", "wheel.torque 1L"}},
		{"no key, and it stays on", car, []visit.Wheel{wheel("1L", noKey)}, nil, nil},
		{"no key, and it may come off", car, []visit.Wheel{wheel("1L", noKey)}, lines{replaced(may, "1L")}, []string{"owed.torque-recheck 1L when.wheel-comes-off 50-100", "wheel.torque 1L when.wheel-comes-off"}},
		{"fastened at this visit", car, []visit.Wheel{wheel("1L", fastened)}, nil, []string{"air.compare-mate 1L", "owed.torque-recheck 1L 50-100"}},
		{"fastened, and its pressure read after", car, []visit.Wheel{wheel("1L", fastenedAndRead)}, nil, []string{"owed.torque-recheck 1L 50-100"}},
		{"fastened, and comes off once more", car, []visit.Wheel{wheel("1L", fastened)}, lines{replaced("", "1L")}, []string{"owed.torque-recheck 1L 50-100", "wheel.torque 1L"}},
	} {
		in := In{Visit: visit.Visit{Vehicle: c.of, Wheels: c.wheels, Torque: unit.Amount{Number: 100, Unit: unit.PoundFeet}}}
		got := in.torque(slices.Clone(c.l))
		if lines := linesOf(got); !slices.Equal(lines, c.want) {
			t.Errorf("%s: %q, want %q", c.name, lines, c.want)
		}
		for _, w := range got {
			if torques := w.Code == finding.WorkWheelTorque || rechecks(finding.WorkOf(w.Code)); torques != (w.Target == in.Visit.Torque) {
				t.Errorf("%s: %s to %v", c.name, w.Code, w.Target)
			}
		}
	}
}

// What is written down and owed at the end (common practice): a registration of what was
// fitted, what is scrapped, the vehicle as left and what was told, and a cold reading of
// what was set warm.
func TestRecordsAtTheEnd(t *testing.T) {
	of := func(code finding.Work, at ...string) Work { return Work{Code: code, Positions: places(at...)} }
	cold := func(w Work) Work { w.FinishCold = true; return w }
	set := finding.WorkAirSet
	for _, c := range []struct {
		name     string
		l        lines
		scrapped string
		check    string // the wheel whose reading is checked cold
		want     []string
	}{
		{"nothing done", nil, "", "", nil},
		{"nothing done, and one read warm", nil, "", "1R", []string{"owed.cold-pressure 1R"}},
		{"air set cold", lines{of(set, "1L")}, "", "", []string{"customer.tell", "record.as-left"}},
		{"air set warm", lines{cold(of(set, "1L"))}, "", "", []string{"customer.tell", "owed.cold-pressure 1L", "record.as-left"}},
		{"one set cold and another finished cold", lines{of(set, "1L"), cold(of(finding.WorkAirMatchMates, "1R"))}, "", "", []string{"customer.tell", "owed.cold-pressure 1R", "record.as-left"}},
		{"a tire replaced", lines{of(finding.WorkTireReplace, "1L")}, "", "", []string{"customer.tell", "record.as-left", "record.registration 1L", "record.scrap 1L"}},
		{"a pair replaced, and one may serve yet", lines{of(finding.WorkTiresReplacePair, "1L", "1R")}, "1R", "", []string{"customer.tell", "record.as-left", "record.registration 1L", "record.registration 1R", "record.scrap 1R"}},
		{"rotated", lines{of(finding.WorkTiresRotate, "1L", "2L")}, "", "", []string{"customer.tell", "record.as-left"}},
	} {
		v := visit.Visit{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}}
		for _, p := range v.Vehicle.Positions() {
			v.Wheels = append(v.Wheels, visit.Wheel{Position: p})
		}
		in := In{Visit: v, Facts: Facts{Scrapped: map[layout.Position]bool{}}}
		if c.scrapped != "" {
			in.Facts.Scrapped[layout.MustParse(c.scrapped)] = true
		}
		if c.check != "" {
			in.Facts.Air.Airs.Results = map[layout.Position]inflation.Result{layout.MustParse(c.check): {CheckCold: true}}
		}
		if got := linesOf(in.records(slices.Clone(c.l))); !slices.Equal(got, c.want) {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
