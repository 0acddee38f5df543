//nolint:gosec,thelper // chance is for tests, and these are the tests themselves: a failure is where it is found
package historytest

import (
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"gaugebook.dev/server/history"
)

func draftIsWholeOrNothing(t *testing.T, store history.Store) {
	commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put("kept", "1"), put("gone", "1")}, Feed: []byte("first")})
	before := read(t, store, shop)

	refused := history.Draft{
		Shop:   shop,
		Expect: []history.Expectation{expect("kept", 1), expect("other", 7)},
		Put:    []history.Put{put("kept", "2"), put("new", "2")},
		Delete: []history.Key{"gone"},
		Feed:   []byte("refused"),
	}
	if _, err := store.Commit(t.Context(), refused); err == nil {
		t.Fatal("a draft with a failing expectation was stored")
	}
	if d := difference(read(t, store, shop), before); d != "" {
		t.Error("a refused draft left a trace: " + d)
	}

	refused.Expect = refused.Expect[:1]
	commit(t, store, refused)
	want := state{
		rows:    []history.Row{{Key: "kept", Value: []byte("2"), Version: 2}, {Key: "new", Value: []byte("2"), Version: 2}},
		changes: []history.Change{{Number: 1, Feed: []byte("first")}, {Number: 2, Feed: []byte("refused")}},
		last:    2,
	}
	if d := difference(read(t, store, shop), want); d != "" {
		t.Error(d)
	}
}

func commitGivesTheNumberAndTheVersion(t *testing.T, store history.Store) {
	for want := history.Number(1); want <= 5; want++ {
		number := commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put("row", "")}})
		row, err := snapshot(t, store, shop).Get(t.Context(), "row")
		if err != nil || number != want || row.Version != want {
			t.Errorf("number %d, version %d, %v; want both %d", number, row.Version, err, want)
		}
	}
	// A draft may consist of its place in the feed.
	if number := commit(t, store, history.Draft{Shop: shop}); number != 6 {
		t.Errorf("number %d, want 6", number)
	}
}

func draftsTogetherAreAnsweredEach(t *testing.T, store history.Store) {
	first := history.Draft{Shop: shop, Expect: []history.Expectation{expect("row", history.Absent)}, Put: []history.Put{put("row", "1")}, Feed: []byte("a")}
	second := history.Draft{Shop: shop, Expect: []history.Expectation{expect("row", 1)}, Put: []history.Put{put("row", "2")}, Feed: []byte("b")}
	answers := store.CommitAll(t.Context(), []history.Draft{first, {Shop: ""}, first, second})
	var (
		ill   *history.InvalidError
		stale *history.StaleError
	)
	if len(answers) != 4 || answers[0] != (history.Committed{Number: 1}) || !errors.As(answers[1].Err, &ill) || !errors.As(answers[2].Err, &stale) || answers[3] != (history.Committed{Number: 2}) {
		t.Errorf("%v", answers)
	}
	want := state{
		rows:    []history.Row{{Key: "row", Value: []byte("2"), Version: 2}},
		changes: []history.Change{{Number: 1, Feed: []byte("a")}, {Number: 2, Feed: []byte("b")}},
		last:    2,
	}
	if d := difference(read(t, store, shop), want); d != "" {
		t.Error(d)
	}
	if none := store.CommitAll(t.Context(), nil); len(none) != 0 {
		t.Errorf("%v", none)
	}
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if late := store.CommitAll(ended, []history.Draft{second, second}); !errors.Is(late[0].Err, context.Canceled) || !errors.Is(late[1].Err, context.Canceled) {
		t.Errorf("%v", late)
	}
}

