package closing

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// mended is what of the work told at the wheels closes a finding, "" for nothing. Each
// part that a row asks for keeps it open while it is missing:
//
//   - what is of a tire goes with it, where another is told there as left;
//   - a hole closes by a whole repair, the inside told clean, right pressure as left and
//     the torque on record; one that did not go through by the object out and dry;
//   - a tire that ran low closes by the inside and both sidewalls told clean and right
//     pressure, of steel cord also looked at under air; a leak by what mends it, too;
//   - an observation goes where it is taken back by name.
func (in In) mended(f finding.Finding, wheels map[layout.Position]wheelLeft) finding.Closed {
	k := finding.KindOf(f.Code)
	if in.stillThere(f) {
		return ""
	}
	every := func(does func(visit.Wheel) bool) bool { return in.every(f, does) }
	ofTire := k.Of == finding.OfTire && len(k.Cured) == 0 || slices.Contains(k.Cured, finding.DoneProbed)
	right := func(w visit.Wheel) bool { return wheels[w.Position].atLabel }
	switch {
	case ofTire && every(func(w visit.Wheel) bool { return w.Mended.Fitted }), in.matched(f):
		return finding.ClosedOtherTire
	case k.Observed() && every(func(w visit.Wheel) bool { return takenBack(w, f.Code) }):
		return finding.ClosedTakenBack
	}
	switch k.Left {
	case finding.LeftRepaired:
		if every(func(w visit.Wheel) bool { return in.repaired(w) && right(w) }) {
			return finding.ClosedRepaired
		}
	case finding.LeftObjectOut:
		if every(func(w visit.Wheel) bool { return w.Mended.ObjectOut.Tight() }) {
			return finding.ClosedObjectOut
		}
	case finding.LeftCleared:
		if every(func(w visit.Wheel) bool { return in.cleared(w) && right(w) }) {
			return finding.ClosedCleared
		}
	case finding.LeftAired:
		if every(func(w visit.Wheel) bool { return (w.Mended.UnderAir.Passed() || in.cleared(w)) && right(w) }) {
			return finding.ClosedCleared
		}
	case finding.LeftTight:
		if every(func(w visit.Wheel) bool { return in.tight(w) && right(w) }) {
			return finding.ClosedLeakMended
		}
	case finding.LeftRenewed:
		if every(in.renewed) {
			return finding.ClosedFastenersPutRight
		}
	}
	return ""
}

// measured is the reading as left that closes a finding about what several wheels, or the
// size fitted, are set to.
func (in In) measured(f finding.Finding, wheels map[layout.Position]wheelLeft) (unit.Amount, bool) {
	switch finding.KindOf(f.Code).Left {
	case finding.LeftSpread:
		return in.near(f)
	case finding.LeftForSize:
		set := in.every(f, func(w visit.Wheel) bool { return in.forSize(w, f.Measured) })
		return wheels[f.Positions[0]].pressure, set
	}
	return unit.Amount{}, false
}

// Misfits are the tires that go, of those that do not go together: of two sizes on an axle
// the one that is not the label's, of two kinds for the season the one that is not for
// winter; all of them where none stays.
func Misfits(f finding.Finding, asLabel map[layout.Position]bool, wheels []visit.Wheel) []layout.Position {
	stays := func(layout.Position) bool { return false }
	switch f.Code {
	case finding.FitmentSizesMixed:
		stays = func(p layout.Position) bool { return asLabel[p] }
	case finding.FitmentSeasonMixed, finding.FitmentSeasonOneAxle:
		stays = func(p layout.Position) bool {
			return slices.ContainsFunc(wheels, func(w visit.Wheel) bool { return w.Position == p && w.Tire.Winter() })
		}
	}
	others := slices.DeleteFunc(slices.Clone(f.Positions), stays)
	if len(others) == 0 {
		return f.Positions
	}
	return others
}

// matched: tires that did not go together do, where each that had to go did, and the
// marking of what came is told.
func (in In) matched(f finding.Finding) bool {
	if k := finding.KindOf(f.Code); len(f.Positions) < 2 || k.Work != finding.WorkTiresFitRight {
		return false
	}
	f.Positions = Misfits(f, in.AsLabel, in.Visit.Wheels)
	return in.every(f, func(w visit.Wheel) bool { return w.Mended.Fitted && w.Mended.FittedMarking })
}

