package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// ListComingDue lists which limits the shop's vehicles reach between two days.
func (s *Server) ListComingDue(ctx context.Context, req *pb.ListComingDueRequest) (*pb.ListComingDueResponse, error) {
	problems := check.Day("untilDate", req.GetUntilDate())
	if req.GetFromDate() != nil {
		problems = append(problems, check.Day("fromDate", req.GetFromDate())...)
	}
	if problems = append(problems, checkPageSize(req.GetPageSize())...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	return s.book.ListComingDue(ctx, req.GetShopId(), req.GetFromDate(), req.GetUntilDate(), pageSize(req.GetPageSize()), req.GetPageToken())
}
