package book

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

func merge(keep, same *pb.Vehicle) *pb.MergeVehiclesRequest {
	return &pb.MergeVehiclesRequest{ShopId: shop, Id: newID(), KeepVehicleId: keep.GetId(), SameVehicleId: same.GetId(), Reason: "one plate"}
}

// Two phones out of reach made two vehicles of one: merged, what they recorded is one record
// in the order in which it was taken, and either id gives it.
func TestTwoVehiclesThatAreOne(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		first, second := tagged("sedan"), tagged("blue sedan")
		first.CustomerData, second.CustomerData = &pb.CustomerData{Plate: "ABC 123"}, &pb.CustomerData{Plate: "abc-123"}
		a, b := d.keepVehicle(first), d.keepVehicle(second)
		if same, err := d.MaybeSame(t.Context(), shop, b.GetId()); err != nil || !slices.Equal(same, []string{a.GetId()}) {
			t.Errorf("of one plate: %v: %v", same, err)
		}
		worn, loose := foundAt("tread.wet-advice", "1L"), foundAt("fastener.loose", "1R")
		early := d.find(taken(1, newVisit(a, wheel("1L", depth), wheel("1R", pressure))), worn)
		middle := d.find(taken(2, newVisit(b, wheel("1L", depth), wheel("1R", pressure))), worn, loose)
		middle.OrderReference = "RO 7"
		late := d.find(taken(3, newVisit(a, wheel("1L", depth))), worn)
		for _, in := range []*pb.Inspection{early, middle, late} {
			d.keep(in)
		}
		m := merge(a, b)
		if r, err := d.MergeVehicles(t.Context(), shop, m); err != nil || r.GetRepeatedCall() {
			t.Fatalf("%v: %v", r, err)
		}
		for _, id := range []string{a.GetId(), b.GetId()} {
			now, _, err := d.GetVehicle(t.Context(), shop, id)
			if err != nil || now.GetVehicle().GetId() != a.GetId() || len(now.GetTires()) != 2 || len(now.GetState().GetOpen()) != 2 || now.GetState().GetLastInspectionId() != late.GetId() {
				t.Errorf("by %s: %v: %v", id, now, err)
			}
			list, err := d.ListInspections(t.Context(), shop, id, 50, "")
			if err != nil || len(list.Rows) != 3 || list.Rows[1].GetInspectionId() != middle.GetId() {
				t.Errorf("visits by %s: %v: %v", id, list.Rows, err)
			}
		}
		goesOn := d.openNamed(a, "tread.wet-advice")
		if goesOn.GetVisitsOpen() != 3 || goesOn.GetSinceInspectionId() != early.GetId() {
			t.Errorf("what both found: %v", goesOn)
		}
		change := d.pull("")[d.last()-1]
		if change.GetMerge().GetSameVehicleId() != b.GetId() || len(change.GetVehicles()) != 2 || len(change.GetVehicles()[1].GetOpen()) != 0 || len(change.GetClosed()) != 1 || change.GetClosed()[0].GetClosedBy().GetCode() != "closed.merged" {
			t.Errorf("the feed: %v", change)
		}
		page, _, err := d.FindByOrder(t.Context(), shop, "ro7", 50, "")
		if err != nil || len(page.Rows) != 1 || page.Rows[0].GetVehicleId() != a.GetId() {
			t.Errorf("by its order: %v: %v", page.Rows, err)
		}
		if same, err := d.MaybeSame(t.Context(), shop, a.GetId()); err != nil || len(same) != 0 {
			t.Errorf("another of one plate: %v: %v", same, err)
		}
		before := d.last()
		if r, err := d.MergeVehicles(t.Context(), shop, m); err != nil || !r.GetRepeatedCall() || d.last() != before {
			t.Errorf("repeated: %v: %v", r, err)
		}
		_, err = d.MergeVehicles(t.Context(), shop, merge(a, b))
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "same_vehicle_id")
		_, err = d.MergeVehicles(t.Context(), shop, merge(a, car()))
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "same_vehicle_id")
	})
}

