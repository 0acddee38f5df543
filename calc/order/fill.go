package order

import (
	"maps"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/puncture"
)

// Opened are the wheels that come off, apart or are let down for the work, in order.
func Opened(work []Work) (at []layout.Position) {
	for _, w := range work {
		if k := finding.WorkOf(w.Code); k.WheelOff || k.Dismounts || k.Code == finding.WorkAirDeflateFirst {
			at = append(at, w.Positions...)
		}
	}
	slices.SortFunc(at, layout.Position.Compare)
	return slices.Compact(at)
}

// letDown: before the first nut is loosened the air is out of a tire that may burst, of one
// on a large vehicle that is low or may be damaged, and of one on a rim that is no disc of
// one piece; of two duals out of both, whichever it is. The others keep their air.
func (in In) letDown(l lines) (all []Work) {
	down := when{}
	for p, on := range l.comesOff() {
		if in.comesDown(p) || p.Dual != layout.Single && in.comesDown(p.Mate()) {
			down.also(p, on)
		}
	}
	for p, on := range l.under(func(k finding.WorkKind) bool { return k.Code == finding.WorkAirDeflateFirst }) {
		down.also(p, on)
	}
	for p, on := range maps.Clone(down) {
		if p.Dual != layout.Single {
			down.also(p.Mate(), on)
		}
	}
	for _, line := range down.do(Work{Code: finding.WorkAirDeflateFirst}) {
		if all = append(all, line); in.stands(line.Positions[0]) {
			line.Code = finding.WorkAxleStand
			all = append(all, line)
		}
	}
	return all
}

// comesDown tells that the air comes out of a tire before its wheel comes off.
func (in In) comesDown(p layout.Position) bool {
	air := in.wheelAir(p)
	r, hurt := in.Facts.Holes.Of(p)
	if air.Emptied() || air.Large() && hurt && r.Answer != puncture.NoInjury {
		return true
	}
	return slices.ContainsFunc(in.Findings, func(f finding.Finding) bool {
		down := finding.KindOf(f.Code).LetDown
		return f.Urgency != finding.Note && slices.Contains(f.Positions, p) && (down == finding.LetDownAlways || down == finding.LetDownLarge && air.Large())
	})
}

// stands tells that a tire carries its end of the axle, so that it would drop with it.
func (in In) stands(p layout.Position) bool {
	flat := func(p layout.Position) bool { return in.Facts.Air.Airs.Results[p].Has(finding.InflationFlat) }
	return !p.Spare && (!flat(p) || p.Dual != layout.Single && !flat(p.Mate()))
}

// filledAnew tells of a kind that the tire has no air after it.
func filledAnew(k finding.WorkKind) bool {
	return k.Dismounts || k.Code == finding.WorkAirDeflateFirst || k.Code == finding.WorkTireRestrainingDevice
}

// fill says where the air goes in of a tire that is filled from nothing: a table of its
// wheel decides, whether the tire ran low or is new.
func (in In) fill(l lines) (all []Work) {
	device := l.at(finding.WorkTireRestrainingDevice)
	for p, on := range l.under(filledAnew) {
		if device[p] {
			continue
		}
		line := Work{Positions: []layout.Position{p}, Condition: on}
		switch in.wheelAir(p).Fill() {
		case inflation.FillDevice:
			line.Code = finding.WorkTireFillInDevice
		case inflation.FillGuarded:
			line.Code = finding.WorkTireFillGuarded
		case inflation.FillByShop:
			line.Code = finding.WorkTireFillByShop
		default:
			continue
		}
		all = append(all, line)
	}
	slices.SortFunc(all, func(a, b Work) int { return a.Positions[0].Compare(b.Positions[0]) })
	return all
}

// wheelAir is a wheel as package inflation judges it, also one that nobody reported.
func (in In) wheelAir(p layout.Position) inflation.Wheel {
	if air, reported := in.Facts.Air.Airs.Wheels[p]; reported {
		return air
	}
	w := in.wheelAt(p)
	return in.Visit.Labels().Air(w, w.Pressure, in.Visit.Conditions)
}
