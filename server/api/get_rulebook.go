package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/server/book"
	"gaugebook.dev/server/translate"
)

// GetRulebook gives one rulebook whole.
func (s *Server) GetRulebook(ctx context.Context, req *pb.GetRulebookRequest) (*pb.GetRulebookResponse, error) {
	b, ok := rulebook.Get(req.GetRulebookId())
	if !ok {
		return nil, unknownRulebook(req.GetRulebookId())
	}
	t, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	out := translate.Rulebook(b)
	t.Rulebook(out)
	return &pb.GetRulebookResponse{Rulebook: out, Told: t.Told()}, nil
}

func unknownRulebook(id string) error {
	return &book.Refusal{
		Reason: pb.ErrorReason_ERROR_REASON_RULEBOOK_UNKNOWN, Field: "rulebook_id", Message: "no rulebook has this id", Metadata: map[string]string{"id": id},
	}
}
