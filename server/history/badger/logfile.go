package badger

import (
	"bytes"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"os"
	"strconv"

	"github.com/dgraph-io/badger/v4/y"
)

// logFile is a log of the engine, read past it. The file holds
//
//	number of a key of encryption (8 bytes, 0: none), 12 random bytes, entries, zeros
//
// and an entry
//
//	kind (1 byte), 0, length of key, of value, 0 (each a varint), key, value, CRC-32C (4 bytes)
//
// A transaction is entries of one timestamp, which ends their keys, and one that says
// so. The store has one transaction on its way at a time, and their timestamps count
// without leaving one out. Where the log ends, zeros follow.
type logFile struct {
	name   string
	data   []byte // up to the last byte that is not zero, and some behind it
	whole  []transaction
	head   bool   // the head is as it was written
	rest   bool   // something stands behind the last whole transaction
	beyond uint64 // the highest timestamp read there; 0: none
}

// transaction is where one lies in a log.
type transaction struct {
	timestamp  uint64
	start, end int
}

const logHead = 20

// Kinds of an entry, as the engine marks them.
const (
	markDeleted = 1 << 0
	markPart    = 1 << 6 // of a transaction
	markEnd     = 1 << 7 // of a transaction
)

// logEntry is one entry of a log.
type logEntry struct {
	kind       byte
	key, value []byte // the key with its timestamp
	size       int
}

func (e logEntry) timestamp() uint64 { return y.ParseTs(e.key) }

// readLog reads a log and what it holds.
func readLog(path, name string) (*logFile, error) {
	data, err := readUpToZeros(path)
	if err != nil {
		return nil, err
	}
	l := &logFile{name: name, data: data}
	l.head = !bytes.ContainsFunc(data[:min(8, len(data))], func(r rune) bool { return r != 0 })
	at := l.readWhole()
	l.rest = len(bytes.TrimRight(data[at:], "\x00")) > 0
	for ; at < len(data); at++ {
		// Where a damage ends nobody can tell, so every place may begin an entry.
		if !mayBegin(data[at:]) {
			continue
		}
		if e, ok := parseEntry(data[at:]); ok {
			l.beyond = max(l.beyond, e.timestamp())
			at += e.size - 1
		}
	}
	return l, nil
}

// readWhole reads whole transactions as the engine would, and gives where they end.
func (l *logFile) readWhole() (end int) {
	at, start := logHead, logHead
	var timestamp uint64
	for at < len(l.data) {
		e, ok := parseEntry(l.data[at:])
		if !ok {
			break
		}
		at += e.size
		if e.kind&markEnd == 0 {
			if e.kind&markPart == 0 || timestamp != 0 && timestamp != e.timestamp() {
				break
			}
			timestamp = e.timestamp()
			continue
		}
		if ended, err := strconv.ParseUint(string(e.value), 10, 64); err != nil || ended != timestamp {
			break
		}
		l.whole = append(l.whole, transaction{timestamp, start, at})
		start, timestamp = at, 0
	}
	return min(start, len(l.data))
}

// end is where the last whole transaction ends.
func (l *logFile) end() int {
	if len(l.whole) == 0 {
		return logHead
	}
	return l.whole[len(l.whole)-1].end
}

// each gives the entries of a transaction, but for the one that ends it.
func (l *logFile) each(t transaction, f func(key []byte, value y.ValueStruct) error) error {
	for at := t.start; at < t.end; {
		e, ok := parseEntry(l.data[at:t.end])
		if !ok {
			return errors.New("a transaction of a log is not as it was read before")
		}
		at += e.size
		if e.kind&markEnd != 0 {
			continue
		}
		if err := f(e.key, y.ValueStruct{Meta: e.kind, Value: e.value}); err != nil {
			return err
		}
	}
	return nil
}

// parseEntry reads the entry at the beginning of data, if one stands there whole.
func parseEntry(data []byte) (e logEntry, ok bool) {
	if len(data) < 2 {
		return e, false
	}
	at := 2
	var numbers [3]uint64 // length of the key, of the value, when it expires
	for i := range numbers {
		n, size := binary.Uvarint(data[at:])
		if size <= 0 {
			return e, false
		}
		numbers[i] = n
		at += size
	}
	left := uint64(len(data) - at)
	keyLength, valueLength := numbers[0], numbers[1]
	// The engine takes no key without its timestamp, and none of more than 64 KiB.
	if keyLength < 8 || keyLength > 1<<16 || keyLength+4 > left || valueLength > left-keyLength-4 {
		return e, false
	}
	key := data[at : at+int(keyLength)]
	at += int(keyLength)
	value := data[at : at+int(valueLength)]
	at += int(valueLength)
	if crc32.Checksum(data[:at], y.CastagnoliCrcTable) != binary.BigEndian.Uint32(data[at:]) {
		return e, false
	}
	return logEntry{data[0], key, value, at + 4}, true
}

// mayBegin tells at a glance whether an entry of the store can begin with data.
func mayBegin(data []byte) bool {
	return len(data) > 1 && data[0]&(markPart|markEnd) != 0 && data[1] == 0
}

// readUpToZeros reads a file up to its last byte that is not zero, for logs are made
// long, and as many zeros behind it as may end an entry.
func readUpToZeros(path string) ([]byte, error) {
	file, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer func() { _ = file.Close() }() // only read
	var data []byte
	zeros := 0
	chunk := make([]byte, 256<<10)
	for {
		n, err := io.ReadFull(file, chunk)
		used := bytes.TrimRight(chunk[:n], "\x00")
		if len(used) > 0 {
			data = append(data, make([]byte, zeros)...)
			data = append(data, used...)
			zeros = 0
		}
		zeros += n - len(used)
		if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
			return append(data, make([]byte, min(zeros, crc32.Size))...), nil
		}
		if err != nil {
			return nil, err
		}
	}
}
