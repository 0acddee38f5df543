package badger

import (
	"bytes"
	"errors"
	"fmt"
	"maps"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
)

// rotVariable is how many mutations are drawn, where it is set.
const rotVariable = "GAUGEBOOK_ROT"

// model is what was acknowledged of a shop: every version that a row has had, and the feed.
type model struct {
	rows map[history.Key][]history.Row // in the order of versions; one without value is a deletion
	feed []string

	trimmed history.Number
}

func (m *model) commit(t *testing.T, store *Store, d history.Draft) {
	t.Helper()
	number := mustCommit(t, store, d)
	m.feed = append(m.feed, string(d.Feed))
	if int(number) != len(m.feed) {
		t.Fatalf("draft %d was given the number %d", len(m.feed), number)
	}
	for _, p := range d.Put {
		m.rows[p.Key] = append(m.rows[p.Key], history.Row{Key: p.Key, Value: bytes.Clone(p.Value), Version: number})
	}
	for _, key := range d.Delete {
		m.rows[key] = append(m.rows[key], history.Row{Key: key})
	}
}

// write commits drafts that put new rows, write over old ones and delete some.
func (m *model) write(t *testing.T, store *Store, random *rand.Rand, drafts int) {
	t.Helper()
	for range drafts {
		n := len(m.feed)
		d := history.Draft{Shop: crashShop, Feed: fmt.Appendf(nil, "draft %d", n+1)}
		value := func() []byte {
			text := make([]byte, 200+random.IntN(3000))
			for i := range text {
				text[i] = "0123456789abcdef"[random.IntN(16)]
			}
			return text
		}
		put := map[int]bool{n: true, random.IntN(n + 1): true}
		for i := range put {
			d.Put = append(d.Put, history.Put{Key: history.Key("row").Uint64(uint64(i)), Value: value()})
		}
		if gone := random.IntN(n + 1); !put[gone] && random.IntN(4) == 0 {
			d.Delete = []history.Key{history.Key("row").Uint64(uint64(gone))}
		}
		m.commit(t, store, d)
	}
}

// stored reads all that a store has of the shop. Its feed may have holes.
func stored(t *testing.T, store *Store) (rows map[history.Key]history.Row, last history.Number) {
	t.Helper()
	snap, err := store.Snapshot(t.Context(), crashShop)
	if err != nil {
		t.Fatal(err)
	}
	defer snap.Close()
	if last, err = snap.Last(t.Context()); err != nil {
		t.Fatal(err)
	}
	rows = map[history.Key]history.Row{}
	for more, after := true, history.Key(""); more; {
		page, err := snap.Scan(t.Context(), history.Range{After: after})
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range page.Rows {
			if one, err := snap.Get(t.Context(), row.Key); err != nil || one.Version != row.Version || !bytes.Equal(one.Value, row.Value) {
				t.Errorf("row %q is listed with version %d, and found with %d, %v", row.Key, row.Version, one.Version, err)
			}
			rows[row.Key], after = row, row.Key
		}
		more = page.More
	}
	return rows, last
}

// same holds a store against the model, row by row and change by change.
func (m *model) same(t *testing.T, store *Store) (wrong string) {
	t.Helper()
	rows, last := stored(t, store)
	if snap, err := store.Snapshot(t.Context(), crashShop); err != nil {
		t.Fatal(err)
	} else {
		if trimmed, err := snap.Trimmed(t.Context()); err != nil || trimmed.Number != m.trimmed {
			t.Errorf("trimmed up to %d, %v; want %d", trimmed.Number, err, m.trimmed)
		}
		snap.Close()
	}
	if int(last) != len(m.feed) {
		return fmt.Sprintf("%d drafts of %d", last, len(m.feed))
	}
	there := 0
	for key, versions := range m.rows {
		want := versions[len(versions)-1]
		if got := rows[key]; got.Version != want.Version || !bytes.Equal(got.Value, want.Value) {
			return fmt.Sprintf("row %q has version %d of %d", key, got.Version, want.Version)
		}
		if want.Version != history.Absent {
			there++
		}
	}
	if there != len(rows) {
		return fmt.Sprintf("%d rows of %d", len(rows), there)
	}
	return m.feedFrom(t, store, last)
}

