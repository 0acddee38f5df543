package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// UpdateShop changes the shop's settings.
func (s *Server) UpdateShop(ctx context.Context, req *pb.UpdateShopRequest) (*pb.UpdateShopResponse, error) {
	problems := check.Shop("shop", req.GetShop())
	if problems = append(problems, check.Clear("clear", req.GetClear(), req.GetShop())...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	recorded, err := s.book.UpdateShop(ctx, req.GetShopId(), req.GetShop(), req.GetClear())
	if err != nil {
		return nil, err
	}
	return &pb.UpdateShopResponse{Recorded: recorded}, nil
}
