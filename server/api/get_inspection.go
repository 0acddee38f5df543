package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// GetInspection gives a visit as kept.
func (s *Server) GetInspection(ctx context.Context, req *pb.GetInspectionRequest) (*pb.GetInspectionResponse, error) {
	if problems := checkID("inspection_id", req.GetInspectionId()); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	kept, err := s.book.GetInspection(ctx, req.GetShopId(), req.GetInspectionId())
	if err != nil {
		return nil, err
	}
	return &pb.GetInspectionResponse{Kept: kept}, nil
}
