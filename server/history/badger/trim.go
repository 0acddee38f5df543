package badger

import (
	"context"
	"errors"

	"gaugebook.dev/server/history"
)

// Trim removes entries of a shop's feed, see history.Store. The writer does it between
// drafts, as one that has no number.
func (s *Store) Trim(ctx context.Context, shop string, upTo history.Number, left []byte) error {
	if err := errors.Join(history.CheckShop(shop), history.CheckLeft(left)); err != nil {
		return err
	}
	_, err := s.hand(ctx, &pending{
		draft: history.Draft{Shop: shop}, trim: &history.Change{Number: upTo, Feed: left}, answer: make(chan answer, 1),
	})
	return err
}

// addTrim notes which entries go. Of a number that is trimmed already none do.
func (o *overlay) addTrim(w *pending) (*accepted, error) {
	shop, upTo := w.draft.Shop, w.trim.Number
	last, err := o.lastOf(shop)
	if err != nil {
		return nil, err
	}
	trimmed, known := o.trimmed[shop]
	if !known {
		before, err := readTrimmed(o.view, shop)
		if err != nil {
			return nil, err
		}
		trimmed = before.Number
	}
	if err := history.CheckTrim(upTo, trimmed, last); err != nil {
		return nil, err
	}
	d := &accepted{pending: w}
	if upTo <= trimmed {
		return d, nil
	}
	o.trimmed[shop] = upTo
	for number := trimmed + 1; number <= upTo; number++ {
		d.deletes = append(d.deletes, feedKey(shop, number))
	}
	d.puts = append(d.puts, pair{trimKey(shop), rowValue(upTo, w.trim.Feed)})
	return d, nil
}
