package historytest

import (
	"errors"
	"fmt"
	"testing"

	"gaugebook.dev/server/history"
)

// loading are the promises of a history.Loader of a driver.
func loading(load func(t *testing.T) (history.Loader, func() history.Store)) []promise {
	type test = func(t *testing.T, store history.Store, to history.Loader, opened func() history.Store)
	with := func(f test) func(*testing.T, history.Store) {
		return func(t *testing.T, store history.Store) {
			to, open := load(t)
			f(t, store, to, func() history.Store {
				loaded := open()
				t.Cleanup(func() {
					if err := loaded.Close(); err != nil {
						t.Errorf("Close: %v", err)
					}
				})
				return loaded
			})
		}
	}
	return []promise{
		{"LoadedReadsAsTheOriginalDoes", with(loadedReadsAsTheOriginalDoes)},
		{"LoadedGoesOnWithNumbersAndVersions", with(loadedGoesOnWithNumbersAndVersions)},
		{"LoadedHasAnEpochOfItsOwn", with(loadedHasAnEpochOfItsOwn)},
		{"AnEmptyStoreIsLoaded", with(anEmptyStoreIsLoaded)},
		{"LoadingIsHeldToItsOrder", with(loadingIsHeldToItsOrder)},
	}
}

// fill writes rows of several shops, some of which are deleted and put again. Their
// keys reach over what a store keeps for itself.
func fill(t *testing.T, store history.Store) {
	t.Helper()
	for i := range 60 {
		for _, name := range []string{"north", "north east", "\x01", "süd"} {
			k := history.Key(fmt.Sprint("row ", i%17))
			draft := history.Draft{Shop: name, Feed: fmt.Append(nil, name, " change ", i), Put: []history.Put{
				put(k, fmt.Sprint("value ", i)), put(history.Key([]byte{byte(i), 0, 0xff}), ""),
			}}
			if i%5 == 0 {
				draft.Delete = []history.Key{history.Key(fmt.Sprint("row ", (i+3)%17))}
			}
			commit(t, store, draft)
		}
	}
	for name, upTo := range map[string]history.Number{"north east": 25, "süd": 60} {
		if err := store.Trim(t.Context(), name, upTo, fmt.Append(nil, "up to ", upTo)); err != nil {
			t.Fatal(err)
		}
	}
	commit(t, store, history.Draft{Shop: "large", Put: []history.Put{{Key: "large", Value: make([]byte, history.MaxValue)}}})
}

func copyTo(t *testing.T, from history.Store, to history.Loader) {
	t.Helper()
	if err := history.Copy(t.Context(), from, to, nil); err != nil {
		t.Fatal(err)
	}
}

func loadedReadsAsTheOriginalDoes(t *testing.T, store history.Store, to history.Loader, opened func() history.Store) {
	fill(t, store)
	copyTo(t, store, to)
	loaded := opened()
	names, err := loaded.Shops(t.Context())
	if want, _ := store.Shops(t.Context()); err != nil || fmt.Sprintf("%q", names) != fmt.Sprintf("%q", want) {
		t.Fatalf("shops %q, %v; want %q", names, err, want)
	}
	for _, name := range names {
		if d := difference(read(t, loaded, name), read(t, store, name)); d != "" {
			t.Errorf("shop %q: %s", name, d)
		}
	}
}

func loadedGoesOnWithNumbersAndVersions(t *testing.T, store history.Store, to history.Loader, opened func() history.Store) {
	fill(t, store)
	copyTo(t, store, to)
	loaded := opened()
	was := read(t, store, shop)
	row := was.rows[len(was.rows)-1]
	_, err := loaded.Commit(t.Context(), history.Draft{Shop: shop, Expect: []history.Expectation{expect(row.Key, row.Version+1)}})
	if stale := asError[*history.StaleError](t, err); stale.Found != row.Version {
		t.Errorf("the row has version %d, want %d", stale.Found, row.Version)
	}
	draft := history.Draft{Shop: shop, Expect: []history.Expectation{expect(row.Key, row.Version)}, Put: []history.Put{put(row.Key, "later")}}
	if n := commit(t, loaded, draft); n != was.last+1 {
		t.Errorf("the next draft is number %d, want %d", n, was.last+1)
	}
	if n := commit(t, loaded, history.Draft{Shop: "new"}); n != 1 {
		t.Errorf("the first draft of a new shop is number %d", n)
	}
	now := read(t, loaded, shop)
	if got := now.rows[len(now.rows)-1]; string(got.Value) != "later" || got.Version != was.last+1 || len(now.rows) != len(was.rows) {
		t.Errorf("%d rows, the last %q of version %d", len(now.rows), got.Value, got.Version)
	}
	if d := changeDifference(now.changes[:was.last], was.changes); d != "" {
		t.Error(d)
	}
}

func loadedHasAnEpochOfItsOwn(t *testing.T, store history.Store, to history.Loader, opened func() history.Store) {
	fill(t, store)
	copyTo(t, store, to)
	if loaded := opened(); loaded.Epoch() == store.Epoch() || loaded.Epoch() == (history.Epoch{}) {
		t.Errorf("epoch %v of one that had %v", loaded.Epoch(), store.Epoch())
	}
}

func anEmptyStoreIsLoaded(t *testing.T, store history.Store, to history.Loader, opened func() history.Store) {
	copyTo(t, store, to)
	loaded := opened()
	if names, err := loaded.Shops(t.Context()); err != nil || len(names) > 0 {
		t.Errorf("shops %q, %v", names, err)
	}
	if n := commit(t, loaded, history.Draft{Shop: shop}); n != 1 {
		t.Errorf("the first draft is number %d", n)
	}
}

func loadingIsHeldToItsOrder(t *testing.T, _ history.Store, to history.Loader, _ func() history.Store) {
	change := func(n history.Number) []history.Change { return []history.Change{{Number: n}} }
	row := func(k history.Key, version history.Number) []history.Row {
		return []history.Row{{Key: k, Version: version}}
	}
	refused := func(what string, err error) {
		t.Helper()
		if _, ill := errors.AsType[*history.InvalidError](err); !ill {
			t.Errorf("%s: %v", what, err)
		}
	}
	taken := func(errs ...error) {
		t.Helper()
		if err := errors.Join(errs...); err != nil {
			t.Fatal(err)
		}
	}
	refused("a change of no shop", to.Changes(change(1)))
	refused("a shop without a name", to.Shop(history.Loaded{Name: "", Last: 1}))
	refused("a shop without a draft", to.Shop(history.Loaded{Name: "b", Last: 0}))
	taken(to.Shop(history.Loaded{Name: "b", Last: 2}), to.Changes(change(1)))
	refused("a change again", to.Changes(change(1)))
	refused("a row before the last change", to.Rows(row("a", 1)))
	refused("a shop before the last change", to.Shop(history.Loaded{Name: "c", Last: 1}))
	refused("the end before the last change", to.Done())
	taken(to.Changes(change(2)), to.Rows(row("k", 2)))
	refused("a row again", to.Rows(row("k", 2)))
	refused("a row of a lower key", to.Rows(row("a", 2)))
	refused("a row without a version", to.Rows(row("l", history.Absent)))
	refused("a row of a later version than the last", to.Rows(row("l", 3)))
	refused("a change behind rows", to.Changes(change(3)))
	refused("a shop of a lower name", to.Shop(history.Loaded{Name: "a", Last: 1}))
	refused("a shop again", to.Shop(history.Loaded{Name: "b", Last: 1}))
	taken(to.Done())
	refused("a shop behind the end", to.Shop(history.Loaded{Name: "c", Last: 1}))
	refused("a second end", to.Done())
}
