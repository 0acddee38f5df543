package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
)

// This is the list of the calls that stand in the contract and are not served
// yet. The compiler demands that every other call has a handler of its own.

func notServed() error {
	return &book.Refusal{Reason: pb.ErrorReason_ERROR_REASON_CALL_NOT_SERVED, Message: "the call is in the contract and not served yet"}
}

// ReadSidewall is not served yet.
func (s *Server) ReadSidewall(context.Context, *pb.ReadSidewallRequest) (*pb.ReadSidewallResponse, error) {
	return nil, notServed()
}

// CheckFitment is not served yet.
func (s *Server) CheckFitment(context.Context, *pb.CheckFitmentRequest) (*pb.CheckFitmentResponse, error) {
	return nil, notServed()
}

// EstimateLife is not served yet.
func (s *Server) EstimateLife(context.Context, *pb.EstimateLifeRequest) (*pb.EstimateLifeResponse, error) {
	return nil, notServed()
}

// PlanRotation is not served yet.
func (s *Server) PlanRotation(context.Context, *pb.PlanRotationRequest) (*pb.PlanRotationResponse, error) {
	return nil, notServed()
}
