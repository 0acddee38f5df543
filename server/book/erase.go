package book

import (
	"context"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// Erased says what an erasure erased.
type Erased struct {
	Recorded *pb.Recorded
	Records  int32 // that held something
}

// EraseCustomer erases what identifies the customer of a vehicle: with the vehicle, and who
// decided and who was told with outcomes. What was measured and judged stays. The same
// erasure again is answered as the first time, as repeated, whatever was recorded since.
func (b *Book) EraseCustomer(ctx context.Context, shop string, sent *pb.EraseCustomerRequest) (Erased, error) {
	unlock, err := b.lock(ctx, shop, sent.GetVehicleId())
	if err != nil {
		return Erased{}, err
	}
	defer unlock()
	asked := proto.CloneOf(sent)
	asked.ShopId = ""
	var out Erased
	var e entry
	n, err := b.commit(ctx, shop, func(s view) (*history.Draft, error) {
		out = Erased{}
		row, was := &rows.Erasure{}, &pb.EraseCustomerRequest{}
		number, found, err := s.get(erasureKey(sent.GetId()), row)
		if err != nil {
			return nil, err
		}
		if found {
			if err := proto.Unmarshal(row.GetRequest(), was); err != nil {
				return nil, err
			}
			if !proto.Equal(was, asked) {
				return nil, refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "id", "another erasure has the id %s", sent.GetId()).with("id", sent.GetId())
			}
			out = Erased{entry{number: number, time: row.GetRecordedTime()}.recorded(true, history.Absent), row.GetRecords()}
			return nil, nil //nolint:nilnil // no draft: it was erased already
		}
		v, err := s.vehicle(sent.GetVehicleId())
		if err != nil {
			return nil, err
		}
		if !v.there() {
			return nil, noVehicle(sent.GetVehicleId())
		}
		e.time = next(b.now(), v.state.recorded)
		var draft *history.Draft
		draft, out.Records, err = s.erasure(v, asked, e)
		return draft, err
	})
	if err != nil || out.Recorded != nil {
		return out, err
	}
	out.Recorded = entry{number: n, time: e.time}.recorded(false, history.Absent)
	return out, nil
}

// erasure is the draft that erases, and how many records held something.
func (v view) erasure(of vehicle, asked *pb.EraseCustomerRequest, e entry) (draft *history.Draft, records int32, err error) {
	id := of.record.GetId()
	d := &drafting{}
	d.expect(erasureKey(asked.GetId()), history.Absent)
	d.record(vehicleKey(id), of.record, e)
	if of.person != nil {
		records++
		d.delete(personKey(id))
	}
	events, err := v.events(id, "", "")
	if err != nil {
		return nil, 0, err
	}
	for _, step := range events {
		o, ok := step.event.(*outcome)
		if !ok {
			continue
		}
		persons := &pb.Outcome{}
		kept, err := v.record(deciderKey(o.said.GetId()), persons)
		if err != nil {
			return nil, 0, err
		}
		if kept.there() {
			records++
			d.delete(deciderKey(o.said.GetId()))
		}
	}
	d.put(erasureKey(asked.GetId()), &rows.Erasure{Request: d.sent(asked), RecordedTime: e.time, Records: records})
	nameless := of
	nameless.person = nil
	if err := v.becomes(d, of, nameless, e.time); err != nil {
		return nil, 0, err
	}
	c := newChange(e.time)
	c.row.What = &rows.Change_Erasure{Erasure: c.texts.Number(id)}
	c.touches(of, of.state)
	d.change(c)
	draft, err = d.done()
	return draft, records, err
}
