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
