package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// RecordEvent keeps what happened to a vehicle between its visits.
func (s *Server) RecordEvent(ctx context.Context, req *pb.RecordEventRequest) (*pb.RecordEventResponse, error) {
	e := req.GetEvent()
	problems := append(required("event.id", e.GetId()), required("event.vehicle_id", e.GetVehicleId())...)
	if problems = append(problems, check.Event("event", e)...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	recorded, err := s.book.RecordEvent(ctx, req.GetShopId(), e)
	if err != nil {
		return nil, err
	}
	return &pb.RecordEventResponse{Recorded: recorded}, nil
}

// ListWheelsOff lists the vehicles with wheels off.
func (s *Server) ListWheelsOff(ctx context.Context, req *pb.ListWheelsOffRequest) (*pb.ListWheelsOffResponse, error) {
	if problems := checkPageSize(req.GetPageSize()); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	page, err := s.book.ListWheelsOff(ctx, req.GetShopId(), pageSize(req.GetPageSize()), req.GetPageToken())
	if err != nil {
		return nil, err
	}
	return &pb.ListWheelsOffResponse{Rows: page.Rows, NextPageToken: page.Next}, nil
}
