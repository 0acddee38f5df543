package verdict

import "gaugebook.dev/calc/inflation"

// Air is one wheel of the visit, by its index, as package inflation judges its
// pressure as found: with the label for the load and the conditions of the day.
func (v Visit) Air(wheel int) inflation.Wheel {
	w := v.Wheels[wheel]
	return (&judging{v: v}).airWheel(w, w.Pressure)
}
