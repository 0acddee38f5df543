package api

import (
	"context"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// longestWait is how long a call without changes is held at most.
const longestWait = time.Minute

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
	return s.book.PullChanges(ctx, req.GetShopId(), req.GetResumeToken(), pageSize(req.GetPageSize()), min(wait.AsDuration(), longestWait))
}
