package api

import (
	"testing"

	"google.golang.org/grpc/codes"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// A tire over the calls: recorded, seen on a car, moved, repaired, and its life told.
func TestATireOverTheCalls(t *testing.T) {
	h := inMemory(t)
	calls := pb.NewTireServiceClient(h.conn)
	id, v := newID(), car()
	recorded, err := calls.RecordTire(h.bench(), &pb.RecordTireRequest{ShopId: shop, Tire: &pb.Tire{Id: id, Sidewall: &pb.Sidewall{Marking: "215/60R16 95H"}}})
	if err != nil || recorded.GetRecorded().GetRevision() != "1" {
		t.Fatalf("%v: %v", recorded, err)
	}
	in := visit(v)
	in.Wheels[0].TireId = id
	h.keep(v, in)
	stored := &pb.TirePlace{Where: &pb.TirePlace_Stored{Stored: &pb.StoredPlace{Words: "rack 12"}}}
	moved, err := calls.MoveTires(h.bench(), &pb.MoveTiresRequest{ShopId: shop, VehicleId: v.GetId(), Moves: &pb.TireMoves{Id: newID(), Moves: []*pb.TireMove{{TireId: id, To: stored}}}})
	if err != nil || moved.GetRecorded().GetNumber() != "4" {
		t.Fatalf("%v: %v", moved, err)
	}
	repaired, err := calls.RecordRepair(h.bench(), &pb.RecordRepairRequest{ShopId: shop, Repair: &pb.Repair{Id: newID(), TireId: id, Method: pb.RepairMethod_REPAIR_METHOD_COMBINATION}})
	if err != nil || repaired.GetRecorded().GetNumber() != "5" {
		t.Fatalf("%v: %v", repaired, err)
	}
	got, err := calls.GetTire(h.counter(), &pb.GetTireRequest{ShopId: shop, TireId: id})
	if err != nil || got.GetTire().GetPlace().GetStored().GetWords() != "rack 12" || len(got.GetRepairs()) != 1 {
		t.Errorf("%v: %v", got, err)
	}
	var events []*pb.TireEvent
	for token, more := "", true; more; more = token != "" {
		page, err := calls.ListTireHistory(h.counter(), &pb.ListTireHistoryRequest{ShopId: shop, TireId: id, PageSize: 1, PageToken: token})
		if err != nil || len(page.GetEvents()) > 1 {
			t.Fatalf("%v: %v", page, err)
		}
		events, token = append(events, page.GetEvents()...), page.GetNextPageToken()
	}
	if len(events) != 3 || events[0].GetRepaired() == nil || events[1].GetMoved() == nil || events[2].GetMeasured().GetPosition() != "1L" || events[2].GetMounted().GetVehicleId() != v.GetId() {
		t.Errorf("%v", events)
	}
}

// What the calls about tires may not be.
func TestRequestsAboutTiresAreChecked(t *testing.T) {
	h := inMemory(t)
	calls := pb.NewTireServiceClient(h.conn)
	record := func(tire *pb.Tire, empty ...string) error {
		_, err := calls.RecordTire(h.bench(), &pb.RecordTireRequest{ShopId: shop, Tire: tire, Clear: empty})
		return err
	}
	get := func(id string) error {
		_, err := calls.GetTire(h.bench(), &pb.GetTireRequest{ShopId: shop, TireId: id})
		return err
	}
	list := func(id string, size int32) error {
		_, err := calls.ListTireHistory(h.bench(), &pb.ListTireHistoryRequest{ShopId: shop, TireId: id, PageSize: size})
		return err
	}
	move := func(vehicle string, m *pb.TireMoves) error {
		_, err := calls.MoveTires(h.bench(), &pb.MoveTiresRequest{ShopId: shop, VehicleId: vehicle, Moves: m})
		return err
	}
	repair := func(r *pb.Repair) error {
		_, err := calls.RecordRepair(h.bench(), &pb.RecordRepairRequest{ShopId: shop, Repair: r})
		return err
	}
	onto := func(v, at string) *pb.TirePlace {
		return &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{VehicleId: v, Position: at}}}
	}
	one, two, v := newID(), newID(), newID()
	for _, row := range []struct {
		name  string
		err   error
		paths []string
	}{
		{"no tire", record(nil), []string{"tire.id"}},
		{"a tire of another form", record(&pb.Tire{Id: "17"}), []string{"tire.id"}},
		{"what cannot be emptied", record(&pb.Tire{Id: one}, "place"), []string{"clear[0]"}},
		{"no tire named", get(""), []string{"tireId"}},
		{"no history of it", list("17", -1), []string{"tireId", "pageSize"}},
		{"nothing moves", move("", nil), []string{"vehicleId", "moves.id", "moves.moves"}},
		{"to nowhere", move(v, &pb.TireMoves{Id: newID(), Moves: []*pb.TireMove{{TireId: one}}}), []string{"moves.moves[0].to"}},
		{"twice", move(v, &pb.TireMoves{Id: newID(), Moves: []*pb.TireMove{{TireId: one, To: onto(v, "1L")}, {TireId: one, To: onto(v, "1R")}}}), []string{"moves.moves[1].tireId"}},
		{"two in one place", move(v, &pb.TireMoves{Id: newID(), Moves: []*pb.TireMove{{TireId: one, To: onto(v, "1L")}, {TireId: two, To: onto(v, "1L")}}}), []string{"moves.moves[1].to"}},
		{"no repair", repair(nil), []string{"repair.id", "repair.tireId"}},
		{"a repair of no tire", repair(&pb.Repair{Id: newID()}), []string{"repair.tireId"}},
	} {
		t.Run(row.name, func(t *testing.T) { refused(t, row.err, row.paths...) })
	}
	for err, path := range map[error]string{get(newID()): "tireId", list(newID(), 0): "tireId"} {
		if r := read(t, err); r.Code() != codes.NotFound || len(r.paths) != 1 || r.paths[0] != path {
			t.Errorf("%v at %v", err, r.paths)
		}
	}
	if h.drafts() != 0 {
		t.Errorf("%d drafts were stored", h.drafts())
	}
}
