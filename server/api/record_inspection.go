package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/access"
	"gaugebook.dev/server/check"
)

// RecordInspection keeps a visit and judges it.
func (s *Server) RecordInspection(ctx context.Context, req *pb.RecordInspectionRequest) (*pb.RecordInspectionResponse, error) {
	visit, problems := check.NewVisit("inspection", req.GetInspection())
	if len(problems) > 0 {
		return nil, &invalid{problems}
	}
	kept, repeated, err := s.book.RecordInspection(ctx, req.GetShopId(), access.CallerOf(ctx).Name, req.GetLanguage(), visit)
	if err != nil {
		return nil, err
	}
	return &pb.RecordInspectionResponse{Kept: kept, RepeatedCall: repeated}, nil
}
