package book

import (
	"context"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// GetShop gives a shop's settings; a shop that has set nothing has only its id.
func (b *Book) GetShop(ctx context.Context, shop string) (*pb.Shop, error) {
	var out *pb.Shop
	err := b.read(ctx, shop, func(s view) error {
		settings, version, err := s.shop(shop)
		if err == nil {
			settings.Revision = revisionOf(version)
			out = settings
		}
		return err
	})
	return out, err
}

// shop reads the settings.
func (v view) shop(id string) (*pb.Shop, history.Number, error) {
	settings := &pb.Shop{}
	version, found, err := v.get(shopKey(), settings)
	if !found {
		settings = &pb.Shop{}
	}
	settings.Id = id
	return settings, version, err
}

// UpdateShop changes the settings that were read at the revision given. Where
// they are as asked already, nothing is stored, whatever the revision: an answer
// may have been lost on its way.
func (b *Book) UpdateShop(ctx context.Context, shop string, asked *pb.Shop) (*pb.Shop, error) {
	kept := proto.CloneOf(asked)
	kept.Id, kept.Revision = shop, ""
	var same history.Number
	n, err := b.commit(ctx, shop, func(s view) (*history.Draft, error) {
		is, version, err := s.shop(shop)
		if err != nil {
			return nil, err
		}
		if version != history.Absent && proto.Equal(is, kept) {
			same = version
			return nil, nil //nolint:nilnil // no draft: the settings are so already
		}
		if asked.GetRevision() != revisionOf(version) {
			return nil, refuse(pb.ErrorReason_ERROR_REASON_REVISION_STALE, "shop.revision", "the settings were changed since they were read").with("revision", revisionOf(version))
		}
		d := &drafting{}
		d.expect(shopKey(), version)
		d.put(shopKey(), kept)
		d.feed(&pb.Change{RecordedAt: timestamppb.New(b.now()), What: &pb.Change_Shop{Shop: kept}})
		return d.done()
	})
	if err != nil {
		return nil, err
	}
	kept.Revision = revisionOf(max(n, same))
	return kept, nil
}
