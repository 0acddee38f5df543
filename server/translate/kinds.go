package translate

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/verdict"
)

// Kinds are all kinds of findings, by family, and of work, in the order of work, without
// words. Since no judgement but this one was released, all are since it.
func Kinds() (findings, work []*pb.KindRow) {
	for k := range finding.Kinds() {
		findings = append(findings, &pb.KindRow{
			Code: string(k.Code), Family: finding.FamilyOf(k.Code), Urgency: pb.Urgency(k.Urgency), Since: verdict.FirstEngine, Retired: k.Retired,
		})
	}
	for k := range finding.WorkKinds() {
		work = append(work, &pb.KindRow{Code: string(k.Code), Step: pb.WorkStep(k.Step() + 1), Since: verdict.FirstEngine, Retired: k.Retired})
	}
	return findings, work
}
