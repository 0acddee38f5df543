// Package verdict puts a whole vehicle together: it asks the questions of the
// packages below about every wheel, the axles and the vehicle, hands plain
// numbers from one answer to the next, and orders the work.
package verdict

import (
	"cmp"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/wear"
)

// Engine is the version of the arithmetic and the judgement: it changes
// whenever any answer changes.
const Engine = "1"

// Visit is one visit of one vehicle, in calc's own terms.
type Visit struct {
	Vehicle    layout.Vehicle
	Use        rulebook.Use
	Books      []string  // rulebooks asked for by id, in place of the choice by use
	AsOf       unit.Date // zero: not judged by date
	Conditions inflation.Conditions
	Loaded     finding.Answer // loaded or towing: the label for full load counts
	Lamp       inflation.Lamp // as found
	DepthGauge measure.Gauge[unit.Depth]
	GaugeTold  bool // DepthGauge was told, not assumed
	Wheels     []Wheel
	Spare      Spare
	TPMS       finding.Answer // fitted
	Torque     unit.Amount    // of the wheel fasteners, the vehicle maker's figure; zero when not told
	Earlier    []Earlier      // visits before this one
	Work       []wear.Work    // done before, as far as it bears on wear
	Rotating   Rotating       // what bears on changing the tires' places
	Recorded   []NotJudged    // what was recorded and is not judged by this version
}

// Spare is the vehicle's spare tire; Fitted tells that there is one.
type Spare struct {
	Fitted    bool
	Label     unit.Pressure // cold, 0 when not told
	LabelUnit unit.Unit
}

// Wheel is what was read and seen at one position.
type Wheel struct {
	Position     layout.Position
	Depths       []tread.Reading // as found
	DepthsLeft   []tread.Reading // as left
	Pressure     Pressure        // as found: the lowest of the repeats
	PressureLeft Pressure        // as left: the last of the repeats
	Observations []Observation   // as found
	Looked       []Looked
	Tire         Tire
	DrivenLow    inflation.DrivenLow
	HighLow      []wear.HighLow
	WasOff       bool // the wheel was off the vehicle during this visit
	History      History
}

// Pressure is one reading of a gauge. None as its unit: not read.
type Pressure struct {
	Of          unit.Pressure
	Read        unit.Unit
	Gauge       measure.Gauge[unit.Pressure]
	Temperature unit.Temperature // of the tire, 0 when not told
	Source      inflation.Source
}

// Observation is one thing seen, felt, probed or heard. Kind is the contract's
// kind in lower case: "cord-showing".
type Observation struct {
	Kind     finding.Code
	Part     finding.Code // of the tire, as in finding.Place
	Side     finding.Code // of the wheel, as in finding.Place
	Across   layout.Across
	Size     *unit.Length
	SizeUnit unit.Unit
	Injury   *puncture.Injury
}

// compare orders observations by kind, of one kind the largest first: where one
// of several stands for all, it is the worst.
func (o Observation) compare(p Observation) int {
	size := func(o Observation) unit.Length {
		if o.Size == nil {
			return -1
		}
		return *o.Size
	}
	injury := func(o Observation) puncture.Injury {
		if o.Injury == nil {
			return puncture.Injury{}
		}
		return *o.Injury
	}
	return cmp.Or(cmp.Compare(o.Kind, p.Kind), cmp.Compare(size(p), size(o)), cmp.Compare(p.Across, o.Across),
		injury(o).Compare(injury(p)), cmp.Compare(o.SizeUnit, p.SizeUnit))
}

// Looked is a place that was looked at or, with a reason, was not.
type Looked struct {
	What       finding.Code // "tread-full-turn", "inner-sidewall" ...
	NotBecause finding.Code // "not-reachable" ...; "" when it was looked at
}

// Tire is what is known of the tire itself.
type Tire struct {
	Marking        sidewall.Marking
	Body           sidewall.BodyPly // as told
	Size           string           // as written, to compare tires by
	Sidewall       unit.Pressure    // maximum on the sidewall, cold; 0 when not told
	Breadth        unit.Length      // of tread, 0 when not told
	New            map[int]unit.Depth
	Winter         bool
	Age            unit.Amount
	SelfSupporting finding.Answer
	FoamLined      finding.Answer
	SealantLined   finding.Answer
	Policy         puncture.Policy
	Repairs        []puncture.Method // recorded earlier
}

// Verdict is all that is said of a visit.
type Verdict struct {
	Findings   []finding.Finding
	Closed     map[string]unit.Amount // by finding id: the as-left reading that closes it
	Work       []Work
	Wheels     []Summary
	Repairs    []Repair
	Checked    []Checked
	NotLooked  []NotLooked
	NotJudged  []NotJudged
	Unanswered []Unanswered
	Books      []rulebook.Applied
	Rotation   Rotation
}

// Summary is one wheel's readings and what they come to.
type Summary struct {
	Position layout.Position
	Tread    *tread.Result
	ReadIn   unit.Unit // of the depths
	Pressure Pressure
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
	Code      finding.Code
	Positions []layout.Position
	Measured  unit.Amount // the lowest, zero when nothing was measured
	Limit     unit.Amount
	Rule      finding.Rule
}

// NotLooked is a place that was not looked at. An empty Reason: nobody said
// whether it was.
type NotLooked struct {
	What      finding.Code // "wheel" for a position without any report
	Positions []layout.Position
	Reason    finding.Code
}

// NotJudged is something recorded that this version does not judge.
type NotJudged struct {
	Code      finding.Code
	Positions []layout.Position
}

// Unanswered is a question whose answer, or a reading, would allow more.
type Unanswered struct {
	Code      finding.Code
	Positions []layout.Position
}
