package app

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
)

// A book with a damaged table does not open; what is sound of it is salvaged, restored, and
// rebuilt is a book that keeps its promises, but for records that are told to be lost.
func TestSalvage(t *testing.T) {
	base := t.TempDir()
	dir := filepath.Join(base, "book")
	store := openBook(t, dir)
	for i := range 12 {
		keepDemo(t, store, "shop-1", byLaw, []string{"uk-car", "sedan-nail", "dual-rear-truck"}[i%3])
	}
	records := countRows(t, store, "i")
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	says(t, exitDone, "0 changes are lost", "salvage", "--store", dir, filepath.Join(base, "sound.backup"))

	damage(t, dir)
	if _, err := badger.Open(dir, badger.Options{}); err == nil {
		t.Fatal("opened")
	}
	file, again := filepath.Join(base, "salvaged.backup"), filepath.Join(base, "again")
	says(t, exitDone, "is damaged in", "salvage", "--store", dir, file)
	says(t, exitDone, "again holds", "restore", file, "--store", again)
	_, said := command(t, "verify", "--store", again, "--rebuild")
	for line := range strings.Lines(said) {
		lost := strings.Contains(line, "a record that is not there") || strings.Contains(line, "leads to") || strings.Contains(line, "is of a vehicle that is not there")
		told := strings.Contains(line, "written anew") || strings.HasPrefix(line, "gaugebook: read") || strings.HasPrefix(line, "Read ")
		if !lost && !told && !strings.Contains(line, "of vehicles") {
			t.Errorf("neither lost nor written anew: %s", line)
		}
	}
	salvaged := openBook(t, again)
	left := countRows(t, salvaged, "i")
	t.Logf("%d of %d visits are salvaged", left, records)
	if left == 0 || left > records {
		t.Errorf("%d of %d visits are salvaged", left, records)
	}
	if err := salvaged.Close(); err != nil {
		t.Fatal(err)
	}
}

// damage flips a bit of the largest table, where it has its rows.
func damage(t *testing.T, dir string) {
	t.Helper()
	tables, err := filepath.Glob(filepath.Join(dir, "*.sst"))
	if err != nil || len(tables) == 0 {
		t.Fatalf("tables %q, %v", tables, err)
	}
	largest, size := "", int64(0)
	for _, name := range tables {
		if info, err := os.Stat(name); err == nil && info.Size() > size {
			largest, size = name, info.Size()
		}
	}
	data, err := os.ReadFile(largest)
	if err != nil {
		t.Fatal(err)
	}
	data[len(data)/3] ^= 16
	if err := os.WriteFile(largest, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

// countRows counts the rows of a kind.
func countRows(t *testing.T, store history.Store, kind string) (n int) {
	t.Helper()
	c := &counting{kind: kind}
	if err := history.Copy(t.Context(), store, c, nil); err != nil {
		t.Fatal(err)
	}
	return c.n
}

type counting struct {
	lister
	kind string
	n    int
}

func (c *counting) Rows(rows []history.Row) error {
	for _, r := range rows {
		if string(r.Key[:1]) == c.kind {
			c.n++
		}
	}
	return nil
}
