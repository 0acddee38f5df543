package badger

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
)

// change rewrites a file.
func change(t *testing.T, path string, f func(data []byte) []byte) {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, f(data), 0o600); err != nil {
		t.Fatal(err)
	}
}

// killedStore is a store of 30 drafts in a log, as a kill leaves it, with its state.
func killedStore(t *testing.T) (dir string, opts Options, whole []transaction) {
	t.Helper()
	root := t.TempDir()
	dir, opts = filepath.Join(root, "store"), Options{tune: smallFiles, MinFree: 1, StateDir: filepath.Join(root, "state")}
	store := open(t, dir, opts)
	for i := range 30 {
		mustCommit(t, store, crashDraft(fmt.Sprint(i), make([]byte, 1000)))
	}
	left := filepath.Join(root, "left")
	copyDir(t, left, dir)
	if err := errors.Join(store.Close(), os.RemoveAll(dir), os.Rename(left, dir)); err != nil {
		t.Fatal(err)
	}
	log, err := readLog(filepath.Join(dir, "00001.mem"), "")
	if err != nil {
		t.Fatal(err)
	}
	return dir, opts, log.whole
}

// TestDamageIsTold says of each kind of damage what is damaged, how much may be missing and
// what to do, in words.
func TestDamageIsTold(t *testing.T) {
	log := func(f func(whole []transaction, data []byte) []byte) func(*testing.T, string, []transaction) {
		return func(t *testing.T, dir string, whole []transaction) {
			change(t, filepath.Join(dir, "00001.mem"), func(data []byte) []byte { return f(whole, data) })
		}
	}
	remove := func(name string) func(*testing.T, string, []transaction) {
		return func(t *testing.T, dir string, _ []transaction) {
			if err := os.Remove(filepath.Join(dir, name)); err != nil {
				t.Fatal(err)
			}
		}
	}
	const numbers = " writes that were acknowledged are missing, of shop \"north\" the numbers "
	// The first transaction makes the epoch: draft n is in whole[n].
	tests := map[string]struct {
		damage func(t *testing.T, dir string, whole []transaction)
		says   string
	}{
		"a bit in the middle of the log": {log(func(whole []transaction, data []byte) []byte {
			data[whole[11].start+40] ^= 1
			return data
		}), "00001.mem cannot be read from byte %d on: 20" + numbers + "11 to 30."},
		"the end of the log gone": {log(func(whole []transaction, data []byte) []byte {
			return data[:whole[29].start]
		}), "the newest writes are gone: 2" + numbers + "29 to 30."},
		"the last write in pieces": {log(func(whole []transaction, data []byte) []byte {
			data[whole[30].start+40] ^= 1
			return data
		}), "00001.mem cannot be read from byte %d on: 1" + numbers + "30 to 30."},
		"the head of the log": {log(func(_ []transaction, data []byte) []byte {
			binary.BigEndian.PutUint64(data, 7)
			return data
		}), "00001.mem is damaged at its head: no write is missing by that."},
		"no log":            {remove("00001.mem"), "the newest writes are gone: 30" + numbers + "1 to 30."},
		"no list of tables": {remove(engine.ManifestFilename), "MANIFEST is gone: which tables count can only be told from what they hold."},
		"no list of tables, but something else": {func(t *testing.T, dir string, _ []transaction) {
			change(t, filepath.Join(dir, engine.ManifestFilename), func([]byte) []byte { return []byte("a letter") })
		}, "MANIFEST is no longer a list of tables: "},
		"the registry": {func(t *testing.T, dir string, _ []transaction) {
			change(t, filepath.Join(dir, registryName), func([]byte) []byte { return []byte("a letter") })
		}, "KEYREGISTRY is damaged: no write is missing by that."},
		"the whole store gone": {func(t *testing.T, dir string, _ []transaction) {
			if err := errors.Join(os.RemoveAll(dir), os.Mkdir(dir, 0o700)); err != nil {
				t.Fatal(err)
			}
		}, "the whole store is gone: 30" + numbers + "1 to 30."},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			dir, opts, whole := killedStore(t)
			test.damage(t, dir, whole)
			says := test.says
			if strings.Contains(says, "%d") {
				at := whole[11].start
				if strings.Contains(name, "last") {
					at = whole[30].start
				}
				says = fmt.Sprintf(says, at)
			}
			damage := (*DamageError)(nil)
			_, err := Open(dir, opts)
			if !errors.As(err, &damage) || !strings.Contains(err.Error(), says) || !strings.Contains(err.Error(), damage.Code) {
				t.Errorf("%v, want it to say %q and the code", err, says)
			}
		})
	}
}

