package wear

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// round judges shapes round the tire that are no flat spot. Stations prove only
// that a tire is not round, and only in more than one groove: one groove alone
// may be a misreading, which is measured again first. A hand or a high-and-low
// pair names the dips.
func (j *judge) round(t Tire) {
	var dips []depth
	for _, p := range t.HighLow {
		dips = append(dips, p.High.Minus(p.Low))
	}
	worst, swinging := t.grooves(j.Gauge)
	spotted := j.spotted(t)
	dip := most(dips...)
	switch {
	case called(dip):
		f := shapeOf(dip, t)
		f.Code, f.ToSettle = finding.WearScalloped, finding.SettleDampersBalanceBearings
		j.add(f)
	case t.Felt.Scalloped:
		j.add(seen(finding.WearScalloped, finding.SettleDampersBalanceBearings, finding.Plan, t.At))
	case !spotted && swinging[proved] > 1:
		f := shapeOf(worst, t)
		f.Code, f.ToSettle = finding.WearNotRound, finding.SettleHandOrHighLowPair
		j.add(f)
	case !spotted && swinging[proved]+swinging[open] > 1:
		j.add(notYet(worst, t))
	}
}

// flatSpots: one place where all grooves drop together. On both wheels of an
// axle it was braked with the wheels locked; an event needs no miles.
func (j *judge) flatSpots() {
	for _, t := range j.Tires {
		if !j.spotted(t) {
			continue
		}
		code, at, drop := finding.WearFlatSpot, []layout.Position{t.At}, j.spots[t.At]
		if other, both := j.spots[t.At.Mirror()]; both {
			if t.At.Side == layout.Right {
				continue // told with the left one
			}
			code, at, drop = finding.WearFlatSpotLockedWheel, append(at, t.At.Mirror()), most(drop, other)
		}
		f := seen(code, finding.SettleBrakes, finding.Plan, at...)
		if drop.Of > 0 {
			f = shapeOf(drop, t)
			f.Code, f.ToSettle, f.Positions = code, finding.SettleBrakes, at
			f.Evidence = nil // where the tire was before does not matter to it
		}
		j.add(f)
	}
}

// allFelt gathers what was found on the treads of some tires.
func allFelt(ts []Tire) (f Felt) {
	for _, t := range ts {
		f.SharpToward = f.SharpToward || t.Felt.SharpToward
		f.SharpAway = f.SharpAway || t.Felt.SharpAway
		f.Feathered = f.Feathered || t.Felt.Feathered
		f.Smooth = f.Smooth || t.Felt.Smooth
		f.EdgeRounded = f.EdgeRounded || t.Felt.EdgeRounded
		f.SlantScuffs = f.SlantScuffs || t.Felt.SlantScuffs
		f.Any = f.Any || t.Felt.Any
	}
	return f
}

func (f Felt) sharp() bool { return f.SharpToward || f.SharpAway || f.Feathered }

func anyOf(ts []Tire, holds func(Tire) bool) bool { return slices.ContainsFunc(ts, holds) }
