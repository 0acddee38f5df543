package questions

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/visit"
)

// RimsIn is what is known of the wheels, and which of them the work takes off, apart or
// lets the air out of.
type RimsIn struct {
	Labels     visit.Labels
	Conditions inflation.Conditions
	Wheels     []visit.Wheel
	Opened     []layout.Position
}

// Rims notes what the law says of how wheels that are worked on are handled, and asks of
// how many pieces one is that nobody told and on which that turns. It is asked only where
// the work turns on it.
func Rims(in RimsIn) (out Answer) {
	for _, p := range in.Opened {
		w := visit.Wheel{Position: p}
		if i := slices.IndexFunc(in.Wheels, func(w visit.Wheel) bool { return w.Position == p }); i >= 0 {
			w = in.Wheels[i]
		}
		air := in.Labels.Air(w, w.Pressure, in.Conditions)
		if air.AskRim() {
			out.ask(finding.AskRim, p)
		}
		if f, says := air.RimRule(); says {
			out.find(f)
		}
	}
	return out
}
