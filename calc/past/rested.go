package past

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Rested gives the latest earlier visit, by its day, that reported the place of a wheel
// of today and no odometer, or where today has none: a trailer has none at all. It tells
// nothing of wear, and of lost air what the days tell. False where there is none, or the
// tire may not have stayed there since.
func (r Record) Rested(wheel int, t Tire) (visit, at int, ok bool) {
	w := r.today.Wheels[wheel]
	if w.At == (layout.Position{}) || w.At.Spare || r.today.Day.IsZero() {
		return 0, 0, false
	}
	var latest Visit
	for i, e := range r.earlier {
		k := slices.IndexFunc(e.Wheels, func(o Wheel) bool { return o.At == w.At })
		dated := !e.Day.IsZero() && e.Day.DaysUntil(r.today.Day) > 0 && (!ok || e.compare(latest, true) > 0)
		if k < 0 || !dated || e.Odometer != nil && r.today.Odometer != nil || r.replaced(e) {
			continue
		}
		visit, at, latest, ok = i, k, e, true
	}
	if !ok {
		return 0, 0, false
	}
	was, id := r.earlier[visit].Wheels[at], r.tireOn(w, t)
	if id != "" && was.Tire != "" && id != was.Tire || w.otherThan(was) || r.mayHaveLeft(w.At, latest.Day) {
		return 0, 0, false
	}
	return visit, at, true
}

// mayHaveLeft tells that the tire of a place may have come there since a day: by a move,
// work on record, or what somebody said.
func (r Record) mayHaveLeft(place layout.Position, since unit.Date) bool {
	later := func(day unit.Date) bool { return day.IsZero() || since.DaysUntil(day) >= 0 }
	changed := func(w Work) bool {
		kinds := []finding.Done{finding.DoneTiresRotated, finding.DoneTiresReplaced, finding.DoneSeasonChanged}
		return slices.Contains(kinds, w.Kind) && w.at(place) && later(w.Day)
	}
	return len(r.moves) > 0 || r.today.Moved || slices.ContainsFunc(r.before, changed) ||
		slices.ContainsFunc(r.earlier, func(v Visit) bool { return v.Moved && later(v.Day) })
}
