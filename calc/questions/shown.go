package questions

import (
	"math"

	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

// shownIn is the units that depths and distances of a trend are shown in.
type shownIn struct{ depth, distance unit.Unit }

// far gives a distance to a hundred miles or kilometers: what lies ahead is not
// known finer.
func (u shownIn) far(d unit.Distance, round func(float64) float64) unit.Amount {
	// Whole ones first, so that the last bit decides no hundred.
	return unit.Amount{Number: 100 * round(math.Round(d.In(u.distance))/100), Unit: u.distance}
}

func (u shownIn) deep(d unit.Depth) unit.Amount { return d.Amount(u.depth).Rounded() }

// wear is the unit of a rate.
func (u shownIn) wear() unit.Unit {
	if u.depth == unit.ThirtySecondsInch && u.distance == unit.Miles {
		return unit.ThirtySecondsPer1000Miles
	}
	return unit.MillimetersPer1000Kilometer
}

// about is a distance of a crossing, no finer than its interval lets it be known, and
// rather sooner than later.
func (u shownIn) about(d unit.Distance, c trend.Crossing) unit.Amount {
	return u.to(d, u.step(c), math.Floor)
}

// step is what the distances of a crossing are rounded to: a quarter of its interval
// at the most.
func (u shownIn) step(c trend.Crossing) float64 { return round125(half(c).In(u.distance) / 2) }

// half is half of the interval of a crossing, no more than the distance to it.
func half(c trend.Crossing) unit.Distance {
	switch {
	case c.Earliest != nil && c.Latest != nil:
		return min((*c.Latest-*c.Earliest)/2, *c.At)
	case c.Earliest != nil:
		return min(*c.At-*c.Earliest, *c.At)
	}
	return *c.At
}

// within is a distance that is not to be passed.
func (u shownIn) within(d unit.Distance) unit.Amount {
	return u.to(d, round125(d.In(u.distance)/5), math.Floor)
}

// round125 is the greatest of 1, 2 and 5 times a power of ten that is no more than a
// number, at least 100: what lies ahead is not known finer.
func round125(n float64) float64 {
	step := 100.0
	for ten := step; ten <= n*(1+1e-9); ten *= 10 {
		for _, k := range []float64{1, 2, 5} {
			if k*ten <= n*(1+1e-9) {
				step = k * ten
			}
		}
	}
	return step
}

func (u shownIn) to(d unit.Distance, step float64, round func(float64) float64) unit.Amount {
	// Whole ones first, so that the last bit decides no hundred.
	return unit.Amount{Number: step * round(math.Round(d.In(u.distance))/step), Unit: u.distance}
}
