// Package badger keeps a record on disk, in one directory, with the embedded
// engine of that name.
//
// The engine syncs once for every transaction. One goroutine therefore writes
// for all: it takes the first draft that waits and whatever else waits at that
// moment, checks each against the drafts before it, and commits those that hold
// in one transaction and so with one sync, then answers them. It never waits
// for more to come: one caller alone pays for one sync, and many share it.
//
// The engine's own clock of transactions is set by that goroutine too, and
// readers are given the timestamp of the last commit that is known to be on disk.
// So nobody ever reads what a failed sync may lose again.
package badger

import (
	"context"
	"crypto/rand"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"sync"
	"sync/atomic"
	"time"

	engine "github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/options"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/internal/notify"
)

// Options are what a store may be told. The zero value serves a small server.
type Options struct {
	// Logger hears from the engine; nil: nobody does.
	Logger *slog.Logger

	// MinFree is how many bytes must be free on the disk for a draft to be
	// taken; 0 means DefaultMinFree. A disk that is full would kill the process:
	// the engine writes by way of mapped memory. A third of it is held besides, in a
	// file that makes room when the store is opened again on a full disk.
	MinFree uint64

	// FreeSpace tells how many bytes are free where dir is; nil: the system is
	// asked. On systems other than Linux and macOS it must be given.
	FreeSpace func(dir string) (uint64, error)

	// CleanEvery is how often the engine's value log is asked to give back space;
	// 0 means every 10 minutes.
	CleanEvery time.Duration

	// CheckEvery is how often all tables are checked while the store is open; 0 means often
	// enough for each to be checked daily. A damaged one makes the store read-only.
	CheckEvery time.Duration

	// ReadOnly opens a store to be read alone: nothing in its directory changes,
	// any number of processes may do so at a time, and Commit answers
	// *history.ReadOnlyError.
	ReadOnly bool

	// NewEpoch makes a new epoch, for a directory restored from a copy.
	NewEpoch bool

	// StateDir is another directory, where it is noted what was acknowledged last; made
	// where it is missing. By it a loss at the end of the log is told from a write that was
	// cut short. Empty: nothing is noted.
	StateDir string

	// New makes a store even where one was before, as the state file tells.
	New bool

	tune       func(engine.Options) engine.Options // in tests: smaller files
	groupBytes int                                 // in tests: other than maxGroupBytes
	groupSize  int                                 // in tests: other than maxGroupSize
	knows      *formats                            // in tests: other than known
	accepting  bool                                // see AcceptLoss
}

// formats are what the program knows.
func (o Options) formats() formats {
	if o.knows != nil {
		return *o.knows
	}
	return known
}

// DefaultMinFree is the free space below which drafts are refused, in bytes,
// where Options do not say. The engine has up to 100 MB of files in the making:
// three logs of 9 MB, the tables that come out of them, and those that it puts
// together from them.
const DefaultMinFree = 192 << 20

// How much goes into one group. The engine takes 1.4 MB a transaction: a group that is
// just not full and the largest draft together are two. The count is more than wait at a
// time with a hundred callers.
const (
	maxGroupSize  = 256
	maxGroupBytes = 1_000_000
)

// Store is a history.Store on disk.
type Store struct {
	dir       string
	readOnly  bool // opened to be read alone
	log       *slog.Logger
	db        *engine.DB
	names     *names
	state     *state // nil where nothing is noted
	epoch     history.Epoch
	minFree   uint64
	freeSpace func(dir string) (uint64, error)
	reserve   reserve
	engineLog *engineLog
	faults    faults

	closeWithin time.Duration

	groupSize  int
	groupBytes int
	// commit commits a transaction at a timestamp of the engine's clock. Tests put
	// failures here.
	commit func(txn *engine.Txn, timestamp uint64) error

	changed    notify.Notifier
	timestamps timestamps
	failure    atomic.Pointer[failure]
	stats      struct{ groups, drafts, syncs, cleanings atomic.Uint64 }

	gate    sync.RWMutex // held for reading while the engine is read or a draft handed over
	closed  bool         // under gate
	closing chan struct{}
	ended   sync.Once
	drafts  chan *pending // closed once closed is set
	written chan struct{} // closed when the writer has gone
	cleaned chan struct{} // closed when the cleaner has gone

	watching sync.WaitGroup // until who checks the tables has gone
}

