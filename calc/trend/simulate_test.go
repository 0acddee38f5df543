package trend_test

import (
	"flag"
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/measure/measuretest"
	"gaugebook.dev/calc/tread"
	. "gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

var (
	update = flag.Bool("update", false, "write the golden files")
	full   = flag.Bool("full", false, "draw as many tires as the published page of error rates")
)

const errorRates = "../../testdata/error-rates.md"

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
	told, holds  measuretest.Share // that a life is told; that its interval holds the truth
	latest       measuretest.Share // that it has an end
	early, later int
	errors       []float64 // of the estimate, as a share of the life left
}

func (y *tally) add(t Trend, truth, now unit.Distance) {
	foretells := t.Foretells()
	if y.told = y.told.And(foretells); !foretells {
		return
	}
	c := t.Reaches(depth(2))
	early, late := c.Earliest != nil && truth < *c.Earliest, c.Latest != nil && truth > *c.Latest
	y.holds = y.holds.And(!early && !late)
	y.latest = y.latest.And(c.Latest != nil)
	if early {
		y.early++
	}
	if late {
		y.later++
	}
	if c.At != nil {
		y.errors = append(y.errors, float64((*c.At-truth)/(truth-now)))
	} else {
		y.errors = append(y.errors, math.Inf(1))
	}
}

func (y *tally) row(what, gauge string) string {
	slices.Sort(y.errors)
	at := func(share float64) string {
		e := y.errors[int(share*float64(len(y.errors)-1))]
		if math.IsInf(e, 1) || e > 9.99 {
			return "> +999"
		}
		return fmt.Sprintf("%+.0f", math.Round(100*e)+0) // no negative zero
	}
	of := func(n int) float64 { return 100 * float64(n) / float64(y.holds.All) }
	return fmt.Sprintf("| %s | %s | %.1f | %s | %.1f | %.1f | %.1f | %s | %s to %s |\n", what, gauge,
		100-y.told.Percent(), y.holds, of(y.early), of(y.later), y.latest.Percent(), at(0.5), at(0.1), at(0.9))
}

// wearing is how the tires of a row wear and are read, beside what the estimate takes to be so.
type wearing struct {
	name    string
	uneven  float64 // standard deviation of the wear itself, /32 in
	zero    float64 // the gauge's zero is off by up to so much, either way, at all visits, /32 in
	last    float64 // the last stretch wears so many times as fast, and goes on
	breakIn float64 // the first 800 miles of the new tire do, and it is read at their end
	hand    float64 // so many times as unsteady
	freely  bool    // what is told is no promise: it is published, and not held
}

var wearings = []wearing{
	{},
	{name: "wear uneven by 0.25/32 in", uneven: 0.25, freely: true},
	{name: "hand half less steady", hand: 1.5},
	{name: "zero off by up to 1/32 in", zero: 1},
	{name: "last stretch 1.5 times as fast", last: 1.5},
	{name: "last stretch 1.5 times as slow", last: 1 / 1.5},
	{name: "zero off, last stretch 1.5 times as fast", zero: 1, last: 1.5},
	{name: "read from new, 800 miles at twice the rate", breakIn: 2},
}

// tire draws a tire of 9 to 11/32 in at the first reading that loses 0.12 to 0.35/32 in each
// 1,000 miles, read every 3,500 to 6,500 miles while it is above 2.5/32 in at the last.
func (w world) tire(g measure.Gauge[unit.Depth], visits int, how wearing) (ps []Point, truth, now unit.Distance) {
	one, hand := float64(depth(1)), g
	if how.hand > 0 {
		hand.Repeatability = unit.Depth(how.hand * float64(g.Repeatability))
	}
	for {
		rate, zero := w.between(0.12, 0.35)*one/float64(miles(1000)), w.between(-how.zero, how.zero)*one
		worn := w.between(9, 11) * one
		ps, now = nil, 0
		for i := range visits {
			if i > 0 {
				stretch := miles(w.between(3500, 6500))
				switch {
				case i == 1 && how.breakIn > 0:
					stretch = miles(800)
					worn -= float64(how.breakIn * rate * float64(stretch))
				case i == visits-1 && how.last > 0:
					rate *= how.last
					fallthrough
				default:
					worn -= float64(rate * float64(stretch))
				}
				now += stretch
			}
			seen := worn + float64(w.NormFloat64()*how.uneven*one) + zero
			p := Read(g, w.read(hand, seen))
			p.Run = now
			ps = append(ps, p)
		}
		truth = now + unit.Distance((worn-2*one)/rate)
		if worn > 2.5*one {
			return ps, truth, now
		}
	}
}

// seed is a tire's own: the first of many are the same tires as a few.
func seed(row string, tire int) *rand.Rand {
	h := fnv.New64a()
	_, _ = fmt.Fprint(h, row, tire)
	return rand.New(rand.NewPCG(h.Sum64(), 1953))
}

