package book_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/uuid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
)

// Of a tire that ran on another vehicle and came back no life is told by what it had before,
// and of its mate it is: our own decision, for nobody knows how far it ran.
func TestOfATireThatWasAwayNoLifeIsTold(t *testing.T) {
	for away, want := range map[bool][]string{false: {"1L", "1R"}, true: {"1R"}} {
		clock := time.Date(2026, 1, 1, 12, 0, 0, 0, time.UTC)
		b := book.New(memory.New(), judge.For(judge.NoneOwn), func() time.Time { return clock })
		here, there, tire := roadCar(t, b), roadCar(t, b), uuid.NewString()
		visit := func(month time.Month, miles, depth float64) *pb.Assessment {
			clock = time.Date(2026, month, 3, 12, 0, 0, 0, time.UTC)
			in, problems := check.NewVisit("inspection", &pb.Inspection{
				Id: uuid.NewString(), VehicleId: here, LocalDate: &pb.CalendarDate{Year: 2026, Month: int32(month), Day: 3},
				Odometer: &pb.Distance{AsRead: &pb.Distance_Miles{Miles: miles}},
				Wheels:   []*pb.WheelReport{readWheel("1L", tire, depth), readWheel("1R", "", depth)},
			})
			if len(problems) > 0 {
				t.Fatal(problems)
			}
			kept, err := b.RecordInspection(t.Context(), "north", book.Sender{}, in)
			if err != nil {
				t.Fatal(err)
			}
			return kept.GetAssessment()
		}
		visit(1, 40_000, 9)
		visit(5, 50_000, 7)
		if away {
			for _, to := range []string{there, here} {
				clock = clock.AddDate(0, 1, 0)
				m := &pb.TireMoves{Id: uuid.NewString(), Moves: []*pb.TireMove{{TireId: tire, To: &pb.TirePlace{
					Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{VehicleId: to, Position: "1L"}},
				}}}}
				if _, err := b.MoveTires(t.Context(), "north", here, m, nil); err != nil {
					t.Fatal(err)
				}
			}
		}
		var lives []string
		for _, f := range visit(9, 60_000, 6).GetFindings() {
			if f.GetCode() == "trend.reaches-limit" {
				lives = append(lives, f.GetPositions()...)
			}
		}
		slices.Sort(lives)
		if lives = slices.Compact(lives); !slices.Equal(lives, want) {
			t.Errorf("away %v: lives at %v, want %v", away, lives, want)
		}
	}
}

// roadCar is an invented car of Texas in the book.
func roadCar(t *testing.T, b *book.Book) (id string) {
	t.Helper()
	label := &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 33}}
	v := &pb.Vehicle{
		Id: uuid.NewString(), VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR,
		Use:   &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "US", State: "TX"}}},
		Axles: &pb.Axles{Axles: []*pb.Axle{{ColdNormalLoad: label}, {ColdNormalLoad: label}}},
	}
	if _, err := b.RecordVehicle(t.Context(), "north", v, nil); err != nil {
		t.Fatal(err)
	}
	return v.GetId()
}

// readWheel is a wheel of even depth at its label.
func readWheel(at, tire string, depth float64) *pb.WheelReport {
	w := &pb.WheelReport{Position: at, TireId: tire, Pressures: []*pb.PressureReading{{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 33}}}}}
	for _, across := range []pb.Across{pb.Across_ACROSS_INBOARD, pb.Across_ACROSS_CENTER, pb.Across_ACROSS_OUTBOARD} {
		w.Tread = append(w.Tread, &pb.TreadReading{Place: &pb.Place{Across: across}, Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: depth}}})
	}
	return w
}
