package badger

import (
	"encoding/binary"
	"fmt"

	"gaugebook.dev/server/history"
)

// Format is the version of all that this package writes. It stands in every
// value, and in the engine's own file of files, so that a program that does not
// know it refuses the whole directory. It changes with anything described here:
//
//	key                              value
//	00 "epoch"                       format, the 16 bytes of the epoch
//	01 shop 00 00                    format, number of the shop's last draft
//	01 shop 00 01 number             format, the draft's entry of the feed
//	01 shop 00 02 caller's key       format, version, caller's value
//	01 shop 00 03                    format, number of the last entry of the feed that
//	                                 was trimmed, what was kept of it; where one was
//
// Numbers and versions are 8 bytes, big-endian; the format is one byte; a shop's
// name holds no zero byte and so ends at the first one. A shop's rows lie
// together, and a caller's key can reach nothing outside its shop's third kind.
const Format = 1

// The first byte of a key, and the byte that follows a shop's name.
const (
	ownRows  = 0
	shopRows = 1

	kindLast = 0
	kindFeed = 1
	kindRow  = 2
	kindTrim = 3
	kindEnd  = 4 // behind all of a shop
)

var epochKey = append([]byte{ownRows}, "epoch"...)

func shopKey(shop string, kind byte) []byte {
	// Room for what most callers append.
	key := make([]byte, 0, len(shop)+3+64)
	key = append(key, shopRows)
	key = append(key, shop...)
	return append(key, 0, kind)
}

func lastKey(shop string) []byte { return shopKey(shop, kindLast) }

func feedKey(shop string, number history.Number) []byte {
	return binary.BigEndian.AppendUint64(shopKey(shop, kindFeed), uint64(number))
}

func trimKey(shop string) []byte { return shopKey(shop, kindTrim) }

func rowKey(shop string, key history.Key) []byte {
	return append(shopKey(shop, kindRow), key...)
}

// plainValue is a value without a version.
func plainValue(content []byte) []byte {
	return append([]byte{Format}, content...)
}

func numberValue(number history.Number) []byte {
	return binary.BigEndian.AppendUint64([]byte{Format}, uint64(number))
}

func rowValue(version history.Number, content []byte) []byte {
	value := make([]byte, 0, 1+8+len(content))
	value = append(value, Format)
	value = binary.BigEndian.AppendUint64(value, uint64(version))
	return append(value, content...)
}

// readPlain gives what plainValue was given, in the same memory.
func readPlain(key, value []byte) ([]byte, error) {
	if len(value) == 0 || value[0] != Format {
		return nil, damaged(key, value)
	}
	return value[1:], nil
}

// readRow gives what rowValue was given, in the same memory; and for a value of
// numberValue its number and no content.
func readRow(key, value []byte) (history.Number, []byte, error) {
	if len(value) < 1+8 || value[0] != Format {
		return 0, nil, damaged(key, value)
	}
	return history.Number(binary.BigEndian.Uint64(value[1:])), value[1+8:], nil
}

func damaged(key, value []byte) error {
	return fmt.Errorf("row %q of the store cannot be read: %d bytes, beginning with %x, where format %d is known",
		key, len(value), value[:min(len(value), 1)], Format)
}
