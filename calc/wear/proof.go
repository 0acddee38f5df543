package wear

import (
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
)

// standing is what the readings prove of one shape of one tire.
type standing uint8

// Standings, each more than the one before.
const (
	none   standing = iota // no more than sound tires and the gauge show
	open                   // it may be a fault, and further readings decide
	proved                 // no cause is told of less
)

// A shape that both tires of an axle show alike stands by k = 2 (JCGM 100:2008, 6.3), one of
// a tire alone by 3, for four tires are looked at. A shape is asked about from so far below
// what would prove it that of two hundred pairs with a fault one is passed over.
const (
	factorBoth  = measure.Coverage
	factorAlone = 3
	askBoth     = 1.4
	askAlone    = 0.5
)

// readings are what is read before a shape is decided: so many places round the tire, each
// so often.
func readings() (places, times int) {
	return int(advice.Limit("shape-places").Value.Number), int(advice.Limit("shape-times").Value.Number)
}

// soundSpread is the share of the depth lost by which the grooves of a sound tire differ
// at most, 0 where nothing is known of tires of the class.
func (v Vehicle) soundSpread() float64 {
	if l := advice.Limit("sound-spread"); slices.Contains(l.Applies.Classes, v.Layout.Class) {
		return float64(l.Ratio())
	}
	return 0
}

// times is how often each place was read.
func (t Tire) times() int { return max(1, t.Readings/max(1, t.Places)) }

// allRead: no further reading is asked for.
func (t Tire) allRead() bool {
	places, times := readings()
	return t.Places >= places && t.Readings >= places*times
}

// shrinks is the factor on the uncertainty of a mean that the readings still to be taken
// would bring.
func (t Tire) shrinks() float64 {
	places, times := readings()
	return math.Sqrt(min(1, float64(max(1, t.Readings))/float64(places*times)))
}

// shape is one shape of one tire, or of both tires of an axle.
type shape struct {
	depth           // the mean of both
	full    float64 // what its uncertainty would be by all readings
	allRead bool
	both    bool
	factor  float64 // on the uncertainty
	sound   float64 // the most that sound tires show, as far as is known of this vehicle
	anyway  float64 // the most that sound tires show that have lost as much
	unknown bool    // what those of this vehicle show: further readings of the others tell it
	against []Tire  // those to read again for it
}

// least is the size of a fault.
func least() float64 { return float64(fault() - rounding) }

// surely is the most that sound tires show, whatever further readings of the others tell.
func (s shape) surely() float64 {
	if s.unknown {
		return s.anyway
	}
	return s.sound
}

// needs is the least size that proves the shape once all readings are taken. Both tires of
// an axle show it alike by chance so seldom that it is told unless it is shown to be less
// than a fault.
func (s shape) needs(std, sound float64) float64 {
	fault, beyond := least(), float64(s.factor*std)
	if s.both {
		fault -= beyond
	}
	return max(fault, sound+beyond)
}

// stands weighs the shape. Before all readings are taken it is proved where it is larger by
// its uncertainty than a fault and than what sound tires show.
func (s shape) stands() standing {
	most, ask, sound := float64(size(s.depth)), askAlone, s.sound
	if s.both {
		ask = askBoth
	}
	if s.unknown {
		sound = 0
	}
	switch {
	case most == 0:
		return none
	case most-float64(s.factor*s.Std) >= max(least(), s.surely()), s.allRead && most >= s.needs(s.Std, s.surely()):
		return proved
	case s.allRead && most >= s.needs(s.Std, sound), !s.allRead && most >= s.needs(s.full, sound)-float64(ask*s.Std):
		return open
	}
	return none
}

// lost is the mean depth across that a tire has lost. Where its new depth is not known, a
// usual one stands for it.
func (j *judge) lost(t Tire) float64 {
	h, _ := t.heights()
	mean := -float64(measure.Mean(h[:]...).Of)
	if t.New == nil {
		mean += float64(j.usualNew())
	}
	return max(0, mean)
}

