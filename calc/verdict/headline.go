package verdict

import (
	"slices"

	"gaugebook.dev/calc/closing"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// Hold is whether something keeps the vehicle from the road. There is no yes: a
// judgement certifies nothing.
type Hold uint8

// Holds.
const (
	HoldNotTold Hold = iota // nothing was judged
	DoNotMove               // its wheels may come off, or a tire may burst
	OffTheRoad              // it may roll to its stall at walking pace
	CannotTell              // too little was read or seen
	NoHoldFound             // in what was looked at
)

// Headline is what comes before all else.
type Headline struct {
	Hold      Hold
	Urgency   finding.Urgency   // of the most urgent open finding; UrgencyNotTold without one
	Positions []layout.Position // that it is about, in order; none: the vehicle
}

// HeadlineOf is the headline of what was said of a visit. Only a proved finding says
// that a vehicle is held; one in doubt, or a road wheel without tread, pressure and
// a look at all of its tread and both sidewalls, leaves it open.
func HeadlineOf(v visit.Visit, out Verdict) Headline {
	if !v.Vehicle.Class.Judged() {
		return Headline{}
	}
	h := Holding(slices.DeleteFunc(slices.Clone(out.Findings), closing.Left{Readings: out.Closed, Done: out.Done}.Closed))
	if h.Hold != HoldNotTold {
		return h
	}
	unseen, whole := out.unseen(v.Vehicle)
	if whole {
		h.Hold = NoHoldFound
		return h
	}
	h.Hold, h.Positions = CannotTell, once(unseen)
	return h
}

// Holding is what open findings by themselves say of a vehicle. HoldNotTold: none of
// them keeps it from the road. Of a finding its code, urgency, positions, outcome and
// candidate count.
func Holding(open []finding.Finding) Headline {
	var h Headline
	var worst, held, doubted []layout.Position
	dangerous, proved := false, false
	for _, f := range open {
		if h.Urgency == finding.UrgencyNotTold || f.Urgency < h.Urgency {
			h.Urgency = f.Urgency
		}
		switch {
		case f.Urgency != finding.BeforeDriving:
		case f.Candidate || f.Outcome == measure.CannotTell:
			doubted = append(doubted, f.Positions...)
		case finding.KindOf(f.Code).Still:
			dangerous, worst = true, append(worst, f.Positions...)
		default:
			proved, held = true, append(held, f.Positions...)
		}
	}
	switch {
	case dangerous:
		h.Hold, h.Positions = DoNotMove, once(worst)
	case proved:
		h.Hold, h.Positions = OffTheRoad, once(held)
	case h.Urgency == finding.BeforeDriving:
		h.Hold, h.Positions = CannotTell, once(doubted)
	}
	return h
}

// unseen are the road wheels of which tread, pressure or the whole look is missing;
// whole tells that there are none and that the vehicle's wheels are known.
func (v Verdict) unseen(of layout.Vehicle) (at []layout.Position, whole bool) {
	seen := map[layout.Position]bool{}
	for _, s := range v.Wheels {
		if s.Tread != nil && s.Pressure.Read != unit.None && s.Full {
			seen[s.Position] = true
		} else if !s.Position.Spare && s.Position != (layout.Position{}) {
			at = append(at, s.Position)
		}
	}
	for _, n := range v.NotLooked {
		if n.What == finding.LookedWheel {
			at = append(at, slices.DeleteFunc(slices.Clone(n.Positions), func(p layout.Position) bool { return p.Spare })...)
		}
	}
	road := of.Positions()
	return at, len(road) > 0 && !slices.ContainsFunc(road, func(p layout.Position) bool { return !seen[p] })
}
