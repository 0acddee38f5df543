package translate

import (
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/fastener"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
	"gaugebook.dev/calc/wear"
)

const tireID = "00000001-0000-4000-8000-0000000000a1"

// visitAt is a visit that read one wheel, at so many thirty-seconds.
func visitAt(odometer float64, position string, depth float64) *pb.Inspection {
	return &pb.Inspection{Odometer: miles(odometer), Wheels: []*pb.WheelReport{{
		Position: position, TireId: tireID,
		Tread: []*pb.TreadReading{{Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: depth}}}},
	}}}
}

// TestPast follows one tire from the record as sent to what is judged: what each earlier
// visit read stays with that visit.
func TestPast(t *testing.T) {
	mounted := func(odometer float64, position string) *pb.TireMoves {
		return &pb.TireMoves{Odometer: miles(odometer), Moves: []*pb.TireMove{{
			TireId: tireID, To: &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{Position: position}}}}}}
	}
	req := &pb.AssessVisitRequest{
		Inspection: visitAt(50_000, "1R", 5), Moves: []*pb.TireMoves{mounted(45_000, "1R"), mounted(30_000, "2RO")},
		Earlier: []*pb.Inspection{visitAt(40_000, "2RO", 7), visitAt(47_000, "1R", 6)},
		Tires:   []*pb.Tire{{Id: tireID, FittedOdometer: miles(20_000), FittedDate: &pb.CalendarDate{Year: 2024, Month: 5, Day: 6}}},
		WorkDone: []*pb.WorkDone{
			{Kind: pb.WorkKind_WORK_KIND_ALIGNMENT_MEASURED, Odometer: miles(10_000), InRange: pb.Answer_ANSWER_NO, Positions: []string{"1L"}},
			{Kind: pb.WorkKind_WORK_KIND_BALANCED},
		},
	}
	check := &pb.TorqueRecheck{DoneBy: "invented"}
	req.Earlier[0].Wheels = append(req.Earlier[0].Wheels, &pb.WheelReport{Position: "1R", FastenerWork: &pb.FastenerWork{}})
	req.Earlier[1].Wheels[0].TorqueRecheck = check
	req.Inspection.Wheels[0].Sidewall = &pb.Sidewall{Identification: "1ABCDEF2324"}
	v := Visit(req)
	w := v.Wheels[0]

	h := w.History
	if *h.Here != unit.MustDistance(5000, unit.Miles) || *h.OnTire != unit.MustDistance(30_000, unit.Miles) || h.Former != layout.MustParse("2RO") || !h.Turned ||
		h.Made != "2324" || h.Fitted != (unit.Date{Year: 2024, Month: 5, Day: 6}) {
		t.Errorf("history %+v", h)
	}
	depth := func(b visit.Before) unit.Depth { return b.Depths[0].Depth }
	if len(w.Before) != 2 || depth(w.Before[0]) != unit.MustDepth(6, unit.ThirtySecondsInch) || depth(w.Before[1]) != unit.MustDepth(7, unit.ThirtySecondsInch) ||
		w.Before[0].Turned || !w.Before[1].Turned {
		t.Errorf("before %+v", w.Before)
	}
	if want := (fastener.Recheck{Odo: true, Named: true, After: new(unit.MustDistance(47_000, unit.Miles) - unit.MustDistance(40_000, unit.Miles))}); w.OffBefore == nil ||
		len(w.TorqueChecks) != 1 || *w.TorqueChecks[0].After != *want.After || w.TorqueChecks[0].Named != want.Named || w.TorqueChecks[0].Today {
		t.Errorf("off %+v, checks %+v", w.OffBefore, w.TorqueChecks)
	}
	if len(v.Work) != 1 || v.Work[0].Kind != wear.AlignmentMeasured || *v.Work[0].Ago != unit.MustDistance(40_000, unit.Miles) || v.Work[0].At[0] != layout.MustParse("1L") {
		t.Errorf("work %+v", v.Work)
	}
	if before := v.Rotating.Before; len(before) != 2 || before[0].Wheels[0].Readings[0].Depth != unit.MustDepth(6, unit.ThirtySecondsInch) {
		t.Errorf("depths, the latest first: %+v", before)
	}
}