// TestDamagedTableIsToldInRows damages one block, the index, and the whole of a table.
func TestDamagedTableIsToldInRows(t *testing.T) {
	const rows = 2000
	tests := map[string]struct {
		damage func(path string, t *testing.T)
		says   string
	}{
		"a block": {func(path string, t *testing.T) {
			change(t, path, func(data []byte) []byte { data[len(data)/3] ^= 1; return data })
		}, "blocks: up to "},
		"the index": {func(path string, t *testing.T) {
			change(t, path, func(data []byte) []byte { data[len(data)-30] ^= 1; return data })
		}, "is damaged: its index cannot be read: 2041 of its rows can be read, and how many are missing nobody can tell"},
		"all of it": {func(path string, t *testing.T) {
			change(t, path, func(data []byte) []byte { return bytes.Repeat([]byte{7}, len(data)) })
		}, "cannot be read: its index cannot be read: all its rows are missing"},
		"the table": {func(path string, t *testing.T) {
			if err := os.Remove(path); err != nil {
				t.Fatal(err)
			}
		}, "is gone: all its rows are missing"},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			dir := filepath.Join(t.TempDir(), "store")
			fill(t, dir, rows)
			names, _ := tables(t, dir)
			test.damage(names[0], t)
			if _, err := Open(dir, Options{}); !errors.As(err, new(*DamageError)) || !strings.Contains(err.Error(), filepath.Base(names[0])+" ") || !strings.Contains(err.Error(), test.says) {
				t.Errorf("%v, want it to say %q", err, test.says)
			}
			if name == "the index" {
				allStay(t, dir, rows)
			}
		})
	}
}

// allStay accepts a loss by which no row is lost.
func allStay(t *testing.T, dir string, rows int) {
	t.Helper()
	damage := (*DamageError)(nil)
	if _, err := Open(dir, Options{}); !errors.As(err, &damage) {
		t.Fatal(err)
	}
	if _, err := AcceptLoss(dir, damage.Code, Options{}); err != nil {
		t.Fatal(err)
	}
	store := open(t, dir, Options{})
	for n := range rows {
		if r := get(t, store, history.Key("row").Uint64(uint64(n))); !bytes.Equal(r.Value, alike(n)) {
			t.Fatalf("row %d is not what was written", n)
		}
	}
}

// TestWithoutStateTheLogSaysSo removes the state file: a loss at the end of the log can then
// not be told, and that is said.
func TestWithoutStateTheLogSaysSo(t *testing.T) {
	for _, spoil := range []func(name string) error{os.Remove, func(name string) error { return os.WriteFile(name, []byte("gbstate1"), 0o600) }} {
		dir, opts, whole := killedStore(t)
		change(t, filepath.Join(dir, "00001.mem"), func(data []byte) []byte { return data[:whole[29].start] })
		states, err := filepath.Glob(filepath.Join(opts.StateDir, "*"))
		if err != nil || len(states) != 1 {
			t.Fatalf("%v, %v", states, err)
		}
		if err := spoil(states[0]); err != nil {
			t.Fatal(err)
		}
		var said bytes.Buffer
		opts.Logger = slog.New(slog.NewTextHandler(&said, nil))
		store := open(t, dir, opts)
		if stored := readCrashed(t, store); len(stored) != 28 {
			t.Errorf("%d drafts are there, want 28", len(stored))
		}
		if !strings.Contains(said.String(), "what was acknowledged last is not known") {
			t.Errorf("the log says %q", said.String())
		}
		// From here on it is known again.
		mustCommit(t, store, crashDraft("on", nil))
		if known, err := readState(opts.StateDir, store.Epoch()); err != nil || known.shops[crashShop] != 29 {
			t.Errorf("%v, %v", known, err)
		}
	}
}

