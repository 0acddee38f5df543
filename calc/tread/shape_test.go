package tread_test

import (
	"math"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// A single reading whose neighbors across and round the tire are normal may be
// a misreading (common practice): kept for the limit, set aside for the shape.
func TestOddReading(t *testing.T) {
	u := unit.ThirtySecondsInch
	for _, c := range []struct {
		name     string
		readings []tread.Reading
		damaged  bool
		odd      [2]int // groove and station
	}{
		{"one low reading", around(u, []float64{7, 7, 7}, []float64{7, 2, 7}, []float64{7, 7, 7}), false, [2]int{2, 2}},
		{"two steps stand out", around(u, []float64{7, 7, 7}, []float64{7, 7, 7}, []float64{7, 7, 5}), false, [2]int{3, 3}},
		{"one high reading", around(u, []float64{7, 7}, []float64{7, 17}, []float64{7, 7}), false, [2]int{2, 2}},
		{"one step is noise", around(u, []float64{7, 7, 7}, []float64{7, 6, 7}, []float64{7, 7, 7}), false, [2]int{}},
		{"a flat place lowers every groove", around(u, []float64{7, 7, 7}, []float64{3, 3, 3}, []float64{7, 7, 7}), false, [2]int{}},
		{"a low groove is a shape", around(u, []float64{3, 7, 7}, []float64{3, 7, 7}, []float64{3, 7, 7}), false, [2]int{}},
		{"two odd readings are no single misreading", around(u, []float64{2, 7, 7}, []float64{7, 7, 2}, []float64{7, 7, 7}), false, [2]int{}},
		{"two stations cannot tell", around(u, []float64{7, 7, 7}, []float64{7, 2, 7}), false, [2]int{}},
		{"one groove cannot tell", around(u, []float64{7}, []float64{2}, []float64{7}), false, [2]int{}},
		{"damage seen makes it real", around(u, []float64{7, 7, 7}, []float64{7, 2, 7}, []float64{7, 7, 7}), true, [2]int{}},
		{"a repeat that agrees confirms it",
			append(around(u, []float64{7, 7, 7}, []float64{7, 2, 7}, []float64{7, 7, 7}), reading(2, 2, 3, u)), false, [2]int{}},
		{"a repeat that does not leaves it in doubt",
			append(around(u, []float64{7, 7, 7}, []float64{7, 2, 7}, []float64{7, 7, 7}), reading(2, 2, 7, u)), false, [2]int{2, 2}},
		{"two that do not leave it in doubt",
			append(around(u, []float64{7, 7, 7}, []float64{7, 2, 7}, []float64{7, 7, 7}), reading(2, 2, 7, u), reading(2, 2, 7, u)), false, [2]int{2, 2}},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := at("1L", thirtySecond, c.readings)
			w.Damaged = c.damaged
			r := judge(t, under(car, "us-light"), w)
			f, found := has(r, finding.TreadOddReading)
			if !found {
				if c.odd != [2]int{} {
					t.Fatal("not found")
				}
				return
			}
			if got := [2]int{f.Place.Groove, f.Place.Station}; got != c.odd {
				t.Fatalf("odd at %v, want %v", got, c.odd)
			}
			if f.ToSettle != finding.SettleMeasureAgain || f.Urgency != finding.ThisVisit {
				t.Errorf("%+v", f)
			}
		})
	}
}

func TestOddReadingGovernsTheLimitOnly(t *testing.T) {
	u := unit.ThirtySecondsInch
	r := judge(t, under(truck, "us-commercial"), at("2L", thirtySecond,
		around(u, []float64{7, 7, 7}, []float64{7, 1, 7}, []float64{7, 7, 7})))
	f, ok := has(r, finding.TreadLegalLimit)
	if !ok || f.Outcome != measure.Below || f.Measured.Number != 1 {
		t.Fatalf("the odd reading does not govern the limit: %+v", f)
	}
	if e, ok := says(f, finding.FactTreadUnconfirmed); !ok || !e.Against {
		t.Error("the limit's finding does not say that the reading is unconfirmed")
	}
	if !r.WornOut {
		t.Error("the odd reading does not govern the condition")
	}
	for column, mean := range r.Summary.Means {
		if mean.Of != in32(7) {
			t.Errorf("groove %d has the mean %v: the odd reading is not set aside", column, mean.Of.Amount(u))
		}
	}
	// Confirmed by a repeat, it counts for the shape as well: by its median.
	r = judge(t, under(truck, "us-commercial"), at("2L", thirtySecond, append(
		around(u, []float64{7, 7, 7}, []float64{7, 1, 7}, []float64{7, 7, 7}), reading(2, 2, 1, u))))
	if f, _ := has(r, finding.TreadLegalLimit); f.Outcome != measure.Below {
		t.Errorf("confirmed: %v", f.Outcome)
	}
	if got := r.Summary.Means[2].Of; got != in32(5) {
		t.Errorf("confirmed: mean %v, want 5/32 in", got.Amount(u))
	}
}

