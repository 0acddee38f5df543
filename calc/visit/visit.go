// Package visit holds what is known of one visit of one vehicle, in calc's own terms:
// what was read, seen, told and done, and what the packages that judge one thing take of
// it. It judges nothing.
package visit

import (
	"slices"

	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/wear"
)

// Visit is one visit of one vehicle.
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
	SpeedShown finding.Answer // the highest speed of the tires is shown in the driver\'s view
	Loaded     finding.Answer // loaded or towing: the label for full load counts
	Lamp       inflation.Lamp // as found
	DepthGauge measure.Gauge[unit.Depth]
	GaugeTold  bool // DepthGauge was told, not assumed
	Wheels     []Wheel
	Spare      Spare
	// SpareReport is what was seen beside the spare tire; nil when nobody looked.
	SpareReport     *SpareReport
	Done            []Done         // work of this visit, after what was found
	Monitoring      sensor.Kind    // how the vehicle watches its pressures
	LampLeft        inflation.Lamp // as left
	Reset           Reset          // of the monitoring, by the end
	Complaints      []Complaint
	Torque          unit.Amount          // of the wheel fasteners, the vehicle maker's figure; zero when not told
	EachWheel       int                  // fasteners of one wheel, 0 when not told
	LockingKey      finding.Answer       // one of them is a lock that needs a key
	Earlier         []Earlier            // visits before this one
	Odometers       []Odometer           // of this visit and those before it that count, in any order
	Work            []wear.Work          // done before, as far as it bears on wear
	Rotating        Rotating             // what bears on changing the tires' places
	AxleWeights     []AxleWeight         // on a scale at this visit, as found
	AxleWeightsLeft []AxleWeight         // the same as left
	Maker           fitment.MakerFigures // the vehicle maker's own limits
	Recorded        []NotJudged          // what was recorded and is not judged by this version
}

// NotJudged is something recorded that this version does not judge.
type NotJudged struct {
	Code      finding.Recorded
	Positions []layout.Position
	Of        string // the place whose law it is, as ISO 3166 writes it, where several are judged; "" for the only one
}

// Done is one piece of work done at this visit.
type Done struct {
	Kind   finding.Done
	At     []layout.Position // empty: the whole vehicle
	Result finding.Answer    // No: measured or tried, and not right
}

// Complaint is one thing the customer notices.
type Complaint struct {
	Kind       finding.Complaint
	At         layout.Position // the zero position when not told
	From       unit.Amount     // lowest speed at which it is noticed, zero when not told
	Front      bool            // felt in the steering wheel, or heard from the front
	Rear       bool            // felt in the seat, or heard from the rear
	AiredOften bool            // aired more often than a sound tire
	Sealant    Sealant         // that was used
}

// About are the wheels that a complaint is about; none: the vehicle.
func (c Complaint) About() []layout.Position {
	if c.At == (layout.Position{}) {
		return nil
	}
	return []layout.Position{c.At}
}

// Sealant is what is known of a sealant that was used.
type Sealant uint8

// Sealants.
const (
	SealantNotAsked Sealant = iota
	SealantBurnsNot
	SealantMayBurn // it burns, or nobody knows
)

// Spare is what the vehicle carries against a flat.
type Spare struct {
	Fitted    bool          // there is a spare tire
	FullSize  bool          // and it is of full size, whatever its design
	Matching  bool          // of the size and design of the tires on the road
	Kit       bool          // a sealant kit in place of a spare
	KitLast   unit.Date     // last day printed on the kit, the zero date when not told
	Label     unit.Pressure // cold, 0 when not told
	LabelUnit unit.Unit
	Speed     unit.Amount // highest speed printed on it or in the handbook, zero when not told
	Distance  unit.Amount // longest distance, zero when not told

	// What the vehicle's handbook allows: more than one temporary spare at a time, and
	// pulling a trailer on one.
	AllowsTwo, AllowsTowing finding.Answer
}

// SpareReport is what was seen of the spare's surroundings.
type SpareReport struct {
	Reachable, Hoist, Jack, Key, Kit finding.Answer
	InService                        layout.Position // where it runs now; the zero position: it does not
}

// Reset is what was done by the end so that the vehicle knows its sensors and
// pressures again.
type Reset uint8

// Resets.
const (
	ResetNotTold Reset = iota
	Relearned          // sensors learned to their places
	ResetOnly          // system reset, no places learned
	ResetNotNeeded
	ResetNotDone // needed, and not done
)

