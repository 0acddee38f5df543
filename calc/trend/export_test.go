package trend

import (
	"math"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// What published fits print of a line and a crossing only rests on.

// Scatter is the residual standard deviation over the gauge's own.
func (l Line) Scatter() float64 { return l.scatter }

// Quantile is what a standard uncertainty of the line is multiplied by for an
// interval of 95 percent.
func (l Line) Quantile() float64 { return l.quantile }

// At is the depth of the line at a distance, with the line's uncertainty there.
func (l Line) At(run unit.Distance) measure.Value[unit.Depth] {
	t := float64(run) - l.center
	return measure.Value[unit.Depth]{
		Of:  unit.Depth(math.Round(l.level + float64(l.rate*t))),
		Std: math.Hypot(l.levelStd, float64(l.rateSD*t)),
	}
}
