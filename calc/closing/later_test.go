package closing

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/visit"
)

var left, right = layout.MustParse("1L"), layout.MustParse("1R")

func open(code finding.Code, urgency finding.Urgency, at ...layout.Position) Open {
	return Open{ID: "id", Code: code, Urgency: urgency, Positions: at}
}

// at is a later visit that saw one wheel.
func at(w Wheel) Later { return Later{Wheels: map[layout.Position]Wheel{left: w}} }

// What a later visit makes of what is open (our own decision: silence never reads as
// good, and a tire does not heal).
func TestAfter(t *testing.T) {
	worn := open(finding.TreadWornToBars, finding.ThisVisit, left)
	for _, c := range []struct {
		name  string
		open  Open
		later Later
		fate  Fate
	}{
		{"found again", worn, Later{Found: []Found{{ID: "id", Asks: true}}}, Fate{Again: true}},
		{"found again, and a note now", worn, Later{Found: []Found{{ID: "id"}}}, Fate{ClosedBy: finding.ClosedFoundGood}},
		{"found again and put right", open(finding.SensorNotAnswering, finding.Plan, left), Later{Found: []Found{{ID: "id", PutRight: finding.ClosedSensorAnswers}}}, Fate{ClosedBy: finding.ClosedSensorAnswers}},
		{"another is found", worn, Later{Found: []Found{{ID: "other", Asks: true}}}, Fate{}},
		{"only a pressure read", worn, at(Wheel{Pressure: true}), Fate{}},
		{"its depth read", worn, at(Wheel{Depth: true}), Fate{ClosedBy: finding.ClosedFoundGood}},
		{"another tire", worn, Later{OtherTire: []layout.Position{left}}, Fate{ClosedBy: finding.ClosedOtherTire}},
		{"another tire elsewhere", worn, Later{OtherTire: []layout.Position{right}}, Fate{}},
		{"of the place, another tire", open(finding.WheelBent, finding.ThisVisit, left), Later{OtherTire: []layout.Position{left}}, Fate{}},
		{"not to be driven on, seen whole", open(finding.DamageBulge, finding.BeforeDriving, left), at(Wheel{Whole: true}), Fate{}},
		{"not to be driven on, another tire", open(finding.DamageBulge, finding.BeforeDriving, left), Later{OtherTire: []layout.Position{left}}, Fate{ClosedBy: finding.ClosedOtherTire}},
		{"of the place, not to be driven on", open(finding.FastenerLoose, finding.BeforeDriving, left), at(Wheel{Fasteners: true}), Fate{ClosedBy: finding.ClosedFoundGood}},
		{"of two wheels, one judged", open(finding.TreadAxleDifference, finding.Plan, left, right), at(Wheel{Depth: true}), Fate{}},
		{"cured", open(finding.ChassisSteeringPlay, finding.BeforeDriving, left), Later{Work: []visit.Done{{Kind: finding.DoneSteeringPartRenewed, At: []layout.Position{left}}}}, Fate{ClosedBy: finding.ClosedSteeringPartRenewed}},
		{"cured at another wheel", open(finding.ChassisSteeringPlay, finding.BeforeDriving, left), Later{Work: []visit.Done{{Kind: finding.DoneSteeringPartRenewed, At: []layout.Position{right}}}}, Fate{}},
		{"play, whatever was looked at", open(finding.ChassisSteeringPlay, finding.ThisVisit, left), at(Wheel{Whole: true, Rim: true, Fasteners: true}), Fate{}},
		{"shape not told", open(finding.WearToeIn, finding.Plan, left), at(Wheel{Depth: true, Asked: []finding.Question{finding.AskAcross}}), Fate{}},
		{"compared by less", open(finding.MatchAllWheelDriveTape, finding.ThisVisit, left), at(Wheel{Good: []finding.Checked{finding.CheckedMatchAllWheelDrive}}), Fate{}},
		{"weighed, no pressure", open(finding.LoadPressureTooLow, finding.BeforeDriving, left), Later{Weighed: []int{1}}, Fate{}},
		{"weighed", open(finding.LoadPressureTooLow, finding.BeforeDriving, left), Later{Weighed: []int{1}, Wheels: at(Wheel{Pressure: true}).Wheels}, Fate{ClosedBy: finding.ClosedFoundGood}},
		{"the lamp looked at", open(finding.InflationLampOnNotAllRead, finding.ThisVisit), Later{Lamp: true}, Fate{ClosedBy: finding.ClosedFoundGood}},
		{"the customer not asked", open(finding.ComplaintVibration, finding.ThisVisit), Later{Lamp: true}, Fate{}},
		{"a code of a later version", open("later.invented", finding.ThisVisit, left), at(Wheel{Depth: true, Pressure: true, Whole: true}), Fate{}},
	} {
		if got := After(c.open, c.later); got != c.fate {
			t.Errorf("%s: %+v, want %+v", c.name, got, c.fate)
		}
	}
}

