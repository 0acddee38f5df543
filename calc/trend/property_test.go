package trend_test

import (
	"math"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"pgregory.net/rapid"

	. "gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

// visits are readings of one tire that may wear, scatter and even grow.
func visits(t *rapid.T, least int) []Point {
	n := rapid.IntRange(least, 12).Draw(t, "visits")
	run := rapid.Float64Range(0, 90_000).Draw(t, "first odometer")
	d := rapid.Float64Range(3, 16).Draw(t, "first depth")
	var ps []Point
	for range n {
		p := at(run, math.Round(max(0, d)*100)/100, rapid.SampledFrom([]float64{0.2, byHand, 0.6}).Draw(t, "noise"))
		ps = append(ps, p)
		run += rapid.Float64Range(500, 12_000).Draw(t, "miles")
		d -= rapid.Float64Range(-1, 3).Draw(t, "wear")
	}
	return ps
}

func TestIntervalHoldsItsEstimate(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l, _ := Fit(visits(t, 2))
		c := l.Crossing(depth(rapid.Float64Range(0, 12).Draw(t, "limit")))
		slack := func(d *unit.Distance) float64 { return 1e-6 + 1e-9*math.Abs(float64(*d)) }
		for _, pair := range [][2]*unit.Distance{{c.Earliest, c.At}, {c.At, c.Latest}, {c.Earliest, c.Latest}} {
			if pair[0] != nil && pair[1] != nil && float64(*pair[0]-*pair[1]) > slack(pair[1]) {
				t.Fatalf("%v to %v", *pair[0], *pair[1])
			}
		}
		// The band itself says the same, to a hundredth of a micrometer.
		const slight = 100
		band := func(d unit.Distance) (low, high float64) {
			v := l.At(d)
			return float64(v.Of) - l.Quantile()*v.Std, float64(v.Of) + l.Quantile()*v.Std
		}
		if c.Earliest != nil && *c.Earliest < 1e8 {
			if low, _ := band(*c.Earliest + 10); low > float64(c.Limit)+slight {
				t.Fatalf("all above the limit after the earliest: %g over %d", low, c.Limit)
			}
		}
		if c.Latest != nil && *c.Latest > -1e8 {
			if _, high := band(*c.Latest - 10); high < float64(c.Limit)-slight {
				t.Fatalf("all below the limit before the latest: %g under %d", high, c.Limit)
			}
		}
	})
}

// With two visits and a limit that both readings are above, a lower second reading
// never puts off any end of the interval; with more visits, never the estimate.
func TestMoreWearIsNeverMoreLife(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := visits(t, 2)
		worn := slices.Clone(ps)
		last := len(ps) - 1
		worn[last].Depth.Of -= depth(rapid.Float64Range(0, 3).Draw(t, "more wear"))
		lowest := worn[0].Depth.Of
		for _, p := range worn {
			lowest = min(lowest, p.Depth.Of)
		}
		limit := lowest - depth(rapid.Float64Range(0.1, 2).Draw(t, "under all"))
		a, _ := Fit(ps)
		b, _ := Fit(worn)
		before, after := a.Crossing(limit), b.Crossing(limit)
		putOff := func(was, now *unit.Distance) bool {
			return was != nil && (now == nil || float64(*now-*was) > 1e-6*math.Abs(float64(*was))+1e-3)
		}
		if putOff(before.At, after.At) {
			t.Fatalf("at %v, with more wear %v", before.At, after.At)
		}
		early := after.Earliest != nil && putOff(before.Earliest, after.Earliest) // nil: at any time before
		if len(ps) == 2 && (early || putOff(before.Latest, after.Latest)) {
			t.Fatalf("%v to %v, with more wear %v to %v", before.Earliest, before.Latest, after.Earliest, after.Latest)
		}
	})
}

// One more reading that lies on the line, of whatever gauge, leaves the line where
// it is and its depth nowhere less sure.
func TestOneMoreReadingOnTheLine(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := visits(t, 2)
		a, _ := Fit(ps)
		next := miles(rapid.Float64Range(-20_000, 200_000).Draw(t, "at"))
		more := at(0, 0, rapid.SampledFrom([]float64{0.2, byHand, 3}).Draw(t, "gauge"))
		more.Run, more.Depth.Of = next, a.At(next).Of
		b, _ := Fit(append(slices.Clone(ps), more))
		for _, d := range []unit.Distance{0, ps[0].Run, next, miles(rapid.Float64Range(0, 300_000).Draw(t, "looked at"))} {
			was, now := a.At(d), b.At(d)
			if float64(now.Of-was.Of) > 1e3 || b.Quantile()*now.Std > a.Quantile()*was.Std*(1+1e-9) {
				t.Fatalf("at %v: %v ± %g, with one more %v ± %g", d, was.Of, a.Quantile()*was.Std, now.Of, b.Quantile()*now.Std)
			}
		}
	})
}

