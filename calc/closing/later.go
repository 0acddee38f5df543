package closing

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/visit"
)

// Open is a finding that is open, as far as that bears on what closes it.
type Open struct {
	ID        string // as the visit that found it last has it
	Code      finding.Code
	Urgency   finding.Urgency
	Positions []layout.Position // that it is about; none: the vehicle
}

// Found is a finding of a later visit.
type Found struct {
	ID       string
	Asks     bool           // for something that was not done by the end of the visit
	PutRight finding.Closed // what put it right at the visit; "" where nothing did
}

// Later is a later visit, as far as it bears on what was open before it.
type Later struct {
	Found  []Found
	Wheels map[layout.Position]Wheel // one that is not there was not reported
	Work   []visit.Done              // done at this visit

	OtherTire []layout.Position // where another tire is after the visit than before, or none
	Weighed   []int             // axles that were on a scale, from 1

	Lamp       bool // the warning lamp was looked at
	Spare      bool // the spare's surroundings were looked at
	Complaints bool // the customer was asked what he notices
	AllSeen    bool // every tire was seen whole
	Relearned  bool // the sensors were learned to their places, or need not be
}

// Wheel is what a visit read and saw of one wheel, as found.
type Wheel struct {
	Depth          bool // the tread was read
	Pressure       bool
	Whole          bool // all of its tread and both sidewalls were seen
	Identification bool // of the tire, and with it its age
	Marking        bool // size and service description
	Arrow          bool // how the direction of roll lies
	Outside        bool // which way the mark of the outside faces
	Sensor         bool // it was asked, whatever it said
	Fasteners      bool // seen, or counted when the wheel was off
	Torque         bool // the wheel was off again, or its torque checked
	Injury         bool // its holes were judged
	Valve          bool
	Rim            bool               // the wheel's face and its barrel
	Good           []finding.Checked  // compared, and found good
	Asked          []finding.Question // left unanswered
}

// Fate is what becomes of an open finding.
type Fate struct {
	Again    bool           // found again: it is open as found now
	ClosedBy finding.Closed // what closed it; "" where it stays open
}

// Continues tells whether what a later visit found is what is open, and goes on with it:
// the same kind of finding by the same rule at the same places, which is what an id of a
// finding stands for. A note, or what the vehicle left with put right, goes on with
// nothing: it says that it is so no more.
func Continues(f Open, found Found) bool { return found.ID == f.ID && found.Asks }

// After tells what a later visit makes of an open finding.
//
//   - What it finds again goes on, as Continues tells; what it finds and asks nothing for
//     any more is closed.
//   - Work done at its wheel that sets it right closes it, and so does another tire
//     where it is of the tire.
//   - What must not be driven on and is of the tire stays open whatever is read
//     then, for a tire does not heal.
//   - Else it is closed where the visit judged again what it is about, at every
//     position of it, and found nothing. Silence never reads as good: a visit that
//     only read a pressure has said nothing of the tread.
func After(f Open, v Later) Fate {
	for _, found := range v.Found {
		switch {
		case Continues(f, found):
			return Fate{Again: true}
		case found.ID == f.ID && found.PutRight != "":
			return Fate{ClosedBy: found.PutRight}
		case found.ID == f.ID:
			return Fate{ClosedBy: finding.ClosedFoundGood}
		}
	}
	if by := v.curedBy(f); by != "" {
		return Fate{ClosedBy: by}
	}
	ofTire := finding.KindOf(f.Code).Of == finding.OfTire
	switch {
	case ofTire && slices.ContainsFunc(f.Positions, func(p layout.Position) bool { return slices.Contains(v.OtherTire, p) }):
		return Fate{ClosedBy: finding.ClosedOtherTire}
	case ofTire && f.Urgency == finding.BeforeDriving, !v.judgedAgain(f):
		return Fate{}
	}
	return Fate{ClosedBy: finding.ClosedFoundGood}
}

