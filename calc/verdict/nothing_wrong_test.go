package verdict

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Nothing is wrong at a wheel whose tread and pressure were read and whose outer sidewall was
// seen, where nothing found there asks for anything: the first that was reported, too.
func TestNothingIsWrongAtAWheel(t *testing.T) {
	p, other := layout.MustParse("1L"), layout.MustParse("1R")
	whole := func(at layout.Position) visit.Wheel {
		return visit.Wheel{Position: at, Depths: depths(7, 7, 7), Pressure: visit.Pressure{Of: unit.MustPressure(33, unit.PSI), Read: unit.PSI},
			Looked: []visit.Looked{{What: finding.LookedOuterSidewall}}}
	}
	with := func(do func(*visit.Wheel)) visit.Wheel { w := whole(p); do(&w); return w }
	at := func(u finding.Urgency, at layout.Position) []finding.Finding {
		return []finding.Finding{{Code: finding.DamageCut, Urgency: u, Positions: []layout.Position{at}}}
	}
	for _, c := range []struct {
		name  string
		w     visit.Wheel
		found []finding.Finding
		want  bool
	}{
		{"read and seen", whole(p), nil, true},
		{"a note", whole(p), at(finding.Note, p), true},
		{"something planned", whole(p), at(finding.Plan, p), false},
		{"something at another", whole(p), at(finding.ThisVisit, other), true},
		{"no tread", with(func(w *visit.Wheel) { w.Depths = nil }), nil, false},
		{"no pressure", with(func(w *visit.Wheel) { w.Pressure = visit.Pressure{} }), nil, false},
		{"not seen", with(func(w *visit.Wheel) { w.Looked = nil }), nil, false},
		{"its tread covered", with(func(w *visit.Wheel) {
			w.Looked = append(w.Looked, visit.Looked{What: finding.LookedTreadFullTurn, NotBecause: finding.NotLookedCovered})
		}), nil, false},
	} {
		for _, wheels := range [][]visit.Wheel{{c.w}, {whole(other), c.w}} {
			if got := NothingWrong(visit.Visit{Wheels: wheels}, Verdict{}, layout.MustParse("2R")); got {
				t.Errorf("%s: nothing is wrong at a wheel that nobody reported", c.name)
			}
			if got := NothingWrong(visit.Visit{Wheels: wheels}, verdictOf(c.found), p); got != c.want {
				t.Errorf("%s, one of %d: %v", c.name, len(wheels), got)
			}
		}
	}
}

func verdictOf(fs []finding.Finding) (v Verdict) {
	v.Findings = fs
	return v
}

// What holds a vehicle is told with the facts that it rests on.
func TestAHeadlineRestsOnFacts(t *testing.T) {
	v := car(33)
	v.Wheels[0].Observations = []visit.Observation{{Kind: finding.ObservedBulge}}
	out := Judge(v)
	if h := HeadlineOf(v, out); len(h.Facts) == 0 || h.Urgency != finding.BeforeDriving {
		t.Errorf("%+v", h)
	}
}
