package api

import (
	"context"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/tell"
)

// teller is who tells a reader of a shop's answer. What the reader leaves open the
// shop says.
func (s *Server) teller(ctx context.Context, shop string, reader *pb.Reader) (*tell.Teller, error) {
	if reader.GetLanguage() != "" && reader.GetUnits() != nil {
		return tell.For(reader, tell.Shop{}).On(s.book.DayOver()), nil
	}
	settings, err := s.book.GetShop(ctx, shop)
	if err != nil {
		return nil, err
	}
	return tell.For(reader, tell.Shop{Language: settings.GetLanguage(), Units: settings.GetUnits()}).On(s.book.DayOver()), nil
}
