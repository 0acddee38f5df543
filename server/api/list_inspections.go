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
	return s.book.ListInspections(ctx, req.GetShopId(), req.GetVehicleId(), pageSize(req.GetPageSize()), req.GetPageToken())
}
