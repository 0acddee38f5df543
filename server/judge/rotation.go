package judge

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/verdict"

	"gaugebook.dev/server/translate"
)

// Rotation compares the rotations of a request that check has accepted, and judges
// its latest visit.
func Rotation(req *pb.PlanRotationRequest) *pb.PlanRotationResponse {
	visit := translate.RotationVisit(req)
	v := translate.Visit(visit)
	v.Rotating.Compare = true
	return translate.Rotation(visit, v, verdict.Judge(v))
}
