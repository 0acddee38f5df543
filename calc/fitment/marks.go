package fitment

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// marks: an arrow that opposes the roll, or OUTSIDE facing in, is put right by
// demounting and remounting; by swapping sides only where that alone cures it.
func (j *fitting) marks() {
	for _, w := range j.Wheels {
		if w.Marks.Arrow == ArrowOpposes && !w.At.Spare {
			f := practice(finding.MountArrowOpposes, finding.ThisVisit, w.At)
			if j.swapCures(w) {
				f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactMountSwapCures})
			}
			j.find(f)
		}
		if w.Marks.Outside == FacesIn && !w.At.Spare {
			j.find(practice(finding.MountOutsideIn, finding.ThisVisit, w.At))
		}
		if w.Marks.Date == FacesIn {
			j.find(practice(finding.MountDateInboard, finding.Note, w.At))
		}
	}
}

// swapCures: both wheels of the axle roll against their arrows, and neither has
// anything else wrong. A wheel that changes sides rolls the other way round, and
// the side that faced out still does.
func (j *fitting) swapCures(w Wheel) bool {
	if w.At.Dual != layout.Single || w.Marks.Outside == FacesIn {
		return false
	}
	m, ok := j.wheel(w.At.Mirror())
	return ok && m.Marks.Arrow == ArrowOpposes && m.Marks.Outside != FacesIn
}

// wheel finds a wheel by its position.
func (j *fitting) wheel(p layout.Position) (Wheel, bool) {
	for _, w := range j.Wheels {
		if w.At == p {
			return w, true
		}
	}
	return Wheel{}, false
}