// otherTires tells by how much the edges of the tires of the other axles differ, beyond what
// their readings make them differ, and which of them would tell it better when read again.
// known is false where none was read across.
func (j *judge) otherTires(of Tire) (differ float64, again []Tire, known bool) {
	squares, n := 0.0, 0.0
	for _, t := range j.Tires {
		v, ok := t.tilt()
		if !ok || t.At == of.At || t.Wore.Axle == of.Wore.Axle {
			continue
		}
		squares, n = squares+float64(float64(v.Of)*float64(v.Of))-float64(v.Std*v.Std), n+1
		if !t.allRead() {
			again = append(again, t)
		}
	}
	if n == 0 {
		return 0, nil, false
	}
	return math.Sqrt(max(0, squares) / n), again, true
}

// asOthers is how many times what the other tires of a vehicle differ by across, the largest
// of sound ones differs at most: beside one at 50 percent of the wear others are at 10 to
// 50, and seldom all of them under 17.
const asOthers = 3

// edgeShape is the shape of tires worn at one edge, all the same way. Sound ones show no
// more than half of what they lost, and no more than the other tires of the vehicle lead to
// expect.
func (j *judge) edgeShape(of ...Tire) (s shape, ok bool) {
	if s, ok = oneShape(Tire.tilt, of...); !ok {
		return s, false
	}
	if m := j.mate(of[0]); m != nil && m.Across != nil && !m.allRead() {
		s.allRead = false // whether one tire is alone, the other one tells
	}
	for _, t := range of {
		s.anyway += float64(j.soundSpread()*j.lost(t)) / float64(len(of))
	}
	differ, again, known := j.otherTires(of[0])
	s.sound, s.against = s.anyway, again
	if known {
		s.sound = min(s.anyway, asOthers*differ)
	}
	s.unknown = s.anyway > 0 && (len(again) > 0 || !known && len(j.Layout.Axles) > 1)
	return s, true
}

// centerShape is the shape of tires worn at both edges or at the center, all the same way.
// What molds make of a center is told apart by the depth when new, and the other axle may
// have the same cause.
func (j *judge) centerShape(of ...Tire) (shape, bool) { return oneShape(Tire.crown, of...) }

// oneShape reads a shape off a tire, or off both of an axle that lean the same way; ok is
// false where they were not read across, or do not.
func oneShape(read func(Tire) (depth, bool), of ...Tire) (s shape, ok bool) {
	var vs []depth
	squares := 0.0
	s.allRead, s.both = true, len(of) > 1
	for _, t := range of {
		v, ok := read(t)
		if !ok || v.Of == 0 && s.both || len(vs) > 0 && (v.Of > 0) != (vs[0].Of > 0) {
			return s, false
		}
		vs, s.allRead = append(vs, v), s.allRead && t.allRead()
		full := v.Std * t.shrinks()
		squares += float64(full * full)
	}
	s.factor = factorBoth
	if !s.both {
		s.factor = factorAlone
	}
	s.depth, s.full = measure.Mean(vs...), math.Sqrt(squares)/float64(len(vs))
	return s, true
}

// prove finds what the readings prove of each shape of each tire.
func (j *judge) prove() {
	for i := range j.Tires {
		t := &j.Tires[i]
		for _, s := range withMate(j.edgeShape, *t, j.mate(*t)) {
			if stands := s.stands(); !s.both || stands < proved || balanced(*t, *j.mate(*t)) {
				t.oneEdge = max(t.oneEdge, stands)
			}
		}
		for _, s := range withMate(j.centerShape, *t, j.mate(*t)) {
			t.center = max(t.center, s.stands())
		}
	}
	j.allAround()
	for i := range j.Tires {
		if t := &j.Tires[i]; t.oneEdge != none && !t.bothEdgesDiffer() {
			t.center = none
		}
	}
}

// allAround: what wears the center or both edges is often the air in all tires. Four that
// lean one way are read often enough, by one set of readings of each.
func (j *judge) allAround() {
	all := slices.DeleteFunc(slices.Clone(j.Tires), func(t Tire) bool { return t.Across == nil })
	if len(all) < 4 {
		return
	}
	s, ok := j.centerShape(all...)
	if s.allRead = true; !ok || s.stands() != proved {
		return
	}
	for i := range j.Tires {
		if v, ok := j.Tires[i].crown(); ok && 2*size(v) >= size(s.depth) {
			j.Tires[i].center = proved
		}
	}
}