// feedFrom holds the feed, from where it is trimmed to its last number, against the model.
func (m *model) feedFrom(t *testing.T, store *Store, last history.Number) (wrong string) {
	t.Helper()
	snap, err := store.Snapshot(t.Context(), crashShop)
	if err != nil {
		t.Fatal(err)
	}
	defer snap.Close()
	trimmed, err := snap.Trimmed(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	for n := trimmed.Number; n < last; {
		changes, err := snap.Changes(t.Context(), n, 0)
		if err != nil || len(changes) == 0 {
			return fmt.Sprintf("the feed ends after %d of %d: %v", n, last, err)
		}
		for _, c := range changes {
			if n++; c.Number != n || string(c.Feed) != m.feed[n-1] {
				return fmt.Sprintf("change %d is %d, %q", n, c.Number, c.Feed)
			}
		}
	}
	return ""
}

// nothingElse holds what a store has after an accepted loss against the model: rows may be
// missing, or be as they were before; none is other than it ever was.
func (m *model) nothingElse(t *testing.T, store *Store) (wrong string, missing int) {
	t.Helper()
	rows, last := stored(t, store)
	if wrong := m.feedFrom(t, store, last); wrong != "" {
		return wrong, 0
	}
	for key, row := range rows {
		if !slices.ContainsFunc(m.rows[key], func(r history.Row) bool {
			return r.Version == row.Version && bytes.Equal(r.Value, row.Value)
		}) {
			return fmt.Sprintf("row %q, version %d, was never so", key, row.Version), 0
		}
	}
	for key, versions := range m.rows {
		if want := versions[len(versions)-1]; rows[key].Version != want.Version {
			missing++
		}
	}
	return "", missing
}

// base is a store with tables on several levels, as a kill or an orderly end leaves it.
type base struct {
	store, state string
	model        *model
}

func makeBase(t *testing.T, killed bool) base {
	t.Helper()
	root := t.TempDir()
	dir, stateDir := filepath.Join(root, "store"), filepath.Join(root, "state")
	opts := Options{tune: smallFiles, MinFree: 1, StateDir: stateDir}
	store := open(t, dir, opts)
	m := &model{rows: map[history.Key][]history.Row{}}
	random := rand.New(rand.NewPCG(11, 0))
	m.write(t, store, random, 700)
	if err := store.db.Flatten(2); err != nil {
		t.Fatal(err)
	}
	m.write(t, store, random, 300)
	for range 2 { // the second one changes nothing
		m.trimmed = 100
		if err := store.Trim(t.Context(), crashShop, m.trimmed, []byte("trimmed")); err != nil {
			t.Fatal(err)
		}
	}
	m.write(t, store, random, 200)
	if !killed {
		if err := store.Close(); err != nil {
			t.Fatal(err)
		}
		return base{dir, stateDir, m}
	}
	left := base{filepath.Join(root, "left"), filepath.Join(root, "left-state"), m}
	copyDir(t, left.store, dir)
	copyDir(t, left.state, stateDir)
	return left
}

func copyDir(t *testing.T, to, from string) {
	t.Helper()
	if err := os.CopyFS(to, os.DirFS(from)); err != nil {
		t.Fatal(err)
	}
}

// mutate changes one file of a store somewhere in the bytes that it uses, and says how.
func mutate(t *testing.T, random *rand.Rand, dir string) (file, how string) {
	t.Helper()
	for {
		name := drawFile(t, random, dir)
		path := filepath.Join(dir, name)
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		used := len(bytes.TrimRight(data, "\x00"))
		if used == 0 {
			continue
		}
		at := random.IntN(used)
		length := min(1+random.IntN(4096), used-at)
		changed := bytes.Clone(data)
		how := []string{"bit", "bit", "bit", "byte", "zeros", "noise", "repeat", "cut", "gone"}[random.IntN(9)]
		switch how {
		case "bit":
			changed[at] ^= 1 << random.IntN(8)
		case "byte":
			changed[at] = byte(random.Uint32())
		case "zeros":
			clear(changed[at : at+length])
		case "noise":
			for i := at; i < at+length; i++ {
				changed[i] = byte(random.Uint32())
			}
		case "repeat":
			copy(changed[at:at+length], data[random.IntN(used-length+1):])
		case "cut":
			changed = changed[:at]
		case "gone":
			if err := os.Remove(path); err != nil {
				t.Fatal(err)
			}
			return name, how
		}
		if bytes.Equal(changed, data) {
			continue
		}
		if err := os.WriteFile(path, changed, 0o600); err != nil {
			t.Fatal(err)
		}
		return name, fmt.Sprintf("%s at %d of %d, %d bytes", how, at, used, length)
	}
}

// drawFile draws one of the files, most often a table or log.
func drawFile(t *testing.T, random *rand.Rand, dir string) string {
	t.Helper()
	kinds := []string{"*.sst", "*.sst", "*.sst", "*.mem", "*.mem", engine.ManifestFilename, "*"}
	for {
		names, err := filepath.Glob(filepath.Join(dir, kinds[random.IntN(len(kinds))]))
		if err != nil {
			t.Fatal(err)
		}
		if len(names) > 0 {
			return filepath.Base(names[random.IntN(len(names))])
		}
	}
}

// compact writes on, puts the tables together, and gives the store opened again.
func (m *model) compact(t *testing.T, store *Store, random *rand.Rand, dir string, opts Options) *Store {
	t.Helper()
	m.write(t, store, random, 20)
	if err := errors.Join(store.db.Flatten(1), store.Close()); err != nil {
		t.Fatal(err)
	}
	store, err := Open(dir, opts)
	if err != nil {
		t.Fatal(err)
	}
	return store
}

func (m *model) clone() *model {
	c := &model{rows: map[history.Key][]history.Row{}, feed: slices.Clone(m.feed), trimmed: m.trimmed}
	for key, versions := range m.rows {
		c.rows[key] = slices.Clone(versions)
	}
	return c
}

// TestRotIsNoticed changes files of a store at random and holds what is answered then
// against all that was acknowledged: either the damage is told before anything is answered, or
// it is harmless, also once the engine has put its tables together. What is told can be
// accepted: then rows are missing, and none is other than it was.
func TestRotIsNoticed(t *testing.T) {
	bases := []base{makeBase(t, true), makeBase(t, false)}
	counts := map[string]int{}
	for trial := range drawn(t, rotVariable, 40) {
		random := rand.New(rand.NewPCG(2026, uint64(trial)))
		b := bases[trial%len(bases)]
		root := t.TempDir()
		r := rotten{dir: filepath.Join(root, "store"), opts: Options{tune: smallFiles, MinFree: 1, StateDir: filepath.Join(root, "state")}, model: b.model}
		copyDir(t, r.dir, b.store)
		copyDir(t, r.opts.StateDir, b.state)
		file, how := mutate(t, random, r.dir)
		if trial%5 == 4 { // several at a time
			for range 2 {
				_, more := mutate(t, random, r.dir)
				how += "; " + more
			}
			r.several = true
		}
		verdict, wrong := r.judge(t, random, file)
		counts[verdict]++
		if filepath.Ext(file) == tableSuffix {
			counts["tables, compacted afterwards"]++
		}
		if wrong != "" {
			t.Errorf("trial %d, %s, %s: %s", trial, file, how, wrong)
		}
		if err := os.RemoveAll(root); err != nil {
			t.Fatal(err)
		}
	}
	for _, what := range slices.Sorted(maps.Keys(counts)) {
		t.Logf("%4d %s", counts[what], what)
	}
}

// rotten is a store of which a file was changed.
type rotten struct {
	dir   string
	opts  Options
	model *model

	several bool // of its files
}

// judge opens the store and tells what became of it.
func (r rotten) judge(t *testing.T, random *rand.Rand, file string) (verdict, wrong string) {
	t.Helper()
	store, err := Open(r.dir, r.opts)
	if err != nil {
		return "noticed", r.accept(t, file, err)
	}
	m := r.model.clone()
	if wrong = m.same(t, store); wrong == "" {
		store = m.compact(t, store, random, r.dir, r.opts)
		wrong = m.same(t, store)
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	if wrong != "" {
		return "lost in silence", wrong
	}
	return "harmless", ""
}

// accept accepts a loss and holds what is left against the model.
func (r rotten) accept(t *testing.T, file string, refused error) (wrong string) {
	t.Helper()
	damage := (*DamageError)(nil)
	switch {
	case errors.As(refused, new(*FormatError)), errors.As(refused, new(*ForeignError)):
		return "" // the first bytes of the list of tables
	case !errors.As(refused, &damage):
		return fmt.Sprintf("refused, but not as damage: %v", refused)
	case !r.several && !slices.ContainsFunc(damage.Damages, func(d Damage) bool { return d.File == file || d.File == "" }):
		return fmt.Sprintf("another file is named: %v", refused)
	}
	if _, err := AcceptLoss(r.dir, "other", r.opts); !errors.As(err, new(*CodeError)) {
		return fmt.Sprintf("another code was answered with %v", err)
	}
	if _, err := AcceptLoss(r.dir, damage.Code, r.opts); err != nil {
		return fmt.Sprintf("accepted after %v: %v", refused, err)
	}
	store, err := Open(r.dir, r.opts)
	if err != nil {
		return fmt.Sprintf("opened after the loss was accepted: %v", err)
	}
	defer func() {
		if err := store.Close(); err != nil {
			t.Error(err)
		}
	}()
	wrong, missing := r.model.nothingElse(t, store)
	if wrong != "" {
		return fmt.Sprintf("after %v: %s", refused, wrong)
	}
	if err := store.db.Flatten(1); err != nil {
		t.Fatal(err)
	}
	if wrong, again := r.model.nothingElse(t, store); wrong != "" || again != missing {
		return fmt.Sprintf("after %v and putting tables together: %s, %d rows are missing that were %d", refused, wrong, again, missing)
	}
	_, last := stored(t, store)
	if number := mustCommit(t, store, history.Draft{Shop: crashShop}); number != last+1 {
		return fmt.Sprintf("number %d was given after %d", number, last)
	}
	return ""
}
