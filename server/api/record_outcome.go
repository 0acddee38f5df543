package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/access"
	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
)

// RecordOutcome keeps what became of a finding.
func (s *Server) RecordOutcome(ctx context.Context, req *pb.RecordOutcomeRequest) (*pb.RecordOutcomeResponse, error) {
	teller, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	decided, err := s.recordOutcome(ctx, req)
	if err != nil {
		return nil, err
	}
	out := &pb.RecordOutcomeResponse{Recorded: decided.Recorded, Finding: decided.Finding, Cautions: teller.Cautions(decided.Finding), Told: teller.Told()}
	teller.Open(out.GetFinding(), decided.FrontRear)
	return out, nil
}

func (s *Server) recordOutcome(ctx context.Context, req *pb.RecordOutcomeRequest) (book.Decided, error) {
	o := req.GetOutcome()
	problems := append(checkID("outcome.id", o.GetId()), checkID("outcome.inspection_id", o.GetInspectionId())...)
	if o.GetFindingId() == "" {
		problems = append(problems, check.Problem{Path: "outcome.findingId", Problem: "missing", Want: "the finding's id in its visit"})
	}
	if problems = append(problems, check.Outcome("outcome", o)...); len(problems) > 0 {
		return book.Decided{}, &invalid{problems}
	}
	return s.book.RecordOutcome(ctx, req.GetShopId(), access.CallerOf(ctx).Name, o)
}
