package badger

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
)

func mustCommit(t *testing.T, store *Store, draft history.Draft) history.Number {
	t.Helper()
	number, err := store.Commit(t.Context(), draft)
	if err != nil {
		t.Fatal(err)
	}
	return number
}

// get reads a row of the shop "north".
func get(t *testing.T, store *Store, key history.Key) history.Row {
	t.Helper()
	snap, err := store.Snapshot(t.Context(), "north")
	if err != nil {
		t.Fatal(err)
	}
	defer snap.Close()
	row, err := snap.Get(t.Context(), key)
	if err != nil {
		t.Fatal(err)
	}
	return row
}

func row(key history.Key, value string) history.Draft {
	return history.Draft{Shop: "north", Put: []history.Put{{Key: key, Value: []byte(value)}}}
}

// hold makes a store's commits wait. Whoever receives from reached knows that
// one has begun; release lets all go on.
func hold(store *Store) (reached <-chan struct{}, release func()) {
	commit := store.commit
	began := make(chan struct{}, 1000)
	wait := make(chan struct{})
	store.commit = func(txn *engine.Txn, timestamp uint64) error {
		began <- struct{}{}
		<-wait
		return commit(txn, timestamp)
	}
	return began, func() { close(wait) }
}

// storeTogether has the writer store drafts as one group.
func storeTogether(store *Store, drafts []history.Draft) []history.Committed {
	group := make([]*pending, len(drafts))
	for i, draft := range drafts {
		group[i] = &pending{draft: draft, answer: make(chan history.Committed, 1)}
	}
	store.store(group)
	answers := make([]history.Committed, len(group))
	for i, w := range group {
		answers[i] = <-w.answer
	}
	return answers
}

// fit is how many of largeDrafts the engine takes a transaction.
const fit = 7

// largeDrafts are 40 of 200 kB, 8 MB together, where the engine takes 1.4 MB a
// transaction.
func largeDrafts() []history.Draft {
	var drafts []history.Draft
	for i := range 40 {
		drafts = append(drafts, row(history.Key("").Uint64(uint64(i)), strings.Repeat("x", 200_000)))
	}
	return drafts
}

// TestGroupsShareOneTransaction has 100 drafts wait behind one whose commit is
// held up.
func TestGroupsShareOneTransaction(t *testing.T) {
	const n = 100
	tests := []struct {
		opts        Options
		least, most uint64 // transactions for all of them
	}{
		{Options{}, 1, n / 4}, // those that come too late make another group
		{Options{groupSize: 8}, n / 8, n / 4},
		{Options{groupSize: 1}, n, n},
		{Options{groupBytes: 8 * 1000}, n / 8, n / 4},
	}
	for _, test := range tests {
		t.Run(fmt.Sprintf("size %d bytes %d", test.opts.groupSize, test.opts.groupBytes), func(t *testing.T) {
			store := open(t, t.TempDir(), test.opts)
			reached, release := hold(store)
			var group sync.WaitGroup
			var handing atomic.Int64
			hand := func(draft history.Draft) {
				group.Go(func() {
					handing.Add(1)
					if _, err := store.Commit(t.Context(), draft); err != nil {
						t.Error(err)
					}
				})
			}
			before := store.Stats() // making the epoch took a transaction too
			hand(history.Draft{Shop: "first"})
			<-reached
			for i := range n {
				hand(row(history.Key("").Uint64(uint64(i)), strings.Repeat("x", 1000-2*history.RowOverhead-8)))
			}
			for handing.Load() < 1+n {
				time.Sleep(time.Millisecond)
			}
			time.Sleep(20 * time.Millisecond) // for most of them to be waiting
			release()
			group.Wait()

			after := store.Stats()
			if got := after.Drafts - before.Drafts; got != 1+n {
				t.Errorf("%d drafts counted, want %d", got, 1+n)
			}
			syncs := after.Syncs - before.Syncs - 1
			if syncs != uint64(len(reached)) || after.Groups-before.Groups-1 != syncs {
				t.Errorf("%d transactions and %d groups counted, %d were committed",
					syncs, after.Groups-before.Groups-1, len(reached))
			}
			if syncs < test.least || syncs > test.most {
				t.Errorf("%d transactions for %d drafts, want %d to %d", syncs, n, test.least, test.most)
			}
		})
	}
}

