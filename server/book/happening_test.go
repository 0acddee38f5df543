package book

import (
	"context"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

func leaving(v *pb.Vehicle, by pb.LeftBy) *pb.VehicleEvent {
	return &pb.VehicleEvent{Id: newID(), VehicleId: v.GetId(), DoneBy: "invented advisor", What: &pb.VehicleEvent_Leaving{Leaving: &pb.Leaving{LeftBy: by}}}
}

func takenOff(v *pb.Vehicle, by string, at ...string) *pb.VehicleEvent {
	return &pb.VehicleEvent{Id: newID(), VehicleId: v.GetId(), DoneBy: by, What: &pb.VehicleEvent_WheelsOff{WheelsOff: &pb.WheelsOff{Positions: at}}}
}

func torqued(v *pb.Vehicle, by string, at ...string) *pb.VehicleEvent {
	return &pb.VehicleEvent{Id: newID(), VehicleId: v.GetId(), DoneBy: by, What: &pb.VehicleEvent_WheelsTorqued{WheelsTorqued: &pb.WheelsTorqued{Positions: at, Torque: footPounds(100)}}}
}

func footPounds(n float64) *pb.Torque { return &pb.Torque{AsRead: &pb.Torque_PoundFeet{PoundFeet: n}} }

func (d *desk) happens(e *pb.VehicleEvent) {
	d.t.Helper()
	if r, err := d.RecordEvent(context.Background(), shop, e); err != nil || r.GetRepeatedCall() {
		d.t.Fatalf("%v: %v", r, err)
	}
}

// hereFirst lists the tags of the vehicles by urgency.
func (d *desk) tagsByUrgency() (tags []string) {
	d.t.Helper()
	page, _, err := d.Book.ListVehicles(context.Background(), shop, pb.VehicleOrder_VEHICLE_ORDER_URGENCY, 50, "")
	if err != nil {
		d.t.Fatal(err)
	}
	for _, r := range page.Rows {
		tags = append(tags, r.GetTag())
	}
	return tags
}

// A vehicle that left, with nothing open too, is behind those that are here until a visit
// brings it back; a leaving that is told late, after it came again, changes nothing.
func TestLeaving(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b := d.keepVehicle(tagged("sedan")), d.keepVehicle(tagged("van"))
		d.keep(d.find(newVisit(a), found("tread.wet-advice", "1L")))
		d.keep(newVisit(b))
		first := leaving(a, pb.LeftBy_LEFT_BY_TOWED)
		d.happens(first)
		if got := d.tagsByUrgency(); !slices.Equal(got, []string{"van", "sedan"}) || !d.vehicle(a).GetState().GetLeft() {
			t.Errorf("after the sedan left: %v", got)
		}
		change := d.pull("")[d.last()-1]
		if change.GetEvent().GetId() != first.GetId() || len(change.GetVehicles()) != 1 || len(change.GetVehicles()[0].GetOpen()) != 1 || !change.GetVehicles()[0].GetLeft() {
			t.Errorf("the feed: %v", change)
		}
		before := d.last()
		if r, err := d.RecordEvent(t.Context(), shop, first); err != nil || !r.GetRepeatedCall() || d.last() != before {
			t.Errorf("repeated: %v: %v", r, err)
		}
		other := leaving(a, pb.LeftBy_LEFT_BY_DRIVEN)
		other.Id = first.GetId()
		_, err := d.RecordEvent(t.Context(), shop, other)
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_ID_TAKEN, "event.id")
		_, err = d.RecordEvent(t.Context(), shop, leaving(car(), pb.LeftBy_LEFT_BY_DRIVEN))
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_YET, "event.vehicle_id")

		d.keep(newVisit(a))
		late := leaving(a, pb.LeftBy_LEFT_BY_DRIVEN)
		late.DoneTime = timestamppb.New(d.vehicle(a).GetState().GetLastSeenTime().AsTime().Add(-time.Minute))
		d.happens(late)
		if got := d.tagsByUrgency(); got[0] != "sedan" || d.vehicle(a).GetState().GetLeft() {
			t.Errorf("back again: %v", got)
		}
		for by, gone := range map[pb.LeftBy]bool{
			pb.LeftBy_LEFT_BY_DRIVEN: true, pb.LeftBy_LEFT_BY_SPARE_FITTED: true, pb.LeftBy_LEFT_BY_OFF_WITH_CUSTOMER: true, pb.LeftBy_LEFT_BY_KEPT: false,
		} {
			d.keep(newVisit(b))
			d.happens(leaving(b, by))
			if d.vehicle(b).GetState().GetLeft() != gone {
				t.Errorf("%v: left %v", by, !gone)
			}
		}
	})
}

func (d *desk) wheelsOff() (lines []string) {
	d.t.Helper()
	for token, more := "", true; more; more = token != "" {
		page, err := d.ListWheelsOff(context.Background(), shop, 1, token)
		if err != nil {
			d.t.Fatal(err)
		}
		for _, r := range page.Rows {
			line := r.GetTag()
			for _, w := range r.GetWheels() {
				line += " " + w.GetPosition() + " off by " + w.GetOffBy()
				if w.GetTorquedTime() != nil {
					line += ", torqued by " + w.GetTorquedBy()
				}
			}
			lines = append(lines, line)
		}
		token = page.Next
	}
	return lines
}

