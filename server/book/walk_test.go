package book

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"time"

	"google.golang.org/protobuf/types/known/durationpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"

	"gaugebook.dev/server/book/booktest"
	"gaugebook.dev/server/history"
)

// kindsWalked are findings that are judged again by one look each, of tires and of places.
var kindsWalked = map[string]booktest.Kind{
	"tread.worn-to-bars": {OfTire: true, Again: booktest.Depth},
	"inflation.low":      {OfTire: true, Again: booktest.Pressure},
	"damage.bulge":       {OfTire: true, Again: booktest.Whole},
	"fastener.loose":     {Again: booktest.Fasteners},
}

var wheelsWalked = []string{"1L", "1R", "2L", "2R"}

// walk records at random, in the book and in the model, and compares the two.
type walk struct {
	*desk
	draw  func(n int) int // one of so many
	fail  func(string)
	model *booktest.Shop

	cars      []*pb.Vehicle
	all       []*pb.Vehicle // those too that were found to be another
	visits    []*pb.Inspection
	corrected map[string]bool
	newest    map[string]time.Time
	outcomes  []*pb.Outcome
	moves     []*pb.TireMoves
	movedOf   map[string]*pb.Vehicle
	finds     map[string][]booktest.Found

	tires, names names // the model's names and the book's

	unread *unread // of which reads are made to fail; nil: all can be read

	importing bool // what is recorded is history of another record

	steps    int
	log      []string // what was done
	token    string
	tokens   map[history.Number]string
	replaced map[string][]string        // by vehicle: what a counter has that replaces
	added    map[string]map[string]bool // and one that adds up
}

// names are pairs of the model's names and the book's, which go together one to one.
type names struct {
	book, model map[string]string
	all         []string // the book's, as they came
}

func (n *names) pair(model, book string) bool {
	if n.book == nil {
		n.book, n.model = map[string]string{}, map[string]string{}
	}
	b, known := n.book[model]
	m, known2 := n.model[book]
	if !known2 {
		n.all = append(n.all, book)
	}
	n.book[model], n.model[book] = book, model
	return (!known || b == book) && (!known2 || m == model)
}

func newWalk(d *desk, draw func(int) int, fail func(string)) *walk {
	w := &walk{
		desk: d, draw: draw, fail: fail, model: booktest.New(kindsWalked), corrected: map[string]bool{}, newest: map[string]time.Time{},
		movedOf: map[string]*pb.Vehicle{}, finds: map[string][]booktest.Found{}, replaced: map[string][]string{}, added: map[string]map[string]bool{},
		tokens: map[history.Number]string{},
	}
	for range 3 {
		w.cars = append(w.cars, d.keepVehicle(car()))
	}
	w.all = slices.Clone(w.cars)
	return w
}

func (w *walk) failf(format string, args ...any) {
	w.fail(strings.Join(w.log, "\n") + "\n" + fmt.Sprintf(format, args...))
}

func oneOf[T any](w *walk, all []T) T { return all[w.draw(len(all))] }

// step does one thing at random.
func (w *walk) step() {
	switch w.draw(20) {
	case 0, 1, 2, 3, 4:
		w.visit(false, nil)
	case 5, 6:
		w.visit(true, nil)
	case 7, 8:
		w.correct()
	case 9, 10:
		w.outcome()
	case 11, 12, 13:
		w.move()
	case 14:
		w.repeat()
	case 15:
		w.restart()
	case 16:
		w.leave()
	case 17:
		w.merge()
	case 18:
		w.trim()
	case 19:
		w.importing = true
		w.visit(true, nil)
		w.importing = false
	}
	w.steps++
	w.compare(w.steps%4 == 0)
}

