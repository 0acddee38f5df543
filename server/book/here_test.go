package book

import (
	"fmt"
	"slices"
	"testing"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// tags are those of the list by urgency, page by page.
func (d *desk) tags(size int) (all []string) {
	d.t.Helper()
	for token, more := "", true; more; more = token != "" {
		page, _, err := d.ListVehicles(d.t.Context(), shop, pb.VehicleOrder_VEHICLE_ORDER_URGENCY, size, token)
		if err != nil {
			d.t.Fatal(err)
		}
		for _, row := range page.Rows {
			all = append(all, row.GetTag())
		}
		token = page.Next
	}
	return all
}

// What is here comes first, the most urgent of it before all: however many vehicles left
// with something graver years ago, and those that were told to have left.
func TestWhatIsHereComesFirst(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		urgent := func(tag string, u pb.Urgency) (*pb.Inspection, *pb.Finding) {
			v, f := d.keepVehicle(tagged(tag)), found("tread.wet-advice", "1L")
			f.Urgency = u
			in := newVisit(v)
			if u != pb.Urgency_URGENCY_UNSPECIFIED {
				d.find(in, f)
			}
			d.keep(in)
			return in, f
		}
		for i := range 7 {
			urgent(fmt.Sprint("gone ", i), pb.Urgency_URGENCY_BEFORE_DRIVING)
		}
		d.clock = d.clock.Add(staysHere)
		urgent("sound", pb.Urgency_URGENCY_UNSPECIFIED)
		urgent("plan", pb.Urgency_URGENCY_PLAN)
		in, f := urgent("driven off", pb.Urgency_URGENCY_BEFORE_DRIVING)
		urgent("now", pb.Urgency_URGENCY_THIS_VISIT)
		kept, g := urgent("kept", pb.Urgency_URGENCY_BEFORE_DRIVING)
		o := decided(in, f, pb.Decision_DECISION_NOT_AUTHORIZED_TODAY)
		o.LeftBy = pb.LeftBy_LEFT_BY_DRIVEN
		d.mustDecide(o)
		k := decided(kept, g, pb.Decision_DECISION_NOT_AUTHORIZED_TODAY)
		k.LeftBy = pb.LeftBy_LEFT_BY_KEPT
		d.mustDecide(k)
		want := []string{"kept", "now", "plan", "sound", "driven off", "gone 6", "gone 5", "gone 4", "gone 3", "gone 2", "gone 1", "gone 0"}
		for _, size := range []int{1, 2, 3, 4, 5, 11, 12, 50} {
			if got := d.tags(size); !slices.Equal(got, want) {
				t.Errorf("in pages of %d: %v", size, got)
			}
		}
		d.clock = d.clock.Add(staysHere + time.Hour)
		if got := d.tags(50); got[0] != "kept" || got[1] != "driven off" || got[2] != "gone 6" || got[len(got)-1] != "sound" {
			t.Errorf("when all have left: %v", got)
		}
	})
}
