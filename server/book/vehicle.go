package book

import (
	"context"
	"slices"
	"strconv"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// RecordVehicle keeps a new vehicle, or changes the one whose revision is given.
// Customer data that are absent stay as they are, so that nobody erases what the
// feed did not tell; empty ones are erased. An equal record again, or the first
// one again after it was changed, stores nothing and gives the vehicle as it is,
// with repeated set.
func (b *Book) RecordVehicle(ctx context.Context, shop string, v *pb.Vehicle) (kept *pb.Vehicle, repeated bool, err error) {
	unlock, err := b.lock(ctx, shop, v.GetId())
	if err != nil {
		return nil, false, err
	}
	defer unlock()
	asked, person := bare(v), v.GetCustomerData()
	n, err := b.commit(ctx, shop, func(s view) (*history.Draft, error) {
		is, err := s.vehicle(v.GetId())
		if err != nil {
			return nil, err
		}
		if repeated, err = s.recorded(is, v); err != nil || repeated {
			kept = is.whole()
			return nil, err
		}
		if err := fresh(is, v); err != nil {
			return nil, err
		}
		d := &drafting{}
		d.expect(vehicleKey(v.GetId()), is.revision)
		d.expect(stateKey(v.GetId()), is.version)
		d.put(vehicleKey(v.GetId()), asked)
		if !is.there() {
			d.put(bornKey(v.GetId()), asked)
		}
		person = d.person(is, v)
		d.list(asked, is.state, is.state)
		rows, err := s.dues(v.GetId())
		if err != nil {
			return nil, err
		}
		d.due(asked, rows, rows)
		d.feed(&pb.Change{RecordedAt: timestamppb.New(b.now()), What: &pb.Change_Vehicle{Vehicle: asked}})
		return d.done()
	})
	if err != nil || repeated {
		return kept, repeated, err
	}
	return withOutput(asked, person, n), false, nil
}

// recorded tells whether the vehicle is kept just so, or was at first. After a
// change the first record is known by all but its customer, who may have been
// erased.
func (v view) recorded(is known, asked *pb.Vehicle) (bool, error) {
	if !is.there() {
		return false, nil
	}
	if proto.Equal(is.record, bare(asked)) && is.customerIs(asked) {
		return true, nil
	}
	if asked.GetRevision() != "" {
		return false, nil
	}
	born := &pb.Vehicle{}
	at, _, err := v.get(bornKey(asked.GetId()), born)
	return err == nil && at != is.revision && proto.Equal(born, bare(asked)), err
}

// fresh refuses a record that was not made from the vehicle as it is.
func fresh(is known, asked *pb.Vehicle) error {
	id, revision := asked.GetId(), asked.GetRevision()
	switch {
	case !is.there() && revision != "":
		return refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle.id", "no vehicle %s in this shop", id).with("id", id)
	case is.there() && revision == "":
		return refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "vehicle.id", "another vehicle has the id %s", id).with("id", id)
	case revision != revisionOf(is.revision):
		return refuse(pb.ErrorReason_ERROR_REASON_REVISION_STALE, "vehicle.revision", "the vehicle was changed since it was read").with("revision", revisionOf(is.revision))
	}
	return nil
}

// bare is the record as the book and the feed hold it: without what the server
// fills in and without what identifies a person.
func bare(v *pb.Vehicle) *pb.Vehicle {
	c := proto.CloneOf(v)
	c.Revision, c.SameAs, c.CustomerData = "", "", nil
	return c
}

func withOutput(v *pb.Vehicle, person *pb.CustomerData, revision history.Number) *pb.Vehicle {
	c := proto.CloneOf(v)
	c.Revision, c.CustomerData = revisionOf(revision), person
	return c
}

// revisionOf is a row's version as callers see it; "" of one that is not there.
func revisionOf(n history.Number) string {
	if n == history.Absent {
		return ""
	}
	return strconv.FormatUint(uint64(n), 10)
}

// person puts what a record tells of the customer, and gives what is then kept.
func (d *drafting) person(is known, asked *pb.Vehicle) *pb.CustomerData {
	told := asked.GetCustomerData()
	switch {
	case told == nil:
		return is.person
	case proto.Size(told) == 0:
		d.Delete = append(d.Delete, personKey(asked.GetId()))
		return nil
	}
	d.put(personKey(asked.GetId()), told)
	return told
}

// known is all that the book holds of one vehicle.
type known struct {
	record   *pb.Vehicle // as recorded, bare
	revision history.Number
	person   *pb.CustomerData       // nil: none
	state    *pb.GetVehicleResponse // what visits made of it, without the vehicle
	version  history.Number         // of the state; Absent before the first visit
}

