package wear_test

import (
	"cmp"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/finding/findingtest"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/wear"
)

// fact is one more thing known of a vehicle.
type fact func(*wear.Vehicle)

func hand(places string, what ...string) fact {
	return func(v *wear.Vehicle) { on(v.Tires, places, felt(what...)) }
}

func found(places string, percents ...float64) fact {
	return func(v *wear.Vehicle) { on(v.Tires, places, earlier(percents...)) }
}

func reads(place string, in, mid, out float64) fact {
	return func(v *wear.Vehicle) { v.Tires = append(v.Tires, tire(place, in, mid, out)) }
}

func worked(kind wear.WorkKind, inRange finding.Answer, ago *unit.Distance) fact {
	return func(v *wear.Vehicle) {
		v.Work = append(v.Work, wear.Work{Kind: kind, InRange: inRange, Ago: ago})
	}
}

func loaded(a finding.Answer) fact { return func(v *wear.Vehicle) { v.Loaded = a } }

func also(fs ...fact) fact {
	return func(v *wear.Vehicle) {
		for _, f := range fs {
			f(v)
		}
	}
}

func notSteered(v *wear.Vehicle) {
	v.Layout.Axles = slices.Clone(v.Layout.Axles)
	v.Layout.Axles[0].Steered = false
}

func vehicle(v layout.Vehicle, ts ...wear.Tire) *wear.Vehicle {
	return &wear.Vehicle{Layout: v, Tires: whole(v, thirtySecond, ts), Gauge: thirtySecond}
}

