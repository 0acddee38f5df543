package verdict

import (
	"slices"

	"gaugebook.dev/calc/closing"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/questions"
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
	Facts     []Fact            // that it rests on, those that hold the vehicle first
	Unknown   []finding.Unknown // what is not known that would decide, in the order of its codes
	Plan      Plan
}

// HeadlineOf is the headline of what was said of a visit, with what it rests on.
func HeadlineOf(v visit.Visit, out Verdict) Headline {
	h, gaps := hold(v, out)
	if !v.Vehicle.Class.Judged() {
		return h
	}
	open := slices.DeleteFunc(slices.Clone(out.Findings), closing.Left{Readings: out.Closed, Done: out.Done}.Closed)
	h.Facts = FactsOf(open, h)
	if h.Hold != NoHoldFound {
		h.Unknown = unknown(open, h, gaps)
	}
	h.Plan = planOf(out.Work, h)
	return h
}

// hold is whether something keeps the vehicle from the road. Only a proved finding says
// that a vehicle is held. What leaves that open is a finding in doubt, a road wheel
// without its tread, its pressure or a look at its outer sidewall, and what the visit
// tells of without its look: see open. Of the inner of two duals the sidewall is not
// asked for: where nothing was found, the headline names those not seen. The gaps are what
// was not read, seen or told.
func hold(v visit.Visit, out Verdict) (h Headline, gaps []finding.Unknown) {
	if !v.Vehicle.Class.Judged() {
		return Headline{Hold: CannotTell}, nil // recorded, not judged here
	}
	h = Holding(slices.DeleteFunc(slices.Clone(out.Findings), closing.Left{Readings: out.Closed, Done: out.Done}.Closed))
	if h.Hold != HoldNotTold && h.Hold != CannotTell {
		return h, nil
	}
	unseen, gaps := unread(v)
	told, more := out.open(v)
	switch {
	case h.Hold == CannotTell && h.Urgency == finding.BeforeDriving:
		return h, nil
	case h.Hold == CannotTell, len(gaps)+len(more) > 0:
		h.Hold, h.Positions = CannotTell, once(slices.Concat(h.Positions, out.named(unseen), out.named(told)))
		return h, slices.Concat(gaps, more)
	}
	h.Hold, h.Positions = NoHoldFound, once(out.named(betweenDuals(v)))
	return h, nil
}

// named are those of some wheels that the answer speaks of: where a tire is judged by
// itself, it has no place.
func (v Verdict) named(at []layout.Position) []layout.Position {
	return slices.DeleteFunc(at, func(p layout.Position) bool {
		return !slices.ContainsFunc(v.Wheels, func(s Summary) bool { return s.Position == p }) &&
			!slices.ContainsFunc(v.NotLooked, func(n questions.NotLooked) bool {
				return n.What == finding.LookedWheel && slices.Contains(n.Positions, p)
			})
	})
}

