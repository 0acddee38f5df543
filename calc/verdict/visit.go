// Package verdict puts a whole vehicle together: it asks the questions of the
// packages below about every wheel, the axles and the vehicle, hands plain
// numbers from one answer to the next, and orders the work.
package verdict

import (
	"cmp"

	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/wear"
)

// Engine is the version of the arithmetic and the judgement: it changes
// whenever any answer changes.
const Engine = "7"

// Visit is one visit of one vehicle, in calc's own terms.
type Visit struct {
	Vehicle    layout.Vehicle
	Use        rulebook.Use
	Books      []string       // rulebooks asked for by id, in place of the choice by use
	Own        *rulebook.Book // the shop's own limits, nil without any
	AsOf       unit.Date      // zero: not judged by date
	Day        unit.Date      // of the visit; zero when not told
	Odometer   unit.Amount    // as read, zero when not
	Conditions inflation.Conditions
	Wintry     finding.Answer // snow, slush or ice on the roads
	Loaded     finding.Answer // loaded or towing: the label for full load counts
	Lamp       inflation.Lamp // as found
	DepthGauge measure.Gauge[unit.Depth]
	GaugeTold  bool // DepthGauge was told, not assumed
	Wheels     []Wheel
	Spare      Spare
	// SpareReport is what was seen beside the spare tire; nil when nobody looked.
	SpareReport *SpareReport
	Done        []Done         // work of this visit, after what was found
	Monitoring  sensor.Kind    // how the vehicle watches its pressures
	LampLeft    inflation.Lamp // as left
	Reset       Reset          // of the monitoring, by the end
	Complaints  []Complaint
	Torque      unit.Amount          // of the wheel fasteners, the vehicle maker's figure; zero when not told
	EachWheel   int                  // fasteners of one wheel, 0 when not told
	LockingKey  finding.Answer       // one of them is a lock that needs a key
	Earlier     []Earlier            // visits before this one
	Work        []wear.Work          // done before, as far as it bears on wear
	Rotating    Rotating             // what bears on changing the tires' places
	AxleWeights []AxleWeight         // on a scale at this visit
	Maker       fitment.MakerFigures // the vehicle maker's own limits
	Recorded    []NotJudged          // what was recorded and is not judged by this version
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
	History      History
	Fitment      fitment.Wheel // marks, valve, tape and what else was read of the tire
	FitmentLeft  AsLeft
	Before       []Before // what earlier visits read of this tire

	ObservationsLeft []Observation      // as left
	Sensed           Sensed             // as found
	SensedLeft       Sensed             // as left
	Fastening        *fastener.Work     // the wheel was off during this visit; nil: it was not
	OffBefore        *fastener.Off      // at an earlier visit, the last time
	TorqueChecks     []fastener.Recheck // since then
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
	Kind     finding.Observation
	Part     finding.Part      // of the tire, as in finding.Place
	Side     finding.WheelSide // of the wheel, as in finding.Place
	Across   layout.Across
	Size     *unit.Length
	SizeUnit unit.Unit
	Injury   *puncture.Injury
	Count    int // 0 when not counted: at least one
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
		injury(o).Compare(injury(p)), cmp.Compare(o.SizeUnit, p.SizeUnit), cmp.Compare(o.Count, p.Count))
}

// Looked is a place that was looked at or, with a reason, was not.
type Looked struct {
	What       finding.Looked    // "tread-full-turn", "inner-sidewall" ...
	NotBecause finding.NotLooked // "not-reachable" ...; "" when it was looked at
}

// Tire is what is known of the tire itself.
type Tire struct {
	Marking        sidewall.Marking
	Body           sidewall.BodyPly // as told
	Size           string           // as written, to compare tires by
	Sidewall       unit.Pressure    // maximum on the sidewall, cold; 0 when not told
	LoadSingle     unit.Mass        // maximum load on the sidewall, one tire alone; 0 when not told
	LoadDual       unit.Mass        // the same, one of a pair
	Breadth        unit.Length      // of tread, 0 when not told
	New            map[int]unit.Depth
	ThreePeaks     finding.Answer // marked with the three-peak mountain and snowflake
	MudAndSnow     finding.Answer // marked M+S
	Studded        finding.Answer
	Made           sidewall.Made // zero when not told or not to be read
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
	Closed     map[string]unit.Amount    // by finding id: the as-left reading that closes it
	Done       map[string]finding.Closed // by finding id: what was done that closes it, without a number
	Work       []Work
	Wheels     []Summary
	Repairs    []Repair
	Checked    []Checked
	NotLooked  []NotLooked
	NotJudged  []NotJudged
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

// NotJudged is something recorded that this version does not judge.
type NotJudged struct {
	Code      finding.Recorded
	Positions []layout.Position
}

// Unanswered is a question whose answer, or a reading, would allow more.
type Unanswered struct {
	Code      finding.Question
	Positions []layout.Position
}
