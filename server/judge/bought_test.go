package judge_test

import (
	"testing"

	"gaugebook.dev/calc/finding"
	pb "gaugebook.dev/proto/gaugebook/v1"
	"gaugebook.dev/server/judge"
)

// A line that fits a tire can be quoted: how many, and which size, load and speed the label
// asks for at these wheels; no other line buys anything.
func TestLinesThatFitTiresSayWhatToBuy(t *testing.T) {
	worn := func(at string) *pb.WheelReport {
		w := &pb.WheelReport{Position: at}
		for _, across := range []pb.Across{pb.Across_ACROSS_INBOARD, pb.Across_ACROSS_CENTER, pb.Across_ACROSS_OUTBOARD} {
			w.Tread = append(w.Tread, &pb.TreadReading{Place: &pb.Place{Across: across}, Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 1}}})
		}
		return w
	}
	front, rear := "P215/60R16 94T", "P235/55R17 98V"
	for _, row := range []struct {
		name   string
		sizes  []string
		wheels []string
		want   string
	}{
		{"a pair", []string{front, rear}, []string{"2L", "2R"}, rear},
		{"one", []string{front, rear}, []string{"1L"}, front},
		{"both axles alike", []string{front, front}, []string{"1L", "1R", "2L", "2R"}, front},
		{"no label", []string{"", ""}, []string{"1L"}, ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			v := &pb.Vehicle{VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Axles: &pb.Axles{}}
			for _, size := range row.sizes {
				v.Axles.Axles = append(v.Axles.Axles, &pb.Axle{Size: size})
			}
			in := &pb.Inspection{}
			for _, at := range row.wheels {
				in.Wheels = append(in.Wheels, worn(at))
			}
			lines := 0
			for _, w := range judge.Visit(&pb.AssessVisitRequest{Vehicle: v, Inspection: in}).GetWork() {
				kind := finding.WorkOf(finding.Work(w.GetCode()))
				if !kind.Fits || kind.Moves {
					if w.GetQuantity() != 0 || w.GetSize() != "" {
						t.Errorf("%s buys %d of %q", w.GetCode(), w.GetQuantity(), w.GetSize())
					}
					continue
				}
				lines++
				if w.GetId() == "" || int(w.GetQuantity()) != len(w.GetPositions()) || w.GetSize() != row.want {
					t.Errorf("%s at %v: %d of %q, want %q", w.GetCode(), w.GetPositions(), w.GetQuantity(), w.GetSize(), row.want)
				}
			}
			if lines == 0 {
				t.Error("no line fits a tire")
			}
		})
	}
}