// What a wheel's report judges again: each way by its own part of it, and by no other
// (a hole also by a look at the whole tire).
func TestEachWayByItsOwnPart(t *testing.T) {
	parts := map[string]Wheel{
		"depth": {Depth: true}, "pressure": {Pressure: true}, "injury": {Injury: true}, "whole": {Whole: true}, "rim": {Rim: true}, "fasteners": {Fasteners: true},
		"torque": {Torque: true}, "valve": {Valve: true}, "sensor": {Sensor: true}, "identification": {Identification: true}, "arrow": {Arrow: true}, "outside": {Outside: true}, "marking": {Marking: true},
		"depth, its shape not told": {Depth: true, Asked: []finding.Question{finding.AskAcross}}, "marking, which could not be read": {Marking: true, Asked: []finding.Question{finding.AskMarking}},
	}
	ways := map[finding.Again][]string{
		finding.AgainDepth: {"depth", "depth, its shape not told"}, finding.AgainAcross: {"depth"}, finding.AgainPressure: {"pressure"}, finding.AgainHole: {"injury", "whole"},
		finding.AgainWhole: {"whole"}, finding.AgainAllSeen: {"whole"}, finding.AgainWheel: {"rim"}, finding.AgainFasteners: {"fasteners"}, finding.AgainTorque: {"torque"},
		finding.AgainValve: {"valve"}, finding.AgainSensor: {"sensor"}, finding.AgainMade: {"identification"}, finding.AgainArrow: {"arrow"}, finding.AgainOutside: {"outside"}, finding.AgainMarking: {"marking"},
	}
	if len(ways) != len(ofWheel) {
		t.Errorf("%d ways of %d", len(ways), len(ofWheel))
	}
	for way, by := range ways {
		for part, w := range parts {
			if got := at(w).wheelAgain(finding.Kind{Again: way}, left); got != slices.Contains(by, part) {
				t.Errorf("%d is judged again by its %s: %v", way, part, got)
			}
		}
	}
	for part, later := range map[string]Later{"nothing": {}, "all seen": {AllSeen: true}, "relearned": {Relearned: true}, "spare": {Spare: true}, "complaints": {Complaints: true}, "lamp": {Lamp: true}} {
		for way, by := range map[finding.Again]string{finding.AgainAllSeen: "all seen", finding.AgainRelearned: "relearned", finding.AgainSpare: "spare", finding.AgainAsked: "complaints"} {
			if got := ofVehicle[way](later); got != (part == by) {
				t.Errorf("of the vehicle, %d by %s: %v", way, part, got)
			}
		}
		if !ofVehicle[finding.AgainAlways](later) {
			t.Errorf("not always, by %s", part)
		}
		for way, by := range map[finding.Again]string{finding.AgainSpare: "spare", finding.AgainAsked: "complaints"} {
			if got := later.wheelAgain(finding.Kind{Again: way}, left); got != (part == by) {
				t.Errorf("of a wheel, %d by %s: %v", way, part, got)
			}
		}
	}
}

// Every way that a finding is judged again by is known here.
func TestEveryWayToJudgeAgainIsKnown(t *testing.T) {
	told := []finding.Again{finding.AgainNever, finding.AgainLamp, finding.AgainGood, finding.AgainWeighed}
	for k := range finding.Kinds() {
		_, wheel := ofWheel[k.Again]
		_, vehicle := ofVehicle[k.Again]
		if !wheel && !vehicle && !slices.Contains(told, k.Again) {
			t.Errorf("%s: %d is unknown", k.Code, k.Again)
		}
	}
}
