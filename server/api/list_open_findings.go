package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// ListOpenFindings lists what is open in the shop or on one vehicle.
func (s *Server) ListOpenFindings(ctx context.Context, req *pb.ListOpenFindingsRequest) (*pb.ListOpenFindingsResponse, error) {
	problems := checkPageSize(req.GetPageSize())
	if req.GetVehicleId() != "" {
		problems = append(problems, checkID("vehicle_id", req.GetVehicleId())...)
	}
	if req.GetDueBeforeDate() != nil {
		problems = append(problems, check.Day("dueBeforeDate", req.GetDueBeforeDate())...)
	}
	if len(problems) > 0 {
		return nil, &invalid{problems}
	}
	teller, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	page, err := s.book.ListOpenFindings(ctx, req.GetShopId(), req.GetVehicleId(), req.GetDueBeforeDate(), pageSize(req.GetPageSize()), req.GetPageToken())
	if err != nil {
		return nil, err
	}
	out := &pb.ListOpenFindingsResponse{Findings: page.Rows, NextPageToken: page.Next, Told: teller.Told()}
	if req.GetReader().GetView() != pb.View_VIEW_GLANCE {
		out.Cautions = teller.Cautions(page.Rows...)
	}
	for i, f := range page.Rows {
		teller.Open(f, page.FrontRear[i])
	}
	return out, nil
}