// TestEvidence: every piece of evidence moves its cause the way a good
// technician would (common practice). Without the fact it is not said; with it,
// it is, and the cause stands no lower for it and no higher against it, or is
// no longer named.
func TestEvidence(t *testing.T) {
	inner := func() *wear.Vehicle { return vehicle(front, tire("1L", 5, 6, 7), tire("1R", 5, 6, 7)) }
	outer := func() *wear.Vehicle { return vehicle(front, tire("1L", 7, 6, 5), tire("1R", 7, 6, 5)) }
	alone := func() *wear.Vehicle { return vehicle(front, tire("1L", 5, 6, 7), tire("1R", 7, 7, 7)) }
	edges := func() *wear.Vehicle { return vehicle(front, tire("1L", 5, 7, 5), tire("1R", 5, 7, 5)) }
	one := func() *wear.Vehicle { return vehicle(front, tire("1L", 5, 7, 5)) }
	rearEdges := func() *wear.Vehicle { return vehicle(front, tire("2L", 5, 7, 5), tire("2R", 5, 7, 5)) }
	center := func() *wear.Vehicle { return vehicle(rear, tire("2L", 7, 5, 7), tire("2R", 7, 5, 7)) }
	odd := func() *wear.Vehicle { return vehicle(front, tire("1L", 7, 7, 7), tire("1R", 4, 4, 4)) }
	none := func(*wear.Vehicle) {}
	ago := ran(8000)
	const against, gone = true, true
	rows := []struct {
		shape           func() *wear.Vehicle
		before, now     fact
		cause           finding.Code
		evidence        finding.Fact
		against, absent bool
	}{
		// The hand: toe leaves ribs sharp, camber smooth,
		// cornering rounds the edge (common practice).
		{outer, none, hand("1L 1R", "toward"), finding.WearToeIn, "wear.felt-sharp-toward", false, false},
		{outer, none, hand("1L 1R", "toward"), finding.WearCamberPositive, "wear.felt-sharp-toward", against, false},
		{outer, hand("1L", "rounded"), hand("1L 1R", "toward"), finding.WearCornering, "wear.felt-sharp-toward", against, false},
		{inner, none, hand("1R", "away"), finding.WearToeOut, "wear.felt-sharp-away", false, false},
		{inner, none, hand("1L 1R", "away"), finding.WearCamberNegative, "wear.felt-sharp-away", against, false},
		{inner, none, hand("1L 1R", "toward"), finding.WearToeOut, "wear.felt-sharp-other-way", against, false},
		{inner, none, hand("1L 1R", "toward"), finding.WearCamberNegative, "wear.felt-sharp-other-way", false, false},
		{inner, none, hand("1L", "feathered"), finding.WearToeOut, "wear.felt-feathered", false, false},
		{inner, none, hand("1L", "feathered"), finding.WearCamberNegative, "wear.felt-feathered", against, false},
		{outer, hand("1L", "rounded"), hand("1L", "feathered"), finding.WearCornering, "wear.felt-feathered", against, false},
		{inner, none, hand("1L 1R", "smooth"), finding.WearToeOut, "wear.felt-smooth", against, false},
		{inner, none, hand("1L 1R", "smooth"), finding.WearCamberNegative, "wear.felt-smooth", false, false},
		{outer, none, hand("1L 1R", "rounded"), finding.WearCornering, "wear.edge-rounded", false, false},
		{outer, none, hand("1L 1R", "rounded"), finding.WearToeIn, "wear.edge-rounded", against, false},
		{outer, none, hand("1L 1R", "rounded"), finding.WearCamberPositive, "wear.edge-rounded", against, false},
		{outer, none, hand("1L 1R", "scuffs"), finding.WearCornering, "wear.slant-scuffs", false, false},
		{outer, none, hand("1L 1R", "rough"), finding.WearCornering, "wear.no-rounded-edge", against, false},
		{outer, hand("1L", "rounded"), notSteered, finding.WearCornering, "wear.not-a-steered-axle", against, false},
		// The rack and the work done (common practice).
		{inner, hand("1L", "away"), worked(wear.AlignmentMeasured, finding.Yes, nil), finding.WearToeOut, "wear.alignment-in-range", against, false},
		{inner, hand("1L", "smooth"), worked(wear.AlignmentMeasured, finding.Yes, ran(0)), finding.WearCamberNegative, "wear.alignment-in-range", against, false},
		{alone, none, worked(wear.AlignmentMeasured, finding.Yes, ran(10)), finding.WearOneCorner, "wear.alignment-in-range", against, false},
		{outer, hand("1L", "rounded"), worked(wear.AlignmentMeasured, finding.Yes, nil), finding.WearCornering, "wear.alignment-in-range", false, false},
		{inner, none, worked(wear.AlignmentMeasured, finding.Yes, ago), finding.WearToeOut, "wear.alignment-in-range-long-ago", against, false},
		{inner, none, worked(wear.AlignmentMeasured, finding.No, ago), finding.WearToeOut, "wear.alignment-out-of-range", false, false},
		{inner, none, worked(wear.AlignmentMeasured, finding.No, nil), finding.WearCamberNegative, "wear.alignment-out-of-range", false, false},
		{alone, none, worked(wear.AlignmentMeasured, finding.No, ran(10)), finding.WearOneCorner, "wear.alignment-out-of-range", false, false},
		{outer, hand("1L", "rounded"), worked(wear.AlignmentMeasured, finding.No, ago), finding.WearCornering, "wear.alignment-out-of-range", against, false},
		{inner, none, worked(wear.SteeringPart, 0, ago), finding.WearToeOut, "wear.steering-part-no-alignment", false, false},
		{inner, none, worked(wear.SuspensionPart, 0, ago), finding.WearToeOut, "wear.suspension-part-no-alignment", false, false},
		{inner, none, worked(wear.SuspensionPart, 0, nil), finding.WearCamberNegative, "wear.suspension-part-no-alignment", false, false},
		{inner, none, worked(wear.Lowered, 0, ago), finding.WearCamberNegative, "wear.ride-height-changed", false, false},
		// Both edges: pressure, load or cornering (common practice; TM
		// 9-2610-200-14 names underinflation).
		{edges, none, found("1L", 90), finding.WearUnderinflatedLong, "wear.found-low-earlier", false, false},
		{edges, found("1L", 85), found("1L", 80), finding.WearUnderinflatedLong, "wear.found-low-more-than-once", false, false},
		{edges, none, found("1L 1R", 100, 91), finding.WearUnderinflatedLong, "wear.found-right-earlier", against, false},
		{edges, none, also(reads("2L", 5, 7, 5), reads("2R", 7, 7, 7)), finding.WearUnderinflatedLong, "wear.other-axle-the-same", false, false},
		{edges, none, reads("2L", 7, 7, 7), finding.WearUnderinflatedLong, "wear.other-axle-even", against, false},
		{one, none, reads("1R", 7, 7, 7), finding.WearUnderinflatedLong, "wear.one-tire-only", false, false},
		{edges, none, found("1L 1R", 100, 100), finding.WearOverloaded, "wear.found-right-earlier", false, false},
		{edges, none, loaded(finding.Yes), finding.WearOverloaded, "wear.runs-loaded", false, false},
		{edges, none, loaded(finding.No), finding.WearOverloaded, "wear.does-not-run-loaded", against, false},
		{rearEdges, none, reads("1R", 7, 7, 7), finding.WearOverloaded, "wear.rear-axle-only", false, false},
		{one, none, reads("1R", 7, 7, 7), finding.WearOverloaded, "wear.one-tire-only", against, false},
		{edges, none, hand("1R", "rounded"), finding.WearCornering, "wear.edge-rounded", false, false},
		{edges, none, hand("1R", "scuffs"), finding.WearCornering, "wear.slant-scuffs", false, false},
		{edges, none, hand("1R", "smooth"), finding.WearCornering, "wear.no-rounded-edge", against, false},
		{edges, none, found("1L 1R", 100, 100), finding.WearCornering, "wear.found-right-earlier", false, false},
		{edges, none, reads("2L", 7, 7, 7), finding.WearCornering, "wear.other-axle-even", false, false},
		{edges, hand("1R", "rounded"), reads("2L", 5, 7, 5), finding.WearCornering, "wear.other-axle-the-same", against, false},
		{edges, hand("1R", "rounded"), notSteered, finding.WearCornering, "wear.not-a-steered-axle", against, false},
		{one, none, reads("1R", 7, 7, 7), finding.WearCornering, "wear.one-tire-only", against, false},
		// Center: load under the label's, torque, or too much air (common practice;
		// TM 9-2610-200-14 names overinflation).
		{center, none, found("2L", 110), finding.WearOverinflatedLong, "wear.found-high-earlier", false, false},
		{center, reads("1L", 7, 5, 7), found("2L", 100), finding.WearOverinflatedLong, "wear.found-right-earlier", against, false},
		{center, reads("1L", 7, 5, 7), found("2L", 80), finding.WearOverinflatedLong, "wear.found-low-earlier", against, false},
		{center, none, reads("1L", 7, 5, 7), finding.WearOverinflatedLong, "wear.other-axle-the-same", false, false},
		{center, none, reads("1L", 7, 7, 7), finding.WearOverinflatedLong, "wear.other-axle-even", against, false},
		{center, none, found("2L", 100), finding.WearLightLoadAtLabelPressure, "wear.found-right-earlier", false, false},
		{center, none, found("2L", 115), finding.WearLightLoadAtLabelPressure, "wear.found-high-earlier", against, false},
		{center, none, reads("1L", 7, 7, 7), finding.WearLightLoadAtLabelPressure, "wear.only-the-driven-axle", false, false},
		{center, none, func(v *wear.Vehicle) { v.Layout.Class = layout.LightTruck }, finding.WearLightLoadAtLabelPressure, "wear.label-for-a-load", false, false},
		{center, none, loaded(finding.No), finding.WearLightLoadAtLabelPressure, "wear.does-not-run-loaded", false, false},
		{center, none, loaded(finding.Yes), finding.WearLightLoadAtLabelPressure, "wear.runs-loaded", against, false},
		{center, none, reads("1L", 7, 7, 7), finding.WearDriveTorque, "wear.only-the-driven-axle", false, false},
		{center, none, reads("1L", 7, 5, 7), finding.WearDriveTorque, "wear.other-axle-the-same", against, false},
		{center, none, func(v *wear.Vehicle) { v.Layout = front }, finding.WearDriveTorque, "wear.not-a-driven-axle", against, gone},
		// One tire lower: another tire before a dragging brake (common practice).
		{odd, none, func(v *wear.Vehicle) { v.Tires[0].Made, v.Tires[1].Made = "3023", "1119" }, finding.WearDifferentTire, "wear.made-or-fitted-apart", false, false},
		{odd, none, func(v *wear.Vehicle) { v.Tires[0].Size, v.Tires[1].Size = "205/55R16", "215/55R16" }, finding.WearOneTireFaster, "wear.made-or-fitted-apart", against, gone},
		{odd, none, func(v *wear.Vehicle) { on(v.Tires, "1L 1R", run(20000, 20000)) }, finding.WearDifferentTire, "wear.made-and-fitted-together", against, gone},
		{odd, none, func(v *wear.Vehicle) { on(v.Tires, "1L 1R", run(20000, 20000)) }, finding.WearOneTireFaster, "wear.made-and-fitted-together", false, false},
		{odd, none, func(v *wear.Vehicle) { on(v.Tires, "1R", from("2R")) }, finding.WearOneTireFaster, "wear.too-few-miles-here", against, false},
	}
	told := map[string]bool{}
	for _, c := range rows {
		name := fmt.Sprintf("%s: %s", c.cause, c.evidence)
		v := c.shape()
		shaped := len(v.Tires)
		c.before(v)
		named := func(r wear.Result) []finding.Finding { // of the shape, not of the facts about other tires
			return slices.DeleteFunc(find(r, c.cause), func(f finding.Finding) bool {
				return !slices.ContainsFunc(v.Tires[:shaped], func(t wear.Tire) bool { return slices.Contains(f.Positions, t.At) })
			})
		}
		before := named(wear.Judge(*v))
		c.now(v)
		r := wear.Judge(*v)
		now := named(r)
		told[key(c.cause, c.evidence, c.against)] = true
		if len(before) == 0 {
			t.Errorf("%s: not named before", name)
			continue
		}
		if _, already := evidence(before[0], c.evidence); already {
			t.Errorf("%s: said before it is known", name)
		}
		if c.absent {
			if len(now) > 0 {
				t.Errorf("%s: still named: %s", name, said(r))
			}
			continue
		}
		if len(now) == 0 {
			t.Errorf("%s: no longer named: %s", name, said(r))
			continue
		}
		e, ok := evidence(now[0], c.evidence)
		if !ok || e.Against != c.against {
			t.Errorf("%s: said %v, against %v, want %v", name, ok, e.Against, c.against)
		}
		if up := now[0].Rank <= before[0].Rank; !c.against && !up || c.against && now[0].Rank < before[0].Rank {
			t.Errorf("%s: rank %d before, %d now", name, before[0].Rank, now[0].Rank)
		}
	}
	for _, k := range sayings(t) {
		if !told[k] {
			t.Errorf("no row for %s", k)
		}
	}
}