// TestStateThatCannotBeKept: the record goes on without, and says so.
func TestStateThatCannotBeKept(t *testing.T) {
	file := filepath.Join(t.TempDir(), "file")
	if err := os.WriteFile(file, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	log := slog.New(slog.NewTextHandler(&said, nil))
	store := open(t, t.TempDir(), Options{StateDir: filepath.Join(file, "state"), Logger: log})
	mustCommit(t, store, row("row", ""))
	if !strings.Contains(said.String(), "cannot be noted") {
		t.Errorf("the log says %q", said.String())
	}

	said.Reset()
	store = open(t, t.TempDir(), Options{StateDir: t.TempDir(), Logger: log})
	if err := store.state.file.Close(); err != nil {
		t.Fatal(err)
	}
	mustCommit(t, store, row("row", ""))
	mustCommit(t, store, row("row", ""))
	if n := strings.Count(said.String(), "can no longer be noted"); n != 1 {
		t.Errorf("said %d times: %q", n, said.String())
	}
}

// TestAcceptedLossGivesNewNumbers cuts a log in its middle and goes on without what was behind.
func TestAcceptedLossGivesNewNumbers(t *testing.T) {
	dir, opts, whole := killedStore(t)
	path := filepath.Join(dir, "00001.mem")
	change(t, path, func(data []byte) []byte { data[whole[11].start+40] ^= 1; return data })
	before, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := AcceptLoss(dir, "other", opts); !errors.As(err, new(*CodeError)) || !strings.Contains(err.Error(), "11 to 30") {
		t.Errorf("another code: %v", err)
	}
	damage := (*DamageError)(nil)
	if _, err := Open(dir, opts); !errors.As(err, &damage) {
		t.Fatal(err)
	}
	kept, err := AcceptLoss(dir, damage.Code, opts)
	if err != nil {
		t.Fatal(err)
	}
	if aside, err := os.ReadFile(filepath.Join(kept, "00001.mem")); err != nil || !bytes.Equal(aside, before) {
		t.Errorf("what was cut is not kept as it was: %v", err)
	}
	if _, err := AcceptLoss(dir, damage.Code, opts); !errors.As(err, new(*CodeError)) || !strings.Contains(err.Error(), "nothing is damaged") {
		t.Errorf("accepted twice: %v", err)
	}

	store := open(t, dir, opts)
	if stored := readCrashed(t, store); len(stored) != 10 {
		t.Errorf("%d drafts are there, want 10", len(stored))
	}
	old := history.Epoch{}
	states, err := filepath.Glob(filepath.Join(opts.StateDir, "*"))
	if err != nil || len(states) != 2 {
		t.Errorf("states %v, %v", states, err)
	}
	if store.Epoch() == old || !strings.Contains(strings.Join(states, " "), store.Epoch().String()) {
		t.Errorf("epoch %v, states %v", store.Epoch(), states)
	}
	if number := mustCommit(t, store, crashDraft("on", nil)); number != 11 {
		t.Errorf("number %d", number)
	}
}

// TestAcceptanceThatWasCutShort leaves the mark of one that did not come to its end: the store
// is not opened before.
func TestAcceptanceThatWasCutShort(t *testing.T) {
	dir, opts, _ := killedStore(t)
	if err := os.WriteFile(filepath.Join(dir, acceptMark), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	damage := (*DamageError)(nil)
	if _, err := Open(dir, opts); !errors.As(err, &damage) {
		t.Fatal(err)
	}
	if _, err := AcceptLoss(dir, damage.Code, opts); err != nil {
		t.Fatal(err)
	}
	if stored := readCrashed(t, open(t, dir, opts)); len(stored) != 30 {
		t.Errorf("%d drafts are there, want 30", len(stored))
	}
}

// TestLastNumberIsThatOfTheNewestRow takes the row of a shop's last number away, as a damaged
// block does.
func TestLastNumberIsThatOfTheNewestRow(t *testing.T) {
	store := open(t, t.TempDir(), Options{})
	for range 3 {
		mustCommit(t, store, row("row", "kept"))
	}
	txn := store.db.NewTransactionAt(store.timestamps.latest(), true)
	defer txn.Discard()
	if err := errors.Join(txn.Delete(lastKey("north")), store.sync(txn), store.settle()); err != nil {
		t.Fatal(err)
	}
	if number := mustCommit(t, store, row("row", "new")); number != 4 {
		t.Errorf("number %d was given after 3", number)
	}
}

// TestHolesOfTheFeedAreTrimmed takes entries of a feed away, as a damaged block does: what is
// left is dense, and begins behind the last hole.
func TestHolesOfTheFeedAreTrimmed(t *testing.T) {
	tests := map[string]struct {
		gone    []history.Number
		trimmed history.Number
		left    string
		rest    int
	}{
		"none":           {nil, 0, "", 9},
		"in the middle":  {[]history.Number{3, 5, 6}, 7, "7", 2},
		"the beginning":  {[]history.Number{1}, 2, "2", 7},
		"the end":        {[]history.Number{9}, 9, "8", 0},
		"all of it":      {[]history.Number{1, 2, 3, 4, 5, 6, 7, 8, 9}, 9, "", 0},
		"but one of all": {[]history.Number{1, 2, 3, 4, 6, 7, 8, 9}, 9, "5", 0},
	}
	for name, test := range tests {
		t.Run(name, func(t *testing.T) {
			store := open(t, t.TempDir(), Options{})
			for i := range 9 {
				mustCommit(t, store, history.Draft{Shop: "north", Feed: fmt.Append(nil, i+1)})
			}
			var gone [][]byte
			for _, number := range test.gone {
				gone = append(gone, feedKey("north", number))
			}
			if len(gone) > 0 {
				if err := store.putNow(nil, gone); err != nil {
					t.Fatal(err)
				}
			}
			if err := store.settle(); err != nil {
				t.Fatal(err)
			}
			snap, err := store.Snapshot(t.Context(), "north")
			if err != nil {
				t.Fatal(err)
			}
			defer snap.Close()
			trimmed, err := snap.Trimmed(t.Context())
			if err != nil || trimmed.Number != test.trimmed || string(trimmed.Feed) != test.left {
				t.Errorf("trimmed up to %d, %q, %v", trimmed.Number, trimmed.Feed, err)
			}
			changes, err := snap.Changes(t.Context(), trimmed.Number, 0)
			if err != nil || len(changes) != test.rest {
				t.Errorf("%d changes, %v", len(changes), err)
			}
			if number := mustCommit(t, store, history.Draft{Shop: "north"}); number != 10 {
				t.Errorf("number %d", number)
			}
		})
	}
}

// TestRestoredCopyIsTold puts an older copy back under the state of what went on: what was
// acknowledged since is missing.
func TestRestoredCopyIsTold(t *testing.T) {
	root := t.TempDir()
	dir, old := filepath.Join(root, "store"), filepath.Join(root, "old")
	opts := Options{MinFree: 1, StateDir: filepath.Join(root, "state")}
	for i, drafts := range []int{3, 4} {
		store := open(t, dir, opts)
		for range drafts {
			mustCommit(t, store, row("row", ""))
		}
		if err := store.Close(); err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			copyDir(t, old, dir)
		}
	}
	if _, err := Open(old, opts); err == nil || !strings.Contains(err.Error(), `4 writes that were acknowledged are missing, of shop "north" the numbers 4 to 7`) {
		t.Errorf("opened: %v", err)
	}
}

// TestTableThatWasTakenOutIsNoLoss leaves what a kill leaves that comes while the engine removes
// tables which it has put together: one of them, with rows that were deleted since.
func TestTableThatWasTakenOutIsNoLoss(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "store")
	opts := Options{tune: smallFiles, MinFree: 1}
	store := open(t, dir, opts)
	const rows = 50
	for i := range rows {
		mustCommit(t, store, row(history.Key("").Uint64(uint64(i)), "to be deleted"))
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	names, _ := tables(t, dir)
	before, err := os.ReadFile(names[0])
	if err != nil {
		t.Fatal(err)
	}
	store = open(t, dir, opts)
	for i := range rows {
		mustCommit(t, store, history.Draft{Shop: "north", Delete: []history.Key{history.Key("").Uint64(uint64(i))}})
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	store = open(t, dir, Options{MinFree: 1, tune: func(o engine.Options) engine.Options {
		return smallFiles(o).WithNumLevelZeroTables(1) // puts them together at once
	}})
	for range 1000 {
		if _, err = os.Stat(names[0]); err != nil {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	if err == nil {
		t.Fatal("the table is still there: this is no test")
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(names[0], before, 0o600); err != nil {
		t.Fatal(err)
	}
	store = open(t, dir, opts)
	for i := range rows {
		if got := get(t, store, history.Key("").Uint64(uint64(i))); got.Version != history.Absent {
			t.Fatalf("row %d is back", i)
		}
	}
}
