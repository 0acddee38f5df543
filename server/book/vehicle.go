package book

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// RecordVehicle keeps a new vehicle, or changes the one whose revision is given.
// An equal record again is answered as before, with repeated set.
func (b *Book) RecordVehicle(ctx context.Context, shop string, v *pb.Vehicle) (kept *pb.Vehicle, repeated bool, err error) {
	defer b.locks.lock(shop + "\x00" + v.GetId())()
	n, err := b.commit(ctx, shop, func(s view) (*history.Draft, error) {
		state, person, version, err := s.vehicle(v.GetId())
		if err != nil {
			return nil, err
		}
		asked, revision := bare(v), v.GetRevision()
		if state != nil && proto.Equal(bare(state.GetVehicle()), asked) && proto.Equal(person, v.GetCustomerData()) {
			kept, repeated = withOutput(state.GetVehicle(), person, version), true
			return nil, nil //nolint:nilnil // no draft: an equal record is kept already
		}
		switch {
		case state == nil && revision != "":
			return nil, refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle.id", "no vehicle %s in this shop", v.GetId()).with("id", v.GetId())
		case state != nil && revision == "":
			return nil, refuse(pb.ErrorReason_ERROR_REASON_ID_TAKEN, "vehicle.id", "another vehicle has the id %s", v.GetId()).with("id", v.GetId())
		case state != nil && revision != revisionOf(version):
			return nil, refuse(pb.ErrorReason_ERROR_REASON_REVISION_STALE, "vehicle.revision", "the vehicle was changed since it was read").with("revision", revisionOf(version))
		}
		d := &drafting{}
		d.expect(vehicleKey(v.GetId()), version)
		next := &pb.GetVehicleResponse{}
		if state != nil {
			next = proto.CloneOf(state)
		}
		next.Vehicle = asked
		b.list(d, state, next)
		d.put(vehicleKey(v.GetId()), next)
		if !proto.Equal(person, v.GetCustomerData()) {
			d.person(v.GetId(), v.GetCustomerData())
		}
		d.feed(&pb.Change{RecordedAt: timestamppb.New(b.now()), What: &pb.Change_Vehicle{Vehicle: asked}})
		return d.done()
	})
	if err != nil || repeated {
		return kept, repeated, err
	}
	return withOutput(bare(v), v.GetCustomerData(), n), false, nil
}

// bare is the record as the book and the feed hold it: without what the server
// fills in and without what identifies a person.
func bare(v *pb.Vehicle) *pb.Vehicle {
	c := proto.CloneOf(v)
	c.Revision, c.SameAs, c.CustomerData = "", "", nil
	return c
}

func withOutput(v *pb.Vehicle, person *pb.CustomerData, version history.Number) *pb.Vehicle {
	c := proto.CloneOf(v)
	c.Revision, c.CustomerData = revisionOf(version), person
	return c
}

// revisionOf is a row's version as callers see it.
func revisionOf(n history.Number) string { return strconv.FormatUint(uint64(n), 10) }

func (d *drafting) person(vehicle string, data *pb.CustomerData) {
	if data == nil {
		d.Delete = append(d.Delete, personKey(vehicle))
		return
	}
	d.put(personKey(vehicle), data)
}

// vehicle reads a vehicle's aggregate and what identifies its owner; nil when
// there is none.
func (v view) vehicle(id string) (state *pb.GetVehicleResponse, person *pb.CustomerData, version history.Number, err error) {
	state = &pb.GetVehicleResponse{}
	version, found, err := v.get(vehicleKey(id), state)
	if err != nil || !found {
		return nil, nil, history.Absent, err
	}
	person = &pb.CustomerData{}
	if _, found, err = v.get(personKey(id), person); err != nil || !found {
		person = nil
	}
	return state, person, version, err
}

// GetVehicle gives a vehicle, the tires on it, and what is open.
func (b *Book) GetVehicle(ctx context.Context, shop, id string) (*pb.GetVehicleResponse, error) {
	var out *pb.GetVehicleResponse
	err := b.read(ctx, shop, func(s view) error {
		state, person, version, err := s.vehicle(id)
		if err != nil {
			return err
		}
		if state == nil {
			return refuse(pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle_id", "no vehicle %s in this shop", id).with("id", id)
		}
		state.Vehicle = withOutput(state.GetVehicle(), person, version)
		out = state
		return nil
	})
	return out, err
}

// worst is the most urgent open finding's urgency.
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
func (b *Book) list(d *drafting, before, after *pb.GetVehicleResponse) {
	id := after.GetVehicle().GetId()
	at := func(s *pb.GetVehicleResponse) (history.Key, history.Key) {
		seen := int64(0)
		if t := s.GetLastSeen(); t != nil {
			seen = t.AsTime().UnixNano()
		}
		return urgentKey(int(worst(s.GetOpenFindings())), seen, id), seenKey(seen, id)
	}
	urgent, seen := at(after)
	if before != nil {
		oldUrgent, oldSeen := at(before)
		if oldUrgent != urgent {
			d.Delete = append(d.Delete, oldUrgent)
		}
		if oldSeen != seen {
			d.Delete = append(d.Delete, oldSeen)
		}
	}
	row := &pb.VehicleRow{
		VehicleId: id, Tag: after.GetVehicle().GetTag(), Worst: worst(after.GetOpenFindings()), LastSeen: after.GetLastSeen(),
	}
	open := slices.Clone(after.GetOpenFindings())
	slices.SortStableFunc(open, func(a, b *pb.Finding) int { return int(a.GetUrgency()) - int(b.GetUrgency()) })
	for _, f := range open {
		if !slices.Contains(row.GetFindingCodes(), f.GetCode()) {
			row.FindingCodes = append(row.FindingCodes, f.GetCode())
		}
	}
	d.put(urgent, row)
	d.put(seen, row)
}

// ListVehicles gives a page of the shop's vehicles in an order, with a feed
// token taken at the first page's moment.
func (b *Book) ListVehicles(ctx context.Context, shop string, order pb.HereNowOrder, size int, page string) (*pb.ListVehiclesResponse, error) {
	mark, kind := byte(seenMark), "s"
	if order == pb.HereNowOrder_HERE_NOW_ORDER_URGENCY {
		mark, kind = urgentMark, "u"
	}
	after, err := b.pageAfter(page, shop, kind)
	if err != nil {
		return nil, err
	}
	out := &pb.ListVehiclesResponse{}
	err = b.read(ctx, shop, func(s view) error {
		rows, err := s.s.Scan(s.ctx, history.Range{Prefix: key(mark), After: after, Limit: size})
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
		if rows.More {
			out.NextPageToken = b.pageToken(shop, kind, rows.Rows[len(rows.Rows)-1].Key)
		}
		last, err := s.s.Last(s.ctx)
		if strings.TrimSpace(page) == "" {
			out.ResumeToken = b.feedToken(shop, last)
		}
		return err
	})
	return out, err
}
