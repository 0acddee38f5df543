package book

import (
	"slices"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// foundAt is a finding as a judge names it.
func foundAt(code, at string) *pb.Finding {
	return &pb.Finding{
		Id: finding.ID([]layout.Position{layout.MustParse(at)}, code, ""), Code: code, Urgency: pb.Urgency_URGENCY_BEFORE_DRIVING, Positions: []string{at},
	}
}

// What is open of a tire goes with it, whether the rotation was told of or a visit names the
// tires where they are now; what is open of a place stays there.
func TestWhatIsOpenFollowsItsTire(t *testing.T) {
	for name, rotate := range map[string]func(d *desk, v *pb.Vehicle, one, two string){
		"told of": func(d *desk, v *pb.Vehicle, one, two string) {
			d.move(v, moved(&pb.TireMove{TireId: one, To: mountedAt(v, "2R")}, &pb.TireMove{TireId: two, To: mountedAt(v, "1L")}))
		},
		"seen": func(d *desk, v *pb.Vehicle, one, two string) {
			d.keep(newVisit(v, wheel("1L", pressure, tire(two)), wheel("2R", pressure, tire(one))))
		},
	} {
		t.Run(name, func(t *testing.T) {
			onEach(t, func(t *testing.T, d *desk) {
				v, one, two := d.keepVehicle(car()), newID(), newID()
				bulge, loose := foundAt("damage.bulge", "1L"), foundAt("fastener.loose", "1L")
				first := d.find(newVisit(v, wheel("1L", whole, tire(one)), wheel("2R", whole, tire(two))), bulge, loose)
				d.keep(first)
				o := decided(first, bulge, pb.Decision_DECISION_NOT_AUTHORIZED_TODAY)
				d.mustDecide(o)
				rotate(d, v, one, two)
				name := d.openNamed(v, "damage.bulge").GetOpenId()
				// Whole and sound at its old wheel, the other tire says nothing of it.
				d.keep(newVisit(v, wheel("1L", whole, look(pb.LookedAt_LOOKED_AT_FASTENERS))))
				if got := ids(d.open(v)); !slices.Equal(got, []string{bulge.GetId()}) {
					t.Errorf("open after the old wheel was seen: %v", got)
				}
				// Found again where it is, it goes on.
				d.keep(d.find(newVisit(v, wheel("2R", whole)), foundAt("damage.bulge", "2R")))
				again := d.openNamed(v, "damage.bulge")
				if again.GetOpenId() != name || len(again.GetOutcomes()) != 1 || again.GetSinceInspectionId() != first.GetId() {
					t.Errorf("found again: %v", again)
				}
				d.move(v, moved(&pb.TireMove{TireId: one, To: stored("rack")}))
				last := d.pull("")[d.last()-1]
				if len(d.open(v)) != 0 || len(last.GetClosed()) != 1 || last.GetClosed()[0].GetClosedBy().GetCode() != "closed.tire-off" {
					t.Errorf("off the vehicle: %v, told %v", d.open(v), last.GetClosed())
				}
			})
		})
	}
}

// openNamed is what is open of a code.
func (d *desk) openNamed(v *pb.Vehicle, code string) *pb.OpenFinding {
	for _, f := range d.vehicle(v).GetState().GetOpen() {
		if f.GetFinding().GetCode() == code {
			return f
		}
	}
	return nil
}

// A tire that another vehicle's visit finds there takes with it what is open of it, and a
// late visit of the first does not bring it back.
func TestWhatIsOpenOfATireThatIsFoundElsewhere(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b, one := d.keepVehicle(tagged("sedan")), d.keepVehicle(tagged("van")), newID()
		d.keep(d.find(taken(1, newVisit(a, wheel("1L", whole, tire(one)))), foundAt("damage.bulge", "1L")))
		d.keep(taken(3, newVisit(b, wheel("1R", pressure, tire(one)))))
		last := d.pull("")[d.last()-1]
		if len(d.open(a)) != 0 || len(last.GetInspection().GetClosed()) != 1 || len(last.GetVehicles()) != 2 {
			t.Errorf("%v; %v", d.open(a), last)
		}
		d.keep(taken(2, newVisit(a, wheel("1R", pressure))))
		if len(d.open(a)) != 0 || slices.ContainsFunc(d.places(a), func(s string) bool { return s == "1L "+one }) {
			t.Errorf("after a late visit: %v, %v", d.open(a), d.places(a))
		}
	})
}
