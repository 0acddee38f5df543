package badger

import (
	"crypto/sha256"
	"errors"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"testing"

	"gaugebook.dev/server/history"
)

// content gives the digest of every file of a directory.
func content(t *testing.T, dir string) map[string][sha256.Size]byte {
	t.Helper()
	files := map[string][sha256.Size]byte{}
	err := fs.WalkDir(os.DirFS(dir), ".", func(name string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() {
			return err
		}
		data, err := os.ReadFile(filepath.Join(dir, name))
		files[name] = sha256.Sum256(data)
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return files
}

func TestOpenedToReadNothingChanges(t *testing.T) {
	dir := t.TempDir()
	store := open(t, dir, Options{})
	epoch := store.Epoch()
	mustCommit(t, store, row("row", "kept"))
	if _, err := Open(dir, Options{ReadOnly: true}); !errors.As(err, new(*InUseError)) {
		t.Errorf("opened to be read while it is written: %v", err)
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}

	before := content(t, dir)
	first, second := open(t, dir, Options{ReadOnly: true, NewEpoch: true}), open(t, dir, Options{ReadOnly: true})
	for _, reader := range []*Store{first, second} {
		if got := get(t, reader, "row"); string(got.Value) != "kept" || reader.Epoch() != epoch {
			t.Errorf("row reads as %q, epoch %v, was %v", got.Value, reader.Epoch(), epoch)
		}
		readOnly := (*history.ReadOnlyError)(nil)
		if _, err := reader.Commit(t.Context(), row("row", "changed")); !errors.As(err, &readOnly) || readOnly.Unsure || !errors.Is(err, errOpenedToRead) {
			t.Errorf("a draft was answered with %v", err)
		}
	}
	if _, err := Open(dir, Options{}); !errors.As(err, new(*InUseError)) {
		t.Errorf("opened to be written while it is read: %v", err)
	}
	if err := errors.Join(first.Close(), second.Close()); err != nil {
		t.Error(err)
	}
	if !maps.Equal(content(t, dir), before) {
		t.Error("files were changed")
	}
	mustCommit(t, open(t, dir, Options{}), row("row", "changed"))
}

// TestLeftOpenIsNotRead copies the directory of a running store, as a kill leaves
// it.
func TestLeftOpenIsNotRead(t *testing.T) {
	dir, left := t.TempDir(), t.TempDir()
	mustCommit(t, open(t, dir, Options{}), row("row", "kept"))
	if err := os.CopyFS(left, os.DirFS(dir)); err != nil {
		t.Fatal(err)
	}
	before := content(t, left)
	leftOpen := (*LeftOpenError)(nil)
	if _, err := Open(left, Options{ReadOnly: true}); !errors.As(err, &leftOpen) || leftOpen.Dir != left {
		t.Errorf("opened: %v", err)
	}
	if !maps.Equal(content(t, left), before) {
		t.Error("files were changed")
	}
	if err := open(t, left, Options{}).Close(); err != nil {
		t.Fatal(err)
	}
	if got := get(t, open(t, left, Options{ReadOnly: true}), "row"); string(got.Value) != "kept" {
		t.Errorf("row reads as %q", got.Value)
	}
}

func TestLogWithoutLengthIsNotRead(t *testing.T) {
	dir := t.TempDir()
	if err := open(t, dir, Options{}).Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "000002.vlog"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := Open(dir, Options{ReadOnly: true}); !errors.As(err, new(*LeftOpenError)) {
		t.Errorf("opened: %v", err)
	}
}

func TestWhereNoStoreIsNoneIsMade(t *testing.T) {
	for _, dir := range []string{t.TempDir(), filepath.Join(t.TempDir(), "missing")} {
		if _, err := Open(dir, Options{ReadOnly: true}); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("opened: %v", err)
		}
		if files, err := os.ReadDir(dir); len(files) > 0 {
			t.Errorf("%v, %v", files, err)
		}
	}
}
