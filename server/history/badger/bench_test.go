package badger

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"sync/atomic"
	"testing"

	engine "github.com/dgraph-io/badger/v4"

	"gaugebook.dev/server/history"
)

// benchDraft is as large as a visit with its judgement: three small rows and
// one of 2 kB, one expected absent.
func benchDraft(id uint64) history.Draft {
	key := history.Key("entry").Uint64(id)
	return history.Draft{
		Shop:   "north",
		Expect: []history.Expectation{{Key: key, Version: history.Absent}},
		Put: []history.Put{
			{Key: key, Value: make([]byte, 2000)},
			{Key: history.Key("vehicle").Uint64(id), Value: make([]byte, 200)},
			{Key: history.Key("list").Uint64(id), Value: make([]byte, 100)},
		},
		Feed: make([]byte, 200),
	}
}

// inParallel runs a benchmark's rounds in so many goroutines.
func inParallel(b *testing.B, writers int, round func(id uint64) error) {
	b.Helper()
	var next atomic.Int64
	failed := make(chan error, writers)
	b.ResetTimer()
	for range writers {
		go func() {
			for {
				id := next.Add(1)
				if id > int64(b.N) {
					failed <- nil
					return
				}
				if err := round(uint64(id)); err != nil {
					failed <- err
					return
				}
			}
		}()
	}
	var errs []error
	for range writers {
		errs = append(errs, <-failed)
	}
	if err := errors.Join(errs...); err != nil {
		b.Fatal(err)
	}
}

// BenchmarkCommit compares groups that share a sync, one transaction a draft by
// the same writer, and the engine called by every goroutine for itself.
func BenchmarkCommit(b *testing.B) {
	for _, writers := range []int{1, 64} {
		for name, size := range map[string]int{"groups": maxGroupSize, "one by one": 1} {
			b.Run(fmt.Sprintf("writers=%d/%s", writers, name), func(b *testing.B) {
				store := open(b, b.TempDir(), Options{groupSize: size})
				inParallel(b, writers, func(id uint64) error {
					_, err := store.Commit(b.Context(), benchDraft(id))
					return err
				})
				stats := store.Stats()
				b.ReportMetric(float64(stats.Drafts)/float64(stats.Groups), "drafts/sync")
			})
		}
		b.Run(fmt.Sprintf("writers=%d/engine alone", writers), func(b *testing.B) {
			db, err := engine.Open(engineOptions(b.TempDir()).WithLogger(nil).WithDetectConflicts(true))
			if err != nil {
				b.Fatal(err)
			}
			defer func() { _ = db.Close() }()
			inParallel(b, writers, func(id uint64) error { return commitAlone(db, benchDraft(id)) })
		})
	}
}

// commitAlone does a draft's work without order, versions or feed numbers.
func commitAlone(db *engine.DB, draft history.Draft) error {
	return db.Update(func(txn *engine.Txn) error {
		for _, e := range draft.Expect {
			if _, err := txn.Get([]byte(e.Key)); !errors.Is(err, engine.ErrKeyNotFound) {
				return fmt.Errorf("row %q: %w", e.Key, err)
			}
		}
		for _, p := range draft.Put {
			if err := txn.Set([]byte(p.Key), p.Value); err != nil {
				return err
			}
		}
		return txn.Set([]byte("feed"+draft.Put[0].Key), draft.Feed)
	})
}

// BenchmarkRead opens a snapshot and reads from it: one row, and a page of 50.
func BenchmarkRead(b *testing.B) {
	const rows = 20_000
	store := open(b, b.TempDir(), Options{})
	for i := uint64(0); i < rows; {
		var draft history.Draft
		draft.Shop = "north"
		for range 1000 {
			draft.Put = append(draft.Put, history.Put{Key: history.Key("row").Uint64(i), Value: make([]byte, 200)})
			i++
		}
		if _, err := store.Commit(b.Context(), draft); err != nil {
			b.Fatal(err)
		}
	}
	random := rand.New(rand.NewPCG(1, 1))
	b.Run("row", func(b *testing.B) {
		for b.Loop() {
			snap, err := store.Snapshot(b.Context(), "north")
			if err != nil {
				b.Fatal(err)
			}
			row, err := snap.Get(b.Context(), history.Key("row").Uint64(random.Uint64N(rows)))
			if err != nil || row.Version == history.Absent {
				b.Fatal(row.Version, err)
			}
			snap.Close()
		}
	})
	b.Run("page of 50", func(b *testing.B) {
		for b.Loop() {
			snap, err := store.Snapshot(b.Context(), "north")
			if err != nil {
				b.Fatal(err)
			}
			after := history.Key("row").Uint64(random.Uint64N(rows - 51))
			page, err := snap.Scan(b.Context(), history.Range{Prefix: "row", After: after, Limit: 50})
			if err != nil || len(page.Rows) != 50 {
				b.Fatal(len(page.Rows), err)
			}
			snap.Close()
		}
	})
}
