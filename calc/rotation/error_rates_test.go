package rotation_test

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/unit"
)

var update = flag.Bool("update", false, "write the error rates")

const errorRates = "../../testdata/error-rates-rotation.md"

// hand is a depth gauge by name.
type hand struct {
	name  string
	gauge measure.Gauge[unit.Depth]
}

var hands = []hand{
	{"1/32 in", measure.Gauge[unit.Depth]{Resolution: in32(1), Repeatability: in32(0.4)}},
	{"0.5 mm", measure.Gauge[unit.Depth]{Resolution: mm(0.5), Repeatability: mm(0.32)}},
	{"0.01 mm", measure.Gauge[unit.Depth]{Resolution: mm(0.01), Repeatability: mm(0.15)}},
}

func in32(n float64) unit.Depth     { return unit.MustDepth(n, unit.ThirtySecondsInch) }
func mm(n float64) unit.Depth       { return unit.MustDepth(n, unit.Millimeters) }
func miles(n float64) unit.Distance { return unit.MustDistance(n, unit.Miles) }

// read is what a hand reads of a true depth with a gauge.
func (h hand) read(d *rand.Rand, depth float64) measure.Value[unit.Depth] {
	step := float64(h.gauge.Resolution)
	return h.gauge.Read(unit.Depth(math.Round((depth+d.NormFloat64()*float64(h.gauge.Repeatability))/step) * step))
}

// life is what else may befall the drawn car while nobody moves its tires.
type life struct {
	name     string
	edge     float64 // the outboard grooves of the front tires wear so many times as fast
	pace     float64 // of all wear
	replaced bool    // the right rear tire is new at the second visit
}

var lives = []life{
	{name: "as usual", edge: 1, pace: 1},
	{name: "front toe far out", edge: 3, pace: 1},
	{name: "slow wear", edge: 1, pace: 0.3},
	{name: "one tire new", edge: 1, pace: 1, replaced: true},
}

// twoVisits draws an invented front-wheel-drive car: new at 10/32 in, shoulders a
// little shallower, its front tires worn about twice as fast as the rear ones;
// driven 5,000 to 30,000 miles to the first visit and on to the second. The grooves
// of a tire wear apart, the tires of an axle differ by a tenth. The tires are
// placed by a map right after the first visit, or left.
func twoVisits(d *rand.Rand, h hand, run float64, m rotation.Map, l life) rotation.Two {
	vehicle := math.Exp(0.3 * d.NormFloat64())
	rate := map[layout.Position]float64{}
	depths := map[layout.Position][3]float64{}
	wear := func(t [3]float64, p layout.Position, miles float64) [3]float64 {
		for c := range t {
			lost := rate[p] * miles * (1 + 0.2*(2*d.Float64()-1))
			if p.Axle == 1 && c == 2 {
				lost *= l.edge
			}
			t[c] -= lost
		}
		return t
	}
	first := 5000 + 25000*d.Float64()
	for _, p := range car.Positions() {
		rate[p] = float64(in32(0.11)) / 1000 * l.pace * vehicle * math.Exp(0.1*d.NormFloat64())
		if p.Axle == 1 {
			rate[p] *= 2
		}
		first = min(first, float64(in32(7))/rate[p]/l.edge)
	}
	whenNew := [3]float64{float64(in32(9.5)), float64(in32(10)), float64(in32(9.5))}
	t := rotation.Two{Run: miles(run)}
	for _, p := range car.Positions() {
		depths[p] = wear(whenNew, p, first)
		t.Before = append(t.Before, seen(d, h, p, depths[p]))
	}
	for _, from := range car.Positions() {
		to := from
		for _, move := range m.Moves {
			if move.From == from {
				to = move.To
			}
		}
		now := wear(depths[from], to, run)
		if l.replaced && to == (layout.Position{Axle: 2, Side: layout.Right}) {
			now = whenNew
		}
		t.Now = append(t.Now, seen(d, h, to, now))
	}
	return t
}

func seen(d *rand.Rand, h hand, p layout.Position, depths [3]float64) rotation.Seen {
	s := rotation.Seen{At: p}
	for _, depth := range depths {
		s.Across = append(s.Across, h.read(d, depth))
	}
	return s
}

const draws = 2000 // visits of each kind

var (
	runs  = []float64{1000, 3000, 5000, 8000, 12000}
	odds  = []float64{10, 100, 1000, 10000, 100000}
	cross = mapOf("forward-cross")
)