func TestGroupThatIsTooLargeIsSplit(t *testing.T) {
	store := open(t, t.TempDir(), Options{})
	before := store.Stats()
	drafts := largeDrafts()
	for i, a := range storeTogether(store, drafts) {
		got := get(t, store, drafts[i].Put[0].Key)
		if a.Err != nil || a.Number != history.Number(i+1) || got.Version != a.Number || !bytes.Equal(got.Value, drafts[i].Put[0].Value) {
			t.Errorf("draft %d was told %d, %v and has version %d", i+1, a.Number, a.Err, got.Version)
		}
	}
	if syncs := store.Stats().Syncs - before.Syncs; syncs != 6 {
		t.Errorf("%d transactions, want 6: five of %d drafts and one of 5", syncs, fit)
	}
}

// TestGroupSeesItsOwnDrafts: within one group a draft is held against those
// before it, as if each had been stored alone.
func TestGroupSeesItsOwnDrafts(t *testing.T) {
	store := open(t, t.TempDir(), Options{})
	mustCommit(t, store, row("row", "")) // number 1
	expecting := func(version history.Number, draft history.Draft) history.Draft {
		draft.Expect = []history.Expectation{{Key: "row", Version: version}}
		return draft
	}
	gone := history.Draft{Shop: "north", Delete: []history.Key{"row"}}
	elsewhere := history.Draft{Shop: "south", Put: []history.Put{{Key: "row"}}}
	steps := []struct {
		draft  history.Draft
		number history.Number // 0: stale
		found  history.Number
	}{
		{expecting(1, row("row", "a")), 2, 0},
		{expecting(1, row("row", "b")), 0, 2},
		{expecting(2, gone), 3, 0},
		{expecting(2, row("row", "c")), 0, history.Absent},
		{expecting(history.Absent, elsewhere), 1, 0},
		{expecting(history.Absent, row("row", "d")), 4, 0},
		{expecting(history.Absent, row("row", "e")), 0, 4},
	}
	var drafts []history.Draft
	for _, step := range steps {
		drafts = append(drafts, step.draft)
	}
	before := store.Stats()
	for i, a := range storeTogether(store, drafts) {
		stale := (*history.StaleError)(nil)
		if a.Number != steps[i].number || errors.As(a.Err, &stale) != (a.Number == 0) {
			t.Errorf("step %d: number %d, %v, want number %d", i, a.Number, a.Err, steps[i].number)
		}
		if stale != nil && stale.Found != steps[i].found {
			t.Errorf("step %d: found version %d, want %d", i, stale.Found, steps[i].found)
		}
	}
	if syncs := store.Stats().Syncs - before.Syncs; syncs != 1 {
		t.Errorf("%d transactions, want 1", syncs)
	}
	if got := get(t, store, "row"); string(got.Value) != "d" || got.Version != 4 {
		t.Errorf("row reads as %q, version %d; want \"d\", version 4", got.Value, got.Version)
	}
}

