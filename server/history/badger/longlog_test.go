package badger

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
)

// A log that was left by a program which held more of it in memory is opened.
func TestLongerLogsAreOpened(t *testing.T) {
	dir, left := t.TempDir(), filepath.Join(t.TempDir(), "left")
	store := open(t, dir, Options{MinFree: 3, tune: func(o engine.Options) engine.Options { return o.WithMemTableSize(3 * memTableSize) }})
	const rows = 25
	for i := range rows {
		mustCommit(t, store, row(history.Key("").Uint64(uint64(i)), strings.Repeat("x", 900_000)))
	}
	if err := os.CopyFS(left, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	after := open(t, left, Options{})
	for i := range rows {
		if got := get(t, after, history.Key("").Uint64(uint64(i))); len(got.Value) != 900_000 {
			t.Errorf("row %d has %d bytes", i, len(got.Value))
		}
	}
	if o := engineOptions(t.TempDir()); o.MemTableSize != memTableSize {
		t.Errorf("without a log %d bytes are held", o.MemTableSize)
	}
}
