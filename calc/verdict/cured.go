package verdict

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/visit"
)

// Cures tells whether a kind of work sets right what a finding of that code says
// at the same wheel.
func Cures(work finding.Done, code finding.Code) bool {
	return slices.Contains(finding.KindOf(code).Cured, work)
}

// cured closes what the work of this visit set right, named wheel by wheel. Seen
// again as left, it is not.
func (j *judging) cured() {
	for _, f := range j.out.Findings {
		for _, d := range j.v.Done {
			if len(f.Positions) == 1 && slices.Contains(d.At, f.Positions[0]) && Cures(d.Kind, f.Code) && !j.stillThere(f) {
				j.out.Done[f.ID()] = finding.DoneOf(d.Kind).Closed
			}
		}
	}
}

// stillThere tells that what a finding says was observed as left too.
func (j *judging) stillThere(f finding.Finding) bool {
	for _, w := range j.v.Wheels {
		if slices.Contains(f.Positions, w.Position) && slices.ContainsFunc(w.ObservationsLeft, func(o visit.Observation) bool { return finding.ObservationOf(o.Kind).Means == f.Code }) {
			return true
		}
	}
	return false
}

// closed tells that the vehicle left with a finding put right.
func (j *judging) closed(f finding.Finding) bool {
	_, measured := j.out.Closed[f.ID()]
	_, done := j.out.Done[f.ID()]
	return measured || done
}

// dropDone takes wheels out of lines that damage called for, where all that
// called for them was put right.
func (j *judging) dropDone() {
	open, done := map[finding.Work]map[layout.Position]bool{}, map[finding.Work]map[layout.Position]bool{}
	mark := func(m map[finding.Work]map[layout.Position]bool, code finding.Work, at []layout.Position) {
		if m[code] == nil {
			m[code] = map[layout.Position]bool{}
		}
		for _, p := range at {
			m[code][p] = true
		}
	}
	for _, f := range j.out.Findings {
		switch k := finding.KindOf(f.Code); {
		case !k.Observed():
		case j.closed(f):
			mark(done, k.Work, f.Positions)
		default:
			mark(open, k.Work, f.Positions)
		}
	}
	for i := range j.work {
		if w := &j.work[i]; finding.WorkOf(w.Code).Dropped {
			w.Positions = slices.DeleteFunc(w.Positions, func(p layout.Position) bool { return done[w.Code][p] && !open[w.Code][p] })
		}
	}
	j.work = slices.DeleteFunc(j.work, func(w Work) bool {
		return len(w.Positions) == 0 && finding.WorkOf(w.Code).Dropped
	})
}
