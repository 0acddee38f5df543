package closing

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// atLabel: the cold equivalent as left is at or above the label, and provably
// above the share of it under which a tire counts as low.
func atLabel(in inflation.Wheel) bool {
	if in.Label == 0 {
		return false
	}
	left := in.Cold().Value
	set := reaches(left.Of, in.Label)
	return set && measure.AtLeast(left, lowOf(in.Label)).Outcome == measure.Above
}

// reaches tells that a pressure is set, whatever unit it was read in: to no finer than the
// whole kilopascal that one is shown in.
func reaches(p, target unit.Pressure) bool {
	const half = unit.Pressure(0.5)
	return measure.AtLeast(measure.Exact(p), target-half).Outcome == measure.Above
}

// lowOf is the least that a tire of a label is not low at.
func lowOf(label unit.Pressure) unit.Pressure {
	return unit.Pressure(float64(rulebook.Must("pressure").Limit("low").Ratio()) * float64(label))
}

// asTold: it was set to the figure of today, which rests on an estimate of its warmth, and
// is to be finished when cold: that check is owed, and no more is to be done now. So it is
// where its warmth was measured before it was set, and not again.
func (in In) asTold(w visit.Wheel, left inflation.Wheel) bool {
	t := in.ToSet[w.Position]
	if w.Pressure.Read == unit.None || t.Show == 0 || w.Mended.Fresh() { // nothing was to be set, or read before it was; or that air is gone
		t = left.SetNow()
	}
	converted := w.Pressure.Temperature != 0 && w.PressureLeft.Temperature == 0
	if left.Label == 0 || t.Show == 0 || !t.About && !converted && t.Why != finding.TargetMates {
		return false
	}
	return reaches(w.PressureLeft.Of, t.Show)
}
