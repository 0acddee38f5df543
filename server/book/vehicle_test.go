package book

import (
	"bytes"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

func TestVehicleChangesByRevision(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		first := car()
		now := d.keepVehicle(first)
		d.keep(newVisit(first))
		if got := d.vehicle(first).GetVehicle(); got.GetRevision() != now.GetRevision() {
			t.Errorf("a visit changed the revision from %s to %s", now.GetRevision(), got.GetRevision())
		}

		change := &pb.Vehicle{Id: first.GetId(), Revision: now.GetRevision(), Tag: "changed", SameAs: "ignored"}
		recorded, err := d.recordVehicle(change)
		if err != nil || recorded.GetRepeatedCall() || recorded.GetRevision() == now.GetRevision() || recorded.GetNumber() != recorded.GetRevision() {
			t.Fatalf("%v: %v", recorded, err)
		}
		want := proto.CloneOf(now)
		want.Tag, want.Revision = "changed", recorded.GetRevision()
		sameMessage(t, "read", d.vehicle(first).GetVehicle(), want)
		if v := d.vehicle(first); v.GetState().GetLastInspectionId() == "" || v.GetState().GetTag() != "changed" || len(v.GetTires()) == 0 {
			t.Errorf("the change lost what visits had made of the vehicle: %v", v)
		}

		before := d.last()
		sameAgain := func(what string, v *pb.Vehicle, number string) {
			t.Helper()
			again, err := d.recordVehicle(v)
			if err != nil || !again.GetRepeatedCall() || again.GetRevision() != recorded.GetRevision() || again.GetNumber() != number || again.GetRecordedTime() == nil {
				t.Errorf("%s repeated: %v, %v", what, again, err)
			}
			sameMessage(t, what+" repeated", d.vehicle(first).GetVehicle(), want)
		}
		sameAgain("the change", change, recorded.GetNumber())

		late := proto.CloneOf(change)
		late.Tag = "too late"
		_, err = d.recordVehicle(late)
		if r := d.refused(before, err, pb.ErrorReason_ERROR_REASON_REVISION_STALE, "vehicle.revision"); r.Metadata["revision"] != recorded.GetRevision() {
			t.Error(r.Metadata)
		}

		// The phone that made it never got its answer and sends it again.
		sameAgain("the first record", first, now.GetRevision())

		unknown := car()
		unknown.Revision = "1"
		_, err = d.recordVehicle(unknown)
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle.id")
		_, _, err = d.GetVehicle(t.Context(), shop, unknown.GetId())
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle_id")
		_, err = d.ListInspections(t.Context(), shop, unknown.GetId(), 5, "")
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle_id")
	})
}

// What a record leaves out stays as it is, what it has is replaced whole, and what
// it names is emptied; fields that this program does not know are no exception.
func TestARecordChangesWhatItHas(t *testing.T) {
	newer := func(fields ...byte) []byte { // of a newer phone, field 1001 and field 1002
		var raw []byte
		for i, value := range fields {
			if value != 0 {
				raw = append(raw, 0xc8+byte(i)*8, 0x3e, value)
			}
		}
		return raw
	}
	v := car()
	v.Spare = &pb.Spare{Kind: pb.SpareKind_SPARE_KIND_COMPACT, Size: "T125/70D15"}
	v.Use = driven("US", "CO")
	v.ProtoReflect().SetUnknown(newer(1, 2))
	for _, row := range []struct {
		name   string
		change func(c *pb.Vehicle)
		empty  []string
		want   func(w *pb.Vehicle)
	}{
		{"nothing", func(*pb.Vehicle) {}, nil, func(*pb.Vehicle) {}},
		{"one field", func(c *pb.Vehicle) { c.Drive = pb.Drive_DRIVE_ALL }, nil, func(w *pb.Vehicle) { w.Drive = pb.Drive_DRIVE_ALL }},
		{"a message whole", func(c *pb.Vehicle) { c.Spare = &pb.Spare{Kind: pb.SpareKind_SPARE_KIND_NONE} }, nil, func(w *pb.Vehicle) { w.Spare = &pb.Spare{Kind: pb.SpareKind_SPARE_KIND_NONE} }},
		{"axles whole", func(c *pb.Vehicle) { c.Axles = axles(&pb.Axle{}) }, nil, func(w *pb.Vehicle) { w.Axles = axles(&pb.Axle{}) }},
		{"emptied", func(*pb.Vehicle) {}, []string{"spare", "tag", "vehicleClass"}, func(w *pb.Vehicle) { w.Spare, w.Tag, w.VehicleClass = nil, "", 0 }},
		{"emptied and set", func(c *pb.Vehicle) { c.Tag = "b" }, []string{"use"}, func(w *pb.Vehicle) { w.Use, w.Tag = nil, "b" }},
		{"of a newer phone", func(c *pb.Vehicle) { c.ProtoReflect().SetUnknown(newer(0, 7)) }, nil, func(w *pb.Vehicle) { w.ProtoReflect().SetUnknown(newer(1, 7)) }},
	} {
		onMemory(t, row.name, func(t *testing.T, d *desk) {
			now := d.keepVehicle(v)
			change := &pb.Vehicle{Id: v.GetId(), Revision: now.GetRevision()}
			row.change(change)
			recorded, err := d.recordVehicle(change, row.empty...)
			if err != nil || recorded.GetRepeatedCall() != (row.name == "nothing") {
				t.Fatalf("%v: %v", recorded, err)
			}
			want := proto.CloneOf(now)
			row.want(want)
			want.Revision = recorded.GetRevision()
			sameMessage(t, "read", d.vehicle(v).GetVehicle(), want)
			if again, err := d.recordVehicle(change, row.empty...); err != nil || !again.GetRepeatedCall() {
				t.Errorf("again: %v: %v", again, err)
			}
		})
	}
}

