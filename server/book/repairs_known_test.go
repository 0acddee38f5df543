package book

import (
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history/memory"
)

// A visit is judged, and judged again, by the repairs that were known when it was recorded and
// done before it: one that was recorded since says nothing of it.
func TestAVisitKnowsTheRepairsOfItsTime(t *testing.T) {
	d := newDesk(t, memory.New(), nil)
	v, id := d.keepVehicle(tagged("sedan")), newID()
	visit := func() *pb.Inspection { return newVisit(v, wheel("1L", depth, tire(id))) }
	first := visit()
	d.keep(first)
	if _, err := d.RecordRepair(t.Context(), shop, &pb.Repair{Id: newID(), TireId: id, Method: pb.RepairMethod_REPAIR_METHOD_COMBINATION}); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Reassess(t.Context(), shop, first.GetId(), nil, nil); err != nil {
		t.Fatal(err)
	}
	if got := d.lastJudgedOf(first).GetRepairs(); len(got) != 0 {
		t.Errorf("a visit from before it knows %v", got)
	}
	second := visit()
	d.keep(second)
	if got := d.lastJudgedOf(second).GetRepairs(); len(got) != 1 {
		t.Errorf("a visit after it knows %v", got)
	}
}
