package api

import (
	"context"
	"time"

	"google.golang.org/protobuf/types/known/durationpb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/verdict"
)

// LeastKeepalive is the shortest time between pings that the server allows.
const LeastKeepalive = time.Minute

// GetServer says what the server is and takes.
func (s *Server) GetServer(context.Context, *pb.GetServerRequest) (*pb.GetServerResponse, error) {
	return &pb.GetServerResponse{
		Version: s.about.Version, Contract: "v1", Engine: verdict.Engine, Epoch: s.about.Epoch, ServedCalls: Served(),
		MaxMessageBytes: int32(s.about.MaxMessageBytes), MaxPageSize: maxPage, KeepaliveMin: durationpb.New(LeastKeepalive),
	}, nil
}
