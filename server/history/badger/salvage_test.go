package badger

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

// smallTables makes tables and blocks of a size of which a test fills many.
func smallTables(o engine.Options) engine.Options {
	return o.WithMemTableSize(64 << 10).WithBaseTableSize(64 << 10).WithBlockSize(4 << 10).WithValueThreshold(8 << 10)
}

// Of a store with damaged tables what is sound is salvaged: never a row that nobody wrote,
// and the feed with its numbers, lost entries told as such; the store itself stays as it is.
func TestWhatIsSoundIsSalvaged(t *testing.T) {
	for seed := range uint64(6) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			random := rand.New(rand.NewPCG(seed, 14))
			dir := filepath.Join(t.TempDir(), "book")
			store := open(t, dir, Options{tune: smallTables})
			written := map[string]bool{} // every row that ever was, as a line
			const drafts = 600
			for i := range drafts {
				k := history.Key(fmt.Sprint("row ", random.IntN(400)))
				d := row(k, strings.Repeat(fmt.Sprint(i, " "), 100))
				d.Feed = fmt.Append(nil, "change ", i+1)
				n := mustCommit(t, store, d)
				written[fmt.Sprintf("%q %d %q", k, n, d.Put[0].Value)] = true
			}
			if err := store.Close(); err != nil {
				t.Fatal(err)
			}
			files, err := filepath.Glob(filepath.Join(dir, "*.sst"))
			if err != nil || len(files) == 0 {
				t.Fatalf("tables %q, %v", files, err)
			}
			for range seed { // the first is sound
				flipIn(t, files[random.IntN(len(files))], random)
			}
			before := foldersContent(t, dir)
			s, err := Salvage(dir, filepath.Join(t.TempDir(), "gathered"))
			if err != nil {
				t.Fatal(err)
			}
			to := memory.Load()
			lost, err := s.Copy(t.Context(), to, nil, func() []byte { return []byte("lost") })
			if err != nil {
				t.Fatal(err)
			}
			if foldersContent(t, dir) != before {
				t.Error("the folder was changed")
			}
			rows := salvagedAsWritten(t, to.Store(), written, lost)
			t.Logf("%d of %d changes lost, %d rows, damages %v", lost, drafts, rows, s.Damages)
			if seed == 0 && (lost > 0 || len(s.Damages) > 0) || seed > 0 && len(s.Damages) == 0 || lost > drafts*3/4 {
				t.Errorf("%d changes lost, damages %v", lost, s.Damages)
			}
			if err := s.Close(); err != nil {
				t.Error(err)
			}
		})
	}
}

// flipIn flips a bit in the first half of a file, where a table has its rows.
func flipIn(t *testing.T, name string, random *rand.Rand) {
	t.Helper()
	data, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	data[random.IntN(len(data)/2)] ^= 1 << random.IntN(8)
	if err := os.WriteFile(name, data, 0o600); err != nil {
		t.Fatal(err)
	}
}

func foldersContent(t *testing.T, dir string) string {
	t.Helper()
	var all strings.Builder
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		data, err := os.ReadFile(filepath.Join(dir, e.Name()))
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&all, "%s %d %x\n", e.Name(), len(data), data)
	}
	return all.String()
}

// salvagedAsWritten holds what was salvaged to what was ever written, and counts its rows.
func salvagedAsWritten(t *testing.T, store *memory.Store, written map[string]bool, lost uint64) (rows int) {
	t.Helper()
	snap, err := store.Snapshot(t.Context(), "north")
	if err != nil {
		t.Fatal(err)
	}
	defer snap.Close()
	page, err := snap.Scan(t.Context(), history.Range{})
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range page.Rows {
		if line := fmt.Sprintf("%q %d %q", r.Key, r.Version, r.Value); !written[line] {
			t.Errorf("nobody wrote %s", line)
		}
	}
	changes, err := snap.Changes(t.Context(), 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range changes {
		switch string(c.Feed) {
		case "lost":
			lost--
		case fmt.Sprint("change ", uint64(c.Number)):
		default:
			t.Errorf("change %d is %q", c.Number, c.Feed)
		}
	}
	if lost != 0 {
		t.Errorf("%d more changes are told to be lost than are", lost)
	}
	return len(page.Rows)
}
