package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"

	"gaugebook.dev/server/book"
)

// ReassessInspection judges a kept visit anew and says what differs.
func (s *Server) ReassessInspection(ctx context.Context, req *pb.ReassessInspectionRequest) (*pb.ReassessInspectionResponse, error) {
	if problems := checkID("inspection_id", req.GetInspectionId()); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	if id := req.GetRulebookId(); id != "" {
		if _, ok := rulebook.Get(id); !ok {
			return nil, unknownRulebook(id)
		}
	}
	return s.book.Reassess(ctx, req.GetShopId(), req.GetInspectionId(), book.Wishes{Rulebook: req.GetRulebookId(), Language: req.GetLanguage()})
}
