// Package rotation answers which way round: by which maps the tires of a vehicle
// may change places and by which not, how far each map carries with this
// vehicle's own wear rates against leaving the tires where they are, and whether
// the depths of two visits show a rotation that nobody wrote down.
//
// A map places the tires once; they then run there. Leaving them is always among
// the maps, so that a recommended map never loses against it.
package rotation

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Rate is tread lost over distance run, unit.Depth for each unit.Distance.
type Rate float64

// RateOf is the rate of a loss over a distance above zero.
func RateOf(lost unit.Depth, run unit.Distance) Rate { return Rate(float64(lost) / float64(run)) }

// Tire is one mounted tire, or the spare.
type Tire struct {
	At           layout.Position
	Depth        *measure.Value[unit.Depth] // the lowest reading; nil when not read
	Mean         unit.Depth                 // of all grooves, where Depth is read
	Size         string                     // as written, "" when not told
	Construction string                     // "R", "B" or "D" as in the size, "" when not told
	Made         float64                    // years of age, 0 when not told
	Directional  finding.Answer
	Studded      finding.Answer
	OutsideMark  finding.Answer   // one face is marked OUTSIDE
	Noisy        bool             // worn at an edge or scalloped: it stays noisy wherever it goes
	Finished     bool             // to be replaced, whatever its place
	Against      []finding.Reason // why neither it nor its wheel goes to another place now
}

// Vehicle is what a rotation is planned for.
type Vehicle struct {
	Layout layout.Vehicle
	Tires  []Tire                                  // one for each position that is known, in any order
	Spare  finding.Answer                          // Yes: one is carried, of the size and design of the others; No: one that does not match
	Alike  finding.Answer                          // dual rear: all six tires are of one size, type and design, and their wheels interchange
	Rates  map[layout.Position]measure.Value[Rate] // of each position on the road, where known
	Out    unit.Depth                              // a tire is out at this depth
	Causes []Cause                                 // of uneven wear, not cured yet
	NoKey  bool                                    // the key of the wheels' lock is missing
	Last   *unit.Distance                          // run since tires changed places, nil when not known
}

// Cause is a cause of wear that is not cured yet.
type Cause struct {
	Code finding.Code
	At   []layout.Position
}

// Warning is something to know of a map, with the places where the tires are now.
type Warning struct {
	Code finding.Reason
	At   []layout.Position
}

// Plan is one map for one vehicle.
type Plan struct {
	Map      Map
	WhyNot   []finding.Reason // every reason against it; none: it is allowed
	Warnings []Warning
	Until    Until
	Gain     Gain // against leaving them, until the first tire is out
}

// Allowed tells that nothing stands against the map.
func (p Plan) Allowed() bool { return len(p.WhyNot) == 0 }

// Until is how far the vehicle runs from now. Nil: not in sight, or not known.
type Until struct {
	First *unit.Distance // until the first tire is out
	Pair  *unit.Distance // until both tires of an axle, or of a dual pair, are out
	Set   *unit.Distance // until all on the road are out
}

// Gain is a difference of two distances with its interval; nil where it is not known or
// no end can be told.
type Gain struct{ At, Low, High *unit.Distance }

// Result is all maps for a vehicle.
type Result struct {
	Plans []Plan             // the recommended one first, then those allowed by gain, then the others
	Open  []finding.Question // questions whose answer decides between maps
	v     vehicle
}

// Recommended is the map to take; leaving the tires may be it.
func (r Result) Recommended() Plan { return r.Plans[0] }
