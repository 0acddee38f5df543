package wear

import (
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

var advice = rulebook.Must("advice")

// fault is the least difference that is called a shape.
func fault() unit.Depth { return advice.Limit("shape").Depth() }

// PatternNeeds is the distance that a shape takes to be made: before it, a shape
// belongs to the tire's former position.
func PatternNeeds() unit.Distance {
	v := advice.Limit("pattern-needs").Value
	return unit.MustDistance(v.Number, v.Unit)
}

type depth = measure.Value[unit.Depth]

func size(v depth) unit.Depth { return max(v.Of, -v.Of) }

// provable: larger than its expanded uncertainty.
func provable(v depth) bool { return float64(size(v)) > measure.Coverage*v.Std }

// called: provable and large enough to be a fault. Exactly 2/32 in is enough.
func called(v depth) bool { return provable(v) && size(v) >= fault() }

// crown is the depth lost at the edges beyond that at the center: positive with
// worn edges. Where new depths are known, what was molded shallower is not worn.
func (t Tire) crown() (depth, bool) {
	if t.Across == nil {
		return depth{}, false
	}
	a := t.Across
	v := a[1].Minus(measure.Mean(a[0], a[2]))
	if t.New != nil {
		v.Of -= t.New[1] - (t.New[0]+t.New[2])/2
	}
	return v, true
}

// tilt is inboard less outboard: negative with a worn inboard edge.
func (t Tire) tilt() (depth, bool) {
	if t.Across == nil {
		return depth{}, false
	}
	v := t.Across[0].Minus(t.Across[2])
	if t.New != nil {
		v.Of -= t.New[0] - t.New[2]
	}
	return v, true
}

// even: read across, and no shape called.
func (t Tire) even() bool {
	crown, ok := t.crown()
	tilt, _ := t.tilt()
	return ok && !called(crown) && !called(tilt)
}

// lost is the mean depth lost, where new depths are known.
func (t Tire) lost() (depth, bool) {
	if t.Mean == nil || t.New == nil {
		return depth{}, false
	}
	v := *t.Mean
	v.Of = (t.New[0]+t.New[1]+t.New[2])/3 - v.Of
	return v, true
}

// recent: the shape cannot have been made at this position.
func (t Tire) recent() bool { return t.Here != nil && *t.Here < PatternNeeds() }

// molded tells that a difference between center and edges may be the mold's:
// new depths are not known, and either the tire is fresh, or it has not run far
// enough and every tire shows the same.
func (v Vehicle) molded(t Tire) bool {
	if t.New != nil {
		return false
	}
	if t.Across != nil && t.Across[1].Of >= v.fresh() {
		return true
	}
	if t.OnTire == nil || *t.OnTire >= PatternNeeds() {
		return false
	}
	return v.allAlike()
}

// allAlike: every tire that was read shows a crown of the same sign.
func (v Vehicle) allAlike() bool {
	var sign [2]int
	for _, t := range v.Tires {
		c, ok := t.crown()
		if !ok || t.At.Spare {
			continue
		}
		if !called(c) {
			return false
		}
		if c.Of > 0 {
			sign[0]++
		} else {
			sign[1]++
		}
	}
	return min(sign[0], sign[1]) == 0 && max(sign[0], sign[1]) > 1
}

// fresh is the depth above which a tire of the class has more than about 80
// percent of its usable tread, by a usual new depth.
func (v Vehicle) fresh() unit.Depth {
	id := "usual-new-car"
	switch v.Layout.Class {
	case layout.LightTruck, layout.Motorhome:
		id = "usual-new-light-truck"
	case layout.Heavy, layout.Bus, layout.Trailer:
		id = "usual-new-heavy"
	}
	usual, worn := advice.Limit(id).Depth(), advice.Limit("wear-bars").Depth()
	return worn + unit.Depth(float64(advice.Limit("no-crown-above").Ratio())*float64(usual-worn))
}

// lowRing finds the one station at which every groove is lower than at the
// others by a called difference: a flat spot, where the neighbors across agree.
func (t Tire) lowRing(g measure.Gauge[unit.Depth]) (drop depth, found bool) {
	if len(t.Rings) < 2 {
		return depth{}, false
	}
	for i, ring := range t.Rings {
		if len(ring) < 2 {
			return depth{}, false
		}
		least := depth{Of: 1 << 62}
		for k, d := range ring {
			for j, other := range t.Rings {
				if j == i || k >= len(other) {
					continue
				}
				if v := g.Read(other[k]).Minus(g.Read(d)); v.Of < least.Of {
					least = v
				}
			}
		}
		if least.Of > 0 && least.Of < 1<<62 && called(least) {
			return least, true
		}
	}
	return depth{}, false
}

// roundRange is the largest difference round the tire in any one groove.
func (t Tire) roundRange(g measure.Gauge[unit.Depth]) (depth, bool) {
	var worst depth
	for k := 0; ; k++ {
		var low, high unit.Depth
		n := 0
		for _, ring := range t.Rings {
			if k >= len(ring) {
				continue
			}
			if n == 0 || ring[k] < low {
				low = ring[k]
			}
			if n == 0 || ring[k] > high {
				high = ring[k]
			}
			n++
		}
		if n == 0 {
			return worst, k > 0
		}
		if v := g.Read(high).Minus(g.Read(low)); v.Of > worst.Of {
			worst = v
		}
	}
}
