package app

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
)

// command runs a command and gives its exit status and all that it says.
func command(t *testing.T, args ...string) (code int, said string) {
	t.Helper()
	var out bytes.Buffer
	code = Main(t.Context(), args, nil, strings.NewReader(""), &out, &out)
	return code, out.String()
}

// says holds a command to an exit status, and to what it says.
func says(t *testing.T, code int, part string, args ...string) {
	t.Helper()
	got, said := command(t, args...)
	if got != code || !strings.Contains(said, part) {
		t.Errorf("%q ends with %d: %s; want %d and %q", args, got, said, code, part)
	}
}

func openBook(t *testing.T, dir string) *badger.Store {
	t.Helper()
	store, err := badger.Open(dir, badger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	return store
}

// contents is all that a store holds, as lines.
func contents(t *testing.T, store history.Store) string {
	t.Helper()
	lines := &lister{}
	if err := history.Copy(t.Context(), store, lines, nil); err != nil {
		t.Fatal(err)
	}
	return lines.String()
}

// lister is a history.Loader that lists.
type lister struct{ strings.Builder }

func (l *lister) linef(format string, args ...any) { _, _ = fmt.Fprintf(l, format, args...) }

func (l *lister) Shop(shop history.Loaded) error {
	l.linef("shop %q %d, trimmed %d %q\n", shop.Name, shop.Last, shop.Trimmed.Number, shop.Trimmed.Feed)
	return nil
}

func (l *lister) Changes(changes []history.Change) error {
	for _, c := range changes {
		l.linef("%d %q\n", c.Number, c.Feed)
	}
	return nil
}

func (l *lister) Rows(rows []history.Row) error {
	for _, r := range rows {
		l.linef("%q %d %q\n", r.Key, r.Version, r.Value)
	}
	return nil
}

func (l *lister) Done() error { return nil }

// A book is backed up while its server has it open, and restored elsewhere it is as it was,
// once in order and once from a path that is longer than a socket's.
func TestBackupWhileServed(t *testing.T) {
	for _, name := range []string{"book", strings.Repeat("a folder with a long name ", 5)} {
		base := t.TempDir()
		dir, file := filepath.Join(base, name), filepath.Join(base, "monday.backup")
		store := openBook(t, dir)
		keepDemo(t, store, "shop-1", byLaw, "uk-car")
		want := contents(t, store)
		said := &lockedBuffer{}
		op := openOperator(dir, store, nil, slog.New(slog.NewTextHandler(said, nil)))
		says(t, exitDone, "1 shop with", "backup", "--store", dir, file)
		var asked sync.WaitGroup
		for i := range 3 {
			asked.Go(func() { says(t, exitDone, "1 shop with", "backup", "--store", dir, fmt.Sprint(file, i)) })
		}
		asked.Wait()
		op.close()
		if err := store.Close(); err != nil {
			t.Fatal(err)
		}
		if _, err := os.Lstat(filepath.Join(dir, operatorSocket)); err == nil {
			t.Error("the socket is left behind")
		}
		again := filepath.Join(base, "again")
		says(t, exitDone, "again holds 1 shop", "restore", file, "--store", again)
		restored := openBook(t, again)
		if got := contents(t, restored); got != want {
			t.Errorf("restored it is\n%s\nwant\n%s", got, want)
		}
		if err := restored.Close(); err != nil {
			t.Fatal(err)
		}
		says(t, exitDone, "1 shop with", "backup", "--store", again, filepath.Join(base, "closed.backup"))
		says(t, exitBadInput, "not empty", "restore", file, "--store", again)
		says(t, exitBadInput, "there already", "backup", "--store", again, file)
	}
}

// Of a file that is no whole backup no book is made, and nothing is left.
func TestRestoreRefusesWhatIsNoBackup(t *testing.T) {
	base := t.TempDir()
	dir, file := filepath.Join(base, "book"), filepath.Join(base, "monday.backup")
	store := openBook(t, dir)
	keepDemo(t, store, "shop-1", byLaw, "uk-car")
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	says(t, exitDone, "", "backup", "--store", dir, file)
	whole, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	again := filepath.Join(base, "again")
	for said, content := range map[string][]byte{
		"cut short":             whole[:len(whole)/2],
		"not as it was written": append(append(bytes.Clone(whole[:len(whole)/2]), whole[len(whole)/2]^4), whole[len(whole)/2+1:]...),
		"no backup":             []byte("shopping list: milk, bread"),
		"behind its end":        append(bytes.Clone(whole), '\n'),
		"only the beginning":    whole[:5],
		"of format 7 and this":  bytes.Replace(whole, []byte("backup 1\n"), []byte("backup 7\n"), 1),
	} {
		bad := filepath.Join(base, "bad.backup")
		if err := os.WriteFile(bad, content, 0o600); err != nil {
			t.Fatal(err)
		}
		says(t, exitBadInput, said, "restore", bad, "--store", again)
		if left, err := filepath.Glob(again + "*"); err != nil || len(left) > 0 {
			t.Errorf("%s leaves %q, %v", said, left, err)
		}
	}
	says(t, exitFailed, "no such file", "restore", filepath.Join(base, "none"), "--store", again)
	says(t, exitFailed, "no such file", "backup", "--store", again, filepath.Join(base, "none"))
}

// A server that ends while somebody takes a backup, or takes nothing of it, ends soon, and
// who takes it is told; nothing of it keeps the name of a backup.
func TestServerThatEndsBreaksABackupOff(t *testing.T) {
	base := t.TempDir()
	dir := filepath.Join(base, "book")
	store := openBook(t, dir)
	for i := range 40 {
		large := make([]byte, 900_000)
		for j := range large {
			large[j] = byte(i * j * (j >> 8)) // does not shrink much
		}
		if _, err := store.Commit(t.Context(), history.Draft{Shop: "north", Put: []history.Put{{Key: history.Key(fmt.Sprint(i)), Value: large}}}); err != nil {
			t.Fatal(err)
		}
	}
	op := openOperator(dir, store, nil, discard())
	conn, err := askOperator(dir)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.ReadFull(conn, make([]byte, 100)); err != nil {
		t.Fatal(err)
	}
	op.close() // returns, though nobody reads on
	file := filepath.Join(base, "cut.backup")
	_, _, err = keepBackup(conn, file, io.Discard)
	if err == nil || conn.Close() != nil || store.Close() != nil {
		t.Errorf("kept without an error: %v", err)
	}
	if left, _ := filepath.Glob(file + "*"); len(left) > 0 {
		t.Errorf("left: %q", left)
	}
}

// A backup that is interrupted leaves nothing behind.
func TestInterruptedBackupLeavesNothing(t *testing.T) {
	base := t.TempDir()
	dir, file := filepath.Join(base, "book"), filepath.Join(base, "monday.backup")
	store := openBook(t, dir)
	keepDemo(t, store, "shop-1", byLaw, "uk-car")
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	stop()
	var said bytes.Buffer
	code := Main(ctx, []string{"backup", "--store", dir, file}, nil, strings.NewReader(""), &said, &said)
	if code != exitFailed || !strings.Contains(said.String(), "interrupted") {
		t.Errorf("ends with %d: %s", code, said.String())
	}
	if left, _ := filepath.Glob(file + "*"); len(left) > 0 {
		t.Errorf("left: %q", left)
	}
}

func discard() *slog.Logger { return slog.New(slog.DiscardHandler) }
