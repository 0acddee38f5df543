//nolint:thelper // these are the tests themselves: a failure is where it is found
package historytest

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"gaugebook.dev/server/history"
)

func snapshotIsStableWhileOthersWrite(t *testing.T, store history.Store) {
	for i := range 20 {
		commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put(history.Key("").Uint64(uint64(i)), "first")}})
	}
	snap := snapshot(t, store, shop)
	want, err := everything(t.Context(), snap)
	if err != nil {
		t.Fatal(err)
	}
	if len(want.rows) != 20 || want.last != 20 {
		t.Fatalf("%d rows, last number %d, want 20 of both", len(want.rows), want.last)
	}
	together(8, func(i int) {
		for n := range 10 {
			key := history.Key("").Uint64(uint64((i + n) % 25))
			draft := history.Draft{Shop: shop, Put: []history.Put{put(key, "later")}}
			if n%3 == 2 {
				draft = history.Draft{Shop: shop, Delete: []history.Key{key}}
			}
			if _, err := store.Commit(t.Context(), draft); err != nil {
				t.Error(err)
			}
		}
	})
	got, err := everything(t.Context(), snap)
	if err != nil {
		t.Fatal(err)
	}
	if d := difference(got, want); d != "" {
		t.Error("the snapshot changed: " + d)
	}
	if last := read(t, store, shop).last; last != 100 {
		t.Errorf("a new snapshot ends with %d, want 100", last)
	}
}

// snapshotNeverSeesHalfADraft has every draft write its number into two rows,
// one before and one behind all others, and into the feed.
func snapshotNeverSeesHalfADraft(t *testing.T, store history.Store) {
	const drafts = 150
	written := make(chan struct{})
	go func() {
		defer close(written)
		for i := 1; i <= drafts; i++ {
			text := fmt.Sprint(i)
			draft := history.Draft{Shop: shop, Put: []history.Put{put("a", text), put("z", text)}, Feed: []byte(text)}
			if _, err := store.Commit(t.Context(), draft); err != nil {
				t.Error(err)
				return
			}
		}
	}()
	together(4, func(int) {
		for done := false; !done; {
			select {
			case <-written:
				done = true
			default:
			}
			if err := halves(t.Context(), store); err != nil {
				t.Error(err)
				return
			}
		}
	})
}

func halves(ctx context.Context, store history.Store) error {
	snap, err := store.Snapshot(ctx, shop)
	if err != nil {
		return err
	}
	defer snap.Close()
	last, err := snap.Last(ctx)
	if err != nil {
		return err
	}
	a, err := snap.Get(ctx, "a")
	if err != nil {
		return err
	}
	page, err := snap.Scan(ctx, history.Range{Reverse: true, Limit: 1})
	if err != nil {
		return err
	}
	z := history.Row{}
	if len(page.Rows) > 0 {
		z = page.Rows[0]
	}
	beyond, err := snap.Changes(ctx, max(last, 1)-1, 2)
	if err != nil {
		return err
	}
	feed := history.Change{}
	if len(beyond) > 0 {
		feed = beyond[len(beyond)-1]
	}
	if a.Version != last || z.Version != last || feed.Number != last ||
		!bytes.Equal(a.Value, z.Value) || !bytes.Equal(a.Value, feed.Feed) {
		return fmt.Errorf("half a draft: last number %d, rows %d %q and %d %q, feed %d %q",
			last, a.Version, a.Value, z.Version, z.Value, feed.Number, feed.Feed)
	}
	return nil
}

