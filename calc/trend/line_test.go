package trend_test

import (
	"encoding/csv"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gonum.org/v1/gonum/stat"
	"gonum.org/v1/gonum/stat/distuv"

	"gaugebook.dev/calc/measure"
	. "gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

type row map[string]string

// meter of the rates, in units of a distance: a published x is one.
const meter = 1e6

func table(t *testing.T, name string) (out []row) {
	t.Helper()
	f, err := os.Open("../../testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	r.Comment = '#'
	rows, err := r.ReadAll()
	if err != nil || len(rows) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(rows), err)
	}
	for _, cells := range rows[1:] {
		m := row{}
		for i, column := range rows[0] {
			m[column] = cells[i]
		}
		out = append(out, m)
	}
	return out
}

func (r row) number(t *testing.T, column string) float64 {
	t.Helper()
	n, err := strconv.ParseFloat(r[column], 64)
	if err != nil {
		t.Fatalf("%s: %s is no number: %v", r["id"], column, err)
	}
	return n
}

// big is the 0.1 nm that stand for one in a data set of plain numbers: so many
// that rounding to whole ones is below the last digit of a double.
const big = 1e12

// plain makes points of numbers without noise: what is left is ordinary least
// squares. A number with decimals is kept exactly, tenths are whole counts of big.
func plain(x, y []float64) (ps []Point) {
	for i := range x {
		ps = append(ps, Point{Run: unit.Distance(x[i] * meter), Depth: measure.Value[unit.Depth]{Of: unit.Depth(math.Round(y[i]*10) * big / 10)}})
	}
	return ps
}

// digits is how many digits of two numbers agree: the log relative error that
// NIST judges software by.
func digits(got, want float64) float64 {
	if got == want {
		return 17
	}
	return -math.Log10(math.Abs(got-want) / math.Abs(want))
}

func published(t *testing.T, name, x, y string) (xs, ys []float64) {
	t.Helper()
	for _, r := range table(t, "published/"+name) {
		xs, ys = append(xs, r.number(t, x)), append(ys, r.number(t, y))
	}
	return xs, ys
}

// TestPublishedLines: least squares against certified values of NIST and reference
// values of a data set on treadwear, to all printed figures. NIST prints 15: at
// least 13 agree for Norris (its intercept is a small difference of large numbers)
// and 15 for NoInt2.
func TestPublishedLines(t *testing.T) {
	lines := map[string]Line{}
	fit := func(name string, ps []Point) {
		l, ok := Fit(ps)
		if !ok {
			t.Fatalf("no line %s", name)
		}
		lines[name] = l
	}
	x, y := published(t, "line_norris.csv", "x", "y")
	fit("norris", plain(x, y))
	// NoInt2 goes through the origin: a reading there that is known far better.
	through := plain([]float64{4, 5, 6}, []float64{3, 4, 4})
	for i := range through {
		through[i].Depth.Std = big
	}
	fit("noint2", append(through, Point{}))
	weight, groove := published(t, "treadwear_1953.csv", "weight", "groove")
	fit("groove-on-weight", plain(weight, groove))
	fit("weight-on-groove", plain(groove, weight))

	worst := map[string]float64{}
	for _, r := range table(t, "published/lines.csv") {
		l, ok := lines[r["line"]]
		if !ok {
			continue // Theil and Sen's, below
		}
		var reading measure.Value[unit.Depth]
		if r["x"] != "" {
			reading = l.At(unit.Distance(r.number(t, "x") * meter))
		}
		var got float64
		switch r["asks"] {
		case "rate":
			got = -float64(l.Rate().Of) / big
		case "rate-std":
			got = l.Rate().Std / big
		case "at", "at-0":
			got = float64(reading.Of) / big
		case "at-0-std":
			got = reading.Std / big
		case "residual-sd":
			got = l.Scatter() / big // over a noise of one step
		case "r-squared":
			got = float64(l.RSquared())
		case "band-low":
			got = (float64(reading.Of) - l.Quantile()*reading.Std) / big
		case "band-high":
			got = (float64(reading.Of) + l.Quantile()*reading.Std) / big
		default:
			t.Fatalf("%s asks %s", r["id"], r["asks"])
		}
		want := r.number(t, "want")
		agree := digits(got, want)
		// Printed figures, less the half unit of the last.
		needs := float64(len(strings.TrimLeft(strings.ReplaceAll(strings.Split(strings.TrimLeft(r["want"], "-"), "E")[0], ".", ""), "0"))) - 0.7
		if r["line"] == "norris" || r["line"] == "noint2" {
			needs = 12.9
			if have, ok := worst[r["line"]]; !ok || agree < have {
				worst[r["line"]] = agree
			}
		}
		t.Logf("%s: %.1f digits", r["id"], agree)
		if agree < needs {
			t.Errorf("%s: %.15g, published %s: %.1f digits agree, want %.1f (%s)", r["id"], got, r["want"], agree, needs, r["source"])
		}
	}
	if len(worst) != 2 {
		t.Errorf("certified lines compared: %v", worst)
	}
}

