// Package closing tells what closes a finding: what its own visit left, the work that
// was done, and what a later visit judged again. The finding itself stays.
package closing

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// In is what a visit found, and what bears on how it left the vehicle.
type In struct {
	Visit    visit.Visit
	Tread    tread.Context
	Findings []finding.Finding
	NoAir    []layout.Position                    // tires that get no air before their inside was seen
	ToSet    map[layout.Position]inflation.Target // the figure to set each tire to now
	Device   []layout.Position                    // tires of steel cord that ran low, or carried the load of one
	Torqued  []layout.Position                    // wheels off, their torque on record
	AsLabel  map[layout.Position]bool             // tires of the label's size
	PutRight []layout.Position                    // wheels off, their fasteners counted, renewed, clean and with their torque on record
}

// Left is how the vehicle was left, by the ids of what was found.
type Left struct {
	Readings map[string]unit.Amount    // the as-left reading that closes it
	Done     map[string]finding.Closed // what was done that closes it, without a number

	short, right, unsure map[layout.Position]bool
}

// Short tells that a tire left with less than its label asks for, as its reading shows.
func (l Left) Short(p layout.Position) bool { return l.short[p] }

// Right tells that a tire left with what its label asks for, as its reading shows.
func (l Left) Right(p layout.Position) bool { return l.right[p] }

// Unsure tells that a tire reads as left what its label asks for, by a gauge that cannot
// tell it from one that is low.
func (l Left) Unsure(p layout.Position) bool { return l.unsure[p] }

// Closed tells that the vehicle left with a finding put right.
func (l Left) Closed(f finding.Finding) bool {
	if len(l.Done) == 0 && len(l.Readings) == 0 {
		return false
	}
	_, done := l.Done[f.ID()]
	return l.ByReading(f) || done
}

// ByReading tells that a reading as left closes a finding.
func (l Left) ByReading(f finding.Finding) bool {
	_, read := l.Readings[f.ID()]
	return read
}

// AsLeft closes a finding only where what was left is provably good, or where the work
// of this visit set it right at its wheel. Seen again as left, work cured nothing.
func AsLeft(in In) Left {
	out := Left{Readings: map[string]unit.Amount{}, Done: map[string]finding.Closed{},
		short: map[layout.Position]bool{}, right: map[layout.Position]bool{}, unsure: map[layout.Position]bool{}}
	wheels := map[layout.Position]wheelLeft{}
	for _, w := range in.Visit.Wheels {
		left := in.wheel(w)
		wheels[w.Position] = left
		out.short[w.Position], out.right[w.Position], out.unsure[w.Position] = left.labeled && !left.atLabel && !left.unsure, left.atLabel, left.unsure
	}
	for _, f := range in.Findings {
		if len(f.Positions) > 0 {
			out.byWheel(f, wheels)
		}
		by, open := in.done(f, wheels), len(f.Positions) > 0 && f.Urgency != finding.Note
		if by == "" && open {
			by = in.mended(f, wheels)
		}
		if reading, closes := in.measured(f, wheels); closes && by == "" && open {
			out.Readings[f.ID()] = reading
		}
		if by != "" {
			out.Done[f.ID()] = by
		}
	}
	return out
}

// byWheel closes what the wheel of a finding, as left, proves to be good.
func (l Left) byWheel(f finding.Finding, wheels map[layout.Position]wheelLeft) {
	w := wheels[f.Positions[0]]
	alone := len(f.Positions) == 1
	every := func(f finding.Finding, is func(wheelLeft) bool) bool {
		return !slices.ContainsFunc(f.Positions, func(p layout.Position) bool { return !is(wheels[p]) })
	}
	switch finding.KindOf(f.Code).Left {
	case finding.LeftPressure:
		if every(f, func(w wheelLeft) bool { return w.atLabel }) {
			l.Readings[f.ID()] = w.pressure
		}
	case finding.LeftWhereUsed:
		if alone && w.atLabel && w.whereUsed {
			l.Readings[f.ID()] = w.pressure
		}
	case finding.LeftLoad:
		if w.supports {
			l.Readings[f.ID()] = w.pressure
		}
	case finding.LeftDepth:
		if w.read && !w.open[f.ID()] {
			l.Readings[f.ID()] = w.lowest.Amount(f.Limit.Unit).Rounded()
		}
	case finding.LeftArrow, finding.LeftOutside, finding.LeftValve:
		if alone && w.right[finding.KindOf(f.Code).Left] {
			l.Readings[f.ID()] = unit.Amount{}
		}
	case finding.LeftAgreeing:
		if every(f, func(w wheelLeft) bool { return w.sensed.Agree() }) {
			l.Readings[f.ID()] = w.sensed.Sensor.Pressure.Of.Amount(w.sensed.In).Rounded()
		}
	}
}

