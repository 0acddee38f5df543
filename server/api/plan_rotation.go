package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// PlanRotation compares rotations, leaving the tires where they are among them.
func (s *Server) PlanRotation(_ context.Context, req *pb.PlanRotationRequest) (*pb.PlanRotationResponse, error) {
	if problems := check.PlanRotation(req, translate.LatestVisit(req.GetVisits())); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	out, t := judge.Rotation(req), tell.For(req.GetReader(), tell.Shop{})
	t.Rotation(out, translate.FrontRear(req.GetVehicle()))
	out.Told = t.Told()
	return out, nil
}
