package questions

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Distances in which no vehicle's tires keep every depth that was read: with the
// pressures the same, too, and by the depths alone; those of trucks wear slowly (common
// practice, from memory).
var (
	sameWithAir      = unit.MustDistance(3_000, unit.Miles)
	sameByDepth      = unit.MustDistance(8_000, unit.Miles)
	sameByDepthHeavy = unit.MustDistance(25_000, unit.Miles)
)

// fewestRead: fewer readings may come out the same.
const fewestRead = 6

// copied asks about readings that are those of the visit before, thousands of miles ago:
// copied, or of another vehicle. Depths that were read twice today are not copied. They
// are judged as they stand, for the tires have no more than that.
func (a *DoubtsAnswer) copied(in DoubtsIn) {
	var same []layout.Position
	var was visit.Before
	readings, pressures, differs := 0, 0, false
	for _, w := range a.Wheels {
		before, ok := lastRead(w)
		if len(w.Depths) == 0 || w.Position.Spare {
			continue
		}
		if !ok || before.At != w.Position || len(same) > 0 && before.Ago != was.Ago || !sameDepths(w.Depths, before.Depths) {
			return
		}
		was, same, readings = before, append(same, w.Position), readings+len(w.Depths)
		if w.Pressure.Read != unit.None && before.Found.Read != unit.None {
			pressures++
			differs = differs || w.Pressure.Of != before.Found.Of
		}
	}
	alone := sameByDepth
	if !in.Labels.Vehicle.Light() {
		alone = sameByDepthHeavy
	}
	withAir := pressures > 1 && !differs && was.Ago >= sameWithAir
	if len(same) < 2 || readings < fewestRead || !withAir && was.Ago < alone {
		return
	}
	a.Copied = true
	shown := unit.Miles
	for _, o := range in.Odometers {
		if o.Today {
			shown = o.Read.Unit
		}
	}
	a.doubt(finding.Finding{
		Code: finding.DoubtAsBefore, Positions: same, ToSettle: finding.SettleReadTwice,
		Evidence: []finding.Evidence{{Code: finding.FactDoubtRun, Amount: was.Ago.Amount(shown).Rounded()}},
	})
}

// lastRead is the latest earlier visit that read a tire's tread.
func lastRead(w visit.Wheel) (last visit.Before, ok bool) {
	for _, b := range w.Before {
		if len(b.Depths) > 0 && b.Ago > 0 && (!ok || b.Ago < last.Ago) {
			last, ok = b, true
		}
	}
	return last, ok
}

// sameDepths tells that the same was read at the same places, each once.
func sameDepths(now, was []tread.Reading) bool {
	order := func(all []tread.Reading) []tread.Reading {
		return slices.SortedFunc(slices.Values(all), func(a, b tread.Reading) int {
			return cmp.Or(cmp.Compare(a.Across, b.Across), cmp.Compare(a.Groove, b.Groove), cmp.Compare(a.Station, b.Station))
		})
	}
	return slices.EqualFunc(order(now), order(was), func(a, b tread.Reading) bool {
		return a.Across == b.Across && a.Groove == b.Groove && a.Station == b.Station && a.Depth == b.Depth
	})
}
