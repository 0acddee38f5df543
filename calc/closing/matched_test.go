package closing

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/visit"
)

// Tires that do not go together are put right when each that had to go did, and not when
// one of them did (common practice: the label's size stays, of two seasons winter's).
func TestEachMisfitGoes(t *testing.T) {
	rear, other := layout.MustParse("2L"), layout.MustParse("2R")
	all := []layout.Position{left, right, rear, other}
	for _, c := range []struct {
		name    string
		code    finding.Code
		asLabel []layout.Position
		fitted  []layout.Position
		told    bool // the marking of what was fitted
		closed  bool
	}{
		{"the one that is not the label's", finding.FitmentSizesMixed, []layout.Position{right, rear, other}, []layout.Position{left}, true, true},
		{"one of two that are not", finding.FitmentSizesMixed, []layout.Position{rear, other}, []layout.Position{left}, true, false},
		{"both", finding.FitmentSizesMixed, []layout.Position{rear, other}, []layout.Position{left, right}, true, true},
		{"one that stays", finding.FitmentSizesMixed, []layout.Position{right, rear, other}, []layout.Position{right}, true, false},
		{"its marking is not told", finding.FitmentSizesMixed, []layout.Position{right, rear, other}, []layout.Position{left}, false, false},
		{"none stays", finding.FitmentSeasonOneAxle, nil, []layout.Position{left, right, rear}, true, false},
		{"all go", finding.FitmentSeasonOneAxle, nil, all, true, true},
	} {
		in := In{AsLabel: map[layout.Position]bool{}}
		for _, p := range c.asLabel {
			in.AsLabel[p] = true
		}
		for _, p := range all {
			w := visit.Wheel{Position: p}
			for _, f := range c.fitted {
				if f == p {
					w.Mended.Fitted, w.Mended.FittedMarking = true, c.told
				}
			}
			in.Visit.Wheels = append(in.Visit.Wheels, w)
		}
		if got := in.matched(finding.Finding{Code: c.code, Positions: all}); got != c.closed {
			t.Errorf("%s: %v", c.name, got)
		}
	}
}

// What is wrong with one tire alone is no mismatch: its own finding closes it.
func TestOneTireDoesNotMatchItself(t *testing.T) {
	w := visit.Wheel{Position: left, Mended: visit.Mended{Fitted: true, FittedMarking: true}}
	in := In{Visit: visit.Visit{Wheels: []visit.Wheel{w, {Position: right, Mended: w.Mended}}}, AsLabel: map[layout.Position]bool{}}
	if in.matched(finding.Finding{Code: finding.FitmentSizesMixed, Positions: []layout.Position{left}}) {
		t.Error("one is matched")
	}
	if !in.matched(finding.Finding{Code: finding.FitmentSizesMixed, Positions: []layout.Position{left, right}}) {
		t.Error("both went, and are not")
	}
	if in.matched(finding.Finding{Code: finding.WearToeIn, Positions: []layout.Position{left, right}}) {
		t.Error("a cause of wear is matched")
	}
}
