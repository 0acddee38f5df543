package api

import (
	"time"

	"google.golang.org/grpc"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// heartbeat is how long a stream without changes is silent: shorter than what stands
// between client and server holds a silent connection open.
const heartbeat = 20 * time.Second

// FollowChanges gives the changes after a token, and goes on with those that come.
func (s *Server) FollowChanges(req *pb.FollowChangesRequest, stream grpc.ServerStreamingServer[pb.FollowChangesResponse]) error {
	ctx, token := stream.Context(), req.GetResumeToken()
	teller, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return err
	}
	for wait := time.Duration(0); ; wait = s.heartbeat {
		pulled, err := s.book.PullChanges(ctx, req.GetShopId(), token, defaultPage, wait)
		if err != nil {
			return err
		}
		told := toldChanges(teller, pulled)
		token = told.GetResumeToken()
		if err := stream.Send(&pb.FollowChangesResponse{Changes: told.GetChanges(), ResumeToken: token, Told: told.GetTold()}); err != nil {
			return err
		}
		if s.book.Ending() && len(told.GetChanges()) == 0 {
			return history.ErrClosed
		}
	}
}
