package book

import (
	"maps"
	"slices"
	"strings"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// across is what one command makes of vehicles that tires tie together. A tire has one past:
// where a record tells it to be, it is on no other vehicle from then on, and what is open of
// it goes along. So what changes the past of one vehicle may change that of the one to which
// a tire of it went, from there on.
type across struct {
	stored view // as it is
	view        // as the draft leaves it
	draft  *drafting

	own      string                 // the vehicle that the caller goes through by himself; "": none
	vehicles map[string]*passed     // that were gone through
	again    map[string]history.Key // by vehicle, from which place on it is to be gone through again
}

// passed is a vehicle before the command and after it.
type passed struct {
	was, now vehicle
	through  bool // its record was gone through
}

func newAcross(stored view, d *drafting) *across {
	return &across{stored: stored, view: stored.with(d), draft: d, vehicles: map[string]*passed{}, again: map[string]history.Key{}}
}

// pass reads a vehicle that is gone through again.
func (a *across) pass(id string) (*passed, error) {
	if a.vehicles[id] == nil {
		v, err := a.stored.vehicle(id)
		if err != nil {
			return nil, err
		}
		a.known(v)
		a.vehicles[id] = &passed{was: v, now: v}
	}
	return a.vehicles[id], nil
}

// known expects a vehicle as it was read.
func (a *across) known(v vehicle) {
	a.draft.expect(vehicleKey(v.record.GetId()), v.number)
	a.draft.expect(stateKey(v.record.GetId()), v.version)
}

// from demands that a vehicle is gone through again, from a place on.
func (a *across) from(vehicle string, spot history.Key) {
	if vehicle == a.own {
		return
	}
	if at, already := a.again[vehicle]; !already || spot < at {
		a.again[vehicle] = spot
	}
}

// whereTold is a record that tells where a tire is.
type whereTold struct {
	vehicle string // "": off any
	spot    history.Key
}

// before is where a tire was before a place.
func (a *across) before(tire string, spot history.Key) (whereTold, error) {
	return a.seen(history.Range{Prefix: lifeOf(tire), After: lifeOf(tire) + spot, Reverse: true, Limit: earlierVisits})
}

// next is the first record behind a place that tells where a tire is; none has no place.
func (a *across) next(tire string, behind history.Key) (whereTold, error) {
	return a.seen(history.Range{Prefix: lifeOf(tire), After: lifeOf(tire) + behind, Limit: earlierVisits})
}

// seen is the first in a range that tells where a tire is; backward, that sees it.
func (a *across) seen(of history.Range) (out whereTold, err error) {
	for more := true; more; {
		page, err := a.s.Scan(a.ctx, of)
		if err != nil {
			return out, err
		}
		for _, r := range page.Rows {
			of.After = r.Key
			row := &rows.TireEvent{}
			if err := decode(r.Value, row); err != nil {
				return out, err
			}
			_, visit := row.GetWhat().(*rows.TireEvent_Inspection)
			_, moves := row.GetWhat().(*rows.TireEvent_Moves)
			if moves || visit && (row.GetTold() || of.Reverse) {
				at := r.Key[len(of.Prefix):]
				id := at.Texts(placeSize)[0]
				out.spot = at[:placeSize].Text(id)
				out.vehicle, err = a.vehicleTold(row, visit, id)
				return out, err
			}
		}
		more = page.More
	}
	return out, nil
}

// vehicleTold is the vehicle that a record says a tire was on.
func (a *across) vehicleTold(row *rows.TireEvent, visit bool, id string) (string, error) {
	if !visit {
		return a.resolved(row.GetVehicleId())
	}
	v, err := a.visit(id)
	if v == nil {
		return a.own, err // it is the one that is recorded now
	}
	return v.vehicle, err
}

// tell notes that a record at a place tells a tire to be on a vehicle, "" for off any: the
// one that it was on has it no more from there, and this one from where the next tells it to
// be on another.
func (a *across) tell(tire, vehicle string, spot history.Key) error {
	last, err := a.before(tire, spot)
	if err != nil {
		return err
	}
	next, err := a.next(tire, spot+endOfSpot)
	if err != nil {
		return err
	}
	a.departs(tire, last.vehicle, whereTold{vehicle, spot})
	a.departs(tire, vehicle, next)
	return a.guard(tire)
}

// untell notes that a record at a place tells of a tire no more.
func (a *across) untell(tire string, spot history.Key) error {
	last, err := a.before(tire, spot)
	if err != nil {
		return err
	}
	next, err := a.next(tire, spot+endOfSpot)
	if err != nil {
		return err
	}
	a.departs(tire, last.vehicle, next)
	if last.vehicle != "" {
		a.from(last.vehicle, spot)
	}
	return a.guard(tire)
}

// departs notes with a vehicle that a tire is told to be elsewhere, from a place on.
func (a *across) departs(tire, vehicle string, to whereTold) {
	if vehicle == "" || to.spot == "" || to.vehicle == vehicle {
		return
	}
	a.draft.put(eventsOf(vehicle)+to.spot.Text(tire), &rows.Event{What: &rows.Event_Departed{Departed: tire}, DepartedTo: to.vehicle})
	a.from(vehicle, to.spot)
}

// guard expects a tire, and what was open of it, as they were read.
func (a *across) guard(tire string) error {
	for _, k := range []history.Key{tireKey(tire), openOf(tire)} {
		row, err := a.stored.s.Get(a.ctx, k)
		if err != nil {
			return err
		}
		a.draft.expect(k, row.Version)
	}
	return nil
}

// settle goes through vehicles again until all agree: that of the earliest place first, for
// what changes there changes only what is behind it.
func (a *across) settle() error {
	for len(a.again) > 0 {
		ids := slices.SortedFunc(maps.Keys(a.again), func(x, y string) int {
			return strings.Compare(string(a.again[x])+x, string(a.again[y])+y)
		})
		spot := a.again[ids[0]]
		delete(a.again, ids[0])
		if err := a.goThrough(ids[0], historyOf(ids[0])+spot[:len(spot)-1]); err != nil {
			return err
		}
	}
	return nil
}

// goThrough goes through a vehicle's record behind a place.
func (a *across) goThrough(id string, behind history.Key) error {
	v, err := a.pass(id)
	if err != nil {
		return err
	}
	steps, err := a.stepsBehind(id, behind, "")
	if err != nil {
		return err
	}
	now, err := a.stateBehind(v, behind)
	if err != nil {
		return err
	}
	p, err := a.parting(a.draft, id, behind)
	if err != nil {
		return err
	}
	for i := range steps {
		if now, err = a.take(&steps[i], now); err != nil {
			return err
		}
		if err := a.passes(p, steps[i], now); err != nil {
			return err
		}
	}
	now.recorded = v.now.state.recorded
	v.now.state, v.through = now, true
	a.draft.statesAfter(id, steps)
	for _, step := range steps {
		if err := a.recover(step); err != nil {
			return err
		}
	}
	return a.part(p)
}

// passes notes a step that was gone through: what left in it, and that what came was read.
func (a *across) passes(p *parting, s step, after state) error {
	p.leave(a.draft, s, after)
	for _, id := range slices.Sorted(maps.Keys(s.came)) {
		if err := a.guard(id); err != nil {
			return err
		}
	}
	return nil
}

// stateBehind is a vehicle's state at a place: as it is, where nothing is behind that.
func (a *across) stateBehind(v *passed, place history.Key) (state, error) {
	id := v.was.record.GetId()
	if !v.through {
		if last, err := a.isLast(id, place); err != nil || last {
			return v.was.state, err
		}
	}
	return a.stateBefore(id, place, knowledge{})
}

// isLast tells that nothing is stored of a vehicle behind a place.
func (a *across) isLast(id string, place history.Key) (bool, error) {
	for prefix, after := range map[history.Key]history.Key{historyOf(id): place, eventsOf(id): eventsOf(id) + spotOf(place)} {
		page, err := a.stored.s.Scan(a.ctx, history.Range{Prefix: prefix, After: after, Limit: 1})
		if err != nil || len(page.Rows) > 0 {
			return false, err
		}
	}
	return true, nil
}

// part finds the vehicles to which tires came that left otherwise than before.
func (a *across) part(p *parting) error {
	for _, l := range p.changed() {
		spot := l.spot[:placeSize].Text(l.spot.Texts(placeSize)[0])
		next, err := a.next(l.tire, spot[:len(spot)-1])
		for err == nil && next.vehicle == "" && next.spot != "" { // it was off any
			next, err = a.next(l.tire, next.spot+endOfSpot)
		}
		if err != nil {
			return err
		}
		if err := a.guard(l.tire); err != nil {
			return err
		}
		a.draft.put(openOf(l.tire), &rows.TireOpen{})
		if next.vehicle != "" && next.vehicle != p.vehicle {
			a.from(next.vehicle, next.spot)
		}
	}
	return nil
}

// others writes what the vehicles are that changed beside the caller's own, and gives them.
func (a *across) others(c entryOfFeed) (changed []*passed, err error) {
	for _, id := range slices.Sorted(maps.Keys(a.vehicles)) {
		v := a.vehicles[id]
		if id == a.own || proto.Equal(a.draft.whole(id, v.was.state), a.draft.whole(id, v.now.state)) {
			continue
		}
		if err := a.becomes(a.draft, v.was, v.now, v.now.state.recorded); err != nil {
			return nil, err
		}
		c.touches(v.now, v.now.state)
		changed = append(changed, v)
	}
	return changed, nil
}

// tiresOfAll are the tires on vehicles before and after.
func tiresOfAll(all []*passed) (before, after []*pb.Tire) {
	for _, v := range all {
		before, after = append(before, v.was.state.tires...), append(after, v.now.state.tires...)
	}
	return before, after
}
