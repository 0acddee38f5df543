package verdict

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure/measuretest"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
	"gaugebook.dev/calc/wear"
)

// world is what is so beside how a car has worn, and is not what the judge takes to be so.
type world struct {
	hand   float64 // so many times as unsteady as the judge takes it; 0: once
	slips  bool    // the noise has two exponential tails, and one reading in a hundred is off by 2/32 in more
	zero   float64 // the gauge's zero is off by up to so much at all readings, /32 in
	spread float64 // inner and outer grooves of every tire differ by a tenth of the wear up to this share, either way
	alike  bool    // by as much, and the same way, on all tires
	lost   float64 // by all tires, /32 in; 0: 3
	unread bool    // nobody knows the depth when new
}

// drawn car: what is so of it, the hand that reads it, and what was read.
type drawnCar struct {
	*rand.Rand
	world
	zeroAt float64
	step   float64
	deep   map[layout.Position][3]float64
	visit  visit.Visit
}

// in32 is a depth in thirty-seconds.
func in32(n float64) unit.Depth { return unit.MustDepth(n, unit.ThirtySecondsInch) }

func (d *drawnCar) between(low, high float64) float64 { return low + float64((high-low)*d.Float64()) }

// read is what the hand reads of a true depth in thirty-seconds.
func (d *drawnCar) read(deep float64) unit.Depth {
	off := float64(d.hand * d.NormFloat64())
	if d.slips {
		off = float64(d.hand / math.Sqrt2 * d.ExpFloat64() * float64(2*d.IntN(2)-1))
		if d.IntN(100) == 0 {
			off += float64(4*d.IntN(2) - 2)
		}
	}
	return in32(max(0, math.Round((deep+off+d.zeroAt)/d.step)*d.step))
}

// readAt reads a tire across at a place round it, 0 when not told.
func (d *drawnCar) readAt(at layout.Position, station int) {
	i := slices.IndexFunc(d.visit.Wheels, func(w visit.Wheel) bool { return w.Position == at })
	w := &d.visit.Wheels[i]
	for groove, deep := range d.deep[at] {
		w.Depths = append(w.Depths, tread.Reading{Depth: d.read(deep), AsRead: unit.Amount{Unit: unit.ThirtySecondsInch}, Across: layout.Across(groove + 1), Station: station})
	}
}

// unevenly is by how much the outboard groove of a sound tire wears more than the inboard.
func (d *drawnCar) unevenly() float64 {
	return d.between(0.1, d.spread) * float64(2*d.IntN(2)-1)
}

// wornDown is how deep a tire is that was 10/32 in, and wore more by a share of a size.
func (d *drawnCar) wornDown(all float64, extra [3]float64, size float64) (deep [3]float64) {
	lost, uneven := float64(d.lost*(1+float64(0.05*d.NormFloat64()))), 0.0
	if d.spread > 0 {
		if uneven = all; !d.alike {
			uneven = d.unevenly()
		}
	}
	for groove := range deep {
		deep[groove] = 10 - float64(lost*(1+float64(uneven*float64(groove-1)/2))) - float64(size*extra[groove])
	}
	return deep
}

// drawCar is a front-wheel-drive car of 15,000 miles, new at 10/32 in, that has worn in a
// way by so much, and was read across once. Tires of one car wear apart by a twentieth.
func drawCar(seed uint64, hand int, o world, w worn, size float64) *drawnCar {
	gauge := hands[hand].gauge
	d := &drawnCar{Rand: rand.New(rand.NewPCG(seed, 1985)), world: o, step: gauge.Resolution.In(unit.ThirtySecondsInch), deep: map[layout.Position][3]float64{}}
	if d.hand == 0 {
		d.hand = 1
	}
	d.hand *= gauge.Repeatability.In(unit.ThirtySecondsInch)
	if d.lost == 0 {
		d.lost = 3
	}
	d.zeroAt = d.between(-d.zero, d.zero)
	v := car(33)
	base := v.Wheels[0]
	v.Wheels, v.DepthGauge = nil, gauge
	run, ago, lately := unit.MustDistance(15_000, unit.Miles), unit.MustDistance(5_000, unit.Miles), unit.MustDistance(4_000, unit.Miles)
	early := visit.Earlier{Ago: &ago, Conditions: v.Conditions}
	all := d.unevenly()
	for _, at := range v.Vehicle.Positions() {
		t := base
		t.Position, t.Depths = at, nil
		t.History = visit.History{OnTire: &run, Here: &run}
		if !o.unread {
			t.Tire.New = map[int]unit.Depth{0: in32(10)}
		}
		d.deep[at] = d.wornDown(all, w.extra[at.String()], size)
		if w.felt != "" && w.extra[at.String()] != [3]float64{} {
			t.Observations = []visit.Observation{{Kind: w.felt}}
		}
		v.Wheels = append(v.Wheels, t)
		if w.label > 0 {
			early.Wheels = append(early.Wheels, visit.EarlierWheel{Position: at, Pressure: visit.Pressure{Of: unit.Pressure(w.label * float64(unit.MustPressure(33, unit.PSI))), Read: unit.PSI, Gauge: base.Pressure.Gauge}})
		}
	}
	if w.label > 0 {
		v.Earlier = []visit.Earlier{early, early}
	}
	v.Work = []wear.Work{{Kind: wear.Rotated, Ago: &lately}} // so that none is due
	d.visit = v
	for _, at := range v.Vehicle.Positions() {
		d.readAt(at, 0)
	}
	return d
}

