package badger

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"maps"
	"os"
	"slices"

	engine "github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/y"

	"gaugebook.dev/server/history"
)

// Salvaged is what could be read of a store that is damaged: of each row the newest
// version that is sound. What deleted a row may be among what is lost, so that one that
// was deleted may be here again: whoever knows what rows mean is to look at them.
type Salvaged struct {
	Damages []Damage
	Epoch   history.Epoch // zero where it cannot be read

	dir   string // where it is gathered
	db    *engine.DB
	top   uint64 // the engine's newest time in it
	shops map[string]*history.Loaded
}

// Salvage reads all that is sound of the store in a directory, which nothing has open and
// in which nothing is changed, and gathers it in another, which is made and goes with Close.
//
// Errors: *InUseError; one for a directory that holds no store; those of the engine and of
// the file system.
func Salvage(dir, gathered string) (*Salvaged, error) {
	s := &Salvaged{dir: gathered, shops: map[string]*history.Loaded{}}
	err := withLock(dir, false, func(string) error {
		in, err := inspect(dir)
		if errors.Is(err, errNoStore) {
			return fmt.Errorf("there is no store in %s", dir)
		}
		if err != nil {
			return err
		}
		s.Damages, s.Epoch = in.damages, in.epoch
		return errors.Join(s.gather(in), in.close())
	})
	if err == nil {
		err = s.look()
	}
	if err != nil {
		return nil, errors.Join(err, s.Close())
	}
	return s, nil
}

// gather puts all sound entries into an engine of its own, each with its time: which of
// several is the newest it finds out itself.
func (s *Salvaged) gather(in *inspection) (err error) {
	if err := makeDir(s.dir); err != nil {
		return err
	}
	opts := engineOptions(s.dir).WithSyncWrites(false).WithLogger(newEngineLog(slog.New(slog.DiscardHandler)))
	if s.db, err = engine.OpenManaged(opts); err != nil {
		return err
	}
	batch := s.db.NewManagedWriteBatch()
	defer batch.Cancel()
	put := func(key []byte, value y.ValueStruct) error {
		plain, at := y.Copy(y.ParseKey(key)), y.ParseTs(key)
		s.top = max(s.top, at)
		if value.Meta&markDeleted != 0 {
			return batch.DeleteAt(plain, at)
		}
		return batch.SetEntryAt(engine.NewEntry(plain, y.Copy(value.Value)), at)
	}
	for _, id := range slices.Sorted(maps.Keys(in.tables)) {
		if c := in.tables[id]; c.table != nil {
			if err := c.table.each(put); err != nil && !errors.Is(err, errBlock) {
				return err
			}
		}
	}
	for _, id := range in.recovered {
		if err := in.orphans[id].table.each(put); err != nil && !errors.Is(err, errBlock) {
			return err
		}
	}
	for _, l := range in.logs {
		if err := l.eachSound(put); err != nil {
			return err
		}
	}
	return batch.Flush()
}

// eachSound gives all entries of a log that are whole, also behind what is not.
func (l *logFile) eachSound(f func(key []byte, value y.ValueStruct) error) error {
	for at := logHead; at < len(l.data); {
		e, ok := logEntry{}, mayBegin(l.data[at:])
		if ok {
			e, ok = parseEntry(l.data[at:])
		}
		if !ok {
			at++
			continue
		}
		at += e.size
		if e.kind&markEnd != 0 {
			continue
		}
		if err := f(e.key, y.ValueStruct{Meta: e.kind, Value: e.value}); err != nil {
			return err
		}
	}
	return nil
}

// each gives the newest version of every row that was gathered, in the order of their keys.
func (s *Salvaged) each(ctx context.Context, f func(key, value []byte) error) error {
	txn := s.db.NewTransactionAt(s.top, false)
	defer txn.Discard()
	it := txn.NewIterator(engine.IteratorOptions{Prefix: []byte{shopRows}})
	defer it.Close()
	for it.Rewind(); it.Valid(); it.Next() {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := it.Item().Value(func(value []byte) error { return f(it.Item().Key(), value) }); err != nil {
			return err
		}
	}
	return nil
}

// salvagedRow is a row as its key and value say; kind is none of ours where they do not.
type salvagedRow struct {
	shop    string
	kind    byte
	number  history.Number // of an entry of the feed, or the version of a row
	key     history.Key
	content []byte
}

