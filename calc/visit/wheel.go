package visit

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/wear"
)

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
	SameTire     bool          // its identification is that of the tire which is told to have been replaced here
	Fitment      fitment.Wheel // marks, valve, tape and what else was read of the tire
	FitmentLeft  AsLeft
	Before       []Before // what earlier visits read of this tire
	Rim          inflation.Rim
	SpareRuns    bool    // the vehicle's spare, of whatever kind, was said to run here
	Temporary    bool    // a temporary spare runs here: see Visit.InOrder
	Rested       *Before // what the visit before read here where no odometer tells of it: of pressure alone, and by its day; nil without one
	Mended       Mended  // by the end

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
	GaugeTold   bool             // it was told what it was read with
	Temperature unit.Temperature // of the tire, 0 when not told
	Source      inflation.Source
}

// Observation is one thing seen, felt, probed or heard.
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
	What       finding.Looked
	NotBecause finding.NotLooked // "" when it was looked at
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
	Made           sidewall.Made      // zero when not told or not to be read
	Misread        []sidewall.Problem // what its identification cannot be as it is written
	Age            unit.Amount
	SelfSupporting finding.Answer
	FoamLined      finding.Answer
	SealantLined   finding.Answer
	Policy         puncture.Policy
	MostRepairs    *int              // that the tire's maker allows; nil when not told
	KeepsSpeed     finding.Answer    // its speed symbol after a repair, by its maker
	Repairs        []puncture.Method // recorded earlier
}

// Printed is what the sidewall says of pressure and load.
func (t Tire) Printed() sidewall.Printed {
	return sidewall.Printed{Maximum: t.Sidewall, Single: t.LoadSingle, Dual: t.LoadDual}
}

// Winter tells that it is marked as a winter tire, or studded.
func (t Tire) Winter() bool { return t.ThreePeaks == finding.Yes || t.Studded == finding.Yes }

// Rating is what the tire may carry. False where its own marking, or what else
// it takes, was not read: what the label says of size tells nothing of the tire.
func (t Tire) Rating() (sidewall.Rating, bool) {
	if t.Size == "" {
		return sidewall.Rating{}, false
	}
	return sidewall.RatingOf(t.Marking, t.Printed())
}

// Sensed is what the sensor in a wheel said, and what a hand gauge read with it.
type Sensed struct {
	Sensor *sensor.Reading // nil: not read
	Hand   Pressure        // by another gauge than the sensor; None as its unit: not read
}

// At gives it as package sensor judges it.
func (s Sensed) At(p layout.Position) sensor.Wheel {
	w := sensor.Wheel{At: p, Sensor: s.Sensor}
	if s.Hand.Read != unit.None {
		w.Gauge, w.In = s.Hand.Gauge.Read(s.Hand.Of), s.Hand.Read
	}
	return w
}

// AsLeft is what of a wheel's fitment was put right by the end.
type AsLeft struct {
	Marks fitment.Marks
	Valve *fitment.Valve // as it is now, nil when not told
}

// Has tells that one of the kinds was observed as found.
func (w Wheel) Has(kinds ...finding.Observation) bool {
	return slices.ContainsFunc(w.Observations, func(o Observation) bool { return slices.Contains(kinds, o.Kind) })
}

// AsLeft is the wheel with the tire that it left with: a road tire that is told there came
// in the place of a temporary spare.
func (w Wheel) AsLeft() Wheel {
	w.Temporary = w.Temporary && !w.Mended.Fitted
	return w
}

// Last is its pressure as left, or as found where it was not set.
func (w Wheel) Last() Pressure {
	if w.PressureLeft.Read != unit.None {
		return w.PressureLeft
	}
	return w.Pressure
}

// Count is how many of a kind were seen: each observation at least one.
func (w Wheel) Count(kind finding.Observation) (n int) {
	for _, o := range w.Observations {
		if o.Kind == kind {
			n += max(o.Count, 1)
		}
	}
	return n
}

// LookedAt tells that a place was looked at.
func (w Wheel) LookedAt(what finding.Looked) bool {
	return slices.ContainsFunc(w.Looked, func(l Looked) bool { return l.What == what && l.NotBecause == "" })
}

// SeenWhole tells that a full turn of the tread and both sidewalls were seen: nothing
// less makes more than a depth reading.
func (w Wheel) SeenWhole() bool {
	return w.LookedAt(finding.LookedTreadFullTurn) && w.LookedAt(finding.LookedOuterSidewall) && w.LookedAt(finding.LookedInnerSidewall)
}

// Tread gives readings of the wheel's tread as package tread judges them.
func (w Wheel) Tread(readings []tread.Reading, by measure.Gauge[unit.Depth]) tread.Wheel {
	return tread.Wheel{
		Position: w.Position, Readings: readings, Gauge: by, New: w.Tire.New, Breadth: w.Tire.Breadth,
		BarsFlush: w.Has(finding.ObservedAtWearBars), BarsClear: w.Has(finding.ObservedClearOfWearBars), Damaged: w.treadDamaged(),
		SpareRuns: w.SpareRuns, ThreePeaks: w.Tire.ThreePeaks, MudAndSnow: w.Tire.MudAndSnow, Studded: w.Tire.Studded,
		CrossPly: w.Tire.Marking.Construction == sidewall.Bias || w.Tire.Marking.Construction == sidewall.BeltedBias,
	}
}

// treadDamaged: damage seen on the tread may make one low reading real.
func (w Wheel) treadDamaged() bool {
	return slices.ContainsFunc(w.Observations, func(o Observation) bool { return finding.ObservationOf(o.Kind).OneLow })
}
