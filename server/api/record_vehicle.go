package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// RecordVehicle keeps a new vehicle or changes one.
func (s *Server) RecordVehicle(ctx context.Context, req *pb.RecordVehicleRequest) (*pb.RecordVehicleResponse, error) {
	problems := required("vehicle.id", req.GetVehicle().GetId())
	if problems = append(problems, check.Vehicle("vehicle", req.GetVehicle())...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	kept, repeated, err := s.book.RecordVehicle(ctx, req.GetShopId(), req.GetVehicle())
	if err != nil {
		return nil, err
	}
	return &pb.RecordVehicleResponse{Vehicle: kept, RepeatedCall: repeated}, nil
}
