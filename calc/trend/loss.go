package trend

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Held is the pressure that a tire was left with and the one it was found with
// later, both brought to one temperature.
type Held struct {
	Left, Found measure.Value[unit.Pressure]
	Days        int // between the two
}

// Loss is how fast the pressure went; ok is false when no day lies between.
func (h Held) Loss() (rate measure.Value[unit.LossRate], ok bool) {
	if h.Days < 1 {
		return rate, false
	}
	d := h.Left.Minus(h.Found)
	return measure.Value[unit.LossRate]{Of: unit.LossRate(float64(d.Of) / float64(h.Days)), Std: d.Std / float64(h.Days)}, true
}

// UsualLoss is what a sound tire loses.
func UsualLoss() unit.LossRate {
	v := book.Limit("loss-usual").Value
	return unit.MustLossRate(v.Number, v.Unit)
}

// LeakLimit is by how much more than its mates a tire with a leak loses.
func LeakLimit() unit.LossRate {
	v := book.Limit("loss-leak").Value
	return unit.MustLossRate(v.Number, v.Unit)
}

// Leak compares how fast one tire loses pressure with the others of the vehicle:
// how much faster than their middle one, against LeakLimit. Above is a leak to
// find; cannot tell is one that more days, or readings of a better gauge, would
// settle. ok is false without others.
func Leak(tire measure.Value[unit.LossRate], others []measure.Value[unit.LossRate]) (faster measure.Value[unit.LossRate], c measure.Comparison, ok bool) {
	if len(others) == 0 {
		return faster, c, false
	}
	faster = tire.Minus(Middle(others))
	return faster, measure.AtMost(faster, LeakLimit()), true
}

// Middle is the median of rates, as sure as those it is made of. It panics on none.
func Middle(vs []measure.Value[unit.LossRate]) measure.Value[unit.LossRate] {
	vs = slices.SortedFunc(slices.Values(vs), func(a, b measure.Value[unit.LossRate]) int { return cmp.Compare(a.Of, b.Of) })
	if n := len(vs); n%2 == 0 {
		return measure.Mean(vs[n/2-1], vs[n/2])
	}
	return vs[len(vs)/2]
}
