package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// ListInspections lists a vehicle's visits, the newest first.
func (s *Server) ListInspections(ctx context.Context, req *pb.ListInspectionsRequest) (*pb.ListInspectionsResponse, error) {
	problems := checkID("vehicle_id", req.GetVehicleId())
	if problems = append(problems, checkPageSize(req.GetPageSize())...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	teller, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	list, err := s.book.ListInspections(ctx, req.GetShopId(), req.GetVehicleId(), pageSize(req.GetPageSize()), req.GetPageToken())
	if err != nil {
		return nil, err
	}
	for i, row := range list.Rows {
		teller.Headline(row.GetHeadline(), list.FrontRear[i])
	}
	return &pb.ListInspectionsResponse{Inspections: list.Rows, NextPageToken: list.Next, Told: teller.Told()}, nil
}
