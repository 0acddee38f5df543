package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/server/translate"
)

// ListRulebooks lists the rulebooks without their limits.
func (s *Server) ListRulebooks(ctx context.Context, req *pb.ListRulebooksRequest) (*pb.ListRulebooksResponse, error) {
	t, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	out := &pb.ListRulebooksResponse{Told: t.Told()}
	for _, b := range rulebook.All() {
		m := translate.Rulebook(b)
		m.Limits = nil
		t.Rulebook(m)
		out.Rulebooks = append(out.Rulebooks, m)
	}
	return out, nil
}