// TestFailedSyncMakesReadOnly fails a commit before and after the engine has
// taken it, which nobody can tell apart from outside.
func TestFailedSyncMakesReadOnly(t *testing.T) {
	broken := errors.New("input/output error")
	for _, reached := range []bool{false, true} {
		t.Run(fmt.Sprintf("written %v", reached), func(t *testing.T) {
			dir := t.TempDir()
			var logged bytes.Buffer
			store := open(t, dir, Options{Logger: slog.New(slog.NewTextHandler(&logged, nil))})
			mustCommit(t, store, row("row", "before"))
			commit := store.commit
			store.commit = func(txn *engine.Txn, timestamp uint64) error {
				if reached {
					return errors.Join(broken, commit(txn, timestamp))
				}
				return broken
			}

			var readOnly *history.ReadOnlyError
			_, err := store.Commit(t.Context(), row("row", "during"))
			if !errors.As(err, &readOnly) || !readOnly.Unsure || !errors.Is(err, broken) {
				t.Errorf("the draft that failed was told %v, want that it is not known", err)
			}
			_, err = store.Commit(t.Context(), row("row", "after"))
			if !errors.As(err, &readOnly) || readOnly.Unsure || !errors.Is(err, broken) {
				t.Errorf("the next draft was told %v, want that nothing is stored", err)
			}
			// What may not be on disk is shown to nobody.
			if got := get(t, store, "row"); string(got.Value) != "before" || got.Version != 1 {
				t.Errorf("readers are shown %q, version %d", got.Value, got.Version)
			}
			if err := store.Close(); err != nil {
				t.Fatal(err)
			}
			if !strings.Contains(logged.String(), broken.Error()) {
				t.Errorf("the failure is not in the log: %s", logged.String())
			}

			store = open(t, dir, Options{})
			want := map[bool]string{false: "before", true: "during"}[reached]
			got := get(t, store, "row")
			if string(got.Value) != want {
				t.Errorf("reopened: %q, want %q", got.Value, want)
			}
			if number := mustCommit(t, store, row("row", "again")); number != got.Version+1 {
				t.Errorf("reopened: number %d after %d", number, got.Version)
			}
		})
	}
}

// TestFailureAnswersTheWholeGroup fails the second transaction of six: what was
// in the first is stored, in the second unsure, behind it not stored.
func TestFailureAnswersTheWholeGroup(t *testing.T) {
	store := open(t, t.TempDir(), Options{})
	commit, calls := store.commit, 0
	store.commit = func(txn *engine.Txn, timestamp uint64) error {
		if calls++; calls == 2 {
			return errors.New("input/output error")
		}
		return commit(txn, timestamp)
	}
	for i, a := range storeTogether(store, largeDrafts()) {
		readOnly := (*history.ReadOnlyError)(nil)
		failed := errors.As(a.Err, &readOnly)
		switch {
		case i < fit && a.Err != nil,
			i >= fit && !failed,
			i >= fit && readOnly.Unsure != (i < 2*fit):
			t.Errorf("draft %d was told %d, %v", i+1, a.Number, a.Err)
		}
	}
	if calls != 2 {
		t.Errorf("%d transactions were tried, want 2", calls)
	}
}

// TestEngineThatCannotGoOn takes the name of the engine's next log away, so that
// it truly fails and can then not even be read.
func TestEngineThatCannotContinue(t *testing.T) {
	dir := t.TempDir()
	store := open(t, dir, Options{tune: smallFiles})
	if err := os.Mkdir(filepath.Join(dir, "00002.mem"), 0o700); err != nil {
		t.Fatal(err)
	}
	value := strings.Repeat("x", 50_000)
	var err error
	stored := 0
	for ; err == nil && stored < 100; stored++ {
		_, err = store.Commit(t.Context(), row(history.Key("").Uint64(uint64(stored)), value))
	}
	if readOnly := (*history.ReadOnlyError)(nil); !errors.As(err, &readOnly) {
		t.Fatalf("after %d drafts: %v, want read-only", stored, err)
	}
	if snap, err := store.Snapshot(t.Context(), "north"); err != nil {
		t.Error(err)
	} else {
		if _, err := snap.Get(t.Context(), history.Key("").Uint64(0)); err == nil || !strings.Contains(err.Error(), "cannot be read") {
			t.Errorf("an engine that cannot be read answered %v", err)
		}
		snap.Close()
	}
	if err := store.Close(); err != nil {
		t.Error(err)
	}

	if err := os.Remove(filepath.Join(dir, "00002.mem")); err != nil {
		t.Fatal(err)
	}
	store = open(t, dir, Options{tune: smallFiles})
	for i := range stored - 1 {
		if got := get(t, store, history.Key("").Uint64(uint64(i))); string(got.Value) != value {
			t.Errorf("draft %d of %d is lost", i+1, stored-1)
		}
	}
}

