package questions

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// A spare that runs goes back: a temporary one at this visit, within the limits that are
// printed on it and were told; one that matches is put in its turn (common practice).
func TestSpareThatRuns(t *testing.T) {
	mph, far := unit.Amount{Number: 50, Unit: unit.MilesPerHour}, unit.Amount{Number: 50, Unit: unit.Miles}
	front := layout.Vehicle{Class: layout.PassengerCar, Drive: layout.FrontDrive, Axles: []layout.Axle{{Driven: true}, {}}}
	allWheels, notTold := front, front
	allWheels.Drive, allWheels.Axles = layout.AllDrive, []layout.Axle{{Driven: true}, {Driven: true}}
	notTold.Axles = []layout.Axle{{}, {}}
	for _, c := range []struct {
		name     string
		v        layout.Vehicle
		at       string
		spare    visit.Spare
		matching bool
		watched  bool
		lamp     inflation.Lamp
		urgency  finding.Urgency
		evidence []finding.Fact
	}{
		{"matching", allWheels, "1L", visit.Spare{Speed: mph, Distance: far}, true, true, inflation.LampOn, finding.Plan, nil},
		{"temporary", front, "2L", visit.Spare{}, false, false, inflation.LampOff, finding.ThisVisit, nil},
		{"its limits told", front, "2L", visit.Spare{Speed: mph, Distance: far}, false, false, inflation.LampOff, finding.ThisVisit, []finding.Fact{finding.FactSpareSpeedLimit, finding.FactSpareDistanceLimit}},
		{"one of them", front, "2L", visit.Spare{Distance: far}, false, false, inflation.LampOff, finding.ThisVisit, []finding.Fact{finding.FactSpareDistanceLimit}},
		{"watched, the lamp lit", front, "2L", visit.Spare{}, false, true, inflation.LampOn, finding.ThisVisit, []finding.Fact{finding.FactSpareLampExpected}},
		{"watched, the lamp off", front, "2L", visit.Spare{}, false, true, inflation.LampOff, finding.ThisVisit, nil},
		{"not watched, the lamp lit", front, "2L", visit.Spare{}, false, false, inflation.LampOn, finding.ThisVisit, nil},
		{"on the driven axle", front, "1R", visit.Spare{}, false, false, inflation.LampOff, finding.ThisVisit, []finding.Fact{finding.FactSpareOnDrivenAxle}},
		{"nobody said which is driven", notTold, "1R", visit.Spare{}, false, false, inflation.LampOff, finding.ThisVisit, nil},
		{"all wheels driven", allWheels, "1R", visit.Spare{}, false, false, inflation.LampOff, finding.ThisVisit, []finding.Fact{finding.FactSpareAllAxlesDriven}},
	} {
		p := layout.MustParse(c.at)
		f := SpareIn{Labels: visit.Labels{Vehicle: c.v, Spare: c.spare}, Watched: c.watched, Lamp: c.lamp}.runsAt(p, c.matching)
		code := finding.SpareInService
		if c.matching {
			code = finding.SpareMatchingInService
		}
		var es []finding.Fact
		for _, e := range f.Evidence {
			es = append(es, e.Code)
		}
		if f.Code != code || f.Urgency != c.urgency || !slices.Equal(f.Positions, []layout.Position{p}) || f.Outcome != measure.NotCompared || !slices.Equal(es, c.evidence) {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
}

// What is told of the spare's surroundings: what is there is good, what is missing is
// found, what nobody told is asked for once; of a kit nothing that belongs to a tire.
func TestSpareAndWhatGoesWithIt(t *testing.T) {
	yes, no := finding.Yes, finding.No
	all := visit.SpareReport{Reachable: yes, Hoist: yes, Jack: yes, Key: yes, Kit: yes}
	with := func(change func(*visit.SpareReport)) *visit.SpareReport { r := all; change(&r); return &r }
	day := func(d int) unit.Date { return unit.Date{Year: 2026, Month: 6, Day: d} }
	for _, c := range []struct {
		name   string
		spare  visit.Spare
		report *visit.SpareReport
		lock   finding.Answer
		asOf   unit.Date
		found  []finding.Code
		good   int
		asked  bool
	}{
		{"nobody looked", visit.Spare{Fitted: true}, nil, yes, unit.Date{}, nil, 0, false},
		{"all there", visit.Spare{Fitted: true}, with(func(*visit.SpareReport) {}), yes, unit.Date{}, nil, 4, false},
		{"not reachable", visit.Spare{Fitted: true}, with(func(r *visit.SpareReport) { r.Reachable = no }), yes, unit.Date{}, []finding.Code{finding.SpareNotReachable}, 3, false},
		{"its hoist fails", visit.Spare{Fitted: true}, with(func(r *visit.SpareReport) { r.Hoist = no }), yes, unit.Date{}, []finding.Code{finding.SpareHoistFails}, 3, false},
		{"no jack, no key", visit.Spare{Fitted: true}, with(func(r *visit.SpareReport) { r.Jack, r.Key = no, no }), yes, unit.Date{}, []finding.Code{finding.SpareJackMissing, finding.SpareKeyMissing}, 2, false},
		{"no key is needed", visit.Spare{Fitted: true}, with(func(r *visit.SpareReport) { r.Key = no }), no, unit.Date{}, nil, 3, false},
		{"the jack not told", visit.Spare{Fitted: true}, with(func(r *visit.SpareReport) { r.Jack = finding.NotAsked }), yes, unit.Date{}, nil, 3, true},
		{"a kit", visit.Spare{Kit: true}, with(func(r *visit.SpareReport) { r.Reachable, r.Jack = no, no }), yes, unit.Date{}, nil, 1, false},
		{"a kit that is not there", visit.Spare{Kit: true}, with(func(r *visit.SpareReport) { r.Kit = no }), yes, unit.Date{}, []finding.Code{finding.SpareKitMissing}, 0, false},
		{"a kit on its last day", visit.Spare{Kit: true, KitLast: day(10)}, nil, yes, day(10), nil, 0, false},
		{"a kit on the day after", visit.Spare{Kit: true, KitLast: day(10)}, nil, yes, day(11), []finding.Code{finding.SpareKitPastItsDay}, 0, false},
		{"its day not told", visit.Spare{Kit: true}, nil, yes, day(11), nil, 0, false},
		{"today not told", visit.Spare{Kit: true, KitLast: day(10)}, nil, yes, unit.Date{}, nil, 0, false},
		{"no kit, and a day of one", visit.Spare{Fitted: true, KitLast: day(10)}, nil, yes, day(11), nil, 0, false},
	} {
		out := Spare(SpareIn{Labels: visit.Labels{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}, Spare: c.spare}, Report: c.report, LockingKey: c.lock, AsOf: c.asOf})
		var found []finding.Code
		for _, f := range out.Findings {
			found = append(found, f.Code)
		}
		if !slices.Equal(found, c.found) || len(out.Checked) != c.good || (len(out.Asked) > 0) != c.asked {
			t.Errorf("%s: found %v, good %d, asked %v", c.name, found, len(out.Checked), out.Asked)
		}
	}
}

// A temporary spare on the road is judged by what stands on it; two of them, or one on a
// vehicle that tows, keep it from the road unless its handbook allows it (common practice).
func TestTemporarySparesOnTheRoad(t *testing.T) {
	runs := func(at string) visit.Wheel {
		w := reading(at, 60, unit.PSI, unit.Amount{Number: 6, Unit: unit.ThirtySecondsInch})
		w.Temporary, w.Tire.Sidewall = true, psi(60)
		return w
	}
	unread, noFigure := runs("1L"), runs("1L")
	unread.Pressure, noFigure.Tire.Sidewall = visit.Pressure{}, 0
	flat := unread
	flat.Observations = []visit.Observation{{Kind: finding.ObservedFlat}}
	bars := runs("1L")
	bars.Depths, bars.Observations = nil, []visit.Observation{{Kind: finding.ObservedAtWearBars}}
	bare := runs("1L")
	bare.Depths = nil
	road := visit.Wheel{Position: layout.MustParse("S")}
	yes, no, open := finding.Yes, finding.No, finding.NotAsked
	const service, two, towing, notRead, worn = finding.SpareInService, finding.SpareTwoInService, finding.SpareTowing, finding.SpareNotRead, finding.TreadWornToBars
	for _, c := range []struct {
		name   string
		wheels []visit.Wheel
		tows   finding.Answer
		allows finding.Answer
		found  []finding.Code
		asked  []finding.Question
	}{
		{"none", []visit.Wheel{road}, yes, open, nil, nil},
		{"one", []visit.Wheel{runs("1L"), road}, no, open, []finding.Code{service}, nil},
		{"where is the road tire", []visit.Wheel{runs("1L")}, no, open, []finding.Code{service}, []finding.Question{finding.AskRoadTire}},
		{"two", []visit.Wheel{runs("1L"), runs("2R"), road}, no, open, []finding.Code{service, service, two}, []finding.Question{finding.AskSpareHandbook}},
		{"two, which the handbook allows", []visit.Wheel{runs("1L"), runs("2R"), road}, no, yes, []finding.Code{service, service}, nil},
		{"two, which it forbids", []visit.Wheel{runs("1L"), runs("2R"), road}, no, no, []finding.Code{service, service, two}, nil},
		{"towing on one", []visit.Wheel{runs("1L"), road}, yes, open, []finding.Code{service, towing}, []finding.Question{finding.AskSpareHandbook}},
		{"towing on two: asked once", []visit.Wheel{runs("1L"), runs("2R"), road}, yes, open, []finding.Code{service, service, two, towing}, []finding.Question{finding.AskSpareHandbook}},
		{"its pressure not read", []visit.Wheel{unread, road}, no, open, []finding.Code{service, notRead}, []finding.Question{finding.AskSpareInUse}},
		{"seen flat", []visit.Wheel{flat, road}, no, open, []finding.Code{service}, nil},
		{"its figure not read", []visit.Wheel{noFigure, road}, no, open, []finding.Code{service, notRead}, []finding.Question{finding.AskSpareInUse}},
		{"seen at its bars", []visit.Wheel{bars, road}, no, open, []finding.Code{service, worn}, nil},
		{"its depth not read", []visit.Wheel{bare, road}, no, open, []finding.Code{service}, []finding.Question{finding.AskDepth}},
	} {
		out := Spare(SpareIn{
			Labels: visit.Labels{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}, Spare: visit.Spare{Fitted: true, AllowsTwo: c.allows, AllowsTowing: c.allows}},
			Wheels: c.wheels, Tows: c.tows, Tread: tread.Context{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}},
		})
		var found []finding.Code
		for _, f := range out.Findings {
			found = append(found, f.Code)
			if read := f.Code == notRead; read != (f.ToSettle == finding.SettleSpareFigure) {
				t.Errorf("%s: %s is settled by %q", c.name, f.Code, f.ToSettle)
			}
		}
		var asked []finding.Question
		for _, a := range out.Asked {
			asked = append(asked, a.Code)
		}
		if !slices.Equal(found, c.found) || !slices.Equal(asked, c.asked) {
			t.Errorf("%s: found %v, asked %v", c.name, found, asked)
		}
	}
}

// The treads of temporary spares stand beside those of road tires, and none of either is
// lost or changed.
func TestTreadsOfSparesBesideThoseOfTheRoad(t *testing.T) {
	a, b := layout.MustParse("1L"), layout.MustParse("2R")
	road := Treads{a: tread.Result{WornOut: true}}
	spares := SpareAnswer{treads: Treads{b: tread.Result{BelowLaw: true}}}
	all := spares.With(road)
	if len(all) != 2 || !all[a].WornOut || !all[b].BelowLaw || len(road) != 1 || len(spares.treads) != 1 {
		t.Errorf("%v of %v and %v", all, road, spares.treads)
	}
	if got := (SpareAnswer{}).With(road); len(got) != 1 {
		t.Errorf("without a spare: %v", got)
	}
}
