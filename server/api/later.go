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
	pb.CounterService_ListOpenFindings_FullMethodName,
	pb.CounterService_RecordOutcome_FullMethodName,
	pb.OutboxService_SendBatch_FullMethodName,
	pb.PhotoService_GetPhoto_FullMethodName,
	pb.PhotoService_PutPhoto_FullMethodName,
	pb.ShopService_EraseCustomer_FullMethodName,
	pb.TireService_GetTire_FullMethodName,
	pb.TireService_ListTireHistory_FullMethodName,
	pb.TireService_MoveTires_FullMethodName,
	pb.TireService_RecordRepair_FullMethodName,
	pb.TireService_RecordTire_FullMethodName,
	pb.VehicleService_MergeVehicles_FullMethodName,
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

// MergeVehicles is not served yet.
func (s *Server) MergeVehicles(context.Context, *pb.MergeVehiclesRequest) (*pb.MergeVehiclesResponse, error) {
	return nil, notServed()
}

// RecordTire is not served yet.
func (s *Server) RecordTire(context.Context, *pb.RecordTireRequest) (*pb.RecordTireResponse, error) {
	return nil, notServed()
}

// GetTire is not served yet.
func (s *Server) GetTire(context.Context, *pb.GetTireRequest) (*pb.GetTireResponse, error) {
	return nil, notServed()
}

// ListTireHistory is not served yet.
func (s *Server) ListTireHistory(context.Context, *pb.ListTireHistoryRequest) (*pb.ListTireHistoryResponse, error) {
	return nil, notServed()
}

// MoveTires is not served yet.
func (s *Server) MoveTires(context.Context, *pb.MoveTiresRequest) (*pb.MoveTiresResponse, error) {
	return nil, notServed()
}

// RecordRepair is not served yet.
func (s *Server) RecordRepair(context.Context, *pb.RecordRepairRequest) (*pb.RecordRepairResponse, error) {
	return nil, notServed()
}

// SendBatch is not served yet.
func (s *Server) SendBatch(context.Context, *pb.SendBatchRequest) (*pb.SendBatchResponse, error) {
	return nil, notServed()
}

// PutPhoto is not served yet.
func (s *Server) PutPhoto(context.Context, *pb.PutPhotoRequest) (*pb.PutPhotoResponse, error) {
	return nil, notServed()
}

// GetPhoto is not served yet.
func (s *Server) GetPhoto(context.Context, *pb.GetPhotoRequest) (*pb.GetPhotoResponse, error) {
	return nil, notServed()
}

// ListOpenFindings is not served yet.
func (s *Server) ListOpenFindings(context.Context, *pb.ListOpenFindingsRequest) (*pb.ListOpenFindingsResponse, error) {
	return nil, notServed()
}

// RecordOutcome is not served yet.
func (s *Server) RecordOutcome(context.Context, *pb.RecordOutcomeRequest) (*pb.RecordOutcomeResponse, error) {
	return nil, notServed()
}

// EraseCustomer is not served yet.
func (s *Server) EraseCustomer(context.Context, *pb.EraseCustomerRequest) (*pb.EraseCustomerResponse, error) {
	return nil, notServed()
}
