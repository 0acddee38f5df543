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
	teller, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	kept, err := s.book.GetInspection(ctx, req.GetShopId(), req.GetInspectionId())
	if err != nil {
		return nil, err
	}
	teller.Assessment(kept.GetAssessment(), kept.FrontRear)
	return &pb.GetInspectionResponse{Kept: kept.KeptInspection, Told: teller.Told()}, nil
}