// there tells whether there is such a vehicle.
func (k known) there() bool { return k.revision != history.Absent }

// customerIs tells whether a record would leave the customer as it is.
func (k known) customerIs(asked *pb.Vehicle) bool {
	told := asked.GetCustomerData()
	return told == nil || proto.Equal(k.person, told) || k.person == nil && proto.Size(told) == 0
}

// whole is the vehicle as its callers see it.
func (k known) whole() *pb.Vehicle { return withOutput(k.record, k.person, k.revision) }

// vehicle reads all of a vehicle.
func (v view) vehicle(id string) (known, error) {
	k := known{record: &pb.Vehicle{}, state: &pb.GetVehicleResponse{}}
	var err error
	if k.revision, _, err = v.get(vehicleKey(id), k.record); err != nil || !k.there() {
		return k, err
	}
	if k.version, _, err = v.get(stateKey(id), k.state); err != nil {
		return k, err
	}
	person := &pb.CustomerData{}
	_, found, err := v.get(personKey(id), person)
	if found {
		k.person = person
	}
	return k, err
}

// GetVehicle gives a vehicle, the tires on it, and what is open.
func (b *Book) GetVehicle(ctx context.Context, shop, id string) (*pb.GetVehicleResponse, error) {
	var out *pb.GetVehicleResponse
	err := b.read(ctx, shop, func(s view) error {
		is, err := s.vehicle(id)
		if err != nil {
			return err
		}
		if !is.there() {
			return noVehicle(id)
		}
		out = is.state
		out.Vehicle = is.whole()
		return nil
	})
	return out, err
}

func noVehicle(id string) error {
	return refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle_id", "no vehicle %s in this shop", id).with("id", id)
}

// worst is the most urgent finding's urgency.
func worst(fs []*pb.Finding) pb.Urgency {
	w := pb.Urgency_URGENCY_UNSPECIFIED
	for _, f := range fs {
		if w == pb.Urgency_URGENCY_UNSPECIFIED || f.GetUrgency() < w {
			w = f.GetUrgency()
		}
	}
	return w
}

// list replaces the vehicle's rows in both lists.
func (d *drafting) list(v *pb.Vehicle, before, after *pb.GetVehicleResponse) {
	at := func(s *pb.GetVehicleResponse) []history.Key {
		seen := int64(0)
		if t := s.GetLastSeen(); t != nil {
			seen = t.AsTime().UnixNano()
		}
		return []history.Key{urgentKey(int(worst(s.GetOpenFindings())), seen, v.GetId()), seenKey(seen, v.GetId())}
	}
	row := &pb.VehicleRow{
		VehicleId: v.GetId(), Tag: v.GetTag(), Worst: worst(after.GetOpenFindings()), LastSeen: after.GetLastSeen(),
	}
	for _, f := range after.GetOpenFindings() {
		if !slices.Contains(row.GetFindingCodes(), f.GetCode()) {
			row.FindingCodes = append(row.FindingCodes, f.GetCode())
		}
	}
	were, are := at(before), at(after)
	for i := range are {
		if were[i] != are[i] {
			d.Delete = append(d.Delete, were[i])
		}
		d.put(are[i], row)
	}
}

// ListVehicles gives a page of the shop's vehicles in an order, the first with a
// feed token of its moment.
func (b *Book) ListVehicles(ctx context.Context, shop string, order pb.HereNowOrder, size int, token string) (*pb.ListVehiclesResponse, error) {
	of := list{shop, key(seenMark)}
	if order == pb.HereNowOrder_HERE_NOW_ORDER_URGENCY {
		of.rows = key(urgentMark)
	}
	after, err := b.pageAfter(of, token)
	if err != nil {
		return nil, err
	}
	out := &pb.ListVehiclesResponse{}
	err = b.read(ctx, shop, func(s view) error {
		rows, err := s.s.Scan(s.ctx, history.Range{Prefix: of.rows, After: after, Limit: size})
		if err != nil {
			return err
		}
		for _, r := range rows.Rows {
			row := &pb.VehicleRow{}
			if err := decode(r.Value, row); err != nil {
				return err
			}
			out.Rows = append(out.Rows, row)
		}
		out.NextPageToken = b.pageToken(of, rows)
		if token != "" {
			return nil
		}
		last, err := s.s.Last(s.ctx)
		out.ResumeToken = b.feedToken(shop, last)
		return err
	})
	return out, err
}
