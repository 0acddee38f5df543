package api

import (
	"context"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
)

// AssessTread judges one tire by its depths and what was seen of it.
func (s *Server) AssessTread(_ context.Context, req *pb.AssessTreadRequest) (*pb.AssessTreadResponse, error) {
	visit := treadVisit(req)
	problems := checkTire(visit, map[string]string{
		"inspection.wheels[0]": "wheel", "inspection.gauges[0]": "gauge", "tires[0].newDepths[0].depth": "depthWhenNew",
		"vehicle": "",
	})
	if req.GetWheel() == nil {
		problems = append(problems, check.Problem{Path: "wheel", Problem: "missing", Want: "depths or observations of a tire"})
	}
	if len(problems) > 0 {
		return nil, &invalid{problems}
	}
	a := judge.Tire(visit, judge.Places(req.GetWheel().GetPosition(), req.GetVehicleClass(), req.GetSteerAxle())...)
	leaveOut(a, ofPressure)
	wheel := first(a.GetWheels())
	return &pb.AssessTreadResponse{Assessment: a, GoverningDepth: wheel.GetGoverningDepth(), UsableTread: wheel.GetUsableTread()}, nil
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
			Wheels: []*pb.WheelReport{wheel}, Conditions: &pb.Conditions{SnowSlushOrIce: req.GetSnowSlushOrIce()},
		},
		RulebookIds: req.GetRulebookIds(), AsOf: req.GetAsOf(), Language: req.GetLanguage(), Units: req.GetUnits(),
	}
	if req.GetGauge() != nil {
		visit.Inspection.Gauges = []*pb.Gauge{req.GetGauge()}
	}
	if req.GetDepthWhenNew() != nil {
		visit.Tires = []*pb.Tire{{NewDepths: []*pb.GrooveDepth{{Depth: req.GetDepthWhenNew()}}}}
	}
	return visit
}