func scanIsInKeyOrderAndBounded(t *testing.T, store history.Store) {
	// Bytes at both ends of their range, keys that begin other keys, and one
	// that is all of the highest byte and as long as can be.
	highest := history.Key(strings.Repeat("\xff", history.MaxKey))
	keys := []history.Key{"\x00", "\x00\x00", "a", "a\x00", "a\x00\xff", "ab", "abc", "ac", "b", "\xfe\xff", "\xff", "\xff\xff", highest}
	for _, key := range slices.Backward(keys) {
		commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put(key, string(key))}})
	}
	// Neighbors on both sides, which no scan may reach.
	commit(t, store, history.Draft{Shop: "nortg\xff", Put: []history.Put{put("x", "")}})
	commit(t, store, history.Draft{Shop: "north\x01", Put: []history.Put{put("x", "")}})

	reversed := slices.Clone(keys)
	slices.Reverse(reversed)
	tests := []struct {
		r    history.Range
		want []history.Key
		more bool
	}{
		{history.Range{}, keys, false},
		{history.Range{Limit: history.MaxPageRows + 1}, keys, false},
		{history.Range{Reverse: true}, reversed, false},
		{history.Range{Limit: 2}, keys[:2], true},
		{history.Range{Limit: len(keys)}, keys, false},
		{history.Range{Limit: len(keys) - 1}, keys[:len(keys)-1], true},
		{history.Range{Reverse: true, Limit: 3}, reversed[:3], true},
		{history.Range{Prefix: "a"}, []history.Key{"a", "a\x00", "a\x00\xff", "ab", "abc", "ac"}, false},
		{history.Range{Prefix: "a", Reverse: true}, []history.Key{"ac", "abc", "ab", "a\x00\xff", "a\x00", "a"}, false},
		{history.Range{Prefix: "a", After: "ab"}, []history.Key{"abc", "ac"}, false},
		{history.Range{Prefix: "a", After: "ab", Limit: 1}, []history.Key{"abc"}, true},
		{history.Range{Prefix: "a", After: "aa"}, []history.Key{"ab", "abc", "ac"}, false},
		{history.Range{Prefix: "a", After: "ad"}, nil, false},
		{history.Range{Prefix: "a", After: "ab", Reverse: true}, []history.Key{"a\x00\xff", "a\x00", "a"}, false},
		{history.Range{Prefix: "a", After: "ad", Reverse: true, Limit: 2}, []history.Key{"ac", "abc"}, true},
		{history.Range{Prefix: "a", After: "a", Reverse: true}, nil, false},
		{history.Range{Prefix: "\xff"}, []history.Key{"\xff", "\xff\xff", highest}, false},
		{history.Range{Prefix: "\xff", Reverse: true}, []history.Key{highest, "\xff\xff", "\xff"}, false},
		{history.Range{Prefix: highest, Reverse: true}, []history.Key{highest}, false},
		{history.Range{Prefix: highest + "\xff"}, nil, false},
		{history.Range{After: highest}, nil, false},
		{history.Range{Prefix: "c"}, nil, false},
		{history.Range{Prefix: "c", Reverse: true}, nil, false},
	}
	snap := snapshot(t, store, shop)
	for _, test := range tests {
		page, err := snap.Scan(t.Context(), test.r)
		if err != nil {
			t.Errorf("%#v: %v", test.r, err)
		}
		var want []history.Row
		for _, key := range test.want {
			row, err := snap.Get(t.Context(), key)
			if err != nil || string(row.Value) != string(key) {
				t.Errorf("Get(%q) found %q, %v", key, row.Value, err)
			}
			want = append(want, row)
		}
		if d := rowDifference(page.Rows, want); d != "" || page.More != test.more {
			t.Errorf("%#v: %s; more: %v, want %v", test.r, d, page.More, test.more)
		}
	}
	for _, key := range []history.Key{"", "aa", "c", "\xff\xff\xff", highest + "\xff"} {
		if row, err := snap.Get(t.Context(), key); err != nil || row.Version != history.Absent {
			t.Errorf("Get(%q) found version %d, %v", key, row.Version, err)
		}
	}
}

