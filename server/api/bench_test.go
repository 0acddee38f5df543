package api

import (
	"context"
	"log/slog"
	"os"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// BenchmarkAnswers is a call from request to answer without any transport: checked,
// judged and told. Beside the demo's sedan with its nail stands one of its wheels.
func BenchmarkAnswers(b *testing.B) {
	data, err := os.ReadFile("../../testdata/demo/sedan-nail.json")
	if err != nil {
		b.Fatal(err)
	}
	visit := &pb.AssessVisitRequest{}
	if err := protojson.Unmarshal(data, visit); err != nil {
		b.Fatal(err)
	}
	wheel := visit.GetInspection().GetWheels()[0]
	if len(wheel.GetPressures()) == 0 {
		b.Fatal("the first wheel has no pressure")
	}
	s := New(nil, nil, About{}, slog.New(slog.DiscardHandler))
	b.Run("AssessVisit of the sedan", func(b *testing.B) { answering(b, s.AssessVisit, visit) })
	b.Run("CalculatePressure of one wheel", func(b *testing.B) {
		answering(b, s.CalculatePressure, &pb.CalculatePressureRequest{
			Measured: wheel.GetPressures()[0].GetPressure(), Conditions: visit.GetInspection().GetConditions(),
			LabelCold: visit.GetVehicle().GetAxles().GetAxles()[0].GetColdNormalLoad(), Sidewall: wheel.GetSidewall(),
			VehicleClass: visit.GetVehicle().GetVehicleClass(),
		})
	})
}

func answering[Q, A proto.Message](b *testing.B, answer func(context.Context, Q) (A, error), req Q) {
	b.Helper()
	b.ReportAllocs()
	for b.Loop() {
		if _, err := answer(b.Context(), req); err != nil {
			b.Fatal(err)
		}
	}
}
