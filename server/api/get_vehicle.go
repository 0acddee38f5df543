package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// GetVehicle gives a vehicle, its tires and what is open on it.
func (s *Server) GetVehicle(ctx context.Context, req *pb.GetVehicleRequest) (*pb.GetVehicleResponse, error) {
	if problems := checkID("vehicle_id", req.GetVehicleId()); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	teller, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	out, frontRear, err := s.book.GetVehicle(ctx, req.GetShopId(), req.GetVehicleId())
	if err != nil {
		return nil, err
	}
	teller.State(out.GetState(), frontRear)
	out.Told = teller.Told()
	return out, nil
}
