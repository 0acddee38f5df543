package translate

import (
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
)

const (
	tireID  = "00000001-0000-4000-8000-0000000000a1"
	otherID = "00000001-0000-4000-8000-0000000000a2"
	visitID = "00000001-0000-4000-8000-0000000000b1"
)

func odometerAt(miles float64) *pb.Distance {
	return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: miles}}
}

// visitAt is a visit that read 7/32 in at one place.
func visitAt(miles float64, position, tire string) *pb.Inspection {
	return &pb.Inspection{Odometer: odometerAt(miles), Wheels: []*pb.WheelReport{{
		Position: position, TireId: tire,
		Tread: []*pb.TreadReading{{Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 7}}}},
	}}}
}

// toldMoved is a visit at which somebody said that tires had changed places.
func toldMoved(v *pb.Inspection) *pb.Inspection {
	v.Conditions = &pb.Conditions{TiresMoved: pb.Answer_ANSWER_YES}
	return v
}

func mounted(position string) *pb.TireMove {
	return &pb.TireMove{TireId: tireID, To: &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{Position: position}}}}
}

func stored() *pb.TireMove {
	return &pb.TireMove{TireId: tireID, To: &pb.TirePlace{Where: &pb.TirePlace_Stored{Stored: &pb.StoredPlace{}}}}
}

func moved(miles float64, moves ...*pb.TireMove) *pb.TireMoves {
	return &pb.TireMoves{Odometer: odometerAt(miles), Moves: moves}
}

