package book

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"hash/maphash"
	"maps"
	"runtime"
	"slices"
	"sync"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// Failure is a promise of the record that its rows do not keep.
type Failure struct {
	Vehicle, Record string // whose it is, "" where that is not known
	What            string // a sentence without its end
	Rebuilt         bool   // it was set right
}

// Verified says what was read.
type Verified struct {
	Changes, Rows, Vehicles, Failures, Rebuilt int
}

// Verify reads all of a shop and holds it to what its rows promise: the feed and the rows
// that it names; each record and what leads to it; and each row that follows from records,
// which are gone through from the beginning for it. With rebuild, rows that follow from
// others are written anew where they are not as they should be; what was recorded is never
// touched. Nobody may write to the store meanwhile. step is told of each entry of the feed
// and each vehicle that was gone through, each of what fails: both by one at a time.
//
// Errors: the store's; the context's.
func (b *Book) Verify(ctx context.Context, shop string, rebuild bool, step func(), each func(Failure)) (Verified, error) {
	c := &verifying{book: b, shop: shop, rebuild: rebuild, step: step, each: each, seed: maphash.MakeSeed()}
	for {
		before := c.out.Rebuilt
		c.wanted = nil
		for _, pass := range []func(context.Context) error{c.readable, c.feed, c.records, c.vehicles, c.strays} {
			if err := pass(ctx); err != nil {
				return c.out, err
			}
		}
		if c.out.Rebuilt == before || c.rounds == mostRounds {
			return c.out, nil
		}
		c.rounds++
	}
}

// mostRounds is how often a shop is gone through again after rows were written anew: what
// was set right of one vehicle may change another, to which a tire of it went.
const mostRounds = 8

// verifying is one run over a shop.
type verifying struct {
	book    *Book
	shop    string
	rebuild bool
	rounds  int // that were gone through before

	mu     sync.Mutex // guards all below
	step   func()
	each   func(Failure)
	out    Verified
	seed   maphash.Seed
	wanted []uint64 // hashes of the keys of rows that are to be there, of kinds that follow from others
}

func (c *verifying) fail(f Failure) {
	c.mu.Lock()
	defer c.mu.Unlock()
	switch {
	case f.Rebuilt:
		c.out.Rebuilt++
	case c.rounds > 0 && c.rebuild:
		return // it was told in the first round
	}
	c.out.Failures++
	c.each(f)
}

// failf tells of a failure that is not set right.
func (c *verifying) failf(vehicle, record, format string, args ...any) {
	c.fail(Failure{Vehicle: vehicle, Record: record, What: fmt.Sprintf(format, args...)})
}

func (c *verifying) passed() {
	c.mu.Lock()
	defer c.mu.Unlock()
	if c.step != nil && c.rounds == 0 {
		c.step()
	}
}

// want notes that rows are to be there.
func (c *verifying) want(keys ...history.Key) {
	c.mu.Lock()
	defer c.mu.Unlock()
	for _, k := range keys {
		c.wanted = append(c.wanted, maphash.String(c.seed, string(k)))
	}
}

// kindNames are what rows are called that follow from records, by the mark of their keys.
var kindNames = map[byte]string{
	historyMark: "the list of its visits", orderMark: "the search by order", stateMark: "what was made of it", afterMark: "what was made of it after a visit",
	openMark: "the list of what is open", untilMark: "the list of what was set for a day", urgentMark: "the list by urgency", seenMark: "the list by last seen",
	dueMark: "the list of what comes due", duesMark: "what comes due of it", codeMark: "the search by finding", sizeMark: "the search by tire size",
	wordMark: "the search by word", nextDueMark: "the search by what comes due next", plateMark: "the search by plate", tagMark: "the search by tag",
	offMark: "the list of wheels off", tireOpenMark: "what was open of tires that left it", tireLeftMark: "the tires that left it",
	tireLifeMark: "the history of a tire", tireMark: "where a tire is", eventMark: "what happened to it", repairsMark: "the repairs of a tire",
	replacedMark: "which visit corrects which", sameMark: "which vehicle it was found to be",
}

// hold holds rows that follow from records to what they are to be: those that a draft
// writes. What is not so is told, and with rebuild written anew; the feed then tells what
// is open on the vehicle, nil: of none.
func (c *verifying) hold(v view, of *vehicle, record string, d *drafting) error {
	if d.err != nil {
		return d.err
	}
	id := ""
	if of != nil {
		id = of.record.GetId()
	}
	anew := &drafting{}
	for _, k := range slices.Sorted(maps.Keys(d.writes)) {
		put := d.writes[k]
		is, err := v.s.Get(v.ctx, k)
		if err != nil {
			return err
		}
		what := ""
		switch {
		case put == nil && is.Version != history.Absent:
			what = "holds a row that follows from nothing recorded"
		case put == nil:
		case is.Version == history.Absent:
			what = "lacks a row"
		case !bytes.Equal(is.Value, put.Value):
			what = "says something else than what was recorded"
		}
		if put != nil {
			c.want(k)
		}
		if what != "" {
			c.fail(Failure{Vehicle: id, Record: record, What: kindNames[k[0]] + " " + what, Rebuilt: c.rebuild})
			anew.write(k, put)
		}
	}
	if !c.rebuild {
		return nil
	}
	return c.write(v.ctx, settledFirst(anew), of)
}

// vehicles goes through the records of all vehicles, side by side on all cores.
func (c *verifying) vehicles(ctx context.Context) error {
	ctx, end := context.WithCancelCause(ctx)
	defer end(nil)
	ids := make(chan string)
	go func() {
		defer close(ids)
		if err := c.eachVehicle(ctx, ids); err != nil {
			end(err)
		}
	}()
	var through sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		through.Go(func() {
			for id := range ids {
				if err := c.vehicle(ctx, id); err != nil {
					end(err)
					return
				}
			}
		})
	}
	through.Wait()
	return context.Cause(ctx)
}

