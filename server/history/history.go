// Package history says what a store of a shop's record promises: an ordered,
// versioned space of keys for every shop, and beside it a feed of all that was
// written. It knows bytes only; what they mean is for its callers to say.
//
// # Writing
//
// The only write is a declared [Draft]: versions that rows are expected to
// have, rows to put and to delete, and one entry of the feed. It happens whole
// and durably, or not at all, and it never runs the caller's code. A caller
// reads a [Snapshot], decides, commits a draft that expects what it has read,
// and on a [StaleError] reads again.
//
// Drafts of a shop are numbered 1, 2, 3 ... in the order in which they were
// committed, with no number left out. That one [Number] is the draft's place
// in the feed and the version of every row that it put.
//
// The feed may be trimmed at its beginning, see [Store.Trim]. Rows never are.
//
// # Reading
//
// A snapshot shows one shop as it was between two drafts, whatever is written
// meanwhile: rows, feed and last number belong together. A number read from a
// snapshot therefore means: everything up to here is in what I have read.
//
// # Drivers
//
// Package memory is the model, for tests and trials. Package badger keeps the
// record on disk. Package historytest holds a driver to every promise made here.
//
// A store and its methods may be used by any number of goroutines at a time, a
// snapshot by one at a time.
package history

import (
	"context"
	"encoding/hex"
	"fmt"
	"strings"
)

// What a store takes. Every driver takes this much and no more, so that what
// one has stored any other can.
const (
	// MaxShop is the length in bytes of the longest name of a shop.
	MaxShop = 64

	// MaxKey is the length in bytes of the longest key.
	MaxKey = 1024

	// MaxValue is the length in bytes of the longest value of a row and of the
	// longest entry of the feed.
	MaxValue = 1_000_000

	// MaxDraft is the largest [Draft.Size] in bytes.
	MaxDraft = 1_250_000

	// RowOverhead is what every row, expectation and deletion counts in the
	// size of a draft, in bytes, beside its key and value.
	RowOverhead = 128

	// MaxPageRows is how many rows or changes one read gives at most.
	MaxPageRows = 1000

	// MaxPageBytes is how many bytes of keys and values one read gives at most,
	// but for a single row that is larger.
	MaxPageBytes = 4 << 20
)

// Store keeps the record of many shops. A shop is there as soon as a draft
// names it; one that no draft has named reads as empty.
type Store interface {
	// Commit stores a draft whole and durably and gives its number, or stores
	// nothing and says why:
	//
	//   - [*InvalidError]: the draft is not well formed, see [Draft];
	//   - [*TooLargeError]: it is larger than a store takes;
	//   - [*StaleError]: a row does not have the version expected of it;
	//   - [*DiskNearlyFullError]: there is too little room left to write safely;
	//   - [*UnwritableError]: the store cannot be written at this time;
	//   - [*ReadOnlyError]: the store takes no drafts until it is reopened. Where
	//     its Unsure is set, this draft met the failure itself, and only after
	//     reopening is it known whether it was stored: whole, or not at all;
	//   - [ErrClosed]: the store is closed or closing;
	//   - the context's error: the context ended before the draft was taken. A
	//     draft once taken is carried to its end, and what became of it is
	//     answered even when the context has ended meanwhile: an error of the
	//     context always means that nothing was stored.
	//
	// The draft's slices must not be changed before Commit returns; afterwards
	// they are the caller's again. Whoever sees a draft's number or its rows sees
	// what can no longer be lost.
	Commit(ctx context.Context, draft Draft) (Number, error)

	// Trim removes the entries of a shop's feed up to a number, and keeps left in
	// place of them: what is to be known of the last that is gone. It is no draft: it
	// takes no number, wakes nobody who waits and leaves all rows as they are. What is
	// trimmed already is left so, and what was kept of it stays.
	//
	// Errors: *InvalidError for a number above the last, or for more than
	// MaxPageRows entries at a time; *TooLargeError for more than MaxValue; and all
	// others of Commit but StaleError.
	Trim(ctx context.Context, shop string, upTo Number, left []byte) error

	// Writable tells whether drafts are taken at this time: nil, or what Commit
	// answers to any of them: *DiskNearlyFullError, *UnwritableError,
	// *ReadOnlyError or ErrClosed. It is cheap enough to be asked every second.
	Writable() error

	// Snapshot opens the latest state of a shop for reading. It holds every
	// draft whose Commit has returned before the call. The caller closes it, and
	// soon: a store keeps what an open snapshot may still read.
	//
	// Errors: *InvalidError or *TooLargeError for a name that no shop can have;
	// ErrClosed; the context's.
	Snapshot(ctx context.Context, shop string) (Snapshot, error)

	// Wait returns nil as soon as the shop has a draft with a number above
	// after: at once where it has one already. It does not poll.
	//
	// Errors: as for Snapshot, also when the store is closed or the context ends
	// meanwhile; one of the driver where the store cannot be read.
	Wait(ctx context.Context, shop string, after Number) error

	// Shops lists the shops that have a draft, in the order of their names' bytes.
	//
	// Errors: ErrClosed; the context's; one of the driver where the store cannot
	// be read.
	Shops(ctx context.Context) ([]string, error)

	// Epoch is the identity of this store's numbering. Numbers of one epoch say
	// nothing about another.
	Epoch() Epoch

	// Close takes no further drafts, stores and answers those already taken,
	// ends every Wait, and lets go of the store. Afterwards every method of the
	// store and of its snapshots answers ErrClosed, except Epoch, the snapshots'
	// Close, and Close itself, which then does nothing and answers nil.
	Close() error
}

