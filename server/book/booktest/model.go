// Package booktest is a plain model of a shop's book: it keeps all that was recorded and,
// asked for what is, goes through all of it from the beginning. It shares no code with the
// book, which goes through as little as it can: where the two differ, one of them is wrong.
//
// Ids are the model's own: a finding is its code at a wheel, what is open is named by the
// visit that opened it and that finding, a tire that nobody named by visit and wheel.
package booktest

import (
	"cmp"
	"maps"
	"slices"
	"time"
)

// Kind is what the model knows of a finding by its code.
type Kind struct {
	OfTire bool // it goes with the tire; else it stays with the place
	Again  Look // what judges it again
}

// Look is what a visit may do at a wheel.
type Look uint8

// Looks.
const (
	Depth Look = 1 << iota
	Pressure
	Fasteners
	Whole
)

// Found is a finding of a visit.
type Found struct {
	Code, At string
	Note     bool // it asks for nothing
	Grave    bool // before driving
}

func (f Found) id() string { return f.Code + "@" + f.At }

// Wheel is a wheel of a visit.
type Wheel struct {
	At, Tire string // Tire "": not named
	Looks    Look
}

// Visit is a visit as recorded.
type Visit struct {
	ID, Vehicle, Corrects string
	Taken, Recorded       time.Time // Taken is zero where it was not told
	Wheels                []Wheel
	Found                 []Found
	Imported              bool // from another record, at the time told
}

// Outcome is what became of a finding of a visit.
type Outcome struct {
	ID, Visit string
	Of        Found
	Recorded  time.Time
	Withdrawn bool // it was none
	Done      bool // it is said to be done
	Until     string
	Left      string // "gone", "here" or not told
}

// Move puts a tire somewhere; Vehicle "" is off any.
type Move struct{ Tire, Vehicle, At string }

// Moves are moves of one event.
type Moves struct {
	ID       string
	Recorded time.Time
	Moves    []Move
}

// Open is what nothing has closed.
type Open struct {
	Name     string // the visit that opened it and the finding there
	Code, At string // where it is by now
	Visit    string // that found it last
	FoundAt  string // and where
	Since    string // the visit that first found it
	Visits   int
	Grave    bool // as found last
	Outcomes []string
	Until    string

	tire  string          // that it is of, "" where of none
	found string          // the finding as its visit has it
	names map[string]bool // by which its visits were told of it
}

// Vehicle is what the record makes of a vehicle.
type Vehicle struct {
	Tires map[string]string // by wheel
	Open  []Open            // by name
	Last  string
	Left  bool

	seen bool // a visit stands in it
}

// Shop is all that was recorded.
type Shop struct {
	kinds   map[string]Kind
	visits  map[string]*visit
	records []record
	same    map[string]string // by vehicle, the one that it was found to be
}

type visit struct {
	Visit
	root     *visit // the first that it corrects, or itself
	counted  time.Time
	replaced bool
	by       *visit            // that corrects it
	seen     map[string]string // by wheel, the tire that it saw
	told     map[string]string // by finding, what it was called when the visit was recorded
}

// record is something at its place.
type record struct {
	counted, root, recorded time.Time
	visit                   *visit
	outcome                 *outcome
	moves                   *Moves
	leaving                 *leaving
}

type leaving struct {
	vehicle string
	gone    bool
}

type outcome struct {
	Outcome
	vehicle, told string
}

// New makes an empty shop.
func New(kinds map[string]Kind) *Shop {
	return &Shop{kinds: kinds, visits: map[string]*visit{}, same: map[string]string{}}
}

// RecordVisit keeps a visit.
func (s *Shop) RecordVisit(in Visit) {
	v := &visit{Visit: in, told: map[string]string{}}
	v.root = v
	arrived := in.Recorded
	if old := s.visits[in.Corrects]; old != nil {
		old.replaced, old.by = true, v
		v.root = old.root
		v.Imported = v.Imported || old.Imported
		if in.Taken.IsZero() {
			arrived = v.root.Recorded
		}
	}
	v.counted = arrived
	if !in.Taken.IsZero() && in.Taken.Before(arrived) {
		v.counted = in.Taken
	}
	s.visits[in.ID] = v
	s.records = append(s.records, record{counted: v.counted, root: v.root.Recorded, recorded: in.Recorded, visit: v})
	for _, o := range s.worldAt(v).vehicle(s.of(in.Vehicle)).Open {
		if o.Visit == in.ID {
			v.told[o.found] = o.Name
		}
	}
}

