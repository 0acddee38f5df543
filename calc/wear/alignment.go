package wear

import (
	"math"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// oneEdge judges tires with one edge worn, each with the tire at the other end
// of its axle: the same edge worn on both, the same side of both, or one alone.
func (j *judge) oneEdge(n int, tires []Tire) {
	told := map[layout.Position]bool{}
	for _, t := range tires {
		if !t.tilted() || told[t.At] {
			continue
		}
		m := j.mate(t)
		switch {
		case m == nil || m.Across == nil:
			j.alone(n, t, false)
		case mirrored(t, *m):
			told[m.At] = true
			j.bothAlike(n, t, *m)
		case m.tilted():
			told[m.At] = true
			f := tiltOf(t, *m)
			f.Place.Across = layout.AcrossNotTold
			j.add(j.notSquare(n, f))
		default:
			j.alone(n, t, true)
		}
	}
	for _, t := range tires {
		if m := j.mate(t); t.Wore.Side == layout.Left && m != nil && !t.tilted() && !m.tilted() {
			j.almost(t, *m)
		}
	}
}

// mirrored: the same edge is worn on both, on the lesser one at least half as
// much as on the other.
func mirrored(a, b Tire) bool {
	x, _ := a.tilt()
	y, _ := b.tilt()
	if x.Of == 0 || y.Of == 0 || (x.Of > 0) != (y.Of > 0) {
		return false
	}
	return a.tilted() && b.tilted() || balanced(a, b)
}

// almost: a trace mirrored on both tires is provable of the pair and still no fault, or no
// more than sound tires show: look again next time, unless an edge is seen to be gone.
func (j *judge) almost(left, right Tire) {
	a, okA := left.tilt()
	b, okB := right.tilt()
	mean := measure.Mean(a, b)
	gone := left.EdgeGone != [2]bool{} || right.EdgeGone != [2]bool{}
	if gone || !okA || !okB || left.oneEdge != none || right.oneEdge != none || !mirrored(left, right) || !provable(mean) || 2*size(mean) < fault() {
		return
	}
	s, _ := j.edgeShape(left, right)
	counts := max(fault(), unit.Depth(math.Round(s.sound)))
	f := shapeOf(mean, left, right)
	f.Limit, f.Margin = counts.Amount(f.Limit.Unit).Rounded(), (size(mean) - counts).Amount(f.Limit.Unit).Rounded()
	f.Code, f.Urgency, f.ToSettle, f.Outcome = finding.WearLookAgain, finding.Note, finding.SettleReadAgainNextVisit, measure.Below
	j.add(f)
}

// tiltOf is the larger tilt of the tires as a finding. The edge is told as the
// tire stands now.
func tiltOf(ts ...Tire) finding.Finding {
	var vs []depth
	turned := 0
	for _, t := range ts {
		v, _ := t.tilt()
		vs = append(vs, v)
		if t.Turned {
			turned++
		}
	}
	f := shapeOf(most(vs...), ts...)
	switch worst := most(vs...); {
	case turned > 0 && turned < len(ts): // not the same edge on both
	case (worst.Of < 0) == (turned == 0):
		f.Place.Across = layout.Inboard
	default:
		f.Place.Across = layout.Outboard
	}
	return f
}

// inboardWorn tells which edge was worn where the shape was made.
func inboardWorn(t Tire) bool {
	v, _ := t.tilt()
	return v.Of < 0
}

// bothAlike: the same edge worn on both tires of an axle. Depth cannot tell toe
// from camber; the hand, the rack and the work done can.
func (j *judge) bothAlike(n int, a, b Tire) {
	s := j.align(n, inboardWorn(a), a, b)
	suspects := []*suspect{s.toe, s.camber}
	if !inboardWorn(a) {
		suspects = append(suspects, s.corner)
	}
	j.add(ranked(tiltOf(a, b), suspects...)...)
}

// alone: one tire of the axle worn at an edge. The two ends of a steered axle
// share their toe, so one alone is camber or a bent part on that corner: look
// for the bend before any alignment. Rear toe can be one wheel's. As long as the
// tire across from it was not read, nobody knows that it is alone.
func (j *judge) alone(n int, t Tire, mateRead bool) {
	s := j.align(n, inboardWorn(t), t)
	f := tiltOf(t)
	if mateRead && j.Layout.Axles[n-1].Steered {
		j.add(ranked(f, s.bend)...)
		return
	}
	if !mateRead {
		s.toe.settle, s.camber.settle, s.bend.settle = finding.SettleReadMateAcross, finding.SettleReadMateAcross, finding.SettleReadMateAcross
	}
	j.add(ranked(f, s.toe, s.camber, s.bend)...)
}

// notSquare: on the left tire the one edge, on the right tire the other. That is
// not toe: behind a steered axle something is not square to the vehicle, on any
// other axle it is that axle itself.
func (j *judge) notSquare(n int, f finding.Finding) finding.Finding {
	f.Code, f.Rank, f.ToSettle = finding.WearAxleNotSquare, 1, finding.SettleAlignmentRack
	if j.Layout.Axles[n-1].Steered {
		f.ToSettle = finding.SettleLookBehindSteerAxle
	}
	return f
}

// feathered: the hand finds toe before depth does.
func (j *judge) feathered(n int, tires []Tire) {
	if anyOf(tires, Tire.tilted) {
		return // the hand is heard as evidence there
	}
	var toward, away, either []Tire
	for _, t := range tires {
		switch f := t.Felt; {
		case f.SharpToward && !f.SharpAway:
			toward = append(toward, t)
		case f.SharpAway && !f.SharpToward:
			away = append(away, t)
		case f.sharp():
			either = append(either, t)
		}
	}
	felt := func(ts ...Tire) finding.Finding {
		f := seen("", "", finding.Plan, positions(ts...)...)
		if anyOf(ts, func(t Tire) bool { return t.Wore != t.At }) {
			f.Evidence = []finding.Evidence{{Code: finding.FactWearMadeBeforeItCameHere}}
		}
		return f
	}
	if len(toward) > 0 && len(away) > 0 && len(either) == 0 && oneSide(toward) != 0 && oneSide(away) != 0 && oneSide(toward) != oneSide(away) {
		f := felt(append(slices.Clone(toward), away...)...)
		f.Evidence = append(f.Evidence, finding.Evidence{Code: finding.FactWearFeltSharpToOneSide})
		j.add(j.notSquare(n, f))
		return
	}
	for _, c := range []struct {
		ts            []Tire
		toeIn, toeOut bool
	}{{toward, true, false}, {away, false, true}, {either, true, true}} {
		if len(c.ts) == 0 {
			continue
		}
		var suspects []*suspect
		if c.toeIn {
			suspects = append(suspects, j.align(n, false, c.ts...).toe)
		}
		if c.toeOut {
			suspects = append(suspects, j.align(n, true, c.ts...).toe)
		}
		j.add(ranked(felt(c.ts...), suspects...)...)
	}
}

// oneSide is the side that all the tires wore on, zero when on both.
func oneSide(ts []Tire) layout.Side {
	for _, t := range ts {
		if t.Wore.Side != ts[0].Wore.Side {
			return 0
		}
	}
	return ts[0].Wore.Side
}

// aligning are the causes of one-edge wear: toe, camber, a bent part, cornering.
type aligning struct{ toe, camber, bend, corner *suspect }

// align tries the causes of a worn inboard or outboard edge on what is known of
// tires and axle. Without a hand, a rack or work done, toe and camber stay equal.
func (j *judge) align(n int, inboard bool, ts ...Tire) aligning {
	toe, camber := &suspect{code: finding.WearToeIn}, &suspect{code: finding.WearCamberPositive}
	bend, corner := &suspect{code: finding.WearOneCorner, settle: finding.SettleLookForBend}, &suspect{code: finding.WearCornering, settle: finding.SettleAskHowDriven, score: -1}
	felt := allFelt(ts)
	sharp, otherWay := felt.SharpToward, felt.SharpAway
	if inboard {
		toe.code, camber.code = finding.WearToeOut, finding.WearCamberNegative
		sharp, otherWay = otherWay, sharp
	}
	otherWay = otherWay && !sharp
	rounded := felt.EdgeRounded || felt.SlantScuffs

	if inboard {
		toe.say(3, finding.FactWearFeltSharpAway, sharp)
		camber.say(-2, finding.FactWearFeltSharpAway, sharp)
	} else {
		toe.say(3, finding.FactWearFeltSharpToward, sharp)
		camber.say(-2, finding.FactWearFeltSharpToward, sharp)
		corner.say(-2, finding.FactWearFeltSharpToward, sharp)
	}
	toe.say(-2, finding.FactWearFeltSharpOtherWay, otherWay)
	camber.say(1, finding.FactWearFeltSharpOtherWay, otherWay)
	feather := felt.Feathered && !sharp && !otherWay
	toe.say(2, finding.FactWearFeltFeathered, feather)
	camber.say(-1, finding.FactWearFeltFeathered, feather)
	corner.say(-1, finding.FactWearFeltFeathered, feather)
	smooth := felt.Smooth && !felt.sharp()
	toe.say(-2, finding.FactWearFeltSmooth, smooth)
	camber.say(2, finding.FactWearFeltSmooth, smooth && !rounded)
	corner.say(2, finding.FactWearEdgeRounded, felt.EdgeRounded)
	corner.say(1, finding.FactWearSlantScuffs, felt.SlantScuffs)
	toe.say(-1, finding.FactWearEdgeRounded, felt.EdgeRounded)
	camber.say(-1, finding.FactWearEdgeRounded, felt.EdgeRounded)
	corner.say(-1, finding.FactWearNoRoundedEdge, felt.Any && !rounded)
	corner.say(-2, finding.FactWearNotASteeredAxle, !j.Layout.Axles[n-1].Steered)

	measured := j.work(n, inboard, toe, camber, bend, corner)
	toe.settle, camber.settle, corner.settle = finding.SettleFeelRibs, finding.SettleFeelRibs, finding.SettleFeelRibs
	if felt.SharpToward || felt.SharpAway || smooth || rounded {
		toe.settle, camber.settle, corner.settle = finding.SettleAlignmentRack, finding.SettleAlignmentRack, finding.SettleAlignmentRack
		if measured {
			corner.settle = finding.SettleAskHowDriven
		}
	}
	return aligning{toe, camber, bend, corner}
}

// work hears what was done to the axle as evidence; measured tells that the rack
// found everything in range.
func (j *judge) work(n int, inboard bool, toe, camber, bend, corner *suspect) (measured bool) {
	done := func(kind WorkKind, holds func(Work) bool) bool {
		return slices.ContainsFunc(j.Work, func(w Work) bool { return w.Kind == kind && w.on(n) && holds(w) })
	}
	inRange := func(w Work) bool { return w.InRange == finding.Yes }
	// What was set or renewed lately neither explains nor clears a shape that
	// takes longer to make.
	changed := done(AlignmentSet, Work.lately) || done(SteeringPart, Work.lately) || done(SuspensionPart, Work.lately) || done(Lowered, Work.lately)
	fresh := func(w Work) bool { return inRange(w) && (w.Ago == nil || w.lately()) }
	measured = !changed && done(AlignmentMeasured, fresh)
	long := !changed && !measured && done(AlignmentMeasured, inRange)
	out := done(AlignmentMeasured, func(w Work) bool { return w.InRange == finding.No && !j.alignedAfter(w, n) })
	open := func(w Work) bool { return !w.lately() && !j.alignedAfter(w, n) }
	steering, suspension := done(SteeringPart, open), done(SuspensionPart, open)
	lowered := done(Lowered, func(w Work) bool { return !w.lately() })

	for _, s := range []*suspect{toe, camber, bend} {
		s.say(-3, finding.FactWearAlignmentInRange, measured)
		s.say(-1, finding.FactWearAlignmentInRangeLongAgo, long)
	}
	corner.say(1, finding.FactWearAlignmentInRange, measured)
	toe.say(2, finding.FactWearAlignmentOutOfRange, out)
	camber.say(2, finding.FactWearAlignmentOutOfRange, out)
	bend.say(1, finding.FactWearAlignmentOutOfRange, out)
	corner.say(-1, finding.FactWearAlignmentOutOfRange, out)
	toe.say(2, finding.FactWearSteeringPartNoAlignment, steering)
	toe.say(1, finding.FactWearSuspensionPartNoAlignment, suspension)
	camber.say(1, finding.FactWearSuspensionPartNoAlignment, suspension)
	camber.say(2, finding.FactWearRideHeightChanged, lowered && inboard)
	return measured
}

// lately: fewer miles ago than a shape takes to be made.
func (w Work) lately() bool { return w.Ago != nil && *w.Ago < PatternNeeds() }

// on tells whether the work was done on the axle; work without positions is of
// the whole vehicle.
func (w Work) on(axle int) bool {
	return len(w.At) == 0 || slices.ContainsFunc(w.At, func(p layout.Position) bool { return p.Axle == axle })
}

// alignedAfter tells whether the alignment was set, or found right, after the
// work. Set only lately, the tires had worn without it, and what was then found
// right does not count either.
func (j *judge) alignedAfter(w Work, axle int) bool {
	setLately := slices.ContainsFunc(j.Work, func(a Work) bool { return a.Kind == AlignmentSet && a.on(axle) && a.lately() })
	return slices.ContainsFunc(j.Work, func(a Work) bool {
		good := a.Kind == AlignmentSet && !a.lately() || a.Kind == AlignmentMeasured && a.InRange == finding.Yes && !setLately
		return good && a.on(axle) && (a.Ago == nil || w.Ago == nil || *a.Ago <= *w.Ago)
	})
}
