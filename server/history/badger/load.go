package badger

import (
	"crypto/rand"
	"errors"
	"fmt"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"

	engine "github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/pb"
	"github.com/dgraph-io/ristretto/v2/z"

	"gaugebook.dev/server/history"
)

// NotEmptyError says that a directory into which a store is to be loaded holds
// something already.
type NotEmptyError struct {
	Dir string
}

// Error names the directory.
func (e *NotEmptyError) Error() string {
	return fmt.Sprintf("%s is not empty: name a folder that is empty, or that is not there yet", e.Dir)
}

// Loader is a history.Loader that makes a store on disk. It fills a directory beside
// the one that is asked for, which takes its name in the end: what was not loaded to
// its end has never the name of a store.
type Loader struct {
	order   history.Order
	dir     string // as it will be called
	filling string
	opts    Options
	db      *engine.DB
	stream  *engine.StreamWriter
	shop    string
	trim    []pair // of the shop: it comes behind its rows
}

var _ history.Loader = (*Loader)(nil)

// loadedAt is the engine's time of all that is loaded; its epoch comes behind it.
const loadedAt = 1

// Load begins a store in a directory that is empty or not there yet. Of opts the
// logger, MinFree and FreeSpace count. Either Done or Abandon ends it.
//
// Errors: *NotEmptyError; those of the engine and of the file system.
func Load(dir string, opts Options) (*Loader, error) {
	if err := empty(dir); err != nil {
		return nil, err
	}
	if opts.Logger == nil {
		opts.Logger = slog.New(slog.DiscardHandler)
	}
	if opts.MinFree == 0 {
		opts.MinFree = DefaultMinFree
	}
	if opts.FreeSpace == nil {
		opts.FreeSpace = freeSpace
	}
	dir = filepath.Clean(dir)
	if err := makeDir(filepath.Dir(dir)); err != nil {
		return nil, err
	}
	filling, err := os.MkdirTemp(filepath.Dir(dir), filepath.Base(dir)+".restoring-")
	if err != nil {
		return nil, err
	}
	l := &Loader{dir: dir, filling: filling, opts: opts}
	if l.db, err = engine.OpenManaged(opts.engineOptions(filling).WithLogger(newEngineLog(opts.Logger))); err != nil {
		return nil, errors.Join(err, os.RemoveAll(filling))
	}
	l.stream = l.db.NewStreamWriter()
	if err := l.stream.Prepare(); err != nil {
		return nil, errors.Join(err, l.Abandon())
	}
	return l, nil
}

// empty refuses a directory that holds something.
func empty(dir string) error {
	held, err := os.ReadDir(dir)
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil
	case err != nil:
		return err
	case len(held) > 0:
		return &NotEmptyError{dir}
	}
	return nil
}

// Shop begins a shop, see history.Loader. Shops, and in each its last number, its
// changes, its rows and what was trimmed come in the order of the engine's keys.
func (l *Loader) Shop(of history.Loaded) error {
	if err := l.order.Shop(of); err != nil {
		return err
	}
	if err := l.write(l.trim); err != nil {
		return err
	}
	l.shop, l.trim = of.Name, nil
	if t := of.Trimmed; t.Number > 0 {
		l.trim = []pair{{trimKey(of.Name), rowValue(t.Number, t.Feed)}}
	}
	return l.write([]pair{{lastKey(of.Name), numberValue(of.Last)}})
}

// Changes adds to the feed, see history.Loader.
func (l *Loader) Changes(changes []history.Change) error {
	if err := l.order.Changes(changes); err != nil {
		return err
	}
	var pairs []pair
	for _, c := range changes {
		pairs = append(pairs, pair{feedKey(l.shop, c.Number), plainValue(c.Feed)})
	}
	return l.write(pairs)
}

// Rows adds rows, see history.Loader.
func (l *Loader) Rows(rows []history.Row) error {
	if err := l.order.Rows(rows); err != nil {
		return err
	}
	var pairs []pair
	for _, r := range rows {
		pairs = append(pairs, pair{rowKey(l.shop, r.Key), rowValue(r.Version, r.Value)})
	}
	return l.write(pairs)
}

// write adds to the engine's tables, which it fills one by one.
func (l *Loader) write(pairs []pair) error {
	free, err := l.opts.FreeSpace(l.filling)
	if err != nil {
		return fmt.Errorf("how much room is left on the disk cannot be told, so nothing is written: %w", err)
	}
	if free < l.opts.MinFree {
		return &history.DiskNearlyFullError{Free: free, Needed: l.opts.MinFree}
	}
	if len(pairs) == 0 {
		return nil
	}
	size := 0
	for _, p := range pairs {
		size += len(p.key) + len(p.value) + 64
	}
	buffer := z.NewBuffer(size, "load")
	defer func() { _ = buffer.Release() }()
	for _, p := range pairs {
		engine.KVToBuffer(&pb.KV{Key: p.key, Value: p.value, Version: loadedAt}, buffer)
	}
	return l.stream.Write(buffer)
}

// Done makes the store, see history.Loader: the epoch, without which there is none,
// comes last.
func (l *Loader) Done() error {
	if err := l.order.Done(); err != nil {
		return err
	}
	if err := errors.Join(l.write(l.trim), l.stream.Flush()); err != nil {
		return err
	}
	l.stream = nil
	epoch := history.Epoch{}
	_, _ = rand.Read(epoch[:]) // documented never to fail
	txn := l.db.NewTransactionAt(loadedAt, true)
	defer txn.Discard()
	if err := txn.Set(epochKey, plainValue(epoch[:])); err != nil {
		return err
	}
	if err := txn.CommitAt(loadedAt+1, nil); err != nil {
		return err
	}
	err := l.db.Close()
	l.db = nil
	if err != nil {
		return err
	}
	return l.named()
}

// named gives the directory its name, for good.
func (l *Loader) named() error {
	filled, err := os.Open(l.filling)
	if err != nil {
		return err
	}
	if err := errors.Join(syncDir(filled), filled.Close()); err != nil {
		return err
	}
	if err := empty(l.dir); err != nil {
		return err
	}
	if err := os.Remove(l.dir); err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	if err := os.Rename(l.filling, l.dir); err != nil {
		return err
	}
	l.filling = ""
	return syncParents(l.dir)
}

// Abandon leaves nothing of what was loaded; after Done it does nothing.
func (l *Loader) Abandon() error {
	if l.filling == "" {
		return nil
	}
	var err error
	if l.stream != nil {
		err = l.stream.Flush() // canceled, the engine would leave goroutines behind
		l.stream = nil
	}
	if l.db != nil {
		err = errors.Join(err, l.db.Close())
		l.db = nil
	}
	return errors.Join(err, os.RemoveAll(l.filling))
}
