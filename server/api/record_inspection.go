package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/access"
	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
)

// RecordInspection keeps a visit and judges it.
func (s *Server) RecordInspection(ctx context.Context, req *pb.RecordInspectionRequest) (*pb.RecordInspectionResponse, error) {
	teller, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	kept, err := s.recordInspection(ctx, req)
	if err != nil {
		return nil, err
	}
	teller.Assessment(kept.GetAssessment(), kept.FrontRear)
	return &pb.RecordInspectionResponse{Recorded: kept.GetRecorded(), Assessment: kept.GetAssessment(), Told: teller.Told()}, nil
}

func (s *Server) recordInspection(ctx context.Context, req *pb.RecordInspectionRequest) (book.Kept, error) {
	visit, problems := check.NewVisit("inspection", req.GetInspection())
	if len(problems) > 0 {
		return book.Kept{}, &invalid{problems}
	}
	return s.book.RecordInspection(ctx, req.GetShopId(), book.Sender{Name: access.CallerOf(ctx).Name, Sent: req.GetSentTime()}, visit)
}
