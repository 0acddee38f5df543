package questions

import (
	"maps"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

func in32nds(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch} }

// Of several laws that may bind and are kept the strictest is told of each wheel: the one whose
// limit is nearest to what was measured; of equal ones the first by name. What binds for certain
// stays whatever else may.
func TestTheStrictestLawThatIsKept(t *testing.T) {
	left, right := layout.MustParse("1L"), layout.MustParse("1R")
	law := func(id string, measured, limit float64, may bool, at ...layout.Position) Checked {
		return Checked{Code: finding.CheckedTreadLegalLimit, Positions: at, Measured: in32nds(measured), Limit: in32nds(limit), Rule: finding.Rule{ID: id}, Candidate: may}
	}
	for _, c := range []struct {
		name string
		all  []Checked
		want map[string]int // wheels by law
	}{
		{"two limits", []Checked{law("a", 7, 2, true, left), law("b", 7, 4, true, left)}, map[string]int{"b": 1}},
		{"in the other order", []Checked{law("b", 7, 4, true, left), law("a", 7, 2, true, left)}, map[string]int{"b": 1}},
		{"each reads at its own place", []Checked{law("a", 8, 4, true, left), law("b", 4, 3, true, left)}, map[string]int{"b": 1}},
		{"equal", []Checked{law("b", 7, 4, true, left), law("a", 7, 4, true, left)}, map[string]int{"a": 1}},
		{"of two wheels", []Checked{law("a", 7, 2, true, left, right), law("b", 7, 4, true, left)}, map[string]int{"a": 1, "b": 1}},
		{"one binds", []Checked{law("a", 7, 2, false, left), law("b", 7, 4, true, left)}, map[string]int{"a": 1, "b": 1}},
		{"of another matter", []Checked{law("a", 7, 2, true, left), {Code: finding.CheckedTreadShopLimit, Positions: []layout.Position{left}, Measured: in32nds(7), Limit: in32nds(6), Candidate: true, Rule: finding.Rule{ID: "s"}}}, map[string]int{"a": 1, "s": 1}},
		{"nothing measured", []Checked{law("a", 0, 2, true, left), law("b", 7, 4, true, left)}, map[string]int{"b": 1}},
	} {
		got := map[string]int{}
		for _, k := range strictestKept(c.all) {
			got[k.Rule.ID] = len(k.Positions)
		}
		if !maps.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}

// summarized is a tire's tread as it was read today.
func summarized(w visit.Wheel) tread.Result {
	s, _ := tread.Summarize(tread.Wheel{Position: w.Position, Readings: w.Depths})
	return tread.Result{Summary: s}
}

// The course of a tire's depths runs back from today, column by column as today's reading has
// them: as it stood, or turned the other way round where its other sidewall faced out; readings
// by grooves and by places do not mix; the depth when new counts where the tire ran from new.
func TestTheCourseOfATire(t *testing.T) {
	across := func(n ...float64) []tread.Reading {
		return reading("1L", 0, unit.None, in32nds(n[0]), in32nds(n[1]), in32nds(n[2])).Depths
	}
	grooves := func(n ...float64) (all []tread.Reading) {
		for i, d := range n {
			all = append(all, tread.Reading{Groove: i + 1, Depth: unit.MustDepth(d, unit.ThirtySecondsInch), AsRead: in32nds(d)})
		}
		return all
	}
	miles := func(n float64) unit.Distance { return unit.MustDistance(n, unit.Miles) }
	ran := miles(30_000)
	in, out := int(layout.Inboard), int(layout.Outboard)
	for _, c := range []struct {
		name   string
		today  []tread.Reading
		before visit.Before
		isNew  map[int]unit.Depth
		onTire *unit.Distance
		want   map[int][]float64 // by column, today's first
	}{
		{"as it stood", across(5, 6, 7), visit.Before{Depths: across(8, 9, 10)}, nil, nil, map[int][]float64{in: {5, 8}, in + 1: {6, 9}, out: {7, 10}, lowestColumn: {5, 8}}},
		{"turned", across(5, 6, 7), visit.Before{Depths: across(8, 9, 10), Turned: true}, nil, nil, map[int][]float64{in: {5, 10}, in + 1: {6, 9}, out: {7, 8}, lowestColumn: {5, 8}}},
		{"by grooves, turned", grooves(5, 6, 7, 8), visit.Before{Depths: grooves(9, 10, 11, 12), Turned: true}, nil, nil, map[int][]float64{1: {5, 12}, 2: {6, 11}, 3: {7, 10}, 4: {8, 9}, lowestColumn: {5, 9}}},
		{"by grooves before", across(5, 6, 7), visit.Before{Depths: grooves(8, 9, 10)}, nil, nil, map[int][]float64{in: {5}, in + 1: {6}, out: {7}, lowestColumn: {5, 8}}},
		{"a column that is not read today", across(5, 6, 7)[:2], visit.Before{Depths: across(8, 9, 4)}, nil, nil, map[int][]float64{in: {5, 8}, in + 1: {6, 9}, lowestColumn: {5, 4}}},
		{"nothing read before", across(5, 6, 7), visit.Before{}, nil, nil, map[int][]float64{in: {5}, in + 1: {6}, out: {7}, lowestColumn: {5}}},
		{"from new", across(5, 6, 7), visit.Before{}, map[int]unit.Depth{0: unit.MustDepth(11, unit.ThirtySecondsInch)}, &ran, map[int][]float64{in: {5, 11}, in + 1: {6, 11}, out: {7, 11}, lowestColumn: {5, 11}}},
		{"from new by grooves", grooves(5, 6), visit.Before{}, map[int]unit.Depth{1: unit.MustDepth(10, unit.ThirtySecondsInch), 2: unit.MustDepth(11, unit.ThirtySecondsInch)}, &ran, map[int][]float64{1: {5, 10}, 2: {6, 11}, lowestColumn: {5}}},
		{"new depth told, and not how far it ran", across(5, 6, 7), visit.Before{}, map[int]unit.Depth{0: unit.MustDepth(11, unit.ThirtySecondsInch)}, nil, map[int][]float64{in: {5}, in + 1: {6}, out: {7}, lowestColumn: {5}}},
	} {
		w := visit.Wheel{Position: layout.MustParse("1L"), Depths: c.today}
		c.before.Ago, c.before.At = miles(20_000), w.Position
		w.Before, w.Tire.New, w.History.OnTire = []visit.Before{c.before}, c.isNew, c.onTire
		got := TrendIn{Treads: Treads{w.Position: summarized(w)}}.courses(w)
		if len(got) != len(c.want) {
			t.Errorf("%s: columns %v", c.name, slices.Sorted(maps.Keys(got)))
		}
		for col, depths := range c.want {
			points := got[col]
			if len(points) != len(depths) {
				t.Errorf("%s: %d points of column %d, want %d", c.name, len(points), col, len(depths))
				continue
			}
			for i, n := range depths {
				p := points[i]
				run := []float64{0, -20_000}[i]
				if p.Assumed {
					run = -30_000
				}
				if off := p.Depth.Of - unit.MustDepth(n, unit.ThirtySecondsInch); off > 10 || off < -10 || p.Run != miles(0)+unit.Distance(run)*miles(1) || p.Assumed != (c.onTire != nil && i == 1) {
					t.Errorf("%s: column %d, point %d: %v at %v", c.name, col, i, p.Depth.Of.In(unit.ThirtySecondsInch), p.Run.In(unit.Miles))
				}
			}
		}
	}
	for _, c := range []struct {
		column int
		groove bool
		want   finding.Place
	}{{lowestColumn, false, finding.Place{}}, {0, true, finding.Place{}}, {2, true, finding.Place{Groove: 2}}, {out, false, finding.Place{Across: layout.Outboard}}} {
		if got := columnPlace(c.column, c.groove); got != c.want {
			t.Errorf("column %d: %+v", c.column, got)
		}
	}
}

// A tire that ran from new is told to be so: what it lost while it was broken in is set aside.
func TestALifeFromNew(t *testing.T) {
	w := visit.Wheel{Position: layout.MustParse("1L"), Depths: reading("1L", 0, unit.None, in32nds(6), in32nds(6), in32nds(6)).Depths}
	for _, b := range []struct{ ago, depth float64 }{{5_000, 7}, {10_000, 8}, {15_000, 9}, {20_900, 11}} {
		w.Before = append(w.Before, visit.Before{Ago: unit.MustDistance(b.ago, unit.Miles), At: w.Position, Depths: reading("1L", 0, unit.None, in32nds(b.depth), in32nds(b.depth), in32nds(b.depth)).Depths})
	}
	in := TrendIn{Treads: Treads{w.Position: summarized(w)}}
	set := func() bool {
		return slices.ContainsFunc(in.follow(w)[int(layout.Inboard)].Aside, func(a trend.Aside) bool { return a.Why == trend.BreakingIn })
	}
	if set() {
		t.Error("nobody knows when it was new")
	}
	ran := unit.MustDistance(21_000, unit.Miles)
	if w.History.OnTire = &ran; !set() {
		t.Error("new 100 miles before")
	}
}

// All tires are out when the last of them is, and the first axle when its last one is; told
// only where the life of every one of them is.
func TestWhenAllTiresAreOut(t *testing.T) {
	lives := func(miles map[string]float64) map[layout.Position]life {
		out := map[layout.Position]life{}
		for at, n := range miles {
			out[layout.MustParse(at)] = lifeAt(n, 100, 100, lifeLimit{})
		}
		return out
	}
	for _, c := range []struct {
		name             string
		lives            map[layout.Position]life
		first, pair, set float64 // 0: not told
	}{
		{"all four", lives(map[string]float64{"1L": 10_000, "1R": 14_000, "2L": 30_000, "2R": 20_000}), 10_000, 14_000, 30_000},
		{"the rear first", lives(map[string]float64{"1L": 10_000, "1R": 34_000, "2L": 12_000, "2R": 11_000}), 10_000, 12_000, 34_000},
		{"one is not told", lives(map[string]float64{"1L": 10_000, "1R": 14_000, "2L": 30_000}), 0, 0, 0},
		{"none", nil, 0, 0, 0},
	} {
		tr := trending{unit: shownIn{unit.ThirtySecondsInch, unit.Miles}}
		tr.Laws.Vehicle = layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
		tr.setOut(c.lives)
		if len(tr.Findings) > 0 != (c.first > 0) {
			t.Errorf("%s: %+v", c.name, tr.Findings)
		}
		if c.first == 0 {
			continue
		}
		f := tr.Findings[0]
		if f.Code != finding.TrendSetOut || f.Measured.Number != c.first || f.Told(finding.FactTrendPairOut).Number != c.pair || f.Told(finding.FactTrendWholeSet).Number != c.set || len(f.Positions) != 4 {
			t.Errorf("%s: %+v", c.name, f)
		}
	}
	two := trending{unit: shownIn{unit.ThirtySecondsInch, unit.Miles}}
	two.Laws.Vehicle = layout.Vehicle{Class: layout.Trailer, Axles: make([]layout.Axle, 1)}
	if two.setOut(lives(map[string]float64{"1L": 10_000, "1R": 14_000})); len(two.Findings) != 1 {
		t.Errorf("a trailer of one axle: %+v", two.Findings)
	}
}

// What a tire brings to a rotation: whether it is finished, by a look, by its bars or by a law;
// whether it is worn so that it is heard; how it is built, and what of it was read.
func TestATireForARotation(t *testing.T) {
	p := layout.MustParse("1L")
	seven := reading("1L", 0, unit.None, in32nds(7), in32nds(7), in32nds(7))
	noisy := []finding.Observation{
		finding.ObservedScalloped, finding.ObservedEdgeWornSmooth, finding.ObservedEdgeRounded, finding.ObservedFeathered, finding.ObservedFeatheredSharpTowardVehicle,
		finding.ObservedFeatheredSharpAway, finding.ObservedHeelAndToe, finding.ObservedDiagonalDips,
	}
	for k := range map[finding.Observation]bool{finding.ObservedCurbScuff: false, finding.ObservedBulge: false} {
		if (RotationIn{}).tire(visit.Wheel{Position: p, Observations: []visit.Observation{{Kind: k}}}).Noisy {
			t.Errorf("%s is heard", k)
		}
	}
	for _, k := range noisy {
		if !(RotationIn{}).tire(visit.Wheel{Position: p, Observations: []visit.Observation{{Kind: k}}}).Noisy {
			t.Errorf("%s is not heard", k)
		}
	}
	for _, c := range []struct {
		name     string
		scrapped bool
		result   tread.Result
		want     bool
	}{
		{"sound", false, summarized(seven), false},
		{"done for", true, summarized(seven), true},
		{"at its bars", false, tread.Result{Summary: summarized(seven).Summary, WornOut: true}, true},
		{"below the law", false, tread.Result{Summary: summarized(seven).Summary, BelowLaw: true}, true},
	} {
		in := RotationIn{Treads: Treads{p: c.result}, Scrapped: map[layout.Position]bool{p: c.scrapped}}
		if got := in.tire(seven); got.Finished != c.want || got.Depth == nil || got.Mean == 0 {
			t.Errorf("%s: %+v", c.name, got)
		}
	}
	if got := (RotationIn{}).tire(seven); got.Depth != nil || got.Finished {
		t.Errorf("not judged: %+v", got)
	}
	for size, want := range map[string]string{"225/60R17 99T": "R", "225/45ZR17": "R", "7.50-16 D": "", "225/60D17": "D", "225/60B17": "B", "245/45RF18": "R"} {
		w := visit.Wheel{Position: p, Tire: visit.Tire{Size: size}}
		if got := (RotationIn{}).tire(w).Construction; got != want {
			t.Errorf("%s: %q", size, got)
		}
	}
}

// What the tires lost at each place is told between visits between which none was moved; where
// one place is not told so, by what each lost since it was new, if it ran nowhere else.
func TestWhatTheTiresLostAtEachPlace(t *testing.T) {
	names := []string{"1L", "1R", "2L", "2R"}
	miles := func(n float64) *unit.Distance { d := unit.MustDistance(n, unit.Miles); return &d }
	in := RotationIn{Vehicle: layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}, Treads: Treads{}}
	before := visit.DepthsBefore{Ago: *miles(10_000)}
	for _, at := range names {
		w := reading(at, 0, unit.None, in32nds(6), in32nds(6), in32nds(6))
		w.Tire.New = map[int]unit.Depth{0: unit.MustDepth(11, unit.ThirtySecondsInch)}
		w.History.OnTire, w.History.Here = miles(50_000), miles(50_000)
		in.Wheels = append(in.Wheels, w)
		in.Treads[w.Position] = summarized(w)
		before.Wheels = append(before.Wheels, visit.DepthsAt{Position: w.Position, Readings: reading(at, 0, unit.None, in32nds(8), in32nds(8), in32nds(8)).Depths})
	}
	lost := func(in RotationIn) (run, depth float64, n int) {
		for _, s := range in.stays() {
			run, depth, n = s.Run.In(unit.Miles), s.Lost.Of.In(unit.ThirtySecondsInch), n+1
		}
		return run, depth, n
	}
	is := func(name string, in RotationIn, run, depth float64, n int) {
		t.Helper()
		r, d, k := lost(in)
		if k != n || n > 0 && (r < run-1 || r > run+1 || d < depth-0.01 || d > depth+0.01) {
			t.Errorf("%s: %v/32 in %v miles at %d places, want %v in %v at %d", name, d, r, k, depth, run, n)
		}
	}
	is("never before: since new", in, 50_000, 5, 4)
	in.Rotating.Before = []visit.DepthsBefore{before}
	is("since the visit before", in, 10_000, 2, 4)
	doubt := in
	doubt.InDoubt = true
	is("in doubt since then", doubt, 50_000, 5, 4)
	moved := in
	moved.Rotating.Changed = []*unit.Distance{miles(5_000)}
	is("moved between", moved, 50_000, 5, 4)
	one := in
	one.Rotating.Before = []visit.DepthsBefore{{Ago: before.Ago, Wheels: before.Wheels[:3]}}
	is("one was not read then", one, 50_000, 5, 4)
	elsewhere := in
	elsewhere.Rotating.Before, elsewhere.Wheels = nil, slices.Clone(in.Wheels)
	elsewhere.Wheels[0].History.Here = miles(20_000)
	elsewhere.Wheels[1].History.OnTire = nil
	elsewhere.Wheels[2].Tire.New = nil
	is("three of them not since new", elsewhere, 50_000, 5, 1)
}
