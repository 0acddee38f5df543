package trend_test

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
	"gaugebook.dev/calc/tread"
	. "gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

var update = flag.Bool("update", false, "write the golden files")

// gauges as the product takes them where nothing finer is told (common practice).
var gauges = []struct {
	name  string
	gauge measure.Gauge[unit.Depth]
}{
	{"1/32 in by hand", measure.Gauge[unit.Depth]{Resolution: unit.MustDepth(1, unit.ThirtySecondsInch), Repeatability: unit.MustDepth(0.4, unit.ThirtySecondsInch)}},
	{"0.5 mm by hand", measure.Gauge[unit.Depth]{Resolution: unit.MustDepth(0.5, unit.Millimeters), Repeatability: unit.MustDepth(0.32, unit.Millimeters)}},
	{"0.01 mm electronic", measure.Gauge[unit.Depth]{Resolution: unit.MustDepth(0.01, unit.Millimeters), Repeatability: unit.MustDepth(0.15, unit.Millimeters)}},
}

// world draws tires of which everything is known.
type world struct{ *rand.Rand }

func (w world) between(low, high float64) float64 { return low + float64((high-low)*w.Float64()) }

// read is what a hand reads of a true depth, in 0.1 nm.
func (w world) read(g measure.Gauge[unit.Depth], truth float64) unit.Depth {
	step := float64(g.Resolution)
	hand := truth + float64(w.NormFloat64()*float64(g.Repeatability))
	return unit.Depth(max(0, math.Round(hand/step)*step))
}

// tally counts how the answers about tires stand to the truth.
type tally struct {
	tires, told, early, late int
	errors                   []float64 // of the estimate, as a share of the life left
}

func (y *tally) add(c Crossing, truth, now unit.Distance) {
	y.tires++
	if c.Earliest != nil && truth < *c.Earliest {
		y.early++
	}
	if c.Latest != nil {
		y.told++
		if truth > *c.Latest {
			y.late++
		}
	}
	if c.At != nil {
		y.errors = append(y.errors, float64((*c.At-truth)/(truth-now)))
	} else {
		y.errors = append(y.errors, math.Inf(1))
	}
}

func (y *tally) row(what string) string {
	slices.Sort(y.errors)
	at := func(share float64) string {
		e := y.errors[int(share*float64(len(y.errors)-1))]
		if math.IsInf(e, 1) || e > 9.99 {
			return "> +999"
		}
		return fmt.Sprintf("%+.0f", math.Round(100*e)+0) // no negative zero
	}
	of := func(n int) float64 { return 100 * float64(n) / float64(y.tires) }
	return fmt.Sprintf("| %s | %.1f | %.1f | %.1f | %.1f | %s | %s to %s |\n", what,
		100-of(y.early+y.late), of(y.early), of(y.late), of(y.told), at(0.5), at(0.1), at(0.9))
}

// tire draws a tire that wears evenly: 9 to 11/32 in at the first reading and 0.12
// to 0.35/32 in each 1,000 miles after, read every 3,500 to 6,500 miles while it is
// above 2.5/32 in at the last. uneven is a standard deviation of the wear itself.
func (w world) tire(g measure.Gauge[unit.Depth], visits int, uneven float64) (ps []Point, truth, now unit.Distance) {
	one := float64(depth(1))
	for {
		first, rate := w.between(9, 11)*one, w.between(0.12, 0.35)*one/float64(miles(1000))
		ps, now = nil, 0
		for range visits {
			worn := first - float64(rate*float64(now)) + float64(w.NormFloat64()*uneven*one)
			ps = append(ps, Point{Run: now, Depth: g.Read(w.read(g, worn))})
			now += miles(w.between(3500, 6500))
		}
		now = ps[visits-1].Run
		truth = unit.Distance((first - 2*one) / rate)
		if first-float64(rate*float64(now)) > 2.5*one {
			return ps, truth, now
		}
	}
}

