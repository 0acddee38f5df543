package wear_test

import (
	"cmp"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/wear"
)

func in32(n float64) unit.Depth { return unit.MustDepth(n, unit.ThirtySecondsInch) }

func ran(n float64) *unit.Distance {
	d := unit.MustDistance(n, unit.Miles)
	return &d
}

// Gauges with the repeatability of a practiced hand (common practice: 0.40/32 in
// for one graduated in 1/32 in, 0.15 mm for an electronic one), and two that no
// hand has: one that cannot err, and one that errs by a tire's worth.
var (
	thirtySecond = measure.Gauge[unit.Depth]{Resolution: in32(1), Repeatability: in32(0.4)}
	electronic   = measure.Gauge[unit.Depth]{Resolution: unit.MustDepth(0.01, unit.Millimeters), Repeatability: unit.MustDepth(0.15, unit.Millimeters)}
	perfect      = measure.Gauge[unit.Depth]{}
	coarse       = measure.Gauge[unit.Depth]{Resolution: in32(1), Repeatability: in32(1.3)}
)

func car(d layout.Drive, sizes ...string) layout.Vehicle {
	v := layout.Vehicle{Class: layout.PassengerCar, Drive: d, Axles: []layout.Axle{{Steered: true}, {}}}
	v.Axles[0].Driven = d == layout.FrontDrive || d == layout.AllDrive
	v.Axles[1].Driven = d == layout.RearDrive || d == layout.AllDrive
	for i, s := range sizes {
		v.Axles[i].Size = s
	}
	return v
}

var (
	front, rear, all = car(layout.FrontDrive), car(layout.RearDrive), car(layout.AllDrive)
	dually           = layout.Vehicle{Class: layout.LightTruck, Axles: []layout.Axle{{Steered: true}, {Dual: true, Driven: true}}}
	tractor          = layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{Steered: true}, {Dual: true, Driven: true}, {Dual: true, Driven: true}}}
	tandem           = layout.Vehicle{Class: layout.Trailer, Axles: make([]layout.Axle, 2)}
	straight         = layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{Steered: true}, {Driven: true}}}
)

func pickup() layout.Vehicle {
	v := rear
	v.Class = layout.LightTruck
	return v
}

type depth = measure.Value[unit.Depth]

// change alters a tire of a vehicle.
type change func(*wear.Tire)

// rings makes a tire from its depths across in thirty-seconds, one row for each
// station round it; what is read across is the means. All readings have been taken: a
// single row is what three places showed, each read twice.
func rings(at string, g measure.Gauge[unit.Depth], rows [][]float64, changes ...change) wear.Tire {
	p := layout.MustParse(at)
	t := wear.Tire{At: p, Wore: p}
	n := len(rows[0])
	sums := make([]unit.Depth, n)
	for _, row := range rows {
		ring := make([]unit.Depth, n)
		for i, d := range row {
			ring[i] = in32(d)
			sums[i] += ring[i]
		}
		if len(rows) > 1 {
			t.Rings = append(t.Rings, ring)
		}
	}
	var total unit.Depth
	for i := range sums {
		sums[i] /= unit.Depth(len(rows))
		total += sums[i]
	}
	t.Places, t.Readings = max(3, len(rows)), 2*max(3, len(rows))
	beside := func(d unit.Depth) depth { return depth{Of: d, Std: g.Scatter(t.Readings)} }
	mean := beside(total / unit.Depth(n))
	t.Mean = &mean
	if n == 3 {
		t.Across = &[3]depth{beside(sums[0]), beside(sums[1]), beside(sums[2])}
	}
	for _, c := range changes {
		c(&t)
	}
	return t
}

// tire makes a tire from its depths inboard, center and outboard.
func tire(at string, in, mid, out float64, changes ...change) wear.Tire {
	return rings(at, thirtySecond, [][]float64{{in, mid, out}}, changes...)
}

func whenNew(in, mid, out float64) change {
	return func(t *wear.Tire) { t.New = &[3]unit.Depth{in32(in), in32(mid), in32(out)} }
}

func run(onTire, here float64) change {
	return func(t *wear.Tire) { t.OnTire, t.Here = ran(onTire), ran(here) }
}

// from says where the tire was when its shape was made, "" when not known.
func from(at string) change {
	return func(t *wear.Tire) {
		t.Wore = layout.Position{}
		if at != "" {
			t.Wore = layout.MustParse(at)
		}
	}
}