// failure is why the store takes no drafts any more.
type failure struct{ cause error }

var _ history.Store = (*Store)(nil)

// InUseError says that another process, or this one, has the directory open.
type InUseError struct {
	Dir string
}

// Error names the directory.
func (e *InUseError) Error() string {
	return fmt.Sprintf("the store in %s is in use: one process at a time can open it", e.Dir)
}

// Stats are counts since a store was opened.
type Stats struct {
	Groups    uint64 // groups of drafts that were written together
	Drafts    uint64 // drafts stored
	Syncs     uint64 // transactions committed, each with one sync of the log
	Cleanings uint64 // times the value log was asked to give back space
}

// Open opens the store in a directory, which is made where it is missing unless
// the store is only to be read.
//
// Before the engine opens them all files are checked, and nothing is changed where one
// is damaged.
//
// Errors: *InUseError; *LeftOpenError; *DamageError; *FormatError; *ForeignError;
// *history.DiskNearlyFullError; one that
// says what else cannot be read; those of the file system.
func Open(dir string, opts Options) (*Store, error) {
	s := &Store{
		dir:         dir,
		readOnly:    opts.ReadOnly,
		log:         opts.Logger,
		minFree:     opts.MinFree,
		freeSpace:   opts.FreeSpace,
		closeWithin: closeWithin,
		groupSize:   opts.groupSize,
		groupBytes:  opts.groupBytes,
		commit:      func(txn *engine.Txn, timestamp uint64) error { return txn.CommitAt(timestamp, nil) },
		closing:     make(chan struct{}),
		drafts:      make(chan *pending),
		written:     make(chan struct{}),
		cleaned:     make(chan struct{}),
	}
	if s.log == nil {
		s.log = slog.New(slog.DiscardHandler)
	}
	if s.minFree == 0 {
		s.minFree = DefaultMinFree
	}
	if s.freeSpace == nil {
		s.freeSpace = freeSpace
	}
	s.engineLog, s.faults.log = newEngineLog(s.log), s.log
	s.reserve = reserve{filepath.Join(dir, reserveName), s.minFree / 3}
	if s.groupSize == 0 {
		s.groupSize = maxGroupSize
	}
	if s.groupBytes == 0 {
		s.groupBytes = maxGroupBytes
	}
	if opts.CleanEvery == 0 {
		opts.CleanEvery = 10 * time.Minute
	}
	if opts.CheckEvery == 0 {
		opts.CheckEvery = checkEvery
	}

	if err := s.openEngine(opts); err != nil {
		return nil, err
	}
	if err := s.openNumbering(opts); err != nil {
		return nil, errors.Join(err, s.closeEngine())
	}
	go s.write()
	go s.clean(opts.CleanEvery)
	if !opts.ReadOnly {
		s.watching.Go(func() { s.watch(opts.CheckEvery, checkPace) })
	}
	return s, nil
}

func (s *Store) openEngine(asked Options) error {
	if asked.ReadOnly {
		s.failure.Store(&failure{errOpenedToRead})
		if err := withLock(s.dir, false, closedInOrder); err != nil {
			return err
		}
	} else if err := makeDir(s.dir); err != nil {
		return err
	}
	if err := withLock(s.dir, !asked.ReadOnly, func(dir string) error {
		if err := guard(dir, asked, s.log); err != nil || asked.ReadOnly {
			return err
		}
		return s.makeReady(dir)
	}); err != nil {
		return err
	}
	if err := asked.formats().bringUp(s.dir, asked); err != nil {
		return err
	}
	opts := asked.engineOptions(s.dir).WithLogger(s.engineLog).WithReadOnly(asked.ReadOnly)
	db, err := engine.OpenManaged(opts)
	if err != nil {
		return fmt.Errorf("the store in %s cannot be opened: %w", s.dir, err)
	}
	if s.names, err = openNames(s.dir); err != nil {
		return errors.Join(err, db.Close())
	}
	s.db = db
	s.db.SetDiscardTs(s.timestamps.advance(db.MaxVersion()))
	return nil
}