// RecordOutcome keeps an outcome.
func (s *Shop) RecordOutcome(o Outcome) {
	of := s.visits[o.Visit]
	out := &outcome{o, of.Vehicle, of.told[o.Of.id()]}
	now := s.worldAt(nil)
	for v := of; v != nil && out.of(now.vehicle(s.of(of.Vehicle)).Open) < 0; v = v.by { // it may have gone with its tire
		if on := now.where(v.seen[o.Of.At]); on != "" && out.of(now.on[on].Open) >= 0 {
			out.vehicle = on
			break
		}
	}
	s.records = append(s.records, record{counted: o.Recorded, root: o.Recorded, recorded: o.Recorded, outcome: out})
}

// where is the vehicle that a tire is on, "" for none.
func (w world) where(tire string) string {
	for id, v := range w.on {
		for _, t := range v.Tires {
			if t == tire {
				return id
			}
		}
	}
	return ""
}

// Merge keeps that two vehicles are one, whose record is that of both.
func (s *Shop) Merge(keep, same string) { s.same[same] = keep }

// of is the vehicle that one was found to be.
func (s *Shop) of(vehicle string) string {
	for s.same[vehicle] != "" {
		vehicle = s.same[vehicle]
	}
	return vehicle
}

// RecordLeaving keeps that a vehicle left, or was kept.
func (s *Shop) RecordLeaving(vehicle string, gone bool, recorded time.Time) {
	s.records = append(s.records, record{counted: recorded, root: recorded, recorded: recorded, leaving: &leaving{vehicle, gone}})
}

// RecordMoves keeps moves.
func (s *Shop) RecordMoves(m Moves) {
	s.records = append(s.records, record{counted: m.Recorded, root: m.Recorded, recorded: m.Recorded, moves: &m})
}

// Vehicles gives what the record makes of each vehicle.
func (s *Shop) Vehicles() map[string]*Vehicle { return s.worldAt(nil).on }

// Visits are the visits of a vehicle, the newest first, those that were corrected too.
func (s *Shop) Visits(vehicle string) (ids []string) {
	for _, r := range slices.Backward(s.inOrder()) {
		if r.visit != nil && s.of(r.visit.Vehicle) == vehicle {
			ids = append(ids, r.visit.ID)
		}
	}
	return ids
}

func (s *Shop) inOrder() []record {
	all := slices.Clone(s.records)
	slices.SortStableFunc(all, func(a, b record) int {
		return cmp.Or(a.counted.Compare(b.counted), a.root.Compare(b.root), a.recorded.Compare(b.recorded))
	})
	return all
}

// world is every vehicle by its id, and what is open of tires that are on none.
type world struct {
	on  map[string]*Vehicle
	off map[string][]Open
}

func (w world) vehicle(id string) *Vehicle {
	if w.on[id] == nil {
		w.on[id] = &Vehicle{Tires: map[string]string{}}
	}
	return w.on[id]
}

// worldAt goes through the record up to a visit, nil: to its end.
func (s *Shop) worldAt(to *visit) world {
	w := world{map[string]*Vehicle{}, map[string][]Open{}}
	for _, r := range s.inOrder() {
		switch {
		case r.visit != nil && !r.visit.replaced:
			s.visited(w, r.visit)
		case r.outcome != nil:
			s.decided(w.vehicle(s.of(r.outcome.vehicle)), r.outcome)
		case r.moves != nil:
			s.moved(w, r.moves)
		case r.leaving != nil:
			w.vehicle(s.of(r.leaving.vehicle)).Left = r.leaving.gone
		}
		if to != nil && r.visit == to {
			break
		}
	}
	for _, v := range w.on {
		slices.SortFunc(v.Open, func(a, b Open) int { return cmp.Compare(a.Name, b.Name) })
	}
	return w
}

// take takes a tire from where it is.
func (w world) take(tire string) {
	for _, v := range w.on {
		maps.DeleteFunc(v.Tires, func(_, t string) bool { return t == tire })
	}
}

func (s *Shop) visited(w world, in *visit) {
	v := w.vehicle(s.of(in.Vehicle))
	before := maps.Clone(v.Tires)
	named := map[string]bool{}
	for _, r := range in.Wheels {
		named[r.Tire] = true
	}
	mounted := map[string]string{}
	for _, r := range in.Wheels {
		switch on := before[r.At]; {
		case r.Tire != "":
			mounted[r.At] = r.Tire
		case on != "" && !named[on]:
			mounted[r.At] = on
		default:
			mounted[r.At] = in.root.ID + " " + r.At
			for named[mounted[r.At]] || slices.Contains(slices.Collect(maps.Values(before)), mounted[r.At]) {
				mounted[r.At] += " other"
			}
		}
	}
	for _, tire := range mounted {
		w.take(tire)
	}
	in.seen = mounted
	maps.Copy(v.Tires, mounted)
	s.follow(w)
	v.Last = in.ID
	if in.Imported { // nothing of history is open, and the vehicle is not here for it
		v.Left = v.Left || !v.seen
		v.seen = true
		return
	}
	v.Left, v.seen = false, true
	s.judged(v, in, before)
}

