package badger

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"

	"gaugebook.dev/server/history"
)

// load begins to load a store, which is abandoned when the test ends without it.
func load(t *testing.T, dir string) *Loader {
	t.Helper()
	l, err := Load(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := l.Abandon(); err != nil {
			t.Error(err)
		}
	})
	return l
}

// What is there already is never written over.
func TestLoadedIntoAnEmptyPlaceAlone(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "notes.txt"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := Load(dir, Options{})
	if held, ok := errors.AsType[*NotEmptyError](err); !ok || held.Dir != dir {
		t.Errorf("a folder with a file in it: %v", err)
	}
	store := open(t, filepath.Join(t.TempDir(), "book"), Options{})
	if _, err := Load(store.dir, Options{}); err == nil {
		t.Error("a folder with a store in it is taken")
	}
	l := load(t, t.TempDir())
	if err := os.WriteFile(filepath.Join(l.dir, "notes.txt"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, held := errors.AsType[*NotEmptyError](l.Done()); !held {
		t.Error("a folder that is filled meanwhile is written over")
	}
	if _, err := os.Stat(filepath.Join(l.dir, "notes.txt")); err != nil {
		t.Errorf("what came meanwhile is gone: %v", err)
	}
}

// What was not loaded to its end leaves nothing, and nothing that opens.
func TestWhatIsNotLoadedToItsEndIsNoStore(t *testing.T) {
	parent := t.TempDir()
	dir := filepath.Join(parent, "book")
	l := load(t, dir)
	if err := errors.Join(l.Shop(history.Loaded{Name: "north", Last: 1}), l.Changes([]history.Change{{Number: 1}}), l.Rows([]history.Row{{Key: "k", Version: 1}})); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(dir); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("it has its name before its end: %v", err)
	}
	if err := l.Abandon(); err != nil {
		t.Fatal(err)
	}
	if left, err := os.ReadDir(parent); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

// A disk that fills is told of before the engine falls over it.
func TestLoadingEndsBeforeTheDiskIsFull(t *testing.T) {
	free := uint64(10)
	l, err := Load(filepath.Join(t.TempDir(), "book"), Options{MinFree: 10, FreeSpace: func(string) (uint64, error) { return free, nil }})
	if err != nil {
		t.Fatal(err)
	}
	if err := l.Shop(history.Loaded{Name: "north", Last: 1}); err != nil {
		t.Fatal(err)
	}
	free = 9
	err = l.Changes([]history.Change{{Number: 1}})
	if full, ok := errors.AsType[*history.DiskNearlyFullError](err); !ok || full.Free != 9 {
		t.Errorf("%v", err)
	}
	if err := l.Abandon(); err != nil {
		t.Error(err)
	}
}