// TestNoEvidence: what proves nothing is not said (common practice).
func TestNoEvidence(t *testing.T) {
	edges := func(changes ...change) []wear.Tire {
		return []wear.Tire{tire("1L", 5, 7, 5, changes...), tire("1R", 5, 7, 5, changes...)}
	}
	for _, c := range []struct {
		name     string
		tires    []wear.Tire
		evidence finding.Fact
	}{
		{"right at one visit", edges(earlier(100)), "wear.found-right-earlier"},
		{"right at two visits and low at a third", edges(earlier(100, 100, 85)), "wear.found-right-earlier"},
		{"low at one visit", edges(earlier(85, 100)), "wear.found-low-more-than-once"},
		{"a pound or two low", edges(earlier(91)), "wear.found-low-earlier"},
		{"the molded rear tires are not even", append(edges(), tire("2L", 8, 10, 8), tire("2R", 8, 10, 8)), "wear.other-axle-even"},
		{"nor are they worn", append(edges(), tire("2L", 8, 10, 8), tire("2R", 8, 10, 8)), "wear.other-axle-the-same"},
		{"the rear tires not read", append(edges(), tire("2L", 7, 7, 7, unread)), "wear.other-axle-even"},
		{"the tire across from it not read", append(edges()[:1], tire("1R", 7, 7, 7, unread)), "wear.one-tire-only"},
		{"the tire across from it worn otherwise", append(edges()[:1], tire("1R", 7, 5, 7)), "wear.one-tire-only"},
		{"nobody felt the tread", edges(), "wear.no-rounded-edge"},
		{"sharp this way on one and that way on the other", []wear.Tire{tire("1L", 5, 6, 7, felt("away")), tire("1R", 5, 6, 7, felt("toward"))}, "wear.felt-sharp-other-way"},
		{"smooth on one and sharp on the other", []wear.Tire{tire("1L", 5, 6, 7, felt("away")), tire("1R", 5, 6, 7, felt("smooth"))}, "wear.felt-smooth"},
	} {
		for _, f := range judge(front, c.tires...).Findings {
			if _, ok := evidence(f, c.evidence); ok {
				t.Errorf("%s: %s says %s", c.name, f.Code, c.evidence)
			}
		}
	}
	r := judge(all, tire("1L", 7, 7, 7), tire("2L", 7, 5, 7))
	if _, ok := evidence(only(t, r, finding.WearDriveTorque), "wear.only-the-driven-axle"); ok {
		t.Error("all wheels driven, and one axle is the driven one")
	}
}

