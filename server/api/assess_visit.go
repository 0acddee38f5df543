package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// AssessVisit judges a whole visit and keeps nothing.
func (s *Server) AssessVisit(_ context.Context, req *pb.AssessVisitRequest) (*pb.AssessVisitResponse, error) {
	if problems := check.AssessVisit(req); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	a, t := judge.Visit(req), tell.For(req.GetReader(), tell.Shop{})
	t.Assessment(a, translate.FrontRear(req.GetVehicle()))
	return &pb.AssessVisitResponse{Assessment: a, Told: t.Told()}, nil
}