func TestDiskNearlyFullRefusesInTime(t *testing.T) {
	var free atomic.Uint64
	free.Store(1000)
	store := open(t, t.TempDir(), Options{
		MinFree:   1000,
		FreeSpace: func(string) (uint64, error) { return free.Load(), nil },
	})
	mustCommit(t, store, row("row", "room"))

	free.Store(999)
	_, err := store.Commit(t.Context(), row("row", "no room"))
	if full := (*history.DiskNearlyFullError)(nil); !errors.As(err, &full) || full.Free != 999 || full.Needed != 1000 {
		t.Errorf("with too little room: %v", err)
	}
	if got := get(t, store, "row"); string(got.Value) != "room" {
		t.Errorf("a refused draft wrote %q", got.Value)
	}

	free.Store(1000)
	if number := mustCommit(t, store, row("row", "room again")); number != 2 {
		t.Errorf("number %d, want 2", number)
	}
}

func TestFreeSpaceThatCannotBeToldRefuses(t *testing.T) {
	broken := errors.New("no such device")
	store := open(t, t.TempDir(), Options{FreeSpace: func(string) (uint64, error) { return 0, broken }})
	if _, err := store.Commit(t.Context(), row("row", "")); !errors.Is(err, broken) {
		t.Errorf("%v, want %v", err, broken)
	}
}

func TestFreeSpaceOfTheSystem(t *testing.T) {
	dir := t.TempDir()
	free, err := freeSpace(dir)
	if err != nil || free == 0 || free > 1<<60 {
		t.Errorf("%d bytes are free, %v", free, err)
	}
	if _, err := freeSpace(filepath.Join(dir, "missing")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("of a missing directory: %v", err)
	}
}

func TestOneProcessAtATime(t *testing.T) {
	dir := t.TempDir()
	store := open(t, dir, Options{})
	_, err := Open(dir, Options{})
	if inUse := (*InUseError)(nil); !errors.As(err, &inUse) || inUse.Dir != dir {
		t.Errorf("opened twice: %v", err)
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	open(t, dir, Options{})
}

// TestLogWithoutLengthIsNoHindrance leaves what a process leaves that is killed
// while it makes a log.
func TestLogWithoutLengthIsNoHindrance(t *testing.T) {
	for _, name := range []string{"00001.mem", "00002.mem", "00009.mem", "000002.vlog"} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			store := open(t, dir, Options{})
			mustCommit(t, store, row("row", "kept"))
			if err := store.Close(); err != nil {
				t.Fatal(err)
			}
			empty, err := os.OpenFile(filepath.Join(dir, name), os.O_CREATE|os.O_EXCL, 0o600)
			if err != nil {
				t.Fatal(err)
			}
			if err := empty.Close(); err != nil {
				t.Fatal(err)
			}
			store = open(t, dir, Options{})
			if got := get(t, store, "row"); string(got.Value) != "kept" {
				t.Errorf("row reads as %q", got.Value)
			}
			mustCommit(t, store, row("row", "goes on"))
		})
	}
}

func TestForeignDirectoriesAreRefused(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	laterFormat, noFormat := t.TempDir(), t.TempDir()
	epoch := plainValue(make([]byte, 16))
	writeForeign(t, engineOptions(laterFormat).WithExternalMagic(Format+1), epochKey, epoch)
	writeForeign(t, engineOptions(noFormat).WithExternalMagic(0), epochKey, epoch)
	otherFiles := t.TempDir()
	if err := os.WriteFile(filepath.Join(otherFiles, "letter.txt"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	otherContent := t.TempDir()
	writeForeign(t, engineOptions(otherContent), []byte("key"), []byte("value"))
	laterEpoch, shortEpoch := t.TempDir(), t.TempDir()
	writeForeign(t, engineOptions(laterEpoch), epochKey, append([]byte{Format + 1}, epoch[1:]...))
	writeForeign(t, engineOptions(shortEpoch), epochKey, epoch[:16])

	tests := map[string]struct{ dir, says string }{
		"a file":         {file, "not a directory"},
		"a later format": {laterFormat, "written by a newer program"},
		"no format":      {noFormat, "something else"},
		"another use":    {otherContent, "something else"},
		"other files":    {otherFiles, "letter.txt"},
		"a later epoch":  {laterEpoch, "cannot be read"},
		"a short epoch":  {shortEpoch, "cannot be read"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			if _, err := Open(test.dir, Options{}); err == nil || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v, want an error that says %q", err, test.says)
			}
		})
	}
}

