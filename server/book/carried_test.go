package book

import (
	"slices"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// openOn are the open ids on a vehicle with their codes and where they are, in order.
func (d *desk) openOn(v *pb.Vehicle) (all []string) {
	d.t.Helper()
	for _, f := range d.vehicle(v).GetState().GetOpen() {
		at := f.GetFinding().GetPositions()
		if len(f.GetMovedTo()) > 0 {
			at = f.GetMovedTo()
		}
		all = append(all, f.GetFinding().GetCode()+" "+at[0])
	}
	slices.Sort(all)
	return all
}

func wantOpen(t *testing.T, what string, d *desk, v *pb.Vehicle, want ...string) {
	t.Helper()
	if got := d.openOn(v); !slices.Equal(got, want) {
		t.Errorf("%s: open %v, want %v", what, got, want)
	}
}

// A bulge goes with its tire to another vehicle, with its name, since when and what became of
// it; a bent wheel stays. One change of the feed tells both.
func TestWhatIsOpenOfATireGoesWithIt(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b, id := d.keepVehicle(tagged("sedan")), d.keepVehicle(tagged("van")), newID()
		bulge := grave(found("damage.bulge", "1L"))
		in := d.find(newVisit(a, wheel("1L", depth, tire(id)), wheel("2L", depth)), bulge, found("wheel.bent", "1L"))
		d.keep(in)
		d.mustDecide(decided(in, bulge, pb.Decision_DECISION_NOT_AUTHORIZED_TODAY))
		was := d.vehicle(a).GetState().GetOpen()[0]
		d.move(a, moved(&pb.TireMove{TireId: id, To: mountedAt(b, "2R")}))
		wantOpen(t, "where it was", d, a, "wheel.bent 1L")
		wantOpen(t, "where it came", d, b, "damage.bulge 2R")
		now := d.vehicle(b).GetState().GetOpen()[0]
		if now.GetOpenId() != was.GetOpenId() || now.GetSinceInspectionId() != in.GetId() || len(now.GetOutcomes()) != 1 || now.GetVehicleId() != b.GetId() {
			t.Errorf("open as %v", now)
		}
		last := d.pull("")[d.last()-1]
		if len(last.GetClosed()) != 1 || last.GetClosed()[0].GetClosedBy().GetCode() != "closed.moved-on" || !slices.Equal(last.GetOpened(), []string{was.GetOpenId()}) || len(last.GetVehicles()) != 2 {
			t.Errorf("the feed: %v", last)
		}
		// What becomes of it is told by the visit that found it.
		d.mustDecide(decided(in, bulge, pb.Decision_DECISION_NOT_AUTHORIZED_TODAY))
		if open := d.vehicle(b).GetState().GetOpen(); len(open) != 1 || len(open[0].GetOutcomes()) != 2 {
			t.Errorf("after an outcome: %v", open)
		}
		// A tire does not heal in store, whatever the vehicle is seen to be meanwhile.
		d.move(b, moved(&pb.TireMove{TireId: id, To: stored("rack")}))
		wantOpen(t, "in store", d, b)
		d.keep(newVisit(b, wheel("1L", whole)))
		d.move(b, moved(&pb.TireMove{TireId: id, To: mountedAt(a, "1R")}))
		wantOpen(t, "and on again", d, a, "damage.bulge 1R", "wheel.bent 1L")
	})
}

// What arrives late of one vehicle, or corrects it, is told of the vehicle to which its tire
// went since, in the same change.
func TestALateVisitIsToldWhereTheTireIsNow(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b, id := d.keepVehicle(tagged("sedan")), d.keepVehicle(tagged("van")), newID()
		d.keep(taken(1, newVisit(a, wheel("1L", depth, tire(id)))))
		d.keep(taken(10, newVisit(b, wheel("1R", depth, tire(id))))) // it was moved, and nobody told
		late := taken(5, d.find(newVisit(a, wheel("1L", depth)), grave(found("damage.bulge", "1L")), found("fastener.loose", "1L")))
		d.keep(late)
		wantOpen(t, "where it was", d, a, "fastener.loose 1L")
		wantOpen(t, "where it is", d, b, "damage.bulge 1R")
		if last := d.pull("")[d.last()-1]; len(last.GetVehicles()) != 2 || len(last.GetInspection().GetOpened()) != 2 {
			t.Errorf("the feed: %v", last)
		}
		d.keep(correcting(late, taken(5, newVisit(a, wheel("1L", depth)))))
		wantOpen(t, "corrected, where it was", d, a)
		wantOpen(t, "corrected, where it is", d, b)
		// A late visit of a third vehicle has it between the two.
		c := d.keepVehicle(tagged("truck"))
		d.keep(taken(7, d.find(newVisit(c, wheel("2L", depth, tire(id))), grave(found("damage.bulge", "2L")))))
		wantOpen(t, "where it was meanwhile", d, c)
		wantOpen(t, "where it is", d, b, "damage.bulge 1R")
		if on := d.places(c); len(on) != 0 {
			t.Errorf("still on the third: %v", on)
		}
		if on := d.places(b); !slices.Equal(on, []string{"1R " + id}) {
			t.Errorf("on the second: %v", on)
		}
	})
}
