package wear

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
)

// crowns judges the tires of one axle that are worn at both edges or at the
// center: the family of pressure, load and cornering.
func (j *judge) crowns(n int, tires []Tire) {
	var edges, center []Tire
	for _, t := range tires {
		v, _ := t.crown()
		switch {
		case !t.crowned() || j.molded(t):
		case v.Of > 0:
			edges = append(edges, t)
		default:
			center = append(center, t)
		}
	}
	if len(edges) > 0 {
		j.bothEdges(n, edges)
	}
	if len(center) > 0 {
		j.centerWorn(n, center)
	}
}

func crownOf(ts ...Tire) finding.Finding {
	var vs []depth
	for _, t := range ts {
		v, _ := t.crown()
		vs = append(vs, v)
	}
	f := shapeOf(most(vs...), ts...)
	if most(vs...).Of < 0 {
		f.Place.Across = layout.Center
	}
	return f
}

// found counts the earlier visits at which a tire was low, right or high.
type found struct{ low, right, high int }

// history counts for each tire and keeps the most of each.
func history(ts []Tire) (all found) {
	lowAt, highAt := advice.Limit("found-low").Ratio(), advice.Limit("found-high").Ratio()
	for _, t := range ts {
		var f found
		for _, p := range t.Earlier {
			switch {
			case measure.AtMost(measure.Exact(p.Share.Of), lowAt).Outcome == measure.Below:
				f.low++
			case measure.AtLeast(measure.Exact(p.Share.Of), highAt).Outcome == measure.Above:
				f.high++
			default:
				f.right++
			}
		}
		all = found{max(all.low, f.low), max(all.right, f.right), max(all.high, f.high)}
	}
	return all
}

// others is how the axles of the other kind are worn, front against rear: the
// axles of a tandem carry one load and say nothing of each other.
type others struct {
	same   bool // one of them has the same shape
	flat   bool // they were read, and none has any
	driven bool // one of them is driven
}

func (j *judge) otherAxles(n int, edges bool) (o others) {
	read, shaped := false, false
	for i, a := range j.Layout.Axles {
		o.driven = o.driven || a.Driven && a.Steered != j.Layout.Axles[n-1].Steered && i != n-1
	}
	for _, t := range j.Tires {
		if t.Wore.Axle == 0 || t.Across == nil || j.molded(t) && t.center != none || j.Layout.Axles[t.Wore.Axle-1].Steered == j.Layout.Axles[n-1].Steered {
			continue
		}
		read = true
		if t.crowned() {
			v, _ := t.crown()
			shaped = true
			o.same = o.same || (v.Of > 0) == edges
		}
	}
	o.flat = read && !shaped
	return o
}

// oneOnly: one tire of the axle has the shape, and the one across from it has
// none: load and cornering wear both.
func (j *judge) oneOnly(tires []Tire) bool {
	if len(tires) != 1 {
		return false
	}
	m := j.mate(tires[0])
	return m != nil && m.even()
}