// done is what was done that closes a finding, "" for nothing.
func (in In) done(f finding.Finding, wheels map[layout.Position]wheelLeft) (by finding.Closed) {
	switch finding.KindOf(f.Code).Left {
	case finding.LeftSensor:
		if s := wheels[f.Positions[0]].sensed.Sensor; s != nil && s.Answers() && !s.BatteryLow {
			return finding.ClosedSensorAnswers
		}
	case finding.LeftLearned:
		if in.placesKnown(f.Positions, wheels) {
			return finding.ClosedSensorRelearned
		}
	case finding.LeftLamp:
		if in.Visit.LampLeft == inflation.LampOff {
			return finding.ClosedLampOut
		}
	case finding.LeftAllRead, finding.LeftSeen, finding.LeftSealantKnown:
		return in.ofVehicle(f, wheels)
	case finding.LeftAxle:
		if in.within(f) {
			return finding.ClosedOtherTire
		}
	case finding.LeftWeighed, finding.LeftLoad:
		if in.weighed(f) {
			return finding.ClosedWeighed
		}
	case finding.LeftFastened:
		// A wrong seat is not cured by tightening.
		if (slices.Contains(in.PutRight, f.Positions[0]) || in.carrierRight(f.Positions[0])) && !in.stillThere(f) {
			return finding.ClosedFastenersPutRight
		}
	}
	for _, d := range in.Visit.Done {
		if curedAt(d, f.Positions) && Cures(d.Kind, f.Code) && !in.stillThere(f) {
			by = finding.DoneOf(d.Kind).Closed
		}
	}
	return by
}

// curedAt tells that work was done at every wheel that a finding is about, or on the
// vehicle, where it is about none; a result told as not right cures nothing.
func curedAt(d visit.Done, at []layout.Position) bool {
	if d.Result == finding.No || d.Kind == finding.DoneRoadTest && d.Result != finding.Yes {
		return false
	}
	if finding.DoneOf(d.Kind).Whole {
		return true
	}
	return len(at) > 0 && !slices.ContainsFunc(at, func(p layout.Position) bool { return !slices.Contains(d.At, p) })
}

// Cures tells whether a kind of work sets right what a finding of that code says
// at the same wheel.
func Cures(work finding.Done, code finding.Code) bool {
	return slices.Contains(finding.KindOf(code).Cured, work)
}

// placesKnown: the vehicle shows each sensor where it is, or they were learned
// and nothing shown speaks against it. A reset alone learns no places.
func (in In) placesKnown(at []layout.Position, wheels map[layout.Position]wheelLeft) bool {
	learned := in.Visit.Reset == visit.Relearned || in.Visit.Did(finding.DoneSensorRelearned)
	for _, p := range at {
		s := wheels[p].sensed.Sensor
		shown := s != nil && s.ShownAt != (layout.Position{})
		if shown && s.ShownAt != p || !shown && !learned {
			return false
		}
	}
	return in.Visit.Reset != visit.ResetNotDone
}

// wheelLeft is what a wheel as left proves to be good.
type wheelLeft struct {
	pressure unit.Amount // as read
	labeled  bool        // read, and the label is known
	atLabel  bool
	unsure   bool // at the label, as far as the gauge can tell

	whereUsed bool // and not short on the coldest morning, or where it is driven
	supports  bool // what the wheel carries
	read      bool // a depth was
	lowest    unit.Depth
	open      map[string]bool // ids of the limits of depth that are open, or not met
	right     map[finding.Left]bool
	sensed    sensor.Wheel
}

func (in In) wheel(w visit.Wheel) wheelLeft {
	out := wheelLeft{sensed: w.SensedLeft.At(w.Position), right: map[finding.Left]bool{
		finding.LeftArrow:   w.FitmentLeft.Marks.Arrow == fitment.ArrowAgrees,
		finding.LeftOutside: w.FitmentLeft.Marks.Outside == fitment.FacesOut,
	}}
	if v := w.FitmentLeft.Valve; v != nil {
		label := in.Visit.Labels().Most(w.Position)
		under, ok := v.UnderRated(label)
		out.right[finding.LeftValve] = ok && !under && label > 0
	}
	if w.PressureLeft.Read != unit.None {
		found := in.Visit.Labels().Air(w, w.Pressure, in.Visit.Conditions)
		left := in.Visit.AirLeft(w.AsLeft(), w.PressureLeft)
		out.pressure, out.labeled = found.Shown(w.PressureLeft.Of), left.Label > 0
		out.atLabel = atLabel(left) || in.asTold(w, left)
		on := in.Visit.Scale()
		out.supports = rated(w, on) && in.supports(w, left, on) == measure.Above
		exact := left
		exact.Gauge = measure.Gauge[unit.Pressure]{}
		out.unsure = !out.atLabel && atLabel(exact)
		out.whereUsed = !inflation.Judge(left).Has(finding.InflationShortWhereUsed)
	}
	in.depths(w, &out)
	return out
}

// depths: which limits the tire as left meets, provably, of those that were open or not
// kept as found.
func (in In) depths(w visit.Wheel, out *wheelLeft) {
	left := w.Tread(w.DepthsLeft, in.Visit.DepthGauge)
	left.BarsFlush, left.New = false, nil
	r, ok := tread.Judge(in.Tread, left)
	if !ok {
		return
	}
	out.read, out.lowest, out.open = true, r.Summary.Governing.Lowest, map[string]bool{}
	for _, f := range append(r.Findings, tread.Winter(in.Tread, left).Findings...) {
		out.open[f.ID()] = true
	}
}