// Wheels that are off are listed with who took them off until all of the vehicle's are
// torqued, whoever is on shift, and whatever is told meanwhile.
func TestWheelsOff(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b := d.keepVehicle(tagged("sedan")), d.keepVehicle(tagged("van"))
		is := func(when string, want ...string) {
			t.Helper()
			if got := d.wheelsOff(); !slices.Equal(got, want) {
				t.Errorf("%s:\n%s\nwant\n%s", when, strings.Join(got, "\n"), strings.Join(want, "\n"))
			}
		}
		is("at first")
		d.happens(takenOff(a, "first shift", "1L", "1R"))
		work := wheel("2L", pressure)
		work.FastenerWork = &pb.FastenerWork{DoneBy: "apprentice"}
		d.keep(newVisit(b, work))
		is("two vehicles", "sedan 1L off by first shift 1R off by first shift", "van 2L off by apprentice")
		d.happens(torqued(a, "second shift", "1R"))
		d.clock = d.clock.AddDate(1, 0, 0)
		d.keep(newVisit(a, wheel("1L", depth)))
		d.happens(leaving(a, pb.LeftBy_LEFT_BY_TOWED))
		is("a year later", "sedan 1L off by first shift 1R off by first shift, torqued by second shift", "van 2L off by apprentice")
		d.happens(torqued(a, "second shift", "1L"))
		is("the sedan torqued", "van 2L off by apprentice")
		if last := d.pull("")[d.last()-1]; last.GetEvent().GetDoneBy() != "second shift" || len(last.GetVehicles()[0].GetWheelsOff()) != 0 {
			t.Errorf("the feed: %v", last)
		}
		again := wheel("2L", pressure)
		again.TorqueRecheck = &pb.TorqueRecheck{Torque: footPounds(100), DoneBy: "technician"}
		d.keep(newVisit(b, again))
		is("the van's checked")
		before := d.last()
		if _, err := d.RecordEvent(t.Context(), shop, takenOff(a, "first shift", "3L")); err == nil || d.last() != before {
			t.Errorf("a wheel that there is not: %v", err)
		}
	})
}

// Vehicles are found by order, plate and tag, however these are written; an order that a
// correction takes back finds nothing.
func TestFoundByOrderPlateAndTag(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		sedan, van := tagged("Blue Sedan, bay 3"), tagged("blue van")
		sedan.CustomerData, van.CustomerData = &pb.CustomerData{Plate: "ABC 1-23"}, &pb.CustomerData{Plate: "ABD 456"}
		a, b := d.keepVehicle(sedan), d.keepVehicle(van)
		ordered := func(v *pb.Vehicle, reference string) *pb.Inspection {
			in := newVisit(v)
			in.OrderReference = reference
			d.keep(in)
			return in
		}
		ordered(a, "RO-10 077")
		ordered(a, "ro10077")
		wrong := ordered(b, "RO 10077")
		type find func(context.Context, string, string, int, string) (Page[*pb.VehicleRow], string, error)
		is := func(by find, text string, want ...string) {
			t.Helper()
			var got []string
			for token, more := "", true; more; more = token != "" {
				page, _, err := by(t.Context(), shop, text, 1, token)
				if err != nil {
					t.Fatal(err)
				}
				for _, r := range page.Rows {
					got = append(got, r.GetTag())
				}
				token = page.Next
			}
			if slices.Sort(got); !slices.Equal(got, want) {
				t.Errorf("%s: %v, want %v", text, got, want)
			}
		}
		is(d.FindByOrder, "Ro 10-077", "Blue Sedan, bay 3", "blue van")
		is(d.FindByOrder, "RO1007")
		is(d.FindByPlate, "abc123", "Blue Sedan, bay 3")
		is(d.FindByPlate, "a b", "Blue Sedan, bay 3", "blue van")
		is(d.FindByTag, "bluev", "blue van")
		is(d.FindByTag, "blue", "Blue Sedan, bay 3", "blue van")
		is(d.FindByTag, "bay")
		fixed := correcting(wrong, newVisit(b))
		fixed.OrderReference = "RO 10078"
		d.keep(fixed)
		is(d.FindByOrder, "RO10077", "Blue Sedan, bay 3")
		is(d.FindByOrder, "RO10078", "blue van")
		page, err := d.ListInspections(t.Context(), shop, b.GetId(), 1, "")
		if err != nil || page.Rows[0].GetOrderReference() != "RO 10078" {
			t.Errorf("%v: %v", page.Rows, err)
		}
		_, err = d.EraseCustomer(t.Context(), shop, &pb.EraseCustomerRequest{Id: newID(), VehicleId: a.GetId()})
		if err != nil {
			t.Fatal(err)
		}
		is(d.FindByPlate, "abc123")
	})
}