func pagesAreBoundedInBytes(t *testing.T, store history.Store) {
	large := strings.Repeat("x", history.MaxValue)
	for i := range 5 {
		key := history.Key("").Uint64(uint64(i))
		commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put(key, large)}})
		commit(t, store, history.Draft{Shop: "feed", Feed: []byte(large)})
	}
	for _, reverse := range []bool{false, true} {
		page, err := snapshot(t, store, shop).Scan(t.Context(), history.Range{Reverse: reverse})
		if err != nil || len(page.Rows) != 4 || !page.More {
			t.Errorf("%d rows of 1 MB, more: %v, %v; want 4 and more", len(page.Rows), page.More, err)
		}
	}
	feed := snapshot(t, store, "feed")
	changes, err := feed.Changes(t.Context(), 0, 0)
	if err != nil || len(changes) != 4 {
		t.Errorf("%d changes of 1 MB, %v; want 4", len(changes), err)
	}
	if changes, err = changesAfter(t.Context(), feed, 0); err != nil || len(changes) != 5 {
		t.Errorf("%d changes in all pages, %v; want 5", len(changes), err)
	}
}

func shopsAreApart(t *testing.T, store history.Store) {
	// Names that begin other names, or look like what a store may use inside.
	names := []string{"a", "aa", "a\x01", "a\x02b", "b", "!badger!", "\x01", "\xff", "\xff\xff", strings.Repeat("\xff", history.MaxShop)}
	for i, name := range names {
		for n := range i + 1 {
			commit(t, store, history.Draft{
				Shop:   name,
				Expect: []history.Expectation{expect(history.Key("").Uint64(uint64(n)), history.Absent)},
				Put:    []history.Put{put(history.Key("").Uint64(uint64(n)), name)},
				Feed:   []byte(name),
			})
		}
	}
	for i, name := range names {
		all := read(t, store, name)
		if all.last != history.Number(i+1) || len(all.rows) != i+1 || len(all.changes) != i+1 {
			t.Errorf("%q: %d rows, %d changes, last number %d, want %d each", name, len(all.rows), len(all.changes), all.last, i+1)
		}
		for _, row := range all.rows {
			if string(row.Value) != name {
				t.Errorf("%q has a row of %q", name, row.Value)
			}
		}
		for _, change := range all.changes {
			if string(change.Feed) != name {
				t.Errorf("%q has a change of %q", name, change.Feed)
			}
		}
	}
	if d := difference(read(t, store, "never heard of"), state{}); d != "" {
		t.Error("a shop without drafts is not empty: " + d)
	}
	slices.Sort(names)
	if got, err := store.Shops(t.Context()); err != nil || !slices.Equal(got, names) {
		t.Errorf("shops are %q, %v; want %q", got, err, names)
	}
}

func closedSnapshotIsAnError(t *testing.T, store history.Store) {
	commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put("row", "")}})
	snap := snapshot(t, store, shop)
	snap.Close()
	snap.Close()
	wantFromAll(t, snap, history.ErrClosed)
	if len(read(t, store, shop).rows) != 1 {
		t.Error("closing a snapshot closed more than the snapshot")
	}
}

func useAfterCloseIsAnError(t *testing.T, store history.Store) {
	commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put("row", "")}})
	epoch := store.Epoch()
	snap := snapshot(t, store, shop)
	waiting := make(chan error)
	go func() { waiting <- store.Wait(t.Context(), shop, 1) }()
	time.Sleep(20 * time.Millisecond) // for it to fall asleep

	together(2, func(int) {
		if err := store.Close(); err != nil {
			t.Error(err)
		}
	})
	if err := <-waiting; !errors.Is(err, history.ErrClosed) {
		t.Errorf("Wait ended with %v, want closed", err)
	}
	if _, err := store.Commit(t.Context(), history.Draft{Shop: shop}); !errors.Is(err, history.ErrClosed) {
		t.Errorf("Commit: %v, want closed", err)
	}
	if _, err := store.Snapshot(t.Context(), shop); !errors.Is(err, history.ErrClosed) {
		t.Errorf("Snapshot: %v, want closed", err)
	}
	if err := store.Wait(t.Context(), shop, 0); !errors.Is(err, history.ErrClosed) {
		t.Errorf("Wait: %v, want closed", err)
	}
	if _, err := store.Shops(t.Context()); !errors.Is(err, history.ErrClosed) {
		t.Errorf("Shops: %v, want closed", err)
	}
	if err := store.Trim(t.Context(), shop, 1, nil); !errors.Is(err, history.ErrClosed) {
		t.Errorf("Trim: %v, want closed", err)
	}
	if err := store.Writable(); !errors.Is(err, history.ErrClosed) {
		t.Errorf("Writable: %v, want closed", err)
	}
	wantFromAll(t, snap, history.ErrClosed)
	snap.Close()
	if got := store.Epoch(); got != epoch {
		t.Errorf("epoch %v became %v", epoch, got)
	}
}

