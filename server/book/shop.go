package book

import (
	"context"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// GetShop gives a shop's settings; a shop that has set nothing has only its id.
func (b *Book) GetShop(ctx context.Context, shop string) (*pb.Shop, error) {
	var out *pb.Shop
	err := b.read(ctx, shop, func(s view) error {
		settings, e, err := s.shop(shop)
		if err == nil {
			settings.Revision = decimal(e.number)
			out = settings
		}
		return err
	})
	return out, err
}

// shop reads the settings.
func (v view) shop(id string) (*pb.Shop, entry, error) {
	settings := &pb.Shop{}
	e, err := v.record(shopKey(), settings)
	settings.Id = id
	return settings, e, err
}

// UpdateShop changes the settings that were read at the revision given: what is
// left out stays as it is, and empty names, as in JSON, what is to be emptied. Where
// they are as asked already, nothing is stored, whatever the revision: an answer
// may have been lost on its way.
func (b *Book) UpdateShop(ctx context.Context, shop string, sent *pb.Shop, empty []string) (*pb.Recorded, error) {
	changes := proto.CloneOf(sent)
	changes.Id, changes.Revision = shop, ""
	var repeated *pb.Recorded
	e := entry{}
	n, err := b.commit(ctx, shop, func(s view) (*history.Draft, error) {
		repeated = nil
		now, was, err := s.shop(shop)
		if err != nil {
			return nil, err
		}
		next := merged(now, changes, empty)
		if was.there() && proto.Equal(now, next) {
			repeated = was.recorded(true, was.number)
			return nil, nil //nolint:nilnil // no draft: the settings are so already
		}
		if sent.GetRevision() != decimal(was.number) {
			return nil, refuse(pb.ErrorReason_ERROR_REASON_REVISION_STALE, "shop.revision", "the settings were changed since they were read").with("revision", decimal(was.number))
		}
		e.time = timestamppb.New(b.now())
		d := &drafting{}
		d.expect(shopKey(), was.number)
		d.record(shopKey(), next, e)
		c := newChange(e.time)
		c.row.What = &rows.Change_Shop{Shop: true}
		d.change(c)
		return d.done()
	})
	if err != nil || repeated != nil {
		return repeated, err
	}
	e.number = n
	return e.recorded(false, n), nil
}
