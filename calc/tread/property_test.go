package tread_test

import (
	"fmt"
	"math/rand/v2"
	"reflect"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

const rounds = 1000

// everyLaw judges under all the law there is, so that each pattern is walked.
func everyLaw(v layout.Vehicle, d *rand.Rand) tread.Context {
	c := tread.Context{Vehicle: v}
	for _, b := range rulebook.All() {
		if b.Country != "" {
			c.Books = append(c.Books, rulebook.Applied{Book: b, Candidate: d.IntN(2) == 0})
		}
	}
	if d.IntN(2) == 0 {
		c.AsOf = unit.Date{Year: 2025, Month: 1 + d.IntN(12), Day: 1}
	}
	return c
}

func anyContext(d *rand.Rand) tread.Context {
	v := layout.Vehicle{Class: layout.Class(d.IntN(int(layout.Motorhome) + 1)), Axles: make([]layout.Axle, 3)}
	if d.IntN(3) > 0 {
		v.GrossRating = unit.MustMass(float64(1000+d.IntN(20_000)), unit.Kilograms)
	}
	return everyLaw(v, d)
}

// anyWheel is a tire with readings here and there, in quarters of 1/32 in near
// the limits, some repeated, some without a place or with a distance.
func anyWheel(d *rand.Rand) tread.Wheel {
	w := tread.Wheel{
		Position:  layout.Position{Axle: 1 + d.IntN(3), Side: layout.Left + layout.Side(d.IntN(2))},
		Gauge:     []measure.Gauge[unit.Depth]{exact, thirtySecond, halfMM}[d.IntN(3)],
		BarsFlush: d.IntN(8) == 0, BarsClear: d.IntN(8) == 0, Damaged: d.IntN(8) == 0,
	}
	if d.IntN(3) == 0 {
		w.Breadth = unit.MustLength(160, unit.Millimeters)
	}
	if d.IntN(3) == 0 {
		w.New = map[int]unit.Depth{0: in32(11)}
	}
	about := d.IntN(24)
	for groove := range 4 {
		for station := range 5 {
			if d.IntN(4) == 0 {
				continue
			}
			r := reading(groove, station, float64(about+d.IntN(10))/4, unit.ThirtySecondsInch)
			if d.IntN(3) == 0 {
				at := unit.MustLength(float64(d.IntN(161)-80), unit.Millimeters)
				r.FromCenterLine = &at
			}
			w.Readings = append(w.Readings, r)
			if d.IntN(6) == 0 {
				w.Readings = append(w.Readings, reading(groove, station, float64(about+d.IntN(10))/4, unit.ThirtySecondsInch))
			}
		}
	}
	if len(w.Readings) == 0 {
		w.Readings = all(3, unit.ThirtySecondsInch)
	}
	return w
}

// worst ranks what was found of each rule: kept, open, below; the condition
// under its own code.
func worst(r tread.Result) map[string]int {
	rank := map[string]int{}
	for _, k := range r.Met {
		rank[string(k.Code)+k.Rule.ID] = 1
	}
	for _, f := range r.Findings {
		switch f.Code {
		case finding.TreadWornToBars:
			rank[string(f.Code)+f.Rule.ID] = 2
		case finding.TreadLegalLimit, finding.TreadModelLimit, finding.TreadCommonMinimum, finding.TreadRoadsideLimit, finding.TreadMajorDefect:
			rank[string(f.Code)+f.Rule.ID] = 2
			if f.Outcome == measure.Below {
				rank[string(f.Code)+f.Rule.ID] = 3
			}
		}
	}
	return rank
}

// neverBetter demands that nothing of what was found before is softer after.
func neverBetter(t *testing.T, what string, before, after tread.Result, w tread.Wheel) bool {
	t.Helper()
	then, now := worst(before), worst(after)
	for rule, rank := range then {
		if now[rule] < rank {
			t.Errorf("%s: %s was %d and is %d for %s", what, rule, rank, now[rule], show(w))
			return false
		}
	}
	if before.WornOut && !after.WornOut || before.BelowLaw && !after.BelowLaw {
		t.Errorf("%s: better than before for %s", what, show(w))
		return false
	}
	return true
}

func show(w tread.Wheel) (s string) {
	for _, r := range w.Readings {
		s += fmt.Sprintf("groove %d station %d %v; ", r.Groove, r.Station, r.AsRead)
	}
	return s
}

func mustJudge(c tread.Context, w tread.Wheel) tread.Result {
	r, ok := tread.Judge(c, w)
	if !ok {
		panic("no readings")
	}
	return r
}

func TestUnitsChangeNothing(t *testing.T) {
	d := dice()
	// What is shown as read is shown in the unit that was read.
	asRead := func(r tread.Result) tread.Result {
		for i := range r.Findings {
			f := &r.Findings[i]
			if f.Code == finding.TreadOddReading {
				f.Measured = unit.Amount{}
			}
			f.Evidence = slices.DeleteFunc(f.Evidence, func(e finding.Evidence) bool { return e.Code == finding.FactTreadAsRead })
		}
		r.Summary = tread.Summary{}
		return r
	}
	for range rounds {
		c, w := anyContext(d), anyWheel(d)
		metric := w
		metric.Readings = slices.Clone(w.Readings)
		for i, r := range metric.Readings {
			mm := r.Depth.In(unit.Millimeters)
			metric.Readings[i].Depth = inMM(mm)
			metric.Readings[i].AsRead = unit.Amount{Number: mm, Unit: unit.Millimeters}
		}
		if a, b := asRead(mustJudge(c, w)), asRead(mustJudge(c, metric)); !reflect.DeepEqual(a, b) {
			t.Fatalf("typed in millimeters, the answer differs for %s\n%+v\n%+v", show(w), a, b)
		}
	}
}

func TestOrderChangesNothing(t *testing.T) {
	d := dice()
	for range rounds {
		c, w := anyContext(d), anyWheel(d)
		shuffled := w
		shuffled.Readings = slices.Clone(w.Readings)
		d.Shuffle(len(w.Readings), func(i, j int) {
			shuffled.Readings[i], shuffled.Readings[j] = shuffled.Readings[j], shuffled.Readings[i]
		})
		if a, b := mustJudge(c, w), mustJudge(c, shuffled); !reflect.DeepEqual(a, b) {
			t.Fatalf("in another order, the answer differs for %s\n%+v\n%+v", show(w), a, b)
		}
	}
}

func TestRepeatRemovesNothing(t *testing.T) {
	d := dice()
	for range rounds {
		c, w := anyContext(d), anyWheel(d)
		more := w
		more.Readings = slices.Clone(w.Readings)
		again := w.Readings[d.IntN(len(w.Readings))]
		again.Depth = in32(float64(d.IntN(40)) / 2)
		again.AsRead = again.Depth.Amount(unit.ThirtySecondsInch)
		more.Readings = append(more.Readings, again)
		before, after := mustJudge(c, w), mustJudge(c, more)
		if !neverBetter(t, fmt.Sprintf("measured again as %v", again.AsRead), before, after, w) {
			return
		}
		if _, asked := has(before, finding.TreadUnlikelyDepth); asked {
			if _, still := has(after, finding.TreadUnlikelyDepth); !still {
				t.Fatalf("measured again as %v, an unlikely depth is forgotten for %s", again.AsRead, show(w))
			}
		}
	}
}

// Another reading may settle what was open, and never takes back what was proved.
func TestMoreReadingsTakeNothingBack(t *testing.T) {
	d := dice()
	for range rounds {
		c, w := anyContext(d), anyWheel(d)
		more := w
		more.Readings = append(slices.Clone(w.Readings), reading(1+d.IntN(4), 1+d.IntN(5), float64(d.IntN(40))/2, unit.ThirtySecondsInch))
		then, now := worst(mustJudge(c, w)), worst(mustJudge(c, more))
		for rule, rank := range then {
			if rank == 3 && now[rule] != 3 || rule[:len(finding.TreadWornToBars)] == string(finding.TreadWornToBars) && now[rule] < rank {
				t.Fatalf("%s was %d and is %d after one more reading for %s", rule, rank, now[rule], show(more))
			}
		}
	}
}

func TestLessTreadIsNeverBetter(t *testing.T) {
	d := dice()
	for range rounds {
		c, w := anyContext(d), anyWheel(d)
		worn := w
		worn.Readings = slices.Clone(w.Readings)
		for i, r := range worn.Readings {
			if d.IntN(2) == 0 {
				worn.Readings[i].Depth = max(0, r.Depth-in32(float64(d.IntN(8))/4))
				worn.Readings[i].AsRead = worn.Readings[i].Depth.Amount(unit.ThirtySecondsInch)
			}
		}
		before, after := mustJudge(c, w), mustJudge(c, worn)
		if !neverBetter(t, "worn further", before, after, worn) {
			return
		}
	}
}

func TestMirrorMirrors(t *testing.T) {
	d := dice()
	for range rounds {
		c, w := anyContext(d), anyWheel(d)
		other := w
		other.Position = w.Position.Mirror()
		a, b := mustJudge(c, w), mustJudge(c, other)
		for i := range b.Findings {
			for j, p := range b.Findings[i].Positions {
				b.Findings[i].Positions[j] = p.Mirror()
			}
		}
		for i := range b.Met {
			b.Met[i].Position = b.Met[i].Position.Mirror()
		}
		if !reflect.DeepEqual(a, b) {
			t.Fatalf("on the other side, the answer differs for %s\n%+v\n%+v", show(w), a, b)
		}
	}
}

// Two tires of an axle, exchanged, are the same pair.
func TestPairMirrors(t *testing.T) {
	d := dice()
	mirrored := map[finding.Fact]finding.Fact{"tread.left-is-lower": "tread.right-is-lower", "tread.right-is-lower": "tread.left-is-lower"}
	for range rounds {
		c := anyContext(d)
		a, b := mustJudge(c, anyWheel(d)), mustJudge(c, anyWheel(d))
		at := [2]layout.Position{layout.MustParse("2L"), layout.MustParse("2R")}
		one, two := tread.Pair(c, a, b, at), tread.Pair(c, b, a, at)
		for i := range two {
			two[i].Evidence[0].Code = mirrored[two[i].Evidence[0].Code]
		}
		if !reflect.DeepEqual(one, two) {
			t.Fatalf("mirrored, the pair differs:\n%+v\n%+v", one, two)
		}
	}
}

func TestTighterRulebookNeverFindsLess(t *testing.T) {
	d := dice()
	for range rounds {
		c, w := anyContext(d), anyWheel(d)
		tight := c
		tight.Books = nil
		for _, b := range c.Books {
			stricter := *b.Book
			stricter.Limits = slices.Clone(b.Limits)
			for i, l := range stricter.Limits {
				if l.Subject == rulebook.TreadDepth {
					stricter.Limits[i].Value.Number += float64(d.IntN(5)) / 4
				}
			}
			tight.Books = append(tight.Books, rulebook.Applied{Book: &stricter, Candidate: b.Candidate})
		}
		if !neverBetter(t, "under tighter rules", mustJudge(c, w), mustJudge(tight, w), w) {
			return
		}
	}
}
