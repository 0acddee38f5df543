package book

import (
	"context"
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// feed goes through the feed: it is dense and ends with the last number, each entry has its
// mark, the record that it names is there with its number, and where what a vehicle is was
// written with it, it tells what is open on it.
func (c *verifying) feed(ctx context.Context) error {
	if c.rounds > 0 {
		return nil
	}
	return c.book.read(ctx, c.shop, func(v view) error {
		last, err := v.s.Last(ctx)
		if err != nil {
			return err
		}
		trimmed, err := v.s.Trimmed(ctx)
		if err != nil {
			return err
		}
		told := feedTold{empty: map[history.Number]bool{}}
		for after := trimmed.Number; after < last; {
			page, err := v.s.Changes(ctx, after, 0)
			if err != nil {
				return err
			}
			if len(page) == 0 {
				c.failf("", "", "the feed ends with number %d, and %d changes were recorded", after, last)
				break
			}
			for _, e := range page {
				if e.Number != after+1 {
					c.failf("", "", "the feed has number %d behind %d", e.Number, after)
				}
				after = e.Number
				c.passed()
				if err := c.entry(v, e, &told); err != nil {
					return err
				}
			}
			c.out.Changes += len(page)
		}
		return c.toldAll(v, trimmed.Number, told)
	})
}

// feedTold is what the feed tells.
type feedTold struct {
	vehicles int                     // of which the entry that tells them last is that of their row
	empty    map[history.Number]bool // entries that tell of nothing, in place of what was lost
}

// entry holds an entry of the feed to what it names.
func (c *verifying) entry(v view, e history.Change, told *feedTold) error {
	row := &rows.Change{}
	if err := decode(e.Feed, row); err != nil {
		c.failf("", "", "the entry %d of the feed cannot be read: %v", e.Number, err)
		return nil
	}
	if n := len(row.GetMark()); n != markSize && n != 0 {
		c.failf("", "", "the entry %d of the feed has a mark of %d bytes", e.Number, n)
	}
	if row.GetWhat() == nil && len(row.GetVehicles()) == 0 {
		told.empty[e.Number] = true
	}
	texts := rows.NewStrings(row.GetStrings())
	if err := c.names(v, e.Number, row, texts); err != nil {
		return err
	}
	for _, touched := range row.GetVehicles() {
		id := texts.Text(touched.GetVehicleId())
		of, err := v.vehicle(id)
		if err != nil {
			return c.unread(v.ctx, id, "", err)
		}
		if !of.there() {
			c.failf(id, "", "the entry %d of the feed tells of the vehicle, and it is not there", e.Number)
			continue
		}
		if of.record.GetId() != id || of.version != e.Number {
			continue // another vehicle by now, or told of again later
		}
		told.vehicles++
		if !sameState(stateOf(touched, texts), of.state) {
			c.failf(id, "", "the entry %d of the feed tells another set of open findings than the vehicle has", e.Number)
		}
	}
	return nil
}

// names holds the record that an entry of the feed names to its number. Rows that are
// written again later have a later one.
func (c *verifying) names(v view, n history.Number, row *rows.Change, texts *rows.Strings) error {
	var k history.Key
	once := true
	switch what := row.GetWhat().(type) {
	case *rows.Change_Inspection:
		k = visitKey(texts.Text(what.Inspection.GetInspectionId()))
	case *rows.Change_Vehicle:
		k, once = vehicleKey(texts.Text(what.Vehicle)), false
	case *rows.Change_Shop:
		k, once = shopKey(), false
	case *rows.Change_Outcome:
		k = outcomeKey(texts.Text(what.Outcome))
	case *rows.Change_Erasure:
		k, once = vehicleKey(texts.Text(what.Erasure)), false
	case *rows.Change_Tire:
		k, once = tireKey(texts.Text(what.Tire)), false
	case *rows.Change_Repair:
		repair := &pb.Repair{}
		if err := proto.Unmarshal(what.Repair, repair); err != nil {
			c.failf("", "", "the repair of the entry %d of the feed cannot be read: %v", n, err)
			return nil
		}
		k = repairKey(repair.GetId())
	case *rows.Change_Moves:
		k = movesKey(texts.Text(what.Moves))
	case *rows.Change_Event:
		k = happeningKey(texts.Text(what.Event))
	case *rows.Change_Merge:
		k = mergeKey(texts.Text(what.Merge))
	default: // a photo may have been erased since, and named again
		return nil
	}
	is, err := v.s.Get(v.ctx, k)
	switch {
	case err != nil:
		return err
	case is.Version == history.Absent:
		c.failf("", k.Texts(1)[0], "the entry %d of the feed names a record that is not there", n)
	case once && is.Version != n, is.Version < n:
		c.failf("", k.Texts(1)[0], "the entry %d of the feed names a record of number %d", n, is.Version)
	}
	return nil
}

// sameState tells that the same is open in two states.
func sameState(a, b state) bool {
	x, y := rows.NewStrings(nil), rows.NewStrings(nil)
	return proto.Equal(a.row(x), b.row(y)) && slices.Equal(x.Texts(), y.Texts())
}

// toldAll holds every vehicle's row to an entry of the feed that tells it, where that was
// not trimmed.
func (c *verifying) toldAll(v view, trimmed history.Number, told feedTold) error {
	is := 0
	err := v.eachRow(key(stateMark), func(r history.Row) error {
		if r.Version > trimmed && !told.empty[r.Version] {
			is++
		}
		return nil
	})
	if err == nil && is != told.vehicles {
		c.failf("", "", "of %d vehicles that were judged the feed tells %d as they are now", is, told.vehicles)
	}
	return err
}
