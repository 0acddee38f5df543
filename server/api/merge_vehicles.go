package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// MergeVehicles keeps that two vehicles are one.
func (s *Server) MergeVehicles(ctx context.Context, req *pb.MergeVehiclesRequest) (*pb.MergeVehiclesResponse, error) {
	problems := append(checkID("id", req.GetId()), checkID("keep_vehicle_id", req.GetKeepVehicleId())...)
	problems = append(problems, checkID("same_vehicle_id", req.GetSameVehicleId())...)
	if req.GetKeepVehicleId() != "" && req.GetKeepVehicleId() == req.GetSameVehicleId() {
		problems = append(problems, check.Problem{Path: "sameVehicleId", Problem: "the vehicle to keep", Want: "another vehicle that is the same"})
	}
	if problems = append(problems, check.Merge(req)...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	recorded, err := s.book.MergeVehicles(ctx, req.GetShopId(), req)
	if err != nil {
		return nil, err
	}
	return &pb.MergeVehiclesResponse{Recorded: recorded}, nil
}
