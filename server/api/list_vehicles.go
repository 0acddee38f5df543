package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// ListVehicles lists the shop's vehicles by one index.
func (s *Server) ListVehicles(ctx context.Context, req *pb.ListVehiclesRequest) (*pb.ListVehiclesResponse, error) {
	if problems := page(req.GetPageSize()); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	return s.book.ListVehicles(ctx, req.GetShopId(), req.GetOrder(), pageSize(req.GetPageSize()), req.GetPageToken())
}
