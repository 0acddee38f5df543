package badger

import (
	"bytes"
	"context"
	"encoding/binary"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
)

// settle makes whole what an accepted loss may have left half: the last number of each shop
// is at least that of every row that is still there, so that none is given out twice, and a
// feed with holes is trimmed up to behind the last of them.
func (s *Store) settle() error {
	shops, err := s.Shops(context.Background())
	if err != nil {
		return err
	}
	for _, shop := range shops {
		left, err := s.remains(shop)
		if err != nil {
			return err
		}
		if left.highest > left.last {
			s.log.Info("the last number of a shop was lost, and is set to that of its newest row", "shop", shop, "number", uint64(left.highest))
			if err := s.putNow([]pair{{lastKey(shop), numberValue(left.highest)}}, nil); err != nil {
				return err
			}
		}
		if err := s.trimHoles(shop, left); err != nil {
			return err
		}
	}
	return nil
}

// remains are what is left of a shop.
type remains struct {
	last    history.Number // as it is told
	highest history.Number // of all that is there
	numbers []history.Number
	trimmed history.Change // up to where the feed has to be trimmed; number 0: it has no holes
}

func (s *Store) remains(shop string) (r remains, err error) {
	view := s.db.NewTransactionAt(s.timestamps.latest(), false)
	defer view.Discard()
	if r.last, err = readNumber(view, lastKey(shop)); err != nil {
		return r, err
	}
	before, err := readTrimmed(view, shop)
	if err != nil {
		return r, err
	}
	r.highest = max(r.last, before.Number)
	rows := shopKey(shop, kindRow)
	if err := eachRow(view, rows, func(key, value []byte) error {
		number, _, err := readRow(key, value)
		r.highest = max(r.highest, number)
		return err
	}); err != nil {
		return r, err
	}
	newest := before
	feed := shopKey(shop, kindFeed)
	if err := eachRow(view, feed, func(key, value []byte) error {
		content, err := readPlain(key, value)
		if err != nil || len(key) != len(feed)+8 {
			return damaged(key, value)
		}
		entry := history.Change{Number: history.Number(binary.BigEndian.Uint64(key[len(feed):])), Feed: bytes.Clone(content)}
		r.numbers = append(r.numbers, entry.Number)
		if entry.Number > newest.Number+1 {
			r.trimmed = entry // whoever followed up to here has been told of it
		}
		newest = entry
		return nil
	}); err != nil {
		return r, err
	}
	if r.highest = max(r.highest, newest.Number); r.highest > newest.Number {
		r.trimmed = history.Change{Number: r.highest, Feed: newest.Feed}
	}
	return r, nil
}

// eachRow gives the rows with a prefix. Key and value are lent.
func eachRow(view *engine.Txn, prefix []byte, f func(key, value []byte) error) (err error) {
	it := view.NewIterator(engine.IteratorOptions{Prefix: prefix})
	defer it.Close()
	for it.Seek(prefix); it.Valid() && err == nil; it.Next() {
		err = it.Item().Value(func(value []byte) error { return f(it.Item().Key(), value) })
	}
	return err
}

// trimHoles trims a feed up to behind its last hole.
func (s *Store) trimHoles(shop string, left remains) error {
	if left.trimmed.Number == 0 {
		return nil
	}
	s.log.Info("changes of a shop were lost: its feed is trimmed up to behind them", "shop", shop, "number", uint64(left.trimmed.Number))
	var gone [][]byte
	for _, number := range left.numbers {
		if number > left.trimmed.Number {
			break
		}
		gone = append(gone, feedKey(shop, number))
		if len(gone) == history.MaxPageRows {
			if err := s.putNow(nil, gone); err != nil {
				return err
			}
			gone = nil
		}
	}
	return s.putNow([]pair{{trimKey(shop), rowValue(left.trimmed.Number, left.trimmed.Feed)}}, gone)
}

// putNow writes past the drafts, before any is taken.
func (s *Store) putNow(puts []pair, deletes [][]byte) error {
	txn := s.db.NewTransactionAt(s.timestamps.latest(), true)
	defer txn.Discard()
	d := accepted{puts: puts, deletes: deletes}
	if err := d.write(txn); err != nil {
		return err
	}
	return s.sync(txn)
}