// found gives the shares of drawn visits of which the tires were placed by the
// forward cross that are asked about, and that are with that very map.
func found(h hand, run float64) (asked, named float64) {
	d := rand.New(rand.NewPCG(uint64(run), uint64(h.gauge.Resolution)))
	for range draws {
		if s, _ := rotation.Find(twoVisits(d, h, run, cross, lives[0])); s.Asked() {
			asked++
			if was, ok := s.MapOf(); ok && was.ID == cross.ID {
				named++
			}
		}
	}
	return asked / draws, named / draws
}

// falsely gives the share of drawn visits of which nobody moved a tire that reach
// each of the odds.
func falsely(h hand, run float64, l life) []float64 {
	d := rand.New(rand.NewPCG(uint64(run), uint64(h.gauge.Resolution)))
	reach := make([]float64, len(odds))
	for range draws {
		s, _ := rotation.Find(twoVisits(d, h, run, rotation.Map{}, l))
		for i, o := range odds {
			if s.Odds >= math.Log(o) {
				reach[i] += 1.0 / draws
			}
		}
	}
	return reach
}

// The page in testdata is what the drawn visits give, and the odds from which the
// question is asked are the least of them at which less than one visit in two
// hundred is asked about falsely, whatever the gauge, the distance and the wear.
func TestErrorRates(t *testing.T) {
	const most = 1.0 / 200
	var b strings.Builder
	b.WriteString("# How often a rotation that nobody wrote down is found\n\n")
	fmt.Fprintf(&b, "Drawn visits of an invented front-wheel-drive car, %d of each kind, always the same:\n", draws)
	b.WriteString("three grooves of four tires read at two visits. `go test ./calc/rotation -run ErrorRates -update`\nwrites this page anew.\n\n")
	fmt.Fprintf(&b, "The question is asked from odds of %.0f to one on.\n\n", math.Exp(rotation.Strong))
	b.WriteString("## The tires were placed by the forward cross right after the first visit\n\n")
	b.WriteString("Several maps may explain the depths of a car that wears alike left and right; then the question\nasks whether tires were moved, and not how.\n\n")
	b.WriteString("| gauge | miles between | asked | the likeliest placing is that very map |\n|---|---|---|---|\n")
	for _, h := range hands {
		for _, run := range runs {
			asked, named := found(h, run)
			fmt.Fprintf(&b, "| %s | %.0f | %.1f %% | %.1f %% |\n", h.name, run, 100*asked, 100*named)
		}
	}
	b.WriteString("\n## Nobody moved a tire\n\nThe share of visits that reach the odds.\n\n| gauge | miles between | wear |")
	for _, o := range odds {
		fmt.Fprintf(&b, " %.0f |", o)
	}
	b.WriteString("\n|---|---|---|" + strings.Repeat("---|", len(odds)) + "\n")
	worst := make([]float64, len(odds))
	for _, h := range hands {
		for _, run := range runs {
			for _, l := range lives {
				reach := falsely(h, run, l)
				fmt.Fprintf(&b, "| %s | %.0f | %s |", h.name, run, l.name)
				for i, share := range reach {
					worst[i] = max(worst[i], share)
					fmt.Fprintf(&b, " %.2f %% |", 100*share)
				}
				b.WriteString("\n")
			}
		}
	}
	least := slices.IndexFunc(worst, func(share float64) bool { return share < most })
	if least < 0 || math.Log(odds[least]) != rotation.Strong {
		t.Errorf("the question is asked from odds of %v on; the worst shares at %v are %v", math.Exp(rotation.Strong), odds, worst)
	}
	if *update {
		if err := os.WriteFile(errorRates, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(errorRates)
	if err != nil {
		t.Fatal(err)
	}
	if b.String() != string(want) {
		t.Errorf("the page says otherwise; -update writes it anew:\n%s", b.String())
	}
}

var car = layout.Vehicle{Class: layout.PassengerCar, Drive: layout.FrontDrive, Axles: []layout.Axle{{Driven: true, Steered: true}, {}}}

// mapOf gives a map of the car by its id.
func mapOf(id string) rotation.Map {
	for _, p := range rotation.For(rotation.Vehicle{Layout: car}).Plans {
		if p.Map.ID == id {
			return p.Map
		}
	}
	panic(id)
}