// removeEmptyLogs removes logs of length zero. Nothing is lost with one: drafts are
// answered when their log is synced with its length.
//
//nolint:gosec // where a store lies is its operator's to say
func removeEmptyLogs(dir string) error {
	names, err := emptyLogs(dir)
	for _, name := range names {
		err = errors.Join(err, os.Remove(name))
	}
	return err
}

// emptyLogs lists logs of length zero. A process that is killed between making a
// log's name and giving it a length leaves one, and the engine does not open
// beside it.
func emptyLogs(dir string) (names []string, err error) {
	entries, err := os.ReadDir(dir)
	if err != nil {
		return nil, err
	}
	for _, entry := range entries {
		name := filepath.Join(dir, entry.Name())
		if ext := filepath.Ext(name); ext != ".mem" && ext != ".vlog" {
			continue
		}
		if info, err := entry.Info(); err != nil || !info.Mode().IsRegular() || info.Size() > 0 {
			continue // the engine says what is wrong with it
		}
		names = append(names, name)
	}
	return names, nil
}

// memTableSize is how much of a log is held in memory before it becomes a table. The engine
// keeps eight buffers, each as large as the largest table that was built in it, which is that
// of a log and takes three times as much; and it takes 15 % of this a transaction, which the
// largest draft is to fit into.
const memTableSize = 9 << 20

// largestLog is the length of the longest log in a directory. The engine makes one twice as
// long as what it holds in memory, and falls over where it finds one that it cannot hold: of
// a program that held more.
func largestLog(dir string) (length int64) {
	entries, _ := os.ReadDir(dir) // what cannot be read is said when it is opened
	for _, entry := range entries {
		if info, err := entry.Info(); err == nil && filepath.Ext(entry.Name()) == ".mem" {
			length = max(length, info.Size())
		}
	}
	return length
}

// engineOptions are chosen for a server of two cores and 512 MB.
func engineOptions(dir string) engine.Options {
	opts := engine.DefaultOptions(dir).
		WithSyncWrites(true).
		WithExternalMagic(Format).
		WithMemTableSize(max(memTableSize, largestLog(dir)/2)).
		WithNumMemtables(2).
		WithNumCompactors(2). // the fewest it takes
		WithNumGoroutines(2).
		WithValueLogFileSize(64 << 20). // stays empty: MaxValue is below the threshold of 1 MiB
		// Rows say mostly what their neighbors say: in blocks that hold several of them they
		// take a fifth, and checking all tables at opening costs a fifth too.
		WithCompression(options.ZSTD).
		WithZSTDCompressionLevel(1).
		WithBlockSize(32 << 10).
		WithBlockCacheSize(16 << 20). // of blocks as they are read; the engine demands one
		WithIndexCacheSize(16 << 20).
		// guard has checked all tables whole. What is wrong with a block that is read later
		// the engine keeps to itself and passes over: never rely on that alone.
		WithChecksumVerificationMode(options.OnBlockRead).
		WithDetectConflicts(false). // there is one writer
		WithMetricsEnabled(false)   // they are of the process, not of the store
	// A table is built in memory, of blocks before and after they are compressed, in buffers
	// that double: one of 512 kB takes some 7 MB, and a dozen are built at a time. One that grew
	// from level to level would take memory that grows with the store.
	opts.BaseTableSize = 512 << 10
	opts.TableSizeMultiplier = 1
	return opts
}

// engineOptions are those of the engine as they were asked for.
func (o Options) engineOptions(dir string) engine.Options {
	opts := engineOptions(dir).WithExternalMagic(o.formats().current)
	if o.tune != nil {
		opts = o.tune(opts)
	}
	return opts
}

// openNumbering reads the epoch, or makes it, and begins to note what is acknowledged.
func (s *Store) openNumbering(asked Options) error {
	if err := s.openEpoch(asked); err != nil || asked.ReadOnly {
		return err
	}
	return s.openState(asked.StateDir)
}