// eachVehicle names the vehicles, but for those that were found to be others.
func (c *verifying) eachVehicle(ctx context.Context, to chan<- string) error {
	return c.book.read(ctx, c.shop, func(v view) error {
		return v.eachRow(key(vehicleMark), func(r history.Row) error {
			id := r.Key.Texts(1)[0]
			now, err := v.resolved(id)
			if err != nil {
				return c.unread(ctx, id, "", err)
			}
			if now != id {
				return nil
			}
			select {
			case to <- id:
				return nil
			case <-ctx.Done():
				return ctx.Err()
			}
		})
	})
}

// vehicle holds one vehicle to what is recorded of it.
func (c *verifying) vehicle(ctx context.Context, id string) (err error) {
	defer func() {
		if p := recover(); p != nil {
			c.failf(id, "", "its record cannot be gone through: %v", p)
		}
	}()
	if c.rounds == 0 {
		c.mu.Lock()
		c.out.Vehicles++
		c.mu.Unlock()
		c.passed()
	}
	return c.book.read(ctx, c.shop, func(v view) error {
		of, d, err := v.remade(id)
		if err != nil {
			return c.unread(ctx, id, "", err)
		}
		return c.hold(v, &of, "", d)
	})
}

// unread tells of what cannot be read, where it is not the store that fails.
func (c *verifying) unread(ctx context.Context, vehicle, record string, err error) error {
	if ctx.Err() != nil || errors.Is(err, history.ErrClosed) {
		return err
	}
	c.failf(vehicle, record, "its record cannot be gone through: %v", err)
	return nil
}

// remade goes through the record of a vehicle from the beginning, and gives it with the
// rows that are to follow.
func (v view) remade(id string) (vehicle, *drafting, error) {
	v.s = newReadOnce(v.s, id)
	of, err := v.vehicle(id)
	if err != nil {
		return of, nil, err
	}
	d := &drafting{}
	a := newAcross(v, d)
	steps, err := a.stepsBehind(id, historyOf(id), "")
	if err != nil {
		return of, nil, err
	}
	p, err := a.parting(d, id, "")
	if err != nil {
		return of, nil, err
	}
	now, recorded := state{}, of.state.recorded
	for i := range steps {
		if now, err = a.take(&steps[i], now); err != nil {
			return of, nil, err
		}
		p.leave(d, steps[i], now)
		if at := steps[i].recordedTime(); of.version == history.Absent && nanos(at) > nanos(recorded) {
			recorded = at // it was lost
		}
		if steps[i].visit != nil {
			if err := v.remadeVisit(d, steps[i], now); err != nil {
				return of, nil, err
			}
		}
	}
	for _, left := range p.now {
		d.put(openOf(left.tire), &rows.TireOpen{})
	}
	now.recorded = recorded
	written := of.version != history.Absent || len(steps) > 0
	of.state = now
	if written {
		d.state(id, now)
	}
	return of, d, v.remadeLists(d, of)
}

// recordedTime is when it was recorded.
func (s step) recordedTime() *timestamppb.Timestamp {
	if s.visit != nil {
		return s.visit.time
	}
	return s.rootTime()
}

// remadeVisit puts what follows from a visit that stands: how its covering row names its
// tires, what is noted of these, its order, and where it is kept what it made of the vehicle.
func (v view) remadeVisit(d *drafting, s step, after state) error {
	row, err := v.s.Get(v.ctx, s.key)
	if err != nil {
		return err
	}
	c, err := v.readCover(row)
	if err != nil {
		return err
	}
	bearing := s.bearing()
	d.lived(s.visit, nil, bearing)
	d.write(s.key, &history.Put{Key: s.key, Value: row.Value})
	if !sameTires(c.inspection, bearing) {
		c.Inspection = d.sent(bearing)
		d.coverAgain(c)
	}
	if order := plain(s.inspection.GetOrderReference()); order != "" {
		d.put(orderKey(order, s.visit.vehicle, s.inspection.GetId()), &rows.VehicleRow{})
	}
	kept, version, err := v.state(s.visit.vehicle, afterKey(s.inspection.GetId()))
	if err == nil && version != history.Absent {
		after.recorded = kept.recorded
		d.put(afterKey(s.inspection.GetId()), d.whole(s.visit.vehicle, after))
	}
	return err
}

// remadeLists puts the rows of all lists of a vehicle, and those of its tires.
func (v view) remadeLists(d *drafting, of vehicle) error {
	due, err := v.dues(of.record.GetId())
	if err != nil {
		return err
	}
	if due = mounted(due, of.state.tires); len(due) == 0 {
		d.delete(duesKey(of.record.GetId()))
	}
	d.listOpen(of, state{}, of.state)
	for k := range of.findKeys(due) {
		d.put(k, &rows.VehicleRow{})
	}
	keys := of.listKeys()
	d.put(keys[0], of.row(due))
	d.put(keys[1], of.leadTo())
	d.due(of.record, nil, due)
	for _, t := range of.state.tires {
		row, err := v.s.Get(v.ctx, tireKey(t.GetId()))
		if err != nil {
			return err
		}
		kept, e, err := v.tire(t.GetId())
		if err == nil && e.there() && proto.Equal(kept, t) {
			d.write(row.Key, &history.Put{Key: row.Key, Value: row.Value})
			continue
		}
		d.record(tireKey(t.GetId()), t, entry{time: of.state.recorded})
	}
	return nil
}