// AxleWeight is one axle as weighed, all its wheels together.
type AxleWeight struct {
	Axle   int // from the front, 1 the first
	Weight unit.Mass
	ReadIn unit.Unit
}

// Unseen are the wheels at which nobody looked at the places that a complaint wants
// looked at: at the one that it is about, else at any.
func Unseen(v layout.Vehicle, wheels []Wheel, k finding.ComplaintKind, about layout.Position) (at []layout.Position) {
	if len(k.Looks) == 0 {
		return nil
	}
	all := v.Positions()
	if about != (layout.Position{}) {
		all = []layout.Position{about}
	}
	for _, p := range all {
		i := slices.IndexFunc(wheels, func(w Wheel) bool { return w.Position == p })
		if i >= 0 && !slices.ContainsFunc(k.Looks, func(place finding.Looked) bool { return !wheels[i].LookedAt(place) }) {
			continue
		}
		if slices.Contains(k.Looks, finding.LookedFasteners) && (p.Dual == layout.Inner || p.Spare) {
			continue // they are those of the outer wheel
		}
		at = append(at, p)
	}
	return at
}

// InOrder gives the visit with its wheels by position and the observations of each by
// kind: the order in which they were told changes nothing. A wheel that was off, as the
// work of the visit says, was off. A temporary spare on the road is told by its marking,
// or by where the spare is said to run; that it has no sensor is as it should be.
func (v Visit) InOrder() Visit {
	v.Wheels = slices.Clone(v.Wheels)
	slices.SortFunc(v.Wheels, func(a, b Wheel) int { return a.Position.Compare(b.Position) })
	for i := range v.Wheels {
		w := &v.Wheels[i]
		w.Observations, w.ObservationsLeft = slices.Clone(w.Observations), slices.Clone(w.ObservationsLeft)
		slices.SortFunc(w.Observations, Observation.compare)
		slices.SortFunc(w.ObservationsLeft, Observation.compare)
		if w.Fastening == nil && !w.Position.Spare && v.didAt(finding.DoneWheelsOff, w.Position) {
			w.Fastening = &fastener.Work{} // off, with nothing written of it
		}
		w.SpareRuns = v.SpareReport != nil && v.SpareReport.InService == w.Position && !w.Position.Spare
		if v.temporary(*w) {
			w.Temporary, w.Sensed = true, Sensed{}
			w.Observations = slices.DeleteFunc(w.Observations, func(o Observation) bool { return o.Kind == finding.ObservedSensorNotAnswering })
		}
	}
	return v
}

func (v Visit) temporary(w Wheel) bool {
	switch r := v.SpareReport; {
	case w.Position.Spare:
		return false
	case w.Tire.Size != "":
		return w.Tire.Marking.Class == sidewall.TemporarySpare
	default:
		return r != nil && r.InService == w.Position && v.Spare.Fitted && !v.Spare.FullSize
	}
}

// OnRoad are the wheels without those on which a temporary spare runs: it is judged by
// itself, and compared with nothing.
func (v Visit) OnRoad() []Wheel {
	if !slices.ContainsFunc(v.Wheels, func(w Wheel) bool { return w.Temporary }) {
		return v.Wheels
	}
	return slices.DeleteFunc(slices.Clone(v.Wheels), func(w Wheel) bool { return w.Temporary })
}

// Watched tells that something in the vehicle watches its pressures, or may. A lamp that
// is lit tells that something does.
func (v Visit) Watched() bool { return v.Monitoring != sensor.None || v.Lamp.Lit() }

// Did tells that work of a kind was done at this visit.
func (v Visit) Did(kind finding.Done) bool {
	return slices.ContainsFunc(v.Done, func(d Done) bool { return d.Kind == kind })
}

// Fitted are the wheels on which another tire was put at this visit.
func (v Visit) Fitted() (ws []Wheel) {
	for _, w := range v.Wheels {
		if w.Mended.Fitted || v.didAt(finding.DoneTiresReplaced, w.Position) {
			ws = append(ws, w)
		}
	}
	return ws
}

// didAt tells that work of a kind was done at a wheel, or on the whole vehicle.
func (v Visit) didAt(kind finding.Done, p layout.Position) bool {
	return slices.ContainsFunc(v.Done, func(d Done) bool { return d.Kind == kind && (len(d.At) == 0 || slices.Contains(d.At, p)) })
}
