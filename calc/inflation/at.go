package inflation

import (
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// ColdOn is the cold equivalent as it would be at the temperature outside of
// another day, so that readings of two days can be compared. ok is false, and the
// value that of its own day, where either temperature is not told.
func (w Wheel) ColdOn(other Conditions) (cold measure.Value[unit.Pressure], ok bool) {
	cold = w.Cold().Value
	from, to := w.Conditions.cold(), other.cold()
	if from == 0 || to == 0 {
		return cold, false
	}
	cold.Std *= float64(to) / float64(from)
	cold.Of = AtTemperature(cold.Of, from, to, w.Conditions.Air)
	return cold, true
}
