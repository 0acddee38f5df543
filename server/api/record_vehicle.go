package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// RecordVehicle keeps a new vehicle or changes one.
func (s *Server) RecordVehicle(ctx context.Context, req *pb.RecordVehicleRequest) (*pb.RecordVehicleResponse, error) {
	problems := required("vehicle.id", req.GetVehicle().GetId())
	problems = append(problems, check.Vehicle("vehicle", req.GetVehicle())...)
	if problems = append(problems, check.Clear("clear", req.GetClear(), req.GetVehicle())...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	recorded, err := s.book.RecordVehicle(ctx, req.GetShopId(), req.GetVehicle(), req.GetClear())
	if err != nil {
		return nil, err
	}
	same, err := s.book.MaybeSame(ctx, req.GetShopId(), req.GetVehicle().GetId())
	if err != nil {
		return nil, err
	}
	return &pb.RecordVehicleResponse{Recorded: recorded, MaybeSameVehicleIds: same}, nil
}
