package wear_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
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
	return &wear.Vehicle{Layout: v, Tires: ts, Gauge: thirtySecond}
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
		evidence        finding.Code
		against, absent bool
	}{
		// The hand: toe leaves ribs sharp, camber smooth,
		// cornering rounds the edge (common practice).
		{outer, none, hand("1L 1R", "toward"), wear.ToeIn, "wear.felt-sharp-toward", false, false},
		{outer, none, hand("1L 1R", "toward"), wear.CamberPositive, "wear.felt-sharp-toward", against, false},
		{outer, hand("1L", "rounded"), hand("1L 1R", "toward"), wear.Cornering, "wear.felt-sharp-toward", against, false},
		{inner, none, hand("1R", "away"), wear.ToeOut, "wear.felt-sharp-away", false, false},
		{inner, none, hand("1L 1R", "away"), wear.CamberNegative, "wear.felt-sharp-away", against, false},
		{inner, none, hand("1L 1R", "toward"), wear.ToeOut, "wear.felt-sharp-other-way", against, false},
		{inner, none, hand("1L 1R", "toward"), wear.CamberNegative, "wear.felt-sharp-other-way", false, false},
		{inner, none, hand("1L", "feathered"), wear.ToeOut, "wear.felt-feathered", false, false},
		{inner, none, hand("1L", "feathered"), wear.CamberNegative, "wear.felt-feathered", against, false},
		{outer, hand("1L", "rounded"), hand("1L", "feathered"), wear.Cornering, "wear.felt-feathered", against, false},
		{inner, none, hand("1L 1R", "smooth"), wear.ToeOut, "wear.felt-smooth", against, false},
		{inner, none, hand("1L 1R", "smooth"), wear.CamberNegative, "wear.felt-smooth", false, false},
		{outer, none, hand("1L 1R", "rounded"), wear.Cornering, "wear.edge-rounded", false, false},
		{outer, none, hand("1L 1R", "rounded"), wear.ToeIn, "wear.edge-rounded", against, false},
		{outer, none, hand("1L 1R", "rounded"), wear.CamberPositive, "wear.edge-rounded", against, false},
		{outer, none, hand("1L 1R", "scuffs"), wear.Cornering, "wear.slant-scuffs", false, false},
		{outer, none, hand("1L 1R", "rough"), wear.Cornering, "wear.no-rounded-edge", against, false},
		{outer, hand("1L", "rounded"), notSteered, wear.Cornering, "wear.not-a-steered-axle", against, false},
		// The rack and the work done (common practice).
		{inner, hand("1L", "away"), worked(wear.AlignmentMeasured, finding.Yes, nil), wear.ToeOut, "wear.alignment-in-range", against, false},
		{inner, hand("1L", "smooth"), worked(wear.AlignmentMeasured, finding.Yes, ran(0)), wear.CamberNegative, "wear.alignment-in-range", against, false},
		{alone, none, worked(wear.AlignmentMeasured, finding.Yes, ran(10)), wear.OneCorner, "wear.alignment-in-range", against, false},
		{outer, hand("1L", "rounded"), worked(wear.AlignmentMeasured, finding.Yes, nil), wear.Cornering, "wear.alignment-in-range", false, false},
		{inner, none, worked(wear.AlignmentMeasured, finding.Yes, ago), wear.ToeOut, "wear.alignment-in-range-long-ago", against, false},
		{inner, none, worked(wear.AlignmentMeasured, finding.No, ago), wear.ToeOut, "wear.alignment-out-of-range", false, false},
		{inner, none, worked(wear.AlignmentMeasured, finding.No, nil), wear.CamberNegative, "wear.alignment-out-of-range", false, false},
		{alone, none, worked(wear.AlignmentMeasured, finding.No, ran(10)), wear.OneCorner, "wear.alignment-out-of-range", false, false},
		{outer, hand("1L", "rounded"), worked(wear.AlignmentMeasured, finding.No, ago), wear.Cornering, "wear.alignment-out-of-range", against, false},
		{inner, none, worked(wear.SteeringPart, 0, ago), wear.ToeOut, "wear.steering-part-no-alignment", false, false},
		{inner, none, worked(wear.SuspensionPart, 0, ago), wear.ToeOut, "wear.suspension-part-no-alignment", false, false},
		{inner, none, worked(wear.SuspensionPart, 0, nil), wear.CamberNegative, "wear.suspension-part-no-alignment", false, false},
		{inner, none, worked(wear.Lowered, 0, ago), wear.CamberNegative, "wear.ride-height-changed", false, false},
		// Both edges: pressure, load or cornering (common practice; TM
		// 9-2610-200-14 names underinflation).
		{edges, none, found("1L", 90), wear.UnderinflatedLong, "wear.found-low-earlier", false, false},
		{edges, found("1L", 85), found("1L", 80), wear.UnderinflatedLong, "wear.found-low-more-than-once", false, false},
		{edges, none, found("1L 1R", 100, 91), wear.UnderinflatedLong, "wear.found-right-earlier", against, false},
		{edges, none, also(reads("2L", 5, 7, 5), reads("2R", 7, 7, 7)), wear.UnderinflatedLong, "wear.other-axle-the-same", false, false},
		{edges, none, reads("2L", 7, 7, 7), wear.UnderinflatedLong, "wear.other-axle-even", against, false},
		{one, none, reads("1R", 7, 7, 7), wear.UnderinflatedLong, "wear.one-tire-only", false, false},
		{edges, none, found("1L 1R", 100, 100), wear.Overloaded, "wear.found-right-earlier", false, false},
		{edges, none, loaded(finding.Yes), wear.Overloaded, "wear.runs-loaded", false, false},
		{edges, none, loaded(finding.No), wear.Overloaded, "wear.does-not-run-loaded", against, false},
		{rearEdges, none, reads("1R", 7, 7, 7), wear.Overloaded, "wear.rear-axle-only", false, false},
		{one, none, reads("1R", 7, 7, 7), wear.Overloaded, "wear.one-tire-only", against, false},
		{edges, none, hand("1R", "rounded"), wear.Cornering, "wear.edge-rounded", false, false},
		{edges, none, hand("1R", "scuffs"), wear.Cornering, "wear.slant-scuffs", false, false},
		{edges, none, hand("1R", "smooth"), wear.Cornering, "wear.no-rounded-edge", against, false},
		{edges, none, found("1L 1R", 100, 100), wear.Cornering, "wear.found-right-earlier", false, false},
		{edges, none, reads("2L", 7, 7, 7), wear.Cornering, "wear.other-axle-even", false, false},
		{edges, hand("1R", "rounded"), reads("2L", 5, 7, 5), wear.Cornering, "wear.other-axle-the-same", against, false},
		{edges, hand("1R", "rounded"), notSteered, wear.Cornering, "wear.not-a-steered-axle", against, false},
		{one, none, reads("1R", 7, 7, 7), wear.Cornering, "wear.one-tire-only", against, false},
		// Center: load under the label's, torque, or too much air (common practice;
		// TM 9-2610-200-14 names overinflation).
		{center, none, found("2L", 110), wear.OverinflatedLong, "wear.found-high-earlier", false, false},
		{center, reads("1L", 7, 5, 7), found("2L", 100), wear.OverinflatedLong, "wear.found-right-earlier", against, false},
		{center, reads("1L", 7, 5, 7), found("2L", 80), wear.OverinflatedLong, "wear.found-low-earlier", against, false},
		{center, none, reads("1L", 7, 5, 7), wear.OverinflatedLong, "wear.other-axle-the-same", false, false},
		{center, none, reads("1L", 7, 7, 7), wear.OverinflatedLong, "wear.other-axle-even", against, false},
		{center, none, found("2L", 100), wear.LightLoad, "wear.found-right-earlier", false, false},
		{center, none, found("2L", 115), wear.LightLoad, "wear.found-high-earlier", against, false},
		{center, none, reads("1L", 7, 7, 7), wear.LightLoad, "wear.only-the-driven-axle", false, false},
		{center, none, func(v *wear.Vehicle) { v.Layout.Class = layout.LightTruck }, wear.LightLoad, "wear.label-for-a-load", false, false},
		{center, none, loaded(finding.No), wear.LightLoad, "wear.does-not-run-loaded", false, false},
		{center, none, loaded(finding.Yes), wear.LightLoad, "wear.runs-loaded", against, false},
		{center, none, reads("1L", 7, 7, 7), wear.DriveTorque, "wear.only-the-driven-axle", false, false},
		{center, none, reads("1L", 7, 5, 7), wear.DriveTorque, "wear.other-axle-the-same", against, false},
		{center, none, func(v *wear.Vehicle) { v.Layout = front }, wear.DriveTorque, "wear.not-a-driven-axle", against, gone},
		// One tire lower: another tire before a dragging brake (common practice).
		{odd, none, func(v *wear.Vehicle) { v.Tires[0].Made, v.Tires[1].Made = "3023", "1119" }, wear.DifferentTire, "wear.made-or-fitted-apart", false, false},
		{odd, none, func(v *wear.Vehicle) { v.Tires[0].Size, v.Tires[1].Size = "205/55R16", "215/55R16" }, wear.OneTireFaster, "wear.made-or-fitted-apart", against, gone},
		{odd, none, func(v *wear.Vehicle) { on(v.Tires, "1L 1R", run(20000, 20000)) }, wear.DifferentTire, "wear.made-and-fitted-together", against, gone},
		{odd, none, func(v *wear.Vehicle) { on(v.Tires, "1L 1R", run(20000, 20000)) }, wear.OneTireFaster, "wear.made-and-fitted-together", false, false},
		{odd, none, func(v *wear.Vehicle) { on(v.Tires, "1R", from("2R")) }, wear.OneTireFaster, "wear.too-few-miles-here", against, false},
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
		evidence finding.Code
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
	if _, ok := evidence(only(t, r, wear.DriveTorque), "wear.only-the-driven-axle"); ok {
		t.Error("all wheels driven, and one axle is the driven one")
	}
}

// key names a piece of evidence of a cause; toe-in and toe-out, and the two
// cambers, are heard on the same evidence.
func key(cause, evidence finding.Code, against bool) string {
	family := map[finding.Code]string{
		wear.ToeIn: "toe", wear.ToeOut: "toe", wear.CamberNegative: "camber", wear.CamberPositive: "camber",
		wear.OneCorner: "bend", wear.Cornering: "corner", wear.UnderinflatedLong: "under", wear.Overloaded: "load",
		wear.LightLoad: "light", wear.DriveTorque: "torque", wear.OverinflatedLong: "over",
		wear.DifferentTire: "other", wear.OneTireFaster: "faster",
	}[cause]
	return fmt.Sprintf("%s %s against %v", family, evidence, against)
}

// sayings lists every piece of evidence that the code says of a cause.
func sayings(t *testing.T) (keys []string) {
	t.Helper()
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
			code, err := strconv.Unquote(call.Args[1].(*ast.BasicLit).Value)
			if err != nil {
				t.Fatal(err)
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
