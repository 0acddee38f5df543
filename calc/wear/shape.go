package wear

import (
	"math"
	"slices"

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

// rounding is what the means of whole readings may be short of by being whole
// numbers themselves: under a nanometer.
const rounding unit.Depth = 5

// called: provable and large enough to be a fault. Exactly 2/32 in is enough.
func called(v depth) bool { return provable(v) && size(v) >= fault()-rounding }

// heights are the depths across, less the new depths where those are known: what
// was molded shallower is not worn.
func (t Tire) heights() (h [3]depth, ok bool) {
	if t.Across == nil {
		return h, false
	}
	h = *t.Across
	if t.New != nil {
		for i := range h {
			h[i].Of -= t.New[i]
		}
	}
	return h, true
}

// tilt is inboard less outboard: negative with a worn inboard edge.
func (t Tire) tilt() (depth, bool) {
	h, ok := t.heights()
	return h[0].Minus(h[2]), ok
}

// tilted: one edge is proved worn.
func (t Tire) tilted() bool { return t.oneEdge == proved }

// crown is center less the mean of the edges: positive with worn edges.
func (t Tire) crown() (depth, bool) {
	h, ok := t.heights()
	return h[1].Minus(measure.Mean(h[0], h[2])), ok
}

// crowned: both edges, or the center, are proved worn.
func (t Tire) crowned() bool { return t.center == proved }

// even: read across, and no shape proved or left open.
func (t Tire) even() bool { return t.Across != nil && t.oneEdge == none && t.center == none }

// wornBy is the mean depth lost across, where new depths are known, as uncertain as it is
// beside that of other tires.
func (t Tire) wornBy() (depth, bool) {
	h, ok := t.heights()
	if !ok || t.New == nil || t.Mean == nil {
		return depth{}, false
	}
	return depth{Of: -measure.Mean(h[:]...).Of, Std: t.Mean.Std}, true
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
	return t.OnTire != nil && *t.OnTire < PatternNeeds() && v.allAlike()
}

// allAlike: every tire that was read shows a crown of the same sign.
func (v Vehicle) allAlike() bool {
	edges, center := 0, 0
	for _, t := range v.Tires {
		c, ok := t.crown()
		switch {
		case !ok:
		case t.center == none:
			return false
		case c.Of > 0:
			edges++
		default:
			center++
		}
	}
	return min(edges, center) == 0 && max(edges, center) > 1
}

// fresh is the depth above which a tire of the class has more than about 80
// percent of its usable tread, by a usual new depth.
func (v Vehicle) fresh() unit.Depth {
	worn := advice.Limit("wear-bars").Depth()
	return worn + unit.Depth(float64(advice.Limit("no-crown-above").Ratio())*float64(v.usualNew()-worn))
}

// usualNew is the usual depth of a new tire of the class.
func (v Vehicle) usualNew() unit.Depth {
	id := "usual-new-car"
	switch v.Layout.Class {
	case layout.LightTruck, layout.Motorhome:
		id = "usual-new-light-truck"
	case layout.Heavy, layout.Bus, layout.Trailer:
		id = "usual-new-heavy"
	}
	return advice.Limit(id).Depth()
}

// lowRing finds the one station of three or more at which every groove is lower
// than at the others by a called difference: a flat spot, where the neighbors
// across agree.
func (t Tire) lowRing(g measure.Gauge[unit.Depth]) (station int, drop depth, found bool) {
	if len(t.Rings) < 3 {
		return 0, depth{}, false
	}
	for i, ring := range t.Rings {
		if len(ring) < 2 {
			continue
		}
		var least *depth
		for j, other := range t.Rings {
			for k := range min(len(ring), len(other)) {
				if v := g.Read(other[k]).Minus(g.Read(ring[k])); j != i && (least == nil || v.Of < least.Of) {
					least = &v
				}
			}
		}
		if least != nil && least.Of > 0 && called(*least) {
			return i, *least, true
		}
	}
	return 0, depth{}, false
}

// setApart sets a flat spot's station apart: what the rest of the tire shows across
// and in the mean is its wear.
func setApart(t *Tire, station int, g measure.Gauge[unit.Depth]) {
	if t.Across == nil {
		return
	}
	columns := make([]depth, len(t.Rings[station]))
	for k := range columns {
		var col []depth
		for i, ring := range t.Rings {
			if i != station && k < len(ring) {
				col = append(col, depth{Of: ring[k], Std: g.Scatter(t.times())})
			}
		}
		columns[k] = measure.Mean(col...)
	}
	last := len(columns) - 1
	middle := measure.Mean(columns[1:last]...)
	mean := measure.Mean(columns...)
	t.Across, t.Mean = &[3]depth{columns[0], middle, columns[last]}, &mean
}

// grooves gives the largest difference round the tire in any one groove, and in
// how many grooves there is one that counts: proved beyond what the many pairs of places
// show by chance, or open until each place is read again.
func (t Tire) grooves(g measure.Gauge[unit.Depth]) (worst depth, swinging map[standing]int) {
	swinging = map[standing]int{}
	times := t.times()
	for k := 0; ; k++ {
		var column []unit.Depth
		for _, ring := range t.Rings {
			if k < len(ring) {
				column = append(column, ring[k])
			}
		}
		if len(column) == 0 {
			return worst, swinging
		}
		v := depth{Of: slices.Max(column) - slices.Min(column), Std: math.Sqrt2 * g.Scatter(times)}
		if v.Of > worst.Of {
			worst = v
		}
		switch chance := manyPairs * v.Std; {
		case float64(v.Of) >= max(chance, float64(fault()-rounding)):
			swinging[proved]++
		case v.Of >= fault()-rounding && !t.allRead():
			swinging[open]++
		}
	}
}

// manyPairs is the factor on the uncertainty of the largest of the differences between
// places round a tire.
const manyPairs = 3
