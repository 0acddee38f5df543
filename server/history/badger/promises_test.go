package badger

import (
	"testing"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/historytest"
)

// open opens a store that is closed when the test ends.
func open(t testing.TB, dir string, opts Options) *Store {
	t.Helper()
	store, err := Open(dir, opts)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = store.Close() }) // tests that are about closing look at its error
	return store
}

func TestPromises(t *testing.T) {
	historytest.Run(t,
		func(t *testing.T) history.Store { return open(t, t.TempDir(), Options{}) },
		historytest.Capabilities{Reopen: func(t *testing.T, store history.Store) history.Store {
			if err := store.Close(); err != nil {
				t.Fatal(err)
			}
			return open(t, store.(*Store).dir, Options{})
		}})
}
