// Package past tells where a vehicle's tires were. From visits, moves and notes of work
// it works out the stays of a tire, what earlier visits read of it, when tires changed
// places, and since when the torque of a wheel waits for its check.
//
// It knows a tire by its id and its place alone. What a visit measured is none of its
// business: it names visits and wheels by their index, and who asks looks them up.
package past

import (
	"cmp"
	"slices"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Visit is one visit. An odometer is nil and a day zero where it was not told.
type Visit struct {
	ID       string
	Corrects string // id of the visit that it replaces, "" for none
	Odometer *unit.Distance
	Day      unit.Date
	Taken    time.Time // by the clock of who took it
	Moved    bool      // somebody said that tires had changed places since the visit before
	Wheels   []Wheel
	Work     []Work // done after its readings; some may be told of earlier times
}

// Wheel is one wheel that a visit reported.
type Wheel struct {
	At        layout.Position
	Tire      string // id, "" when the visit names none
	Made      string // as DateCode gives it
	Marked    string // the whole identification, "" where less than plant and date was read
	Fasteners bool   // something was done about them: the wheel was off
	Recheck   *Recheck
}

// Recheck is a check of a wheel's torque. A nil odometer is that of its visit.
type Recheck struct {
	Odometer *unit.Distance
	Towed    *unit.Distance // run since the wheel was off, where there is no odometer; nil when not told
}

// Work is a note of something done.
type Work struct {
	Kind     finding.Done
	At       []layout.Position // empty: the whole vehicle
	Odometer *unit.Distance
	Day      unit.Date
	InRange  finding.Answer // of an alignment measured
}

// at tells that the work was done at a place.
func (w Work) at(p layout.Position) bool { return len(w.At) == 0 || slices.Contains(w.At, p) }

// Moves are moves of tires made at one time.
type Moves struct {
	Odometer *unit.Distance
	Tires    []Move
}

// Move puts one tire in one place.
type Move struct {
	Tire   string
	To     layout.Position // zero: off the vehicle
	Turned finding.Answer  // the other sidewall faces out afterwards; NotAsked: not told
}

// Record is all that is on record of a vehicle up to the visit of today.
type Record struct {
	today   Visit
	earlier []Visit
	moves   []Moves // in order of the odometer
	before  []Work  // noted by itself, and done at earlier visits
	now     []Work  // done today
}

// Of puts a record together. Work that visits did carries their odometer where it has
// none of its own; notes are of work before today that no visit wrote down.
func Of(today Visit, earlier []Visit, moves []Moves, notes []Work) Record {
	r := Record{today: today, earlier: earlier, moves: slices.Clone(moves), before: slices.Clone(notes)}
	for _, v := range earlier {
		r.before = append(r.before, v.done()...)
	}
	r.now = today.done()
	slices.SortStableFunc(r.moves, func(a, b Moves) int { return cmp.Compare(read(a.Odometer), read(b.Odometer)) })
	return r
}

// done is the work of a visit, at its odometer unless it says another.
func (v Visit) done() []Work {
	out := slices.Clone(v.Work)
	for i := range out {
		out[i].Odometer = cmp.Or(out[i].Odometer, v.Odometer)
	}
	return out
}

// Did tells work of a visit itself from work of earlier times, which comes with a day
// or an odometer of its own.
func (v Visit) Did(w Work) bool {
	return (w.Day.IsZero() || w.Day == v.Day) &&
		(w.Odometer == nil || v.Odometer != nil && *w.Odometer == *v.Odometer)
}

// read is an odometer reading, zero where there is none.
func read(d *unit.Distance) unit.Distance {
	if d == nil {
		return 0
	}
	return *d
}

// Ago is the distance run since an odometer reading, nil when it is not known. A falling
// odometer tells nothing of it.
func (r Record) Ago(then *unit.Distance) *unit.Distance {
	if then == nil || r.today.Odometer == nil || *then > *r.today.Odometer {
		return nil
	}
	d := *r.today.Odometer - *then
	return &d
}

// DateCode is the part of a tire's identification that tells week and year: its last
// four characters (49 CFR 574.5), all of it when it is shorter.
func DateCode(identification string) string {
	return identification[max(0, len(identification)-4):]
}

// MovedTo gives the tire that a move brought to a place last, "" when none did or a
// later move took it away again.
func (r Record) MovedTo(at layout.Position) string {
	id := ""
	for _, event := range r.moves {
		for _, m := range event.Tires {
			switch {
			case m.To == at:
				id = m.Tire
			case m.Tire == id:
				id = ""
			}
		}
	}
	return id
}

// Latest gives the index of the latest of some visits: by their days where all are told,
// on one day by the odometer; else by the odometer alone. -1: there is none.
func Latest(visits []Visit) int {
	order := inOrder(visits)
	if len(order) == 0 {
		return -1
	}
	return order[len(order)-1]
}

// inOrder are the indexes of some visits from the first to the latest. The order in which
// they are told decides only between visits that nothing else tells apart.
func inOrder(visits []Visit) []int {
	dated := !slices.ContainsFunc(visits, func(v Visit) bool { return v.Day.IsZero() })
	order := make([]int, len(visits))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(i, k int) int {
		return cmp.Or(visits[i].compare(visits[k], dated), cmp.Compare(i, k))
	})
	return order
}

func (v Visit) compare(u Visit, dated bool) int {
	days := 0
	if dated {
		days = v.Day.Compare(u.Day)
	}
	return cmp.Or(days, cmp.Compare(read(v.Odometer), read(u.Odometer)), v.Taken.Compare(u.Taken), cmp.Compare(v.ID, u.ID))
}

// Seat gives the tire of each wheel of a visit: the one that it names, else the one last
// mounted there, unless the visit names that one elsewhere; "" where that leaves none.
func Seat(mounted map[layout.Position]string, wheels []Wheel) []string {
	tires := make([]string, len(wheels))
	for i, w := range wheels {
		on := mounted[w.At]
		switch {
		case w.Tire != "":
			tires[i] = w.Tire
		case !slices.ContainsFunc(wheels, func(o Wheel) bool { return o.Tire == on }):
			tires[i] = on
		}
	}
	return tires
}