// key names a piece of evidence of a cause; toe-in and toe-out, and the two
// cambers, are heard on the same evidence.
func key(cause finding.Code, evidence finding.Fact, against bool) string {
	family := map[finding.Code]string{
		finding.WearToeIn: "toe", finding.WearToeOut: "toe", finding.WearCamberNegative: "camber", finding.WearCamberPositive: "camber",
		finding.WearOneCorner: "bend", finding.WearCornering: "corner", finding.WearUnderinflatedLong: "under", finding.WearOverloaded: "load",
		finding.WearLightLoadAtLabelPressure: "light", finding.WearDriveTorque: "torque", finding.WearOverinflatedLong: "over",
		finding.WearDifferentTire: "other", finding.WearOneTireFaster: "faster",
	}[cause]
	return fmt.Sprintf("%s %s against %v", family, evidence, against)
}

// sayings lists every piece of evidence that the code says of a cause.
func sayings(t *testing.T) (keys []string) {
	t.Helper()
	facts := findingtest.ByName(t, "../finding")
	paths, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			call, ok := n.(*ast.CallExpr)
			if !ok {
				return true
			}
			sel, ok := call.Fun.(*ast.SelectorExpr)
			if !ok || sel.Sel.Name != "say" {
				return true
			}
			cause := sel.X.(*ast.Ident).Name
			_, against := call.Args[0].(*ast.UnaryExpr)
			code := facts[call.Args[1].(*ast.SelectorExpr).Sel.Name]
			if code == "" {
				t.Fatalf("%s is no fact of wear", call.Args[1].(*ast.SelectorExpr).Sel.Name)
			}
			if cause == "s" { // said of toe, camber and bend alike
				cause = "toe"
			}
			keys = append(keys, fmt.Sprintf("%s %s against %v", cause, code, against))
			return true
		})
	}
	if len(keys) < 60 {
		t.Fatalf("only %d pieces of evidence found", len(keys))
	}
	return keys
}

