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
		kept := d.keepVehicle(first)
		d.keep(visit(first))
		if is := d.vehicle(first).GetVehicle(); is.GetRevision() != kept.GetRevision() {
			t.Errorf("a visit changed the revision from %s to %s", kept.GetRevision(), is.GetRevision())
		}

		change := proto.CloneOf(kept)
		change.Tag, change.SameAs = "changed", "ignored"
		changed, repeated, err := d.RecordVehicle(t.Context(), shop, change)
		if err != nil || repeated || changed.GetRevision() == kept.GetRevision() || changed.GetTag() != "changed" || changed.GetSameAs() != "" {
			t.Fatalf("repeated %v, %v: %v", repeated, changed, err)
		}
		sameMessage(t, "read", d.vehicle(first).GetVehicle(), changed)
		if open := d.vehicle(first); open.GetLastInspectionId() == "" || len(open.GetTires()) == 0 {
			t.Error("the change lost what visits had made of the vehicle")
		}

		before := d.last()
		again, repeated, err := d.RecordVehicle(t.Context(), shop, change)
		if err != nil || !repeated {
			t.Errorf("the change repeated: %v, %v", repeated, err)
		}
		sameMessage(t, "the change repeated", again, changed)

		change.Tag = "too late"
		_, _, err = d.RecordVehicle(t.Context(), shop, change)
		if r := d.refused(before, err, pb.ErrorReason_ERROR_REASON_REVISION_STALE, "vehicle.revision"); r.Metadata["revision"] != changed.GetRevision() {
			t.Error(r.Metadata)
		}

		// The phone that made it never got its answer and sends it again.
		again, repeated, err = d.RecordVehicle(t.Context(), shop, first)
		if err != nil || !repeated {
			t.Errorf("the first record repeated: %v, %v", repeated, err)
		}
		sameMessage(t, "the first record repeated", again, changed)

		unknown := car()
		unknown.Revision = "1"
		_, _, err = d.RecordVehicle(t.Context(), shop, unknown)
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle.id")
		_, err = d.GetVehicle(t.Context(), shop, unknown.GetId())
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle_id")
		_, err = d.ListInspections(t.Context(), shop, unknown.GetId(), 5, "")
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle_id")
	})
}

func TestCustomerDataIsInARowOfItsOwn(t *testing.T) {
	secrets := &pb.CustomerData{Plate: "secret plate", Customer: "secret name", Contact: "secret number", VehicleIdentification: "secret frame"}
	onEach(t, func(t *testing.T, d *desk) {
		v := car()
		v.CustomerData = secrets
		d.keepVehicle(v)
		in := d.find(visit(v), asking("tread.model-limit", "1L"))
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
		rows, err := d.ListVehicles(t.Context(), shop, 0, 10, "")
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range []proto.Message{
			rows, &pb.PullChangesResponse{Changes: d.pull("")}, d.lastJudged(),
		} {
			if wire, _ := proto.Marshal(m); bytes.Contains(wire, []byte("secret")) {
				t.Errorf("%T tells of the customer", m)
			}
		}

		// Another customer for the same record is another record.
		other := proto.CloneOf(v)
		other.CustomerData = &pb.CustomerData{Customer: "somebody else"}
		_, _, err = d.RecordVehicle(t.Context(), shop, other)
		d.refused(d.last(), err, pb.ErrorReason_ERROR_REASON_ID_TAKEN, "vehicle.id")

		// Who changes what the feed told of knows no customer, and erases none.
		told := d.pull("")[0].GetVehicle()
		told.Tag = "changed by a follower"
		changed, _, err := d.RecordVehicle(t.Context(), shop, told)
		if err != nil {
			t.Fatal(err)
		}
		sameMessage(t, "customer after the change", changed.GetCustomerData(), secrets)
		sameMessage(t, "vehicle after the change", d.vehicle(v).GetVehicle(), changed)
		if again, repeated, err := d.RecordVehicle(t.Context(), shop, told); err != nil || !repeated || !proto.Equal(again, changed) {
			t.Errorf("the change repeated: %v, %v, %v", again, repeated, err)
		}

		erased := proto.CloneOf(changed)
		erased.CustomerData = &pb.CustomerData{}
		is, _, err := d.RecordVehicle(t.Context(), shop, erased)
		if err != nil || is.GetCustomerData() != nil || d.vehicle(v).GetVehicle().GetCustomerData() != nil {
			t.Fatalf("%v: %v", is, err)
		}
		if _, repeated, err := d.RecordVehicle(t.Context(), shop, erased); err != nil || !repeated {
			t.Errorf("erased again: %v, %v", repeated, err)
		}
		for _, r := range d.rows() {
			if bytes.Contains(r.Value, []byte("secret")) {
				t.Errorf("row %q still holds customer data", r.Key)
			}
		}
		if again, repeated, err := d.RecordVehicle(t.Context(), shop, v); err != nil || !repeated || again.GetCustomerData() != nil {
			t.Errorf("a repetition of the first record brings erased data back: %v, %v, %v", again, repeated, err)
		}
	})
}

func TestShopChangesByRevision(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		is, err := d.GetShop(t.Context(), shop)
		if err != nil {
			t.Fatal(err)
		}
		sameMessage(t, "never set", is, &pb.Shop{Id: shop})
		is.Country = "US"
		first, err := d.UpdateShop(t.Context(), shop, is)
		if err != nil || first.GetRevision() != "1" {
			t.Fatalf("%v: %v", first, err)
		}
		again, err := d.UpdateShop(t.Context(), shop, is) // its answer was lost
		if err != nil || d.last() != 1 {
			t.Errorf("%d drafts: %v", d.last(), err)
		}
		sameMessage(t, "again", again, first)
		is.Country = "DE"
		_, err = d.UpdateShop(t.Context(), shop, is)
		if r := d.refused(1, err, pb.ErrorReason_ERROR_REASON_REVISION_STALE, "shop.revision"); r.Metadata["revision"] != "1" {
			t.Error(r.Metadata)
		}
		first.Country = "DE"
		first.Id = "another" // the shop of the call counts
		changed, err := d.UpdateShop(t.Context(), shop, first)
		if err != nil || changed.GetCountry() != "DE" || changed.GetId() != shop {
			t.Errorf("%v: %v", changed, err)
		}
		if read, err := d.GetShop(t.Context(), shop); err != nil || !proto.Equal(read, changed) {
			t.Errorf("%v: %v", read, err)
		}
		if feed := d.pull(""); len(feed) != 2 || feed[1].GetShop().GetCountry() != "DE" || feed[1].GetShop().GetRevision() != feed[1].GetNumber() {
			t.Errorf("%v", feed)
		}
	})
}
