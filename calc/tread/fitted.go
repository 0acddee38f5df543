package tread

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
)

// Fitted holds the tire that was put on at this visit, as its tread was left, against what
// a law asks of one that is sold or fitted, which may be more than of one in use. Where a
// book asks for a tire in line with the law in use, and where it asks for nothing, that is
// what it is held against. asks tells that a book has such a rule, whether a depth was
// read or not.
func Fitted(c Context, w Wheel) (r Result, asks bool) {
	if w.Position.Spare {
		return r, false
	}
	s, read := Summarize(w)
	r.Summary = s
	for _, b := range c.Books {
		for _, h := range fittingLimits(c, w, b) {
			asks = asks || h.by.Subject == rulebook.ToFit && !b.For(h.by).Candidate
			if read {
				r.fitting(w, b.For(h.by), h)
			}
		}
	}
	return r, asks
}

// toFit is a depth that a tire to be fitted has to have, and the rule that asks for it.
type toFit struct{ by, depth rulebook.Limit }

// fittingLimits are the depths that one book asks for of a tire to be fitted.
func fittingLimits(c Context, w Wheel, b rulebook.Applied) (all []toFit) {
	var use, own []rulebook.Limit
	for _, l := range b.Limits {
		switch {
		case !l.AppliesTo(c.Vehicle, w.Position) || l.Authority != finding.LawInUse:
		case l.Subject == rulebook.ToFit:
			own = append(own, l)
		case l.Subject == rulebook.TreadDepth && l.Winter == nil:
			use = append(use, l)
		}
	}
	for _, l := range own {
		if !l.Value.IsZero() {
			return []toFit{{l, l}}
		}
		for _, u := range use {
			all = append(all, toFit{l, u})
		}
	}
	if len(own) == 0 {
		for _, u := range use {
			all = append(all, toFit{u, u})
		}
	}
	return all
}

func (r *Result) fitting(w Wheel, b rulebook.Applied, h toFit) {
	st, ok := against(r.Summary, w, h.depth.Depth(), h.depth.Where)
	if !ok {
		return
	}
	f := finding.Compared(finding.Finding{Code: finding.TreadFittingLimit, Urgency: finding.BeforeDriving, Rule: b.RuleOf(h.by), Candidate: b.Candidate, Place: placeOf(st.cell)},
		w.Gauge.Read(st.cell.Lowest), h.depth.Depth(), h.depth.Value.Unit, st.compare)
	if st.compare.Outcome == measure.Above {
		r.Met = append(r.Met, Checked{finding.CheckedTreadFittingLimit, w.Position, f.Measured, f.Limit, f.Rule, b.Candidate})
		return
	}
	if b.Candidate {
		f.Urgency = finding.ThisVisit
	}
	f.Evidence = []finding.Evidence{{Code: finding.FactTreadAsRead, Amount: st.cell.At.AsRead}}
	if st.compare.Outcome == measure.CannotTell {
		f.ToSettle = st.settle
	}
	r.Findings = append(r.Findings, r.at(w, f))
}
