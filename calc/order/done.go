package order

import (
	"maps"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/visit"
)

// undone is the visit without what was put right at it: nothing is asked for twice.
func (in In) undone() In {
	all := in.Findings
	in.found = all
	if len(in.Left.Done) == 0 && len(in.Left.Readings) == 0 && !slices.ContainsFunc(in.Visit.Wheels, func(w visit.Wheel) bool { return w.Mended.Fitted }) {
		return in // nothing was: most are seen before any work
	}
	in.Findings = slices.DeleteFunc(slices.Clone(all), in.Left.Closed)
	facts := &in.Facts
	facts.Air.Airs.Results, facts.Scrapped, facts.Treads = maps.Clone(facts.Air.Airs.Results), maps.Clone(facts.Scrapped), maps.Clone(facts.Treads)
	for p, r := range facts.Air.Airs.Results {
		if in.allClosed(p, func(f finding.Finding) bool { return looksInside(f.Code) }) {
			r.NoAir, r.Demount, r.Deflate, r.RestrainingDevice, r.FindLeak = false, false, false, false, false
			if in.setAlready(p) {
				r.Target = inflation.Target{}
			}
			r.Findings = slices.DeleteFunc(slices.Clone(r.Findings), func(f finding.Finding) bool { return f.Urgency != finding.Note })
			facts.Air.Airs.Results[p] = r
		}
	}
	for _, w := range in.Visit.Wheels {
		if w.Mended.Fitted {
			delete(facts.Scrapped, w.Position)
			delete(facts.Treads, w.Position)
		}
	}
	facts.Holes.Repairs = slices.DeleteFunc(slices.Clone(facts.Holes.Repairs), func(r questions.Repair) bool {
		return in.allClosed(r.Position, func(f finding.Finding) bool { return finding.KindOf(f.Code).Again == finding.AgainHole })
	})
	return in
}

// allClosed tells that a wheel had findings of a kind beside notes, and that none of them
// is open.
func (in In) allClosed(p layout.Position, is func(finding.Finding) bool) bool {
	had := false
	for _, f := range in.found {
		if f.Urgency == finding.Note || !slices.Contains(f.Positions, p) || !is(f) {
			continue
		}
		if !in.Left.Closed(f) {
			return false
		}
		had = true
	}
	return had
}

// looksInside tells of a code that it may keep air out of a tire.
func looksInside(code finding.Code) bool {
	left := finding.KindOf(code).Left
	return left == finding.LeftCleared || left == finding.LeftAired || left == finding.LeftTight
}
