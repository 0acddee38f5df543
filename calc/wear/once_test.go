package wear

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// A cause of two shapes is said once, as the likelier of them says it: the sooner, the
// higher in rank, the larger; with what speaks for and against it by either, each once.
func TestACauseOfTwoShapesIsSaidOnce(t *testing.T) {
	says := func(u finding.Urgency, rank int, measured float64, facts ...finding.Fact) finding.Finding {
		f := finding.Finding{Code: finding.WearToeIn, Urgency: u, Rank: rank, Measured: unit.Amount{Number: measured, Unit: unit.ThirtySecondsInch}, Positions: []layout.Position{layout.MustParse("1L")}}
		for _, fact := range facts {
			f.Evidence = append(f.Evidence, finding.Evidence{Code: fact})
		}
		return f
	}
	const a, b, c = finding.FactWearFeltFeathered, finding.FactWearFeltSmooth, finding.FactWearEdgeRounded
	for _, row := range []struct {
		name            string
		likelier, other finding.Finding
	}{
		{"the sooner", says(finding.ThisVisit, 2, 3, a, b), says(finding.Plan, 1, 4, b, c)},
		{"the higher in rank", says(finding.Plan, 1, 3, a, b), says(finding.Plan, 2, 4, b, c)},
		{"the larger", says(finding.Plan, 1, 4, a, b), says(finding.Plan, 1, 3, b, c)},
	} {
		for _, fs := range [][]finding.Finding{{row.likelier, row.other}, {row.other, row.likelier}} {
			j := &judge{}
			j.Findings = fs
			if j.once(); len(j.Findings) != 1 {
				t.Fatalf("%s: %d findings", row.name, len(j.Findings))
			}
			got := j.Findings[0]
			if got.Urgency != row.likelier.Urgency || got.Rank != row.likelier.Rank || got.Measured != row.likelier.Measured ||
				len(got.Evidence) != 3 || got.Evidence[0].Code != a || got.Evidence[1].Code != b || got.Evidence[2].Code != c {
				t.Errorf("%s: %+v", row.name, got)
			}
		}
	}
	elsewhere := says(finding.Plan, 1, 4, a)
	elsewhere.Positions = []layout.Position{layout.MustParse("1R")}
	j := &judge{}
	j.Findings = []finding.Finding{says(finding.Plan, 1, 4, a), elsewhere}
	if j.once(); len(j.Findings) != 2 {
		t.Errorf("of two tires: %+v", j.Findings)
	}
}

// Two tires have one shape where both lean the same way by something; one alone has its own.
func TestOneShapeOfTwoTires(t *testing.T) {
	for _, c := range []struct {
		leans []unit.Depth
		ok    bool
	}{
		{[]unit.Depth{2, 2}, true}, {[]unit.Depth{-2, -3}, true}, {[]unit.Depth{2, -2}, false}, {[]unit.Depth{-2, 2}, false}, {[]unit.Depth{0, -2}, false}, {[]unit.Depth{-2, 0}, false},
		{[]unit.Depth{0, 2}, false}, {[]unit.Depth{2, 0}, false}, {[]unit.Depth{0, 0}, false}, {[]unit.Depth{0}, true}, {[]unit.Depth{-1}, true},
	} {
		n := -1
		s, ok := oneShape(func(Tire) (depth, bool) { n++; return depth{Of: c.leans[n]}, true }, make([]Tire, len(c.leans))...)
		if ok != c.ok || ok && s.both != (len(c.leans) > 1) {
			t.Errorf("%v: %v, of both %v", c.leans, ok, s.both)
		}
	}
	if _, ok := oneShape(func(Tire) (depth, bool) { return depth{Of: 2}, false }, Tire{}); ok {
		t.Error("one that was not read has a shape")
	}
}
