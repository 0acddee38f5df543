package history

import (
	"encoding/binary"
	"strings"
)

// Key names a row within its shop: 1 to [MaxKey] bytes, any bytes. Rows are in
// the order of their keys as bytes.
//
// A key is built from the empty one, part by part, each method returning a new
// key that is longer by one part:
//
//	history.Key("").Text("visit").Text(vehicle).Int64(takenAt)
//
// Keys built from parts of the same kinds are in the order of the first part,
// among equal ones of the second, and so on; the key of some leading parts is
// the prefix of exactly the keys that go on from these parts. How each part is
// written is for ever:
//
//	Byte    the byte
//	Uint64  8 bytes, big-endian
//	Int64   8 bytes, big-endian, sign bit flipped: negative numbers come first
//	Text    its bytes, each zero byte followed by FF, then 00 01 as an end;
//	        so "a" comes before "ab", and no text is the beginning of another
//
// Keys share nothing with the rows that a store keeps for itself, such as the
// feed: whatever a key holds, it reaches only what was put under it.
type Key string

// Byte appends one byte, such as the mark of a kind of row.
func (k Key) Byte(b byte) Key { return k + Key([]byte{b}) }

// Uint64 appends a number that is never negative.
func (k Key) Uint64(n uint64) Key {
	return k + Key(binary.BigEndian.AppendUint64(nil, n))
}

// Int64 appends a number that may be negative.
func (k Key) Int64(n int64) Key { return k.Uint64(uint64(n) ^ 1<<63) }

// Text appends a text. Any bytes are allowed, of any length.
func (k Key) Text(s string) Key { return k.TextStart(s) + "\x00\x01" }

// TextStart appends the beginning of every text that begins with s. It ends a
// prefix for Scan and is no part of a row's own key.
func (k Key) TextStart(s string) Key {
	return k + Key(strings.ReplaceAll(s, "\x00", "\x00\xff"))
}

// FirstInt64 reads the number that a key begins with, as Int64 appended it.
func (k Key) FirstInt64() int64 { return int64(binary.BigEndian.Uint64([]byte(k[:8])) ^ 1<<63) }

// Texts reads the parts of a key that are texts, from a byte on: those that Text appended.
func (k Key) Texts(from int) (all []string) {
	for rest := string(k[from:]); rest != ""; {
		text, behind, _ := strings.Cut(rest, "\x00\x01")
		all = append(all, strings.ReplaceAll(text, "\x00\xff", "\x00"))
		rest = behind
	}
	return all
}
