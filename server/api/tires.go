package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// RecordTire keeps a new tire or changes one.
func (s *Server) RecordTire(ctx context.Context, req *pb.RecordTireRequest) (*pb.RecordTireResponse, error) {
	problems := required("tire.id", req.GetTire().GetId())
	problems = append(problems, check.Tire("tire", req.GetTire())...)
	if problems = append(problems, check.Clear("clear", req.GetClear(), req.GetTire())...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	recorded, err := s.book.RecordTire(ctx, req.GetShopId(), req.GetTire(), req.GetClear())
	if err != nil {
		return nil, err
	}
	return &pb.RecordTireResponse{Recorded: recorded}, nil
}

// GetTire gives a tire and its repairs.
func (s *Server) GetTire(ctx context.Context, req *pb.GetTireRequest) (*pb.GetTireResponse, error) {
	if problems := checkID("tire_id", req.GetTireId()); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	return s.book.GetTire(ctx, req.GetShopId(), req.GetTireId())
}

// ListTireHistory lists what happened to a tire.
func (s *Server) ListTireHistory(ctx context.Context, req *pb.ListTireHistoryRequest) (*pb.ListTireHistoryResponse, error) {
	problems := append(checkID("tire_id", req.GetTireId()), checkPageSize(req.GetPageSize())...)
	if len(problems) > 0 {
		return nil, &invalid{problems}
	}
	page, err := s.book.ListTireHistory(ctx, req.GetShopId(), req.GetTireId(), pageSize(req.GetPageSize()), req.GetPageToken())
	if err != nil {
		return nil, err
	}
	return &pb.ListTireHistoryResponse{Events: page.Rows, NextPageToken: page.Next}, nil
}

// MoveTires keeps the moves of one event.
func (s *Server) MoveTires(ctx context.Context, req *pb.MoveTiresRequest) (*pb.MoveTiresResponse, error) {
	problems := append(checkID("vehicle_id", req.GetVehicleId()), required("moves.id", req.GetMoves().GetId())...)
	if problems = append(problems, check.MoveTires(req)...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	recorded, err := s.book.MoveTires(ctx, req.GetShopId(), req.GetVehicleId(), req.GetMoves(), req.GetRotation())
	if err != nil {
		return nil, err
	}
	return &pb.MoveTiresResponse{Recorded: recorded}, nil
}

// RecordRepair keeps a repair that was done.
func (s *Server) RecordRepair(ctx context.Context, req *pb.RecordRepairRequest) (*pb.RecordRepairResponse, error) {
	problems := append(required("repair.id", req.GetRepair().GetId()), required("repair.tire_id", req.GetRepair().GetTireId())...)
	if problems = append(problems, check.Repair("repair", req.GetRepair())...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	recorded, err := s.book.RecordRepair(ctx, req.GetShopId(), req.GetRepair())
	if err != nil {
		return nil, err
	}
	return &pb.RecordRepairResponse{Recorded: recorded}, nil
}
