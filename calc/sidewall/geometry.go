package sidewall

import (
	"math"

	"gaugebook.dev/calc/unit"
)

// Geometry is the size of a tire as its designation says, new and without load.
// Tires are made larger and smaller within the tolerances of their standard, so
// it serves to compare sizes; a fitted tire is taped.
type Geometry struct{ SectionHeight, Diameter, Circumference unit.Length }

// Geometry works the size out; false where the designation does not tell it: no
// aspect is written (11R22.5, 9.50R16.5LT, 155R13). The section height is the
// width times the aspect, the diameter twice that and the rim; of a flotation
// size the first number is the nominal diameter.
func (m Marking) Geometry() (Geometry, bool) {
	var g Geometry
	switch {
	case m.Rim == 0:
		return Geometry{}, false
	case m.Overall > m.Rim:
		g.SectionHeight = (m.Overall - m.Rim) / 2
	case m.Aspect > 0 && m.SectionWidth > 0:
		g.SectionHeight = unit.Length(math.Round(float64(m.SectionWidth) * float64(m.Aspect)))
	default:
		return Geometry{}, false
	}
	g.Diameter = m.Rim + 2*g.SectionHeight
	g.Circumference = unit.Length(math.Round(math.Pi * float64(g.Diameter)))
	return g, true
}

// Shares of the free circumference that a tire rolls in one revolution.
// RollingFactor is that of a radial tire under load, 3.05 times its diameter
// (European Commission research center, vehicle energy model); Unloaded is of a
// tire that does not flatten.
const (
	RollingFactor unit.Ratio = 3.05 / math.Pi
	Unloaded      unit.Ratio = 1
)

// Revolutions counts the revolutions in a distance, rolling being the share of
// the circumference that is rolled. None is told without a circumference, a
// distance and a share above zero.
func (g Geometry) Revolutions(in unit.Distance, rolling unit.Ratio) (unit.Amount, bool) {
	rolled := g.Circumference.In(unit.Millimeters) / 1000 * float64(rolling)
	if rolled <= 0 || in <= 0 {
		return unit.Amount{}, false
	}
	return unit.Amount{Number: in.In(unit.Meters) / rolled, Unit: unit.Count}, true
}