// TestErrorRates writes down, and holds, how often the answers are right for tires
// of which everything is known. Of the intervals of 95 percent nearly as many hold
// the truth: the published table is compared, and the bounds below keep a change
// of it honest.
func TestErrorRates(t *testing.T) {
	const tires = 2000
	var b strings.Builder
	fmt.Fprintf(&b, "## Distance to 2/32 in\n\n")
	for _, g := range gauges {
		w := world{rand.New(rand.NewPCG(1953, 1))}
		fmt.Fprintf(&b, "Gauge: %s.\n\n", g.name)
		fmt.Fprintf(&b, "| readings | interval holds the truth, %% | reached before it | reached after it | a latest is told, %% | middle error of the estimate, %% of the life left | 8 of 10 errors |\n|---|---|---|---|---|---|---|\n")
		for _, visits := range []int{2, 3, 4, 6, 8} {
			for _, uneven := range []float64{0, 0.25} {
				var y tally
				for range tires {
					ps, truth, now := w.tire(g.gauge, visits, uneven)
					y.add(Follow(ps, nil).Line.Crossing(depth(2)), truth, now)
				}
				what := fmt.Sprintf("%d visits", visits)
				if uneven > 0 {
					what += ", wear uneven by 0.25/32 in"
				} else if held := 100 - 100*float64(y.early+y.late)/tires; held < 93.5 || held > 98.5 {
					t.Errorf("%s, %d visits: %.1f percent of the intervals hold the truth", g.name, visits, held)
				}
				b.WriteString(y.row(what))
			}
		}
		var y tally
		for range tires { // one visit, and a new depth that is off by up to 2/32 in
			ps, truth, now := w.tire(g.gauge, 3, 0)
			isNew := ps[0].Depth.Of + depth(w.between(-2, 2))
			y.add(Follow([]Point{{Run: 0, Depth: NewDepth(isNew, false), Assumed: true}, ps[2]}, nil).Line.Crossing(depth(2)), truth, now)
		}
		b.WriteString(y.row("one visit and the depth when new, right within 2/32 in") + "\n")
	}
	fmt.Fprintf(&b, "## Worn out or not, one reading\n\n")
	fmt.Fprintf(&b, "| true depth, /32 in | gauge | said to be worn out, %% | against 2/32 in: below, %% | cannot tell, %% | above, %% |\n|---|---|---|---|---|---|\n")
	for _, true32 := range []float64{1, 1.5, 1.9, 2.1, 2.5, 3, 3.5, 4} {
		for _, g := range gauges {
			w := world{rand.New(rand.NewPCG(1953, 2))}
			var worn int
			var told [4]int
			for range tires {
				d := w.read(g.gauge, true32*float64(depth(1)))
				r, _ := tread.Judge(tread.Context{}, tread.Wheel{Position: layout.MustParse("1L"), Readings: []tread.Reading{{Depth: d}}, Gauge: g.gauge})
				if r.WornOut {
					worn++
				}
				told[measure.AtLeast(g.gauge.Read(d), depth(2)).Outcome]++
			}
			of := func(n int) float64 { return 100 * float64(n) / tires }
			if wrong := told[measure.Below]; true32 > 2 && of(wrong) > 8 || true32 < 2 && of(told[measure.Above]) > 8 {
				t.Errorf("%s at %g/32: below %.1f, above %.1f percent", g.name, true32, of(wrong), of(told[measure.Above]))
			}
			if true32 < 2 && of(tires-worn) > 8 {
				t.Errorf("%s at %g/32: %.1f percent not said to be worn out", g.name, true32, of(tires-worn))
			}
			fmt.Fprintf(&b, "| %g | %s | %.1f | %.1f | %.1f | %.1f |\n", true32, g.name, of(worn), of(told[measure.Below]), of(told[measure.CannotTell]), of(told[measure.Above]))
		}
	}
	golden(t, "trend", b.String())
}

// golden holds a part of the published error rates against what was computed now.
func golden(t *testing.T, part, computed string) {
	t.Helper()
	const file = "../../testdata/error-rates.md"
	begin, end := "<!-- begin "+part+" -->\n", "<!-- end "+part+" -->"
	all, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(all), begin)
	have, after, closed := strings.Cut(rest, end)
	if !found || !closed {
		t.Fatalf("%s has no part %s", file, part)
	}
	if have == computed {
		return
	}
	if !*update {
		t.Errorf("%s: %s is not what is computed now; see the difference with -update", file, part)
		return
	}
	if err := os.WriteFile(file, []byte(before+begin+computed+end+after), 0o644); err != nil {
		t.Fatal(err)
	}
}
