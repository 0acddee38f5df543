package verdict

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// lies is where a kind of finding lies that was seen at a wheel: what is between two
// duals is of both.
func lies(k finding.Kind, p layout.Position) []layout.Position {
	if !k.Pair || p.Dual == layout.Single {
		return []layout.Position{p}
	}
	both := []layout.Position{p, p.Mate()}
	slices.SortFunc(both, layout.Position.Compare)
	return both
}

// damaged judges the observations of one wheel.
func (j *judging) damaged(w visit.Wheel) {
	seen := map[finding.Code]bool{}
	// What is seen as the vehicle leaves is there, too.
	for _, o := range slices.Concat(w.Observations, w.ObservationsLeft) {
		k := finding.KindOf(finding.ObservationOf(o.Kind).Means)
		if k.Code == "" || seen[k.Code] {
			continue
		}
		seen[k.Code] = true
		f := finding.Finding{
			Code: k.Code, Urgency: k.Urgency, Positions: lies(k, w.Position), Caution: k.Caution,
			Rule:  finding.Rule{Authority: finding.CommonPractice, Citation: "common practice", Known: finding.FromMemory},
			Place: finding.Place{Across: o.Across, Part: o.Part, Side: o.Side},
		}
		if o.Size != nil {
			f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactDamageSize, Amount: o.Size.Amount(o.SizeUnit).Rounded()})
		}
		j.withLaw(&f, w)
		if slices.ContainsFunc(j.out.Findings, func(g finding.Finding) bool { return g.ID() == f.ID() }) {
			continue // seen on the other tire of the pair too
		}
		j.find(f)
		j.do(k.Work, f.Positions...)
		if k.Scrap {
			j.finished[w.Position] = true
		}
		if o.Kind == finding.ObservedCut || o.Kind == finding.ObservedCutToCord {
			j.cutLimit(w, o)
		}
	}
}

// withLaw cites the first applying rule that forbids what was found: a law in use before a
// model standard. The condition itself is seen, so nothing is compared.
func (j *judging) withLaw(f *finding.Finding, w visit.Wheel) {
	s := finding.KindOf(f.Code).Law
	if s == "" {
		return
	}
	best := -1
	for _, b := range j.books {
		for _, l := range b.About(s) {
			if !l.AppliesTo(j.v.Vehicle, w.Position) || !l.Value.IsZero() {
				continue
			}
			rank := rankOf(l.Authority, b.Candidate)
			if rank > best {
				best = rank
				f.Rule, f.Candidate, f.Outcome = b.RuleOf(l), b.Candidate, measure.NotCompared
			}
		}
	}
}

func rankOf(a finding.Authority, candidate bool) int {
	switch {
	case a == finding.LawInUse && !candidate:
		return 3
	case a == finding.LawInUse:
		return 2
	}
	return 1
}

// cutLimit applies a law that allows a cut up to a length: longer than 25 mm or
// 10 percent of the section width, whichever is greater, and deep enough to
// reach ply or cord (reg. 27(1)(c)).
func (j *judging) cutLimit(w visit.Wheel, o visit.Observation) {
	if o.Size == nil {
		return
	}
	for _, b := range j.books {
		limits := b.About(finding.LawCut)
		i := slices.IndexFunc(limits, func(l rulebook.Limit) bool { return l.Value.Unit == unit.Millimeters })
		share := slices.IndexFunc(limits, func(l rulebook.Limit) bool { return l.Value.Unit == unit.Percent })
		if i < 0 || share < 0 {
			continue
		}
		longest := CutLimit(limits[i].Length(), limits[share].Ratio(), w.Tire.Marking.SectionWidth)
		v := lengthGauge().Read(*o.Size)
		c := measure.AtMost(v, longest)
		if c.Outcome == measure.Below {
			continue
		}
		f := finding.Finding{Code: finding.DamageCutLimit, Urgency: finding.BeforeDriving, Positions: []layout.Position{w.Position},
			Rule: b.RuleOf(limits[i]), Candidate: b.Candidate, Caution: finding.CautionDamagedTire}
		if b.Candidate {
			f.Urgency = finding.ThisVisit
		}
		f = finding.Compared(f, v, longest, unit.Millimeters, c)
		if o.Kind != finding.ObservedCutToCord {
			// Long enough, but whether it reaches ply or cord is not told.
			f.Outcome, f.ToSettle = measure.CannotTell, finding.SettleProbeCut
		}
		j.find(f)
	}
}

// CutLimit is the longest cut that the rule allows: the fixed length or the
// share of the section width, whichever is greater. A width of zero is not known.
func CutLimit(fixed unit.Length, share unit.Ratio, width unit.Length) unit.Length {
	return max(fixed, unit.Length(float64(share)*float64(width)))
}

// lengthGauge is how well a cut or a distance on a tire is measured by hand.
func lengthGauge() measure.Gauge[unit.Length] {
	book := rulebook.Must("gauges")
	return measure.Gauge[unit.Length]{Resolution: book.Limit("length-graduation").Length(), Repeatability: book.Limit("length-repeatability").Length()}
}