// parse reads a row; ok is false for one that nobody can read.
func parse(key, value []byte) (r salvagedRow, ok bool) {
	end := slices.Index(key, 0)
	if end < 2 || end+1 >= len(key) || len(value) == 0 || value[0] != Format || end-1 > history.MaxShop {
		return r, false
	}
	r.shop, r.kind = string(key[1:end]), key[end+1]
	rest := key[end+2:]
	var err error
	switch r.kind {
	case kindFeed:
		if len(rest) != 8 {
			return r, false
		}
		r.number, r.content = history.Number(y.BytesToU64(rest)), value[1:]
	case kindLast, kindTrim, kindRow:
		r.number, r.content, err = readRow(key, value)
		r.key = history.Key(rest)
	default:
		return r, false
	}
	return r, err == nil && r.number > 0 && len(r.content) <= history.MaxValue && len(r.key) <= history.MaxKey
}

// look finds the shops and how far each goes.
func (s *Salvaged) look() error {
	return s.each(context.Background(), func(key, value []byte) error {
		r, ok := parse(key, value)
		if !ok {
			return nil
		}
		of := s.shops[r.shop]
		if of == nil {
			of = &history.Loaded{Name: r.shop}
			s.shops[r.shop] = of
		}
		of.Last = max(of.Last, r.number)
		if r.kind == kindTrim {
			of.Trimmed = history.Change{Number: r.number, Feed: slices.Clone(r.content)}
		}
		return nil
	})
}

// Copy gives a loader all that was salvaged, as history.Copy does of a store. In place of an
// entry of the feed that is lost it gives what lost gives. It says how many those were.
func (s *Salvaged) Copy(ctx context.Context, to history.Loader, observe func(history.Loaded), lost func() []byte) (uint64, error) {
	names := slices.Sorted(maps.Keys(s.shops))
	for _, name := range names {
		if observe != nil {
			observe(*s.shops[name])
		}
	}
	c := &salvaging{Salvaged: s, to: to, lost: lost}
	err := s.each(ctx, func(key, value []byte) error {
		if r, ok := parse(key, value); ok {
			return c.row(r)
		}
		return nil
	})
	if err == nil {
		err = c.fill(history.Number(^uint64(0)))
	}
	if err != nil {
		return c.gone, err
	}
	return c.gone, to.Done()
}

// salvaging is one run over what was salvaged.
type salvaging struct {
	*Salvaged
	to   history.Loader
	lost func() []byte

	shop *history.Loaded
	next history.Number // of the feed
	gone uint64
}

// row goes on with a row.
func (c *salvaging) row(r salvagedRow) error {
	if c.shop == nil || c.shop.Name != r.shop {
		if err := c.fill(history.Number(^uint64(0))); err != nil {
			return err
		}
		c.shop = c.shops[r.shop]
		c.next = c.shop.Trimmed.Number + 1
		if err := c.to.Shop(*c.shop); err != nil {
			return err
		}
	}
	switch {
	case r.kind == kindFeed && r.number < c.next, r.kind == kindLast, r.kind == kindTrim:
		return nil
	case r.kind == kindFeed:
		if err := c.fill(r.number); err != nil {
			return err
		}
		c.next++
		return c.to.Changes([]history.Change{{Number: r.number, Feed: slices.Clone(r.content)}})
	}
	if err := c.fill(history.Number(^uint64(0))); err != nil {
		return err
	}
	return c.to.Rows([]history.Row{{Key: r.key, Version: r.number, Value: slices.Clone(r.content)}})
}

// fill goes on with the feed before a number, or to its end, where its entries are lost.
func (c *salvaging) fill(before history.Number) error {
	if c.shop == nil {
		return nil
	}
	for ; c.next < before && c.next <= c.shop.Last; c.next++ {
		c.gone++
		if err := c.to.Changes([]history.Change{{Number: c.next, Feed: c.lost()}}); err != nil {
			return err
		}
	}
	return nil
}

// Close leaves nothing of what was gathered.
func (s *Salvaged) Close() error {
	var err error
	if s.db != nil {
		err = s.db.Close()
		s.db = nil
	}
	return errors.Join(err, os.RemoveAll(s.dir))
}