// Holding is what open findings by themselves say of a vehicle. HoldNotTold: none of
// them keeps it from the road. Of a finding its code, urgency, positions, outcome and
// candidate count.
func Holding(open []finding.Finding) Headline {
	var h Headline
	var worst, held, doubted []layout.Position
	dangerous, proved, doubt := false, false, false
	for _, f := range open {
		if h.Urgency == finding.UrgencyNotTold || f.Urgency < h.Urgency {
			h.Urgency = f.Urgency
		}
		switch k := finding.KindOf(f.Code); {
		case leavesOpen(f, k):
			doubt, doubted = true, append(doubted, f.Positions...)
		case f.Urgency != finding.BeforeDriving:
		case k.Still:
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
	case doubt:
		h.Hold, h.Positions = CannotTell, once(doubted)
	}
	return h
}

// unread are the road wheels whose tread or pressure was not read or whose outer sidewall
// was not seen, but for that of an inner dual; gaps says what of them. A vehicle whose wheels
// nobody knows is one.
func unread(v visit.Visit) (at []layout.Position, gaps []finding.Unknown) {
	road := v.Vehicle.Positions()
	if len(road) == 0 {
		return nil, []finding.Unknown{finding.UnknownWheels}
	}
	for _, p := range road {
		missing := []finding.Unknown{finding.UnknownWheel}
		if i := slices.IndexFunc(v.Wheels, func(w visit.Wheel) bool { return w.Position == p }); i >= 0 {
			missing = unreadOf(v.Wheels[i])
		}
		if len(missing) > 0 {
			at, gaps = append(at, p), append(gaps, missing...)
		}
	}
	return at, gaps
}

func unreadOf(w visit.Wheel) (gaps []finding.Unknown) {
	covered := slices.ContainsFunc(w.Looked, func(l visit.Looked) bool {
		return l.NotBecause == finding.NotLookedCovered && (l.What == finding.LookedTreadFullTurn || l.What == finding.LookedTreadPart)
	})
	if covered || len(w.Depths) == 0 && !w.Has(finding.ObservedAtWearBars) {
		gaps = append(gaps, finding.UnknownTread)
	}
	if w.Pressure.Read == unit.None {
		gaps = append(gaps, finding.UnknownPressure)
	}
	if !w.LookedAt(finding.LookedOuterSidewall) && w.Position.Dual != layout.Inner {
		gaps = append(gaps, finding.UnknownSidewall)
	}
	return gaps
}

// betweenDuals are the inner duals whose outer sidewall nobody saw.
func betweenDuals(v visit.Visit) (at []layout.Position) {
	for _, w := range v.Wheels {
		if w.Position.Dual == layout.Inner && !w.LookedAt(finding.LookedOuterSidewall) {
			at = append(at, w.Position)
		}
	}
	return at
}

// open tells what else leaves open whether the vehicle is held: a complaint that may be
// a wheel coming loose and its fasteners not seen; a repair of unknown kind, or sealant,
// with the inside not seen; a temporary spare on the road without its printed limits;
// seen loaded or towing with the tires' loads, the label or the weight not known.
func (v Verdict) open(of visit.Visit) (at []layout.Position, gaps []finding.Unknown) {
	for _, w := range v.Work {
		if w.Code == finding.WorkFastenersLook {
			at, gaps = append(at, w.Positions...), append(gaps, finding.UnknownFasteners)
		}
	}
	for _, w := range of.Wheels {
		if !w.Position.Spare && w.Has(finding.ObservedEarlierRepair, finding.ObservedSealantInside) && !w.LookedAt(finding.LookedInsideOfTire) {
			at, gaps = append(at, w.Position), append(gaps, finding.UnknownInside)
		}
	}
	if r := of.SpareReport; r != nil && r.InService != (layout.Position{}) && !of.Spare.Matching && !of.Spare.FullSize && of.Spare.Speed.IsZero() {
		at, gaps = append(at, r.InService), append(gaps, finding.UnknownSpare)
	}
	if of.Loaded == finding.Yes && !loadKnown(of) {
		gaps = append(gaps, finding.UnknownLoad)
	}
	return at, gaps
}

// loadKnown tells that of every road wheel what the tire may carry, its label and what
// it carries are known.
func loadKnown(v visit.Visit) bool {
	for _, p := range v.Vehicle.Positions() {
		i := slices.IndexFunc(v.Wheels, func(w visit.Wheel) bool { return w.Position == p })
		if i < 0 {
			return false
		}
		_, rated := v.Wheels[i].Tire.Rating()
		_, weighed := v.Scale().Carried(p)
		if label, _ := v.Labels().Cold(p); !rated || !weighed || label == 0 {
			return false
		}
	}
	return true
}

// NothingWrong tells that the tread and the pressure of a wheel were read and its outer
// sidewall was seen, and that nothing that was found there asks for anything.
func NothingWrong(v visit.Visit, out Verdict, at layout.Position) bool {
	i := slices.IndexFunc(v.Wheels, func(w visit.Wheel) bool { return w.Position == at })
	if i < 0 || len(unreadOf(v.Wheels[i])) > 0 || !v.Wheels[i].LookedAt(finding.LookedOuterSidewall) {
		return false
	}
	return !slices.ContainsFunc(out.Findings, func(f finding.Finding) bool {
		return f.Urgency != finding.Note && slices.Contains(f.Positions, at)
	})
}
