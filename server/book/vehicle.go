package book

import (
	"context"
	"slices"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/translate"
)

// vehicle is all that the book holds of one vehicle.
type vehicle struct {
	entry                   // of the record as it is now
	record *pb.Vehicle      // bare
	person *pb.CustomerData // nil: none

	state   state          // what visits made of it
	version history.Number // of the state; Absent before the first visit
}

// bare is the record as the book holds it: without what the server fills in and
// without what identifies a person.
func bare(v *pb.Vehicle) *pb.Vehicle {
	c := proto.CloneOf(v)
	c.Revision, c.SameAs, c.CustomerData = "", "", nil
	return c
}

// whole is the vehicle as its callers see it.
func (v vehicle) whole() *pb.Vehicle {
	c := proto.CloneOf(v.record)
	c.Revision, c.CustomerData = decimal(v.number), v.person
	return c
}

// nameless is the record without its id: visits of one that was found to be it name another.
func (v vehicle) nameless() *pb.Vehicle {
	c := proto.CloneOf(v.record)
	c.Id = ""
	return c
}

// frontRear tells how positions of the vehicle are told.
func (v vehicle) frontRear() bool { return translate.FrontRear(v.record) }

// vehicle reads all of a vehicle; one that is not there has no state either.
// One that was found to be another is that one.
func (v view) vehicle(id string) (out vehicle, err error) {
	out.record = &pb.Vehicle{}
	if id, err = v.resolved(id); err != nil {
		return out, err
	}
	if out.entry, err = v.record(vehicleKey(id), out.record); err != nil || !out.there() {
		return out, err
	}
	if out.state, out.version, err = v.state(id, stateKey(id)); err != nil {
		return out, err
	}
	person := &pb.CustomerData{}
	kept, err := v.record(personKey(id), person)
	if kept.there() {
		out.person = person
	}
	return out, err
}

// RecordVehicle keeps a new vehicle, or changes the one whose revision is given:
// what the record leaves out stays as it is, and empty names, as in JSON, what is
// to be emptied. A record that changes nothing, or the first one again after the
// vehicle was changed, stores nothing and is answered as repeated.
func (b *Book) RecordVehicle(ctx context.Context, shop string, sent *pb.Vehicle, empty []string) (*pb.Recorded, error) {
	unlock, err := b.lock(ctx, shop, sent.GetId())
	if err != nil {
		return nil, err
	}
	defer unlock()
	var repeated *pb.Recorded
	var next vehicle
	n, err := b.commit(ctx, shop, func(s view) (*history.Draft, error) {
		repeated = nil
		now, err := s.vehicle(sent.GetId())
		if err != nil {
			return nil, err
		}
		if repeated, err = s.repeatedVehicle(now, sent, empty); err != nil || repeated != nil {
			return nil, err
		}
		if err := upToDate(now, sent); err != nil {
			return nil, err
		}
		next = now.with(sent, empty)
		next.time = timestamppb.New(b.now())
		return s.vehicleDraft(now, next)
	})
	if err != nil || repeated != nil {
		return repeated, err
	}
	next.number = n
	return next.recorded(false, n), nil
}

// with is the vehicle with what a caller sent.
func (v vehicle) with(sent *pb.Vehicle, empty []string) vehicle {
	next := v
	if v.there() {
		next.record = merged(v.record, bare(sent), empty)
		next.record.Id = v.record.GetId() // it may be told by the id of one that was found to be it
	} else {
		next.record = bare(sent)
	}
	switch told := sent.GetCustomerData(); {
	case told != nil && proto.Size(told) > 0:
		next.person = told
	case told != nil, slices.Contains(empty, "customerData"):
		next.person = nil
	}
	return next
}

// repeatedVehicle tells where the vehicle was recorded just so; nil: it was not.
// After a change the first record is known by all but its customer, who may have
// been erased.
func (v view) repeatedVehicle(now vehicle, sent *pb.Vehicle, empty []string) (*pb.Recorded, error) {
	if !now.there() {
		return nil, nil //nolint:nilnil // nil: it was not
	}
	if sent.GetRevision() != "" {
		if next := now.with(sent, empty); proto.Equal(next.record, now.record) && proto.Equal(next.person, now.person) {
			return now.recorded(true, now.number), nil
		}
		return nil, nil //nolint:nilnil // nil: it was not
	}
	if next := now.with(sent, nil); proto.Equal(now.record, bare(sent)) && proto.Equal(next.person, now.person) {
		return now.recorded(true, now.number), nil
	}
	first := &pb.Vehicle{}
	born, err := v.record(bornKey(sent.GetId()), first)
	if err != nil || born.number == now.number || !proto.Equal(first, bare(sent)) {
		return nil, err
	}
	return born.recorded(true, now.number), nil
}

// upToDate refuses a record that was not made from the vehicle as it is.
func upToDate(now vehicle, sent *pb.Vehicle) error {
	id, revision := sent.GetId(), sent.GetRevision()
	switch {
	case !now.there() && revision != "":
		return refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle.id", "no vehicle %s in this shop", id).with("id", id)
	case now.there() && revision == "":
		return refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "vehicle.id", "another vehicle has the id %s", id).with("id", id)
	case revision != decimal(now.number):
		return refuse(pb.ErrorReason_ERROR_REASON_REVISION_STALE, "vehicle.revision", "the vehicle was changed since it was read").with("revision", decimal(now.number))
	}
	return nil
}

// vehicleDraft writes a vehicle in place of what was, and what lists and feed have of it.
func (v view) vehicleDraft(now, next vehicle) (*history.Draft, error) {
	id := next.record.GetId()
	d := &drafting{}
	d.expect(vehicleKey(id), now.number)
	d.expect(stateKey(id), now.version)
	d.record(vehicleKey(id), next.record, next.entry)
	if !now.there() {
		d.record(bornKey(id), next.record, next.entry)
	}
	switch {
	case next.person != nil:
		d.record(personKey(id), next.person, next.entry)
	case now.person != nil:
		d.delete(personKey(id))
	}
	due, err := v.dues(id)
	if err != nil {
		return nil, err
	}
	d.list(now, next, due, due)
	d.due(next.record, due, due)
	c := newChange(next.time)
	c.row.What = &rows.Change_Vehicle{Vehicle: c.texts.Number(id)}
	c.touches(next, next.state)
	d.change(c)
	return d.done()
}

// GetVehicle gives a vehicle, the tires on it, and what is open, without words.
// frontRear tells how its positions are told.
func (b *Book) GetVehicle(ctx context.Context, shop, id string) (out *pb.GetVehicleResponse, frontRear bool, err error) {
	err = b.read(ctx, shop, func(s view) error {
		v, err := s.vehicle(id)
		if err != nil {
			return err
		}
		if !v.there() {
			return noVehicle(id)
		}
		frontRear = v.frontRear()
		out = &pb.GetVehicleResponse{Vehicle: v.whole(), Tires: v.state.tires}
		if v.record.GetId() != id {
			out.Vehicle.SameAs = v.record.GetId()
		}
		out.State, err = v.state.message(v.record.GetId(), v.record.GetTag(), &visits{view: s})
		return err
	})
	return out, frontRear, err
}

func noVehicle(id string) error {
	return refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle_id", "no vehicle %s in this shop", id).with("id", id)
}
