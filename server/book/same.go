package book

import (
	"context"
	"slices"
	"strings"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
)

// resolved is the vehicle that one was found to be; itself where it was not.
func (v view) resolved(id string) (string, error) {
	if to, known := v.merged[id]; known {
		return to, nil
	}
	row := &rows.Replaced{}
	_, found, err := v.get(sameKey(id), row)
	to := id
	if err == nil && found {
		to, err = v.resolved(row.GetBy())
	}
	if err == nil {
		v.merged[id] = to
	}
	return to, err
}

// MergeVehicles keeps that two vehicles are one: what was recorded of both stands in one
// record, in the order of its places, and reads of either give the one kept. The same merge
// again is answered as the first time, as repeated.
func (b *Book) MergeVehicles(ctx context.Context, shop string, sent *pb.MergeVehiclesRequest) (*pb.Recorded, error) {
	asked := proto.CloneOf(sent)
	asked.ShopId = ""
	both := []string{sent.GetKeepVehicleId(), sent.GetSameVehicleId()}
	slices.Sort(both)
	for _, id := range both {
		unlock, err := b.lock(ctx, shop, id)
		if err != nil {
			return nil, err
		}
		defer unlock()
	}
	var repeated *pb.Recorded
	m := &merging{book: b, sent: asked}
	n, err := b.commit(ctx, shop, func(s view) (*history.Draft, error) {
		repeated = nil
		was := &pb.MergeVehiclesRequest{}
		first, err := s.record(mergeKey(asked.GetId()), was)
		switch {
		case err != nil:
			return nil, err
		case first.there() && !proto.Equal(was, asked):
			return nil, refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "id", "another merge has the id %s", asked.GetId()).with("id", asked.GetId())
		case first.there():
			repeated = first.recorded(true, history.Absent)
			return nil, nil //nolint:nilnil // no draft: it is kept already
		}
		return m.decide(s)
	})
	if err != nil || repeated != nil {
		return repeated, err
	}
	return entry{number: n, time: m.time}.recorded(false, history.Absent), nil
}

// merging is one command that merges two vehicles.
type merging struct {
	entry
	book *Book
	sent *pb.MergeVehiclesRequest

	keep, same vehicle
	across     *across
}

func (m *merging) decide(s view) (*history.Draft, error) {
	var err error
	if m.keep, err = s.vehicle(m.sent.GetKeepVehicleId()); err != nil {
		return nil, err
	}
	if m.same, err = s.vehicle(m.sent.GetSameVehicleId()); err != nil {
		return nil, err
	}
	switch {
	case !m.keep.there():
		return nil, missing("keep_vehicle_id", m.sent.GetKeepVehicleId())
	case !m.same.there():
		return nil, missing("same_vehicle_id", m.sent.GetSameVehicleId())
	case m.keep.record.GetId() == m.same.record.GetId():
		return nil, refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "same_vehicle_id", "the two are one vehicle already")
	}
	m.time = nextTime(next(m.book.now(), m.keep.state.recorded), m.same.state.recorded)
	d := &drafting{}
	m.across = newAcross(s, d)
	if err := m.join(m.across.view, d); err != nil {
		return nil, err
	}
	return m.write(m.across.view, d)
}

func missing(field, id string) error {
	return refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, field, "no vehicle %s in this shop", id).with("id", id)
}

// join puts the records of both in one order, under the vehicle that is kept, and goes through
// them from the beginning.
func (m *merging) join(s view, d *drafting) error {
	keep, same := m.keep.record.GetId(), m.same.record.GetId()
	s.merged[same] = keep
	for id, to := range s.merged {
		if to == same {
			s.merged[id] = keep
		}
	}
	if err := m.moveVisits(s, d); err != nil {
		return err
	}
	if err := m.moveEvents(s, d); err != nil {
		return err
	}
	if err := m.moveParted(s, d); err != nil {
		return err
	}
	d.put(sameKey(same), &rows.Replaced{By: keep})
	both := &passed{was: m.keep, now: m.keep, through: true}
	both.now.state.recorded = m.time
	m.across.vehicles[keep] = both
	m.across.from(keep, beginning)
	return m.across.settle()
}

// beginning is before all places of a record.
const beginning = history.Key("\x00")

// moveParted puts the tires that left the one under the other.
func (m *merging) moveParted(s view, d *drafting) error {
	keep, same := m.keep.record.GetId(), m.same.record.GetId()
	was, err := s.parting(d, same, "")
	if err != nil {
		return err
	}
	for _, l := range was.was {
		k := openKeyOf(l.tire, l.spot, keep)
		d.write(k, &history.Put{Key: k, Value: l.open})
		d.put(leftOf(keep)+l.spot.Text(l.tire), &rows.Event{What: &rows.Event_Departed{Departed: l.tire}})
	}
	return nil
}

// eachRow reads the rows whose keys begin so.
func (v view) eachRow(prefix history.Key, each func(history.Row) error) error {
	for after, more := history.Key(""), true; more; {
		page, err := v.s.Scan(v.ctx, history.Range{Prefix: prefix, After: after})
		if err != nil {
			return err
		}
		for _, r := range page.Rows {
			after = r.Key
			if err := each(r); err != nil {
				return err
			}
		}
		more = page.More
	}
	return nil
}

// moveEvents puts what happened to the one under the other.
func (m *merging) moveEvents(s view, d *drafting) error {
	keep, same := m.keep.record.GetId(), m.same.record.GetId()
	return s.eventRows(same, "", "", func(k history.Key, row *rows.Event) error {
		suffix := history.Key(strings.TrimPrefix(string(k), string(historyOf(same))))
		d.put(eventsOf(keep)+suffix, row)
		d.delete(eventsOf(same) + suffix)
		return nil
	})
}

