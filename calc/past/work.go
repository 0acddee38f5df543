package past

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Work is all work on record, that of today too. Moves of more than one tire at a time
// are a rotation.
func (r Record) Work() []Work {
	out := slices.Concat(r.before, r.now)
	for _, m := range r.moves {
		if len(m.Tires) > 1 {
			out = append(out, Work{Kind: finding.DoneTiresRotated, Odometer: m.Odometer})
		}
	}
	return out
}

// Changed tells how long ago tires were moved or exchanged, by the record: moves and
// work, that of this visit too, and the answers of earlier visits. Nil: not known.
func (r Record) Changed() []*unit.Distance {
	var out []*unit.Distance
	for _, w := range slices.Concat(r.before, r.now) {
		switch w.Kind {
		case finding.DoneTiresRotated, finding.DoneTiresReplaced, finding.DoneSeasonChanged, finding.DoneTireMounted:
			out = append(out, r.Ago(w.Odometer))
		}
	}
	for _, m := range r.moves {
		out = append(out, r.Ago(m.Odometer))
	}
	for _, e := range r.earlier {
		if e.Moved {
			out = append(out, r.Ago(e.Odometer))
		}
	}
	return out
}

// Done is the work of the visit of today itself.
func (r Record) Done() []Work {
	return slices.DeleteFunc(slices.Clone(r.today.Work), func(w Work) bool { return !r.today.Did(w) })
}

// Off tells that a wheel was off at the visit of today.
func (r Record) Off(wheel int) bool {
	w := r.today.Wheels[wheel]
	return w.Fasteners || r.today.tookOff(w.At)
}

// tookOff tells whether work done at a visit took a wheel off the vehicle.
func (v Visit) tookOff(at layout.Position) bool {
	return slices.ContainsFunc(v.Work, func(w Work) bool {
		switch w.Kind {
		case finding.DoneWheelsOff, finding.DoneTiresRotated, finding.DoneSeasonChanged, finding.DoneBearingWork, finding.DoneBrakeWork,
			finding.DoneTireMounted, finding.DoneTiresReplaced, finding.DoneTireRepaired, finding.DoneWheelReplaced, finding.DoneBeadSeatCleaned, finding.DoneDualsCleared:
			return v.Did(w) && w.at(at)
		}
		return false
	})
}

// Today is the index of the visit of today where others are of earlier ones.
const Today = -1

// Off tells that a wheel was off at an earlier visit and how far it has run since.
type Off struct{ Ago *unit.Distance }

// Check is a check of a wheel's torque.
type Check struct {
	Visit int            // index among the earlier visits, or Today
	Wheel int            // of that visit
	Odo   bool           // an odometer is told
	After *unit.Distance // run since the wheel was off, nil when not known
}

// Fastened gives the last earlier time that a wheel of today was off, nil when none is on
// record, and the checks of its torque since, today's among them.
func (r Record) Fastened(wheel int) (off *Off, checks []Check) {
	at := r.today.Wheels[wheel].At
	var then *unit.Distance
	for _, i := range inOrder(r.earlier) {
		e := r.earlier[i]
		k := e.last(at)
		switch {
		case e.tookOff(at), k >= 0 && e.Wheels[k].Fasteners: // a check at the same visit was of the torque before
			off, checks, then = &Off{Ago: r.Ago(e.Odometer)}, nil, e.Odometer
		case k >= 0 && e.Wheels[k].Recheck != nil:
			checks = append(checks, e.check(i, k, then))
		}
	}
	if r.today.Wheels[wheel].Recheck != nil {
		checks = append(checks, r.today.check(Today, wheel, then))
	}
	return off, checks
}

// last is the last wheel that a visit reported at a place, -1 for none.
func (v Visit) last(at layout.Position) int {
	for i, w := range slices.Backward(v.Wheels) {
		if w.At == at {
			return i
		}
	}
	return -1
}

// check is the check of a wheel's torque at a visit, which knows the odometer where the
// check does not say it; off is the odometer when the wheel was off.
func (v Visit) check(visit, wheel int, off *unit.Distance) Check {
	odometer := cmp.Or(v.Wheels[wheel].Recheck.Odometer, v.Odometer)
	c := Check{Visit: visit, Wheel: wheel, Odo: odometer != nil}
	if towed := v.Wheels[wheel].Recheck.Towed; towed != nil {
		c.Odo, c.After = true, towed
		return c
	}
	if odometer != nil && off != nil && *odometer >= *off {
		c.After = new(*odometer - *off)
	}
	return c
}
