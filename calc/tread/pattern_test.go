package tread_test

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

type patternCase struct {
	name     string
	readings []tread.Reading
	gauge    measure.Gauge[unit.Depth]
	want     measure.Outcome
	measured float64        // in the rule's unit, when a finding is wanted
	settle   finding.Settle // when open
}

func runPattern(t *testing.T, v layout.Vehicle, book, rule, source string, cases []patternCase) {
	t.Helper()
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			r := judge(t, under(v, book), at("1L", c.gauge, c.readings))
			if got := outcome(t, r, rule); got != c.want {
				t.Fatalf("%v, want %v (%s)", got, c.want, source)
			}
			f, found := ofRule(r, rule)
			if !found {
				return
			}
			if f.Measured.Number != c.measured {
				t.Errorf("decided by %v, want %v", f.Measured, c.measured)
			}
			if f.ToSettle != c.settle {
				t.Errorf("settled by %q, want %q", f.ToSettle, c.settle)
			}
			// The place that is named is one where that depth was read.
			for _, x := range c.readings {
				if x.Groove == f.Place.Groove && x.Station == f.Place.Station && x.Depth.Amount(f.Limit.Unit).Rounded() == f.Measured {
					return
				}
			}
			t.Errorf("%v was not read at %+v", f.Measured, f.Place)
		})
	}
}

// "Any two adjacent major grooves at three places about 120 degrees apart":
// 49 CFR 570.62(a).
func TestTwoGroovesAtThreePlaces(t *testing.T) {
	u := unit.ThirtySecondsInch
	repeat := func(rs []tread.Reading) []tread.Reading { return append(rs, rs...) }
	runPattern(t, truck, "us-heavy-model", "us-heavy-model.front-depth", "49 CFR 570.62(a)", []patternCase{
		{"one reading above keeps it", around(u, []float64{6}), exact, measure.Above, 0, ""},
		{"one reading under is not enough", around(u, []float64{3}), exact, measure.CannotTell, 3, finding.SettleTwoGroovesThreePlaces},
		{"three readings across one place are not enough", around(u, []float64{3, 3, 3}), exact, measure.CannotTell, 3, finding.SettleTwoGroovesThreePlaces},
		{"one groove at three places is not enough", around(u, []float64{3}, []float64{3}, []float64{3}), exact, measure.CannotTell, 3, finding.SettleTwoGroovesThreePlaces},
		{"two grooves at two places are not enough", around(u, []float64{3, 3}, []float64{3, 3}), exact, measure.CannotTell, 3, finding.SettleTwoGroovesThreePlaces},
		{"a repeat is no third place", repeat(around(u, []float64{3, 3}, []float64{3, 3})), exact, measure.CannotTell, 3, finding.SettleTwoGroovesThreePlaces},
		{"grooves that are not neighbors are not enough", around(u, []float64{3, none, 3}, []float64{3, none, 3}, []float64{3, none, 3}), exact, measure.CannotTell, 3, finding.SettleTwoGroovesThreePlaces},
		{"two neighbors at three places decide", around(u, []float64{3, 3}, []float64{3.5, 3}, []float64{3, 3}), exact, measure.Below, 3.5, ""},
		{"exactly at the limit is kept", around(u, []float64{4, 4}, []float64{3, 3}, []float64{3, 3}), exact, measure.Above, 0, ""},
		{"the deeper neighbor decides", around(u, []float64{3, 5}, []float64{3, 5}, []float64{3, 5}), exact, measure.Above, 0, ""},
		{"two low places of three keep it", around(u, []float64{3, 3}, []float64{3, 3}, []float64{6, 6}), exact, measure.Above, 0, ""},
		{"any pair decides", around(u, []float64{6, 6, 3, 3}, []float64{6, 6, 3, 3}, []float64{6, 6, 3, 3}), exact, measure.Below, 3, ""},
		{"three low places of four decide", around(u, []float64{3, 3}, []float64{3, 3}, []float64{3, 3}, []float64{8, 8}), exact, measure.Below, 3, ""},
		{"a kept pair does not excuse a groove read once",
			around(u, []float64{6, 6, 6, 3}, []float64{6, 6, 6, none}, []float64{6, 6, 6, none}), exact, measure.CannotTell, 3, finding.SettleTwoGroovesThreePlaces},
		{"two grooves read without a place are no third one",
			append(around(u, []float64{3, 3}, []float64{3, 3}), reading(1, 0, 3, u), reading(2, 0, 3, u)), exact, measure.CannotTell, 3, finding.SettleTwoGroovesThreePlaces},
		{"a kept pair does not excuse a reading without a place",
			append(around(u, []float64{6, 6}, []float64{6, 6}, []float64{6, 6}), reading(0, 0, 3, u)), exact, measure.CannotTell, 3, finding.SettleTwoGroovesThreePlaces},
		{"read whole, through a gauge", around(u, []float64{4, 4}, []float64{4, 4}, []float64{4, 4}), thirtySecond, measure.CannotTell, 4, finding.SettleFinerGauge},
	})
	// At the depth of the wear bars the rule looks at the bars first.
	w := at("2L", thirtySecond, all(2, u))
	for _, c := range []struct {
		flush, clear bool
		want         finding.Settle
	}{{false, false, finding.SettleLookAtBars}, {true, false, finding.SettleFinerGauge}, {false, true, finding.SettleFinerGauge}} {
		w.BarsFlush, w.BarsClear = c.flush, c.clear
		f, _ := ofRule(judge(t, under(truck, "us-heavy-model"), w), "us-heavy-model.other-depth")
		if f.Outcome != measure.CannotTell || f.ToSettle != c.want {
			t.Errorf("bars flush %v, clear %v: %v, settled by %q, want %q", c.flush, c.clear, f.Outcome, f.ToSettle, c.want)
		}
	}
}