// writeForeign makes a directory of the engine with one row that is none of ours.
func writeForeign(t *testing.T, opts engine.Options, key, value []byte) {
	t.Helper()
	db, err := engine.OpenManaged(opts.WithLogger(nil))
	if err != nil {
		t.Fatal(err)
	}
	txn := db.NewTransactionAt(1, true)
	if err := errors.Join(txn.Set(key, value), txn.CommitAt(1, nil), db.Close()); err != nil {
		t.Fatal(err)
	}
}

// TestDamagedRowIsAnError writes rows past the store that it cannot have written.
func TestDamagedRowIsAnError(t *testing.T) {
	store := open(t, t.TempDir(), Options{})
	for range 4 {
		mustCommit(t, store, row("good", ""))
	}
	txn := store.db.NewTransactionAt(store.timestamps.latest(), true)
	err := errors.Join(
		txn.Set(rowKey("north", "short"), []byte{Format, 0}),
		txn.Set(rowKey("north", "unknown"), append([]byte{Format + 1}, make([]byte, 20)...)),
		txn.Delete(feedKey("north", 2)),
		txn.Set(feedKey("north", 4), nil),
		txn.Set(lastKey("south"), []byte{Format}),
		store.sync(txn))
	if err != nil {
		t.Fatal(err)
	}
	north, err := store.Snapshot(t.Context(), "north")
	if err != nil {
		t.Fatal(err)
	}
	defer north.Close()
	south, err := store.Snapshot(t.Context(), "south")
	if err != nil {
		t.Fatal(err)
	}
	defer south.Close()

	_, short := north.Get(t.Context(), "short")
	_, unknown := north.Get(t.Context(), "unknown")
	_, scan := north.Scan(t.Context(), history.Range{})
	_, missing := north.Changes(t.Context(), 0, 2)
	_, empty := north.Changes(t.Context(), 3, 0)
	_, last := south.Last(t.Context())
	_, expected := store.Commit(t.Context(), history.Draft{Shop: "north", Expect: []history.Expectation{{Key: "short", Version: 1}}})
	_, numbered := store.Commit(t.Context(), history.Draft{Shop: "south"})
	for name, err := range map[string]error{
		"short row": short, "unknown format": unknown, "scan": scan, "missing change": missing, "empty change": empty,
		"last number": last, "expectation": expected, "draft": numbered,
	} {
		if err == nil || !strings.Contains(err.Error(), "cannot be read") {
			t.Errorf("%s: %v, want that it cannot be read", name, err)
		}
	}
	// Others are not harmed.
	mustCommit(t, store, row("good", ""))
}

func TestNewEpochKeepsTheRows(t *testing.T) {
	dir := t.TempDir()
	store := open(t, dir, Options{})
	mustCommit(t, store, row("row", "kept"))
	before := store.Epoch()
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}

	store = open(t, dir, Options{NewEpoch: true})
	renewed := store.Epoch()
	if renewed == before || renewed == (history.Epoch{}) {
		t.Errorf("epoch %v became %v", before, renewed)
	}
	if got := get(t, store, "row"); string(got.Value) != "kept" || got.Version != 1 {
		t.Errorf("row reads as %q, version %d", got.Value, got.Version)
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	if got := open(t, dir, Options{}).Epoch(); got != renewed {
		t.Errorf("epoch %v became %v", renewed, got)
	}
}

