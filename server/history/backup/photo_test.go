package backup_test

import (
	"bytes"
	"errors"
	"slices"
	"testing"
	"time"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/backup"
	"gaugebook.dev/server/history/memory"
)

// album keeps photos that are loaded.
type album struct {
	backup.Nothing
	photos []backup.Photo
	done   bool
	fails  error
}

func (a *album) Photo(p backup.Photo) error {
	a.photos = append(a.photos, p)
	return a.fails
}

func (a *album) Done() error {
	a.done = true
	return a.Nothing.Done()
}

// withPhotos is a backup of a small store with photos beside it.
func withPhotos(t *testing.T, photos ...backup.Photo) ([]byte, backup.End, error) {
	t.Helper()
	store := memory.New()
	defer func() { _ = store.Close() }()
	if _, err := store.Commit(t.Context(), history.Draft{Shop: "north", Put: []history.Put{{Key: "key", Value: []byte("value")}}, Feed: []byte("feed")}); err != nil {
		t.Fatal(err)
	}
	var file bytes.Buffer
	end, err := backup.Write(t.Context(), &file, store, backup.About{Made: time.Now(), Photos: func(each func(backup.Photo) error) error {
		for _, p := range photos {
			if err := each(p); err != nil {
				return err
			}
		}
		return nil
	}})
	return file.Bytes(), end, err
}

func load(file []byte, to history.Loader) (backup.End, error) {
	r, err := backup.NewReader(bytes.NewReader(file))
	if err != nil {
		return backup.End{}, err
	}
	return r.To(to)
}

// Photos of any size come out as they went in, behind all shops and before the end, into
// a loader that takes them; any other is not asked.
func TestPhotosInABackup(t *testing.T) {
	in := []backup.Photo{
		{Shop: "north", Name: "one byte", Content: []byte{7}},
		{Shop: "north", Name: "one piece", Content: bytes.Repeat([]byte{1, 2}, 128<<10)},
		{Shop: "north", Name: "a byte more", Content: bytes.Repeat([]byte{3}, 256<<10+1)},
		{Shop: "north", Name: "many", Content: bytes.Repeat([]byte("0123456789"), 200_000)},
		{Shop: "south", Name: "many", Content: []byte("the same name in another shop")},
	}
	file, wrote, err := withPhotos(t, in...)
	if err != nil || wrote.Photos != uint64(len(in)) {
		t.Fatalf("%+v, %v", wrote, err)
	}
	to := &album{}
	read, err := load(file, to)
	if err != nil || read != wrote || !to.done || !slices.EqualFunc(to.photos, in, func(a, b backup.Photo) bool {
		return a.Shop == b.Shop && a.Name == b.Name && bytes.Equal(a.Content, b.Content)
	}) {
		t.Errorf("%+v of %+v, %d photos, %v", read, wrote, len(to.photos), err)
	}
	if read, err := load(file, &backup.Nothing{}); err != nil || read != wrote {
		t.Errorf("%+v, %v", read, err)
	}
	full := errors.New("full")
	if _, err := load(file, &album{fails: full}); !errors.Is(err, full) {
		t.Errorf("%v", err)
	}
	if _, _, err := withPhotos(t, backup.Photo{Shop: "north", Name: "none"}); err == nil {
		t.Error("a photo without a byte is written")
	}
}

// A file that is cut or changed anywhere in its photos is refused, and nothing is done.
func TestDamagedPhotos(t *testing.T) {
	file, _, err := withPhotos(t, backup.Photo{Shop: "north", Name: "name", Content: bytes.Repeat([]byte{9}, 300<<10)})
	if err != nil {
		t.Fatal(err)
	}
	for at := 150; at < len(file); at += 1 + len(file)/300 {
		for name, damaged := range map[string][]byte{
			"cut":     file[:at],
			"changed": slices.Concat(file[:at], []byte{file[at] ^ 4}, file[at+1:]),
		} {
			to := &album{}
			if _, err := load(damaged, to); err == nil || to.done {
				t.Errorf("%s at %d: %v, done %v", name, at, err, to.done)
			}
		}
	}
}