func expectedAbsentGuardsAgainstASecondWriter(t *testing.T, store history.Store) {
	const writers = 16
	for round := range 5 {
		key := history.Key("id").Uint64(uint64(round))
		won := make(chan int, writers)
		together(writers, func(i int) {
			_, err := store.Commit(t.Context(), history.Draft{
				Shop:   shop,
				Expect: []history.Expectation{expect(key, history.Absent)},
				Put:    []history.Put{put(key, strconv.Itoa(i))},
			})
			if err == nil {
				won <- i
			} else if stale := (*history.StaleError)(nil); !errors.As(err, &stale) {
				t.Errorf("the second writer was told %v", err)
			}
		})
		close(won)
		if len(won) != 1 {
			t.Fatalf("%d writers found the row absent, want 1", len(won))
		}
		row, err := snapshot(t, store, shop).Get(t.Context(), key)
		if winner := strconv.Itoa(<-won); err != nil || string(row.Value) != winner {
			t.Errorf("row holds %q, %v; %s has won", row.Value, err, winner)
		}
	}
}

func staleExpectationNamesTheKey(t *testing.T, store history.Store) {
	commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put("a", ""), put("b", "")}})
	commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put("b", "")}})
	tests := []struct {
		expect []history.Expectation
		want   history.StaleError
	}{
		{[]history.Expectation{expect("a", 1), expect("b", 1)}, history.StaleError{Key: "b", Expected: 1, Found: 2}},
		{[]history.Expectation{expect("b", 3)}, history.StaleError{Key: "b", Expected: 3, Found: 2}},
		{[]history.Expectation{expect("a", history.Absent)}, history.StaleError{Key: "a", Expected: history.Absent, Found: 1}},
		{[]history.Expectation{expect("c", 2)}, history.StaleError{Key: "c", Expected: 2, Found: history.Absent}},
		{[]history.Expectation{expect("c", 2), expect("a", 9)}, history.StaleError{Key: "c", Expected: 2, Found: history.Absent}},
	}
	for _, test := range tests {
		_, err := store.Commit(t.Context(), history.Draft{Shop: shop, Expect: test.expect})
		if got := asError[*history.StaleError](t, err); *got != test.want {
			t.Errorf("%v: %v, want %v", test.expect, got, &test.want)
		}
	}
	commit(t, store, history.Draft{Shop: shop, Expect: []history.Expectation{expect("a", 1), expect("b", 2), expect("c", history.Absent)}})
}

func deleteThenAbsent(t *testing.T, store history.Store) {
	commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put("row", "1")}})
	earlier := snapshot(t, store, shop)
	commit(t, store, history.Draft{
		Shop: shop, Expect: []history.Expectation{expect("row", 1)}, Delete: []history.Key{"row", "never there"},
	})

	snap := snapshot(t, store, shop)
	row, err := snap.Get(t.Context(), "row")
	if err != nil || row.Version != history.Absent || row.Value != nil {
		t.Errorf("a deleted row reads as %q, version %d, %v", row.Value, row.Version, err)
	}
	if page, err := snap.Scan(t.Context(), history.Range{}); err != nil || len(page.Rows) != 0 || page.More {
		t.Errorf("a deleted row is listed: %v, %v", page.Rows, err)
	}
	if row, err := earlier.Get(t.Context(), "row"); err != nil || string(row.Value) != "1" {
		t.Errorf("an earlier snapshot lost the row: %q, %v", row.Value, err)
	}

	// What was deleted can be expected absent, and comes back with a new version.
	commit(t, store, history.Draft{
		Shop: shop, Expect: []history.Expectation{expect("row", history.Absent)}, Put: []history.Put{put("row", "3")},
	})
	row, err = snapshot(t, store, shop).Get(t.Context(), "row")
	if err != nil || row.Version != 3 || string(row.Value) != "3" {
		t.Errorf("row reads as %q, version %d, %v; want \"3\", version 3", row.Value, row.Version, err)
	}
	_, err = store.Commit(t.Context(), history.Draft{Shop: shop, Expect: []history.Expectation{expect("row", 1)}})
	_ = asError[*history.StaleError](t, err)
}

