package judge

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/verdict"

	"gaugebook.dev/server/translate"
)

// Fitment judges a visit as Visit does, and gives beside it what each tire is
// against the label and what each axle's tires support.
func Fitment(req *pb.AssessVisitRequest) *pb.CheckFitmentResponse {
	v := translate.Visit(req)
	out := verdict.Judge(v)
	return &pb.CheckFitmentResponse{
		Assessment: translate.Assessment(req, v, out), Axles: translate.AxleLoads(out.Axles), Wheels: translate.Fits(out.Fits),
	}
}
