package badger

import (
	"bytes"
	"errors"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"
	"time"

	"gaugebook.dev/server/history"
)

// rotUnder flips a bit of a file in place, under whoever has it open.
func rotUnder(t *testing.T, path string) {
	t.Helper()
	file, err := os.OpenFile(path, os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	info, err := file.Stat()
	if err != nil {
		t.Fatal(err)
	}
	var b [1]byte
	at := info.Size() / 3
	if _, err := file.ReadAt(b[:], at); err != nil {
		t.Fatal(err)
	}
	b[0] ^= 1
	if _, err := file.WriteAt(b[:], at); err != nil {
		t.Fatal(err)
	}
	if err := file.Close(); err != nil {
		t.Fatal(err)
	}
}

// TestRotUnderAnOpenStore damages a table of an open store: it takes no further drafts, says so
// in one line, and is refused when it is opened again, even where the engine has put the table
// together with others meanwhile.
func TestRotUnderAnOpenStore(t *testing.T) {
	for _, compacted := range []bool{false, true} {
		dir := filepath.Join(t.TempDir(), "store")
		fill(t, dir, 2000)
		var said lockedLog
		opts := Options{CheckEvery: 10 * time.Millisecond, Logger: slog.New(slog.NewTextHandler(&said, nil))}
		store := open(t, dir, opts)
		mustCommit(t, store, row("row", "before"))
		names, _ := tables(t, dir)
		rotUnder(t, names[0])

		var err error
		for range 1000 {
			if _, err = store.Commit(t.Context(), row("row", "after")); err != nil {
				break
			}
			time.Sleep(5 * time.Millisecond)
		}
		readOnly, damage := (*history.ReadOnlyError)(nil), (*DamageError)(nil)
		if !errors.As(err, &readOnly) || readOnly.Unsure || !errors.As(err, &damage) || damage.Damages[0].File != filepath.Base(names[0]) {
			t.Fatalf("a draft was answered with %v", err)
		}
		if get(t, store, "row").Version == history.Absent {
			t.Error("what was written before is no longer read")
		}
		if n := strings.Count(said.String(), "it was found damaged while it was open"); n != 1 {
			t.Errorf("said %d times: %s", n, said.String())
		}
		if compacted {
			if err := store.db.Flatten(1); err != nil {
				t.Fatal(err)
			}
		}
		if err := store.Close(); err != nil {
			t.Fatal(err)
		}

		damage = nil
		if _, err := Open(dir, opts); !errors.As(err, &damage) || !strings.Contains(err.Error(), filepath.Base(names[0])) {
			t.Fatalf("opened again: %v", err)
		}
		if _, err := AcceptLoss(dir, damage.Code, opts); err != nil {
			t.Fatal(err)
		}
		mustCommit(t, open(t, dir, opts), row("row", "on"))
	}
}

// lockedLog is a log that several goroutines write.
type lockedLog struct {
	mu   sync.Mutex
	said bytes.Buffer
}

func (l *lockedLog) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.said.Write(p)
}

func (l *lockedLog) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.said.String()
}

// TestSoundTablesStayWritable checks tables over and over while they come and go.
func TestSoundTablesStayWritable(t *testing.T) {
	store := open(t, t.TempDir(), Options{tune: smallFiles, CheckEvery: time.Millisecond})
	for i := range 200 {
		mustCommit(t, store, row(history.Key("").Uint64(uint64(i%20)), strings.Repeat("x", 20_000+i)))
	}
	if err := store.db.Flatten(1); err != nil {
		t.Fatal(err)
	}
	mustCommit(t, store, row("row", "on"))
}
