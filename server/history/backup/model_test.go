package backup_test

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"sync"
	"testing"
	"time"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/backup"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/history/memory"
)

var about = backup.About{Program: "test", Made: time.Date(2026, 11, 29, 12, 0, 0, 0, time.UTC)}

// drivers are the stores that are backed up, and restored into.
var drivers = map[string]struct {
	open func(t *testing.T) history.Store
	load func(t *testing.T) (history.Loader, func() history.Store)
}{
	"memory": {
		func(*testing.T) history.Store { return memory.New() },
		func(*testing.T) (history.Loader, func() history.Store) {
			l := memory.Load()
			return l, func() history.Store { return l.Store() }
		},
	},
	"badger": {
		func(t *testing.T) history.Store { return openBadger(t, t.TempDir()) },
		func(t *testing.T) (history.Loader, func() history.Store) {
			dir := filepath.Join(t.TempDir(), "restored")
			l, err := badger.Load(dir, badger.Options{})
			if err != nil {
				t.Fatal(err)
			}
			return l, func() history.Store { return openBadger(t, dir) }
		},
	},
}

func openBadger(t *testing.T, dir string) history.Store {
	t.Helper()
	store, err := badger.Open(dir, badger.Options{})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := store.Close(); err != nil {
			t.Error(err)
		}
	})
	return store
}

// model remembers the drafts of shops by their numbers.
type model struct {
	mu     sync.Mutex
	drafts map[string]map[history.Number]history.Draft
}

func (m *model) commit(ctx context.Context, store history.Store, d history.Draft) (history.Number, error) {
	n, err := store.Commit(ctx, d)
	if err == nil {
		m.mu.Lock()
		defer m.mu.Unlock()
		if m.drafts == nil {
			m.drafts = map[string]map[history.Number]history.Draft{}
		}
		if m.drafts[d.Shop] == nil {
			m.drafts[d.Shop] = map[history.Number]history.Draft{}
		}
		m.drafts[d.Shop][n] = d
	}
	return n, err
}

// at is what a shop holds after its draft n, as lines: its rows, then its changes behind
// what was trimmed.
func (m *model) at(shop string, trimmed, n history.Number) []string {
	rows := map[history.Key]string{}
	var feed []string
	for i := history.Number(1); i <= n; i++ {
		d := m.drafts[shop][i]
		for _, p := range d.Put {
			rows[p.Key] = fmt.Sprintf("%q version %d: %q", p.Key, i, p.Value)
		}
		for _, k := range d.Delete {
			delete(rows, k)
		}
		if i > trimmed {
			feed = append(feed, fmt.Sprintf("change %d: %q", i, d.Feed))
		}
	}
	var lines []string
	for _, line := range rows {
		lines = append(lines, line)
	}
	slices.Sort(lines)
	return append(lines, feed...)
}

// holds is what a store holds of a shop, as lines, and the numbers of its last draft and
// of what was trimmed last.
func holds(t *testing.T, store history.Store, shop string) (lines []string, trimmed, last history.Number) {
	t.Helper()
	snap, err := store.Snapshot(t.Context(), shop)
	if err != nil {
		t.Fatal(err)
	}
	defer snap.Close()
	if last, err = snap.Last(t.Context()); err != nil {
		t.Fatal(err)
	}
	trim, err := snap.Trimmed(t.Context())
	if err != nil || trim.Number > 0 && string(trim.Feed) != fmt.Sprint("up to ", trim.Number) {
		t.Fatalf("trimmed %d %q: %v", trim.Number, trim.Feed, err)
	}
	for after, more := history.Key(""), true; more; {
		page, err := snap.Scan(t.Context(), history.Range{After: after})
		if err != nil {
			t.Fatal(err)
		}
		for _, r := range page.Rows {
			lines = append(lines, fmt.Sprintf("%q version %d: %q", r.Key, r.Version, r.Value))
			after = r.Key
		}
		more = page.More
	}
	slices.Sort(lines)
	for after := trim.Number; after < last; {
		changes, err := snap.Changes(t.Context(), after, 0)
		if err != nil || len(changes) == 0 {
			t.Fatalf("behind change %d: %v", after, err)
		}
		for _, c := range changes {
			lines = append(lines, fmt.Sprintf("change %d: %q", c.Number, c.Feed))
			after = c.Number
		}
	}
	return lines, trim.Number, last
}

// draw is a draft of a shop: rows that are put again and deleted.
func draw(random *rand.Rand, shop string, i int) history.Draft {
	d := history.Draft{Shop: shop, Feed: fmt.Appendf(nil, "%s %d", shop, i)}
	key := func(n int) history.Key { return history.Key("").Byte(byte('a' + n%7)).Int64(int64(n)) }
	for _, n := range random.Perm(200)[:1+random.IntN(8)] {
		if random.IntN(4) == 0 {
			d.Delete = append(d.Delete, key(n))
		} else {
			d.Put = append(d.Put, history.Put{Key: key(n), Value: bytes.Repeat(fmt.Append(nil, i, " "), 1+random.IntN(400))})
		}
	}
	return d
}
