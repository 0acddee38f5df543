package order

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
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
			line.Code = finding.WorkTireRestrainingDevice
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