// TestErrorRates holds how often the answers are right for tires of which everything is
// known: an interval of 95 percent holds the truth of at least 93 in a hundred lives told,
// also where the gauge's zero is off or the tire wears faster of late. A few tires of each row
// are drawn and held against the page; -full draws all of its, and -update writes it.
func TestErrorRates(t *testing.T) {
	tires := 100
	if *full || *update {
		tires = 2000
	}
	var b strings.Builder
	page := pageOf(t, "trend", "")
	fmt.Fprintf(&b, "## Distance to 2/32 in\n\n%s", lifeIntro)
	for _, g := range gauges {
		fmt.Fprintf(&b, "Gauge: %s.\n\n%s", g.name, lifeHead)
		for _, visits := range []int{2, 3, 4, 6, 8} {
			for _, how := range wearings {
				if how.breakIn > 0 && visits < 6 {
					continue // too few are left after it
				}
				what := fmt.Sprintf("%d visits", visits)
				if how.name != "" {
					what += ", " + how.name
				}
				var y tally
				var isNew *unit.Distance
				if how.breakIn > 0 {
					isNew = new(unit.Distance)
				}
				for i := range tires {
					ps, truth, now := world{seed(what+g.name, i)}.tire(g.gauge, visits, how)
					y.add(Follow(ps, isNew), truth, now)
				}
				b.WriteString(y.row(what, g.name))
				hold(t, page, what, g.name, y.holds, how.freely)
			}
		}
		var y tally
		const what = "one visit and the depth when new, right within 2/32 in"
		for i := range tires { // one visit, and a new depth that is off by up to 2/32 in
			w := world{seed(what+g.name, i)}
			ps, truth, now := w.tire(g.gauge, 3, wearing{})
			isNew := ps[0].Depth.Of + depth(w.between(-2, 2))
			y.add(Follow([]Point{{Run: 0, Depth: NewDepth(isNew, false), Assumed: true}, ps[2]}, nil), truth, now)
		}
		b.WriteString(y.row(what, g.name) + "\n")
		hold(t, page, what, g.name, y.holds, false)
	}
	wornOut(t, &b)
	if !*full && !*update {
		return
	}
	with := ""
	if *update {
		with = b.String()
	}
	if pageOf(t, "trend", with) != b.String() {
		t.Errorf("%s: its part on trends is not what is computed now; see the difference with -update", errorRates)
	}
}

// hold fails where the intervals of a row surely hold the truth less often than is asked, or
// where the page says something else.
func hold(t *testing.T, page, what, gauge string, holds measuretest.Share, freely bool) {
	t.Helper()
	const least = 93
	if _, high := holds.Interval(0.999); !freely && high < least {
		t.Errorf("%s, %s: the interval holds the truth of %s", gauge, what, holds)
	}
	if *update {
		return
	}
	switch told := measuretest.Shares(page, what, gauge); {
	case len(told) != 1:
		t.Errorf("%s, %s: the page has %d shares", gauge, what, len(told))
	case !holds.Agrees(told[0]):
		t.Errorf("%s, %s: the page says %s, computed is %s", gauge, what, told[0], holds)
	case !freely && told[0].Percent() < least:
		t.Errorf("%s, %s: the page says %s", gauge, what, told[0])
	}
}

// pageOf is a part of the page of error rates, written anew where with is not empty.
func pageOf(t *testing.T, part, with string) string {
	t.Helper()
	page, err := os.ReadFile(errorRates)
	if err != nil {
		t.Fatal(err)
	}
	stands, ok := measuretest.Part(string(page), part)
	switch {
	case !ok:
		t.Fatalf("%s has no part %s", errorRates, part)
	case with == "" || with == stands:
		return stands
	}
	if err := os.WriteFile(errorRates, []byte(measuretest.WithPart(string(page), part, with)), 0o644); err != nil {
		t.Fatal(err)
	}
	return with
}

const lifeHead = "| readings | gauge | no life is told, % | interval holds the truth, % of those told | reached before it | reached after it | a latest is told, % | middle error of the estimate, % of the life left | 8 of 10 errors |\n|---|---|---|---|---|---|---|---|---|\n"

const lifeIntro = `A tire has 9 to 11/32 in at the first reading and loses 0.12 to 0.35/32 in each 1,000
miles; it is read every 3,500 to 6,500 miles and is above 2.5/32 in at the last reading. An
interval without a latest end counts as holding the truth when the truth is not before its
earliest; a life that is not told counts for nothing. The bounds allow for a zero that is off by
up to 1/32 in at all visits, and for wear that comes 1.4 times as fast as it was, or as slow: so
they hold more often than 95 of 100 where neither is so. In brackets: how many of how many, and the 95
percent interval of Clopper and Pearson. What is not in this world is not in these numbers
either: gauges pressed askew, tires exchanged.

Wear that is uneven by itself, beyond the gauge's noise, is told from noise only with
several visits or a fine gauge: with few the intervals may be too narrow, as the table shows.
On the federal treadwear course the scatter about a straight line was about 2 mils, 0.06/32
in (journal study of 1975, abstract); the rows with 0.25/32 in are four times that.

`

// wornOut writes how often one reading tells that a tire is worn out.
func wornOut(t *testing.T, b *strings.Builder) {
	t.Helper()
	const tires = 2000
	fmt.Fprintf(b, "## Worn out or not, one reading\n\n")
	fmt.Fprintf(b, "| true depth, /32 in | gauge | said to be worn out, %% | against 2/32 in: below, %% | cannot tell, %% | above, %% |\n|---|---|---|---|---|---|\n")
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
			fmt.Fprintf(b, "| %g | %s | %.1f | %.1f | %.1f | %.1f |\n", true32, g.name, of(worn), of(told[measure.Below]), of(told[measure.CannotTell]), of(told[measure.Above]))
		}
	}
}
