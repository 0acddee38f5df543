package api

import (
	"context"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// AssessTread judges one tire by its depths and what was seen of it.
func (s *Server) AssessTread(_ context.Context, req *pb.AssessTreadRequest) (*pb.AssessTreadResponse, error) {
	visit := treadVisit(req)
	problems := checkTire(visit, treadNames)
	if req.GetWheel() == nil {
		problems = append(problems, check.Problem{Path: "wheel", Problem: "missing", Want: "depths or observations of a tire"})
	}
	if len(problems) > 0 {
		return nil, &invalid{problems}
	}
	a := judge.TireOf(visit, judge.Places(req.GetWheel().GetPosition(), req.GetVehicleClass(), req.GetSteerAxle())...).Assessment()
	leaveOut(a, ofPressure)
	named(a, req)
	wheel := first(a.GetWheels())
	t := tell.For(req.GetReader(), tell.Shop{})
	t.Assessment(a, translate.FrontRear(visit.GetVehicle()))
	return &pb.AssessTreadResponse{Assessment: a, GoverningDepth: wheel.GetGoverningDepth(), UsableTread: wheel.GetUsableTread(), Told: t.Told()}, nil
}

// treadNames are what AssessTread calls the places of its visit.
var treadNames = map[string]string{
	"inspection.wheels[0]": "wheel", "inspection.gauges": "gauges", "tires[0].newDepths.grooves[0].depth": "depthWhenNew",
	"vehicle": "",
}

// treadVisit is the tire as the only one of a visit.
func treadVisit(req *pb.AssessTreadRequest) *pb.AssessVisitRequest {
	wheel := &pb.WheelReport{}
	if req.GetWheel() != nil {
		wheel = proto.CloneOf(req.GetWheel())
	}
	visit := &pb.AssessVisitRequest{
		Vehicle: &pb.Vehicle{VehicleClass: req.GetVehicleClass(), Use: req.GetUse(), GrossRating: req.GetGrossRating()},
		Inspection: &pb.Inspection{
			Wheels: []*pb.WheelReport{wheel}, Conditions: &pb.Conditions{SnowSlushOrIce: req.GetSnowSlushOrIce()}, Gauges: req.GetGauges(),
		},
		JudgeBy: req.GetJudgeBy(),
	}
	if req.GetDepthWhenNew() != nil {
		visit.Tires = []*pb.Tire{{NewDepths: &pb.NewDepths{Grooves: []*pb.GrooveDepth{{Depth: req.GetDepthWhenNew()}}}}}
	}
	return visit
}
