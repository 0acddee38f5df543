package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/translate"
)

// ListKinds lists the kinds of findings and of work.
func (s *Server) ListKinds(ctx context.Context, req *pb.ListKindsRequest) (*pb.ListKindsResponse, error) {
	t, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	out := &pb.ListKindsResponse{Told: t.Told()}
	out.Findings, out.Work = translate.Kinds()
	t.Kinds(out.GetFindings())
	t.Kinds(out.GetWork())
	return out, nil
}