// Repeats: the limit by the lowest, the shape by the median.
func TestRepeats(t *testing.T) {
	u := unit.ThirtySecondsInch
	s, _ := tread.Summarize(at("1L", thirtySecond, []tread.Reading{reading(1, 1, 8, u), reading(1, 1, 5, u), reading(1, 1, 7, u)}))
	if s.Governing.Lowest != in32(5) || s.Governing.Median != in32(7) || s.Governing.Highest != in32(8) || s.Governing.Repeats != 3 {
		t.Errorf("%+v", s.Governing)
	}
	if s.Governing.At.AsRead.Number != 5 {
		t.Errorf("shown as read: %v", s.Governing.At.AsRead)
	}
	s, _ = tread.Summarize(at("1L", thirtySecond, []tread.Reading{reading(1, 1, 8, u), reading(1, 1, 5, u)}))
	if s.Governing.Median != in32(6.5) {
		t.Errorf("median of two: %v", s.Governing.Median.Amount(u))
	}
	s, _ = tread.Summarize(at("1L", thirtySecond, []tread.Reading{reading(1, 1, 5, u), reading(1, 1, 2, unit.Millimeters)}))
	if s.Governing.Lowest != inMM(2) || s.Governing.At.AsRead.Unit != unit.Millimeters {
		t.Errorf("read in two units: %+v", s.Governing)
	}
}

// The middle of several readings of one place: of an even number half way between the two in
// the middle.
func TestTheMiddleOfRepeats(t *testing.T) {
	u := unit.ThirtySecondsInch
	for _, c := range []struct {
		read []float64
		want float64
	}{
		{[]float64{5}, 5}, {[]float64{8, 5}, 6.5}, {[]float64{8, 5, 7}, 7}, {[]float64{9, 4, 5, 8}, 6.5}, {[]float64{9, 4, 5, 8, 7}, 7}, {[]float64{3, 9, 4, 5, 8, 7}, 6}, {[]float64{3, 9, 4, 5, 8, 7, 1}, 5},
	} {
		var rs []tread.Reading
		for _, n := range c.read {
			rs = append(rs, reading(1, 1, n, u))
		}
		if s, _ := tread.Summarize(at("1L", thirtySecond, rs)); s.Governing.Median != in32(c.want) {
			t.Errorf("%v: %v, want %v", c.read, s.Governing.Median.Amount(u), c.want)
		}
	}
}

// A place is known by two readings where they are nearer to each other than a shape is called
// (2/32 in, common practice); a column, where each of its places is.
func TestWhatWasReadTwice(t *testing.T) {
	u := unit.ThirtySecondsInch
	for _, c := range []struct {
		name           string
		rs             []tread.Reading
		first, governs bool
	}{
		{"once", []tread.Reading{reading(1, 1, 7, u), reading(2, 1, 5, u)}, false, false},
		{"twice alike", []tread.Reading{reading(1, 1, 7, u), reading(1, 1, 7, u), reading(2, 1, 8, u)}, true, true},
		{"nearly", []tread.Reading{reading(1, 1, 7, u), reading(1, 1, 8.5, u)}, true, true},
		{"as far apart as a shape", []tread.Reading{reading(1, 1, 7, u), reading(1, 1, 9, u)}, false, false},
		{"one of two places once", []tread.Reading{reading(1, 1, 7, u), reading(1, 1, 7, u), reading(1, 2, 7, u)}, false, true},
		{"another column twice", []tread.Reading{reading(1, 1, 7, u), reading(2, 1, 5, u), reading(2, 1, 5, u)}, false, true},
	} {
		s, _ := tread.Summarize(at("1L", thirtySecond, c.rs))
		if got := s.ReadTwice(1); got != c.first {
			t.Errorf("%s: the first column %v", c.name, got)
		}
		if got := s.ReadTwice(0); got != c.governs {
			t.Errorf("%s: the lowest place %v", c.name, got)
		}
	}
}

// The shape across a tread is its edges and what lies between them: of a gauge of 1/32
// in each with U of 0.99/32 in, as of one reading (JCGM 100:2008).
func TestEdges(t *testing.T) {
	across := func(ns ...float64) (rs []tread.Reading) {
		for i, n := range ns {
			r := reading(0, 1, n, unit.ThirtySecondsInch)
			r.Across = layout.Inboard + layout.Across(i)
			rs = append(rs, r)
		}
		return rs
	}
	for _, c := range []struct {
		name     string
		readings []tread.Reading
		want     []float64 // inboard, center, outboard in 32nds; nil when not known
	}{
		{"three places", across(5, 8, 6), []float64{5, 8, 6}},
		{"four grooves: the middle ones are the center", around(unit.ThirtySecondsInch, []float64{3, 6, 8, 5}), []float64{3, 7, 5}},
		{"two grooves have no center", around(unit.ThirtySecondsInch, []float64{5, none, 7}), nil},
		{"one place", across(5), nil},
		{"no place told", []tread.Reading{reading(0, 0, 5, unit.ThirtySecondsInch), reading(0, 0, 7, unit.ThirtySecondsInch)}, nil},
	} {
		s, _ := tread.Summarize(at("1L", thirtySecond, c.readings))
		in, center, out, ok := s.Edges()
		if ok != (c.want != nil) {
			t.Errorf("%s: known %v", c.name, ok)
			continue
		}
		for i, v := range []measure.Value[unit.Depth]{in, center, out} {
			if ok && (v.Of != in32(c.want[i]) || math.Abs(2*v.Std/float64(in32(1))-0.99) > 0.01) {
				t.Errorf("%s: %v ± %.3f, want %v/32 in", c.name, v.Of.Amount(unit.ThirtySecondsInch), 2*v.Std/float64(in32(1)), c.want[i])
			}
		}
	}
}

