//nolint:thelper // these are the tests themselves: a failure is where it is found
package historytest

import (
	"context"
	"fmt"
	"testing"
	"time"

	"gaugebook.dev/server/history"
)

// trim removes entries of the feed, or ends the test.
func trim(t *testing.T, store history.Store, upTo history.Number, left string) {
	t.Helper()
	if err := store.Trim(t.Context(), shop, upTo, []byte(left)); err != nil {
		t.Fatalf("Trim: %v", err)
	}
}

func numbered(t *testing.T, store history.Store, name string, drafts int) {
	t.Helper()
	for i := range drafts {
		commit(t, store, history.Draft{Shop: name, Put: []history.Put{put(history.Key("row").Uint64(uint64(i)), "value")}, Feed: fmt.Append(nil, i+1)})
	}
}

func trimmedFeedBeginsBehind(t *testing.T, store history.Store) {
	const drafts = 20
	numbered(t, store, shop, drafts)
	numbered(t, store, "another", drafts)
	before := read(t, store, shop)
	old := snapshot(t, store, shop)
	for _, step := range []struct {
		upTo history.Number
		left string
		want history.Number // trimmed up to
		kept string
	}{
		{0, "nothing", 0, ""},
		{7, "seven", 7, "seven"},
		{7, "again", 7, "seven"},
		{3, "less", 7, "seven"},
		{8, "", 8, ""},
		{drafts, "all", drafts, "all"},
	} {
		trim(t, store, step.upTo, step.left)
		snap := snapshot(t, store, shop)
		trimmed, err := snap.Trimmed(t.Context())
		if err != nil || trimmed.Number != step.want || string(trimmed.Feed) != step.kept {
			t.Errorf("up to %d: %d %q, %v; want %d %q", step.upTo, trimmed.Number, trimmed.Feed, err, step.want, step.kept)
		}
		for after := range history.Number(drafts + 2) {
			changes, err := snap.Changes(t.Context(), after, 0)
			if after < step.want {
				if e := asError[*history.TrimmedError](t, err); e.After != after || e.Trimmed != step.want || changes != nil {
					t.Errorf("after %d, trimmed up to %d: %+v, %d changes", after, step.want, e, len(changes))
				}
				continue
			}
			if want := max(0, drafts-int(after)); err != nil || len(changes) != want || want > 0 && string(changes[0].Feed) != fmt.Sprint(after+1) {
				t.Errorf("after %d, trimmed up to %d: %d changes, %v", after, step.want, len(changes), err)
			}
		}
		now := read(t, store, shop)
		if d := rowDifference(now.rows, before.rows); d != "" || now.last != before.last {
			t.Errorf("up to %d: rows changed, %s, last number %d", step.upTo, d, now.last)
		}
	}
	if got, err := everything(t.Context(), old); err != nil || difference(got, before) != "" {
		t.Errorf("an earlier snapshot changed: %s, %v", difference(got, before), err)
	}
	if d := changeDifference(read(t, store, "another").changes, before.changes); d != "" {
		t.Errorf("another shop: %s", d)
	}
	if number := commit(t, store, history.Draft{Shop: shop, Feed: []byte("next")}); number != drafts+1 {
		t.Errorf("number %d, want %d", number, drafts+1)
	}
	if changes := read(t, store, shop).changes; len(changes) != 1 || string(changes[0].Feed) != "next" {
		t.Errorf("%d changes behind what was trimmed", len(changes))
	}
}

func trimIsHeldToItsLimits(t *testing.T, store history.Store) {
	long := history.MaxPageRows + 1
	together(50, func(i int) {
		for n := i; n < long; n += 50 {
			if _, err := store.Commit(t.Context(), history.Draft{Shop: shop}); err != nil {
				t.Error(err)
			}
		}
	})
	for _, upTo := range []history.Number{history.Number(long), history.Number(long) + 1, ^history.Number(0)} {
		_ = asError[*history.InvalidError](t, store.Trim(t.Context(), shop, upTo, nil))
	}
	_ = asError[*history.InvalidError](t, store.Trim(t.Context(), "nobody", 1, nil))
	_ = asError[*history.InvalidError](t, store.Trim(t.Context(), "", 1, nil))
	_ = asError[*history.TooLargeError](t, store.Trim(t.Context(), shop, 1, make([]byte, history.MaxValue+1)))
	if trimmed := read(t, store, shop).trimmed; trimmed.Number != 0 {
		t.Errorf("trimmed up to %d", trimmed.Number)
	}
	trim(t, store, history.Number(long)-1, "most")
	trim(t, store, history.Number(long), "all")
	if shops, err := store.Shops(t.Context()); err != nil || len(shops) != 1 {
		t.Errorf("shops %v, %v", shops, err)
	}
}

// trimWakesNobody: it is nothing new.
func trimWakesNobody(t *testing.T, store history.Store) {
	numbered(t, store, shop, 5)
	ctx, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	woken := make(chan error, 1)
	go func() { woken <- store.Wait(ctx, shop, 5) }()
	trim(t, store, 5, "")
	if err := <-woken; err == nil {
		t.Error("a wait for more ended with nothing new")
	}
	if err := store.Wait(t.Context(), shop, 4); err != nil {
		t.Errorf("what is there is not told: %v", err)
	}
}

// trimmedWhileOthersWrite trims behind writers and a reader that is never far behind.
func trimmedWhileOthersWrite(t *testing.T, store history.Store) {
	const writers, each = 8, 25
	go together(writers, func(int) {
		for range each {
			if _, err := store.Commit(t.Context(), history.Draft{Shop: shop, Feed: []byte("change")}); err != nil {
				t.Error(err)
			}
		}
	})
	seen := history.Number(0)
	for seen < writers*each {
		changes, err := next(t.Context(), store, seen)
		if err != nil {
			t.Fatal(err)
		}
		for _, change := range changes {
			if change.Number != seen+1 {
				t.Fatalf("change %d after %d", change.Number, seen)
			}
			seen++
		}
		trim(t, store, seen, fmt.Sprint(seen))
	}
	if now := read(t, store, shop); now.trimmed.Number != seen || string(now.trimmed.Feed) != fmt.Sprint(seen) || now.last != seen {
		t.Errorf("trimmed %d %q of %d, want %d", now.trimmed.Number, now.trimmed.Feed, now.last, seen)
	}
}