// visit records a visit: in time or late, or one that corrects another.
func (w *walk) visit(late bool, corrects *pb.Inspection) {
	of := oneOf(w, w.cars)
	if corrects != nil {
		of = w.car(corrects.GetVehicleId())
	}
	in := newVisit(of)
	in.Wheels = nil
	m := booktest.Visit{ID: in.GetId(), Vehicle: of.GetId()}
	named := map[string]bool{}
	for _, at := range wheelsWalked {
		if w.draw(3) == 0 {
			continue
		}
		r, model := w.wheel(at, named)
		in.Wheels, m.Wheels = append(in.Wheels, r), append(m.Wheels, model)
	}
	if len(in.GetWheels()) == 0 {
		return
	}
	if late {
		ago := time.Duration(1+w.draw(40)) * time.Minute
		in.TakenTime = timestamppb.New(w.peek().Add(-ago))
		m.Taken = in.GetTakenTime().AsTime()
	}
	if corrects != nil {
		correcting(corrects, in)
		m.Corrects = corrects.GetId()
		if corrects.GetTakenTime() != nil && w.draw(2) == 0 {
			in.TakenTime = corrects.GetTakenTime()
			m.Taken = in.GetTakenTime().AsTime()
		}
	}
	w.told(in, &m)
	w.advance()
	m.Imported = w.importing
	w.unreadable("a visit", func() error { _, err := w.send(in); return err })
	kept, err := w.send(in)
	if err != nil {
		w.failf("a visit: %v", err)
		return
	}
	m.Recorded = kept.GetRecorded().GetRecordedTime().AsTime()
	w.log = append(w.log, fmt.Sprintf("visit %+v", m))
	w.model.RecordVisit(m)
	w.visits = append(w.visits, in)
	if corrects != nil {
		w.corrected[corrects.GetId()] = true
	}
}

// send records a visit, or imports it.
func (w *walk) send(in *pb.Inspection) (Kept, error) {
	on := w.Book
	if w.importing {
		on = w.Importing(nil)
	}
	return on.RecordInspection(context.Background(), shop, Sender{Name: "bench phone"}, checked(w.t, in))
}

// advance lets a while pass, so that late visits fall between others.
func (w *walk) advance() {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.clock = w.clock.Add(5 * time.Minute)
}

func (w *walk) peek() time.Time {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.clock
}

// wheel is a wheel of a visit, which may name any tire.
func (w *walk) wheel(at string, named map[string]bool) (*pb.WheelReport, booktest.Wheel) {
	r, m := wheel(at), booktest.Wheel{At: at}
	for i, do := range []option{depth, pressure, look(pb.LookedAt_LOOKED_AT_FASTENERS), whole} {
		if w.draw(2) == 0 {
			do(r)
			m.Looks |= 1 << i // in the order of the model's
		}
	}
	if m.Looks == 0 {
		pressure(r)
		m.Looks = booktest.Pressure
	}
	if w.draw(4) != 0 {
		return r, m
	}
	id := newID()
	if known := w.tires.all; len(known) > 0 && w.draw(3) != 0 {
		id = oneOf(w, known)
	}
	if named[id] {
		return r, m
	}
	named[id] = true
	r.TireId = id
	if w.tires.model[id] == "" {
		w.tires.pair(id, id)
	}
	m.Tire = w.tires.model[id]
	return r, m
}

// told tells the judge what to find, at wheels that are reported.
func (w *walk) told(in *pb.Inspection, m *booktest.Visit) {
	var all []*pb.Finding
	seen := map[string]bool{}
	for range w.draw(4) {
		code := oneOf(w, slices.Sorted(maps.Keys(kindsWalked)))
		at := oneOf(w, in.GetWheels()).GetPosition()
		if seen[code+at] {
			continue
		}
		seen[code+at] = true
		f := booktest.Found{Code: code, At: at, Note: w.draw(5) == 0, Grave: w.draw(2) == 0}
		out := &pb.Finding{Id: finding.ID([]layout.Position{layout.MustParse(at)}, code, ""), Code: code, Urgency: pb.Urgency_URGENCY_THIS_VISIT, Positions: []string{at}}
		if f.Grave {
			out = grave(out)
		}
		if f.Note {
			out.Urgency = pb.Urgency_URGENCY_NOTE
		}
		all, m.Found = append(all, out), append(m.Found, f)
	}
	w.find(in, all...)
	w.finds[in.GetId()] = m.Found
}

func (w *walk) correct() {
	var may []*pb.Inspection
	for _, v := range w.visits {
		if !w.corrected[v.GetId()] {
			may = append(may, v)
		}
	}
	if len(may) > 0 {
		w.visit(false, oneOf(w, may))
	}
}