// judged is what a visit makes of what was open.
func (s *Shop) judged(v *Vehicle, in *visit, before map[string]string) {
	was := v.Open
	v.Open = nil
	found := map[string]Found{}
	for _, f := range in.Found {
		found[f.id()] = f
	}
	goesOn := map[string]Open{}
	for _, o := range was {
		o.Visits++
		f, again := found[o.Code+"@"+o.At]
		switch {
		case again && !f.Note:
			goesOn[f.id()] = o
		case again || s.closes(in, o, before, v.Tires):
		default:
			v.Open = append(v.Open, o)
		}
	}
	for _, f := range in.Found {
		if f.Note {
			continue
		}
		o, known := goesOn[f.id()]
		if !known {
			o = Open{Name: in.root.ID + " " + f.id(), Since: in.ID, Visits: 1, names: map[string]bool{}}
		}
		o.names = maps.Clone(o.names)
		o.names[o.Name] = true
		if told := in.told[f.id()]; told != "" {
			o.names[told] = true
		}
		o.Code, o.At, o.Visit, o.FoundAt, o.Grave, o.found = f.Code, f.At, in.ID, f.At, f.Grave, f.id()
		if s.kinds[f.Code].OfTire {
			o.tire = v.Tires[f.At]
		}
		v.Open = append(v.Open, o)
	}
}

// closes tells whether a visit that did not find it again closes what is open.
func (s *Shop) closes(in *visit, o Open, before, after map[string]string) bool {
	k := s.kinds[o.Code]
	switch {
	case k.OfTire && o.tire == "" && before[o.At] == "" && after[o.At] != "":
		return true // it was of a tire that nobody knew
	case k.OfTire && o.Grave:
		return false
	}
	for _, r := range in.Wheels {
		if r.At == o.At && r.Looks&k.Again != 0 {
			return true
		}
	}
	return false
}

// follow puts what is of a tire where the tire is now, on whatever vehicle; off any it is
// with the tire until that is on one again.
func (s *Shop) follow(w world) {
	type place struct{ vehicle, at string }
	where := map[string]place{}
	for id, v := range w.on {
		for at, tire := range v.Tires {
			where[tire] = place{id, at}
		}
	}
	going := w.off
	for id, v := range w.on {
		var stays []Open
		for _, o := range v.Open {
			switch now, is := where[o.tire]; {
			case o.tire == "":
				stays = append(stays, o)
			case is && now.vehicle == id:
				o.At = now.at
				stays = append(stays, o)
			default:
				going[o.tire] = append(going[o.tire], o)
			}
		}
		v.Open = stays
	}
	for tire, open := range maps.Clone(going) {
		now, is := where[tire]
		if !is {
			continue
		}
		delete(going, tire)
		for _, o := range open {
			o.At = now.at
			w.on[now.vehicle].Open = append(w.on[now.vehicle].Open, o)
		}
	}
}

func (s *Shop) moved(w world, m *Moves) {
	for _, move := range m.Moves {
		w.take(move.Tire)
	}
	for _, move := range m.Moves {
		if move.Vehicle != "" {
			w.vehicle(s.of(move.Vehicle)).Tires[move.At] = move.Tire
		}
	}
	s.follow(w)
}

// of is which of what is open it is of, -1: of none: what its visit found, if that found it
// last, else what is named as it was told, else what was told by that name. Of several it is
// the one found last.
func (o *outcome) of(open []Open) int {
	rank := func(f Open) int {
		switch {
		case f.Visit == o.Visit && f.found == o.Of.id():
			return 3
		case o.told != "" && f.Name == o.told:
			return 2
		case o.told != "" && f.names[o.told]:
			return 1
		}
		return 0
	}
	best := -1
	for i, f := range open {
		switch r := rank(f); {
		case r == 0:
		case best < 0, r > rank(open[best]), r == rank(open[best]) && f.Visit != open[best].Visit:
			best = i
		}
	}
	return best
}

func (s *Shop) decided(v *Vehicle, o *outcome) {
	switch o.Left {
	case "gone":
		v.Left = true
	case "here":
		v.Left = false
	}
	i := o.of(v.Open)
	if i < 0 {
		return
	}
	if !o.Of.Note && (o.Withdrawn || o.Done && !v.Open[i].Grave) {
		v.Open = slices.Delete(slices.Clone(v.Open), i, i+1)
		return
	}
	v.Open[i].Outcomes = append(slices.Clip(v.Open[i].Outcomes), o.ID)
	v.Open[i].Until = o.Until
}