func endedContextIsAnswered(t *testing.T, store history.Store) {
	commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put("row", "")}})
	snap := snapshot(t, store, shop)
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := store.Snapshot(ended, shop); !errors.Is(err, context.Canceled) {
		t.Errorf("Snapshot: %v, want the context's error", err)
	}
	if err := store.Wait(ended, shop, 1); !errors.Is(err, context.Canceled) {
		t.Errorf("Wait: %v, want the context's error", err)
	}
	if err := store.Trim(ended, shop, 1, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("Trim: %v, want the context's error", err)
	}
	if err := store.Writable(); err != nil {
		t.Errorf("Writable: %v", err)
	}
	if _, err := store.Shops(ended); !errors.Is(err, context.Canceled) {
		t.Errorf("Shops: %v, want the context's error", err)
	}
	for name, err := range reads(ended, snap) {
		if !errors.Is(err, context.Canceled) {
			t.Errorf("%s: %v, want the context's error", name, err)
		}
	}
}

// reads tries every method of a snapshot.
func reads(ctx context.Context, snap history.Snapshot) map[string]error {
	_, get := snap.Get(ctx, "row")
	_, scan := snap.Scan(ctx, history.Range{})
	_, changes := snap.Changes(ctx, 0, 0)
	_, last := snap.Last(ctx)
	_, trimmed := snap.Trimmed(ctx)
	return map[string]error{"Get": get, "Scan": scan, "Changes": changes, "Last": last, "Trimmed": trimmed}
}

func wantFromAll(t *testing.T, snap history.Snapshot, want error) {
	t.Helper()
	for name, err := range reads(t.Context(), snap) {
		if !errors.Is(err, want) {
			t.Errorf("%s: %v, want %v", name, err, want)
		}
	}
}

func reopenKeepsEverything(t *testing.T, store history.Store, reopen func(*testing.T, history.Store) history.Store) {
	shops := []string{"north", "south"}
	for i := range 60 {
		draft := history.Draft{
			Shop: shops[i%2],
			Put:  []history.Put{put(history.Key("row").Uint64(uint64(i%20)), fmt.Sprint(i))},
			Feed: fmt.Appendf(nil, "change %d", i),
		}
		if i%7 == 0 {
			draft.Delete = []history.Key{history.Key("row").Uint64(uint64(i%20 + 2))}
		}
		commit(t, store, draft)
	}
	if err := store.Trim(t.Context(), "south", 10, []byte("ten")); err != nil {
		t.Fatal(err)
	}
	before := map[string]state{}
	for _, name := range shops {
		before[name] = read(t, store, name)
	}
	for round := range 3 {
		store = reopen(t, store)
		for _, name := range shops {
			if d := difference(read(t, store, name), before[name]); d != "" {
				t.Fatalf("reopened %d times, %s: %s", round+1, name, d)
			}
		}
	}
	// Numbers and versions go on from where they were.
	row := before["north"].rows[0]
	number := commit(t, store, history.Draft{
		Shop: "north", Expect: []history.Expectation{expect(row.Key, row.Version)}, Put: []history.Put{put(row.Key, "again")},
	})
	if want := before["north"].last + 1; number != want {
		t.Errorf("number %d, want %d", number, want)
	}
}