func illFormedIsRefused(t *testing.T, store history.Store) {
	key := history.Key("key")
	drafts := map[string]history.Draft{
		"no shop":            {},
		"zero byte in shop":  {Shop: "no\x00rth"},
		"empty key put":      {Shop: shop, Put: []history.Put{put("", "")}},
		"empty key deleted":  {Shop: shop, Delete: []history.Key{""}},
		"empty key expected": {Shop: shop, Expect: []history.Expectation{{}}},
		"expected twice":     {Shop: shop, Expect: []history.Expectation{expect(key, 0), expect(key, 0)}},
		"put twice":          {Shop: shop, Put: []history.Put{put(key, "1"), put(key, "2")}},
		"deleted twice":      {Shop: shop, Delete: []history.Key{key, key}},
		"put and deleted":    {Shop: shop, Put: []history.Put{put(key, "1")}, Delete: []history.Key{key}},
	}
	for name, draft := range drafts {
		t.Run(name, func(t *testing.T) {
			_, err := store.Commit(t.Context(), draft)
			_ = asError[*history.InvalidError](t, err)
		})
	}
	for _, name := range []string{"", "no\x00rth"} {
		_, err := store.Snapshot(t.Context(), name)
		_ = asError[*history.InvalidError](t, err)
		_ = asError[*history.InvalidError](t, store.Wait(t.Context(), name, 0))
	}
	_, err := snapshot(t, store, shop).Scan(t.Context(), history.Range{Prefix: "b", After: "a"})
	_ = asError[*history.InvalidError](t, err)
	if last := read(t, store, shop).last; last != 0 {
		t.Errorf("a draft that was refused has the number %d", last)
	}
}

func limitsAreTakenAndNoMore(t *testing.T, store history.Store) {
	long := func(n int) string { return strings.Repeat("\xff", n) }
	// The longest key and name, the largest feed entry, and a draft of exactly
	// the size that is allowed, of few large rows and of as many as it can have.
	few := history.Draft{
		Shop: long(history.MaxShop),
		Put:  []history.Put{put(history.Key(long(history.MaxKey)), long(history.MaxValue)), put("rest", "")},
	}
	few.Put[1].Value = []byte(long(history.MaxDraft - few.Size()))
	many := history.Draft{Shop: few.Shop}
	for i := range (history.MaxDraft - history.RowOverhead) / (history.RowOverhead + 8) {
		many.Put = append(many.Put, put(history.Key("").Uint64(uint64(i)), ""))
	}
	feed := history.Draft{Shop: few.Shop, Feed: []byte(long(history.MaxValue))}
	for name, draft := range map[string]history.Draft{"few": few, "many": many, "feed": feed} {
		t.Run(name, func(t *testing.T) { commit(t, store, draft) })
	}
	rows := read(t, store, few.Shop).rows
	if want := len(few.Put) + len(many.Put); len(rows) != want {
		t.Errorf("%d rows, want %d", len(rows), want)
	}

	tests := map[string]struct {
		draft history.Draft
		want  history.TooLargeError
	}{
		"shop":  {history.Draft{Shop: long(65)}, history.TooLargeError{What: "shop's name", Size: 65, Limit: history.MaxShop}},
		"key":   {history.Draft{Shop: shop, Delete: []history.Key{history.Key(long(1025))}}, history.TooLargeError{What: "key", Size: 1025, Limit: history.MaxKey}},
		"value": {history.Draft{Shop: shop, Put: []history.Put{put("key", long(1_000_001))}}, history.TooLargeError{What: "value", Size: 1_000_001, Limit: history.MaxValue}},
		"feed":  {history.Draft{Shop: shop, Feed: []byte(long(1_000_001))}, history.TooLargeError{What: "feed entry", Size: 1_000_001, Limit: history.MaxValue}},
		"draft": {
			history.Draft{Shop: shop, Put: []history.Put{put("a", long(700_000)), put("b", long(600_000))}},
			history.TooLargeError{What: "draft", Size: 1_300_386, Limit: history.MaxDraft},
		},
	}
	for name, test := range tests {
		t.Run("too large "+name, func(t *testing.T) {
			_, err := store.Commit(t.Context(), test.draft)
			if got := asError[*history.TooLargeError](t, err); *got != test.want {
				t.Errorf("%+v, want %+v", *got, test.want)
			}
		})
	}
	if last := read(t, store, shop).last; last != 0 {
		t.Errorf("a draft that was refused has the number %d", last)
	}
}

