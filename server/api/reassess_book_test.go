package api

import (
	"errors"
	"io"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// Judged by another law, a book tells which visits mean anything else, and ends with done.
func TestReassessBook(t *testing.T) {
	h := inMemory(t)
	first, second := car(), car()
	in := visit(first)
	h.keep(first, in)
	h.keep(second, visit(second))
	all := func(req *pb.ReassessBookRequest) (differ []*pb.ReassessBookResponse, last *pb.ReassessBookResponse) {
		t.Helper()
		req.ShopId = shop
		stream, err := pb.NewInspectionServiceClient(h.conn).ReassessBook(h.counter(), req)
		if err != nil {
			t.Fatal(err)
		}
		for {
			out, err := stream.Recv()
			if errors.Is(err, io.EOF) {
				return differ, last
			}
			if err != nil {
				t.Fatal(err)
			}
			if last = out; out.GetInspectionId() != "" {
				differ = append(differ, out)
			}
		}
	}
	if differ, last := all(&pb.ReassessBookRequest{}); len(differ) != 0 || !last.GetDone() || last.GetJudged() != 2 {
		t.Errorf("by the same: %v, last %v", differ, last)
	}
	differ, last := all(&pb.ReassessBookRequest{JudgeBy: judgedBy("eu-de")})
	if len(differ) != 2 || !last.GetDone() || last.GetJudged() != 2 {
		t.Fatalf("by another law: %v, last %v", differ, last)
	}
	alone, err := pb.NewInspectionServiceClient(h.conn).ReassessInspection(h.counter(), &pb.ReassessInspectionRequest{
		ShopId: shop, InspectionId: in.GetId(), JudgeBy: judgedBy("eu-de"),
	})
	for _, d := range differ {
		if d.GetInspectionId() == in.GetId() && (err != nil || len(d.GetAppeared()) != len(alone.GetAppeared()) || len(d.GetChanged()) != len(alone.GetChanged()) || d.GetVehicleId() != first.GetId()) {
			t.Errorf("%v, alone %v: %v", d, alone, err)
		}
	}
	stream, err := pb.NewInspectionServiceClient(h.conn).ReassessBook(h.counter(), &pb.ReassessBookRequest{ShopId: shop, JudgeBy: judgedBy("us-lite")})
	if err == nil {
		_, err = stream.Recv()
	}
	if err == nil || read(t, err).reason != "FIELD_INVALID" && read(t, err).reason != "RULEBOOK_UNKNOWN" {
		t.Errorf("by a law that there is not: %v", err)
	}
}
