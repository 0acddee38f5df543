package book

import (
	"context"
	"errors"
	"time"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// keepChanges is how long changes are kept for who follows them, where a shop has not set
// it: a counter that was off for longer lists again.
const keepChanges = 2 * 365 * 24 * time.Hour

// pageOfTrim is how many changes one step removes at most, so that who writes meanwhile
// does not wait for long.
const pageOfTrim = 200

// pauseOfTrim is how long others have between two steps.
const pauseOfTrim = 50 * time.Millisecond

// TrimChanges removes the changes that each shop keeps no longer, the oldest first and as far
// as all are old, and gives how many. Of the last that is gone its number and mark stay, so
// that who was told of it goes on from there.
func (b *Book) TrimChanges(ctx context.Context) (trimmed int, err error) {
	shops, err := b.store.Shops(ctx)
	if err != nil {
		return 0, err
	}
	for _, shop := range shops {
		for {
			n, err := b.trimSome(ctx, shop)
			trimmed += n
			if err != nil {
				return trimmed, err
			}
			if n < pageOfTrim {
				break
			}
			select {
			case <-ctx.Done():
				return trimmed, ctx.Err()
			case <-time.After(pauseOfTrim):
			}
		}
	}
	return trimmed, nil
}

func (b *Book) trimSome(ctx context.Context, shop string) (n int, err error) {
	var upTo history.Number
	var at *rows.Change
	err = b.read(ctx, shop, func(v view) error {
		settings, _, err := v.shop(shop)
		if err != nil {
			return err
		}
		before := b.now().Add(-keeps(settings))
		trimmed, err := v.s.Trimmed(ctx)
		if err != nil {
			return err
		}
		// Most shops have nothing to trim at most times: their first entry tells.
		if n, upTo, at, err = v.oldest(trimmed.Number, 1, before); err != nil || n == 0 {
			return err
		}
		n, upTo, at, err = v.oldest(trimmed.Number, pageOfTrim, before)
		return err
	})
	if err != nil || n == 0 {
		return 0, err
	}
	left, err := encode(&rows.Change{RecordedTime: at.GetRecordedTime(), Mark: at.GetMark()})
	if err != nil {
		return 0, err
	}
	return n, b.store.Trim(ctx, shop, upTo, left)
}

// oldest counts entries behind a number that were recorded before a moment, up to the first
// that was not, and gives the last of them.
func (v view) oldest(after history.Number, limit int, before time.Time) (n int, upTo history.Number, last *rows.Change, err error) {
	entries, err := v.s.Changes(v.ctx, after, limit)
	for _, e := range entries {
		row := &rows.Change{}
		if err := decode(e.Feed, row); err != nil {
			return 0, 0, nil, err
		}
		if !row.GetRecordedTime().AsTime().Before(before) {
			break
		}
		n, upTo, last = n+1, e.Number, row
	}
	return n, upTo, last, err
}

func keeps(settings *pb.Shop) time.Duration {
	if keep := settings.GetKeepChanges(); keep != nil {
		return keep.AsDuration()
	}
	return keepChanges
}

// Passing tells whether an error of TrimChanges is one of the moment: the store is at its
// end, or takes nothing at this time, and whoever is to know of that is told elsewhere.
func Passing(err error) bool {
	_, full := errors.AsType[*history.DiskNearlyFullError](err)
	_, cannot := errors.AsType[*history.UnwritableError](err)
	_, failed := errors.AsType[*history.ReadOnlyError](err)
	return full || cannot || failed || errors.Is(err, history.ErrClosed) || errors.Is(err, context.Canceled)
}