func (w *walk) outcome() {
	if len(w.visits) == 0 {
		return
	}
	in := oneOf(w, w.visits)
	fs := w.finds[in.GetId()]
	if len(fs) == 0 {
		return
	}
	f := oneOf(w, fs)
	o := decided(in, &pb.Finding{Id: finding.ID([]layout.Position{layout.MustParse(f.At)}, f.Code, "")}, pb.Decision_DECISION_NOT_AUTHORIZED_TODAY)
	m := booktest.Outcome{ID: o.GetId(), Visit: in.GetId(), Of: f}
	switch w.draw(4) {
	case 0:
		o.Decision, o.Words, m.Withdrawn = pb.Decision_DECISION_WITHDRAWN, "invented", true
	case 1:
		o.Decision, m.Done = pb.Decision_DECISION_DONE, true
	case 2:
		o.Decision, o.Until, m.Until = pb.Decision_DECISION_SET_FOR_LATER, &pb.Outcome_UntilDate{UntilDate: theDay("2026-04-01")}, "2026-04-01"
	}
	switch w.draw(3) {
	case 0:
		o.LeftBy, m.Left = pb.LeftBy_LEFT_BY_DRIVEN, "gone"
	case 1:
		o.LeftBy, m.Left = pb.LeftBy_LEFT_BY_KEPT, "here"
	}
	w.advance()
	w.unreadable("an outcome", func() error { _, err := w.decide(o); return err })
	m.Recorded = w.mustDecide(o).Recorded.GetRecordedTime().AsTime()
	w.log = append(w.log, fmt.Sprintf("outcome %+v", m))
	w.model.RecordOutcome(m)
	w.outcomes = append(w.outcomes, o)
}

func (w *walk) leave() {
	of, by := oneOf(w, w.cars), pb.LeftBy_LEFT_BY_TOWED
	if w.draw(3) == 0 {
		by = pb.LeftBy_LEFT_BY_KEPT
	}
	w.advance()
	e := leaving(of, by)
	w.unreadable("leaving", func() error { _, err := w.RecordEvent(context.Background(), shop, e); return err })
	r, err := w.RecordEvent(context.Background(), shop, e)
	if err != nil {
		w.failf("leaving: %v", err)
	}
	w.log = append(w.log, fmt.Sprintf("leaving %s %v", of.GetId(), by))
	w.model.RecordLeaving(of.GetId(), by == pb.LeftBy_LEFT_BY_TOWED, r.GetRecordedTime().AsTime())
}

// merge finds that two vehicles are one: as long as there are others.
func (w *walk) merge() {
	if len(w.cars) < 3 || w.draw(3) != 0 {
		return
	}
	i := w.draw(len(w.cars))
	same := w.cars[i]
	w.cars = slices.Delete(slices.Clone(w.cars), i, i+1)
	keep := oneOf(w, w.cars)
	w.advance()
	two := &pb.MergeVehiclesRequest{Id: newID(), KeepVehicleId: keep.GetId(), SameVehicleId: same.GetId()}
	w.unreadable("a merge", func() error { _, err := w.MergeVehicles(context.Background(), shop, two); return err })
	if _, err := w.MergeVehicles(context.Background(), shop, two); err != nil {
		w.failf("merge: %v", err)
	}
	w.log = append(w.log, fmt.Sprintf("merge of %s into %s", same.GetId(), keep.GetId()))
	w.model.Merge(keep.GetId(), same.GetId())
}

func (w *walk) move() {
	known := w.tires.all
	m, event := booktest.Moves{}, moved()
	taken, named := map[string]bool{}, map[string]bool{}
	for range 1 + w.draw(4) {
		if len(known) == 0 {
			return
		}
		id := oneOf(w, known)
		onto, at := oneOf(w, w.cars), oneOf(w, wheelsWalked)
		if named[id] || taken[onto.GetId()+at] {
			continue
		}
		named[id], taken[onto.GetId()+at] = true, true
		to, model := mountedAt(onto, at), booktest.Move{Tire: w.tires.model[id], Vehicle: onto.GetId(), At: at}
		if w.draw(4) == 0 {
			to, model = stored("rack"), booktest.Move{Tire: w.tires.model[id]}
		}
		event.Moves, m.Moves = append(event.Moves, &pb.TireMove{TireId: id, To: to}), append(m.Moves, model)
	}
	of := oneOf(w, w.cars)
	w.advance()
	w.unreadable("moves", func() error { _, err := w.MoveTires(context.Background(), shop, of.GetId(), event, nil); return err })
	r, err := w.MoveTires(context.Background(), shop, of.GetId(), event, nil)
	if err != nil {
		w.failf("moves: %v", err)
		return
	}
	m.ID, m.Recorded = event.GetId(), r.GetRecordedTime().AsTime()
	w.log = append(w.log, fmt.Sprintf("moves %+v", m))
	w.model.RecordMoves(m)
	w.moves = append(w.moves, event)
	w.movedOf[event.GetId()] = of
}

