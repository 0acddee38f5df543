package inflation

import (
	"math"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
)

// Supports gives the load that a cold pressure supports, with its standard
// uncertainty: that of the pressure, taken on the side on which less is carried,
// and how far published loads lie from the law. False where sidewall.Rating.Load
// gives no figure. It is no word on whether the tire is fit to run.
func Supports(r sidewall.Rating, cold measure.Value[unit.Pressure], dual bool) (measure.Value[unit.Mass], bool) {
	load, ok := r.Load(cold.Of, dual)
	if !ok {
		return measure.Value[unit.Mass]{}, false
	}
	rated, _ := r.Rated(dual)
	least := cold.Of - unit.Pressure(measure.Coverage*cold.Std)
	share := r.Law.Share(least)
	if r.Law.Exponent == 0 {
		// No class loses load faster than pressure: in proportion is the worst.
		share = unit.Ratio(min(1, max(0, least/r.Law.Reference)))
	}
	std := float64(load-unit.Mass(share)*rated) / measure.Coverage
	if load < rated {
		std = math.Hypot(std, float64(r.Law.Within)*float64(load)/math.Sqrt(3))
	}
	return measure.Value[unit.Mass]{Of: load, Std: std}, true
}

// InProportion gives the rated load in proportion to the pressure, which is less than
// what a tire supports whose kind has no table here. False where there is a table.
func InProportion(r sidewall.Rating, cold measure.Value[unit.Pressure], dual bool) (measure.Value[unit.Mass], bool) {
	rated, _ := r.Rated(dual)
	per := float64(rated) / float64(r.Law.Reference)
	return measure.Value[unit.Mass]{Of: unit.Mass(per * float64(max(0, cold.Of))), Std: per * cold.Std}, r.Law.Exponent == 0
}