func draftsAreCopied(t *testing.T, store history.Store) {
	draft := history.Draft{Shop: shop, Put: []history.Put{put("row", "as given")}, Feed: []byte("as given")}
	commit(t, store, draft)
	copy(draft.Put[0].Value, "scribble")
	copy(draft.Feed, "scribble")

	for range 2 { // what is read may be changed as well
		snap := snapshot(t, store, shop)
		row, err := snap.Get(t.Context(), "row")
		page, err2 := snap.Scan(t.Context(), history.Range{})
		changes, err3 := snap.Changes(t.Context(), 0, 0)
		if err := errors.Join(err, err2, err3); err != nil {
			t.Fatal(err)
		}
		for _, value := range [][]byte{row.Value, page.Rows[0].Value, changes[0].Feed} {
			if string(value) != "as given" {
				t.Errorf("read %q, want what was given", value)
			}
			copy(value, "scribble")
		}
	}
}

func badDraftHarmsNoNeighbor(t *testing.T, store history.Store) {
	const writers, each = 32, 8
	commit(t, store, history.Draft{Shop: shop, Put: []history.Put{put("guard", "")}})
	together(writers, func(i int) {
		for n := range each {
			key := history.Key("row").Uint64(uint64(i)).Uint64(uint64(n))
			draft := history.Draft{Shop: shop, Put: []history.Put{put(key, "")}, Feed: []byte(key)}
			bad := i%2 == 1
			if bad {
				draft.Expect = []history.Expectation{expect("guard", 99)}
				draft.Put = append(draft.Put, put("guard", "spoilt"))
			}
			_, err := store.Commit(t.Context(), draft)
			if stale := (*history.StaleError)(nil); bad != errors.As(err, &stale) || !bad && err != nil {
				t.Errorf("writer %d, whose drafts are bad: %v, was told %v", i, bad, err)
			}
		}
	})
	all := read(t, store, shop)
	const good = writers / 2 * each
	if len(all.rows) != 1+good || all.last != 1+good {
		t.Errorf("%d rows and last number %d, want %d of both", len(all.rows), all.last, 1+good)
	}
	for _, row := range all.rows {
		if string(row.Value) != "" {
			t.Errorf("row %q was spoilt", row.Key)
		}
	}
}

func canceledDraftIsWhollyStoredOrNotAtAll(t *testing.T, store history.Store) {
	const writers, each = 32, 20
	type outcome struct {
		key    history.Key
		number history.Number
		err    error
	}
	outcomes := make(chan outcome, writers*each)
	together(writers, func(i int) {
		random := rand.New(rand.NewPCG(1, uint64(i)))
		for n := range each {
			key := history.Key("").Uint64(uint64(i)).Uint64(uint64(n))
			ctx, cancel := context.WithTimeout(t.Context(), time.Duration(random.IntN(4000))*time.Microsecond)
			number, err := store.Commit(ctx, history.Draft{
				Shop: shop, Put: []history.Put{put(key+"a", ""), put(key+"b", "")}, Feed: []byte(key),
			})
			cancel()
			outcomes <- outcome{key, number, err}
		}
	})
	close(outcomes)

	all := read(t, store, shop)
	versions := map[history.Key]history.Number{}
	for _, row := range all.rows {
		versions[row.Key] = row.Version
	}
	stored := 0
	for o := range outcomes {
		if o.err == nil {
			stored++
		} else if !errors.Is(o.err, context.DeadlineExceeded) {
			t.Errorf("a canceled draft was told %v", o.err)
		}
		// After an error the number is 0, which is Absent.
		if a, b := versions[o.key+"a"], versions[o.key+"b"]; a != o.number || b != o.number {
			t.Errorf("told %d and %v, but its rows have versions %d and %d", o.number, o.err, a, b)
		}
	}
	if all.last != history.Number(stored) || len(all.changes) != stored {
		t.Errorf("%d drafts were stored, the feed has %d and ends with %d", stored, len(all.changes), all.last)
	}

	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := store.Commit(ended, history.Draft{Shop: shop}); !errors.Is(err, context.Canceled) {
		t.Errorf("after the context's end: %v, want its error", err)
	}
	if last := read(t, store, shop).last; last != all.last {
		t.Error("a draft was stored after its context's end")
	}
}