// A phone that has heard of no merge goes on under its own id; what does not fit is refused.
func TestAfterAMerge(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b := d.keepVehicle(tagged("sedan")), d.keepVehicle(tagged("blue sedan"))
		middle := d.find(newVisit(b, wheel("1L", depth), wheel("1R", pressure)), foundAt("fastener.loose", "1R"))
		d.keep(middle)
		if _, err := d.MergeVehicles(t.Context(), shop, merge(a, b)); err != nil {
			t.Fatal(err)
		}
		if kept, err := d.record(middle); err != nil || !kept.GetRecorded().GetRepeatedCall() {
			t.Errorf("a visit of the other, repeated: %v: %v", kept, err)
		}
		d.keep(newVisit(b, wheel("1R", look(pb.LookedAt_LOOKED_AT_FASTENERS)))) // the phone has heard of nothing
		if d.openNamed(a, "fastener.loose") != nil {
			t.Errorf("after a visit of the other: %v", d.open(a))
		}
		if r, err := d.Reassess(t.Context(), shop, middle.GetId(), nil, nil); err != nil || r.Kept.GetInspection().GetVehicleId() != b.GetId() {
			t.Errorf("judged again: %v: %v", r, err)
		}
		truck := car()
		truck.Axles = axles(&pb.Axle{}, &pb.Axle{}, &pb.Axle{})
		c := d.keepVehicle(truck)
		d.keep(newVisit(c, wheel("3L", pressure)))
		before := d.last()
		_, err := d.MergeVehicles(t.Context(), shop, merge(a, c))
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "same_vehicle_id")
	})
}

// Moves put a tire at one place of each of two records: merged, the last is there, and the
// book says of the other only that nobody knows where it is. Told by both ids afterwards,
// two in one place are refused.
func TestMovesOntoTwoVehiclesThatAreOne(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b, c := d.keepVehicle(tagged("sedan")), d.keepVehicle(tagged("blue sedan")), d.keepVehicle(car())
		one, two := newID(), newID()
		d.keep(newVisit(c, wheel("1L", depth, tire(one)), wheel("1R", depth, tire(two))))
		d.move(c, moved(&pb.TireMove{TireId: one, To: mountedAt(a, "2L")}, &pb.TireMove{TireId: two, To: mountedAt(b, "2L")}))
		if _, err := d.MergeVehicles(t.Context(), shop, merge(a, b)); err != nil {
			t.Fatal(err)
		}
		if on := d.vehicle(a).GetTires(); len(on) != 1 || on[0].GetId() != two {
			t.Errorf("on it: %v", on)
		}
		for id, on := range map[string]bool{one: false, two: true} {
			if now, err := d.GetTire(t.Context(), shop, id); err != nil || (now.GetTire().GetPlace().GetMounted().GetVehicleId() == a.GetId()) != on || (now.GetTire().GetPlace() != nil) != on {
				t.Errorf("%v: %v", now, err)
			}
		}
		before := d.last()
		_, err := d.MoveTires(t.Context(), shop, a.GetId(), moved(&pb.TireMove{TireId: one, To: mountedAt(a, "1L")}, &pb.TireMove{TireId: two, To: mountedAt(b, "1L")}), nil)
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "moves.moves[1].to")
	})
}

// Of one plate are named ten vehicles at most, and never the one that is asked of.
func TestHowManyMayBeTheSame(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		var of *pb.Vehicle
		for n := range maybeSame + 2 {
			v := tagged("sedan " + string(rune('a'+n)))
			v.CustomerData = &pb.CustomerData{Plate: "ABC 123"}
			of = d.keepVehicle(v)
			want := min(n, maybeSame)
			if same, err := d.MaybeSame(t.Context(), shop, of.GetId()); err != nil || len(same) != want || slices.Contains(same, of.GetId()) {
				t.Errorf("of %d others: %d, want %d: %v", n, len(same), want, err)
			}
		}
	})
}

// What put a finding right is what its visit says, else that it was left so; where it was
// left as it was found, nothing did.
func TestWhatPutAFindingRight(t *testing.T) {
	for _, c := range []struct {
		as   *pb.AsLeft
		want finding.Closed
	}{
		{nil, ""},
		{&pb.AsLeft{}, finding.ClosedAsLeft},
		{&pb.AsLeft{PutRight: &pb.Said{Code: string(finding.ClosedMeasured)}}, finding.ClosedMeasured},
	} {
		if got := putRight(&pb.Finding{AsLeft: c.as}); got != c.want {
			t.Errorf("%v: %q, want %q", c.as, got, c.want)
		}
	}
}
