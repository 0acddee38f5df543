package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/server/translate"
)

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
