package api

import (
	"context"
	"errors"
	"log/slog"
	"testing"
	"time"

	"github.com/google/uuid"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
)

func importer(store history.Store) *Server {
	return New(book.New(store, judge.For(judge.NoneOwn), time.Now), nil, About{}, slog.New(slog.DiscardHandler))
}

// history of one vehicle: some visits, and what became of a finding of each.
func historyOf(visits int) (vehicle, seen, decided []*rows.Exported) {
	car := &pb.Vehicle{Id: uuid.NewString(), Tag: "invented", Axles: &pb.Axles{Axles: []*pb.Axle{{}, {}}}}
	vehicle = []*rows.Exported{{Kind: "vehicle", Record: &rows.Exported_Vehicle{Vehicle: car}}}
	for i := range visits {
		at := timestamppb.New(time.Date(2020, 1, 1+i, 9, 0, 0, 0, time.UTC))
		in := &pb.Inspection{Id: uuid.NewString(), VehicleId: car.GetId(), TakenTime: at, Wheels: []*pb.WheelReport{{Position: "1L"}}}
		o := &pb.Outcome{Id: uuid.NewString(), InspectionId: in.GetId(), FindingId: "of former rules", Decision: pb.Decision_DECISION_DONE}
		seen = append(seen, &rows.Exported{Kind: "visit", Record: &rows.Exported_Inspection{Inspection: in}})
		decided = append(decided, &rows.Exported{Kind: "outcome", Record: &rows.Exported_Outcome{Outcome: o}})
	}
	return vehicle, seen, decided
}

// Records that come to stand on one vehicle are all taken, also where nothing in them says so
// and all are taken together.
func TestImportTakesWhatIsInEachOthersWay(t *testing.T) {
	s := importer(memory.New())
	vehicle, seen, decided := historyOf(60)
	for _, all := range [][]*rows.Exported{append(vehicle, seen...), decided} {
		for _, repeated := range []bool{false, true} {
			answers, err := s.Import(t.Context(), shop, all)
			if err != nil || len(answers) != len(all) {
				t.Fatalf("%d answers, %v", len(answers), err)
			}
			for _, a := range answers {
				if a.Refused != nil || a.Repeated != repeated {
					t.Fatalf("%+v, want repeated %v", a, repeated)
				}
			}
		}
	}
}

// full is a store that takes nothing any more.
type full struct{ history.Store }

func (full) CommitAll(_ context.Context, drafts []history.Draft) []history.Committed {
	out := make([]history.Committed, len(drafts))
	for i := range out {
		out[i].Err = &history.DiskNearlyFullError{}
	}
	return out
}

// What is no fault of a record ends the import, and rejects nothing.
func TestImportEndsWhereNothingCanBeTaken(t *testing.T) {
	vehicle, _, _ := historyOf(0)
	answers, err := importer(full{memory.New()}).Import(t.Context(), shop, vehicle)
	if _, told := errors.AsType[*history.DiskNearlyFullError](err); !told || answers[0].Refused != nil {
		t.Errorf("%+v, %v", answers, err)
	}
}

// Every read of imported history answers over the wire, with its words: visits with what was
// found then, the vehicle with nothing to do, and a visit reassessed as it was judged.
func TestImportedHistoryIsRead(t *testing.T) {
	h := inMemory(t)
	worn := func(p string) *pb.WheelReport {
		depth := &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 1}}
		return &pb.WheelReport{Position: p, Tread: []*pb.TreadReading{{Place: &pb.Place{Across: pb.Across_ACROSS_CENTER}, Depth: depth}}}
	}
	vehicle, seen, _ := historyOf(1)
	car, in := vehicle[0].GetVehicle(), seen[0].GetInspection()
	in.Wheels = []*pb.WheelReport{worn("1L"), worn("1R")}
	answers, err := importer(h.store).Import(t.Context(), shop, append(vehicle, seen...))
	if err != nil || answers[0].Refused != nil || answers[1].Refused != nil {
		t.Fatalf("%v, %v", answers, err)
	}
	inspections, vehicles, feed := pb.NewInspectionServiceClient(h.conn), pb.NewVehicleServiceClient(h.conn), pb.NewCounterServiceClient(h.conn)
	kept, err := inspections.GetInspection(h.bench(), &pb.GetInspectionRequest{ShopId: shop, InspectionId: in.GetId(), Reader: whole})
	if err != nil || len(kept.GetKept().GetAssessment().GetFindings()) == 0 || kept.GetKept().GetRecordedBy() != "import" {
		t.Errorf("kept %v, %v", kept, err)
	}
	for _, f := range kept.GetKept().GetAssessment().GetFindings() {
		if f.GetOpenId() != "" {
			t.Errorf("open: %v", f)
		}
	}
	is, err := vehicles.GetVehicle(h.bench(), &pb.GetVehicleRequest{ShopId: shop, VehicleId: car.GetId(), Reader: whole})
	if err != nil || len(is.GetState().GetOpen()) > 0 || is.GetState().GetHeadline().GetHold() != 0 || !is.GetState().GetLeft() || len(is.GetTires()) != 2 {
		t.Errorf("vehicle %v, %v", is, err)
	}
	for _, order := range []pb.VehicleOrder{pb.VehicleOrder_VEHICLE_ORDER_URGENCY, pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN, pb.VehicleOrder_VEHICLE_ORDER_DUE} {
		page, err := vehicles.ListVehicles(h.counter(), &pb.ListVehiclesRequest{ShopId: shop, By: &pb.ListVehiclesRequest_Order{Order: order}, Reader: whole})
		for _, row := range page.GetRows() {
			if row.GetHeadline().GetHold() != 0 || len(row.GetFindingCodes()) > 0 || row.GetNextDueDate() != nil {
				t.Errorf("listed by %v: %v", order, row)
			}
		}
		if err != nil {
			t.Error(err)
		}
	}
	listed, err := inspections.ListInspections(h.bench(), &pb.ListInspectionsRequest{ShopId: shop, VehicleId: car.GetId(), Reader: whole})
	if err != nil || len(listed.GetInspections()) != 1 {
		t.Errorf("visits %v, %v", listed, err)
	}
	changes, err := feed.PullChanges(h.counter(), &pb.PullChangesRequest{ShopId: shop, Reader: whole})
	if err != nil || len(changes.GetChanges()) != 2 {
		t.Errorf("changes %v, %v", changes, err)
	}
	again, err := inspections.ReassessInspection(h.bench(), &pb.ReassessInspectionRequest{ShopId: shop, InspectionId: in.GetId(), Reader: whole})
	if err != nil || len(again.GetAppeared())+len(again.GetDisappeared())+len(again.GetChanged()) > 0 {
		t.Errorf("reassessed %v, %v", again, err)
	}
}
