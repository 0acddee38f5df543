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
	for _, name := range erased.Files {
		// It is erased, as nobody is given it any more; a file that stays is swept later.
		_, err := s.photos.Remove(req.GetShopId(), name, func() (bool, error) {
			is, err := s.book.Photo(ctx, req.GetShopId(), name)
			return is.Erased, err
		})
		if err != nil {
			s.log.ErrorContext(ctx, "the copy of a photo that was erased could not be removed yet", "shop", req.GetShopId(), "photo", name, "error", err)
		}
	}
	return &pb.EraseCustomerResponse{Recorded: erased.Recorded, Records: erased.Records, Photos: erased.Photos}, nil
}
