package book

import (
	"context"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// maxPull is how many bytes of changes one answer holds at most, but for a single
// change that is larger: clients take 4 MiB unless told otherwise.
const maxPull = 3 << 20

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
	go func() {
		select {
		case <-b.ending:
			cancel()
		case <-waiting.Done():
		}
	}()
	switch err := b.store.Wait(waiting, shop, after); {
	case err == nil:
		return b.changes(ctx, shop, after, size)
	case waiting.Err() != nil && ctx.Err() == nil:
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
		bytes := 0
		for _, r := range rows {
			if bytes += len(r.Feed); bytes > maxPull && len(out.GetChanges()) > 0 {
				break
			}
			c := &pb.Change{}
			if err := decode(r.Feed, c); err != nil {
				return err
			}
			c.Number = revisionOf(r.Number)
			// The commit that made the change is the revision it made.
			switch what := c.GetWhat().(type) {
			case *pb.Change_Vehicle:
				what.Vehicle.Revision = c.GetNumber()
			case *pb.Change_Shop:
				what.Shop.Revision = c.GetNumber()
			}
			out.Changes = append(out.Changes, c)
			after = r.Number
		}
		out.ResumeToken, out.More = b.feedToken(shop, after), after < last
		return nil
	})
	return out, err
}
