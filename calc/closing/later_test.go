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
