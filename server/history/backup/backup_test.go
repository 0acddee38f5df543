package backup_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"sync"
	"testing"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/backup"
	"gaugebook.dev/server/history/memory"
)

// A backup that is made while others write, restored elsewhere, is the shop as it was
// after its last draft in it, row by row with their versions and change by change; and
// every driver's backup can be restored into every driver.
func TestBackupUnderLoadIsTheModel(t *testing.T) {
	for from, source := range drivers {
		t.Run("from "+from, func(t *testing.T) {
			store, made := source.open(t), &model{}
			shops := []string{"north", "south", "süd"}
			writing, stop := context.WithCancel(t.Context())
			defer stop()
			var writers sync.WaitGroup
			begun := make(chan struct{}, 8)
			for w := range 8 {
				writers.Go(func() {
					random := rand.New(rand.NewPCG(uint64(w), 14))
					for i := 0; writing.Err() == nil && i < 3000; i++ {
						shop := shops[random.IntN(len(shops))]
						n, err := made.commit(t.Context(), store, draw(random, shop, w*10_000+i))
						if err != nil {
							t.Error(err)
							return
						}
						if i == 40 {
							begun <- struct{}{}
						}
						if i%50 == 49 {
							if err := store.Trim(t.Context(), shop, n/2, fmt.Append(nil, "up to ", n/2)); err != nil {
								t.Error(err)
							}
						}
					}
				})
			}
			for range 8 {
				<-begun
			}
			var files [3]bytes.Buffer
			for i := range files {
				if _, err := backup.Write(t.Context(), &files[i], store, about); err != nil {
					t.Fatal(err)
				}
			}
			stop()
			writers.Wait()
			for i := range files {
				for to, target := range drivers {
					loader, open := target.load(t)
					restored := restore(t, &files[i], loader, open)
					for _, shop := range shops {
						lines, trimmed, last := holds(t, restored, shop)
						if want := made.at(shop, trimmed, last); last == 0 || !slices.Equal(lines, want) {
							t.Errorf("to %s: the shop %q of %d changes is not as the model: %d lines, want %d", to, shop, last, len(lines), len(want))
						}
					}
				}
			}
		})
	}
}