// The patterns of States' own codes, each in the words of its code.
func TestPatternsOfStates(t *testing.T) {
	u := unit.ThirtySecondsInch
	runPattern(t, car, "us-nc", "us-nc.depth", "N.C. Gen. Stat. 20-122.1(a): two or more locations, two adjacent major tread grooves", []patternCase{
		{"two neighbors at two places decide", around(u, []float64{1, 1}, []float64{1.5, 1}), exact, measure.Below, 1.5, ""},
		{"one place is not enough", around(u, []float64{1, 1}, []float64{none, none}), exact, measure.CannotTell, 1, finding.SettleTwoGroovesTwoPlaces},
		{"one low place of three keeps it", around(u, []float64{1, 1}, []float64{6, 6}, []float64{6, 6}), exact, measure.Above, 0, ""},
		{"two low places of three decide", around(u, []float64{1, 1}, []float64{1, 1}, []float64{6, 6}), exact, measure.Below, 1, ""},
		{"grooves that are not neighbors are not enough", around(u, []float64{1, none, 1}, []float64{1, none, 1}), exact, measure.CannotTell, 1, finding.SettleTwoGroovesTwoPlaces},
	})
	runPattern(t, car, "us-wa", "us-wa.depth", "RCW 46.37.425: any two major tread grooves at three locations", []patternCase{
		{"two grooves far apart decide", around(u, []float64{1, 6, 1}, []float64{1, 6, 1}, []float64{1.5, 6, 1}), exact, measure.Below, 1.5, ""},
		{"one low groove keeps it", around(u, []float64{1, 6, 6}, []float64{1, 6, 6}, []float64{1, 6, 6}), exact, measure.Above, 0, ""},
		{"two places are not enough", around(u, []float64{1, 6, 1}, []float64{1, 6, 1}), exact, measure.CannotTell, 1, finding.SettleTwoGroovesThreePlaces},
		{"two low places of three keep it", around(u, []float64{1, 1}, []float64{1, 1}, []float64{6, 6}), exact, measure.Above, 0, ""},
	})
	runPattern(t, car, "us-mn", "us-mn.depth", "Minn. Stat. 169.723: the groove nearest the center at three locations", []patternCase{
		{"the center groove decides", around(u, []float64{6, 1, 6}, []float64{6, 1, 6}, []float64{6, 1.5, 6}), exact, measure.Below, 1.5, ""},
		{"shoulders are not asked about", around(u, []float64{1, 6, 1}, []float64{1, 6, 1}, []float64{1, 6, 1}), exact, measure.Above, 0, ""},
		{"two places are not enough", around(u, []float64{6, 1, 6}, []float64{6, 1, 6}), exact, measure.CannotTell, 1, finding.SettleCenterThreePlaces},
		{"of four grooves either of the two middle ones", around(u, []float64{6, 6, 1, 6}, []float64{6, 6, 1, 6}, []float64{6, 6, 1, 6}), exact, measure.Below, 1, ""},
		{"one groove alone has no center", around(u, []float64{1}, []float64{1}, []float64{1}), exact, measure.CannotTell, 1, finding.SettleCenterThreePlaces},
		{"a low groove of the center excuses no reading without a place",
			append(around(u, []float64{6, 6, 6}, []float64{6, 6, 6}, []float64{6, 6, 6}), reading(0, 0, 1, u)), exact, measure.CannotTell, 1, finding.SettleCenterThreePlaces},
	})
	runPattern(t, car, "us-va", "us-va.depth", "19VAC30-70-130: if either of two adjacent grooves has 2/32 in the tire passes", []patternCase{
		{"both under at one place decide", around(u, []float64{1, 1.5}), exact, measure.Below, 1.5, ""},
		{"either at the limit keeps it", around(u, []float64{1, 2}), exact, measure.Above, 0, ""},
		{"both under, where nobody said at which place", []tread.Reading{reading(1, 0, 1, u), reading(2, 0, 1.5, u)}, exact, measure.Below, 1.5, ""},
		{"each at a place of its own", []tread.Reading{reading(1, 1, 1, u), reading(2, 2, 1.5, u)}, exact, measure.CannotTell, 1, finding.SettleTwoAdjacentGrooves},
	})
	runPattern(t, car, "us-ga", "us-ga.depth", "O.C.G.A. 40-8-74(e)(1): in all major grooves", []patternCase{
		{"one groove under is enough", around(u, []float64{6, 1, 6}), exact, measure.Below, 1, ""},
	})
	runPattern(t, car, "ch", "ch.depth", "VTS Art. 58 Abs. 4: over the whole tread", []patternCase{
		{"the shoulder alone is enough", around(unit.Millimeters, []float64{1.5, 6, 6}), exact, measure.Below, 1.5, ""},
	})
}

