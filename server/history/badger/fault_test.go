package badger

import (
	"bytes"
	"errors"
	"io/fs"
	"log/slog"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
)

// mustRefuse commits some drafts that are not taken, and gives what the last was told.
func mustRefuse[E error](t *testing.T, store *Store) (refused E) {
	t.Helper()
	for range 20 {
		_, err := store.Commit(t.Context(), row("row", "refused"))
		if !errors.As(err, &refused) {
			t.Fatalf("%v, want a %T", err, refused)
		}
	}
	if err := store.Writable(); !errors.As(err, &refused) {
		t.Errorf("Writable says %v, want a %T", err, refused)
	}
	return refused
}

func lines(log *bytes.Buffer) int { return strings.Count(log.String(), "\n") }

// A folder that is gone, or another in its place, stops the writing and not the reading;
// the log has one line. When it is back, writing goes on.
func TestFolderThatIsMovedAway(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "store")
	var logged bytes.Buffer
	store := open(t, dir, Options{Logger: slog.New(slog.NewTextHandler(&logged, nil))})
	store.faults.every = time.Nanosecond
	mustCommit(t, store, row("row", "before"))

	move := func(from, to string) {
		t.Helper()
		if err := os.Rename(from, to); err != nil {
			t.Fatal(err)
		}
	}
	move(dir, dir+" elsewhere")
	_ = mustRefuse[*history.UnwritableError](t, store)
	if lines(&logged) != 1 || !strings.Contains(logged.String(), "no such file") {
		t.Errorf("the log says %q", logged.String())
	}
	if got := get(t, store, "row"); string(got.Value) != "before" {
		t.Errorf("reads %q", got.Value)
	}
	if err := os.Mkdir(dir, 0o700); err != nil {
		t.Fatal(err)
	}
	if err := mustRefuse[*history.UnwritableError](t, store); !strings.Contains(err.Error(), "another folder") {
		t.Errorf("with another folder in its place: %v", err)
	}
	if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
		t.Errorf("the other folder has %v, %v", left, err)
	}
	if err := os.Remove(dir); err != nil {
		t.Fatal(err)
	}
	move(dir+" elsewhere", dir)
	if number := mustCommit(t, store, row("row", "after")); number != 2 {
		t.Errorf("number %d, want 2", number)
	}
	if err := store.Writable(); err != nil || lines(&logged) != 2 || !strings.Contains(logged.String(), "takes drafts again") {
		t.Errorf("Writable says %v, the log %q", err, logged.String())
	}
}