// openState begins to note what is acknowledged, with what is there now. Where that cannot
// be done the record goes on without.
func (s *Store) openState(dir string) error {
	if dir == "" {
		return nil
	}
	var err error
	if s.state, err = openState(dir, s.dir, s.epoch, s.log); err != nil {
		s.log.Error("what is acknowledged cannot be noted: a loss at the end of the store's log could not be told", "error", err)
		return nil
	}
	shops, err := s.Shops(context.Background())
	if err != nil {
		return err
	}
	last := map[string]history.Number{}
	for _, shop := range shops {
		if last[shop], err = s.last(context.Background(), shop); err != nil {
			return err
		}
	}
	s.state.note(s.timestamps.latest(), last)
	return nil
}

// openEpoch reads the epoch, or makes one where there is none yet or a new one
// is wanted.
func (s *Store) openEpoch(asked Options) error {
	view := s.db.NewTransactionAt(s.timestamps.latest(), false)
	defer view.Discard()
	value, err := read(view, epochKey)
	if err != nil {
		return err
	}
	if value == nil && !asked.accepting && (s.timestamps.latest() != 0 || asked.ReadOnly) {
		return fmt.Errorf("the directory %s holds no store, but something else of the same engine", s.dir)
	}
	if value != nil && (asked.ReadOnly || !asked.NewEpoch) {
		content, err := readPlain(epochKey, value)
		if err == nil && copy(s.epoch[:], content) != len(s.epoch) {
			err = damaged(epochKey, value)
		}
		return err
	}

	_, _ = rand.Read(s.epoch[:]) // documented never to fail
	txn := s.db.NewTransactionAt(s.timestamps.latest(), true)
	defer txn.Discard()
	if err := txn.Set(epochKey, plainValue(s.epoch[:])); err != nil {
		return err
	}
	return s.sync(txn)
}

// Epoch is the identity of the numbering, see history.Store.
func (s *Store) Epoch() history.Epoch { return s.epoch }

// Stats counts what was done since the store was opened.
func (s *Store) Stats() Stats {
	return Stats{
		Groups:    s.stats.groups.Load(),
		Drafts:    s.stats.drafts.Load(),
		Syncs:     s.stats.syncs.Load(),
		Cleanings: s.stats.cleanings.Load(),
	}
}

// Wait sleeps until there is something newer, see history.Store.
func (s *Store) Wait(ctx context.Context, shop string, after history.Number) error {
	for {
		notified, unsubscribe := s.changed.Subscribe(shop)
		last, err := s.last(ctx, shop)
		if err != nil || last > after {
			unsubscribe()
			return err
		}
		select {
		case <-notified:
		case <-ctx.Done():
		case <-s.closing:
		}
		unsubscribe()
	}
}

func (s *Store) last(ctx context.Context, shop string) (history.Number, error) {
	snap, err := s.Snapshot(ctx, shop)
	if err != nil {
		return 0, err
	}
	defer snap.Close()
	return snap.Last(ctx)
}

// use runs f while the engine is open, and makes an error of a panic in it: an
// engine that could not make its next file falls over when it is read.
func (s *Store) use(ctx context.Context, f func() error) (err error) {
	s.gate.RLock()
	defer s.gate.RUnlock()
	if s.closed {
		return history.ErrClosed
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	defer func() {
		if panicked := recover(); panicked != nil {
			err = s.fellOver(panicked)
		}
	}()
	return f()
}

// clean keeps room in reserve where there is enough, and asks the engine from time
// to time to give back space in its value log, which it does only when asked.
func (s *Store) clean(every time.Duration) {
	defer close(s.cleaned)
	ticker := time.NewTicker(every)
	defer ticker.Stop()
	for {
		s.keepReserve()
		select {
		case <-s.closing:
			return
		case <-ticker.C:
		}
		if s.failure.Load() != nil {
			continue // it would write
		}
		s.stats.cleanings.Add(1)
		err := s.db.RunValueLogGC(0.5) // half of a file is to be gained
		for err == nil {
			err = s.db.RunValueLogGC(0.5)
		}
		if !errors.Is(err, engine.ErrNoRewrite) && !errors.Is(err, engine.ErrRejected) {
			s.log.Error("the store's value log could not be cleaned", "error", err)
		}
	}
}

// makeDir makes a directory that outlives a power cut.
//
//nolint:gosec // where a store lies is its operator's to say
func makeDir(dir string) error {
	if _, err := os.Stat(dir); err == nil {
		return nil
	}
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return err
	}
	return syncParents(dir)
}
