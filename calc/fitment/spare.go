package fitment

import (
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/sidewall"
)

// Spare is the vehicle's spare tire.
type Spare struct {
	Matching  bool            // of the size and design of the tires on the road
	InService layout.Position // where it is on the road; the zero position: it is not
}

// temporary tells a spare in service that is no full match for the others: it is
// to come off again, and is not compared with them.
func (j *fitting) temporary(w Wheel) bool {
	switch {
	case w.At.Spare:
		return false
	case w.Tire.Marking.Class == sidewall.TemporarySpare:
		return true
	}
	return w.At == j.Spare.InService && !j.Spare.Matching
}
