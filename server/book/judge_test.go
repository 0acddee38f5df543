package book_test

import (
	"slices"
	"testing"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
)

// A car whose four tires are worn at both edges, found low today: that it was low
// at two visits before makes the likeliest cause long running low (common
// practice). The readings of the visits reach the judgement by way of the book.
func TestAVehicleFoundLowTwiceIsJudgedByIt(t *testing.T) {
	const vehicle = "0f0a1c52-6f1e-4a57-9d0c-3a5a7e1b0001"
	psi := func(n float64) *pb.Pressure { return &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: n}} }
	miles := func(n float64) *pb.Distance { return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}} }
	visit := func(id string, month int32, odometer, pressure float64, depths ...float64) *pb.Inspection {
		in := &pb.Inspection{
			Id: id, VehicleId: vehicle, LocalDate: &pb.CalendarDate{Year: 2026, Month: month, Day: 2}, Odometer: miles(odometer),
			Conditions: &pb.Conditions{Driven: &pb.DrivenBefore{DrivenHere: pb.Answer_ANSWER_NO}},
		}
		for _, p := range []string{"1L", "1R", "2L", "2R"} {
			w := &pb.WheelReport{Position: p, Pressures: []*pb.PressureReading{{Pressure: psi(pressure)}}}
			for i, d := range depths {
				w.Tread = append(w.Tread, &pb.TreadReading{
					Place: &pb.Place{Across: pb.Across(i + 1)}, Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: d}},
				})
			}
			in.Wheels = append(in.Wheels, w)
		}
		return in
	}
	earlier := []*pb.Inspection{
		visit("0f0a1c52-6f1e-4a57-9d0c-3a5a7e1b0002", 1, 20_000, 26),
		visit("0f0a1c52-6f1e-4a57-9d0c-3a5a7e1b0003", 6, 24_000, 27),
	}
	today := visit("0f0a1c52-6f1e-4a57-9d0c-3a5a7e1b0004", 12, 28_000, 28, 4, 7, 4)

	for _, row := range []struct {
		name    string
		visits  []*pb.Inspection
		history bool
	}{
		{"low today only", []*pb.Inspection{today}, false},
		{"low at two visits before", append(slices.Clone(earlier), today), true},
	} {
		t.Run(row.name, func(t *testing.T) {
			b := book.New(memory.New(), judge.For(judge.NoneOwn), time.Now)
			axle := &pb.Axle{ColdNormalLoad: psi(33)}
			v := &pb.Vehicle{Id: vehicle, VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Drive: pb.Drive_DRIVE_FRONT, Axles: &pb.Axles{Axles: []*pb.Axle{axle, axle}}}
			if _, err := b.RecordVehicle(t.Context(), "north", v, nil); err != nil {
				t.Fatal(err)
			}
			var kept book.Kept
			for _, in := range row.visits {
				var err error
				if kept, err = b.RecordInspection(t.Context(), "north", book.Sender{}, checked(t, in)); err != nil {
					t.Fatal(err)
				}
			}
			first, byHistory := false, false
			for _, f := range kept.GetAssessment().GetFindings() {
				if f.GetCode() != "wear.underinflated-long" {
					continue
				}
				first = first || f.GetCauseRank() == 1
				for _, e := range f.GetEvidence() {
					byHistory = byHistory || !e.GetAgainst() && e.GetCode() == "wear.found-low-more-than-once"
				}
			}
			if byHistory != row.history || row.history && !first {
				t.Errorf("first among the causes: %v, by what was found before: %v: %v", first, byHistory, kept.GetAssessment().GetFindings())
			}
		})
	}
}

// checked is a visit as a call hands it to the book.
func checked(t *testing.T, in *pb.Inspection) check.Visit {
	t.Helper()
	v, problems := check.NewVisit("inspection", in)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return v
}
