// Package fastener judges what was done about the fasteners of wheels that were
// off: studs counted, damaged and renewed, faces, torque, and the check of that
// torque some distance later. It supplies no torque of its own, ever: a value is
// held against the vehicle maker's figure as told, or against nothing.
package fastener

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Tool is what a torque was set with.
type Tool uint8

// Tools. Only a wrench or a tool that controls the torque makes a torque record.
const (
	ToolNotTold Tool = iota
	HandWrench
	LimitingStick
	ImpactOnly
	ControlledTool
)

// Work is what was done when a wheel was off and put back at this visit. Numbers
// that were not told are nil.
type Work struct {
	Counted, Damaged, Replaced *int
	FacesCleaned               finding.Answer
	Torque                     unit.Amount // zero when not told
	Tool                       Tool
	Round                      bool // tightened round the circle, one after another
	Staged                     finding.Answer
	Named                      bool // who did it is told
}

// Recheck is a check of a torque that was set before.
type Recheck struct {
	Today  bool
	Torque unit.Amount    // zero when not told
	Odo    bool           // the odometer is told
	Named  bool           // who checked is told
	After  *unit.Distance // run since the wheel was off, nil when not known
	Cool   finding.Answer // the wheel was cool
	Moved  finding.Answer // a fastener moved before the torque was reached
}

// complete: value, odometer and name close what was owed; a check on a wheel that
// was warm is none.
func (c Recheck) complete() bool {
	return !c.Torque.IsZero() && c.Odo && c.Named && c.Cool != finding.No
}

// Off tells that a wheel was off at an earlier visit and how far it has run since.
type Off struct{ Ago *unit.Distance }

// Wheel is one wheel.
type Wheel struct {
	At     layout.Position
	Broken int       // studs seen broken, 0 for none
	Work   *Work     // nil: not off at this visit
	Before *Off      // last time it was off before this visit, nil when none is on record
	Checks []Recheck // since then, in any order
}

// Vehicle is what holds the wheels on.
type Vehicle struct {
	Layout layout.Vehicle
	Each   int         // fasteners of one wheel, 0 when not told
	Torque unit.Amount // the vehicle maker's figure, zero when not told
	Wheels []Wheel
}

// Renewal is what broken studs of a wheel call for: the broken one and the one on
// each side, or all of that wheel.
type Renewal struct {
	At    layout.Position
	All   bool
	Count int // 0 when it is all of them and their number is not told
}

// Due is a check of torque that is still to come, by distances from now.
type Due struct {
	At       layout.Position
	From, By unit.Amount
	Trailer  bool
}

// Result is what is said about the fasteners of a vehicle.
type Result struct {
	Findings []finding.Finding
	Renew    []Renewal
	Due      []Due
	Asked    []layout.Position // wheels that were off, and what was done is not all told
	Recorded []layout.Position // torque recorded, and not against the vehicle maker's figure
	Held     []layout.Position // torque checked, and nothing moved
	PutRight []layout.Position // wheel off, counted, renewed, clean, torque recorded
}
