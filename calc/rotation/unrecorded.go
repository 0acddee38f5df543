package rotation

import (
	"math"
	"slices"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Seen is the tread of one position at one visit.
type Seen struct {
	At     layout.Position
	Size   string                      // as written, "" when not told
	Across []measure.Value[unit.Depth] // inboard, center, outboard; or the mean alone
}

// Two are two visits of one vehicle.
type Two struct {
	Before, Now []Seen                              // each position once
	Run         unit.Distance                       // between them
	Recorded    map[layout.Position]layout.Position // where the tire of a position was before, by the record; a position that is not in it kept its tire
}

// Search is what the depths of two visits say of who moved.
type Search struct {
	Moves  []Move  // of the likeliest placing, those the record does not have
	Odds   float64 // natural logarithm of its odds against the record
	Unique bool    // no other placing comes near it
}

// Strong is the least natural logarithm of the odds at which the question is asked:
// ten thousand to one. From there on less than one drawn visit in two hundred is
// asked about though nobody moved a tire, whatever the gauge, the distance and the
// wear; at a thousand to one it is more (testdata/error-rates-rotation.md).
var Strong = math.Log(10000)

// What is held for likely of a tire of which no rate is known (common practice,
// from memory): about 1/32 in lost in 5,000 miles, and as much more or less;
// grooves of one tire differ in wear by some three tenths (controlled tests, 1985
// report, abstract: 10 to 50 percent); one tire in fifty was turned on its rim.
var usualRate = float64(RateOf(unit.MustDepth(1, unit.ThirtySecondsInch), unit.MustDistance(5000, unit.Miles)))

const (
	unevenShare   = 0.3
	remountedOnce = 1.0 / 50
	growthAtMost  = 2 // standard deviations of the readings that a tire may seem to have grown
	mostPlaces    = 7 // six and the spare
)

// Find looks for the placing of the tires of the visit before that explains the
// depths of today best, over all permutations of tires of one size, each as it is
// turned by the move or also turned on its rim. ok is false where it cannot
// be looked for: other positions, no distance, more than seven places.
//
// The likelihood of a tire at a place is that of its loss: the gauge's noise, a
// loss that is never negative and likely at the usual rate, and grooves that wear
// somewhat apart. The odds are those of the likeliest placing against the record.
func Find(t Two) (s Search, ok bool) {
	g, ok := t.grid()
	if !ok {
		return s, false
	}
	record := make([]int, len(g.places))
	for i, p := range g.places {
		from, moved := t.Recorded[p]
		if !moved {
			from = p
		}
		if record[i] = slices.Index(g.places, from); record[i] < 0 {
			return s, false
		}
	}
	base := 0.0
	for to, from := range record {
		base += g.cells[from][to].asMoved
	}
	if math.IsInf(base, 0) {
		return s, false // by the record a tire of another size came here
	}
	best, next := g.likeliest()
	s.Odds = best.log - base
	for to, from := range best.from {
		c := g.cells[from][to]
		if from != record[to] || c.remounted {
			s.Moves = append(s.Moves, Move{g.places[from], g.places[to], c.turned})
		}
		if c.grown {
			s.Odds = 0 // a tire that was not there before explains it, not a rotation
		}
	}
	if len(s.Moves) == 0 {
		s.Odds = 0
	}
	s.Unique = best.log-next >= Strong
	slices.SortFunc(s.Moves, func(a, b Move) int { return a.From.Compare(b.From) })
	return s, true
}

// Asked tells that the odds are strong enough to ask whether somebody moved tires.
func (s Search) Asked() bool { return s.Odds >= Strong }

// OddsToOne gives the odds as one shows them: so many to one, a million at most.
func (s Search) OddsToOne() float64 { return math.Round(math.Exp(min(s.Odds, math.Log(1e6)))) }

// cell is one tire at one place.
type cell struct {
	asMoved   float64 // logarithm of the likelihood, turned as the move turns it
	log       float64 // the same at its best, with a turn on the rim
	turned    bool
	remounted bool
	grown     bool // the tire would have grown at its best
}

type grid struct {
	places []layout.Position
	cells  [][]cell // by place before, then place now
}

func (t Two) grid() (g grid, ok bool) {
	order := func(all []Seen) []Seen {
		return slices.SortedFunc(slices.Values(all), func(a, b Seen) int { return a.At.Compare(b.At) })
	}
	before, now := order(t.Before), order(t.Now)
	if t.Run <= 0 || len(before) != len(now) || len(now) < 2 || len(now) > mostPlaces {
		return g, false
	}
	columns := len(before[0].Across)
	for i, s := range slices.Concat(before, now) {
		if s.At != now[i%len(now)].At || len(s.Across) == 0 {
			return g, false
		}
		if len(s.Across) != columns {
			columns = 1
		}
		if slices.ContainsFunc(s.Across, func(d measure.Value[unit.Depth]) bool { return d.Std <= 0 }) {
			return g, false
		}
	}
	for _, b := range before {
		g.places = append(g.places, b.At)
		var row []cell
		for _, n := range now {
			if b.Size != n.Size && b.Size != "" && n.Size != "" {
				row = append(row, cell{asMoved: math.Inf(-1), log: math.Inf(-1)})
				continue
			}
			row = append(row, t.cell(b, n, columns))
		}
		g.cells = append(g.cells, row)
	}
	return g, true
}

func (t Two) cell(b, n Seen, columns int) cell {
	turns := (b.At.Dual == layout.Outer) != (n.At.Dual == layout.Outer)
	was, now := profile(b.Across, columns), profile(n.Across, columns)
	run := t.Run
	if b.At.Spare && n.At.Spare {
		run = 0
	}
	likely := func(turned bool) (float64, bool) {
		p := slices.Clone(was)
		if turned {
			slices.Reverse(p)
		}
		return likelihood(p, now, run)
	}
	c := cell{turned: turns}
	c.asMoved, c.grown = likely(turns)
	c.log = c.asMoved
	if columns == 1 {
		return c
	}
	if other, grown := likely(!turns); other+math.Log(remountedOnce) > c.log {
		c.log, c.turned, c.remounted, c.grown = other+math.Log(remountedOnce), !turns, true, grown
	}
	return c
}

// profile brings a tread to so many columns.
func profile(across []measure.Value[unit.Depth], columns int) []measure.Value[unit.Depth] {
	if len(across) == columns {
		return across
	}
	return []measure.Value[unit.Depth]{measure.Mean(across...)}
}

// likelihood gives the logarithm of the likelihood that a tire lost what two
// profiles differ by over a distance; grown that it would have to have grown.
//
// The columns differ from the tire's own loss w by normal noise; w is normal about
// the usual loss and not negative. The product over the columns is that of their
// weighted mean times that of their scatter, and the integral over w is closed.
func likelihood(was, now []measure.Value[unit.Depth], run unit.Distance) (log float64, grown bool) {
	usual := usualRate * float64(run)
	var weight, sum, reading float64
	lost, variance := make([]float64, len(now)), make([]float64, len(now))
	for i := range now {
		d := was[i].Minus(now[i])
		lost[i] = float64(d.Of)
		variance[i] = float64(d.Std*d.Std) + float64(unevenShare*usual*unevenShare*usual)
		weight += 1 / variance[i]
		sum += lost[i] / variance[i]
		reading += 1 / float64(d.Std*d.Std)
	}
	mean := sum / weight
	for i := range now {
		off := lost[i] - mean
		log -= float64(off*off)/variance[i]/2 + math.Log(variance[i])/2
	}
	log -= math.Log(weight) / 2
	total := 1/weight + float64(usual*usual) // of the mean about the usual loss
	off := mean - usual
	log -= float64(off*off)/total/2 + math.Log(total)/2
	if usual > 0 {
		// The share of w's posterior, and of its prior, that is not negative.
		posterior := float64(usual*usual/total*mean) + usual/weight/total
		log += math.Log(normal(posterior/math.Sqrt(usual*usual/weight/total))) - math.Log(normal(1))
	}
	return log, mean < -growthAtMost/math.Sqrt(reading)
}

// normal is the standard normal distribution, kept above zero so that its
// logarithm is finite.
func normal(x float64) float64 { return max(math.Erfc(-x/math.Sqrt2)/2, 1e-300) }

// placing gives for each place now the place before, with the logarithm of its likelihood.
type placing struct {
	from []int
	log  float64
}

// likeliest goes through all permutations, and gives the best with the likelihood
// of the second best. Of equal ones the first in order is the best.
func (g grid) likeliest() (best placing, next float64) {
	best.log, next = math.Inf(-1), math.Inf(-1)
	from := make([]int, 0, len(g.places))
	var place func(log float64)
	place = func(log float64) {
		if len(from) == len(g.places) {
			if log > best.log {
				next = best.log
				best = placing{slices.Clone(from), log}
			} else {
				next = max(next, log)
			}
			return
		}
		for i := range g.places {
			if slices.Contains(from, i) {
				continue
			}
			to := len(from)
			from = append(from, i)
			place(log + g.cells[i][to].log)
			from = from[:to]
		}
	}
	place(0)
	return best, next
}

// MapOf gives the map whose moves a search found, or none.
func (s Search) MapOf() (Map, bool) {
	for _, m := range maps {
		if len(m.Moves) > 0 && slices.EqualFunc(m.Moves, s.Moves, func(a, b Move) bool { return a == b }) {
			return m, true
		}
	}
	return Map{}, false
}