func TestCustomerDataIsInARowOfItsOwn(t *testing.T) {
	secrets := &pb.CustomerData{Plate: "secret plate", Customer: "secret name", Contact: "secret number", VehicleIdentification: "secret frame"}
	onEach(t, func(t *testing.T, d *desk) {
		v := car()
		v.CustomerData = secrets
		d.keepVehicle(v)
		in := d.find(newVisit(v), found("tread.model-limit", "1L"))
		d.keep(in)
		sameMessage(t, "customer", d.vehicle(v).GetVehicle().GetCustomerData(), secrets)

		found := 0
		for _, r := range d.rows() {
			if bytes.Contains(r.Value, []byte("secret")) {
				found++
				if r.Key != personKey(v.GetId()) {
					t.Errorf("row %q holds customer data", r.Key)
				}
			}
		}
		if found != 1 {
			t.Errorf("%d rows hold customer data", found)
		}
		list, _, err := d.ListVehicles(t.Context(), shop, pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN, 10, "")
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range []proto.Message{&pb.ListVehiclesResponse{Rows: list.Rows}, &pb.PullChangesResponse{Changes: d.pull("")}, d.lastJudged()} {
			if wire, _ := proto.Marshal(m); bytes.Contains(wire, []byte("secret")) {
				t.Errorf("%T tells of the customer", m)
			}
		}

		// Another customer for the same record is another record.
		other := proto.CloneOf(v)
		other.CustomerData = &pb.CustomerData{Customer: "somebody else"}
		_, err = d.recordVehicle(other)
		d.refused(d.last(), err, pb.ErrorReason_ERROR_REASON_ID_TAKEN, "vehicle.id")

		// Who changes what the feed told of knows no customer, and erases none.
		told := &pb.Vehicle{Id: v.GetId(), Revision: d.pull("")[0].GetVehicle().GetRevision(), Tag: "changed by a follower"}
		if _, err := d.recordVehicle(told); err != nil {
			t.Fatal(err)
		}
		changed := d.vehicle(v).GetVehicle()
		sameMessage(t, "customer after the change", changed.GetCustomerData(), secrets)
		if recorded, err := d.recordVehicle(told); err != nil || !recorded.GetRepeatedCall() {
			t.Errorf("the change repeated: %v, %v", recorded, err)
		}

		for i, erased := range []struct {
			data  *pb.CustomerData
			empty []string
		}{{&pb.CustomerData{}, nil}, {nil, []string{"customerData"}}} {
			if i > 0 { // told again
				if _, err := d.recordVehicle(&pb.Vehicle{Id: v.GetId(), Revision: changed.GetRevision(), CustomerData: secrets}); err != nil {
					t.Fatal(err)
				}
				changed = d.vehicle(v).GetVehicle()
			}
			sent := &pb.Vehicle{Id: v.GetId(), Revision: changed.GetRevision(), CustomerData: erased.data}
			if _, err := d.recordVehicle(sent, erased.empty...); err != nil || d.vehicle(v).GetVehicle().GetCustomerData() != nil {
				t.Fatal(err)
			}
			if recorded, err := d.recordVehicle(sent, erased.empty...); err != nil || !recorded.GetRepeatedCall() {
				t.Errorf("erased again: %v, %v", recorded, err)
			}
			for _, r := range d.rows() {
				if bytes.Contains(r.Value, []byte("secret")) {
					t.Errorf("row %q still holds customer data", r.Key)
				}
			}
			if recorded, err := d.recordVehicle(v); err != nil || !recorded.GetRepeatedCall() || d.vehicle(v).GetVehicle().GetCustomerData() != nil {
				t.Errorf("a repetition of the first record brings erased data back: %v, %v", recorded, err)
			}
			changed = d.vehicle(v).GetVehicle()
		}
	})
}

func TestShopChangesByRevision(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		read := func() *pb.Shop {
			t.Helper()
			settings, err := d.GetShop(t.Context(), shop)
			if err != nil {
				t.Fatal(err)
			}
			return settings
		}
		sameMessage(t, "never set", read(), &pb.Shop{Id: shop})
		settings := &pb.Shop{Language: "es", TimeZone: "America/Denver"}
		first, err := d.UpdateShop(t.Context(), shop, settings, nil)
		if err != nil || first.GetRevision() != "1" || first.GetRepeatedCall() {
			t.Fatalf("%v: %v", first, err)
		}
		again, err := d.UpdateShop(t.Context(), shop, settings, nil) // its answer was lost
		if err != nil || !again.GetRepeatedCall() || again.GetRevision() != "1" || d.last() != 1 {
			t.Errorf("%d drafts: %v: %v", d.last(), again, err)
		}
		_, err = d.UpdateShop(t.Context(), shop, &pb.Shop{Language: "de"}, nil)
		if r := d.refused(1, err, pb.ErrorReason_ERROR_REASON_REVISION_STALE, "shop.revision"); r.Metadata["revision"] != "1" {
			t.Error(r.Metadata)
		}
		// The shop of the call counts.
		if recorded, err := d.UpdateShop(t.Context(), shop, &pb.Shop{Id: "another", Revision: "1", DisplayName: "invented"}, []string{"language"}); err != nil || recorded.GetRevision() != "2" {
			t.Errorf("%v: %v", recorded, err)
		}
		sameMessage(t, "changed", read(), &pb.Shop{Id: shop, Revision: "2", TimeZone: "America/Denver", DisplayName: "invented"})
		if feed := d.pull(""); len(feed) != 2 || feed[1].GetShop().GetRevision() != "2" || len(feed[1].GetVehicles()) != 0 {
			t.Errorf("%v", feed)
		}
	})
}