// bothEdges: pressure, load or cornering.
func (j *judge) bothEdges(n int, tires []Tire) {
	under := &suspect{code: finding.WearUnderinflatedLong, settle: finding.SettlePressuresAtVisits, score: 1}
	load := &suspect{code: finding.WearOverloaded, settle: finding.SettleAskLoad, score: -1}
	corner := &suspect{code: finding.WearCornering, settle: finding.SettleFeelRibs, score: -1}
	was, other, felt := history(tires), j.otherAxles(n, true), allFelt(tires)
	steered := j.Layout.Axles[n-1].Steered
	rounded := felt.EdgeRounded || felt.SlantScuffs
	right := was.low == 0 && was.right > 1
	if felt.Any {
		corner.settle = finding.SettlePressuresAtVisits
	}

	under.say(3, finding.FactWearFoundLowEarlier, was.low > 0)
	under.say(1, finding.FactWearFoundLowMoreThanOnce, was.low > 1)
	under.say(-3, finding.FactWearFoundRightEarlier, right)
	under.say(2, finding.FactWearOtherAxleTheSame, other.same)
	under.say(-1, finding.FactWearOtherAxleEven, other.flat)
	under.say(1, finding.FactWearOneTireOnly, j.oneOnly(tires))
	load.say(1, finding.FactWearFoundRightEarlier, right)
	load.say(1, finding.FactWearRunsLoaded, j.Loaded == finding.Yes)
	load.say(-1, finding.FactWearDoesNotRunLoaded, j.Loaded == finding.No)
	load.say(1, finding.FactWearRearAxleOnly, other.flat && !steered)
	load.say(-1, finding.FactWearOneTireOnly, j.oneOnly(tires))
	corner.say(2, finding.FactWearEdgeRounded, felt.EdgeRounded)
	corner.say(1, finding.FactWearSlantScuffs, felt.SlantScuffs)
	corner.say(-1, finding.FactWearNoRoundedEdge, felt.Any && !rounded)
	corner.say(1, finding.FactWearFoundRightEarlier, right)
	corner.say(1, finding.FactWearOtherAxleEven, other.flat && steered)
	corner.say(-2, finding.FactWearOtherAxleTheSame, other.same)
	corner.say(-2, finding.FactWearNotASteeredAxle, !steered)
	corner.say(-1, finding.FactWearOneTireOnly, j.oneOnly(tires))
	j.add(ranked(crownOf(tires...), under, load, corner)...)
}

// centerWorn: light load at full-load pressure, torque of a driven axle, or too
// much air. Nobody is told to go below the label.
func (j *judge) centerWorn(n int, tires []Tire) {
	light := &suspect{code: finding.WearLightLoadAtLabelPressure, settle: finding.SettleAskLoad}
	torque := &suspect{code: finding.WearDriveTorque, settle: finding.SettlePressuresAtVisits}
	over := &suspect{code: finding.WearOverinflatedLong, settle: finding.SettlePressuresAtVisits}
	was, other := history(tires), j.otherAxles(n, false)
	axle := j.Layout.Axles[n-1]
	right := was.high == 0 && was.low == 0 && was.right > 0
	onlyDriven := other.flat && axle.Driven && !other.driven

	over.say(3, finding.FactWearFoundHighEarlier, was.high > 0)
	over.say(-3, finding.FactWearFoundRightEarlier, right)
	over.say(-3, finding.FactWearFoundLowEarlier, was.low > 0)
	over.say(1, finding.FactWearOtherAxleTheSame, other.same)
	over.say(-1, finding.FactWearOtherAxleEven, other.flat)
	light.say(2, finding.FactWearFoundRightEarlier, right)
	light.say(-2, finding.FactWearFoundHighEarlier, was.high > 0)
	light.say(1, finding.FactWearOnlyTheDrivenAxle, onlyDriven)
	light.say(1, finding.FactWearLabelForALoad, j.carriesLoad())
	light.say(1, finding.FactWearDoesNotRunLoaded, j.Loaded == finding.No)
	light.say(-1, finding.FactWearRunsLoaded, j.Loaded == finding.Yes)
	torque.say(1, finding.FactWearOnlyTheDrivenAxle, onlyDriven)
	torque.say(-1, finding.FactWearOtherAxleTheSame, other.same && !other.driven)
	torque.say(-3, finding.FactWearNotADrivenAxle, !axle.Driven && j.driveKnown())
	j.add(ranked(crownOf(tires...), light, torque, over)...)
}

// driveKnown: somebody told which axles are driven; a trailer has none.
func (j *judge) driveKnown() bool {
	return j.Layout.Class == layout.Trailer || slices.ContainsFunc(j.Layout.Axles, func(a layout.Axle) bool { return a.Driven })
}

// carriesLoad: the label is made for a load that is not always there.
func (j *judge) carriesLoad() bool {
	switch j.Layout.Class {
	case layout.LightTruck, layout.Heavy, layout.Trailer:
		return true
	}
	return false
}
