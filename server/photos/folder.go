package photos

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"sync"
	"time"

	"gaugebook.dev/server/history"
)

// Sizes in bytes.
const (
	// MaxPiece is the largest piece that is taken or given.
	MaxPiece = 1 << 20

	// DefaultMinFree is how much must be free on the disk for a piece to be taken: more
	// than the store of the book keeps free, so that records are taken for longest.
	DefaultMinFree = 256 << 20
)

const (
	// keepParts is how long what has come of a photo waits for the rest.
	keepParts = 24 * time.Hour

	// settled is after how long nobody is writing a file any more.
	settled = time.Hour

	cleanAtOnce = 2 // photos that are gone through at a time, each in memory
)

// newBegin begins the name of a copy that is being written.
const newBegin = ".new-"

// Kept says what is kept of a photo.
type Kept struct {
	About
	SHA256    string // of the copy that is kept, 64 lower-case hex digits
	Bytes     int    // of the copy
	SentBytes int    // of the photo as it was sent
}

// Folder keeps photos in a folder: of each shop, and of each photo that was sent there,
// one file, whole or not there. It may be used by any number of goroutines at a time, and
// by one process.
//
//	SHOP/AB/ABCD...            a copy that is kept; SHOP is the shop's name in hex digits,
//	                           the rest the SHA-256 of the photo as it was sent
//	SHOP/parts/ABCD....SIZE    what has come of a photo of that size
type Folder struct {
	dir       string
	temporary bool
	minFree   uint64
	freeSpace func(dir string) (uint64, error)
	cleaning  chan struct{}

	mu   sync.Mutex
	busy map[string]*turn // by the path of the copy
}

type turn struct {
	sync.Mutex
	users int
}

// Open opens a folder of photos, which is made where it is not there.
func Open(dir string) (*Folder, error) {
	if err := makeFolder(dir); err != nil {
		return nil, err
	}
	return At(dir), nil
}

// At is a folder of photos that is only read, wherever it is, or restored into.
func At(dir string) *Folder {
	return &Folder{dir: dir, minFree: DefaultMinFree, freeSpace: freeSpace, cleaning: make(chan struct{}, cleanAtOnce), busy: map[string]*turn{}}
}

// Empty removes all photos that were restored into a folder.
func (f *Folder) Empty() error {
	inside, err := os.ReadDir(f.dir)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	for _, entry := range inside {
		err = errors.Join(err, os.RemoveAll(filepath.Join(f.dir, entry.Name())))
	}
	return err
}

// OpenTemporary opens a new folder of photos, which Close removes.
func OpenTemporary() (*Folder, error) {
	dir, err := os.MkdirTemp("", "gaugebook-photos-")
	if err != nil {
		return nil, err
	}
	f, err := Open(dir)
	if err != nil {
		return nil, errors.Join(err, os.RemoveAll(dir))
	}
	f.temporary = true
	return f, nil
}

// Close lets go of the folder, when nobody uses it any more.
func (f *Folder) Close() error {
	if !f.temporary {
		return nil
	}
	return os.RemoveAll(f.dir)
}

// IsName tells whether a text can name a photo: 64 lower-case hex digits.
var IsName = regexp.MustCompile(`^[0-9a-f]{64}$`).MatchString

// WrongHashError says that the bytes of a photo are not those of its name. What had come
// is forgotten.
type WrongHashError struct{ SHA256 string }

// Error gives the hash of the bytes.
func (e *WrongHashError) Error() string {
	return "the bytes that came have the SHA-256 " + e.SHA256
}

// Piece is one piece of a photo of a shop.
type Piece struct {
	Shop, Name string // Name: see IsName
	Total      int    // size in bytes of the photo as it is sent, up to MaxBytes
	Offset     int    // where the piece begins
	Data       []byte // up to MaxPiece; none asks how much is there
}

// Put takes a piece and gives how many bytes are there from the beginning. A piece that
// begins where what is there ends goes on with it; of any other only what is new of it is
// taken, or nothing. The piece that makes a photo whole is answered when its copy is safely
// kept and record, which is told of it, has returned; then kept is not nil. Where record
// fails the pieces stay, and any piece again tries again.
//
// Errors: record's; *BadError and *WrongHashError, after which nothing is there;
// *history.DiskNearlyFullError; *history.UnwritableError.
func (f *Folder) Put(p Piece, record func(Kept) error) (received int, kept *Kept, err error) {
	part := filepath.Join(f.shop(p.Shop), "parts", p.Name+"."+strconv.Itoa(p.Total))
	defer f.turn(p.Shop, p.Name)()
	received, err = f.add(part, p)
	if err != nil || received < p.Total {
		return received, nil, err
	}
	kept, err = f.finish(part, p, record)
	if err == nil || spoils(err) {
		err = errors.Join(err, written(os.Remove(part)))
	}
	if err != nil {
		return 0, nil, err
	}
	return received, kept, nil
}

// spoils tells that what has come is of no use.
func spoils(err error) bool {
	_, bad := errors.AsType[*BadError](err)
	_, wrong := errors.AsType[*WrongHashError](err)
	return bad || wrong
}

// add puts what is new of a piece behind what is there.
func (f *Folder) add(part string, p Piece) (received int, err error) {
	there := 0
	if info, err := os.Stat(part); err == nil {
		there = int(info.Size())
	}
	seen := there - p.Offset
	if seen < 0 || seen >= len(p.Data) || there == p.Total {
		return there, nil
	}
	if there == 0 && TypeOf(p.Data) == "" && len(p.Data) >= sniffed {
		return 0, bad("neither JPEG nor PNG nor WebP")
	}
	if err := f.room(); err != nil {
		return 0, err
	}
	if err := makeFolder(filepath.Dir(part)); err != nil {
		return 0, written(err)
	}
	to, err := os.OpenFile(part, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o600)
	if err != nil {
		return 0, written(err)
	}
	data := p.Data[seen:min(len(p.Data), seen+p.Total-there)]
	_, err = to.Write(data)
	if err = errors.Join(err, to.Close()); err != nil {
		return 0, written(errors.Join(err, os.Truncate(part, int64(there))))
	}
	return there + len(data), nil
}