// A depth read round the tire is not surer than one reading: the zero of a
// gauge errs alike at every station.
func TestMeanIsNoSurer(t *testing.T) {
	s, _ := tread.Summarize(at("1L", thirtySecond, all(7, unit.ThirtySecondsInch)))
	for column, mean := range s.Means {
		if mean.Std != thirtySecond.Std() {
			t.Errorf("groove %d: standard uncertainty %v, want that of one reading, %v", column, mean.Std, thirtySecond.Std())
		}
	}
}

// More than 2/32 in between the tires of an axle is a plan; 1/32 in is noise
// (both common practice). The French order allows 5 mm.
func TestPair(t *testing.T) {
	inch, metric := unit.ThirtySecondsInch, unit.Millimeters
	places := [2]layout.Position{layout.MustParse("2L"), layout.MustParse("2R")}
	both := func(g measure.Gauge[unit.Depth], u unit.Unit, left, right float64, c tread.Context) []finding.Finding {
		l := judge(t, c, at("2L", g, all(left, u)))
		r := judge(t, c, at("2R", g, all(right, u)))
		return tread.Pair(c, l, r, places)
	}
	for _, c := range []struct {
		name        string
		context     tread.Context
		gauge       measure.Gauge[unit.Depth]
		in          unit.Unit
		left, right float64
		code        finding.Code
		outcome     measure.Outcome
		urgency     finding.Urgency
		lower       finding.Fact
	}{
		{"1/32 is noise", under(car, "us-light"), thirtySecond, inch, 7, 6, "", 0, 0, ""},
		{"2/32 is not more than 2/32", under(car, "us-light"), thirtySecond, inch, 7, 5, "", 0, 0, ""},
		{"exactly 2/32 is kept", under(car, "us-light"), exact, inch, 7, 5, "", 0, 0, ""},
		{"3/32 may be more than 2/32", under(car, "us-light"), thirtySecond, inch, 7, 4, finding.TreadAxleDifference, measure.CannotTell, finding.Plan, "tread.right-is-lower"},
		{"4/32 is", under(car, "us-light"), thirtySecond, inch, 3, 7, finding.TreadAxleDifference, measure.Above, finding.Plan, "tread.left-is-lower"},
		{"5 mm exactly is kept", under(car, "eu-fr"), exact, metric, 8, 3, "", 0, 0, ""},
		{"5.1 mm is not", under(car, "eu-fr"), exact, metric, 8.1, 3, finding.TreadAxleDifferenceLimit, measure.Above, finding.BeforeDriving, "tread.right-is-lower"},
		{"4.5 mm through a gauge is open", under(car, "eu-fr"), halfMM, metric, 3, 7.5, finding.TreadAxleDifferenceLimit, measure.CannotTell, finding.BeforeDriving, "tread.left-is-lower"},
		{"3 mm through a gauge is kept", under(car, "eu-fr"), halfMM, metric, 3, 6, "", 0, 0, ""},
		{"where the law may be another's", candidate(under(car, "eu-fr")), exact, metric, 8.1, 3, finding.TreadAxleDifferenceLimit, measure.Above, finding.ThisVisit, "tread.right-is-lower"},
	} {
		t.Run(c.name, func(t *testing.T) {
			var got finding.Finding
			for _, f := range both(c.gauge, c.in, c.left, c.right, c.context) {
				if f.Code == finding.TreadAxleDifferenceLimit || c.code != finding.TreadAxleDifferenceLimit && got.Code == "" && c.in == inch {
					got = f
				}
			}
			if got.Code != c.code || got.Outcome != c.outcome || got.Urgency != c.urgency {
				t.Fatalf("%+v, want %q", got, c.code)
			}
			if c.code == "" {
				return
			}
			if _, ok := says(got, c.lower); !ok {
				t.Errorf("lower tire: %+v, want %s", got.Evidence, c.lower)
			}
			if (got.Outcome == measure.CannotTell) != (got.ToSettle == finding.SettleFinerGauge) {
				t.Errorf("%v, settled by %q", got.Outcome, got.ToSettle)
			}
			if got.Candidate != c.context.Books[0].Candidate && got.Code == finding.TreadAxleDifferenceLimit {
				t.Errorf("candidate %v", got.Candidate)
			}
		})
	}
	if rulebook.Must("advice").Limit("axle-pair").Depth() != tread.Shape {
		t.Error("what is called a fault between two tires differs from what is called a shape")
	}
}