// How the causes of one worn edge rank by what is known (common practice): a feather speaks
// for toe, a smooth edge for camber, a rounded one for cornering or a bend; what the rack
// found, or a part renewed without an alignment, for toe and camber before a bend; a vehicle
// that was lowered for camber. Causes that nothing tells apart stay equal.
func TestHowCausesOfOneEdgeRank(t *testing.T) {
	const in, out, corner, neg, pos, bend = "wear.toe-in", "wear.toe-out", "wear.cornering", "wear.camber-negative", "wear.camber-positive", "wear.one-corner"
	ago := ran(8000)
	facts := map[string]fact{
		"nothing": func(*wear.Vehicle) {}, "smooth": hand("1L 1R 2L", "smooth"), "rounded": hand("1L 1R 2L", "rounded"), "scuffs": hand("1L 1R 2L", "scuffs"),
		"in range": worked(wear.AlignmentMeasured, finding.Yes, nil), "in range long ago": worked(wear.AlignmentMeasured, finding.Yes, ago), "out of range": worked(wear.AlignmentMeasured, finding.No, ago),
		"a steering part": worked(wear.SteeringPart, 0, ago), "a suspension part": worked(wear.SuspensionPart, 0, ago), "lowered": worked(wear.Lowered, 0, ago),
	}
	for _, c := range []struct {
		shape *wear.Vehicle
		want  map[string]string // the causes by rank, of one rank by name
	}{
		{vehicle(front, tire("1L", 5, 6, 7), tire("1R", 5, 6, 7)), map[string]string{
			"nothing": neg + "=" + out, "smooth": neg + " " + out, "rounded": neg + "=" + out, "scuffs": neg + "=" + out, "in range": neg + "=" + out, "in range long ago": neg + "=" + out,
			"out of range": neg + "=" + out, "a steering part": out + " " + neg, "a suspension part": neg + "=" + out, "lowered": neg + " " + out,
		}},
		{vehicle(front, tire("1L", 7, 6, 5), tire("1R", 7, 6, 5)), map[string]string{
			"nothing": pos + "=" + in + " " + corner, "smooth": pos + " " + corner + "=" + in, "rounded": corner + " " + pos + "=" + in, "scuffs": pos + "=" + corner + "=" + in, "in range": corner,
			"in range long ago": pos + "=" + corner + "=" + in, "out of range": pos + "=" + in + " " + corner, "a steering part": in + " " + pos + " " + corner, "a suspension part": pos + "=" + in + " " + corner,
			"lowered": pos + "=" + in + " " + corner,
		}},
		{vehicle(front, tire("2L", 5, 6, 7), tire("2R", 7, 7, 7)), map[string]string{
			"nothing": neg + "=" + bend + "=" + out, "smooth": neg + " " + bend + " " + out, "rounded": bend + " " + neg + "=" + out, "scuffs": neg + "=" + bend + "=" + out, "in range": neg + "=" + bend + "=" + out,
			"in range long ago": neg + "=" + bend + "=" + out, "out of range": neg + "=" + out + " " + bend, "a steering part": out + " " + neg + "=" + bend, "a suspension part": neg + "=" + out + " " + bend,
			"lowered": neg + " " + bend + "=" + out,
		}},
	} {
		for name, want := range c.want {
			v := *c.shape
			v.Tires = slices.Clone(v.Tires)
			facts[name](&v)
			got, last := "", 0
			fs := wear.Judge(v).Findings
			slices.SortStableFunc(fs, func(a, b finding.Finding) int {
				return cmp.Or(a.Rank-b.Rank, cmp.Compare(a.Code, b.Code))
			})
			for _, f := range fs {
				switch {
				case got == "":
				case f.Rank == last:
					got += "="
				default:
					got += " "
				}
				got, last = got+string(f.Code), f.Rank
			}
			if got != want {
				t.Errorf("%s, %s: %q, want %q", at(fs[0]), name, got, want)
			}
		}
	}
}
