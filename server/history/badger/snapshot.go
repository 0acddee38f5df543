package badger

import (
	"bytes"
	"cmp"
	"context"
	"errors"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
)

// read gives a copy of a value, nil where there is none. A value is never empty.
func read(txn *engine.Txn, key []byte) ([]byte, error) {
	item, err := txn.Get(key)
	if errors.Is(err, engine.ErrKeyNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	return item.ValueCopy(nil)
}

// readNumber gives the number at the head of a value, 0 where there is none:
// the version of a row, or the last number of a shop.
func readNumber(txn *engine.Txn, key []byte) (history.Number, error) {
	value, err := read(txn, key)
	if value == nil {
		return history.Absent, err
	}
	number, _, err := readRow(key, value)
	return number, err
}

// Snapshot opens a shop for reading, see history.Store.
func (s *Store) Snapshot(ctx context.Context, shop string) (history.Snapshot, error) {
	if err := history.CheckShop(shop); err != nil {
		return nil, err
	}
	snap := &snapshot{store: s, shop: shop}
	err := s.use(ctx, func() error {
		snap.timestamp = s.timestamps.acquire()
		snap.txn = s.db.NewTransactionAt(snap.timestamp, false)
		return nil
	})
	if err != nil {
		return nil, err
	}
	return snap, nil
}

// Shops lists the shops, see history.Store. Of each only the row of its last
// number is looked at.
func (s *Store) Shops(ctx context.Context) (shops []string, err error) {
	err = s.use(ctx, func() error {
		timestamp := s.timestamps.acquire()
		defer s.timestamps.release(timestamp)
		txn := s.db.NewTransactionAt(timestamp, false)
		defer txn.Discard()
		it := txn.NewIterator(engine.IteratorOptions{Prefix: []byte{shopRows}})
		defer it.Close()
		for it.Seek([]byte{shopRows}); it.Valid(); {
			if err := ctx.Err(); err != nil {
				return err
			}
			name, _, whole := bytes.Cut(it.Item().Key()[1:], []byte{0})
			if !whole {
				return damaged(it.Item().KeyCopy(nil), nil)
			}
			shops = append(shops, string(name))
			it.Seek(shopKey(string(name), kindEnd))
		}
		return nil
	})
	return shops, err
}

type snapshot struct {
	store     *Store
	shop      string
	timestamp uint64
	txn       *engine.Txn // nil once closed
}

// use runs f while the snapshot and the engine are open.
func (sn *snapshot) use(ctx context.Context, f func() error) error {
	if sn.txn == nil {
		return history.ErrClosed
	}
	return sn.store.use(ctx, f)
}

func (sn *snapshot) Get(ctx context.Context, key history.Key) (history.Row, error) {
	row := history.Row{Key: key}
	err := sn.use(ctx, func() error {
		inner := rowKey(sn.shop, key)
		value, err := read(sn.txn, inner)
		if value != nil {
			row.Version, row.Value, err = readRow(inner, value)
		}
		return err
	})
	return row, err
}

func (sn *snapshot) Trimmed(ctx context.Context) (trimmed history.Change, err error) {
	err = sn.use(ctx, func() error {
		trimmed, err = readTrimmed(sn.txn, sn.shop)
		return err
	})
	return trimmed, err
}

// readTrimmed gives what was trimmed last of a shop's feed.
func readTrimmed(txn *engine.Txn, shop string) (history.Change, error) {
	key := trimKey(shop)
	value, err := read(txn, key)
	if value == nil {
		return history.Change{}, err
	}
	number, left, err := readRow(key, value)
	return history.Change{Number: number, Feed: left}, err
}

func (sn *snapshot) Last(ctx context.Context) (last history.Number, err error) {
	err = sn.use(ctx, func() error {
		last, err = readNumber(sn.txn, lastKey(sn.shop))
		return err
	})
	return last, err
}

func (sn *snapshot) Scan(ctx context.Context, r history.Range) (history.Page, error) {
	if err := r.Check(); err != nil {
		return history.Page{}, err
	}
	prefix, after := rowKey(sn.shop, r.Prefix), rowKey(sn.shop, r.After)
	start := prefix
	switch {
	case r.After != "":
		start = after
	case r.Reverse:
		// No key is that long: this is above all that begin with the prefix.
		start = append(bytes.Clone(prefix), bytes.Repeat([]byte{0xff}, history.MaxKey)...)
	}

	var page history.Page
	size := 0
	shopLength := len(shopKey(sn.shop, kindRow))
	err := sn.walk(ctx, prefix, start, r.Reverse, func(key, value []byte) (bool, error) {
		if r.After != "" && bytes.Equal(key, after) {
			return true, nil
		}
		size += len(key) - shopLength + len(value) - len(rowValue(0, nil))
		if len(page.Rows) == history.Rows(r.Limit) || len(page.Rows) > 0 && size > history.MaxPageBytes {
			page.More = true
			return false, nil
		}
		version, content, err := readRow(key, value)
		page.Rows = append(page.Rows, history.Row{
			Key: history.Key(key[shopLength:]), Value: bytes.Clone(content), Version: version,
		})
		return true, err
	})
	if err != nil {
		return history.Page{}, err
	}
	return page, nil
}

func (sn *snapshot) Changes(ctx context.Context, after history.Number, limit int) ([]history.Change, error) {
	if after == ^history.Number(0) {
		return nil, nil
	}
	if trimmed, err := sn.Trimmed(ctx); err != nil || after < trimmed.Number {
		return nil, cmp.Or(err, error(&history.TrimmedError{After: after, Trimmed: trimmed.Number}))
	}
	var changes []history.Change
	size := 0
	prefix, number := shopKey(sn.shop, kindFeed), after
	err := sn.walk(ctx, prefix, feedKey(sn.shop, after+1), false, func(key, value []byte) (bool, error) {
		content, err := readPlain(key, value)
		number++
		size += len(content)
		if err != nil || len(changes) > 0 && size > history.MaxPageBytes {
			return false, err
		}
		if !bytes.Equal(key, feedKey(sn.shop, number)) {
			return false, damaged(feedKey(sn.shop, number), nil)
		}
		changes = append(changes, history.Change{Number: number, Feed: bytes.Clone(content)})
		return len(changes) < history.Rows(limit), nil
	})
	if err != nil {
		return nil, err
	}
	return changes, nil
}

// walk visits the keys with a prefix from start on, until visit answers false
// or an error. Key and value are lent.
func (sn *snapshot) walk(ctx context.Context, prefix, start []byte, reverse bool,
	visit func(key, value []byte) (more bool, err error),
) error {
	return sn.use(ctx, func() error {
		it := sn.txn.NewIterator(engine.IteratorOptions{Prefix: prefix, Reverse: reverse})
		defer it.Close()
		for it.Seek(start); it.Valid(); it.Next() {
			if err := ctx.Err(); err != nil {
				return err
			}
			more := false
			err := it.Item().Value(func(value []byte) (err error) {
				more, err = visit(it.Item().Key(), value)
				return err
			})
			if err != nil || !more {
				return err
			}
		}
		return nil
	})
}

func (sn *snapshot) Close() {
	if sn.txn == nil {
		return
	}
	// In this mode of the engine a transaction for reading holds nothing that
	// would have to be given back before the engine closes.
	sn.txn.Discard()
	sn.txn = nil
	sn.store.timestamps.release(sn.timestamp)
}
