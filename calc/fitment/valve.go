package fitment

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// Valve is a valve as it was found.
type Valve struct {
	RubberSnapIn  bool          // an ordinary one
	Rating        unit.Pressure // marked or known, cold; 0 when not told
	RatingUnit    unit.Unit
	AluminumStem  bool
	BrassCoreBare bool // brass without nickel plating
}

// ratingOf is the highest cold pressure a valve is made for: as marked, else by
// common practice for an ordinary rubber one. Of others it is not known.
func ratingOf(v Valve) (rating unit.Pressure, shown unit.Unit, rule finding.Rule, ok bool) {
	l := book.Limit("valve-snap-in")
	switch {
	case v.Rating > 0:
		return v.Rating, v.RatingUnit, finding.Rule{ID: "maker.valve-rating", Authority: finding.Maker, Citation: "marking of the valve", Known: finding.Read}, true
	case v.RubberSnapIn:
		return l.Pressure(), l.Value.Unit, book.RuleOf(l), true
	}
	return 0, unit.None, finding.Rule{}, false
}

// UnderRated tells that a valve is not made for a cold pressure. ok is false
// where its rating is not known.
func (v Valve) UnderRated(cold unit.Pressure) (under, ok bool) {
	rating, _, _, ok := ratingOf(v)
	return ok && measure.AtMost(measure.Exact(cold), rating).Outcome == measure.Above, ok
}

// valves: each against the highest cold pressure that the label asks for.
func (j *fitting) valves() {
	for _, w := range j.Wheels {
		if w.Valve.AluminumStem && w.Valve.BrassCoreBare {
			j.find(practice(finding.ValveCoreSeizes, finding.Note, w.At))
		}
		rating, shown, rule, known := ratingOf(w.Valve)
		if !known || w.Label == 0 {
			continue
		}
		asked := measure.Exact(w.Label)
		c := measure.AtMost(asked, rating)
		f := finding.Compared(finding.Finding{Code: finding.ValveUnderRated, Urgency: finding.ThisVisit, Rule: rule}, asked, rating, shown, c)
		f.Positions = append(f.Positions, w.At)
		if c.Outcome == measure.Above {
			j.find(f)
			continue
		}
		j.Met = append(j.Met, Met{finding.CheckedValveUnderRated, f.Positions, f.Measured, f.Limit, f.Rule})
	}
}
