package api

import (
	"context"

	"google.golang.org/grpc"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
)

// This is the list of the calls that stand in the contract and are not served
// yet. The compiler demands that every other call has a handler of its own.

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

// FollowChanges is not served yet; PullChanges gives the same changes.
func (s *Server) FollowChanges(*pb.FollowChangesRequest, grpc.ServerStreamingServer[pb.FollowChangesResponse]) error {
	return notServed()
}