// withMate gives a shape of a tire alone and, where its mate leans the same way, of both.
func withMate(of func(...Tire) (shape, bool), t Tire, m *Tire) (all []shape) {
	if s, ok := of(t); ok {
		all = append(all, s)
	}
	if m == nil {
		return all
	}
	if s, ok := of(t, *m); ok {
		all = append(all, s)
	}
	return all
}

// balanced: one edge is worn on both tires of an axle, on the lesser at least half as much
// as on the other, as near as the readings tell.
func balanced(a, b Tire) bool {
	less, _ := a.tilt()
	more, _ := b.tilt()
	if size(less) > size(more) {
		less, more = more, less
	}
	return float64(2*size(less))+math.Hypot(2*less.Std, more.Std) >= float64(size(more))
}

// bothEdgesDiffer: one edge worn deep pulls the mean of the edges down by itself. Two shapes
// with two causes are there only where each edge differs from the center the same way.
func (t Tire) bothEdgesDiffer() bool {
	h, ok := t.heights()
	v, _ := t.crown()
	for _, edge := range []depth{h[0], h[2]} {
		if d := h[1].Minus(edge); !ok || !called(d) || (d.Of > 0) != (v.Of > 0) {
			return false
		}
	}
	return true
}

// doubt is a shape that may be there, on some tires, and the tires to read again for it.
type doubt struct {
	shape depth
	of    []Tire
}

// shaped: a shape is proved.
func (t Tire) shaped() bool { return t.oneEdge == proved || t.center == proved }

// undecided asks for the further readings of tires with a shape that may be there, once for
// both ends of an axle.
func (j *judge) undecided() {
	asked := map[layout.Position]bool{}
	for _, t := range j.Tires {
		m := j.mate(t)
		if asked[t.At] || t.shaped() || m != nil && m.shaped() {
			continue // a cause is told already
		}
		of := []Tire{t}
		if m != nil && m.Across != nil {
			of = append(of, *m)
		}
		var all doubt
		for _, t := range of {
			asked[t.At] = true
			d := j.doubtOf(t, j.mate(t))
			all.shape, all.of = most(all.shape, d.shape), append(all.of, d.of...)
		}
		if len(all.of) > 0 {
			j.add(notYet(all.shape, all.of...))
		}
	}
}

// doubtOf is what is open of one tire: its own readings come first, then those of its mate,
// and where they are all taken, those of the tires beside which they are held.
func (j *judge) doubtOf(t Tire, m *Tire) (d doubt) {
	if v, _ := t.tilt(); t.oneEdge == open {
		d.shape = v
	}
	if v, _ := t.crown(); t.center == open && !j.molded(t) {
		d.shape = most(v, d.shape)
	}
	switch {
	case d.shape.Of == 0:
	case !t.allRead():
		d.of = []Tire{t}
	case t.oneEdge == open && m != nil && m.Across != nil && !m.allRead():
		d.of = []Tire{*m}
	case t.oneEdge == open:
		if s, _ := j.edgeShape(t); len(s.against) > 0 {
			d.of = s.against
		} else {
			d.of = []Tire{t}
		}
	}
	return d
}

// notYet asks for the readings that decide a shape which may be there: three places round
// the tire first, then each of them a second time, then those of another axle.
func notYet(v depth, tires ...Tire) finding.Finding {
	f := shapeOf(v, tires...)
	f.Code, f.Urgency, f.Outcome = finding.WearUndecided, finding.Plan, measure.CannotTell
	f.Positions = slices.Compact(f.Positions)
	round, _ := readings()
	switch {
	case anyOf(tires, func(t Tire) bool { return t.Places < round }):
		f.ToSettle = finding.SettleThreePlaces
	case !slices.ContainsFunc(tires, func(t Tire) bool { return !t.allRead() }):
		f.ToSettle = finding.SettleReadOtherAxle
	default:
		f.ToSettle = finding.SettleEachPlaceTwice
	}
	return f
}