// TestDeletedStaysDeleted writes, deletes and writes past the engine's files,
// has it put them together, and reads, also from a snapshot that was open before.
func TestDeletedStaysDeleted(t *testing.T) {
	dir := t.TempDir()
	store := open(t, dir, Options{tune: smallFiles})
	const rows = 40 // 2 MB, where a log holds 1
	fill := func(value string) {
		for i := range rows {
			mustCommit(t, store, row(history.Key("").Uint64(uint64(i)), strings.Repeat(value, 50_000)))
		}
	}
	fill("1")
	old, err := store.Snapshot(t.Context(), "north")
	if err != nil {
		t.Fatal(err)
	}
	for i := range rows {
		mustCommit(t, store, history.Draft{Shop: "north", Delete: []history.Key{history.Key("").Uint64(uint64(i))}})
	}
	for i := range rows { // other rows push these down
		mustCommit(t, store, row(history.Key("other").Uint64(uint64(i)), strings.Repeat("2", 50_000)))
	}
	if err := store.db.Flatten(2); err != nil {
		t.Fatal(err)
	}

	for i := range rows {
		key := history.Key("").Uint64(uint64(i))
		if got, err := old.Get(t.Context(), key); err != nil || got.Version != history.Number(i+1) {
			t.Fatalf("an open snapshot lost row %d: version %d, %v", i, got.Version, err)
		}
	}
	old.Close()
	mustCommit(t, store, history.Draft{Shop: "north"}) // old versions may go from here
	if err := store.db.Flatten(2); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		for i := range rows {
			if got := get(t, store, history.Key("").Uint64(uint64(i))); got.Version != history.Absent {
				t.Fatalf("row %d is back with version %d", i, got.Version)
			}
		}
		if err := store.Close(); err != nil {
			t.Fatal(err)
		}
		store = open(t, dir, Options{tune: smallFiles})
	}
}

