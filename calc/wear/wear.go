// Package wear answers why tires wear as they do: from the depth lost across and
// round each tire, the axle as a pair, what a hand felt, the miles at this
// position, the pressures found at earlier visits and the work done, it ranks
// causes with the evidence for and against each and the check that settles it.
//
// A shape is called only when it is proved and a fault: at least 2/32 in, and more than
// sound tires and the gauge show. Where one set of readings leaves that open, more are
// asked for before any cause is told. Depth alone cannot tell toe from camber: a
// hand or an alignment rack can, and until then both stand at equal rank.
package wear

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Felt is what a hand or an eye found on the tread.
type Felt struct {
	SharpToward bool // ribs sharp on the side toward the vehicle
	SharpAway   bool // ribs sharp on the side away from it
	Feathered   bool // ribs sharp, on which side not told
	Smooth      bool
	EdgeRounded bool
	SlantScuffs bool
	Scalloped   bool
	HeelAndToe  bool
	Diagonal    bool // dips slanting across the tread
	FlatSpot    bool
	Any         bool // somebody felt the tread at all
}

// Pressure is how a tire stood at an earlier visit: the share of its label
// pressure, cold.
type Pressure struct {
	Share measure.Value[unit.Ratio]
}

// Tire is one tire and how it has worn. Depths and edges are told as the tire
// stands now.
type Tire struct {
	At       layout.Position               // where it is now
	Wore     layout.Position               // where the shape was made; the zero position when not known
	Turned   bool                          // the other sidewall faces out since the shape was made
	Here     *unit.Distance                // run at this position, nil when not known
	OnTire   *unit.Distance                // run since it was new, nil when not known
	Across   *[3]measure.Value[unit.Depth] // inboard, center, outboard: means round the tire, each as uncertain as beside the others; nil when not read
	Places   int                           // round the tire at which Across was read, 0 and 1 alike
	Readings int                           // of each place across, at the least; 0 and 1 alike
	Mean     *measure.Value[unit.Depth]    // of all grooves, as Across; nil when not read
	New      *[3]unit.Depth                // inboard, center, outboard; nil when not known
	Rings    [][]unit.Depth                // one list for each station round the tire: its depths from inboard to outboard
	HighLow  []HighLow
	Felt     Felt
	EdgeGone [2]bool    // worn smooth or to the cord beyond the last groove: inboard, outboard
	Earlier  []Pressure // found while it ran where it wore; today's reading proves nothing
	Made     string     // ends in week and year, "" when not read
	Fitted   unit.Date  // the zero date when not known
	Size     string     // as written, "" when not known

	oneEdge, center standing // what the readings prove of its shapes
}

// HighLow is the highest and lowest depth within a hand's width of one groove.
type HighLow struct{ High, Low measure.Value[unit.Depth] }

// WorkKind is work that bears on wear.
type WorkKind uint8

// Kinds of work.
const (
	AlignmentMeasured WorkKind = iota + 1
	AlignmentSet
	SteeringPart
	SuspensionPart
	Lowered
	Rotated
)

// Work is something done to the vehicle before.
type Work struct {
	Kind    WorkKind
	At      []layout.Position // empty: the vehicle
	InRange finding.Answer    // of an alignment measured
	Ago     *unit.Distance    // run since then, nil when not known
}

// Vehicle is what causes are looked for in.
type Vehicle struct {
	Layout layout.Vehicle // has every position of the tires
	Tires  []Tire         // in any order; the spare is passed over
	Work   []Work         // done before today's readings were taken, in any order
	Loaded finding.Answer // runs loaded or towing
	Gauge  measure.Gauge[unit.Depth]
}