// TestPublishedStudent: the quantiles that widen an interval, as an appendix of
// the Code of Federal Regulations and a general-purpose library print them.
func TestPublishedStudent(t *testing.T) {
	for _, r := range table(t, "published/student_t.csv") {
		got := distuv.StudentsT{Sigma: 1, Nu: r.number(t, "free")}.Quantile(r.number(t, "one_sided"))
		if want := r.number(t, "quantile"); math.Abs(got-want) > r.number(t, "tolerance")*1.0001 {
			t.Errorf("%s: %.9g, published %s (%s)", r["id"], got, r["quantile"], r["source"])
		}
	}
}

// theilSen is a slope by the median of all pairs, with the intercepts by the
// median of y less slope times the median of x, and by the median of all
// intercepts.
func theilSen(x, y []float64) (slope, medians, joint float64) {
	var slopes, intercepts []float64
	for i := range x {
		for j := range i {
			if x[i] != x[j] {
				slopes = append(slopes, (y[i]-y[j])/(x[i]-x[j]))
			}
		}
	}
	slope = median(slopes)
	for i := range x {
		intercepts = append(intercepts, y[i]-slope*x[i])
	}
	return slope, median(y) - slope*median(x), median(intercepts)
}

func median(v []float64) float64 {
	v = slices.Sorted(slices.Values(v))
	return (v[(len(v)-1)/2] + v[len(v)/2]) / 2
}

// TestTheilSenAgrees: a robust line, itself held against published values, has its
// slope within two standard uncertainties of least squares on the same data.
func TestTheilSenAgrees(t *testing.T) {
	weight, groove := published(t, "treadwear_1953.csv", "weight", "groove")
	for _, c := range []struct {
		name string
		x, y []float64
	}{{"theil-sen-groove-on-weight", weight, groove}, {"theil-sen-weight-on-groove", groove, weight}} {
		slope, medians, joint := theilSen(c.x, c.y)
		l, _ := Fit(plain(c.x, c.y))
		if least := -float64(l.Rate().Of); math.Abs(slope*big-least) > 2*l.Rate().Std {
			t.Errorf("%s: %g, by least squares %g ± %g", c.name, slope, least/big, l.Rate().Std/big)
		}
		for _, r := range table(t, "published/lines.csv") {
			got, known := map[string]float64{"rate": slope, "median-of-y": medians, "joint": joint}[r["asks"]]
			if want := r.number(t, "want"); r["line"] == c.name && known && math.Abs(got-want) > 1e-11 {
				t.Errorf("%s: %.12f, published %s (%s)", r["id"], got, r["want"], r["source"])
			}
		}
	}
}

// TestWeighted: readings of different gauges, against the weighted regression of a
// general-purpose library.
func TestWeighted(t *testing.T) {
	x := []float64{0, 5000, 12000, 20000, 31000}
	y := []float64{82, 70, 61, 44, 20}
	u := []float64{3, 4, 1.5, 3, 4}
	var ps []Point
	w := make([]float64, len(u))
	for i := range x {
		ps = append(ps, Point{Run: unit.Distance(x[i] * meter), Depth: measure.Value[unit.Depth]{Of: unit.Depth(y[i] * 1e6), Std: u[i] * 1e6}})
		w[i] = 1 / (u[i] * u[i])
	}
	at0, slope := stat.LinearRegression(x, y, w, false)
	l, _ := Fit(ps)
	if got := -float64(l.Rate().Of) / 1e6; digits(got, slope) < 12 {
		t.Errorf("slope %.15g, want %.15g", got, slope)
	}
	if got := float64(l.At(0).Of) / 1e6; math.Abs(got-at0) > 1e-5 {
		t.Errorf("at 0 %.15g, want %.15g", got, at0)
	}
}
