//nolint:gosec,thelper // chance is for tests, and these are the tests themselves: a failure is where it is found
package historytest

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

// answersAsTheModelDoes does the same to a store and to the model, chosen at
// random, and compares every answer.
func answersAsTheModelDoes(t *testing.T, store history.Store, reopen func(*testing.T, history.Store) history.Store) {
	const seed, steps = 20260301, 1000
	model := memory.New()
	walk := walk{
		random: rand.New(rand.NewPCG(seed, 0)),
		shops:  []string{"north", "south", "south east"},
		model:  model,
	}
	var pairs []pair
	for step := range steps {
		var err error
		switch n := walk.random.IntN(100); {
		case n < 43:
			err = walk.commit(t, store)
		case n < 45:
			err = walk.trim(t, store)
		case n < 55:
			name := walk.shop()
			pairs = append(pairs, pair{snapshot(t, store, name), snapshot(t, model, name)})
		case n < 60 && len(pairs) > 3:
			pairs[0].got.Close()
			pairs = pairs[1:]
		case n < 61 && reopen != nil:
			pairs = nil
			store = reopen(t, store)
		case len(pairs) > 0:
			err = walk.look(t, pairs[walk.random.IntN(len(pairs))])
		}
		if err != nil {
			t.Fatalf("seed %d, step %d: %v", uint64(seed), step, err)
		}
	}
	for _, name := range walk.shops {
		want := read(t, model, name)
		if d := difference(read(t, store, name), want); d != "" {
			t.Errorf("%s: %s", name, d)
		}
		if want.trimmed.Number == 0 {
			t.Errorf("nothing was trimmed in %s: the walk is no test", name)
		}
		if want.last == 0 {
			t.Errorf("nothing was stored in %s: the walk is no test", name)
		}
	}
	if walk.stale == 0 {
		t.Error("no draft was stale: the walk is no test")
	}
}

// A pair is one moment in both stores.
type pair struct{ got, want history.Snapshot }

type walk struct {
	random *rand.Rand
	shops  []string
	model  *memory.Store
	stale  int
}

func (w *walk) shop() string { return w.shops[w.random.IntN(len(w.shops))] }

// key is one of few, so that drafts meet, and of bytes at the ends of the range.
func (w *walk) key() history.Key {
	bytes := []byte{0, 1, 'a', 0xfe, 0xff}
	key := history.Key("k")
	for range w.random.IntN(3) {
		key = key.Byte(bytes[w.random.IntN(len(bytes))])
	}
	return key
}

func (w *walk) commit(t *testing.T, store history.Store) error {
	draft := history.Draft{Shop: w.shop(), Feed: fmt.Append(nil, w.random.Uint32())}
	now := snapshot(t, w.model, draft.Shop)
	for range w.random.IntN(3) {
		row, err := now.Get(t.Context(), w.key())
		if err != nil {
			return err
		}
		if w.random.IntN(5) == 0 {
			row.Version++
		}
		draft.Expect = append(draft.Expect, expect(row.Key, row.Version))
	}
	for range w.random.IntN(4) {
		if w.random.IntN(3) == 0 {
			draft.Delete = append(draft.Delete, w.key())
		} else {
			draft.Put = append(draft.Put, put(w.key(), fmt.Sprint(w.random.Uint32())))
		}
	}
	got, gotErr := store.Commit(t.Context(), draft)
	want, wantErr := w.model.Commit(t.Context(), draft)
	if stale := (*history.StaleError)(nil); errors.As(wantErr, &stale) {
		w.stale++
	}
	if got != want || fmt.Sprintf("%T %v", gotErr, gotErr) != fmt.Sprintf("%T %v", wantErr, wantErr) {
		return fmt.Errorf("%#v was answered %d, %w; want %d, %w", draft, got, gotErr, want, wantErr)
	}
	return nil
}

// trim removes a few entries, or asks for what is not there.
func (w *walk) trim(t *testing.T, store history.Store) error {
	name := w.shop()
	now := read(t, w.model, name)
	upTo, left := now.trimmed.Number+history.Number(w.random.IntN(12)), fmt.Append(nil, w.random.Uint32())
	got, want := store.Trim(t.Context(), name, upTo, left), w.model.Trim(t.Context(), name, upTo, left)
	if fmt.Sprint(got) != fmt.Sprint(want) {
		return fmt.Errorf("trimmed up to %d with %w, want %w", upTo, got, want)
	}
	return nil
}

// look compares one read.
func (w *walk) look(t *testing.T, p pair) error {
	switch w.random.IntN(4) {
	case 0:
		key := w.key()
		got, gotErr := p.got.Get(t.Context(), key)
		want, wantErr := p.want.Get(t.Context(), key)
		return compare(rowDifference([]history.Row{got}, []history.Row{want}), gotErr, wantErr)
	case 1:
		after, limit := history.Number(w.random.IntN(60)), w.random.IntN(10)
		got, gotErr := p.got.Changes(t.Context(), after, limit)
		want, wantErr := p.want.Changes(t.Context(), after, limit)
		if wantErr != nil && fmt.Sprint(gotErr) == fmt.Sprint(wantErr) {
			return nil // trimmed
		}
		return compare(changeDifference(got, want), gotErr, wantErr)
	case 2:
		got, gotErr := everything(t.Context(), p.got)
		want, wantErr := everything(t.Context(), p.want)
		return compare(difference(got, want), gotErr, wantErr)
	default:
		r := history.Range{Prefix: w.key(), Limit: w.random.IntN(6), Reverse: w.random.IntN(2) == 0}
		if w.random.IntN(2) == 0 {
			r.After = r.Prefix + w.key()[1:]
		}
		got, gotErr := p.got.Scan(t.Context(), r)
		want, wantErr := p.want.Scan(t.Context(), r)
		d := rowDifference(got.Rows, want.Rows)
		if got.More != want.More {
			d += fmt.Sprintf(" more: %v, want %v", got.More, want.More)
		}
		if d != "" {
			d = fmt.Sprintf("%#v: %s", r, d)
		}
		return compare(d, gotErr, wantErr)
	}
}

func compare(difference string, gotErr, wantErr error) error {
	if gotErr != nil || wantErr != nil || difference != "" {
		return fmt.Errorf("%s; errors %w and %w", difference, gotErr, wantErr)
	}
	return nil
}