// After a failed sync nothing is written, whatever comes, until the store is opened again;
// the log has one line.
func TestFailedSyncIsSaidOnce(t *testing.T) {
	var logged bytes.Buffer
	dir := t.TempDir()
	store := open(t, dir, Options{Logger: slog.New(slog.NewTextHandler(&logged, nil))})
	mustCommit(t, store, row("row", "before"))
	commit := store.commit
	store.commit = func(*engine.Txn, uint64) error { return errors.New("input/output error") }
	if _, err := store.Commit(t.Context(), row("row", "during")); err == nil {
		t.Fatal("a draft was stored that was not synced")
	}
	store.commit = commit // the disk works again: that says nothing of what it lost
	_ = mustRefuse[*history.ReadOnlyError](t, store)
	if lines(&logged) != 1 {
		t.Errorf("the log says %q", logged.String())
	}
	if got := get(t, store, "row"); string(got.Value) != "before" {
		t.Errorf("reads %q", got.Value)
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	mustCommit(t, open(t, dir, Options{}), row("row", "after"))
}

// What the engine tells of trouble stops the writing as long as it does, and the log has
// it once a minute.
func TestEngineInTroubleIsGivenNothingMore(t *testing.T) {
	var logged bytes.Buffer
	store := open(t, t.TempDir(), Options{Logger: slog.New(slog.NewTextHandler(&logged, nil))})
	for n := range 10 {
		store.engineLog.Errorf("error flushing memtable to disk: %v, retrying", n)
	}
	store.engineLog.Warningf("Block cache might be too small. Metrics: %s\n", "none")
	if err := mustRefuse[*history.UnwritableError](t, store); !strings.Contains(err.Error(), "flushing memtable to disk: 9") {
		t.Errorf("refused for %v", err)
	}
	if got := strings.Count(logged.String(), "msg=\"error flushing"); got != 1 {
		t.Errorf("%d lines of one trouble: %s", got, logged.String())
	}
	store.engineLog.illAt = time.Now().Add(-troubled - time.Second)
	mustCommit(t, store, row("row", "again"))
	store.engineLog.Warningf("While running doCompact: %v\n", "no")
	_ = mustRefuse[*history.UnwritableError](t, store)
}

func TestFaultsAreSaidOnceAMinute(t *testing.T) {
	var logged bytes.Buffer
	f := faults{log: slog.New(slog.NewTextHandler(&logged, nil))}
	for range 100 {
		f.note(nil)
		f.note(&history.DiskNearlyFullError{})
	}
	if lines(&logged) != 1 {
		t.Errorf("to and fro: %s", logged.String())
	}
	f.at = f.at.Add(-2 * sayEvery)
	for range 100 {
		f.note(nil)
	}
	if lines(&logged) != 2 || !strings.Contains(logged.String(), "again") {
		t.Errorf("the last line does not tell how it is: %s", logged.String())
	}
}

// A store that is open holds room in reserve where there is enough, gives it back where
// the disk is full at its end or its beginning, and leaves none behind.
func TestReserveIsHeldAndGivenBack(t *testing.T) {
	dir := t.TempDir()
	free := uint64(1 << 30)
	opts := Options{MinFree: 3 << 20, FreeSpace: func(dir string) (uint64, error) {
		if _, err := os.Stat(filepath.Join(dir, reserveName)); err == nil {
			return free, nil
		}
		return free + 1<<20, nil
	}}
	held := func() int64 {
		info, err := os.Stat(filepath.Join(dir, reserveName))
		if errors.Is(err, fs.ErrNotExist) {
			return 0
		}
		return info.Size()
	}
	store := open(t, dir, opts)
	mustCommit(t, store, row("row", "kept"))
	for range 500 {
		if held() > 0 {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	if got := held(); got != 1<<20 {
		t.Fatalf("%d bytes in reserve", got)
	}
	if err := store.Close(); err != nil || held() != 0 {
		t.Errorf("closed with %v, %d bytes in reserve", err, held())
	}

	kept := filepath.Join(dir, reserveName) // as after a kill
	if err := os.WriteFile(kept, make([]byte, 1<<20), 0o600); err != nil {
		t.Fatal(err)
	}
	free = 0
	store = open(t, dir, opts)
	_ = mustRefuse[*history.DiskNearlyFullError](t, store)
	free = 1 << 30 // so that it ends in order
	if got := get(t, store, "row"); string(got.Value) != "kept" || held() != 0 {
		t.Errorf("reads %q, %d bytes in reserve", got.Value, held())
	}
	if err := store.Close(); err != nil {
		t.Error(err)
	}
}

// With no room at all, and none in reserve, a store is not opened to be written.
func TestNoRoomToOpen(t *testing.T) {
	_, err := Open(t.TempDir(), Options{FreeSpace: func(string) (uint64, error) { return 1000, nil }})
	if full := (*history.DiskNearlyFullError)(nil); !errors.As(err, &full) || full.Free != 1000 {
		t.Errorf("%v, want that the disk is nearly full", err)
	}
}

// TestPowerLossWithUnsyncedPages has the power go while a draft is written: of the pages
// that it changed in the log some reached the disk and some did not. What was answered
// before is there, and that draft is whole or not there.
func TestPowerLossWithUnsyncedPages(t *testing.T) {
	const page, drafts, seed = 4096, 12, 11
	dir := t.TempDir()
	store := open(t, dir, Options{tune: smallFiles, MinFree: 3 << 20})
	logFile := filepath.Join(dir, "00001.mem")
	var images [][]byte
	for i := range drafts {
		if _, err := store.Commit(t.Context(), crashDraft(string(rune('a'+i)), bytes.Repeat([]byte{'x'}, 15_000))); err != nil {
			t.Fatal(err)
		}
		image, err := os.ReadFile(logFile)
		if err != nil {
			t.Fatal(err)
		}
		images = append(images, image)
	}
	random, whole, torn := rand.New(rand.NewPCG(seed, 0)), 0, 0
	for answered := 1; answered < drafts; answered++ {
		synced, written := images[answered-1], images[answered]
		mixed, lost := bytes.Clone(synced), false
		reached := []int{2, 100}[answered%2] // one of so many did not
		for at := 0; at < len(mixed); at += page {
			if random.IntN(reached) > 0 {
				copy(mixed[at:at+page], written[at:at+page])
			} else if !bytes.Equal(synced[at:at+page], written[at:at+page]) {
				lost = true
			}
		}
		copied := filepath.Join(t.TempDir(), "copied")
		if err := os.CopyFS(copied, os.DirFS(dir)); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(copied, filepath.Base(logFile)), mixed, 0o600); err != nil {
			t.Fatal(err)
		}
		after := open(t, copied, Options{tune: smallFiles, MinFree: 3 << 20})
		stored := readCrashed(t, after)
		for i := range answered {
			if id := string(rune('a' + i)); stored[id] != history.Number(i+1) {
				t.Errorf("%d answered, %q has number %d", answered, id, stored[id])
			}
		}
		if want := map[bool]int{false: answered + 1, true: answered}[lost]; len(stored) != want {
			t.Errorf("%d answered, pages lost %v: %d drafts are there", answered, lost, len(stored))
		}
		if number, err := after.Commit(t.Context(), history.Draft{Shop: crashShop}); err != nil || int(number) != len(stored)+1 {
			t.Errorf("the next after %d has number %d, %v", len(stored), number, err)
		}
		if lost {
			torn++
		} else {
			whole++
		}
		if err := after.Close(); err != nil {
			t.Error(err)
		}
	}
	if torn == 0 || whole == 0 {
		t.Errorf("%d whole and %d torn: the cuts are no test", whole, torn)
	}
}