// write puts all that the merge changes.
func (m *merging) write(s view, d *drafting) (*history.Draft, error) {
	keep, same := m.keep.record.GetId(), m.same.record.GetId()
	d.expect(mergeKey(m.sent.GetId()), history.Absent)
	d.expect(sameKey(same), history.Absent)
	m.across.known(m.keep)
	m.across.known(m.same)
	d.record(mergeKey(m.sent.GetId()), m.sent, m.entry)
	now := m.across.vehicles[keep].now
	after, before := now.state, m.keep.state
	before.tires = slices.Concat(before.tires, m.same.state.tires)
	before.open = slices.Concat(before.open, m.same.state.open)
	if now.person == nil && m.same.person != nil {
		now.person = m.same.person
		d.record(personKey(keep), now.person, m.entry)
	}
	if m.same.person != nil {
		d.delete(personKey(same))
	}
	if err := m.lists(s, d, now); err != nil {
		return nil, err
	}
	c := newChange(m.time)
	c.row.What = &rows.Change_Merge{Merge: c.texts.Number(m.sent.GetId())}
	for _, f := range before.open {
		if !after.has(f.openID) && after.closedBy[f.openID] == nil {
			after.closedBy[f.openID] = &pb.Said{Code: string(finding.ClosedMerged)}
		}
	}
	c.row.Closed, c.row.Opened = c.closes(after.closed(before)), c.texts.Numbers(after.opened(before))
	c.touches(now, after)
	c.touches(m.same, state{})
	m.across.own = keep
	others, err := m.across.others(c)
	if err != nil {
		return nil, err
	}
	for _, v := range others {
		c.row.Closed = append(c.row.Closed, c.closes(v.now.state.closed(v.was.state))...)
		c.row.Opened = append(c.row.Opened, c.texts.Numbers(v.now.state.opened(v.was.state))...)
	}
	tires, mounted := tiresOfAll(others)
	d.tires(append(tires, before.tires...), append(mounted, after.tires...), m.entry)
	d.change(c)
	return d.done()
}

// moveVisits puts the covering rows of the one under the other.
func (m *merging) moveVisits(s view, d *drafting) error {
	keep, same := m.keep.record.GetId(), m.same.record.GetId()
	return s.eachRow(historyOf(same), func(r history.Row) error {
		c, err := s.readCover(r)
		if err != nil {
			return err
		}
		v, err := s.visit(c.inspection.GetId())
		if err != nil {
			return err
		}
		if problems := check.Inspection("same_vehicle_id", v.inspection, m.keep.nameless()); c.replacedBy == "" && len(problems) > 0 {
			return refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "same_vehicle_id", "a visit of it does not fit the axles of the one to keep")
		}
		d.delete(r.Key)
		c.key = historyOf(keep) + spotOf(r.Key)
		d.coverAgain(c)
		if order := plain(v.inspection.GetOrderReference()); order != "" && c.replacedBy == "" {
			d.delete(orderKey(order, same, v.inspection.GetId()))
			d.put(orderKey(order, keep, v.inspection.GetId()), &rows.VehicleRow{})
		}
		return nil
	})
}

// lists puts the state of the one kept and its rows in lists, and takes the other out.
func (m *merging) lists(s view, d *drafting, now vehicle) error {
	keep, same := m.keep.record.GetId(), m.same.record.GetId()
	before, err := s.dues(keep)
	if err != nil {
		return err
	}
	others, err := s.dues(same)
	if err != nil {
		return err
	}
	d.state(keep, now.state)
	d.delete(stateKey(same))
	due := slices.Clone(before)
	for _, row := range others {
		if !slices.ContainsFunc(before, func(b *rows.DueRow) bool { return b.GetPositions()[0] == row.GetPositions()[0] }) {
			due = append(due, row)
		}
	}
	due = mounted(due, now.state.tires)
	d.due(m.same.record, others, nil)
	d.due(now.record, before, due)
	d.list(m.keep, now, before, due)
	d.unlist(m.same, others)
	return nil
}

// unlist takes a vehicle out of all lists.
func (d *drafting) unlist(v vehicle, due []*rows.DueRow) {
	for k := range v.findKeys(due) {
		d.delete(k)
	}
	d.delete(v.listKeys()...)
	for _, f := range v.state.open {
		d.delete(openKeys(v.record.GetId(), f)...)
	}
}

// maybeSame is how many vehicles a hint names at most.
const maybeSame = 10

// MaybeSame are other vehicles of the same plate or tag as one.
func (b *Book) MaybeSame(ctx context.Context, shop, id string) (ids []string, err error) {
	err = b.read(ctx, shop, func(s view) error {
		v, err := s.vehicle(id)
		if err != nil {
			return err
		}
		for mark, text := range map[byte]string{plateMark: plain(v.person.GetPlate()), tagMark: plain(v.record.GetTag())} {
			if text == "" {
				continue
			}
			found, err := s.s.Scan(s.ctx, history.Range{Prefix: key(mark).Text(text), Limit: maybeSame + 1})
			if err != nil {
				return err
			}
			for _, r := range found.Rows {
				if other := r.Key.Texts(1)[1]; other != v.record.GetId() {
					ids = append(ids, other)
				}
			}
		}
		return nil
	})
	slices.Sort(ids)
	ids = slices.Compact(ids)
	return ids[:min(len(ids), maybeSame)], err
}