// near: the pressures of a pair as it left are no further apart than they may be; a tire
// that was not touched is as it was found. It gives how far apart they are.
func (in In) near(f finding.Finding) (unit.Amount, bool) {
	limit, err := unit.PressureOf(f.Limit.Number, f.Limit.Unit)
	low, high, touched := unit.Pressure(0), unit.Pressure(0), false
	for _, w := range in.Visit.Wheels {
		if !slices.Contains(f.Positions, w.Position) {
			continue
		}
		p := w.Last()
		touched = touched || w.PressureLeft.Read != unit.None
		if low == 0 || p.Of < low {
			low = p.Of
		}
		high = max(high, p.Of)
	}
	kept := err == nil && touched && low > 0 && measure.AtMost(measure.Exact(high-low), limit).Outcome != measure.Above
	return (high - low).Amount(f.Limit.Unit).Rounded(), kept
}

func takenBack(w visit.Wheel, code finding.Code) bool {
	seen := slices.ContainsFunc(w.Observations, func(o visit.Observation) bool {
		return finding.ObservationOf(o.Kind).Means == code && !slices.ContainsFunc(w.Mended.TakenBack, func(t visit.TakenBack) bool { return t.Kind == o.Kind && t.Holds() })
	})
	return !seen && slices.ContainsFunc(w.Mended.TakenBack, func(t visit.TakenBack) bool { return t.Holds() && finding.ObservationOf(t.Kind).Means == code })
}

// repaired: all of the repair is told, and nothing forbids it. A wheel in its place as
// a spare has no torque.
func (in In) repaired(w visit.Wheel) bool {
	forbidden := slices.ContainsFunc(in.Findings, func(f finding.Finding) bool {
		return slices.Contains(f.Positions, w.Position) && (f.Code == finding.PunctureNotRepairable || f.Code == finding.PunctureNotAsNailHole)
	})
	return !forbidden && w.Mended.Repair.Whole() && w.Mended.Inside.Clean() && (w.Position.Spare || in.torqued(w))
}

// torqued: its torque is on record.
func (in In) torqued(w visit.Wheel) bool { return slices.Contains(in.Torqued, w.Position) }

// cleared: the inside and both sidewalls are told clean; steel cord was looked at under
// air, too.
func (in In) cleared(w visit.Wheel) bool {
	if !w.Mended.Inside.Clean() || !w.LookedAt(finding.LookedOuterSidewall) || !w.LookedAt(finding.LookedInnerSidewall) {
		return false
	}
	return !slices.Contains(in.Device, w.Position) || w.Mended.UnderAir.Passed()
}

// mendsLeaks is the work by which a leak is mended.
var mendsLeaks = []finding.Done{finding.DoneValveRenewed, finding.DoneBeadSeatCleaned, finding.DoneWheelReplaced, finding.DoneTireMounted}

// tight: the leak is mended, and where the tire may have run low it is cleared.
func (in In) tight(w visit.Wheel) bool {
	mended := in.repaired(w) || w.Mended.ObjectOut.Tight() || slices.ContainsFunc(in.Visit.Done, func(d visit.Done) bool {
		return slices.Contains(d.At, w.Position) && slices.Contains(mendsLeaks, d.Kind)
	})
	return mended && (!slices.Contains(in.NoAir, w.Position) || in.cleared(w))
}

// renewed: every fastener of the wheel was renewed, and it is put right.
func (in In) renewed(w visit.Wheel) bool {
	k := w.Fastening
	return (slices.Contains(in.PutRight, w.Position) || in.carrierRight(w.Position)) && k != nil && k.Counted != nil && k.Replaced != nil && *k.Replaced >= *k.Counted
}

// carrierRight: what holds the spare in its place was counted, and none of it is damaged.
// It has no torque.
func (in In) carrierRight(p layout.Position) bool {
	w, _ := in.wheelAt(p)
	k := w.Fastening
	return p.Spare && k != nil && k.Counted != nil && k.Damaged != nil && *k.Damaged == 0
}

// forSize: set to at least what the size fitted needs, as the line says it.
func (in In) forSize(w visit.Wheel, needs unit.Amount) bool {
	return w.PressureLeft.Read != unit.None && needs.Number > 0 && w.PressureLeft.Of.Amount(needs.Unit).Rounded().Number >= needs.Rounded().Number
}

// stillThere tells that what a finding says was observed as left too.
func (in In) stillThere(f finding.Finding) bool {
	return slices.ContainsFunc(in.Visit.Wheels, func(w visit.Wheel) bool {
		return slices.Contains(f.Positions, w.Position) &&
			slices.ContainsFunc(w.ObservationsLeft, func(o visit.Observation) bool { return finding.ObservationOf(o.Kind).Means == f.Code })
	})
}
