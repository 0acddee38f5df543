package api

import (
	"context"
	"time"

	"google.golang.org/protobuf/types/known/durationpb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/translate"
)

// GetShop gives the shop's settings.
func (s *Server) GetShop(ctx context.Context, req *pb.GetShopRequest) (*pb.GetShopResponse, error) {
	settings, err := s.book.GetShop(ctx, req.GetShopId())
	if err != nil {
		return nil, err
	}
	return &pb.GetShopResponse{Shop: settings}, nil
}

// UpdateShop changes them.
func (s *Server) UpdateShop(ctx context.Context, req *pb.UpdateShopRequest) (*pb.UpdateShopResponse, error) {
	var problems []check.Problem
	if zone := req.GetShop().GetTimeZone(); zone != "" {
		if _, err := time.LoadLocation(zone); err != nil {
			problems = append(problems, check.Problem{Path: "shop.timeZone", Given: zone, Problem: "no such time zone", Want: "an IANA name such as America/Denver"})
		}
	}
	if problems = append(problems, check.Shop("shop", req.GetShop())...); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	settings, err := s.book.UpdateShop(ctx, req.GetShopId(), req.GetShop())
	if err != nil {
		return nil, err
	}
	return &pb.UpdateShopResponse{Shop: settings}, nil
}

// ListRulebooks lists the rulebooks without their limits.
func (s *Server) ListRulebooks(context.Context, *pb.ListRulebooksRequest) (*pb.ListRulebooksResponse, error) {
	out := &pb.ListRulebooksResponse{}
	for _, b := range rulebook.All() {
		m := translate.Rulebook(b)
		m.Limits = nil
		out.Rulebooks = append(out.Rulebooks, m)
	}
	return out, nil
}

// GetRulebook gives one rulebook whole.
func (s *Server) GetRulebook(_ context.Context, req *pb.GetRulebookRequest) (*pb.GetRulebookResponse, error) {
	b, ok := rulebook.Get(req.GetRulebookId())
	if !ok {
		return nil, &book.Refusal{Reason: pb.ErrorReason_ERROR_REASON_RULEBOOK_UNKNOWN, Field: "rulebook_id", Message: "no rulebook has this id", Metadata: map[string]string{"id": req.GetRulebookId()}}
	}
	return &pb.GetRulebookResponse{Rulebook: translate.Rulebook(b)}, nil
}

// KeepaliveMin is the shortest time between pings that the server allows.
const KeepaliveMin = time.Minute

// GetServer says what the server is and takes.
func (s *Server) GetServer(context.Context, *pb.GetServerRequest) (*pb.GetServerResponse, error) {
	return &pb.GetServerResponse{
		Version: s.about.Version, Contract: "v1", Engine: verdict.Engine, Epoch: s.about.Epoch,
		MaxMessageBytes: int32(s.about.MaxMessageBytes), MaxPageSize: maxPage, KeepaliveMin: durationpb.New(KeepaliveMin),
	}, nil
}
