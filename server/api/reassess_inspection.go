package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"

	"gaugebook.dev/server/check"
)

// ReassessInspection judges a kept visit again and says what differs.
func (s *Server) ReassessInspection(ctx context.Context, req *pb.ReassessInspectionRequest) (*pb.ReassessInspectionResponse, error) {
	problems := checkID("inspection_id", req.GetInspectionId())
	if day := req.GetJudgeBy().GetAsOf(); day != nil {
		problems = append(problems, check.Day("judgeBy.asOf", day)...)
	}
	if len(problems) > 0 {
		return nil, &invalid{problems}
	}
	for _, id := range req.GetJudgeBy().GetRulebookIds() {
		if _, ok := rulebook.Get(id); !ok {
			return nil, unknownRulebook(id)
		}
	}
	teller, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	reassessed, err := s.book.Reassess(ctx, req.GetShopId(), req.GetInspectionId(), nil, req.GetJudgeBy())
	if err != nil {
		return nil, err
	}
	teller.Assessment(reassessed.Now.GetAssessment(), reassessed.FrontRear)
	reassessed.Now.Told = teller.Told()
	return reassessed.Now, nil
}