func restore(t *testing.T, file *bytes.Buffer, to history.Loader, open func() history.Store) history.Store {
	t.Helper()
	r, err := backup.NewReader(bytes.NewReader(file.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.To(to); err != nil {
		t.Fatal(err)
	}
	return open()
}

// gathering is a loader that keeps all bytes that it is given.
type gathering struct {
	backup.Nothing
	all  bytes.Buffer
	done bool
}

func (g *gathering) Changes(changes []history.Change) error {
	for _, c := range changes {
		g.all.Write(c.Feed)
	}
	return g.Nothing.Changes(changes)
}

func (g *gathering) Rows(rows []history.Row) error {
	for _, r := range rows {
		g.all.WriteString(string(r.Key))
		g.all.Write(r.Value)
	}
	return g.Nothing.Rows(rows)
}

func (g *gathering) Done() error {
	g.done = true
	return g.Nothing.Done()
}

// What was erased before a backup is nowhere in it; what was erased after is.
func TestWhatWasErasedIsNotInABackup(t *testing.T) {
	for name, driver := range drivers {
		t.Run(name, func(t *testing.T) {
			store := driver.open(t)
			commit := func(d history.Draft) {
				t.Helper()
				d.Shop = "north"
				if _, err := store.Commit(t.Context(), d); err != nil {
					t.Fatal(err)
				}
			}
			commit(history.Draft{Put: []history.Put{{Key: "person 1", Value: []byte("Invented Customer")}, {Key: "word invented", Value: nil}, {Key: "plate", Value: []byte("ABC 123")}}})
			content := func() (string, string) {
				var file bytes.Buffer
				if _, err := backup.Write(t.Context(), &file, store, about); err != nil {
					t.Fatal(err)
				}
				r, err := backup.NewReader(bytes.NewReader(file.Bytes()))
				if err != nil {
					t.Fatal(err)
				}
				g := &gathering{}
				if _, err := r.To(g); err != nil {
					t.Fatal(err)
				}
				return file.String(), g.all.String()
			}
			if _, plain := content(); !strings.Contains(plain, "Invented Customer") || !strings.Contains(plain, "ABC 123") {
				t.Fatalf("what stands in the store is not in the backup: %q", plain)
			}
			commit(history.Draft{Delete: []history.Key{"person 1", "word invented"}, Put: []history.Put{{Key: "plate", Value: []byte("none")}}})
			raw, plain := content()
			for _, erased := range []string{"Invented", "invented", "person", "ABC", "123"} {
				if strings.Contains(plain, erased) || strings.Contains(raw, erased) {
					t.Errorf("%q is in the backup", erased)
				}
			}
		})
	}
}

// small is the file of a small store.
func small(t *testing.T) []byte {
	t.Helper()
	store, made := memory.New(), &model{}
	random := rand.New(rand.NewPCG(1, 14))
	for i := range 12 {
		if _, err := made.commit(t.Context(), store, draw(random, []string{"north", "south"}[i%2], i)); err != nil {
			t.Fatal(err)
		}
	}
	var file bytes.Buffer
	if _, err := backup.Write(t.Context(), &file, store, about); err != nil {
		t.Fatal(err)
	}
	return file.Bytes()
}

// read reads a file and tells whether a loader was told that it is whole.
func read(file []byte) (done bool, err error) {
	r, err := backup.NewReader(bytes.NewReader(file))
	if err != nil {
		return false, err
	}
	g := &gathering{}
	_, err = r.To(g)
	return g.done, err
}

// refused holds that a file is refused with a sentence about the file.
func refused(t *testing.T, what string, file []byte) {
	t.Helper()
	done, err := read(file)
	_, damaged := errors.AsType[*backup.DamagedError](err)
	_, format := errors.AsType[*backup.FormatError](err)
	if done || !damaged && !format {
		t.Errorf("%s: whole: %v, %v", what, done, err)
	}
}

// A backup of which any byte differs, that is cut anywhere, or to which something is
// added, is refused, and no store is made of it.
func TestAChangedBackupIsRefused(t *testing.T) {
	file := small(t)
	if done, err := read(file); !done || err != nil {
		t.Fatalf("whole: %v, %v", done, err)
	}
	for i := range file {
		for _, mask := range []byte{1, 0x80, 0xff} {
			changed := slices.Clone(file)
			changed[i] ^= mask
			refused(t, fmt.Sprintf("byte %d of %d changed by %x", i, len(file), mask), changed)
		}
		refused(t, fmt.Sprintf("cut before byte %d of %d", i, len(file)), file[:i])
	}
	refused(t, "a byte added", append(slices.Clone(file), 0))
	refused(t, "the file twice", append(slices.Clone(file), file...))
	random := rand.New(rand.NewPCG(2, 14))
	for range 200 {
		from, to := random.IntN(len(file)), random.IntN(len(file))
		from, to = min(from, to), max(from, to)+1
		zeroed := slices.Clone(file)
		clear(zeroed[from:to])
		refused(t, fmt.Sprintf("zeroed from %d to %d", from, to), zeroed)
		refused(t, fmt.Sprintf("without %d to %d", from, to), slices.Concat(file[:from], file[to:]))
	}
}

// failing is a store of which a shop cannot be read.
type failing struct{ history.Store }

func (f failing) Snapshot(ctx context.Context, shop string) (history.Snapshot, error) {
	if shop == "south" {
		return nil, errors.New("the disk is gone (invented)")
	}
	return f.Store.Snapshot(ctx, shop)
}

// Why a backup was broken off is told to who reads it.
func TestABackupThatIsBrokenOffSaysWhy(t *testing.T) {
	store := memory.New()
	for _, shop := range []string{"north", "south"} {
		if _, err := store.Commit(t.Context(), history.Draft{Shop: shop}); err != nil {
			t.Fatal(err)
		}
	}
	var file bytes.Buffer
	if _, err := backup.Write(t.Context(), &file, failing{store}, about); err == nil {
		t.Error("written without an error")
	}
	done, err := read(file.Bytes())
	if broken, ok := errors.AsType[*backup.BrokenOffError](err); done || !ok || !strings.Contains(broken.Error(), "the disk is gone") {
		t.Errorf("whole: %v, %v", done, err)
	}
}

// Head and end say what is in a backup.
func TestHeadAndEndSayWhatIsThere(t *testing.T) {
	store := memory.New()
	for i := range 3 {
		d := history.Draft{Shop: "north", Put: []history.Put{{Key: history.Key(fmt.Sprint(i % 2))}}}
		if _, err := store.Commit(t.Context(), d); err != nil {
			t.Fatal(err)
		}
	}
	var file bytes.Buffer
	wrote, err := backup.Write(t.Context(), &file, store, about)
	if err != nil {
		t.Fatal(err)
	}
	r, err := backup.NewReader(&file)
	if err != nil {
		t.Fatal(err)
	}
	h := r.Head
	if h.Format != backup.Format || h.Program != "test" || !h.Made.Equal(about.Made) || h.Epoch != store.Epoch().String() || h.Changes() != 3 {
		t.Errorf("head %+v", h)
	}
	end, err := r.To(&backup.Nothing{})
	if err != nil || end != wrote || end.Shops != 1 || end.Changes != 3 || end.Rows != 2 {
		t.Errorf("end %+v, wrote %+v, %v", end, wrote, err)
	}
}
