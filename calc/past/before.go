package past

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Before is an earlier visit that read a tire, wherever it stood then.
type Before struct {
	Visit  int             // index among the earlier visits
	Wheel  int             // of that visit
	Ago    unit.Distance   // run by the tire since then
	At     layout.Position // where it stood
	Turned bool            // its other sidewall faces out now
	Stayed bool            // its wheel was at no other place since
}

// Before gives the earlier visits that read the tire on a wheel of today, the latest
// first. A visit that a later one replaces does not count, nor one without an odometer
// or with a higher one than today's.
func (r Record) Before(wheel int, t Tire) []Before {
	w, now := r.today.Wheels[wheel], r.today.Odometer
	if w.At == (layout.Position{}) || w.At.Spare || now == nil {
		return nil
	}
	course := r.stays(w, t)
	known := course[len(course)-1].at == w.At // else moved since without a record
	var out []Before
	for i, e := range r.earlier {
		if e.Odometer == nil || *e.Odometer > *now || r.replaced(e) || r.mixedSince(e) {
			continue
		}
		k := e.named(r.tireOn(w, t))
		if k >= 0 && e.Wheels[k].At == w.At && r.changedSince(*e.Odometer, w.At) && !r.movedBetween(e, r.today) {
			continue // changed by a note alone, and named as if it had stayed
		}
		if k < 0 && known {
			k = r.unnamed(e, course)
		}
		if k < 0 || w.otherThan(e.Wheels[k]) {
			continue
		}
		b := Before{Visit: i, Wheel: k, Ago: *now - *e.Odometer, At: e.Wheels[k].At}
		b.Stayed = b.At == w.At
		if known {
			b.Ago, b.Turned, b.Stayed = since(course, *e.Odometer, b)
		}
		out = append(out, b)
	}
	slices.SortStableFunc(out, func(a, b Before) int {
		return cmp.Or(cmp.Compare(a.Ago, b.Ago), r.earlier[b.Visit].compare(r.earlier[a.Visit], true), a.At.Compare(b.At))
	})
	return out
}

// mixedSince tells that somebody said at a later visit that tires had changed places,
// and no move is on record: nobody knows any more which of today's tires a visit before
// it read.
func (r Record) mixedSince(e Visit) bool {
	moved := func(v Visit) bool {
		return v.Moved && read(v.Odometer) > read(e.Odometer) && !r.movedBetween(e, v)
	}
	return moved(r.today) || slices.ContainsFunc(r.earlier, moved)
}

// movedBetween tells that a move is on record between two visits.
func (r Record) movedBetween(e, until Visit) bool {
	return slices.ContainsFunc(r.moves, func(m Moves) bool {
		moved := read(m.Odometer)
		return moved >= read(e.Odometer) && moved <= read(until.Odometer)
	})
}

// replaced tells that a later visit, today's among them, replaces this one.
func (r Record) replaced(e Visit) bool {
	by := func(v Visit) bool { return e.ID != "" && v.Corrects == e.ID }
	return by(r.today) || slices.ContainsFunc(r.earlier, by)
}

// named is the wheel of a visit that names the tire, -1 for none.
func (v Visit) named(id string) int {
	return slices.IndexFunc(v.Wheels, func(w Wheel) bool { return id != "" && w.Tire == id })
}

// unnamed is the wheel of a visit at the place where the tire was then, when it names no
// tire; -1 for none. At the visit that fitted it another was found. A change of tires
// since then that was written down as work only leaves open which one it was.
func (r Record) unnamed(e Visit, course []stay) int {
	odometer := *e.Odometer
	if course[0].from != nil && odometer <= *course[0].from {
		return -1
	}
	for _, s := range course {
		if s.from != nil && odometer < *s.from || s.until == nil || odometer > *s.until {
			continue
		}
		if r.changedSince(odometer, s.at) {
			return -1
		}
		return slices.IndexFunc(e.Wheels, func(w Wheel) bool { return w.At == s.at && w.At != (layout.Position{}) && w.Tire == "" })
	}
	return -1
}

// changedSince tells that tires were rotated or exchanged at a place by a note alone,
// after a visit's readings. A visit that exchanges a tire may have read the new one.
func (r Record) changedSince(odometer unit.Distance, place layout.Position) bool {
	return slices.ContainsFunc(r.before, func(w Work) bool {
		switch {
		case !w.at(place):
			return false
		case w.Kind == finding.DoneTiresRotated:
			return w.Odometer == nil || *w.Odometer >= odometer
		case w.Kind == finding.DoneTiresReplaced || w.Kind == finding.DoneSeasonChanged:
			return w.Odometer == nil || *w.Odometer > odometer
		}
		return false
	})
}

// otherThan: the dates on the sidewalls are not the same.
func (w Wheel) otherThan(o Wheel) bool { return w.Made != "" && o.Made != "" && w.Made != o.Made }

// since is what a tire ran after a visit without its time in storage, whether its other
// sidewall faces out now, and whether it stayed on its wheel position. What is not known
// of its stays leaves all that the odometer ran.
func since(course []stay, odometer unit.Distance, b Before) (ran unit.Distance, turned, stayed bool) {
	stayed = b.Stayed
	for i, s := range course {
		if i > 0 && s.from != nil && *s.from >= odometer {
			turned, stayed = turned != s.turned, false
		}
		from := odometer
		if s.from != nil {
			from = max(odometer, *s.from)
		}
		if s.until == nil {
			return b.Ago, turned, stayed
		}
		ran += max(0, *s.until-from)
	}
	return ran, turned, stayed
}
