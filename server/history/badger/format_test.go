package badger

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	engine "github.com/dgraph-io/badger/v4"
)

// louder is a migration for the test: rows of the shop "north" are written larger.
func louder(db *engine.DB) error {
	latest := db.MaxVersion()
	view := db.NewTransactionAt(latest, false)
	defer view.Discard()
	txn := db.NewTransactionAt(latest, true)
	defer txn.Discard()
	it := view.NewIterator(engine.IteratorOptions{Prefix: shopKey("north", kindRow)})
	defer it.Close()
	for it.Rewind(); it.Valid(); it.Next() {
		value, err := it.Item().ValueCopy(nil)
		if err == nil {
			err = txn.Set(it.Item().KeyCopy(nil), bytes.ToUpper(value))
		}
		if err != nil {
			return err
		}
	}
	return txn.CommitAt(latest+1, nil)
}

// TestOlderFormatIsBroughtUp opens a store of this format with a program of two formats later,
// which was interrupted at first, and then with this one again.
func TestOlderFormatIsBroughtUp(t *testing.T) {
	dir := t.TempDir()
	opts := Options{StateDir: t.TempDir()}
	store := open(t, dir, opts)
	epoch := store.Epoch()
	mustCommit(t, store, row("row", "kept"))
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}

	broken := errors.New("the power went")
	var ran []string
	later := formats{current: Format + 2, next: map[uint16]migration{
		Format: func(db *engine.DB) error {
			ran = append(ran, "first")
			return louder(db)
		},
		Format + 1: func(*engine.DB) error {
			ran = append(ran, "second")
			return broken
		},
	}}
	opts.knows = &later
	if _, err := Open(dir, opts); !errors.Is(err, broken) || !strings.Contains(err.Error(), "stays of format 2") {
		t.Errorf("interrupted: %v", err)
	}
	later.next[Format+1] = func(*engine.DB) error {
		ran = append(ran, "second again")
		return nil
	}
	store = open(t, dir, opts)
	if got := get(t, store, "row"); string(got.Value) != "KEPT" || store.Epoch() != epoch {
		t.Errorf("row reads as %q, epoch %v was %v", got.Value, store.Epoch(), epoch)
	}
	if number := mustCommit(t, store, row("row", "on")); number != 2 {
		t.Errorf("number %d", number)
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	if got := strings.Join(ran, ", "); got != "first, second, second again" {
		t.Errorf("ran %s", got)
	}
	if err := open(t, dir, opts).Close(); err != nil {
		t.Fatal(err)
	}

	newer := (*FormatError)(nil)
	if _, err := Open(dir, Options{}); !errors.As(err, &newer) || newer.Found != Format+2 || newer.Known != Format || !strings.Contains(err.Error(), "written by a newer program") {
		t.Errorf("opened by an older program: %v", err)
	}
	if _, err := Open(dir, Options{ReadOnly: true}); !errors.As(err, new(*FormatError)) {
		t.Errorf("read by an older program: %v", err)
	}
	if _, err := AcceptLoss(dir, "any", Options{}); !errors.As(err, new(*FormatError)) {
		t.Errorf("accepted by an older program: %v", err)
	}
}

// TestFormatWithoutAWayIsRefused: a program that no longer knows a format says so.
func TestFormatWithoutAWayIsRefused(t *testing.T) {
	dir := t.TempDir()
	if err := open(t, dir, Options{}).Close(); err != nil {
		t.Fatal(err)
	}
	before := content(t, dir)
	opts := Options{knows: &formats{current: Format + 2, next: map[uint16]migration{Format + 1: louder}}}
	if _, err := Open(dir, opts); !errors.As(err, new(*FormatError)) || !strings.Contains(err.Error(), "no longer knows") {
		t.Errorf("opened: %v", err)
	}
	if after := content(t, dir); len(after) != len(before) {
		t.Error("files were changed")
	}
}

// TestOlderFormatIsNotReadAlone: nothing may change where a store is only read.
func TestOlderFormatIsNotReadAlone(t *testing.T) {
	dir := t.TempDir()
	if err := open(t, dir, Options{}).Close(); err != nil {
		t.Fatal(err)
	}
	opts := Options{ReadOnly: true, knows: &formats{current: Format + 1, next: map[uint16]migration{Format: louder}}}
	left := (*FormatError)(nil)
	if _, err := Open(dir, opts); !errors.As(err, &left) || !strings.Contains(err.Error(), "opened for writing") {
		t.Errorf("opened: %v", err)
	}
}
