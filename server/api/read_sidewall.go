package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// ReadSidewall explains what is printed on a tire. What cannot be read of it is
// told by a note; refused is what no sidewall can print.
func (s *Server) ReadSidewall(_ context.Context, req *pb.ReadSidewallRequest) (*pb.ReadSidewallResponse, error) {
	visit := &pb.AssessVisitRequest{
		Inspection: &pb.Inspection{Wheels: []*pb.WheelReport{{Sidewall: req.GetSidewall()}}},
		JudgeBy:    &pb.JudgeBy{AsOf: req.GetAsOf()},
	}
	problems := checkTire(visit, map[string]string{"inspection.wheels[0].sidewall": "sidewall", "judgeBy.asOf": "asOf"})
	if req.GetSidewall() == nil {
		problems = append(problems, check.Problem{Path: "sidewall", Problem: "missing", Want: "what is printed on the tire"})
	}
	if len(problems) > 0 {
		return nil, &invalid{problems}
	}
	out, t := translate.Sidewall(req), tell.For(req.GetReader(), tell.Shop{})
	out.NotJudged = translate.NameUnasked(nil, req)
	t.Sidewall(out)
	out.Told = t.Told()
	return out, nil
}
