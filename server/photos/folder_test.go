package photos

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"
	"testing"
	"time"

	"gaugebook.dev/server/history"
)

const shop = "north/../shop" // no name of a shop may lead anywhere else

func open(t *testing.T) *Folder {
	t.Helper()
	f, err := Open(filepath.Join(t.TempDir(), "photos", "here"))
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// camera is a photo as a phone has it: with a place in it.
func camera(t *testing.T, size int) []byte {
	t.Helper()
	return with(aJPEG(t, size, size), jpegSegment(mAPP1, exifBegin+string(exif(binary.BigEndian, 6))))
}

func recorded(Kept) error { return nil }

// sent sends a photo as a phone does: each next piece begins where the server says.
func sent(f *Folder, photo []byte, piece int) (*Kept, error) {
	at := 0
	for range 1000 {
		end := min(len(photo), at+piece)
		received, kept, err := f.Put(Piece{shop, hash(photo), len(photo), at, photo[at:end]}, recorded)
		if err != nil || kept != nil {
			return kept, err
		}
		at = received
	}
	return nil, errors.New("it goes on for ever")
}

// files lists all files with what they hold.
func filesOf(t *testing.T, f *Folder) map[string][]byte {
	t.Helper()
	all := map[string][]byte{}
	err := filepath.WalkDir(f.dir, func(path string, entry fs.DirEntry, err error) error {
		if err == nil && !entry.IsDir() {
			all[entry.Name()], err = os.ReadFile(path)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// A photo in pieces of any size is kept once, clean, and read in pieces.
func TestPieces(t *testing.T) {
	photo := camera(t, 300)
	clean, _, err := Clean(photo)
	if err != nil {
		t.Fatal(err)
	}
	for _, piece := range []int{997, 4096, len(photo) - 1, len(photo)} {
		f := open(t)
		kept, err := sent(f, photo, piece)
		if err != nil || kept.SHA256 != hash(clean) || kept.Bytes != len(clean) || kept.SentBytes != len(photo) || !kept.LocationRemoved {
			t.Fatalf("pieces of %d: %+v, %v", piece, kept, err)
		}
		if all := filesOf(t, f); len(all) != 1 || !bytes.Equal(all[hash(photo)], clean) {
			t.Errorf("pieces of %d: %d files", piece, len(all))
		}
		if !f.Has(shop, hash(photo), len(clean)) || f.Has(shop, hash(photo), len(clean)+1) || f.Has("other", hash(photo), len(clean)) {
			t.Error("what is there is not told")
		}
		got, err := f.Read(shop, hash(photo), 5)
		if err != nil || !bytes.Equal(got, clean[5:]) {
			t.Errorf("read %d bytes, %v", len(got), err)
		}
		if got, err := f.Read(shop, hash(photo), len(clean)+7); err != nil || len(got) > 0 {
			t.Errorf("behind the end: %d bytes, %v", len(got), err)
		}
		if is, err := f.Hash(shop, hash(photo)); err != nil || is != kept.SHA256 {
			t.Errorf("%s, %v", is, err)
		}
		if _, err := f.Read("other", hash(photo), 0); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("of another shop: %v", err)
		}
	}
}

// Pieces again, pieces that overlap, and pieces out of turn change nothing; what was begun
// is gone on with, also by another process.
func TestRepeatedAndResumed(t *testing.T) {
	photo := camera(t, 300)
	f := open(t)
	put := func(from, to, want int) {
		t.Helper()
		received, kept, err := f.Put(Piece{shop, hash(photo), len(photo), from, photo[from:to]}, recorded)
		if err != nil || received != want || kept != nil {
			t.Fatalf("from %d to %d: %d, %+v, %v; want %d", from, to, received, kept, err, want)
		}
	}
	put(0, 0, 0) // how much is there?
	put(100, 200, 0)
	put(0, 100, 100)
	put(0, 100, 100)
	put(50, 150, 150)
	put(200, 300, 150)
	put(150, 150, 150)
	f, err := Open(f.dir)
	if err != nil {
		t.Fatal(err)
	}
	put(0, 0, 150)
	put(0, 120, 150)
	received, kept, err := f.Put(Piece{shop, hash(photo), len(photo), 120, photo[120:]}, recorded)
	if err != nil || received != len(photo) || kept == nil {
		t.Fatalf("%d, %+v, %v", received, kept, err)
	}
}

// The pieces stay until the record is made: a refused record is tried again with any piece.
func TestRecordFails(t *testing.T) {
	photo, f, full := camera(t, 60), open(t), errors.New("the book is full")
	piece := Piece{shop, hash(photo), len(photo), 0, photo}
	if _, kept, err := f.Put(piece, func(Kept) error { return full }); !errors.Is(err, full) || kept != nil {
		t.Fatalf("%+v, %v", kept, err)
	}
	piece.Data = nil
	if received, kept, err := f.Put(piece, recorded); err != nil || received != len(photo) || kept == nil {
		t.Errorf("%d, %+v, %v", received, kept, err)
	}
}

// What is refused leaves nothing, and the photo can be sent again.
func TestRefusedLeavesNothing(t *testing.T) {
	photo := camera(t, 60)
	for name, c := range map[string]struct {
		sent, named []byte
		total       int
		wrong       bool
	}{
		"another photo's name":         {sent: camera(t, 61), named: photo, wrong: true},
		"a bit that differs":           {sent: append(bytes.Clone(photo[:len(photo)-1]), photo[len(photo)-1]^1), named: photo, wrong: true},
		"a text":                       {sent: []byte("no picture at all, but a text"), named: []byte("no picture at all, but a text")},
		"cut short":                    {sent: photo[:len(photo)-9], named: photo[:len(photo)-9]},
		"cut short and named as whole": {sent: photo[:len(photo)-9], named: photo, wrong: true},
	} {
		f := open(t)
		_, kept, err := f.Put(Piece{shop, hash(c.named), len(c.sent), 0, c.sent}, recorded)
		_, wrong := errors.AsType[*WrongHashError](err)
		if kept != nil || err == nil || wrong != c.wrong || !spoils(err) {
			t.Errorf("%s: %+v, %v", name, kept, err)
		}
		if all := filesOf(t, f); len(all) != 0 {
			t.Errorf("%s: left %d files", name, len(all))
		}
		if kept, err := sent(f, photo, 500); err != nil || kept == nil {
			t.Errorf("%s: the photo itself: %+v, %v", name, kept, err)
		}
	}
}

// The type is looked at with the first piece: what is no photo is not sent whole.
func TestTypeIsSeenAtOnce(t *testing.T) {
	f := open(t)
	_, _, err := f.Put(Piece{shop, hash(nil), MaxBytes, 0, []byte("<!doctype html><html>")}, recorded)
	if _, ok := errors.AsType[*BadError](err); !ok || len(filesOf(t, f)) != 0 {
		t.Errorf("%v, %d files", err, len(filesOf(t, f)))
	}
}

// Two phones that send one photo at a time, and many photos at a time: each is kept once.
func TestManyAtOnce(t *testing.T) {
	f := open(t)
	all := [][]byte{camera(t, 200), camera(t, 201), aPNG(t, 99, 50)}
	var made atomic.Int32
	var phones sync.WaitGroup
	for i := range 12 {
		phones.Go(func() {
			photo, at := all[i%len(all)], 0
			for range 10_000 {
				end := min(len(photo), at+300+i)
				received, kept, err := f.Put(Piece{shop, hash(photo), len(photo), at, photo[at:end]}, func(Kept) error { made.Add(1); return nil })
				if err != nil {
					t.Error(err)
					return
				}
				if at = received; kept != nil || f.Has(shop, hash(photo), lenClean(photo)) {
					return
				}
			}
			t.Error("it goes on for ever")
		})
	}
	phones.Wait()
	files := filesOf(t, f)
	for _, photo := range all {
		if clean, _, _ := Clean(photo); !bytes.Equal(files[hash(photo)], clean) {
			t.Errorf("a copy differs: %d bytes, want %d", len(files[hash(photo)]), len(clean))
		}
	}
	if made.Load() < 3 || len(f.busy) != 0 {
		t.Errorf("recorded %d times, %d are still busy", made.Load(), len(f.busy))
	}
}

func lenClean(photo []byte) int {
	clean, _, _ := Clean(photo)
	return len(clean)
}

// A disk that is nearly full, and a folder that cannot be written.
func TestNoRoom(t *testing.T) {
	f, photo := open(t), camera(t, 60)
	f.freeSpace = func(string) (uint64, error) { return 1000, nil }
	if _, err := sent(f, photo, 500); !isFull(err) || len(filesOf(t, f)) != 0 {
		t.Errorf("%v", err)
	}
	f.freeSpace = func(string) (uint64, error) { return 0, errors.New("not told") }
	if _, err := sent(f, photo, 500); !isUnwritable(err) {
		t.Errorf("%v", err)
	}
	f.freeSpace = freeSpace
	if err := os.RemoveAll(f.dir); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(f.dir, nil, 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := sent(f, photo, 500); !isUnwritable(err) {
		t.Errorf("%v", err)
	}
}

func isFull(err error) bool {
	_, ok := errors.AsType[*history.DiskNearlyFullError](err)
	return ok
}

func isUnwritable(err error) bool {
	_, ok := errors.AsType[*history.UnwritableError](err)
	return ok
}

// What is of no use goes, when it is old enough; what is not ours, or nobody knows, stays.
func TestSweep(t *testing.T) {
	f, now := open(t), time.Now()
	named, erased, begun := camera(t, 60), camera(t, 61), camera(t, 62)
	for _, photo := range [][]byte{named, erased} {
		if _, err := sent(f, photo, len(photo)); err != nil {
			t.Fatal(err)
		}
	}
	if _, _, err := f.Put(Piece{shop, hash(begun), len(begun), 0, begun[:100]}, recorded); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{filepath.Join(f.shop(shop), newBegin+"123"), filepath.Join(f.dir, "README"), filepath.Join(f.shop(shop), "notes.txt")} {
		if err := os.WriteFile(name, []byte("x"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	sweep := func(after time.Duration, all bool, want ...string) {
		t.Helper()
		n, err := f.Sweep(t.Context(), now.Add(after), func(of, name string) (bool, error) {
			return all && of == shop && name == hash(erased), nil
		})
		var left []string
		for name := range filesOf(t, f) {
			left = append(left, name[:min(len(name), 9)])
		}
		slices.Sort(left)
		slices.Sort(want)
		if err != nil || !slices.Equal(left, want) {
			t.Errorf("after %v: %d removed, left %v, %v", after, n, left, err)
		}
	}
	short := func(photo []byte) string { return hash(photo)[:9] }
	sweep(time.Minute, false, short(named), short(erased), short(begun), ".new-123", "README", "notes.txt")
	sweep(time.Minute, true, short(named), short(begun), ".new-123", "README", "notes.txt")
	sweep(2*time.Hour, true, short(named), short(begun), "README", "notes.txt")
	sweep(25*time.Hour, true, short(named), "README", "notes.txt")
	var seen []string
	if err := f.Each(t.Context(), func(of, name string) error { seen = append(seen, of+" "+name); return nil }); err != nil || !slices.Equal(seen, []string{shop + " " + hash(named)}) {
		t.Errorf("%v, %v", seen, err)
	}
	for _, still := range []bool{false, true, true} {
		was := f.Has(shop, hash(named), lenClean(named))
		removed, err := f.Remove(shop, hash(named), func() (bool, error) { return still, nil })
		if err != nil || removed != (was && still) || f.Has(shop, hash(named), lenClean(named)) != (was && !still) {
			t.Errorf("%v: %v, %v", still, removed, err)
		}
	}
	ended, end := context.WithCancel(t.Context())
	end()
	if _, err := f.Sweep(ended, now, nil); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
}

// A folder for a trial is gone with it.
func TestTemporary(t *testing.T) {
	t.Setenv("TMPDIR", t.TempDir())
	f, err := OpenTemporary()
	if err != nil {
		t.Fatal(err)
	}
	if kept, err := sent(f, camera(t, 30), 500); err != nil || kept == nil {
		t.Errorf("%+v, %v", kept, err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := os.Stat(f.dir); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%v", err)
	}
}
