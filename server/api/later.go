package api

import (
	"context"
	"slices"

	"google.golang.org/grpc"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
)

// later are the calls that stand in the contract and are not served yet. The
// compiler demands that every other call has a handler of its own.
var later = []string{
	pb.PhotoService_GetPhoto_FullMethodName,
	pb.PhotoService_PutPhoto_FullMethodName,
}

// services are those of the contract.
var services = []grpc.ServiceDesc{
	pb.InspectionService_ServiceDesc, pb.VehicleService_ServiceDesc, pb.TireService_ServiceDesc, pb.OutboxService_ServiceDesc,
	pb.PhotoService_ServiceDesc, pb.CounterService_ServiceDesc, pb.CalculatorService_ServiceDesc, pb.ShopService_ServiceDesc,
}

// Served are the calls that are served, by their full names:
// "gaugebook.v1.ShopService.GetShop". Sorted.
func Served() []string {
	var all []string
	add := func(service, method string) {
		if !slices.Contains(later, "/"+service+"/"+method) {
			all = append(all, service+"."+method)
		}
	}
	for _, s := range services {
		for _, m := range s.Methods {
			add(s.ServiceName, m.MethodName)
		}
		for _, m := range s.Streams {
			add(s.ServiceName, m.StreamName)
		}
	}
	slices.Sort(all)
	return all
}

func notServed() error {
	return &book.Refusal{Reason: pb.ErrorReason_ERROR_REASON_CALL_NOT_SERVED, Message: "the call is in the contract and not served yet"}
}

// PutPhoto is not served yet.
func (s *Server) PutPhoto(context.Context, *pb.PutPhotoRequest) (*pb.PutPhotoResponse, error) {
	return nil, notServed()
}

// GetPhoto is not served yet.
func (s *Server) GetPhoto(context.Context, *pb.GetPhotoRequest) (*pb.GetPhotoResponse, error) {
	return nil, notServed()
}