// repeat sends something again: it is answered as repeated, and nothing is stored.
func (w *walk) repeat() {
	before := w.last()
	var call func() (*pb.Recorded, error)
	switch n := w.draw(3); {
	case n == 0 && len(w.visits) > 0:
		in := oneOf(w, w.visits)
		call = func() (*pb.Recorded, error) { kept, err := w.record(in); return kept.GetRecorded(), err }
	case n == 1 && len(w.outcomes) > 0:
		o := oneOf(w, w.outcomes)
		call = func() (*pb.Recorded, error) { out, err := w.decide(o); return out.Recorded, err }
	case n == 2 && len(w.moves) > 0:
		m := oneOf(w, w.moves)
		call = func() (*pb.Recorded, error) {
			return w.MoveTires(context.Background(), shop, w.movedOf[m.GetId()].GetId(), m, nil)
		}
	default:
		return
	}
	w.unreadable("repeated", func() error { _, err := call(); return err })
	r, err := call()
	if err != nil || !r.GetRepeatedCall() || w.last() != before {
		w.failf("repeated: %v: %v", r, err)
	}
}

// restart opens the store again, or makes another book over one that forgets.
func (w *walk) restart() {
	if w.reopen == nil {
		w.Book = New(w.store, w.judge, w.now)
		return
	}
	w.again()
}

// keptWalked is how long the walk's shop keeps changes.
const keptWalked = 30 * time.Minute

// trim removes old changes: who has followed goes on, who is behind is told to list again.
func (w *walk) trim() {
	ctx := context.Background()
	settings, err := w.GetShop(ctx, shop)
	if err != nil {
		w.failf("settings: %v", err)
	}
	settings.KeepChanges = durationpb.New(keptWalked)
	if _, err := w.UpdateShop(ctx, shop, settings, nil); err != nil {
		w.failf("settings: %v", err)
	}
	before := w.peek().Add(-keptWalked)
	n, err := w.TrimChanges(ctx)
	if err != nil {
		w.failf("trim: %v", err)
	}
	w.log = append(w.log, fmt.Sprintf("trim of %d", n))
	trimmed := w.trimmed()
	var first Change
	out, err := w.PullChanges(ctx, shop, w.tokens[trimmed], 1, 0)
	if len(out.Changes) > 0 {
		first = out.Changes[0]
	}
	if err != nil || first.Change != nil && first.GetRecordedTime().AsTime().Before(before) {
		w.failf("trimmed up to %d, then %v, %v", trimmed, first.Change, err)
	}
	for range 5 {
		number := history.Number(w.draw(int(w.last()) + 1))
		token, told := w.tokens[number]
		if !told && number > 0 {
			continue
		}
		_, err := w.PullChanges(ctx, shop, token, 3, 0)
		var r *Refusal
		refused := errors.As(err, &r) && r.Reason == pb.ErrorReason_ERROR_REASON_TOKEN_TRIMMED
		if want := number < trimmed; refused != want || !want && err != nil {
			w.failf("behind %d, trimmed up to %d: %v", number, trimmed, err)
		}
	}
}

// trimmed is the last number that was trimmed.
func (w *walk) trimmed() history.Number {
	snap, err := w.store.Snapshot(context.Background(), shop)
	if err != nil {
		w.failf("%v", err)
		return 0
	}
	defer snap.Close()
	trimmed, err := snap.Trimmed(context.Background())
	if err != nil {
		w.failf("%v", err)
	}
	return trimmed.Number
}

func (w *walk) car(id string) *pb.Vehicle {
	return w.all[slices.IndexFunc(w.all, func(c *pb.Vehicle) bool { return c.GetId() == id })]
}