// curedBy is the work of the visit that set a finding right; "" for none.
func (v Later) curedBy(f Open) finding.Closed {
	for _, w := range v.Work {
		if len(f.Positions) == 1 && slices.Contains(w.At, f.Positions[0]) && Cures(w.Kind, f.Code) {
			return finding.DoneOf(w.Kind).Closed
		}
	}
	return ""
}

// judgedAgain tells whether the visit judged again what a finding is about, at every
// position of it. What is about no wheel, and nothing else judges, is the warning lamp's.
// A code that this version does not know is judged again by nothing at a wheel.
func (v Later) judgedAgain(f Open) bool {
	k := finding.KindOf(f.Code)
	if len(f.Positions) == 0 {
		if again, known := ofVehicle[k.Again]; known {
			return again(v)
		}
		return v.Lamp
	}
	return !slices.ContainsFunc(f.Positions, func(p layout.Position) bool { return !v.wheelAgain(k, p) })
}

// ofVehicle tells whether a visit judged again what is about no wheel.
var ofVehicle = map[finding.Again]func(Later) bool{
	finding.AgainAlways:    func(Later) bool { return true },
	finding.AgainAllSeen:   func(v Later) bool { return v.AllSeen },
	finding.AgainRelearned: func(v Later) bool { return v.Relearned },
	finding.AgainSpare:     func(v Later) bool { return v.Spare },
	finding.AgainAsked:     func(v Later) bool { return v.Complaints }, // and no more says this
}

// wheelAgain tells whether a visit judged again what is about a wheel.
func (v Later) wheelAgain(k finding.Kind, p layout.Position) bool {
	w := v.Wheels[p]
	switch k.Again {
	case finding.AgainGood: // what one method found another of less worth does not clear
		return slices.ContainsFunc(w.Good, func(c finding.Checked) bool { return slices.Contains(k.Good, c) })
	case finding.AgainWeighed: // its axle was on a scale, and what its tire carries at the pressure read could be told
		return w.Pressure && slices.Contains(v.Weighed, p.Axle) && !w.asked(finding.AskLoadRating, finding.AskLoadDual)
	case finding.AgainSpare:
		return v.Spare
	case finding.AgainAsked:
		return v.Complaints
	}
	seen, known := ofWheel[k.Again]
	return known && seen(w)
}

// ofWheel tells of a wheel alone whether what is about it was judged again.
var ofWheel = map[finding.Again]func(Wheel) bool{
	finding.AgainDepth:     func(w Wheel) bool { return w.Depth },
	finding.AgainAcross:    func(w Wheel) bool { return w.Depth && !w.asked(finding.AskAcross) }, // where the depths tell no shape, it is asked for
	finding.AgainPressure:  func(w Wheel) bool { return w.Pressure },
	finding.AgainHole:      func(w Wheel) bool { return w.Whole || w.Injury },
	finding.AgainWhole:     func(w Wheel) bool { return w.Whole },
	finding.AgainAllSeen:   func(w Wheel) bool { return w.Whole },
	finding.AgainWheel:     func(w Wheel) bool { return w.Rim },
	finding.AgainFasteners: func(w Wheel) bool { return w.Fasteners },
	finding.AgainTorque:    func(w Wheel) bool { return w.Torque },
	finding.AgainValve:     func(w Wheel) bool { return w.Valve },
	finding.AgainSensor:    func(w Wheel) bool { return w.Sensor },
	finding.AgainMade:      func(w Wheel) bool { return w.Identification },
	finding.AgainArrow:     func(w Wheel) bool { return w.Arrow },
	finding.AgainOutside:   func(w Wheel) bool { return w.Outside },
	finding.AgainMarking:   func(w Wheel) bool { return w.Marking && !w.asked(finding.AskMarking) }, // read again, and could be
}

func (w Wheel) asked(questions ...finding.Question) bool {
	return slices.ContainsFunc(w.Asked, func(q finding.Question) bool { return slices.Contains(questions, q) })
}