func TestValueLogStaysEmptyAndIsCleaned(t *testing.T) {
	dir := t.TempDir()
	store := open(t, dir, Options{CleanEvery: time.Millisecond})
	mustCommit(t, store, row("row", strings.Repeat("x", history.MaxValue)))
	for store.Stats().Cleanings < 3 {
		time.Sleep(time.Millisecond)
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	// 20 bytes are the head of a log.
	if info, err := os.Stat(filepath.Join(dir, "000001.vlog")); err != nil || info.Size() > 20 {
		t.Errorf("the value log: %v, %v; want it empty", info, err)
	}
}

func TestEngineSpeaksToTheLogger(t *testing.T) {
	var logged bytes.Buffer
	handler := slog.NewTextHandler(&logged, &slog.HandlerOptions{Level: slog.LevelInfo})
	log := newEngineLog(slog.New(handler))
	log.Errorf("error %d\n", 1)
	log.Warningf("warning %d\n", 2)
	log.Infof("information %d\n", 3)
	log.Debugf("detail %d\n", 4)
	for _, want := range []string{`level=ERROR msg="error 1"`, `level=WARN msg="warning 2"`} {
		if !strings.Contains(logged.String(), want) {
			t.Errorf("the log lacks %s: %s", want, logged.String())
		}
	}
	if strings.Contains(logged.String(), "information") || strings.Contains(logged.String(), "detail") {
		t.Errorf("the log has the engine's details: %s", logged.String())
	}
}

func TestTimestampsKeepWhatIsRead(t *testing.T) {
	var ts timestamps
	ts.advance(5)
	a, b := ts.acquire(), ts.acquire()
	if a != 5 || b != 5 || ts.latest() != 5 {
		t.Fatalf("acquired %d and %d at %d, want 5", a, b, ts.latest())
	}
	if earliest := ts.advance(6); earliest != 5 {
		t.Errorf("two are at 5, the earliest is %d", earliest)
	}
	ts.release(a)
	c := ts.acquire()
	if earliest := ts.advance(7); earliest != 5 {
		t.Errorf("one is at 5, the earliest is %d", earliest)
	}
	ts.release(b)
	if earliest := ts.advance(8); earliest != 6 {
		t.Errorf("one is at 6, the earliest is %d", earliest)
	}
	ts.release(c)
	if earliest := ts.advance(9); earliest != 9 || len(ts.reading) != 0 {
		t.Errorf("none is open, the earliest is %d, %v", earliest, ts.reading)
	}
}

func TestNamesAreSyncedWhenTheyChange(t *testing.T) {
	dir := t.TempDir()
	names, err := openNames(dir)
	if err != nil {
		t.Fatal(err)
	}
	syncs := 0
	names.syncDir = func(dir *os.File) error {
		syncs++
		return syncDir(dir)
	}
	past := time.Now().Add(-time.Hour).Truncate(time.Second)
	future := time.Now().Add(time.Hour).Truncate(time.Second)
	steps := []struct {
		changed time.Time
		want    int
	}{
		{past, 1},
		{past, 1}, // nothing new
		{past.Add(time.Minute), 2},
		{past.Add(time.Minute), 2},
		{past, 3}, // a clock that was set back
		{future, 4},
		{future, 5}, // may have changed again within the same tick
	}
	for i, step := range steps {
		if err := os.Chtimes(dir, step.changed, step.changed); err != nil {
			t.Fatal(err)
		}
		if err := names.sync(); err != nil || syncs != step.want {
			t.Errorf("step %d: %d syncs, %v, want %d", i, syncs, err, step.want)
		}
	}
	if err := names.Close(); err != nil {
		t.Fatal(err)
	}
	if err := names.sync(); err == nil {
		t.Error("a directory that cannot be looked at was synced")
	}
}

// TestCloseWaitsForWhatWasTaken closes a store while a commit is held up.
func TestCloseWaitsForWhatWasTaken(t *testing.T) {
	dir := t.TempDir()
	store := open(t, dir, Options{})
	reached, release := hold(store)
	taken, closed := make(chan error, 1), make(chan error, 1)
	go func() {
		_, err := store.Commit(t.Context(), row("row", "taken"))
		taken <- err
	}()
	<-reached
	go func() { closed <- store.Close() }()
	<-store.closing
	time.Sleep(20 * time.Millisecond) // long enough to close too early
	select {
	case err := <-closed:
		t.Errorf("closed, with %v, while a draft was being written", err)
	default:
	}
	release()
	if err := errors.Join(<-taken, <-closed); err != nil {
		t.Fatal(err)
	}
	if got := get(t, open(t, dir, Options{}), "row"); string(got.Value) != "taken" {
		t.Errorf("reopened: %q, want what was taken", got.Value)
	}
}

// lateContext ends after its error was asked for some times.
type lateContext struct {
	context.Context //nolint:containedctx // it is a context
	left            int
}

func (c *lateContext) Err() error {
	if c.left--; c.left < 0 {
		return context.Canceled
	}
	return nil
}

func TestScanEndsWithItsContext(t *testing.T) {
	store := open(t, t.TempDir(), Options{})
	for i := range 10 {
		mustCommit(t, store, row(history.Key("").Uint64(uint64(i)), ""))
	}
	snap, err := store.Snapshot(t.Context(), "north")
	if err != nil {
		t.Fatal(err)
	}
	defer snap.Close()
	if page, err := snap.Scan(&lateContext{t.Context(), 5}, history.Range{}); !errors.Is(err, context.Canceled) || page.Rows != nil {
		t.Errorf("%d rows, %v; want the context's error", len(page.Rows), err)
	}
	if changes, err := snap.Changes(&lateContext{t.Context(), 5}, 0, 0); !errors.Is(err, context.Canceled) || changes != nil {
		t.Errorf("%d changes, %v; want the context's error", len(changes), err)
	}
}

// TestCanceledWhileHeldUp: a draft that waits behind a slow disk is dropped
// when its context ends; the one that the writer has taken is carried on.
func TestCanceledWhileHeldUp(t *testing.T) {
	store := open(t, t.TempDir(), Options{})
	reached, release := hold(store)
	ctx, cancel := context.WithCancel(t.Context())
	taken, waiting := make(chan error, 1), make(chan error, 1)
	go func() {
		_, err := store.Commit(ctx, row("taken", ""))
		taken <- err
	}()
	<-reached
	go func() {
		_, err := store.Commit(ctx, row("waiting", ""))
		waiting <- err
	}()
	time.Sleep(20 * time.Millisecond) // for it to wait
	cancel()
	if err := <-waiting; !errors.Is(err, context.Canceled) {
		t.Errorf("the draft that waited was told %v", err)
	}
	release()
	if err := <-taken; err != nil {
		t.Errorf("the draft that was taken was told %v", err)
	}
	if get(t, store, "taken").Version != 1 || get(t, store, "waiting").Version != history.Absent {
		t.Error("what was answered is not what was stored")
	}
}
