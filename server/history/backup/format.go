// Package backup keeps what a store holds in a file, and reads it back: into another
// store, or to see whether it is whole. It knows bytes only, as the stores do.
//
// A backup is made of live rows and of the feed by number, each shop as it was at one
// moment, never of an engine's files: what was erased before is not in it.
//
// # The file
//
// It begins with [magic] and goes on in pieces:
//
//	kind       1 byte
//	length     4 bytes, of the content as it lies there
//	content    compressed by Zstandard (RFC 8878), but for head, end and photos
//	checksum   4 bytes, CRC-32C (RFC 3720, B.4) of the piece's number, counted from 0
//	           in 8 bytes, and of kind, length and content
//
// Numbers are big-endian, those inside a content unsigned varints. The pieces:
//
//	'H'  the head, JSON: [Head]; the first piece and no other
//	'S'  a shop: number of its last draft; number of what was trimmed last of its feed,
//	     length and content of what was kept of that; its name to the end
//	'C'  changes of the shop: number, length, entry, again and again
//	'R'  rows of the shop: length, key, version, length, value, again and again
//	'P'  behind all shops, a part of a photo, not compressed: length, name of its shop;
//	     length, its name; its size; what comes next of it
//	'E'  the end, JSON: [End]; the last piece, with nothing behind it
//	'X'  in place of the end: why the backup was broken off, as text
//
// The end has the SHA-256 of all bytes before its own piece. A file without an end is
// cut short; one with a byte that differs fails a checksum. Either is refused whole.
package backup

import (
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"time"

	"gaugebook.dev/server/history"
)

// Format is the version of all that this package writes.
const Format = 1

// magic begins every file; the digit behind it is the format's.
const magic = "gaugebook backup "

// Kinds of pieces.
const (
	kindHead    = 'H'
	kindShop    = 'S'
	kindChanges = 'C'
	kindRows    = 'R'
	kindPhoto   = 'P'
	kindEnd     = 'E'
	kindBroken  = 'X'
)

// Sizes in bytes.
const (
	pieceSize  = 256 << 10                                 // of a content from which on a piece is full
	maxContent = 2 * (pieceSize + history.MaxValue + 4096) // that is read
	frameSize  = 1 + 4 + 4                                 // beside the content
)

// Head says what a backup is of.
type Head struct {
	Format  int       `json:"format"`
	Program string    `json:"program"` // version of the program that made it
	Made    time.Time `json:"made"`
	Epoch   string    `json:"epoch"` // of the store that it was made of
	Shops   []Shop    `json:"shops"`
}

// Shop is a shop in a head.
type Shop struct {
	Name    string         `json:"name"`
	Last    history.Number `json:"last"`    // number of its last draft
	Trimmed history.Number `json:"trimmed"` // of the last entry of its feed that was trimmed
}

// Changes is how many changes a backup is to hold.
func (h Head) Changes() (n uint64) {
	for _, s := range h.Shops {
		n += uint64(s.Last - s.Trimmed)
	}
	return n
}

// End says what a backup holds.
type End struct {
	Shops   int    `json:"shops"`
	Changes uint64 `json:"changes"`
	Rows    uint64 `json:"rows"`
	Photos  uint64 `json:"photos"`
	Pieces  uint64 `json:"pieces"` // before the end
	SHA256  string `json:"sha256"` // of all bytes before the end, in hexadecimal digits
}

// Photo is a photo that is kept beside a store.
type Photo struct {
	Shop, Name string
	Content    []byte
}

// MaxPhoto is the size in bytes of the largest photo that a backup holds.
const MaxPhoto = 32 << 20

// PhotoLoader is a loader that takes photos, too: behind all shops, before Done.
type PhotoLoader interface {
	Photo(Photo) error
}

// DamagedError says that a file is no whole backup.
type DamagedError struct {
	Reason string
}

// Error gives the reason.
func (e *DamagedError) Error() string { return e.Reason }

func damaged(format string, args ...any) error {
	return &DamagedError{fmt.Sprintf(format, args...)}
}

// FormatError says that a backup is of a format that this program does not read.
type FormatError struct {
	Format string
}

// Error says what to do.
func (e *FormatError) Error() string {
	return fmt.Sprintf("the backup is of format %s and this program reads format %d alone: restore it with the version that made it", e.Format, Format)
}

// BrokenOffError says that a backup was not made to its end.
type BrokenOffError struct {
	Reason string
}

// Error gives the reason.
func (e *BrokenOffError) Error() string {
	return "the backup was broken off while it was made: " + e.Reason
}

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// checksum is that of a piece: frame is its kind and length.
func checksum(number uint64, frame, content []byte) uint32 {
	sum := crc32.Update(0, castagnoli, binary.BigEndian.AppendUint64(nil, number))
	return crc32.Update(crc32.Update(sum, castagnoli, frame), castagnoli, content)
}