// judged is what is said of a drawn car by its first readings, and after those that were
// asked for.
type judged struct {
	first, last  string
	three, twice bool // places that were asked for
}

// judge follows what is asked for until nothing more is.
func (d *drawnCar) judge(t *testing.T) (out judged) {
	t.Helper()
	v := Judge(d.visit)
	out.first = leading(v)
	for range 10 {
		asked := false
		for _, f := range v.Findings {
			if f.Code != finding.WearUndecided {
				continue
			}
			asked = true
			out.three = out.three || f.ToSettle == finding.SettleThreePlaces
			out.twice = out.twice || f.ToSettle == finding.SettleEachPlaceTwice
			for _, at := range f.Positions {
				for station := range 3 {
					d.readAt(at, station+1)
				}
			}
		}
		if !asked {
			out.last = leading(v)
			return out
		}
		v = Judge(d.visit)
	}
	t.Fatal("asks without an end")
	return out
}

// rate is a row of the page: cars in a world, and what is asked of the answers in the end.
type rate struct {
	name  string
	hand  int
	world world
	worn  worn
	size  float64
	most  float64 // percent that are told what is not so, 0: not held
	least float64 // percent that are told what is so, 0: not held
}

func rates() (all []rate) {
	sound := func(name string, hand int, o world) {
		most := 3.0
		if o == (world{}) {
			most = 2
		}
		all = append(all, rate{name: name, hand: hand, world: o, worn: evenly, most: most})
	}
	half := func(o world) world { o.spread = 0.5; return o }
	for hand := range hands {
		sound("even", hand, world{})
		sound("even, hand of 1.25", hand, world{hand: 1.25})
		sound("even, hand of 1.5", hand, world{hand: 1.5})
		sound("even, slips", hand, world{slips: true})
		sound("even, zero off by up to 1", hand, world{zero: 1})
		sound("spread", hand, half(world{}))
		sound("spread, hand of 1.25", hand, half(world{hand: 1.25}))
		sound("spread, hand of 1.5", hand, half(world{hand: 1.5}))
		sound("spread, zero off by up to 1", hand, half(world{zero: 1}))
		sound("spread, alike on all tires", hand, half(world{alike: true}))
		sound("spread, 5 lost", hand, half(world{lost: 5}))
		sound("spread, new depth not known", hand, half(world{unread: true}))
		all = append(all,
			rate{name: "toe of 2", hand: hand, worn: toeIn, size: 2, least: 94},
			rate{name: "toe of 2, zero off by up to 1", hand: hand, world: world{zero: 1}, worn: toeIn, size: 2, least: 94},
			rate{name: "toe of 2, 5 lost", hand: hand, world: world{lost: 5}, worn: toeIn, size: 2, least: 94},
			rate{name: "toe of 2, hand of 1.25", hand: hand, world: world{hand: 1.25}, worn: toeIn, size: 2},
			rate{name: "toe of 2, hand of 1.5", hand: hand, world: world{hand: 1.5}, worn: toeIn, size: 2},
			rate{name: "toe of 2, spread", hand: hand, world: half(world{}), worn: toeIn, size: 2},
			rate{name: "toe of 3", hand: hand, worn: toeIn, size: 3, least: 98},
			rate{name: "one corner of 2", hand: hand, worn: oneCorner, size: 2},
			rate{name: "one corner of 3", hand: hand, worn: oneCorner, size: 3, least: 97},
			rate{name: "run low, 2", hand: hand, worn: longRunLow, size: 2, least: 98},
		)
	}
	return all
}

