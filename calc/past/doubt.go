package past

import (
	"slices"

	"gaugebook.dev/calc/finding"
)

// Counting gives the indexes of the earlier visits that no later one replaces.
func (r Record) Counting() (all []int) {
	for i, e := range r.earlier {
		if !r.replaced(e) {
			all = append(all, i)
		}
	}
	return all
}

// SameTire tells that the tire on a wheel of today has the identification of the one
// that an earlier visit read there, and that this one is told to have been replaced
// since. An identification names a week and a plant: a tire is seldom replaced by one
// of the same.
func (r Record) SameTire(wheel int) bool {
	w := r.today.Wheels[wheel]
	if w.Marked == "" {
		return false
	}
	for _, i := range r.Counting() {
		e := r.earlier[i]
		k := e.last(w.At)
		if k < 0 || e.Wheels[k].Marked != w.Marked || e.Day.IsZero() {
			continue
		}
		if slices.ContainsFunc(r.before, func(d Work) bool {
			since := !d.Day.IsZero() && d.Day.Compare(e.Day) >= 0 || d.Day.IsZero() && d.Odometer != nil && e.Odometer != nil && *d.Odometer >= *e.Odometer
			return d.Kind == finding.DoneTiresReplaced && slices.Contains(d.At, w.At) && since
		}) {
			return true
		}
	}
	return false
}