// "At any point on a major tread groove": 49 CFR 393.75(b).
func TestAnyPoint(t *testing.T) {
	u := unit.ThirtySecondsInch
	runPattern(t, truck, "us-commercial", "us-commercial.front-depth", "49 CFR 393.75(b)", []patternCase{
		{"one point under is enough", around(u, []float64{9, 9, 9}, []float64{9, 3.9, 9}, []float64{9, 9, 9}), exact, measure.Below, 3.9, ""},
		{"at the limit is kept", around(u, []float64{9, 9, 9}, []float64{9, 4, 9}, []float64{9, 9, 9}), exact, measure.Above, 0, ""},
		{"through a gauge", around(u, []float64{4, 9}), thirtySecond, measure.CannotTell, 4, finding.SettleFinerGauge},
		{"under, through a gauge", around(u, []float64{3, 9}), thirtySecond, measure.Below, 3, ""},
	})
}

// A trailer has no front wheels in 49 CFR 393.75(b): 2/32 in holds on its first
// axle, and 4/32 in on the first axle of a bus.
func TestFrontWheels(t *testing.T) {
	low := all(3, unit.ThirtySecondsInch)
	bus := truck
	bus.Class = layout.Bus
	for _, c := range []struct {
		vehicle  layout.Vehicle
		position string
		below    bool
	}{{truck, "1L", true}, {truck, "2L", false}, {bus, "1R", true}, {trailer, "1L", false}} {
		r := judge(t, under(c.vehicle, "us-commercial"), at(c.position, exact, low))
		if r.BelowLaw != c.below {
			t.Errorf("class %d at %s, 3/32 in: below the law %v, want %v (49 CFR 393.75(b), (c))", c.vehicle.Class, c.position, r.BelowLaw, c.below)
		}
	}
}

// The central three-quarters of a breadth B lie from B/8 to 7B/8; of 160 mm,
// from 20 mm to 140 mm: 60 mm either side of the center line.
func TestCentralThreeQuarters(t *testing.T) {
	told := func(n, fromCenter float64) tread.Reading {
		r := reading(0, 0, n, unit.Millimeters)
		d := unit.MustLength(fromCenter, unit.Millimeters)
		r.FromCenterLine = &d
		return r
	}
	breadth := unit.MustLength(160, unit.Millimeters)
	for _, c := range []struct {
		name     string
		breadth  unit.Length
		readings []tread.Reading
		want     measure.Outcome
		counted  bool
	}{
		{"20 mm from the edge counts", breadth, []tread.Reading{told(1.5, -60), told(5, 0)}, measure.Below, false},
		{"140 mm from the edge counts", breadth, []tread.Reading{told(1.5, 60), told(5, 0)}, measure.Below, false},
		{"19.9 mm does not", breadth, []tread.Reading{told(1.5, -60.1), told(5, 0)}, measure.Above, false},
		{"140.1 mm does not", breadth, []tread.Reading{told(1.5, 60.1), told(5, 0)}, measure.Above, false},
		{"nothing read there", breadth, []tread.Reading{told(1.5, 70), told(5, -70)}, measure.NotCompared, false},
		{"the lowest outside hides none inside", breadth, []tread.Reading{told(0.5, 70), told(1.5, 0)}, measure.Below, false},
		{"no breadth told: counted as a main groove", 0, []tread.Reading{told(1.5, 70)}, measure.Below, true},
		{"no distance told: counted as a main groove", breadth, around(unit.Millimeters, []float64{1.5}), measure.Below, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			w := at("1L", exact, c.readings)
			w.Breadth = c.breadth
			r := judge(t, under(car, "uk-light"), w)
			if got := outcome(t, r, "uk-light.depth"); got != c.want {
				t.Fatalf("%v, want %v (reg. 27(4)(f))", got, c.want)
			}
			if f, ok := ofRule(r, "uk-light.depth"); ok {
				if _, counted := says(f, finding.FactTreadCountedAsMainGrooves); counted != c.counted {
					t.Errorf("said that grooves were counted: %v, want %v", counted, c.counted)
				}
			}
		})
	}
}

