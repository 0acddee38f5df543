package wear

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// suspect is a cause under trial: evidence moves it up or down among the causes
// of the same shape.
type suspect struct {
	code     finding.Code
	settle   finding.Code
	score    int
	evidence []finding.Evidence
}

// ruledOut is the score at which a cause is no longer named at all.
const ruledOut = -3

// say adds evidence with its weight: positive for the cause, negative against it.
func (s *suspect) say(weight int, e finding.Code, holds bool) {
	if !holds {
		return
	}
	s.score += weight
	s.evidence = append(s.evidence, finding.Evidence{Code: e, Against: weight < 0})
}

// ranked turns the suspects of one shape into findings. Equal evidence gives
// equal rank. shape is the finding that measured it, without code.
func ranked(shape finding.Finding, suspects ...*suspect) []finding.Finding {
	suspects = slices.DeleteFunc(suspects, func(s *suspect) bool { return s.score <= ruledOut })
	slices.SortStableFunc(suspects, func(a, b *suspect) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.code, b.code))
	})
	var fs []finding.Finding
	for i, s := range suspects {
		f := shape
		f.Code, f.ToSettle = s.code, s.settle
		f.Evidence = append(slices.Clone(shape.Evidence), s.evidence...)
		f.Rank = i + 1
		if i > 0 && s.score == suspects[i-1].score {
			f.Rank = fs[i-1].Rank
		}
		if f.Rank > 1 {
			f.Urgency = finding.Note
		}
		fs = append(fs, f)
	}
	return fs
}

func positions(ts ...Tire) []layout.Position {
	var ps []layout.Position
	for _, t := range ts {
		ps = append(ps, t.At)
	}
	slices.SortFunc(ps, layout.Position.Compare)
	return ps
}

// shape writes a measured shape as the finding that its causes share.
func shapeOf(v depth, at ...Tire) finding.Finding {
	l := advice.Limit("shape")
	f := finding.Finding{Urgency: finding.Plan, Positions: positions(at...), Rule: advice.RuleOf(l)}
	v.Of = size(v)
	f.Measured, f.Limit = v.Of.Amount(l.Value.Unit).Rounded(), l.Value
	f.Margin = (v.Of - l.Depth()).Amount(l.Value.Unit).Rounded()
	f.Uncertainty = unit.Depth(v.Std).Amount(l.Value.Unit).Rounded()
	f.Outcome = measure.Above
	return f
}