// Snapshot is one shop as it was at one moment. What its methods return is the
// caller's to keep and to change.
//
// Errors of every method: ErrClosed after the store's or the snapshot's Close;
// the context's; one of the driver where the store cannot be read.
type Snapshot interface {
	// Get finds a row. A row that is not there has the version [Absent], no
	// value, and is no error: either answer is what a later draft expects.
	Get(ctx context.Context, key Key) (Row, error)

	// Scan lists the rows of a range in the order of their keys, as many as fit
	// a page. Beside the errors of every method: *InvalidError for a range whose
	// After lies outside its Prefix.
	Scan(ctx context.Context, r Range) (Page, error)

	// Changes lists the feed from the number after+1 on, in the order of the
	// numbers and with none left out: at most limit of them (see [Range.Limit])
	// and at most [MaxPageBytes]. It is empty only when after is the last number
	// or lies beyond it. Beside the errors of every method: *TrimmedError where the
	// number after+1 was trimmed.
	Changes(ctx context.Context, after Number, limit int) ([]Change, error)

	// Trimmed is the last entry of the feed that was trimmed: its number, 0 where
	// none was, and what was kept of it.
	Trimmed(ctx context.Context) (Change, error)

	// Last is the number of the latest draft, 0 where there is none.
	Last(ctx context.Context) (Number, error)

	// Close ends the snapshot. It may be called more than once.
	Close()
}

// Number counts the drafts of one shop from 1, in the order in which they were
// committed. It is also the version of the rows that a draft has put.
type Number uint64

// Absent is the version of a row that is not there: never put, or deleted.
const Absent Number = 0

// Draft is one write of one shop. It is well formed when the shop's name is not
// empty and holds no zero byte, no key is empty, no key is expected twice, and
// none is both put and deleted, or either twice.
//
// The order of the lists means nothing, except that a [StaleError] names the
// first expectation that fails.
type Draft struct {
	Shop   string
	Expect []Expectation
	Put    []Put
	Delete []Key // a row that is not there may be deleted; that changes nothing
	Feed   []byte
}

// Expectation is the version a row must have for a draft to be stored: the one
// that was read, or Absent. A key that is expected need not be written.
type Expectation struct {
	Key     Key
	Version Number
}

// Put is a row to be written. An empty value is a value like any other.
type Put struct {
	Key   Key
	Value []byte
}

// Row is a row as it was read.
type Row struct {
	Key     Key
	Value   []byte
	Version Number // number of the draft that put it, or Absent
}

// Change is one draft's entry in the feed.
type Change struct {
	Number Number
	Feed   []byte
}

// Range chooses the rows of a Scan.
type Range struct {
	Prefix  Key  // the beginning of every key; empty for all rows of the shop
	After   Key  // the scan begins behind this key, whether or not it is there; empty: at the end of the range
	Limit   int  // how many rows at most; below 1 or above MaxPageRows means MaxPageRows
	Reverse bool // from the highest key down: After is then above the first row
}

