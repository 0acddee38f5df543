// Package verdict puts a whole vehicle together: it asks the questions of the
// packages below about every wheel, the axles and the vehicle, hands plain
// numbers from one answer to the next, and orders the work.
package verdict

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Engine is the version of the arithmetic and the judgement: it changes
// whenever any answer changes.
const Engine = "7"

// Verdict is all that is said of a visit.
type Verdict struct {
	Findings   []finding.Finding
	Closed     map[string]unit.Amount    // by finding id: the as-left reading that closes it
	Done       map[string]finding.Closed // by finding id: what was done that closes it, without a number
	Work       []Work
	Wheels     []Summary
	Repairs    []Repair
	Checked    []Checked
	NotLooked  []NotLooked
	NotJudged  []visit.NotJudged
	Unanswered []Unanswered
	Books      []rulebook.Applied
	Fits       []Fit      // each tire that was read against the label, in order of position
	Axles      []AxleLoad // each axle of which enough is known, from the front
	Rotation   Rotation
}

// Summary is one wheel's readings and what they come to.
type Summary struct {
	Position layout.Position
	Tread    *tread.Result
	ReadIn   unit.Unit // of the depths
	Pressure visit.Pressure
	Cold     inflation.Cold
	Label    unit.Pressure
	Shown    unit.Unit // of the pressures
	Full     bool      // a full turn of the tread and both sidewalls were seen
	New      unit.Depth
	NewKnown bool
}

// Repair is the answer whether one tire may be repaired.
type Repair struct {
	Position layout.Position
	Result   puncture.Result
}

// Checked is something looked at in which nothing was found.
type Checked struct {
	Code      finding.Checked
	Positions []layout.Position
	Measured  unit.Amount // the lowest, zero when nothing was measured
	Limit     unit.Amount
	Rule      finding.Rule
}

// NotLooked is a place that was not looked at. An empty Reason: nobody said
// whether it was.
type NotLooked struct {
	What      finding.Looked // "wheel" for a position without any report
	Positions []layout.Position
	Reason    finding.NotLooked
}

// Unanswered is a question whose answer, or a reading, would allow more.
type Unanswered struct {
	Code      finding.Question
	Positions []layout.Position
}
