package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/translate"
)

// PlanRotation compares rotations, leaving the tires where they are among them.
func (s *Server) PlanRotation(_ context.Context, req *pb.PlanRotationRequest) (*pb.PlanRotationResponse, error) {
	if problems := check.PlanRotation(req, translate.LatestVisit(req.GetVisits())); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	return judge.Rotation(req), nil
}
