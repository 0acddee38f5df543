package api

import (
	"context"
	"time"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/tell"
)

// longestWait is how long a call without changes is held at most.
const longestWait = time.Minute

// largestPull is how many bytes of changes one answer holds at most, but for a
// single change that is larger: clients take 4 MiB unless told otherwise.
const largestPull = 3 << 20

// PullChanges gives what was committed after a token.
func (s *Server) PullChanges(ctx context.Context, req *pb.PullChangesRequest) (*pb.PullChangesResponse, error) {
	problems := checkPageSize(req.GetPageSize())
	wait := req.GetWait()
	if wait != nil && (!wait.IsValid() || wait.AsDuration() < 0) {
		problems = append(problems, check.Problem{Path: "wait", Given: wait.AsDuration().String(), Problem: "not a time to wait", Want: "0 s to 60 s"})
	}
	if len(problems) > 0 {
		return nil, &invalid{problems}
	}
	teller, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	pulled, err := s.book.PullChanges(ctx, req.GetShopId(), req.GetResumeToken(), pageSize(req.GetPageSize()), min(wait.AsDuration(), longestWait))
	if err != nil {
		return nil, err
	}
	return toldChanges(teller, pulled), nil
}

// toldChanges are as many of the changes, told, as one answer holds.
func toldChanges(teller *tell.Teller, pulled book.Pulled) *pb.PullChangesResponse {
	out := &pb.PullChangesResponse{ResumeToken: pulled.Token, More: pulled.More, Told: teller.Told()}
	size := 0
	for i, c := range pulled.Changes {
		teller.Change(c.Change, func(vehicle string) bool { return c.FrontRear[vehicle] })
		if size += proto.Size(c.Change); size > largestPull && i > 0 {
			out.ResumeToken, out.More = pulled.Changes[i-1].Token, true
			break
		}
		out.Changes = append(out.Changes, c.Change)
	}
	return out
}
