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
	return entry{n, m.time}.recorded(false, history.Absent), nil
}

// merging is one command that merges two vehicles.
type merging struct {
	entry
	book *Book
	sent *pb.MergeVehiclesRequest

	keep, same vehicle
	steps      []step
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
	if err := m.join(s, d); err != nil {
		return nil, err
	}
	after := state{}
	for i := range m.steps {
		m.steps[i].before = after
		after = m.steps[i].take()
	}
	after.recorded = m.time
	return m.write(s, d, after)
}

func missing(field, id string) error {
	return refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, field, "no vehicle %s in this shop", id).with("id", id)
}

// join puts the records of both in one order, each under the vehicle that is kept.
func (m *merging) join(s view, d *drafting) error {
	keep, same := m.keep.record.GetId(), m.same.record.GetId()
	s.merged[same] = keep
	for id, to := range s.merged {
		if to == same {
			s.merged[id] = keep
		}
	}
	steps, err := s.stepsBehind(keep, "", "")
	if err != nil {
		return err
	}
	others, err := s.stepsBehind(same, "", "")
	if err != nil {
		return err
	}
	for _, o := range others {
		if o.visit != nil {
			if problems := check.Inspection("same_vehicle_id", o.inspection, m.keep.nameless()); len(problems) > 0 {
				return refuse(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "same_vehicle_id", "a visit of it does not fit the axles of the one to keep")
			}
		}
		o.key = rekeyed(o.key, same, keep)
		if !slices.ContainsFunc(steps, func(s step) bool { return s.key == o.key }) { // moves from one to the other are in both
			steps = append(steps, o)
		}
	}
	if err := m.moveEvents(s, d); err != nil {
		return err
	}
	m.steps = inOrder(steps)
	return nil
}

// rekeyed is a place in one vehicle's record in that of another.
func rekeyed(k history.Key, from, to string) history.Key {
	return historyOf(to) + history.Key(strings.TrimPrefix(string(k), string(historyOf(from))))
}

// moveEvents puts what happened to the one under the other.
func (m *merging) moveEvents(s view, d *drafting) error {
	keep, same := m.keep.record.GetId(), m.same.record.GetId()
	return s.eventRows(same, "", "", func(k history.Key, row *rows.Event) error {
		suffix := history.Key(strings.TrimPrefix(string(k), string(historyOf(same))))
		d.put(eventsOf(keep)+suffix, row)
		d.Delete = append(d.Delete, eventsOf(same)+suffix)
		return nil
	})
}

// write puts all that the merge changes.
func (m *merging) write(s view, d *drafting, after state) (*history.Draft, error) {
	keep, same := m.keep.record.GetId(), m.same.record.GetId()
	d.expect(mergeKey(m.sent.GetId()), history.Absent)
	d.expect(sameKey(same), history.Absent)
	for id, v := range map[string]vehicle{keep: m.keep, same: m.same} {
		d.expect(vehicleKey(id), v.number)
		d.expect(stateKey(id), v.version)
	}
	d.record(mergeKey(m.sent.GetId()), m.sent, m.entry)
	d.put(sameKey(same), &rows.Replaced{By: keep})
	if err := m.visits(s, d); err != nil {
		return nil, err
	}
	before := m.keep.state
	before.tires = slices.Concat(before.tires, m.same.state.tires)
	before.open = slices.Concat(before.open, m.same.state.open)
	d.tires(before.tires, after.tires, m.entry)
	now := m.keep
	now.state = after
	if now.person == nil && m.same.person != nil {
		now.person = m.same.person
		d.record(personKey(keep), now.person, m.entry)
	}
	if m.same.person != nil {
		d.Delete = append(d.Delete, personKey(same))
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
	d.change(c)
	return d.done()
}

// visits puts the covering rows of the visits, and what is kept after each.
func (m *merging) visits(s view, d *drafting) error {
	keep, same := m.keep.record.GetId(), m.same.record.GetId()
	tires := map[string]*pb.Inspection{}
	d.statesAfter(keep, m.steps)
	for _, step := range m.steps {
		if step.visit != nil {
			tires[step.inspection.GetId()] = step.bearing()
		}
	}
	for _, id := range []string{keep, same} {
		if err := m.recovered(s, d, id, tires); err != nil {
			return err
		}
	}
	return nil
}

// recovered puts the covering rows of one of the two under the one that is kept, with the
// tires that its visits have by now.
func (m *merging) recovered(s view, d *drafting, of string, tires map[string]*pb.Inspection) error {
	keep := m.keep.record.GetId()
	for behind, more := history.Key(""), true; more; {
		page, err := s.s.Scan(s.ctx, history.Range{Prefix: historyOf(of), After: behind})
		if err != nil {
			return err
		}
		for _, r := range page.Rows {
			behind = r.Key
			c, err := s.readCover(r)
			if err != nil {
				return err
			}
			v, err := s.visit(c.inspection.GetId())
			if err != nil {
				return err
			}
			if now := tires[c.inspection.GetId()]; now != nil {
				d.lived(v, c.inspection, now)
				c.Inspection = d.sent(now)
			}
			if of != keep {
				d.Delete = append(d.Delete, r.Key)
				c.key = rekeyed(r.Key, of, keep)
				if order := plain(v.inspection.GetOrderReference()); order != "" && c.replacedBy == "" {
					d.Delete = append(d.Delete, orderKey(order, of, v.inspection.GetId()))
					d.put(orderKey(order, keep, v.inspection.GetId()), &rows.VehicleRow{})
				}
			}
			d.coverAgain(c)
		}
		more = page.More
	}
	return nil
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
	d.Delete = append(d.Delete, stateKey(same))
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
		d.Delete = append(d.Delete, k)
	}
	d.Delete = append(d.Delete, v.listKeys()...)
	for _, f := range v.state.open {
		d.Delete = append(d.Delete, openKeys(v.record.GetId(), f)...)
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