func sixtyFourWritersOnOneRowLoseNothing(t *testing.T, store history.Store) {
	manyWriters(t, store, 64, 4, 1)
}

func sixtyFourWritersOnThousandRowsLoseNothing(t *testing.T, store history.Store) {
	manyWriters(t, store, 64, 20, 1000)
}

// manyWriters has each writer add one to a row, again and again, and reads again
// whenever somebody else was faster.
func manyWriters(t *testing.T, store history.Store, writers, each, rows int) {
	t.Helper()
	together(writers, func(i int) {
		random := rand.New(rand.NewPCG(2, uint64(i)))
		for range each {
			key := history.Key("counter").Uint64(random.Uint64N(uint64(rows)))
			if err := addOne(t.Context(), store, key); err != nil {
				t.Error(err)
				return
			}
		}
	})
	all := read(t, store, shop)
	sum := 0
	for _, row := range all.rows {
		n, err := strconv.Atoi(string(row.Value))
		if err != nil {
			t.Fatal(err)
		}
		sum += n
	}
	if want := writers * each; sum != want || all.last != history.Number(want) {
		t.Errorf("the rows add up to %d and the last number is %d, want %d", sum, all.last, want)
	}
}

func addOne(ctx context.Context, store history.Store, key history.Key) error {
	for {
		snap, err := store.Snapshot(ctx, shop)
		if err != nil {
			return err
		}
		row, err := snap.Get(ctx, key)
		snap.Close()
		if err != nil {
			return err
		}
		n := 0
		if row.Version != history.Absent {
			if n, err = strconv.Atoi(string(row.Value)); err != nil {
				return err
			}
		}
		_, err = store.Commit(ctx, history.Draft{
			Shop:   shop,
			Expect: []history.Expectation{expect(key, row.Version)},
			Put:    []history.Put{put(key, strconv.Itoa(n+1))},
		})
		if stale := (*history.StaleError)(nil); !errors.As(err, &stale) {
			return err
		}
	}
}

// together runs n goroutines and waits for them.
func together(n int, f func(i int)) {
	var group sync.WaitGroup
	for i := range n {
		group.Go(func() { f(i) })
	}
	group.Wait()
}

func closeStoresWhatWasTaken(t *testing.T, store history.Store) {
	const writers = 16
	began := make(chan struct{}, writers)
	ended := make(chan error, writers)
	for i := range writers {
		go func() {
			for n := 0; ; n++ {
				_, err := store.Commit(t.Context(), history.Draft{Shop: fmt.Sprintf("shop %d", i)})
				if err != nil {
					ended <- err
					return
				}
				if n == 0 {
					began <- struct{}{}
				}
			}
		}()
	}
	for range writers {
		<-began
	}
	if err := store.Close(); err != nil {
		t.Error(err)
	}
	for range writers {
		if err := <-ended; !errors.Is(err, history.ErrClosed) {
			t.Errorf("a writer was told %v, want stored or closed", err)
		}
	}
}
