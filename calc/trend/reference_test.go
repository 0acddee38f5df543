package trend_test

import (
	"math"
	"strconv"
	"strings"
	"testing"

	"gaugebook.dev/calc/measure"
	. "gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

func depth(n float64) unit.Depth {
	return unit.Depth(math.Round(n * float64(unit.MustDepth(1, unit.ThirtySecondsInch))))
}
func miles(n float64) unit.Distance { return unit.MustDistance(n, unit.Miles) }

// at is a reading in thirty-seconds of an inch, by a gauge of that noise.
func at(run, thirtySeconds, noise float64) Point {
	return Point{Run: miles(run), Depth: measure.Value[unit.Depth]{Of: depth(thirtySeconds), Std: noise * float64(depth(1))}}
}

// TestReferenceLife: rate, its uncertainty, and where a limit is met with its
// 95 percent interval, against general-purpose libraries on an independent route
// (testdata/reference/make_reference.py), to 1e-6 of what differs.
func TestReferenceLife(t *testing.T) {
	list := func(s string) (out []float64) {
		for f := range strings.FieldsSeq(s) {
			n, err := strconv.ParseFloat(f, 64)
			if err != nil {
				t.Fatal(err)
			}
			out = append(out, n)
		}
		return out
	}
	for _, r := range table(t, "reference/life.csv") {
		run, read, noise := list(r["miles_1000"]), list(r["depths_32nds"]), list(r["noise_32nds"])
		var ps []Point
		for i := range run {
			ps = append(ps, at(1000*run[i], read[i], noise[i]))
		}
		l, ok := Fit(ps)
		if !ok {
			t.Errorf("%s: no line", r["case"])
			continue
		}
		rate := l.Rate()
		perThousand := float64(unit.MustWearRate(1, unit.ThirtySecondsPer1000Miles))
		for _, c := range []struct {
			column string
			got    float64
		}{{"rate", float64(rate.Of) / perThousand}, {"rate_std", rate.Std / perThousand}, {"scatter", l.Scatter()}} {
			if want := r.number(t, c.column); math.Abs(c.got-want) > 1e-7 {
				t.Errorf("%s: %s %.9g, want %.9g", r["case"], c.column, c.got, want)
			}
		}
		crossing := l.Crossing(depth(r.number(t, "limit_32nds")))
		for column, got := range map[string]*unit.Distance{"at": crossing.At, "earliest": crossing.Earliest, "latest": crossing.Latest} {
			switch want, err := strconv.ParseFloat(r[column], 64); {
			case (err == nil) != (got != nil):
				t.Errorf("%s: %s %v, want %q", r["case"], column, got, r[column])
			case got != nil && math.Abs(got.In(unit.Miles)/1000-want) > 1e-6*math.Abs(want):
				t.Errorf("%s: %s %.9g, want %s", r["case"], column, got.In(unit.Miles)/1000, r[column])
			}
		}
	}
}
