package app

import (
	"bytes"
	"os"
	"path/filepath"
	"testing"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
)

// spoiled makes a book of another, without rows of a kind.
func spoiled(t *testing.T, from history.Store, dir string, kinds string) {
	t.Helper()
	to, err := badger.Load(dir, badger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := history.Copy(t.Context(), from, withoutKinds{to, kinds}, nil); err != nil {
		t.Fatal(err)
	}
}

type withoutKinds struct {
	history.Loader
	kinds string
}

func (w withoutKinds) Rows(rows []history.Row) error {
	var kept []history.Row
	for _, r := range rows {
		if !bytes.Contains([]byte(w.kinds), []byte{r.Key[0]}) {
			kept = append(kept, r)
		}
	}
	return w.Loader.Rows(kept)
}

// Books as they were written, and their backups, are verified; one that lost rows of its
// lists is told of, and rebuilt it is as it was; one that lost a record says so.
func TestVerify(t *testing.T) {
	base := t.TempDir()
	dir, file := filepath.Join(base, "book"), filepath.Join(base, "monday.backup")
	store := openBook(t, dir)
	for _, name := range []string{"uk-car", "sedan-nail", "dual-rear-truck"} {
		keepDemo(t, store, "shop-1", byLaw, name)
	}
	keepDemo(t, store, "shop-2", byLaw, "uk-car")
	lists, lost := filepath.Join(base, "lists"), filepath.Join(base, "lost")
	spoiled(t, store, lists, "fgusFSWdh")
	spoiled(t, store, lost, "i")
	op := openOperator(dir, store, nil, discard())
	says(t, exitFailed, "verify a backup, which it gives while it serves", "verify", "--store", dir)
	says(t, exitDone, "", "backup", "--store", dir, file)
	op.close()
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	says(t, exitDone, "all is as it should be", "verify", "--store", dir)
	says(t, exitDone, "2 shops with 4 vehicles", "verify", "--backup", file)
	if left, _ := filepath.Glob(file + "?*"); len(left) > 0 {
		t.Errorf("left behind: %q", left)
	}

	says(t, exitFailed, "the list by urgency lacks a row.", "verify", "--store", lists)
	says(t, exitDone, "lacks a row; it was written anew.", "verify", "--store", lists, "--rebuild")
	says(t, exitDone, "all is as it should be", "verify", "--store", lists)
	says(t, exitFailed, "names a record that is not there", "verify", "--store", lost)
	says(t, exitFailed, "stands in a backup only", "verify", "--store", lost, "--rebuild")

	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	whole[len(whole)/2] ^= 8
	if err := os.WriteFile(file, whole, 0o600); err != nil {
		t.Fatal(err)
	}
	says(t, exitBadInput, "not as it was written", "verify", "--backup", file)
	says(t, exitBadInput, "restore the backup first", "verify", "--backup", file, "--rebuild")
}
