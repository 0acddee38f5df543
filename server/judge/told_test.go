package judge_test

import (
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// inWords is the judgement of a visit as a reader is told it, whole.
func inWords(req *pb.AssessVisitRequest, reader *pb.Reader) *pb.Assessment {
	a, _ := toldTo(req, reader)
	return a
}

// toldTo is the judgement of a visit as a reader is told it, whole, and how it was told.
func toldTo(req *pb.AssessVisitRequest, reader *pb.Reader) (*pb.Assessment, *pb.Told) {
	reader = proto.CloneOf(reader)
	reader.View = pb.View_VIEW_FULL
	a, t := judge.Visit(req), tell.For(reader, tell.Shop{})
	t.Assessment(a, translate.FrontRear(req.GetVehicle()))
	return a, t.Told()
}
