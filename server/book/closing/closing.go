// Package closing says what becomes of an open finding at a later visit: a function
// of plain values, which reads nothing and keeps nothing.
package closing

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/verdict"
)

// Open is a finding that is open, as far as that bears on what closes it.
type Open struct {
	ID        string // as the visit that found it last has it
	Code      finding.Code
	Urgency   finding.Urgency
	Positions []string // that it is about; none: the vehicle
}

// Found is a finding of the later visit.
type Found struct {
	ID string
	// Asks tells that it asks for something that was not done by the end of the visit.
	Asks bool
	// PutRight is what put it right at the visit; "" where nothing did.
	PutRight finding.Code
}

// Visit is a later visit, as far as it bears on what was open before it.
type Visit struct {
	Found  []Found
	Wheels map[string]Wheel // by position; one that is not there was not reported
	Work   []Work           // done at this visit
	Good   []Remark         // compared and found good
	Asked  []Remark         // left unanswered

	OtherTire []string // positions at which another tire is after the visit than before, or none
	Weighed   []int    // axles that were on a scale, from 1

	Lamp       bool // the warning lamp was looked at
	Spare      bool // the spare's surroundings were looked at
	Complaints bool // the customer was asked what he notices
	AllSeen    bool // every tire was seen whole
	Relearned  bool // the sensors were learned to their places, or need not be
}

// Work is one piece of work. Kind is the contract's kind in lower case: "bearing-work".
type Work struct {
	Kind      finding.Code
	Positions []string
}

// Remark is something said of wheels.
type Remark struct {
	Code      finding.Code
	Positions []string
}

// Wheel is what a visit read and saw of one wheel, as found.
type Wheel struct {
	Depth          bool // the tread was read
	Pressure       bool
	Whole          bool // all of its tread and both sidewalls were seen
	Identification bool // of the tire, and with it its age
	Marking        bool // size and service description
	Arrow          bool // how the direction of roll lies
	Outside        bool // which way the OUTSIDE mark faces
	Sensor         bool // it was asked, whatever it said
	Fasteners      bool // seen, or counted when the wheel was off
	Torque         bool // the wheel was off again, or its torque checked
	Injury         bool // its holes were judged
	Valve          bool
	Rim            bool // the wheel's face and its barrel
}

// What closes a finding, beside work, whose code is "closed." and its kind.
const (
	FoundGood finding.Code = "closed.found-good" // judged again and not found
	OtherTire finding.Code = "closed.other-tire" // what was found of a tire goes with it
)

// Fate is what becomes of an open finding.
type Fate struct {
	Again    bool         // found again: it is open as found now
	ClosedBy finding.Code // what closed it; "" where it stays open
}

// After tells what a later visit makes of an open finding. It alone says what
// continues one:
//
//   - Found again under the same id, it stays open; but a note asks for nothing, and
//     what the vehicle left with put right is closed.
//   - Work done at its wheel that sets it right closes it, and so does another tire
//     where it is of the tire.
//   - What must not be driven on and is of the tire stays open whatever is read
//     then, for a tire does not heal.
//   - Else it is closed where the visit judged again what it is about, at every
//     position of it, and found nothing. Silence never reads as good: a visit that
//     only read a pressure has said nothing of the tread.
func After(f Open, v Visit) Fate {
	if i := slices.IndexFunc(v.Found, func(found Found) bool { return found.ID == f.ID }); i >= 0 {
		switch found := v.Found[i]; {
		case found.Asks:
			return Fate{Again: true}
		case found.PutRight != "":
			return Fate{ClosedBy: found.PutRight}
		}
		return Fate{ClosedBy: FoundGood}
	}
	if kind := v.curing(f); kind != "" {
		return Fate{ClosedBy: "closed." + kind}
	}
	ofTire := f.Code.OfTire()
	switch {
	case ofTire && slices.ContainsFunc(f.Positions, func(p string) bool { return slices.Contains(v.OtherTire, p) }):
		return Fate{ClosedBy: OtherTire}
	case ofTire && f.Urgency == finding.BeforeDriving, !v.judgedAgain(f):
		return Fate{}
	}
	return Fate{ClosedBy: FoundGood}
}

// curing is the kind of work of the visit that set a finding right; "" for none.
func (v Visit) curing(f Open) finding.Code {
	for _, w := range v.Work {
		if len(f.Positions) == 1 && slices.Contains(w.Positions, f.Positions[0]) && verdict.Cures(w.Kind, f.Code) {
			return w.Kind
		}
	}
	return ""
}

// judgedAgain tells whether the visit judged again what a finding is about.
func (v Visit) judgedAgain(f Open) bool {
	again := againOf(f.Code)
	if len(f.Positions) == 0 {
		if again.vehicle != nil {
			return again.vehicle(v)
		}
		return v.Lamp
	}
	return again.wheel != nil && !slices.ContainsFunc(f.Positions, func(p string) bool { return !again.wheel(v, p) })
}
