package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// GetShop gives the shop's settings.
func (s *Server) GetShop(ctx context.Context, req *pb.GetShopRequest) (*pb.GetShopResponse, error) {
	settings, err := s.book.GetShop(ctx, req.GetShopId())
	if err != nil {
		return nil, err
	}
	return &pb.GetShopResponse{Shop: settings}, nil
}
