package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// EraseCustomer erases what identifies the customer of a vehicle.
func (s *Server) EraseCustomer(ctx context.Context, req *pb.EraseCustomerRequest) (*pb.EraseCustomerResponse, error) {
	problems := append(checkID("id", req.GetId()), checkID("vehicle_id", req.GetVehicleId())...)
	if problems = append(problems, check.Erasure(req)...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	erased, err := s.book.EraseCustomer(ctx, req.GetShopId(), req)
	if err != nil {
		return nil, err
	}
	return &pb.EraseCustomerResponse{Recorded: erased.Recorded, Records: erased.Records}, nil
}
