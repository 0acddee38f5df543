package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
)

// ListVehicles lists the shop's vehicles by one index.
func (s *Server) ListVehicles(ctx context.Context, req *pb.ListVehiclesRequest) (*pb.ListVehiclesResponse, error) {
	problems := check.ListVehicles(req)
	if problems = append(problems, checkPageSize(req.GetPageSize())...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	teller, err := s.teller(ctx, req.GetShopId(), req.GetReader())
	if err != nil {
		return nil, err
	}
	list, resume, err := s.vehicles(ctx, req)
	if err != nil {
		return nil, err
	}
	for i, row := range list.Rows {
		teller.Headline(row.GetHeadline(), list.FrontRear[i])
	}
	return &pb.ListVehiclesResponse{Rows: list.Rows, NextPageToken: list.Next, ResumeToken: resume, Told: teller.Told()}, nil
}

// vehicles reads the page by the index that is asked for.
func (s *Server) vehicles(ctx context.Context, req *pb.ListVehiclesRequest) (book.Page[*pb.VehicleRow], string, error) {
	shop, size, token := req.GetShopId(), pageSize(req.GetPageSize()), req.GetPageToken()
	switch by := req.GetBy().(type) {
	case *pb.ListVehiclesRequest_Text:
		return s.book.FindByText(ctx, shop, by.Text, size, token)
	case *pb.ListVehiclesRequest_FindingCode:
		return s.book.FindByCode(ctx, shop, by.FindingCode, size, token)
	case *pb.ListVehiclesRequest_Plate:
		return s.book.FindByPlate(ctx, shop, by.Plate, size, token)
	case *pb.ListVehiclesRequest_Tag:
		return s.book.FindByTag(ctx, shop, by.Tag, size, token)
	case *pb.ListVehiclesRequest_OrderReference:
		return s.book.FindByOrder(ctx, shop, by.OrderReference, size, token)
	case *pb.ListVehiclesRequest_Size:
		return s.book.FindBySize(ctx, shop, by.Size, size, token)
	}
	return s.book.ListVehicles(ctx, shop, req.GetOrder(), size, token)
}
