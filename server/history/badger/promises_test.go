package badger

import (
	"path/filepath"
	"testing"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/historytest"
)

// open opens a store that is closed when the test ends.
func open(tb testing.TB, dir string, opts Options) *Store {
	tb.Helper()
	store, err := Open(dir, opts)
	if err != nil {
		tb.Fatal(err)
	}
	tb.Cleanup(func() { _ = store.Close() }) // tests that are about closing look at its error
	return store
}

func TestPromises(t *testing.T) {
	fresh := func(t *testing.T) history.Store {
		t.Helper()
		return open(t, t.TempDir(), Options{})
	}
	historytest.Run(t, fresh, historytest.Capabilities{
		Reopen: func(t *testing.T, store history.Store) history.Store {
			t.Helper()
			if err := store.Close(); err != nil {
				t.Fatal(err)
			}
			return open(t, store.(*Store).dir, Options{})
		},
		Load: func(t *testing.T) (history.Loader, func() history.Store) {
			t.Helper()
			dir := filepath.Join(t.TempDir(), "book")
			l := load(t, dir)
			return l, func() history.Store { return open(t, dir, Options{}) }
		},
	})
}
