package tread

import (
	"math"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// Told is what is told of a depth gauge.
type Told struct {
	Step          unit.Depth // one graduation or display step, 0 when not told
	In            unit.Unit  // of the step
	Electronic    bool       // electronic, or a scanner
	Repeatability *unit.Depth
	Accuracy      unit.Depth
}

// pairsEnough is how many places read twice tell how steady a hand is: those of one tire
// read at three places.
const pairsEnough = 9

// AsShown is a gauge in the hand that read these tires: where the places that were read
// twice differ by more than the told or usual repeatability makes them, by what they show.
func AsShown(g measure.Gauge[unit.Depth], tires ...Summary) measure.Gauge[unit.Depth] {
	var squares float64
	pairs := 0
	for _, s := range tires {
		for _, c := range s.Cells {
			if c.Repeats == 2 {
				d := float64(c.Highest - c.Lowest)
				squares, pairs = squares+float64(d*d/2), pairs+1
			}
		}
	}
	if pairs < pairsEnough {
		return g
	}
	step := float64(g.Resolution)
	if shown := squares/float64(pairs) - float64(step*step/12); shown > 0 {
		g.Repeatability = max(g.Repeatability, unit.Depth(math.Sqrt(shown)))
	}
	return g
}

// GaugeOf gives a depth gauge as told, with the defaults of the rulebook of gauges for
// what is not. How fine a gauge is, is never guessed from the unit that was typed: one
// without a step is a hand gauge.
func GaugeOf(told Told) measure.Gauge[unit.Depth] {
	depth := func(id string) unit.Depth { return rulebook.Must("gauges").Limit(id).Depth() }
	if told.Step == 0 {
		return measure.Gauge[unit.Depth]{Resolution: depth("depth-graduation"), Repeatability: depth("depth-by-hand")}
	}
	g := measure.Gauge[unit.Depth]{Resolution: told.Step, Accuracy: told.Accuracy}
	switch {
	case told.Repeatability != nil:
		g.Repeatability = *told.Repeatability
	case told.Electronic || told.Step <= depth("depth-fine"):
		g.Repeatability = depth("depth-electronic")
	case told.In == unit.ThirtySecondsInch:
		g.Repeatability = depth("depth-by-hand")
	default:
		g.Repeatability = depth("depth-by-hand-metric")
	}
	return g
}
