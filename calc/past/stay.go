package past

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Tire is what is on record of the tire on a wheel, beside what the visit says of it.
type Tire struct {
	ID     string         // "" when none is on record there
	Fitted *unit.Distance // the odometer when it was fitted new
}

// History is where a tire has been. Distances are nil when they are not known.
type History struct {
	Here   *unit.Distance  // run at its present place
	OnTire *unit.Distance  // run since new
	Former layout.Position // before this place; zero when not known
	Turned bool            // the other sidewall faces out since then
}

// tireOn is the id of the tire on a wheel of today: as the visit names it, else of the
// last moved there, else of the one on record there; "" for none.
func (r Record) tireOn(w Wheel, t Tire) string {
	for _, id := range []string{w.Tire, r.MovedTo(w.At), t.ID} {
		if id != "" {
			return id
		}
	}
	return ""
}

// History follows the tire on a wheel of today back: how far it has run here, and where
// it was before. Moves on record count; so does a rotation that was written down as work
// only, of which the former place is not known.
func (r Record) History(wheel int, t Tire) History {
	w := r.today.Wheels[wheel]
	out := r.follow(w, t)
	for _, done := range r.before {
		rotated := done.Kind == finding.DoneTiresRotated && done.at(w.At)
		if ago := r.Ago(done.Odometer); rotated && ago != nil && (out.Here == nil || *ago < *out.Here) {
			out.Here, out.Former, out.Turned = ago, layout.Position{}, false
		}
	}
	return out
}

// follow adds up where a tire ran. Time in storage does not count, and a tire that came
// back to its place from storage is still at that place.
func (r Record) follow(w Wheel, t Tire) (out History) {
	if w.At == (layout.Position{}) {
		return out
	}
	stays := r.stays(w, t)
	last := stays[len(stays)-1]
	if last.at != w.At {
		return out // moved since without a record
	}
	out.OnTire, out.Here = total(stays), last.length()
	for i := len(stays) - 2; i >= 0; i-- {
		if stays[i].at != w.At || stays[i+1].turned {
			out.Former, out.Turned = stays[i].at, stays[i+1].turned
			return out
		}
		out.Here = total(stays[i:])
	}
	return out
}

// stay is a time that a tire ran at one place, by the odometer.
type stay struct {
	at          layout.Position
	from, until *unit.Distance
	turned      bool // the other sidewall faces out than in the stay before
}

func (s stay) length() *unit.Distance {
	if s.from == nil || s.until == nil || *s.until < *s.from {
		return nil
	}
	d := *s.until - *s.from
	return &d
}

// total is the distance of all stays, nil when one is not known.
func total(stays []stay) *unit.Distance {
	var sum unit.Distance
	for _, s := range stays {
		d := s.length()
		if d == nil {
			return nil
		}
		sum += *d
	}
	return &sum
}

// stays are the times that the tire on a wheel ran, by its moves on record, until now.
func (r Record) stays(w Wheel, t Tire) []stay {
	id := r.tireOn(w, t)
	stays := []stay{{from: t.Fitted}}
	running := true
	for i, event := range r.moves {
		for _, m := range event.Tires {
			if m.Tire != id || id == "" {
				continue
			}
			last := &stays[len(stays)-1]
			if running {
				last.until = event.Odometer
			}
			if last.at == (layout.Position{}) {
				last.at = r.placeBefore(id, i)
			}
			if running = m.To != (layout.Position{}); running {
				stays = append(stays, stay{at: m.To, from: event.Odometer, turned: m.turned(last.at)})
			}
		}
	}
	last := &stays[len(stays)-1]
	if running {
		last.until = r.today.Odometer
	}
	if len(stays) == 1 {
		last.at = w.At
	}
	return stays
}

// placeBefore is where a tire was before the i-th moves: by earlier ones, else by an
// earlier visit that names it.
func (r Record) placeBefore(id string, i int) (found layout.Position) {
	for k := i - 1; k >= 0; k-- {
		for _, m := range r.moves[k].Tires {
			if m.Tire == id {
				return m.To
			}
		}
	}
	for _, v := range inOrder(r.earlier) {
		e := r.earlier[v]
		if read(e.Odometer) > read(r.moves[i].Odometer) {
			continue
		}
		for _, w := range e.Wheels {
			if w.Tire == id {
				found = w.At
			}
		}
	}
	return found
}

// turned tells whether the other sidewall faces out after a move: as told, else a disc
// wheel is turned between an outer dual and any other position.
func (m Move) turned(from layout.Position) bool {
	if m.Turned != finding.NotAsked || from == (layout.Position{}) {
		return m.Turned == finding.Yes
	}
	return m.To != (layout.Position{}) && (from.Dual == layout.Outer) != (m.To.Dual == layout.Outer)
}
