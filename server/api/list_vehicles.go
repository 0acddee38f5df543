package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// ListVehicles lists the shop's vehicles by one index.
func (s *Server) ListVehicles(ctx context.Context, req *pb.ListVehiclesRequest) (*pb.ListVehiclesResponse, error) {
	problems := check.ListVehicles(req)
	if problems = append(problems, checkPageSize(req.GetPageSize())...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	order := req.GetOrder()
	if !listed[order] {
		return nil, notServed()
	}
	teller, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	list, resume, err := s.book.ListVehicles(ctx, req.GetShopId(), order, pageSize(req.GetPageSize()), req.GetPageToken())
	if err != nil {
		return nil, err
	}
	for i, row := range list.Rows {
		teller.Headline(row.GetHeadline(), list.FrontRear[i])
	}
	return &pb.ListVehiclesResponse{Rows: list.Rows, NextPageToken: list.Next, ResumeToken: resume, Told: teller.Told()}, nil
}

// listed are the orders that have an index. The other, and the choice by text,
// finding or size, stand in the contract and are not served yet.
var listed = map[pb.VehicleOrder]bool{pb.VehicleOrder_VEHICLE_ORDER_LAST_SEEN: true, pb.VehicleOrder_VEHICLE_ORDER_URGENCY: true}