func unread(t *wear.Tire) { t.Across, t.Mean = nil, nil }

// earlier are pressures found at earlier visits, in percent of the label.
func earlier(percents ...float64) change {
	return func(t *wear.Tire) {
		for _, p := range percents {
			t.Earlier = append(t.Earlier, wear.Pressure{Share: measure.Exact(unit.Ratio(p / 100))})
		}
	}
}

// felt reads what a hand or an eye found, as the check rows write it.
func felt(what ...string) change {
	return func(t *wear.Tire) {
		for _, w := range what {
			f := &t.Felt
			mark := map[string]*bool{
				"toward": &f.SharpToward, "away": &f.SharpAway, "feathered": &f.Feathered, "smooth": &f.Smooth,
				"rounded": &f.EdgeRounded, "scuffs": &f.SlantScuffs, "scalloped": &f.Scalloped, "heel": &f.HeelAndToe,
				"diagonal": &f.Diagonal, "flat": &f.FlatSpot, "rough": &f.Any, "gone-in": &t.EdgeGone[0], "gone-out": &t.EdgeGone[1],
			}[w]
			*mark = true
		}
		t.Felt.Any = t.Felt != (wear.Felt{})
	}
}

func judge(v layout.Vehicle, ts ...wear.Tire) wear.Result {
	return wear.Judge(wear.Vehicle{Layout: v, Tires: whole(v, thirtySecond, ts), Gauge: thirtySecond})
}

// whole adds even tires on the axles of which there are none, beside tires worn at an edge:
// without them nobody knows what sound tires of the vehicle show.
func whole(v layout.Vehicle, g measure.Gauge[unit.Depth], ts []wear.Tire) []wear.Tire {
	if !slices.ContainsFunc(ts, func(t wear.Tire) bool { return t.Across != nil && t.Across[0].Of != t.Across[2].Of }) {
		return ts
	}
	all := slices.Clone(ts)
	for _, p := range v.Positions() {
		if !slices.ContainsFunc(ts, func(t wear.Tire) bool { return t.At.Axle == p.Axle }) {
			even := rings(p.String(), g, [][]float64{{7, 7, 7}})
			if slices.ContainsFunc(ts, func(t wear.Tire) bool { return t.Wore == p }) {
				even.Wore = layout.Position{} // another tire wore there
			}
			all = append(all, even)
		}
	}
	return all
}

func find(r wear.Result, code finding.Code) []finding.Finding {
	var fs []finding.Finding
	for _, f := range r.Findings {
		if f.Code == code {
			fs = append(fs, f)
		}
	}
	return fs
}

// only gives the one finding of the code.
func only(t *testing.T, r wear.Result, code finding.Code) finding.Finding {
	t.Helper()
	fs := find(r, code)
	if len(fs) != 1 {
		t.Fatalf("%s is found %d times: %s", code, len(fs), said(r))
	}
	return fs[0]
}

// leads are the codes that are no cause or a likeliest one, sorted.
func leads(r wear.Result) []string {
	var codes []string
	for _, f := range r.Findings {
		if f.Rank <= 1 && !slices.Contains(codes, string(f.Code)) {
			codes = append(codes, string(f.Code))
		}
	}
	slices.Sort(codes)
	return codes
}

// said is a result in short: every finding with its rank.
func said(r wear.Result) string {
	var s []string
	for _, f := range r.Findings {
		s = append(s, f.String()+" rank "+strconv.Itoa(f.Rank))
	}
	return strings.Join(s, "; ")
}

func evidence(f finding.Finding, code finding.Fact) (finding.Evidence, bool) {
	for _, e := range f.Evidence {
		if e.Code == code {
			return e, true
		}
	}
	return finding.Evidence{}, false
}

func at(f finding.Finding) string {
	var names []string
	for _, p := range f.Positions {
		names = append(names, p.String())
	}
	return strings.Join(names, " ")
}

func sorted(fs []finding.Finding) []finding.Finding {
	fs = slices.Clone(fs)
	slices.SortStableFunc(fs, func(a, b finding.Finding) int {
		return cmp.Or(cmp.Compare(a.String(), b.String()), cmp.Compare(a.Rank, b.Rank), cmp.Compare(a.Place.Across, b.Place.Across))
	})
	return fs
}

// dice gives the same numbers at every run.
func dice() *rand.Rand { return rand.New(rand.NewPCG(7_937_500, 3000)) }