// finish makes of all pieces the copy that is kept.
func (f *Folder) finish(part string, p Piece, record func(Kept) error) (*Kept, error) {
	f.cleaning <- struct{}{}
	defer func() { <-f.cleaning }()
	sent, err := os.ReadFile(part)
	if err != nil {
		return nil, written(err)
	}
	if is := hash(sent); is != p.Name {
		return nil, &WrongHashError{is}
	}
	clean, about, err := Clean(sent)
	if err != nil {
		return nil, err
	}
	kept := &Kept{About: about, SHA256: hash(clean), Bytes: len(clean), SentBytes: len(sent)}
	if err := f.keep(p.Shop, p.Name, clean); err != nil {
		return nil, written(err)
	}
	return kept, record(*kept)
}

func hash(b []byte) string {
	sum := sha256.Sum256(b)
	return hex.EncodeToString(sum[:])
}

// keep writes a file whole: under its name stands nothing, or all of it, and what was
// answered outlives a power cut.
func (f *Folder) keep(shop, name string, content []byte) (err error) {
	if err := f.room(); err != nil {
		return err
	}
	path := f.path(shop, name)
	folder := filepath.Dir(path)
	if err := makeFolder(folder); err != nil {
		return err
	}
	to, err := os.CreateTemp(folder, newBegin+"*")
	if err != nil {
		return err
	}
	defer func() {
		if err != nil {
			_ = os.Remove(to.Name())
		}
	}()
	_, err = to.Write(content)
	if err = errors.Join(err, to.Sync(), to.Close()); err != nil {
		return err
	}
	if err := os.Rename(to.Name(), path); err != nil {
		return err
	}
	return syncFolder(folder)
}

// Has tells whether the copy of a photo is there with its size.
func (f *Folder) Has(shop, name string, bytes int) bool {
	info, err := os.Stat(f.path(shop, name))
	return err == nil && info.Size() == int64(bytes)
}

// Read gives a piece of the copy of a photo from an offset on, empty at the end. Errors:
// fs.ErrNotExist where it is not there.
func (f *Folder) Read(shop, name string, offset int) ([]byte, error) {
	from, err := os.Open(f.path(shop, name))
	if err != nil {
		return nil, err
	}
	defer func() { _ = from.Close() }() // only read
	piece := make([]byte, MaxPiece)
	n, err := from.ReadAt(piece, int64(offset))
	if errors.Is(err, io.EOF) {
		err = nil
	}
	return piece[:n], err
}

// Whole gives the copy of a photo. Errors: as for Read.
func (f *Folder) Whole(shop, name string) ([]byte, error) {
	return os.ReadFile(f.path(shop, name))
}

// Hash gives the SHA-256 of the copy of a photo as it lies there. Errors: as for Read.
func (f *Folder) Hash(shop, name string) (string, error) {
	content, err := f.Whole(shop, name)
	return hash(content), err
}

// Restore keeps the copy of a photo as it was kept before. Errors:
// *history.DiskNearlyFullError; *history.UnwritableError.
func (f *Folder) Restore(shop, name string, content []byte) error {
	if !IsName(name) {
		return &history.InvalidError{Reason: fmt.Sprintf("%q names no photo", name)}
	}
	defer f.turn(shop, name)()
	if err := makeFolder(f.dir); err != nil {
		return written(err)
	}
	return written(f.keep(shop, name, content))
}

// Remove removes the copy of a photo, where it is there and still says so, and waits until
// that outlives a power cut. It tells whether it did.
func (f *Folder) Remove(shop, name string, still func() (bool, error)) (removed bool, err error) {
	defer f.turn(shop, name)()
	if is, err := still(); !is || err != nil {
		return false, err
	}
	path := f.path(shop, name)
	switch err := os.Remove(path); {
	case errors.Is(err, fs.ErrNotExist):
		return false, nil
	case err != nil:
		return false, written(err)
	}
	return true, written(syncFolder(filepath.Dir(path)))
}

func (f *Folder) shop(name string) string {
	return filepath.Join(f.dir, hex.EncodeToString([]byte(name)))
}

func (f *Folder) path(shop, name string) string {
	return filepath.Join(f.shop(shop), name[:2], name)
}

// turn waits until nobody else is at a photo, and gives the function that leaves it.
func (f *Folder) turn(shop, name string) (leave func()) {
	file := f.path(shop, name)
	f.mu.Lock()
	t := f.busy[file]
	if t == nil {
		t = &turn{}
		f.busy[file] = t
	}
	t.users++
	f.mu.Unlock()
	t.Lock()
	return func() {
		t.Unlock()
		f.mu.Lock()
		defer f.mu.Unlock()
		if t.users--; t.users == 0 {
			delete(f.busy, file)
		}
	}
}

// room tells whether there is room for more.
func (f *Folder) room() error {
	free, err := f.freeSpace(f.dir)
	if err != nil {
		return &history.UnwritableError{Cause: fmt.Errorf("how much room is left on the disk cannot be told: %w", err)}
	}
	if free < f.minFree {
		return &history.DiskNearlyFullError{Free: free, Needed: f.minFree}
	}
	return nil
}
