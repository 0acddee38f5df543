package fitment

import (
	"math"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// duals compares the two tires of each dual pair: by diameter from a tape, else
// by tread within one design and size.
func (j *fitting) duals() {
	for _, inner := range j.road {
		outer, ok := j.wheel(inner.At.Mate())
		if inner.At.Dual != layout.Inner || !ok || j.temporary(inner) || j.temporary(outer) {
			continue
		}
		if d, ok := tapes(inner, outer); ok {
			j.dualByTape(d)
			continue
		}
		switch sameDesign(inner.Tire, outer.Tire) {
		case finding.No:
			f := practice(finding.MatchDualDesign, finding.ThisVisit, inner.At, outer.At)
			f.Outcome, f.ToSettle = measure.CannotTell, finding.SettleTapeCircumference
			j.find(f)
			continue
		case finding.Yes:
		default:
			j.ask(finding.AskSameDesign, inner.At, outer.At)
		}
		if d, ok := depths(inner, outer); ok {
			j.dualByTread(d)
		}
	}
}

// dualByTape compares diameters, circumference by pi, with the stricter figure
// of the trade; a legal or model figure is judged and cited beside it.
func (j *fitting) dualByTape(d difference[unit.Length]) {
	by := times(d.by, 1/math.Pi)
	at := []layout.Position{d.small.At, d.large.At}
	l := pairLimit(times(d.small.Taped.Circumference, 1/math.Pi).Of)
	c, tooMuch := over(by, l.Length())
	f := finding.Compared(finding.Finding{Code: finding.MatchDual, Urgency: finding.ThisVisit, Positions: at, Rule: book.RuleOf(l)}, by, l.Length(), l.Value.Unit, c)
	d.tapeWorth(&f)
	switch {
	case tooMuch:
		j.find(f)
	case c.Outcome == measure.Below && d.asTaped() == finding.Yes:
		j.Met = append(j.Met, Met{finding.CheckedMatchDual, at, f.Measured, f.Limit, f.Rule})
	}
	if d.asTaped() == finding.NotKnown {
		j.ask(finding.AskTapedHow, at...)
	}
	for _, b := range j.Books {
		for _, l := range b.About(rulebook.PairDiameter) {
			if l.AppliesTo(j.Layout, d.small.At) {
				j.apartByLaw(d, by, b.For(l), l)
			}
		}
	}
	if !tooMuch {
		j.largerInside(d.pair, float64(by.Of) > measure.Coverage*by.Std)
	}
}

// apartByLaw holds the diameters of two tires of a pair, or of an axle, against a law or
// model. It is open already when the limit lies within the uncertainty.
func (j *fitting) apartByLaw(d difference[unit.Length], by measure.Value[unit.Length], b rulebook.Applied, l rulebook.Limit) {
	limit, shown := l.Apart(times(d.large.Taped.Circumference, 1/math.Pi).Of), l.Value.Unit
	if shown == unit.Percent {
		shown = unit.Millimeters
	}
	c := measure.AtMost(by, limit)
	f := finding.Finding{Code: finding.MatchDualModelLimit, Urgency: finding.ThisVisit, Positions: []layout.Position{d.small.At, d.large.At}, Rule: b.RuleOf(l), Candidate: b.Candidate}
	if l.Authority == finding.LawInUse {
		f.Code = finding.MatchDualLegalLimit
		if c.Outcome == measure.Above && !b.Candidate {
			f.Urgency = finding.BeforeDriving
		}
	}
	if l.Subject == rulebook.AxleDiameter {
		f.Code = finding.MatchAxleLegalLimit
	}
	f = finding.Compared(f, by, limit, shown, c)
	if c.Outcome == measure.Below {
		if l.Subject == rulebook.AxleDiameter && d.asTaped() == finding.Yes {
			j.Met = append(j.Met, Met{finding.CheckedMatchAxle, f.Positions, f.Measured, f.Limit, f.Rule})
		}
		return
	}
	d.tapeWorth(&f)
	j.find(f)
}

// axles holds the diameters of the two single tires of an axle, as taped, against the law.
// A temporary spare is spared.
func (j *fitting) axles() {
	for _, left := range j.road {
		right, ok := j.wheel(left.At.Mirror())
		if left.At.Side != layout.Left || left.At.Dual != layout.Single || !ok || j.temporary(left) || j.temporary(right) {
			continue
		}
		d, ok := tapes(left, right)
		if !ok {
			continue
		}
		for _, b := range j.Books {
			for _, l := range b.About(rulebook.AxleDiameter) {
				if l.AppliesTo(j.Layout, left.At) {
					j.apartByLaw(d, times(d.by, 1/math.Pi), b.For(l), l)
					if d.asTaped() == finding.NotKnown {
						j.ask(finding.AskTapedHow, left.At, right.At)
					}
				}
			}
		}
	}
}

func (j *fitting) dualByTread(d difference[unit.Depth]) {
	l := book.Limit("dual-tread")
	at := []layout.Position{d.small.At, d.large.At}
	c, tooMuch := over(d.by, l.Depth())
	f := finding.Compared(finding.Finding{Code: finding.MatchDualTread, Urgency: finding.ThisVisit, Positions: at, Rule: book.RuleOf(l)}, d.by, l.Depth(), l.Value.Unit, c)
	d.treadWorth(&f)
	same := sameDesign(d.small.Tire, d.large.Tire) == finding.Yes
	switch {
	case tooMuch:
		j.find(f)
	case same && c.Outcome == measure.Below:
		j.Met = append(j.Met, Met{finding.CheckedMatchDualTread, at, f.Measured, f.Limit, f.Rule})
	}
	if same && !tooMuch {
		j.largerInside(d.pair, float64(d.by.Of) > measure.Coverage*d.by.Std)
	}
}

// largerInside: of a pair that matches, the larger or less worn tire goes
// outside (common practice).
func (j *fitting) largerInside(p pair, provable bool) {
	if provable && p.large.At.Dual == layout.Inner {
		j.find(practice(finding.MatchDualLargerInside, finding.Note, p.large.At, p.small.At))
	}
}
