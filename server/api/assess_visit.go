package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
)

// AssessVisit judges a whole visit and keeps nothing.
func (s *Server) AssessVisit(_ context.Context, req *pb.AssessVisitRequest) (*pb.AssessVisitResponse, error) {
	if problems := check.AssessVisit(req); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	return &pb.AssessVisitResponse{Assessment: judge.Visit(req)}, nil
}
