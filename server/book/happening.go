package book

import (
	"cmp"
	"context"
	"slices"
	"strings"

	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
)

// happening is a vehicle's event as the book holds it.
type happening struct {
	entry
	said *pb.VehicleEvent
}

// happening reads an event; nil when there is none.
func (v view) happening(id string) (*happening, error) {
	out := &happening{said: &pb.VehicleEvent{}}
	var err error
	if out.entry, err = v.record(happeningKey(id), out.said); err != nil || !out.there() {
		return nil, err
	}
	return out, nil
}

// when is when it happened, as far as it was told.
func (h *happening) when() *timestamppb.Timestamp {
	if told := h.said.GetDoneTime(); told != nil && nanos(told) < nanos(h.time) {
		return told
	}
	return h.at()
}

// on is what it makes of a vehicle.
func (h *happening) on(s state) state {
	next := s.clone()
	if h.imported() {
		return next
	}
	switch what := h.said.GetWhat().(type) {
	case *pb.VehicleEvent_Leaving:
		if nanos(h.when()) >= nanos(s.counted) { // else it has come again since
			next.left = left(what.Leaving.GetLeftBy(), s.left)
		}
	case *pb.VehicleEvent_WheelsOff:
		for _, at := range what.WheelsOff.GetPositions() {
			next.off = next.off.without(at, h.said.GetDoneBy(), h.when())
		}
	case *pb.VehicleEvent_WheelsTorqued:
		for _, at := range what.WheelsTorqued.GetPositions() {
			next.off = next.off.torqued(at, h.said.GetDoneBy(), h.when())
		}
	}
	return next
}

// left tells whether a vehicle has left, by how it is told to have, and as it was told before.
func left(by pb.LeftBy, before bool) bool {
	switch by {
	case pb.LeftBy_LEFT_BY_DRIVEN, pb.LeftBy_LEFT_BY_TOWED, pb.LeftBy_LEFT_BY_SPARE_FITTED, pb.LeftBy_LEFT_BY_OFF_WITH_CUSTOMER:
		return true
	case pb.LeftBy_LEFT_BY_KEPT:
		return false
	}
	return before
}

// RecordEvent keeps what happened to a vehicle between its visits. The same event again is
// answered as the first time, as repeated.
func (b *Book) RecordEvent(ctx context.Context, shop string, sent *pb.VehicleEvent) (*pb.Recorded, error) {
	unlock, err := b.lock(ctx, shop, sent.GetVehicleId())
	if err != nil {
		return nil, err
	}
	defer unlock()
	var repeated *pb.Recorded
	h := &happening{said: sent}
	n, err := b.commit(ctx, shop, func(s view) (*history.Draft, error) {
		repeated = nil
		first, err := s.happening(sent.GetId())
		switch {
		case err != nil:
			return nil, err
		case first != nil && !b.same(s, first.said, sent):
			return nil, refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "event.id", "another event has the id %s", sent.GetId()).with("id", sent.GetId())
		case first != nil:
			repeated = first.recorded(true, history.Absent)
			return nil, nil //nolint:nilnil // no draft: an equal event is kept already
		}
		return b.happens(s, h)
	})
	if err != nil || repeated != nil {
		return repeated, err
	}
	return entry{number: n, time: h.time}.recorded(false, history.Absent), nil
}

// happens is the draft of an event.
func (b *Book) happens(s view, h *happening) (*history.Draft, error) {
	id, vehicleID := h.said.GetId(), h.said.GetVehicleId()
	v, err := s.vehicle(vehicleID)
	if err != nil {
		return nil, err
	}
	if !v.there() {
		return nil, refuse(pb.ErrorReason_ERROR_REASON_NOT_YET, "event.vehicle_id", "the vehicle %s has not arrived; send it first", vehicleID).with("id", vehicleID)
	}
	if problems := check.EventOn("event", h.said, v.record); len(problems) > 0 {
		return nil, &Mismatch{problems}
	}
	h.time = next(b.now(), v.state.recorded)
	if h.stood, err = b.standing(h.said.GetDoneTime(), h.time, "event.done_time"); err != nil {
		return nil, err
	}
	d := &drafting{}
	d.expect(happeningKey(id), history.Absent)
	d.put(happeningKey(id), &rows.Record{Message: d.sent(h.said), RecordedTime: h.time, CountedTime: h.stood})
	d.event(v.record.GetId(), h.entry, id, &rows.Event{What: &rows.Event_Event{Event: id}})
	after := h.on(v.state)
	if err := s.happened(d, v, after, h.time); err != nil {
		return nil, err
	}
	c := newChange(h.time)
	c.row.What = &rows.Change_Event{Event: c.texts.Number(id)}
	c.touches(v, after)
	d.change(c)
	return d.done()
}