// TestBefore: which earlier readings are of the tire that is on the right rear
// today, at 50,000 miles, and how far it ran since.
func TestBefore(t *testing.T) {
	for _, c := range []struct {
		name   string
		req    *pb.AssessVisitRequest
		ago    []float64 // mi, the latest first
		turned bool
		stayed bool
	}{
		{"no tire is named: the same place", &pb.AssessVisitRequest{
			Inspection: visitAt(50_000, "2R", ""), Earlier: []*pb.Inspection{visitAt(40_000, "2R", ""), visitAt(45_000, "2R", ""), visitAt(42_000, "2L", "")},
		}, []float64{5000, 10_000}, false, true},
		{"somebody moved tires between the last two", &pb.AssessVisitRequest{
			Inspection: visitAt(50_000, "2R", tireID), Earlier: []*pb.Inspection{visitAt(40_000, "2R", tireID), toldMoved(visitAt(45_000, "2R", tireID))},
		}, []float64{5000}, false, true},
		{"somebody moved tires since", &pb.AssessVisitRequest{
			Inspection: toldMoved(visitAt(50_000, "2R", tireID)), Earlier: []*pb.Inspection{visitAt(40_000, "2R", tireID)},
		}, nil, false, false},
		{"and the moves are on record", &pb.AssessVisitRequest{
			Inspection: toldMoved(visitAt(50_000, "2R", tireID)), Earlier: []*pb.Inspection{visitAt(40_000, "1L", tireID)},
			Moves: []*pb.TireMoves{moved(42_000, mounted("2R"))},
		}, []float64{10_000}, false, false},
		{"named elsewhere", &pb.AssessVisitRequest{
			Inspection: visitAt(50_000, "2R", tireID), Earlier: []*pb.Inspection{visitAt(40_000, "1L", tireID)},
		}, []float64{10_000}, false, false},
		{"another one named there", &pb.AssessVisitRequest{
			Inspection: visitAt(50_000, "2R", tireID), Earlier: []*pb.Inspection{visitAt(40_000, "2R", otherID)},
		}, nil, false, false},
		{"moved from the front; what was found when it was moved is of the front", &pb.AssessVisitRequest{
			Inspection: visitAt(50_000, "2R", tireID), Moves: []*pb.TireMoves{moved(30_000, mounted("1L")), moved(45_000, mounted("2R"))},
			Earlier: []*pb.Inspection{visitAt(45_000, "1L", ""), visitAt(47_000, "2R", ""), visitAt(46_000, "1L", "")},
		}, []float64{3000, 5000}, false, true},
		{"a winter on the shelf does not count", &pb.AssessVisitRequest{
			Inspection: visitAt(50_000, "2R", tireID), Moves: []*pb.TireMoves{moved(42_000, stored()), moved(48_000, mounted("2R"))},
			Earlier: []*pb.Inspection{visitAt(40_000, "2R", tireID)},
		}, []float64{4000}, false, false},
		{"from an outer dual to a steer axle it is turned", &pb.AssessVisitRequest{
			Inspection: visitAt(50_000, "1R", tireID), Moves: []*pb.TireMoves{moved(30_000, mounted("2RO")), moved(45_000, mounted("1R"))},
			Earlier: []*pb.Inspection{visitAt(40_000, "2RO", tireID)},
		}, []float64{10_000}, true, false},
		{"a rotation written down as work only", &pb.AssessVisitRequest{
			Inspection: visitAt(50_000, "2R", ""), Earlier: []*pb.Inspection{visitAt(40_000, "2R", ""), visitAt(47_000, "2R", "")},
			WorkDone: []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_ROTATED, Odometer: odometerAt(45_000)}},
		}, []float64{3000}, false, true},
		{"a rotation at a visit comes after what it found", &pb.AssessVisitRequest{
			Inspection: visitAt(50_000, "2R", ""), Earlier: []*pb.Inspection{visitAt(45_000, "2R", "")},
			WorkDone: []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_ROTATED, Odometer: odometerAt(45_000)}},
		}, nil, false, false},
		{"found before it was fitted", &pb.AssessVisitRequest{
			Inspection: visitAt(50_000, "2R", tireID), Tires: []*pb.Tire{{Id: tireID, FittedOdometer: odometerAt(45_000)}},
			Earlier: []*pb.Inspection{visitAt(45_000, "2R", ""), visitAt(46_000, "2R", "")},
		}, []float64{4000}, false, true},
		{"an odometer that fell, and none", &pb.AssessVisitRequest{
			Inspection: visitAt(50_000, "2R", ""), Earlier: []*pb.Inspection{visitAt(60_000, "2R", ""), {Wheels: visitAt(0, "2R", "").GetWheels()}},
		}, nil, false, false},
		{"a visit that was replaced", func() *pb.AssessVisitRequest {
			wrong, right := visitAt(40_000, "2R", ""), visitAt(41_000, "2R", "")
			wrong.Id, right.Corrects = visitID, &pb.Correction{InspectionId: visitID}
			return &pb.AssessVisitRequest{Inspection: visitAt(50_000, "2R", ""), Earlier: []*pb.Inspection{wrong, right}}
		}(), []float64{9000}, false, true},
		{"other dates on the sidewalls", func() *pb.AssessVisitRequest {
			now, then := visitAt(50_000, "2R", ""), visitAt(40_000, "2R", "")
			now.Wheels[0].Sidewall, then.Wheels[0].Sidewall = &pb.Sidewall{Identification: "2324"}, &pb.Sidewall{Identification: "1120"}
			return &pb.AssessVisitRequest{Inspection: now, Earlier: []*pb.Inspection{then}}
		}(), nil, false, false},
	} {
		var got []verdict.Before
		for _, w := range Visit(c.req).Wheels {
			got = w.Before
		}
		if len(got) != len(c.ago) {
			t.Errorf("%s: %d readings, want %d: %+v", c.name, len(got), len(c.ago), got)
			continue
		}
		for i, b := range got {
			if ago := b.Ago.In(unit.Miles); ago < c.ago[i]-0.01 || ago > c.ago[i]+0.01 || len(b.Depths) != 1 {
				t.Errorf("%s: reading %d is %.0f mi ago with %d depths, want %.0f", c.name, i, ago, len(b.Depths), c.ago[i])
			}
		}
		if len(got) > 0 && (got[0].Turned != c.turned || got[0].Stayed != c.stayed) {
			t.Errorf("%s: turned %v, stayed %v", c.name, got[0].Turned, got[0].Stayed)
		}
	}
}
