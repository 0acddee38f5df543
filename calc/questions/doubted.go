package questions

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// DoubtsIn is what may contradict itself.
type DoubtsIn struct {
	Labels    visit.Labels
	Gauge     measure.Gauge[unit.Depth]
	Wheels    []visit.Wheel
	Odometers []visit.Odometer
}

// DoubtsAnswer is what contradicts itself. It is asked about, and judged by no other
// question.
type DoubtsAnswer struct {
	Answer
	Wheels   []visit.Wheel // without what was read or seen and cannot be
	Axles    []layout.Axle // without what their label cannot ask for
	Distance bool          // what the odometer told of the distance between visits
	Copied   bool          // the depths, which are those of an earlier visit
}

func (a *DoubtsAnswer) doubt(f finding.Finding) {
	f.Outcome, f.Urgency = measure.CannotTell, finding.KindOf(f.Code).Urgency
	f.Caution = finding.KindOf(f.Code).Caution
	a.find(f)
}

// change changes a wheel; those that came stay as they were.
func (a *DoubtsAnswer) change(i int, by func(*visit.Wheel)) {
	a.Wheels = slices.Clone(a.Wheels)
	by(&a.Wheels[i])
}

func at(w visit.Wheel) []layout.Position { return []layout.Position{w.Position} }
