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
	Records  int32    // that held something
	Photos   int32    // that were kept
	Files    []string // names of the photos whose copies are to be removed: of this call
}

// EraseCustomer erases what identifies the customer of a vehicle: with the vehicle, who
// decided and who was told with outcomes, and the photos of its visits, whose copies the
// caller removes. What was measured and judged stays. The same
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
			out = Erased{Recorded: entry{number: number, time: row.GetRecordedTime()}.recorded(true, history.Absent), Records: row.GetRecords(), Photos: row.GetPhotos()}
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
		draft, out, err = s.erasure(v, asked, e)
		return draft, err
	})
	if err != nil || out.Recorded != nil {
		return out, err
	}
	out.Recorded = entry{number: n, time: e.time}.recorded(false, history.Absent)
	return out, nil
}

// erasure is the draft that erases, and what held something.
func (v view) erasure(of vehicle, asked *pb.EraseCustomerRequest, e entry) (draft *history.Draft, out Erased, err error) {
	id := of.record.GetId()
	d := &drafting{}
	d.expect(erasureKey(asked.GetId()), history.Absent)
	d.record(vehicleKey(id), of.record, e)
	if of.person != nil {
		out.Records++
		d.delete(personKey(id))
	}
	deciders, err := v.eraseDeciders(d, id)
	if err != nil {
		return nil, out, err
	}
	out.Records += deciders
	if out.Files, err = v.erasePhotos(d, id, e.time); err != nil {
		return nil, out, err
	}
	out.Photos = int32(len(out.Files))
	d.put(erasureKey(asked.GetId()), &rows.Erasure{Request: d.sent(asked), RecordedTime: e.time, Records: out.Records, Photos: out.Photos})
	nameless := of
	nameless.person = nil
	if err := v.becomes(d, of, nameless, e.time); err != nil {
		return nil, out, err
	}
	c := newChange(e.time)
	c.row.What = &rows.Change_Erasure{Erasure: c.texts.Number(id)}
	c.touches(of, of.state)
	d.change(c)
	draft, err = d.done()
	return draft, out, err
}

// eraseDeciders erases who decided and who was told with the outcomes of a vehicle, and
// gives of how many.
func (v view) eraseDeciders(d *drafting, vehicle string) (records int32, err error) {
	events, err := v.events(vehicle, "", "")
	if err != nil {
		return 0, err
	}
	for _, step := range events {
		o, ok := step.event.(*outcome)
		if !ok {
			continue
		}
		persons := &pb.Outcome{}
		kept, err := v.record(deciderKey(o.said.GetId()), persons)
		if err != nil {
			return 0, err
		}
		if kept.there() {
			records++
			d.delete(deciderKey(o.said.GetId()))
		}
	}
	return records, nil
}
