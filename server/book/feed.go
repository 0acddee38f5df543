package book

import (
	"context"
	"errors"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// PullChanges gives the changes after a token in commit order, none skipped.
// When there are none it waits for one, at most so long.
func (b *Book) PullChanges(ctx context.Context, shop, token string, size int, wait time.Duration) (*pb.PullChangesResponse, error) {
	after, err := b.feedAfter(token, shop)
	if err != nil {
		return nil, err
	}
	out, err := b.changes(ctx, shop, after, size)
	if err != nil || len(out.GetChanges()) > 0 || wait <= 0 {
		return out, err
	}
	waiting, cancel := context.WithTimeout(ctx, wait)
	defer cancel()
	switch err := b.store.Wait(waiting, shop, after); {
	case err == nil:
		return b.changes(ctx, shop, after, size)
	case errors.Is(err, context.DeadlineExceeded) && ctx.Err() == nil:
		return out, nil // nothing came in time; the token stands
	default:
		return nil, err
	}
}

func (b *Book) changes(ctx context.Context, shop string, after history.Number, size int) (*pb.PullChangesResponse, error) {
	out := &pb.PullChangesResponse{}
	err := b.read(ctx, shop, func(s view) error {
		last, err := s.s.Last(s.ctx)
		if err != nil {
			return err
		}
		if after > last {
			return refuse(pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, "resume_token", "a token beyond the end of this shop's book")
		}
		rows, err := s.s.Changes(s.ctx, after, size)
		if err != nil {
			return err
		}
		for _, r := range rows {
			c := &pb.Change{}
			if err := decode(r.Feed, c); err != nil {
				return err
			}
			c.Number = revisionOf(r.Number)
			out.Changes = append(out.Changes, c)
			after = r.Number
		}
		out.ResumeToken, out.More = b.feedToken(shop, after), after < last
		return nil
	})
	return out, err
}