// Page is one piece of a range.
type Page struct {
	Rows []Row
	More bool // there are further rows in the range, behind the last one here
}

// Epoch is the identity of a numbering: random, made with the store, and made
// again when a store is restored from a copy, because numbers given out since
// the copy will then be given out again.
type Epoch [16]byte

// String is the epoch in hexadecimal digits.
func (e Epoch) String() string { return hex.EncodeToString(e[:]) }

// Rows is how many rows or changes a read with this limit gives at most.
func Rows(limit int) int {
	if limit < 1 || limit > MaxPageRows {
		return MaxPageRows
	}
	return limit
}

// CheckTrim finds what is wrong with a trim of a feed that has its last number and was
// trimmed before up to another: *InvalidError, or nil.
func CheckTrim(upTo, trimmed, last Number) error {
	switch {
	case upTo > last:
		return &InvalidError{fmt.Sprintf("the feed ends with number %d and cannot be trimmed up to %d", last, upTo)}
	case upTo > trimmed && upTo-trimmed > MaxPageRows:
		return &InvalidError{fmt.Sprintf("%d entries are too many to trim at a time", upTo-trimmed)}
	}
	return nil
}

// CheckLeft finds what is wrong with what is kept of trimmed entries: *TooLargeError, or
// nil.
func CheckLeft(left []byte) error {
	if len(left) > MaxValue {
		return &TooLargeError{"rest of the feed", len(left), MaxValue}
	}
	return nil
}

// Check finds what is wrong with a range: *InvalidError, or nil.
func (r Range) Check() error {
	if r.After != "" && !strings.HasPrefix(string(r.After), string(r.Prefix)) {
		return &InvalidError{fmt.Sprintf("the key %q to begin after does not begin with %q", r.After, r.Prefix)}
	}
	return nil
}

// CheckShop finds what is wrong with a shop's name: *InvalidError, or
// *TooLargeError, or nil.
func CheckShop(name string) error {
	switch {
	case name == "":
		return &InvalidError{"the shop has no name"}
	case strings.ContainsRune(name, 0):
		return &InvalidError{fmt.Sprintf("the shop's name %q holds a zero byte", name)}
	case len(name) > MaxShop:
		return &TooLargeError{"shop's name", len(name), MaxShop}
	}
	return nil
}

// Size is what a draft counts against MaxDraft, in bytes.
func (d Draft) Size() int {
	size := len(d.Feed) + RowOverhead*(1+len(d.Expect)+len(d.Put)+len(d.Delete))
	for _, e := range d.Expect {
		size += len(e.Key)
	}
	for _, p := range d.Put {
		size += len(p.Key) + len(p.Value)
	}
	for _, key := range d.Delete {
		size += len(key)
	}
	return size
}

// Check finds what is wrong with a draft by itself: *InvalidError,
// *TooLargeError, or nil.
func (d Draft) Check() error {
	if err := CheckShop(d.Shop); err != nil {
		return err
	}
	switch {
	case len(d.Feed) > MaxValue:
		return &TooLargeError{"feed entry", len(d.Feed), MaxValue}
	case d.Size() > MaxDraft:
		return &TooLargeError{"draft", d.Size(), MaxDraft}
	}

	expected := make(map[Key]bool, len(d.Expect))
	for _, e := range d.Expect {
		if err := claim(expected, e.Key, "expected"); err != nil {
			return err
		}
	}
	written := make(map[Key]bool, len(d.Put)+len(d.Delete))
	for _, p := range d.Put {
		if err := claim(written, p.Key, "written"); err != nil {
			return err
		}
		if len(p.Value) > MaxValue {
			return &TooLargeError{"value", len(p.Value), MaxValue}
		}
	}
	for _, key := range d.Delete {
		if err := claim(written, key, "written"); err != nil {
			return err
		}
	}
	return nil
}

// claim notes a key that may come once only.
func claim(seen map[Key]bool, key Key, how string) error {
	switch {
	case key == "":
		return &InvalidError{"a key is empty"}
	case len(key) > MaxKey:
		return &TooLargeError{"key", len(key), MaxKey}
	case seen[key]:
		return &InvalidError{fmt.Sprintf("the key %q is %s twice", key, how)}
	}
	seen[key] = true
	return nil
}
