package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// CheckFitment compares tires with the vehicle and with each other.
func (s *Server) CheckFitment(_ context.Context, req *pb.CheckFitmentRequest) (*pb.CheckFitmentResponse, error) {
	visit := fitmentVisit(req)
	problems := check.AssessVisit(visit)
	for i := range problems {
		rename(&problems[i], map[string]string{
			"inspection.wheels": "wheels", "inspection.axleWeights": "axleWeights", "inspection.gauges": "gauges", "inspection": "",
		})
	}
	if req.GetVehicle() == nil {
		problems = append(problems, check.Problem{Path: "vehicle", Problem: "missing", Want: "the vehicle that the tires are compared with"})
	}
	if len(problems) > 0 {
		return nil, &invalid{problems}
	}
	out := judge.Fitment(visit)
	leaveOut(out.GetAssessment(), func(a finding.About) bool {
		return ofPressure(a) || a == finding.AboutDepth || a == finding.AboutShape
	})
	out.Assessment.NotLookedAt = nil // nobody was asked to look
	named(out.GetAssessment(), req)
	t := tell.For(req.GetReader(), tell.Shop{})
	t.Assessment(out.GetAssessment(), translate.FrontRear(req.GetVehicle()))
	out.Told = t.Told()
	return out, nil
}

// fitmentVisit is the vehicle with its wheels as a visit.
func fitmentVisit(req *pb.CheckFitmentRequest) *pb.AssessVisitRequest {
	return &pb.AssessVisitRequest{
		Vehicle: req.GetVehicle(),
		Inspection: &pb.Inspection{
			Wheels: req.GetWheels(), AxleWeights: req.GetAxleWeights(), Gauges: req.GetGauges(),
			Conditions: &pb.Conditions{SnowSlushOrIce: req.GetSnowSlushOrIce(), TireSpeedShown: req.GetTireSpeedShown()},
		},
		JudgeBy: req.GetJudgeBy(),
	}
}
