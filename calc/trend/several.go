package trend

import "gaugebook.dev/calc/unit"

// First is when the first of several comes: the grooves of a tire, of which one
// ends it, or the tires of a vehicle.
func First(cs ...Crossing) Crossing {
	return several(cs, func(a, b unit.Distance) bool { return a < b }, true)
}

// Last is when the last of several comes: a pair or a set of which no tire is left.
func Last(cs ...Crossing) Crossing {
	return several(cs, func(a, b unit.Distance) bool { return a > b }, false)
}

// several picks each end by itself. An end at minus infinity is nil for Earliest,
// at plus infinity for At and Latest: the first of some is told when any of those
// is, the last only when all are; of Earliest it is the other way round.
func several(cs []Crossing, before func(a, b unit.Distance) bool, first bool) (out Crossing) {
	pick := func(end func(Crossing) *unit.Distance, some bool) (best *unit.Distance) {
		for _, c := range cs {
			d := end(c)
			switch {
			case d == nil && !some:
				return nil
			case d != nil && (best == nil || before(*d, *best)):
				best = d
			}
		}
		return best
	}
	if len(cs) > 0 {
		out.Limit = cs[0].Limit
	}
	out.At = pick(func(c Crossing) *unit.Distance { return c.At }, first)
	out.Earliest = pick(func(c Crossing) *unit.Distance { return c.Earliest }, !first)
	out.Latest = pick(func(c Crossing) *unit.Distance { return c.Latest }, first)
	return out
}
