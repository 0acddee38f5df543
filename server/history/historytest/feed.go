//nolint:thelper // these are the tests themselves: a failure is where it is found
package historytest

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"testing"

	"gaugebook.dev/server/history"
)

func feedIsDenseAndInCommitOrder(t *testing.T, store history.Store) {
	const drafts = 30
	for i := range drafts {
		commit(t, store, history.Draft{Shop: shop, Feed: fmt.Append(nil, i)})
		// One that is refused takes no number.
		if _, err := store.Commit(t.Context(), history.Draft{Shop: shop, Expect: []history.Expectation{expect("absent", 1)}}); err == nil {
			t.Fatal("a stale draft was stored")
		}
	}
	snap := snapshot(t, store, shop)
	tests := []struct {
		after       history.Number
		limit       int
		first, last history.Number // 0 and 0: none
	}{
		{0, 0, 1, drafts},
		{0, 1, 1, 1},
		{0, 7, 1, 7},
		{7, 7, 8, 14},
		{25, 7, 26, drafts},
		{drafts - 1, 0, drafts, drafts},
		{drafts, 0, 0, 0},
		{drafts + 1, 1, 0, 0},
		{^history.Number(0), 1, 0, 0},
	}
	for _, test := range tests {
		var want []history.Change
		for n := test.first; n <= test.last && n > 0; n++ {
			want = append(want, history.Change{Number: n, Feed: fmt.Append(nil, n-1)})
		}
		got, err := snap.Changes(t.Context(), test.after, test.limit)
		if err != nil {
			t.Error(err)
		}
		if d := changeDifference(got, want); d != "" {
			t.Errorf("at most %d after %d: %s", test.limit, test.after, d)
		}
	}

	long := history.MaxPageRows + 1
	together(50, func(i int) {
		for n := i; n < long; n += 50 {
			if _, err := store.Commit(t.Context(), history.Draft{Shop: "long"}); err != nil {
				t.Error(err)
			}
		}
	})
	for _, limit := range []int{-1, 0, long} {
		changes, err := snapshot(t, store, "long").Changes(t.Context(), 0, limit)
		if err != nil || len(changes) != history.MaxPageRows {
			t.Errorf("limit %d: %d changes, %v; want %d", limit, len(changes), err, history.MaxPageRows)
		}
	}
}

// feedSkipsNothingUnderConcurrentWriters follows the feed while many write, as a
// reader does that keeps only the last number it was given.
func feedSkipsNothingUnderConcurrentWriters(t *testing.T, store history.Store) {
	const writers, each, readers = 16, 12, 3
	const total = writers * each
	numbers := make(chan map[string]history.Number, writers)
	go together(writers, func(i int) {
		mine := map[string]history.Number{}
		for n := range each {
			text := fmt.Sprint(i, " ", n)
			number, err := store.Commit(t.Context(), history.Draft{Shop: shop, Feed: []byte(text)})
			if err != nil {
				t.Error(err)
			}
			mine[text] = number
		}
		numbers <- mine
	})

	followed := make([][]history.Change, readers)
	together(readers, func(i int) {
		for len(followed[i]) < total {
			changes, err := next(t.Context(), store, history.Number(len(followed[i])))
			if err != nil {
				t.Error(err)
				return
			}
			followed[i] = append(followed[i], changes...)
		}
	})

	told := map[string]history.Number{}
	for range writers {
		maps.Copy(told, <-numbers)
	}
	for _, changes := range followed {
		if len(changes) != total {
			t.Fatalf("a reader was given %d changes, want %d", len(changes), total)
		}
		for i, change := range changes {
			if change.Number != history.Number(i+1) || told[string(change.Feed)] != change.Number {
				t.Errorf("change %d came as number %d; its writer was told %d", i+1, change.Number, told[string(change.Feed)])
			}
		}
	}
}

// next waits for changes and reads at most ten.
func next(ctx context.Context, store history.Store, after history.Number) ([]history.Change, error) {
	if err := store.Wait(ctx, shop, after); err != nil {
		return nil, err
	}
	snap, err := store.Snapshot(ctx, shop)
	if err != nil {
		return nil, err
	}
	defer snap.Close()
	return snap.Changes(ctx, after, 10)
}

// openedEarlierCommittedLater: the writer that began first and was slow is
// behind the other in the feed, where a reader has not been yet.
func openedEarlierCommittedLater(t *testing.T, store history.Store) {
	slow := snapshot(t, store, shop)
	row, err := slow.Get(t.Context(), "slow")
	if err != nil {
		t.Fatal(err)
	}

	fast := commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put("fast", "")}, Feed: []byte("fast")})
	all := read(t, store, shop)
	if all.last != fast || len(all.changes) != 1 {
		t.Fatalf("%d changes, last number %d, want 1", len(all.changes), all.last)
	}

	number := commit(t, store, history.Draft{
		Shop: shop, Expect: []history.Expectation{expect("slow", row.Version)},
		Put: []history.Put{put("slow", "")}, Feed: []byte("slow"),
	})
	changes, err := snapshot(t, store, shop).Changes(t.Context(), all.last, 0)
	if err != nil {
		t.Fatal(err)
	}
	if d := changeDifference(changes, []history.Change{{Number: number, Feed: []byte("slow")}}); d != "" {
		t.Errorf("after number %d: %s", all.last, d)
	}
}

func waitWakesForTheNewerOnly(t *testing.T, store history.Store) {
	if err := commitAndWait(t, store); err != nil {
		t.Fatal(err)
	}

	const waiters = 20
	woken := make(chan history.Number, 2*waiters)
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	for range waiters {
		for _, after := range []history.Number{1, 2} {
			go func() {
				if err := store.Wait(ctx, shop, after); err != nil && (after == 1 || !errors.Is(err, context.Canceled)) {
					t.Errorf("Wait for more than %d: %v", after, err)
				}
				woken <- after
			}()
		}
	}
	commit(t, store, history.Draft{Shop: "another"})
	select {
	case after := <-woken:
		t.Errorf("a wait for more than %d ended with nothing new", after)
	default:
	}
	commit(t, store, history.Draft{Shop: shop})
	for range waiters {
		if after := <-woken; after != 1 {
			t.Errorf("a wait for more than %d ended with number 2", after)
		}
	}
	cancel()
	for range waiters {
		if after := <-woken; after != 2 {
			t.Errorf("a wait for more than %d was woken twice", after)
		}
	}
}

// commitAndWait waits for a number that is there and for one that comes.
func commitAndWait(t *testing.T, store history.Store) error {
	t.Helper()
	coming := make(chan error)
	go func() { coming <- store.Wait(t.Context(), shop, 0) }()
	commit(t, store, history.Draft{Shop: shop})
	return errors.Join(<-coming, store.Wait(t.Context(), shop, 0))
}
