package wear

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// suspect is a cause that is weighed: evidence moves it up or down among the causes
// of the same shape. Weights are the trade's judgement (common practice): 3
// nearly settles it, 2 is strong, 1 leans. The score it starts with says how
// usual the cause is before anything else is known.
type suspect struct {
	code     finding.Code
	settle   finding.Settle
	score    int
	evidence []finding.Evidence
}

// ruledOut is the score at which a cause is no longer named, as long as a
// likelier one is.
const ruledOut = -3

// say adds evidence with its weight: positive for the cause, negative against it.
func (s *suspect) say(weight int, e finding.Fact, holds bool) {
	if !holds {
		return
	}
	s.score += weight
	s.evidence = append(s.evidence, finding.Evidence{Code: e, Against: weight < 0})
}

// ranked turns the suspects of one shape into findings, the likeliest first.
// Equal evidence gives equal rank. shape is the finding that measured it,
// without code. A shape that is there never goes without a cause.
func ranked(shape finding.Finding, suspects ...*suspect) []finding.Finding {
	suspects = slices.Clone(suspects)
	slices.SortFunc(suspects, func(a, b *suspect) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.code, b.code))
	})
	best := suspects[0].score
	suspects = slices.DeleteFunc(suspects, func(s *suspect) bool { return s.score <= ruledOut && s.score < best })
	var fs []finding.Finding
	for i, s := range suspects {
		f := shape
		f.Code, f.ToSettle = s.code, s.settle
		f.Positions = slices.Clone(shape.Positions)
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

// shapeOf writes a measured shape as the finding that its causes share. What both tires of
// an axle show alike may be less than a fault by what the gauge may be off by: then that is
// its limit.
func shapeOf(v depth, tires ...Tire) finding.Finding {
	l := advice.Limit("shape")
	f := finding.Finding{Urgency: finding.Plan, Positions: positions(tires...), Rule: advice.RuleOf(l), Outcome: measure.Above}
	v.Of = size(v)
	limit := fault()
	if v.Of < limit-rounding {
		limit -= unit.Depth(measure.Coverage * v.Std)
	}
	f.Measured, f.Limit = v.Of.Amount(l.Value.Unit).Rounded(), limit.Amount(l.Value.Unit).Rounded()
	f.Margin = (v.Of - limit).Amount(l.Value.Unit).Rounded()
	f.Uncertainty = unit.Depth(v.Std).Amount(l.Value.Unit).Rounded()
	if slices.ContainsFunc(tires, func(t Tire) bool { return t.Wore != t.At }) {
		f.Evidence = []finding.Evidence{{Code: finding.FactWearMadeBeforeItCameHere}}
	}
	return f
}

// seen writes what was seen or felt, and not measured.
func seen(code finding.Code, settle finding.Settle, urgency finding.Urgency, at ...layout.Position) finding.Finding {
	return finding.Finding{
		Code: code, Urgency: urgency, Positions: at, ToSettle: settle,
		Rule: finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory},
	}
}

// most is the largest of measured sizes, of equals the least sure, of those the first.
func most(vs ...depth) (worst depth) {
	for _, v := range vs {
		if size(v) > size(worst) || size(v) == size(worst) && v.Std > worst.Std {
			worst = v
		}
	}
	return worst
}

// miles is evidence that has a distance.
func miles(code finding.Fact, d unit.Distance) finding.Evidence {
	return finding.Evidence{Code: code, Amount: d.Amount(unit.Miles).Rounded()}
}
