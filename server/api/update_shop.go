package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// UpdateShop changes the shop's settings.
func (s *Server) UpdateShop(ctx context.Context, req *pb.UpdateShopRequest) (*pb.UpdateShopResponse, error) {
	if problems := check.Shop("shop", req.GetShop()); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	settings, err := s.book.UpdateShop(ctx, req.GetShopId(), req.GetShop())
	if err != nil {
		return nil, err
	}
	return &pb.UpdateShopResponse{Shop: settings}, nil
}
