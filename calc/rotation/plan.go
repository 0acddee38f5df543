package rotation

import (
	"cmp"
	"math"
	"math/bits"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// For compares all maps for a vehicle.
//
// The recommended one is, of those allowed that do not lose against leaving the
// tires, the first in the order of preference that no other provably beats: the
// usual map of the drive unless the depths and rates speak for another. Without
// the rates it is the usual one that is allowed. Side to side is usual only for
// two sizes; else it has to gain provably.
func For(in Vehicle) Result {
	v := byPosition(in)
	r := Result{v: v}
	for _, m := range mapsFor(in.Layout, in.Spare == finding.Yes || in.Spare == finding.No) {
		p := Plan{Map: m, WhyNot: v.against(m), Until: v.until(m), Gain: v.gain(m, Map{ID: Leave})}
		if p.Allowed() {
			p.Warnings = v.warnings(m)
		}
		r.Plans = append(r.Plans, p)
	}
	r.Open = v.open(r.Plans)
	best := r.choose()
	slices.SortStableFunc(r.Plans, func(a, b Plan) int {
		return cmp.Or(rank(a, best)-rank(b, best), -cmp.Compare(far(a.Gain.At), far(b.Gain.At)))
	})
	return r
}

// rank puts the recommended map first, and those allowed before the others.
func rank(p Plan, best string) int {
	switch {
	case p.Map.ID == best:
		return 0
	case p.Allowed():
		return 1
	}
	return 2
}

// far is a distance to the nearest 10 meters, by which maps are compared: the last
// bits of a number must not order them. What is not known is no distance.
func far(d *unit.Distance) float64 {
	if d == nil {
		return 0
	}
	return math.Round(float64(*d) / float64(unit.MustDistance(10, unit.Meters)))
}

// choose picks the id of the recommended map from plans in the order of preference.
func (r Result) choose() string {
	for _, p := range r.Plans {
		usual := p.Map.ID != sideToSide || r.v.twoSizes()
		if !p.Allowed() || far(p.Gain.At) < 0 || !usual && far(p.Gain.Low) <= 0 {
			continue
		}
		beaten := slices.ContainsFunc(r.Plans, func(q Plan) bool {
			over := r.v.gain(q.Map, p.Map)
			return q.Allowed() && far(over.Low) > 0
		})
		if !beaten {
			return p.Map.ID
		}
	}
	return Leave
}

// Over is the gain of one map over another, both by id; nothing is known of an id
// that is not among the plans.
func (r Result) Over(id, other string) Gain {
	var ms [2]*Map
	for i := range r.Plans {
		switch m := &r.Plans[i].Map; m.ID {
		case id:
			ms[0] = m
		case other:
			ms[1] = m
		}
	}
	if id == other {
		ms[1] = ms[0]
	}
	if ms[0] == nil || ms[1] == nil {
		return Gain{}
	}
	return r.v.gain(*ms[0], *ms[1])
}

// inputs are the tires' usable depths and the positions' rates, in the order of
// the places, the spare last: what the simulation runs on.
type inputs struct {
	places []layout.Position
	usable []float64 // 0.1 nm
	rates  []float64 // 0.1 nm for each meter
}

// input gathers them with their standard uncertainties; ok is false when a depth or
// a rate that is needed is not known.
func (v vehicle) input() (x, std inputs, ok bool) {
	x.places = v.Layout.Positions()
	if s, carried := v.at[layout.Position{Spare: true}]; carried && s.Depth != nil {
		x.places = append(x.places, s.At)
	}
	for _, p := range x.places {
		t := v.at[p]
		rate, told := v.Rates[p]
		if p.Spare {
			rate, told = measure.Value[Rate]{}, true // it hangs in its place
		}
		if t.Depth == nil || !told {
			return x, std, false
		}
		x.usable, std.usable = append(x.usable, float64(t.Depth.Of-v.Out)), append(std.usable, t.Depth.Std)
		x.rates, std.rates = append(x.rates, float64(rate.Of)), append(std.rates, rate.Std)
	}
	return x, std, len(x.places) > 0
}

// horizon is how far a tire of a light vehicle may be said to last (common practice,
// from memory): what a rate near zero gives beyond it is not in sight.
var horizon = float64(unit.MustDistance(200_000, unit.Miles))

// out is the distance from now until each place's tire is out once a map is carried
// out; infinite where no end is in sight. One that is out already has none before it.
func (x inputs) out(m Map) []float64 {
	lives := make([]float64, len(x.places))
	for i, p := range x.places {
		to := slices.Index(x.places, m.to(p))
		switch rate := x.rates[to]; {
		case x.places[to].Spare:
			lives[to] = math.Inf(1)
		case x.usable[i] <= 0:
			lives[to] = 0
		case rate <= 0 || x.usable[i]/rate > horizon:
			lives[to] = math.Inf(1)
		default:
			lives[to] = x.usable[i] / rate
		}
	}
	return lives
}

// first is until the first tire is out.
func (x inputs) first(m Map) float64 { return slices.Min(x.out(m)) }

// covers tells that the map moves only tires whose depth is known.
func (x inputs) covers(m Map) bool {
	return !slices.ContainsFunc(m.Moves, func(m Move) bool { return !slices.Contains(x.places, m.From) })
}

// until runs the vehicle on with a map.
func (v vehicle) until(m Map) Until {
	x, _, ok := v.input()
	if !ok || !x.covers(m) {
		return Until{}
	}
	lives := x.out(m)
	pair, set := math.Inf(1), 0.0
	for i, p := range x.places {
		if p.Spare {
			continue
		}
		other := p.Mate()
		if p.Dual == layout.Single {
			other = p.Mirror()
		}
		set = max(set, lives[i])
		pair = min(pair, max(lives[i], lives[slices.Index(x.places, other)]))
	}
	return Until{First: known(slices.Min(lives)), Pair: known(pair), Set: known(set)}
}

func known(d float64) *unit.Distance {
	if math.IsInf(d, 0) || math.IsNaN(d) {
		return nil
	}
	u := unit.Distance(d)
	return &u
}

// gain is how much farther the vehicle runs with one map than with another until
// its first tire is out, with an interval for k = 2.
//
// All depths and rates are moved by their standard uncertainty at once, each up or
// down, by the rows of a Hadamard matrix and by their opposites; the squares of what
// that does to the gain are averaged, down and up apart, and the roots doubled. For
// a gain that is linear in them this is exactly JCGM 100:2008, 5.1.2, with k = 2.
// It is not linear: another tire may become the first one out. Steps of one input
// at a time would not see that of two tires alike only both together carry farther,
// and all inputs at their worst would be far wider than k = 2 means. Where a step
// takes rates to zero no tire may ever be out, and no end is told on that side.
func (v vehicle) gain(m, other Map) Gain {
	a, known1 := v.runsBy(m)
	b, known2 := v.runsBy(other)
	if !known1 || !known2 {
		return Gain{}
	}
	if m.ID == other.ID {
		return Gain{At: known(0), Low: known(0), High: known(0)}
	}
	between := a.at - b.at
	var down, up float64
	for i := range a.moved {
		by := a.moved[i] - b.moved[i] - between
		square := float64(by*by) / float64(len(a.moved)/2)
		switch {
		case by < 0:
			down += square
		case by > 0:
			up += square
		case math.IsNaN(by): // neither has an end
			down, up = math.Inf(1), math.Inf(1)
		}
	}
	return Gain{At: known(between), Low: known(between - measure.Coverage*math.Sqrt(down)), High: known(between + measure.Coverage*math.Sqrt(up))}
}

// runs is how far the vehicle runs until its first tire is out: as measured, and with
// the inputs moved by each row of the matrix, down and up.
type runs struct {
	at    float64
	moved []float64
}

// runsBy runs the vehicle by a map, once for each of its maps; ok is false where depths
// or rates are not known.
func (v vehicle) runsBy(m Map) (r runs, ok bool) {
	if r, ok = v.ran[m.ID]; ok {
		return r, true
	}
	x, std, ok := v.input()
	if !ok || !x.covers(m) {
		return runs{}, false
	}
	r.at = x.first(m)
	for row := range x.rows() {
		for _, k := range []float64{-1, 1} {
			r.moved = append(r.moved, x.moved(std, row, k).first(m))
		}
	}
	v.ran[m.ID] = r
	return r, true
}

// Columns of the matrix: one bit for the side, one for the axle and so on, so that
// the mirrored vehicle has the same rows.
const (
	sideBit = 1 << iota
	axleBit
	rateBit
	dualBit
	spareBit
)

func column(p layout.Position) (c int) {
	if p.Spare {
		return spareBit
	}
	if p.Side == layout.Right {
		c |= sideBit
	}
	if p.Axle > 1 {
		c |= axleBit
	}
	if p.Dual == layout.Outer {
		c |= dualBit
	}
	return c
}

// rows is how many rows the matrix has.
func (x inputs) rows() int {
	all := rateBit
	for _, p := range x.places {
		all |= column(p)
	}
	return 1 << bits.Len(uint(all))
}

// moved gives the inputs moved by k standard uncertainties, up or down by a row.
func (x inputs) moved(std inputs, row int, k float64) inputs {
	y := inputs{places: x.places, usable: slices.Clone(x.usable), rates: slices.Clone(x.rates)}
	sign := func(column int) float64 {
		if bits.OnesCount(uint(row&column))%2 == 1 {
			return -k
		}
		return k
	}
	for i, p := range x.places {
		y.usable[i] += float64(sign(column(p)) * std.usable[i])
		y.rates[i] += float64(sign(column(p)|rateBit) * std.rates[i])
	}
	return y
}

// Stay is what one tire lost while it ran at one place.
type Stay struct {
	At   layout.Position
	Run  unit.Distance // above zero
	Lost measure.Value[unit.Depth]
}

// Rates fits the rate of each position to the stays there: a line through the
// origin by least squares, weighted by what is known of each loss. Where stays
// differ by more than their uncertainties explain, the rate is as unsure as they
// differ.
func Rates(stays []Stay) map[layout.Position]measure.Value[Rate] {
	by := map[layout.Position][]Stay{}
	for _, s := range stays {
		if s.Run > 0 && s.Lost.Std > 0 {
			by[s.At] = append(by[s.At], s)
		}
	}
	rates := map[layout.Position]measure.Value[Rate]{}
	for p, here := range by {
		slices.SortFunc(here, func(a, b Stay) int {
			return cmp.Or(cmp.Compare(a.Run, b.Run), cmp.Compare(a.Lost.Of, b.Lost.Of), cmp.Compare(a.Lost.Std, b.Lost.Std))
		})
		var weight, sum float64
		for _, s := range here {
			w := 1 / float64(s.Lost.Std*s.Lost.Std)
			weight += float64(w * float64(s.Run*s.Run))
			sum += float64(w * float64(s.Run) * float64(s.Lost.Of))
		}
		rate := sum / weight
		var scatter float64
		for _, s := range here {
			off := (float64(s.Lost.Of) - float64(rate*float64(s.Run))) / s.Lost.Std
			scatter += float64(off * off)
		}
		std := 1 / math.Sqrt(weight)
		if n := len(here) - 1; n > 0 {
			std *= max(1, math.Sqrt(scatter/float64(n)))
		}
		rates[p] = measure.Value[Rate]{Of: Rate(rate), Std: std}
	}
	return rates
}
