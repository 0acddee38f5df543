package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// ListVehicles lists the shop's vehicles by one index.
func (s *Server) ListVehicles(ctx context.Context, req *pb.ListVehiclesRequest) (*pb.ListVehiclesResponse, error) {
	if problems := checkPageSize(req.GetPageSize()); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	order := req.GetOrder()
	if !listed[order] || req.GetText() != "" || req.GetFindingCode() != "" || req.GetSize() != "" {
		return nil, notServed()
	}
	return s.book.ListVehicles(ctx, req.GetShopId(), order, pageSize(req.GetPageSize()), req.GetPageToken())
}

// listed are the orders that have an index. The others, and the choice by text,
// finding or size, stand in the contract and are not served yet.
var listed = map[pb.HereNowOrder]bool{
	pb.HereNowOrder_HERE_NOW_ORDER_UNSPECIFIED: true, pb.HereNowOrder_HERE_NOW_ORDER_LAST_SEEN: true, pb.HereNowOrder_HERE_NOW_ORDER_URGENCY: true,
}