// An odometer that starts elsewhere moves the crossing and nothing else; the order
// of the readings changes nothing at all.
func TestOdometerAndOrder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := visits(t, 1)
		shuffled, moved := slices.Clone(ps), slices.Clone(ps)
		rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0)).Shuffle(len(ps), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		a := Follow(ps, nil)
		if b := Follow(shuffled, nil); !reflect.DeepEqual(a, b) {
			t.Fatalf("in another order %+v, was %+v", b, a)
		}
		by := miles(100_000)
		for i := range moved {
			moved[i].Run += by
		}
		m := Follow(moved, nil)
		if m.Known != a.Known || len(m.Used) != len(a.Used) || m.Linear != a.Linear {
			t.Fatalf("moved %+v, was %+v", m, a)
		}
		limit := depth(2)
		for _, pair := range [][2]*unit.Distance{{a.Line.Crossing(limit).At, m.Line.Crossing(limit).At}, {a.Line.Crossing(limit).Earliest, m.Line.Crossing(limit).Earliest}} {
			if a.Known && pair[0] != nil && math.Abs(float64(*pair[0])) < 1e8 && (pair[1] == nil || math.Abs(float64(*pair[1]-*pair[0]-by)) > 1e-6*math.Abs(float64(*pair[0]))+1) {
				t.Fatalf("moved to %v, was %v", pair[1], pair[0])
			}
		}
	})
}

// Read in millimeters and kilometers the answer is the same: a step of 0.1/32 in is
// 0.079375 mm exactly.
func TestUnitsChangeNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := visits(t, 2)
		metric := slices.Clone(ps)
		for i, p := range ps {
			d, err := unit.DistanceOf(p.Run.In(unit.Kilometers), unit.Kilometers)
			if err != nil {
				t.Fatal(err)
			}
			metric[i].Run = d
			if metric[i].Depth.Of, err = unit.DepthOf(p.Depth.Of.In(unit.Millimeters), unit.Millimeters); err != nil {
				t.Fatal(err)
			}
		}
		a, b := Follow(ps, nil), Follow(metric, nil)
		if a.Known != b.Known || a.Linear != b.Linear || len(a.Used) != len(b.Used) {
			t.Fatalf("%+v, in metric %+v", a, b)
		}
		if !a.Known {
			return
		}
		x, y := a.Line.Rate(), b.Line.Rate()
		if math.Abs(float64(x.Of-y.Of)) > 1e-9*(math.Abs(float64(x.Of))+x.Std) {
			t.Fatalf("rate %v, in metric %v", x, y)
		}
	})
}

// TestTheNewestReadingCounts: older readings never set the newest aside, and where it
// lies clearly under their line, nothing is foretold. The limit is reached no later
// than at the rate since the visit before.
func TestTheNewestReadingCounts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		ps := visits(t, 3)
		newest := &ps[len(ps)-1]
		drop := rapid.Float64Range(0, 8).Draw(t, "drop")
		newest.Depth.Of -= depth(drop)
		f := Follow(ps, nil)
		for _, a := range f.Aside {
			if a.Run == newest.Run {
				t.Fatalf("the newest reading is set aside: %+v", a)
			}
		}
		before := ps[len(ps)-2]
		rate := float64(before.Depth.Of-newest.Depth.Of) / float64(newest.Run-before.Run)
		for _, limit := range []float64{0, 2, 4} {
			left := newest.Depth.Of - depth(limit)
			ahead, ok := f.LookAgain(depth(limit))
			if left > 0 && rate > 0 && float64(left)/rate < 1e14 && (!ok || float64(ahead) > float64(left)/rate+1) {
				t.Fatalf("%g/32 in is looked for after %v, reached after %v", limit, ahead, float64(left)/rate)
			}
		}
	})
}

// TestWornOtherwise are histories of a car 10,000 miles apart, read in whole
// thirty-seconds: nothing is foretold of a tire that lost as much since the last
// visit as never before.
func TestWornOtherwise(t *testing.T) {
	for _, c := range []struct {
		depths    []float64
		foretells bool
	}{
		{[]float64{9, 9, 8, 3}, false},
		{[]float64{11, 10, 10, 4}, false},
		{[]float64{12, 12, 12, 9}, false},
		{[]float64{9, 8, 3}, false},
		{[]float64{9, 9, 8, 3, 3}, false},
		{[]float64{10, 9, 8, 7}, true},
		{[]float64{10, 9, 7, 6}, true},
		{[]float64{10, 8, 7, 5}, true},
		{[]float64{9, 7}, true},
	} {
		var ps []Point
		for i, d := range c.depths {
			ps = append(ps, at(10_000*float64(i), d, byHand))
		}
		if f := Follow(ps, nil); f.Foretells() != c.foretells {
			t.Errorf("%v: foretells %v, turned %+v, linear %v", c.depths, f.Foretells(), f.Turned, f.Linear)
		}
	}
}