// seed is a car's own: the first of many are the same cars as a few.
func seed(row string, car int) uint64 {
	h := fnv.New64a()
	_, _ = fmt.Fprint(h, row, car)
	return h.Sum64()
}

// measured counts what was said of the cars of a row.
func (r rate) measured(t *testing.T, cars int) (first, found, three, twice, wrong, right measuretest.Share) {
	t.Helper()
	for i := range cars {
		j := drawCar(seed(r.name+hands[r.hand].name, i), r.hand, r.world, r.worn, r.size).judge(t)
		first = first.And(j.first != "nothing" && j.first != r.worn.right)
		found = found.And(j.first == r.worn.right)
		three = three.And(j.three)
		twice = twice.And(j.twice)
		wrong = wrong.And(j.last != "nothing" && j.last != r.worn.right)
		right = right.And(j.last == r.worn.right)
	}
	return first, found, three, twice, wrong, right
}

// TestWearErrorRates holds how often a cause is told that is not so, and one that is, after
// the further readings that are asked for. A few cars of each row are drawn and held against
// the page; -full draws all of its, and -update writes it.
func TestWearErrorRates(t *testing.T) {
	cars, each := 20, 4
	if *full || *update {
		cars, each = 2000, 300
	}
	var b strings.Builder
	stands := pageOf(t, "wear", "")
	b.WriteString(wearIntro)
	for hand, h := range hands {
		fmt.Fprintf(&b, "Gauge: %s.\n\n%s", h.name, wearHead)
		for _, r := range rates() {
			if r.hand != hand {
				continue
			}
			first, found, three, twice, wrong, right := r.measured(t, cars)
			fmt.Fprintf(&b, "| %s | %s | %.1f | %.1f | %.1f | %.1f | %s | %s |\n", r.name, h.name, first.Percent(), found.Percent(), three.Percent(), twice.Percent(), wrong, right)
			r.hold(t, wrong, right)
			page := measuretest.Shares(stands, r.name, h.name)
			switch {
			case *update:
			case len(page) != 2:
				t.Errorf("%s, %s: the page has %d shares", r.name, h.name, len(page))
			case !wrong.Agrees(page[0]) || !right.Agrees(page[1]):
				t.Errorf("%s, %s: the page says %s and %s, computed are %s and %s", r.name, h.name, page[0], page[1], wrong, right)
			default:
				r.hold(t, page[0], page[1])
			}
		}
		b.WriteString("\n")
	}
	kinds(t, &b, each)
	if *full || *update {
		golden(t, "wear", b.String())
	}
}

// hold fails where a share is surely not what is asked of it.
func (r rate) hold(t *testing.T, wrong, right measuretest.Share) {
	t.Helper()
	confidence := 0.999
	if wrong.All >= 1000 {
		confidence = 0
	}
	if low, _ := wrong.Interval(confidence); r.most > 0 && low > r.most {
		t.Errorf("%s, %s: %s are told what is not so, want at most %g percent", r.name, hands[r.hand].name, wrong, r.most)
	}
	if _, high := right.Interval(confidence); r.least > 0 && high < r.least {
		t.Errorf("%s, %s: %s are told what is so, want at least %g percent", r.name, hands[r.hand].name, right, r.least)
	}
}

const wearHead = "| cars | gauge | by one reading of each groove: told what is not so, % | told what is so, % | asked for three places, % | asked to read each twice, % | in the end: told what is not so, % | told what is so, % |\n|---|---|---|---|---|---|---|---|\n"

const wearIntro = `## Causes of wear: what is so, and what is said to be likeliest

Cars of four tires, new at 10/32 in, that lost 3/32 in evenly, tires of one car apart by a
twentieth. Sizes and losses are in 1/32 in. Each groove is read once; whatever further
readings are asked for are then taken, by the same hand: three places round the tire, and each
of them twice. The judge knows the gauge by its name alone:

- a hand of 1.25 or 1.5 is so many times less steady than it takes one with that gauge to be:
  with a 1/32 in gauge readings scatter by 0.5 or 0.6, and not by 0.4;
- slips: noise with long tails, and one reading in a hundred off by 2/32 in besides;
- zero: the gauge's zero is off by up to so much, either way, at all readings;
- spread: inner and outer grooves of each sound tire differ by 10 to 50 percent of the wear,
  one way or the other, as advice.shape and advice.sound-spread cite it.

In brackets: how many of how many, and the 95 percent interval of Clopper and Pearson. A toe of
2/32 in beside a spread of half the wear is told from it by nobody's depths: it says mostly
nothing, or one corner, and a hand on the ribs decides.

`
