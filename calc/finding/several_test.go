package finding

import (
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Of laws that may bind the one that asks for most is said, in whatever order they come:
// by when, then whether it is decided, then by how far. Laws and limits are invented.
func TestTheStrictestOfSeveralStandsFirst(t *testing.T) {
	law := func(id string, u Urgency, o measure.Outcome, measured, limit unit.Amount) Finding {
		there, ok := measured.To(limit.Unit)
		if !ok {
			t.Fatalf("%v is not measured in %v", measured, limit.Unit)
		}
		return Finding{Code: TreadLegalLimit, Urgency: u, Candidate: true, Rule: Rule{ID: id}, Outcome: o,
			Positions: []layout.Position{layout.MustParse("1R")}, Measured: there, Limit: limit, Margin: unit.Amount{Number: there.Number - limit.Number, Unit: limit.Unit}}
	}
	mm := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.Millimeters} }
	inch32 := func(n float64) unit.Amount { return unit.Amount{Number: n, Unit: unit.ThirtySecondsInch} }
	const visit, plan, below, open = ThisVisit, Plan, measure.Below, measure.CannotTell
	for _, row := range []struct {
		what          string
		first, second Finding
	}{
		{"the higher limit", law("b", visit, below, mm(0.5), mm(1.6)), law("a", visit, below, mm(0.5), mm(1))},
		{"the higher limit, and no tread left", law("b", visit, below, mm(0), mm(1.6)), law("a", visit, below, mm(0), mm(1))},
		{"no tread left, and limits in two units", law("b", visit, below, inch32(0), inch32(4)), law("a", visit, below, mm(0), mm(1.6))},
		{"the lower place, where each law looks at its own", law("b", visit, below, mm(0), mm(1)), law("a", visit, below, mm(1), mm(1.6))},
		{"decided before open, however far", law("b", visit, below, mm(1), mm(1.6)), law("a", visit, open, mm(0), mm(1))},
		{"sooner before later, however far", law("b", visit, open, mm(3.9), mm(4)), law("a", plan, below, mm(0), mm(3))},
		{"equal limits by their ids", law("a", visit, below, mm(0), mm(1)), law("b", visit, below, mm(0), mm(1))},
	} {
		for _, fs := range [][]Finding{{row.first, row.second}, {row.second, row.first}} {
			got := OneOfSeveral(fs)
			if len(got) != 1 || got[0].Rule.ID != row.first.Rule.ID || len(got[0].Others) != 1 || got[0].Others[0].ID != row.second.Rule.ID {
				t.Errorf("%s: %+v", row.what, got)
			}
		}
	}
}

// Laws that say the same beside the strictest are named by their ids, each once, in
// whatever order they come.
func TestOfSeveralTheOthersAreNamedInOrder(t *testing.T) {
	law := func(id string, u Urgency) Finding {
		return Finding{Code: TreadLegalLimit, Urgency: u, Candidate: true, Rule: Rule{ID: id}, Positions: []layout.Position{layout.MustParse("1R")}}
	}
	a, b, c, d := law("a", Plan), law("b", Plan), law("c", ThisVisit), law("d", Plan)
	for _, fs := range [][]Finding{{a, b, c, d}, {d, c, b, a}, {b, d, a, c}, {d, a, c, b, a}} {
		got := OneOfSeveral(fs)
		if len(got) != 1 || got[0].Rule.ID != "c" || len(got[0].Others) != 3 || got[0].Others[0].ID != "a" || got[0].Others[1].ID != "b" || got[0].Others[2].ID != "d" {
			t.Errorf("%+v", got)
		}
	}
}