// wheelOff is a wheel that is off, or was and has no torque on record since; one that was
// torqued stays as long as another is off.
type wheelOff struct {
	at, by    string
	time      *timestamppb.Timestamp
	torquedBy string
	torqued   *timestamppb.Timestamp // nil: not
}

// wheelsOff are those of a vehicle, by position.
type wheelsOff []wheelOff

// without are the wheels with one more that is off.
func (all wheelsOff) without(at, by string, when *timestamppb.Timestamp) wheelsOff {
	next := slices.DeleteFunc(slices.Clone(all), func(w wheelOff) bool { return w.at == at && w.torqued != nil })
	if !slices.ContainsFunc(next, func(w wheelOff) bool { return w.at == at }) {
		next = append(next, wheelOff{at: at, by: by, time: when})
	}
	slices.SortFunc(next, func(a, b wheelOff) int { return strings.Compare(a.at, b.at) })
	return next
}

// torqued are the wheels after one is on again with its torque set. Where that was the last,
// none is off.
func (all wheelsOff) torqued(at, by string, when *timestamppb.Timestamp) wheelsOff {
	next := slices.Clone(all)
	for i, w := range next {
		if w.at == at && w.torqued == nil {
			next[i].torquedBy, next[i].torqued = by, when
		}
	}
	if !slices.ContainsFunc(next, func(w wheelOff) bool { return w.torqued == nil }) {
		return nil
	}
	return next
}

// longestOff is since when the wheel is off that is so for longest; nil where none is.
func (s state) longestOff() (since *timestamppb.Timestamp) {
	for _, w := range s.off {
		if w.torqued == nil && (since == nil || nanos(w.time) < nanos(since)) {
			since = w.time
		}
	}
	return since
}

// seen are the wheels after a visit that says which it had off, and of which it tells the
// torque.
func (all wheelsOff) seen(v *visit) wheelsOff {
	off := all
	for _, w := range v.inspection.GetWheels() {
		by := v.inspection.GetDoneBy()
		switch work, again := w.GetFastenerWork(), w.GetTorqueRecheck(); {
		case work != nil && work.GetTorque() == nil:
			off = off.without(w.GetPosition(), cmp.Or(work.GetDoneBy(), by), v.counted)
		case work != nil:
			off = off.torqued(w.GetPosition(), cmp.Or(work.GetDoneBy(), by), v.counted)
		case again.GetTorque() != nil:
			off = off.torqued(w.GetPosition(), cmp.Or(again.GetDoneBy(), by), v.counted)
		}
	}
	return off
}

// message is the wheels as callers see them.
func (all wheelsOff) message() (out []*pb.WheelOff) {
	for _, w := range all {
		out = append(out, &pb.WheelOff{Position: w.at, OffBy: w.by, OffTime: w.time, TorquedBy: w.torquedBy, TorquedTime: w.torqued})
	}
	return out
}

// ListWheelsOff gives a page of the vehicles with wheels off, the longest off first.
func (b *Book) ListWheelsOff(ctx context.Context, shop string, size int, token string) (page Page[*pb.WheelsOffRow], err error) {
	of := list{shop, key(offMark)}
	behind, err := b.pageAfter(of, token)
	if err != nil {
		return page, err
	}
	err = b.read(ctx, shop, func(s view) error {
		found, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: behind, Limit: size})
		if err != nil {
			return err
		}
		for _, r := range found.Rows {
			v, err := s.vehicle(r.Key.Texts(len(offKey(0)))[0])
			if err != nil {
				return err
			}
			page.Rows = append(page.Rows, &pb.WheelsOffRow{VehicleId: v.record.GetId(), Tag: v.record.GetTag(), Wheels: v.state.off.message()})
			page.FrontRear = append(page.FrontRear, v.frontRear())
		}
		page.Next = b.pageToken(of, found)
		return nil
	})
	return page, err
}
