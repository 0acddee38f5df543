package order

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
)

// replaceWorn: worn tires are replaced by axle, so that the two ends match.
// Where a law leaves the answer open, the replacement waits for the reading.
func (in In) replaceWorn(l *lines) {
	worn := map[layout.Position]bool{} // of all tires whose depth was found wanting, those that are worn out
	for _, f := range in.Findings {
		switch {
		case f.Code == finding.AgeLegalLimit && f.Outcome == measure.Above:
			l.add(do(finding.WorkTireReplace, f.Positions...)...)
		case f.Code == finding.TreadWinterMark && f.Urgency == finding.ThisVisit:
			l.add(do(finding.WorkTiresFitWinter, f.Positions...)...)
		case endsByDepth(f.Code):
			for _, p := range f.Positions {
				worn[p] = worn[p] || wornOut(f)
			}
		}
	}
	for _, f := range in.Findings {
		if decides(f) && !worn[f.Positions[0]] && !worn[f.Positions[0].Mirror()] {
			l.add(Work{Code: finding.WorkTireReplaceIfBelow, Positions: f.Positions, Condition: finding.WhenBelowOnceSettled})
		}
	}
	for _, p := range sorted(worn) {
		switch {
		case !worn[p]:
		case p.Spare || p.Dual != layout.Single:
			l.add(do(finding.WorkTireReplace, p)...)
		default:
			l.add(do(finding.WorkTiresReplacePair, p, p.Mirror())...)
		}
	}
	both := l.at(finding.WorkTiresReplacePair)
	l.without(func(k finding.WorkKind) bool { return k.Code == finding.WorkTireReplace }, func(_ finding.Work, p layout.Position) bool { return both[p] })
	l.add(in.reuse(sorted(worn))...)
}

// endsByDepth tells that a finding may end a tire's use by its depth.
func endsByDepth(code finding.Code) bool {
	switch code {
	case finding.TreadWornToBars, finding.TreadModelLimit, finding.TreadLegalLimit, finding.TreadWinterMinimum:
		return true
	}
	return false
}

// wornOut tells that a finding that may end a tire's use by its depth does.
func wornOut(f finding.Finding) bool {
	return f.Code == finding.TreadWornToBars ||
		f.Outcome == measure.Below && (f.Code != finding.TreadWinterMinimum || f.Urgency == finding.ThisVisit)
}

// reuse: a tire taken off a commercial front axle for its depth may serve where
// a lower limit applies, if it is sound and matches there.
func (in In) reuse(wanting []layout.Position) (all []Work) {
	for _, p := range wanting {
		r := in.Facts.Treads[p]
		if !in.Visit.Vehicle.Front(p) || in.Facts.Scrapped[p] || r.WornOut || len(r.Summary.Cells) == 0 {
			continue
		}
		for _, b := range in.Books {
			if b.Reuse == "" {
				continue
			}
			if measure.AtLeast(r.Summary.Reading, b.Limit(b.Reuse).Depth()).Outcome == measure.Above {
				all = append(all, Work{Code: finding.WorkTireReuseElsewhere, Positions: []layout.Position{p}, Condition: finding.WhenSoundAndMatching})
			}
		}
	}
	return all
}

// matchRest: on an all-wheel drive, tires that are replaced have to match those
// that stay.
func (in In) matchRest(l lines) []Work {
	replaced := l.replaced()
	delete(replaced, layout.Position{Spare: true})
	if all := len(in.Visit.Vehicle.Positions()); in.Visit.Vehicle.Drive != layout.AllDrive || len(replaced) == 0 || len(replaced) >= all {
		return nil
	}
	return []Work{{Code: finding.WorkTiresMatchSet, Positions: sorted(replaced), Condition: finding.WhenRestDiffer}}
}

// place is where new tires go, and what holds on a steered axle.
func (in In) place(l lines) (all []Work) {
	pair, v := l.at(finding.WorkTiresReplacePair), in.Visit.Vehicle
	if len(v.Axles) == 2 && v.Axles[0].Size == v.Axles[1].Size && !v.Axles[1].Dual && v.Light() {
		front, rear := layout.Position{Axle: 1, Side: layout.Left}, layout.Position{Axle: 2, Side: layout.Left}
		if pair[front] && !pair[rear] {
			all = append(all, do(finding.WorkTiresDeeperPairToRear, v.Positions()...)...)
		}
	}
	if slices.ContainsFunc(in.Books, func(b rulebook.Applied) bool { return b.Binds.CommercialFrom > 0 }) {
		steered := slices.DeleteFunc(sorted(l.replaced()), func(p layout.Position) bool { return !v.Front(p) })
		if len(steered) > 0 {
			all = append(all, do(finding.WorkTireSteerAxleRules, steered...)...)
		}
	}
	return all
}
