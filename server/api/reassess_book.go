package api

import (
	"errors"
	"time"

	"google.golang.org/grpc"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
)

// ReassessBook gives the visits of a shop that would be judged otherwise now.
func (s *Server) ReassessBook(req *pb.ReassessBookRequest, stream grpc.ServerStreamingServer[pb.ReassessBookResponse]) error {
	if problems := check.ReassessBook(req); len(problems) > 0 {
		return &invalid{problems}
	}
	judged, told := int32(0), time.Now()
	err := s.book.ReassessBook(stream.Context(), req.GetShopId(), req.GetSinceDate(), req.GetJudgeBy(), func(a book.Again) error {
		judged++
		out := &pb.ReassessBookResponse{Judged: judged}
		switch {
		case a.Problem != nil:
			if _, unfit := errors.AsType[*book.Mismatch](a.Problem); !unfit {
				return a.Problem
			}
			out.InspectionId, out.VehicleId, out.DoesNotFit = a.ID, a.Vehicle, true
		case a.Differs():
			out.InspectionId, out.VehicleId, out.Tag, out.LocalDate = a.ID, a.Vehicle, a.Tag, a.Day
			out.Appeared, out.Disappeared, out.Changed, out.OtherParts = a.Now.GetAppeared(), a.Now.GetDisappeared(), a.Now.GetChanged(), a.OtherParts
		case time.Since(told) < s.heartbeat:
			return nil
		}
		told = time.Now()
		return stream.Send(out)
	})
	if err != nil {
		return err
	}
	return stream.Send(&pb.ReassessBookResponse{Judged: judged, Done: true})
}
