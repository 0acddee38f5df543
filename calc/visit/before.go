package visit

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// Earlier is one earlier visit: what was found then is evidence today.
type Earlier struct {
	Ago        *unit.Distance // on the odometer, nil when not known
	Conditions inflation.Conditions
	Loaded     finding.Answer
	Wheels     []EarlierWheel
}

// EarlierWheel is one wheel's pressure as found at an earlier visit.
type EarlierWheel struct {
	Position layout.Position
	Pressure Pressure
}

// History is where a tire has been.
type History struct {
	Here   *unit.Distance  // run at this position, nil when not known
	OnTire *unit.Distance  // run since new, nil when not known
	Former layout.Position // before this one; the zero position when not known
	Turned bool            // the other sidewall faces out since then
	Made   string          // week and year, "" when not read
	Fitted unit.Date
}

// Before is what an earlier visit read of a tire, wherever it stood then.
type Before struct {
	Ago         unit.Distance   // run by the tire since then
	Day         unit.Date       // zero when not told
	At          layout.Position // where it stood
	Turned      bool            // its other sidewall faces out now
	Stayed      bool            // its wheel was at no other place since
	Depths      []tread.Reading // as found
	DepthGauge  measure.Gauge[unit.Depth]
	Found, Left Pressure // as found and as left
	Conditions  inflation.Conditions
}

// Rotating is what bears on changing the tires' places beside what the visit read.
type Rotating struct {
	Tires   map[layout.Position]Turning
	Spare   finding.Answer   // Yes: one is carried, of the size and design of the others; No: one that does not match
	Alike   finding.Answer   // of a dual rear: all six tires are of one design, and their wheels interchange
	Every   unit.Amount      // distance between rotations by the vehicle maker; zero when not told
	Before  []DepthsBefore   // found at earlier visits whose odometer is known, the latest first
	Changed []*unit.Distance // how long ago tires were moved or exchanged, by the record; nil: not known
	NoKey   bool             // the key of the wheels' lock was looked for and is not there
	Compare bool             // all maps, whether or not a rotation is due
	Moved   finding.Answer   // asked today: tires changed places since the visit before, or were turned on their rims
}

// Turning is what decides which way round a tire may run.
type Turning struct {
	ID          string // of the tire, "" when not told
	Directional finding.Answer
	Studded     finding.Answer
	OutsideMark finding.Answer
}

// DepthsBefore are the depths found at an earlier visit.
type DepthsBefore struct {
	Ago    unit.Distance // on the odometer
	Day    unit.Date     // zero when not told
	Gauge  measure.Gauge[unit.Depth]
	Wheels []DepthsAt
}

// DepthsAt are the depths of one wheel at an earlier visit.
type DepthsAt struct {
	Position layout.Position
	Tire     string // its id, "" when not told
	Readings []tread.Reading
}

// At gives the depths of a position, the zero value where none were read.
func (d DepthsBefore) At(p layout.Position) DepthsAt {
	i := slices.IndexFunc(d.Wheels, func(w DepthsAt) bool { return w.Position == p })
	if i < 0 {
		return DepthsAt{}
	}
	return d.Wheels[i]
}

// PlaceOf gives where the tire of a position was, by its id; without an id on either
// side, where it is. known is false for a tire that was not there.
func (d DepthsBefore) PlaceOf(id string, p layout.Position) (from layout.Position, known bool) {
	if id == "" || !slices.ContainsFunc(d.Wheels, func(w DepthsAt) bool { return w.Tire != "" }) {
		return p, len(d.At(p).Readings) > 0
	}
	i := slices.IndexFunc(d.Wheels, func(w DepthsAt) bool { return w.Tire == id })
	if i < 0 {
		return p, false
	}
	return d.Wheels[i].Position, true
}

// LastChange is how long ago tires changed places last, by the record; nil: not known.
func (r Rotating) LastChange() (last *unit.Distance) {
	for _, ago := range r.Changed {
		if ago != nil && (last == nil || *ago < *last) {
			last = ago
		}
	}
	return last
}

// ChangedWithin tells that tires were moved or exchanged, by the record, at or after
// the one distance ago and not after the other; a change of which the time is not
// known may have been then.
func (r Rotating) ChangedWithin(until, from unit.Distance) bool {
	return slices.ContainsFunc(r.Changed, func(ago *unit.Distance) bool { return ago == nil || *ago >= until && *ago <= from })
}

// Odometer is what a visit read of the odometer.
type Odometer struct {
	Of    unit.Distance
	Read  unit.Amount // as read
	Day   unit.Date   // of the visit; zero when not told
	Today bool
}
