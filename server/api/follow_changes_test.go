package api

import (
	"testing"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// follow begins a stream, which ends with the test.
func (h *house) follow(token string) grpc.ServerStreamingClient[pb.FollowChangesResponse] {
	h.t.Helper()
	stream, err := pb.NewCounterServiceClient(h.conn).FollowChanges(h.counter(), &pb.FollowChangesRequest{ShopId: shop, ResumeToken: token})
	if err != nil {
		h.t.Fatal(err)
	}
	return stream
}

// What is there comes first, then heartbeats with a token, then what is recorded
// meanwhile, in commit order and none skipped; a token goes on where it was given out.
func TestChangesAreFollowed(t *testing.T) {
	h := inMemory(t)
	v := car()
	h.keep(v, visit(v), visit(v))
	stream := h.follow("")
	next := func() *pb.FollowChangesResponse {
		t.Helper()
		out, err := stream.Recv()
		if err != nil || out.GetResumeToken() == "" {
			t.Fatalf("%v: %v", out, err)
		}
		return out
	}
	first := next()
	if len(first.GetChanges()) != 3 || first.GetChanges()[2].GetNumber() != "3" || first.GetTold() == nil {
		t.Fatalf("first came %v", first)
	}
	if beat := next(); len(beat.GetChanges()) != 0 {
		t.Errorf("instead of a heartbeat came %v", beat)
	}
	h.keep(v, visit(v))
	var came []*pb.Change
	for deadline := time.Now().Add(10 * time.Second); len(came) == 0 && time.Now().Before(deadline); {
		came = next().GetChanges()
	}
	if len(came) != 1 || came[0].GetNumber() != "4" || len(came[0].GetVehicles()) != 1 {
		t.Errorf("then came %v", came)
	}
	again, err := h.follow(first.GetResumeToken()).Recv()
	if err != nil || len(again.GetChanges()) != 1 || again.GetChanges()[0].GetNumber() != "4" {
		t.Errorf("from the token on: %v: %v", again, err)
	}
	pulled, err := pb.NewCounterServiceClient(h.conn).PullChanges(h.counter(), &pb.PullChangesRequest{ShopId: shop, ResumeToken: first.GetResumeToken()})
	if err != nil || len(pulled.GetChanges()) != 1 {
		t.Errorf("the same token pulls %v: %v", pulled, err)
	}
	if _, err := h.follow("x").Recv(); read(t, err).reason != "TOKEN_INVALID" {
		t.Error(err)
	}
	h.book.EndWaits()
	for err = nil; err == nil; {
		_, err = stream.Recv()
	}
	if r := read(t, err); r.Code() != codes.Unavailable || r.reason != "SHUTTING_DOWN" || r.wait == 0 {
		t.Errorf("at the end: %v", err)
	}
}
