package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// EstimateLife says when a tire reaches each limit, with an interval.
func (s *Server) EstimateLife(_ context.Context, req *pb.EstimateLifeRequest) (*pb.EstimateLifeResponse, error) {
	if problems := check.EstimateLife(req); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	out, t := translate.Life(req), tell.For(req.GetReader(), tell.Shop{})
	named(out.GetAssessment(), req)
	t.Assessment(out.GetAssessment(), false)
	out.Told = t.Told()
	return out, nil
}