// "A continuous band of at least three-quarters of the breadth", wherever it
// lies, all round: reg. 27(4)(e).
func TestAnyBandOfThreeQuarters(t *testing.T) {
	u := unit.Millimeters
	runPattern(t, truck, "uk-heavy", "uk-heavy.depth", "reg. 27(4)(e)", []patternCase{
		{"all above", around(u, []float64{5, 5, 5, 5}), exact, measure.Above, 0, ""},
		{"an edge under: the band may leave it out", around(u, []float64{0.5, 5, 5, 5}), exact, measure.CannotTell, 0.5, finding.SettleBandOfThreeQuarters},
		{"the other edge under", around(u, []float64{5, 5, 5, 0.5}), exact, measure.CannotTell, 0.5, finding.SettleBandOfThreeQuarters},
		{"the middle under: every band holds it", around(u, []float64{5, 0.5, 0.5, 5}), exact, measure.Below, 0.5, ""},
		{"both edges under: a band leaves out one", around(u, []float64{0.5, 5, 5, 0.8}), exact, measure.Below, 0.8, ""},
		{"one place round the tire is enough", around(u, []float64{5, 5, 5}, []float64{5, 0.9, 5}, []float64{5, 5, 5}), exact, measure.Below, 0.9, ""},
		{"one groove is no band", around(u, []float64{0.5}), exact, measure.CannotTell, 0.5, finding.SettleBandOfThreeQuarters},
		{"two grooves are no band", around(u, []float64{0.5, 0.5}), exact, measure.CannotTell, 0.5, finding.SettleBandOfThreeQuarters},
		{"no place told", []tread.Reading{reading(0, 0, 0.5, u)}, exact, measure.CannotTell, 0.5, finding.SettleBandOfThreeQuarters},
		{"read whole, through a gauge", all(1, u), halfMM, measure.CannotTell, 1, finding.SettleFinerGauge},
	})
}

// "Of four points equally spaced round the tire, no more than one may show less
// than 1 mm": the French order, applying Directive 89/459/EEC.
func TestFourPoints(t *testing.T) {
	u := unit.Millimeters
	runPattern(t, truck, "eu-fr", "eu-fr.heavy-depth", "French order on tires in use", []patternCase{
		{"four above", around(u, []float64{5}, []float64{5}, []float64{5}, []float64{5}), exact, measure.Above, 0, ""},
		{"one may fail", around(u, []float64{5}, []float64{0.2}, []float64{5}, []float64{5}), exact, measure.Above, 0, ""},
		{"two may not", around(u, []float64{5}, []float64{0.2}, []float64{5}, []float64{0.9}), exact, measure.Below, 0.9, ""},
		{"the second at the limit is kept", around(u, []float64{5}, []float64{0.2}, []float64{5}, []float64{1}), exact, measure.Above, 0, ""},
		{"the lowest groove of each point counts", around(u, []float64{5, 0.5}, []float64{0.2, 5}, []float64{5, 5}, []float64{5, 5}), exact, measure.Below, 0.5, ""},
		{"three points are not enough", around(u, []float64{0.2}, []float64{0.2}, []float64{0.2}), exact, measure.CannotTell, 0.2, finding.SettleFourPoints},
		{"a reading without a place is no fourth one",
			append(around(u, []float64{0.2}, []float64{0.2}, []float64{5}), reading(1, 0, 0.2, u)), exact, measure.CannotTell, 0.2, finding.SettleFourPoints},
		{"a reading without a place stays open",
			append(around(u, []float64{5}, []float64{5}, []float64{5}, []float64{5}), reading(1, 0, 0.5, u)), exact, measure.CannotTell, 0.5, finding.SettleFourPoints},
		{"the second, through a gauge", around(u, []float64{5}, []float64{0.1}, []float64{5}, []float64{1.2}), halfMM, measure.CannotTell, 1.2, finding.SettleFinerGauge},
	})
}

// A low reading at a limit that protects someone is as urgent open as proved.
func TestOpenIsAsUrgent(t *testing.T) {
	for _, n := range []float64{0.5, 1, 1.6, 2} {
		r := judge(t, under(car, "uk-light"), at("1L", halfMM, all(n, unit.Millimeters)))
		f, ok := has(r, finding.TreadLegalLimit)
		if !ok || f.Urgency != finding.BeforeDriving || !r.BelowLaw {
			t.Errorf("%v mm under a law of 1.6 mm: %+v", n, f)
		}
	}
}
