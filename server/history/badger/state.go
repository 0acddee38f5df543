package badger

import (
	"crypto/sha256"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"log/slog"
	"os"
	"path/filepath"
	"strings"

	"github.com/dgraph-io/badger/v4/y"

	"gaugebook.dev/server/history"
)

// A state file says what was acknowledged last. It lies in another directory than the
// store, under the name of its epoch, and is written over in place before a draft is
// answered, without a sync: that the end of a log was torn by a power cut, before
// anybody was answered, is told from a loss by what stands here. After a power cut the
// file may be older than the store, which says nothing, but never newer.
//
// It holds records of stateRecord bytes. The first one is
//
//	"gbstate1", epoch (16 bytes), timestamp of the engine (8), SHA-256 of the store's path (32), CRC-32C (4)
//
// and each further one is of a shop:
//
//	length of its name (1), name, its last number (8, from byte 96), CRC-32C (4)
//
// Numbers are big-endian.
const (
	stateRecord = 128
	stateMagic  = "gbstate1"
	stateNumber = 96 // where the number of a shop stands
)

// acknowledged is what a state file says.
type acknowledged struct {
	timestamp uint64
	shops     map[string]history.Number
}

// stateName is the state file of an epoch.
func stateName(dir string, epoch history.Epoch) string {
	return filepath.Join(dir, epoch.String())
}

// pathDigest is what a state file knows of where its store lies.
func pathDigest(dir string) [sha256.Size]byte {
	if whole, err := filepath.Abs(dir); err == nil {
		dir = whole
	}
	return sha256.Sum256([]byte(dir))
}

// readState reads what was acknowledged in an epoch. A record that is not whole is as
// one that was never written, but for the first.
func readState(dir string, epoch history.Epoch) (*acknowledged, error) {
	data, err := os.ReadFile(stateName(dir, epoch))
	if err != nil {
		return nil, err
	}
	if !wholeHead(data) || string(data[8:24]) != string(epoch[:]) {
		return nil, errors.New("it is not whole")
	}
	a := &acknowledged{binary.BigEndian.Uint64(data[24:]), map[string]history.Number{}}
	for _, slot := range slots(data) {
		if name, number, ok := parseSlot(slot); ok {
			a.shops[name] = number
		}
	}
	return a, nil
}

func wholeHead(data []byte) bool {
	return len(data) >= stateRecord && string(data[:8]) == stateMagic && hasCRC(data[:68])
}

// slots are the records of shops.
func slots(data []byte) (records [][]byte) {
	for at := stateRecord; at+stateRecord <= len(data); at += stateRecord {
		records = append(records, data[at:at+stateRecord])
	}
	return records
}

func parseSlot(slot []byte) (name string, number history.Number, ok bool) {
	if !hasCRC(slot[:stateNumber+12]) || int(slot[0]) > history.MaxShop {
		return "", 0, false
	}
	return string(slot[1 : 1+slot[0]]), history.Number(binary.BigEndian.Uint64(slot[stateNumber:])), true
}

// hasCRC tells whether data ends with the checksum of what stands before.
func hasCRC(data []byte) bool {
	end := len(data) - crc32.Size
	return crc32.Checksum(data[:end], y.CastagnoliCrcTable) == binary.BigEndian.Uint32(data[end:])
}

func putCRC(data []byte) {
	end := len(data) - crc32.Size
	binary.BigEndian.PutUint32(data[end:], crc32.Checksum(data[:end], y.CastagnoliCrcTable))
}

// state keeps a state file. The zero value keeps none.
type state struct {
	file  *os.File
	head  [stateRecord]byte
	slots map[string]int64 // shop → where its record stands
	log   *slog.Logger
}

// openState opens the state file of an epoch, or makes it.
func openState(dir, store string, epoch history.Epoch, log *slog.Logger) (*state, error) {
	if err := makeDir(dir); err != nil {
		return nil, err
	}
	file, err := os.OpenFile(stateName(dir, epoch), os.O_CREATE|os.O_RDWR, 0o600)
	if err != nil {
		return nil, err
	}
	s := &state{file: file, slots: map[string]int64{}, log: log}
	copy(s.head[:], stateMagic)
	copy(s.head[8:], epoch[:])
	digest := pathDigest(store)
	copy(s.head[32:], digest[:])
	data, err := os.ReadFile(file.Name())
	if err == nil && !wholeHead(data) {
		data, err = nil, file.Truncate(0)
	}
	if err != nil {
		return nil, errors.Join(err, file.Close())
	}
	for i, slot := range slots(data) {
		if name, _, ok := parseSlot(slot); ok {
			s.slots[name] = int64(i+1) * stateRecord
		}
	}
	return s, nil
}

// note writes that all up to a timestamp of the engine is acknowledged, and with it the
// last numbers of shops. A state file that cannot be written is told once and given up:
// it is an aid, and the record goes on without it.
func (s *state) note(timestamp uint64, shops map[string]history.Number) {
	if s == nil || s.file == nil {
		return
	}
	var err error
	for shop, number := range shops {
		at, known := s.slots[shop]
		if !known {
			at = int64(1+len(s.slots)) * stateRecord
			s.slots[shop] = at
		}
		var slot [stateRecord]byte
		slot[0] = byte(len(shop))
		copy(slot[1:], shop)
		binary.BigEndian.PutUint64(slot[stateNumber:], uint64(number))
		putCRC(slot[:stateNumber+12])
		_, wrong := s.file.WriteAt(slot[:], at)
		err = errors.Join(err, wrong)
	}
	binary.BigEndian.PutUint64(s.head[24:], timestamp)
	putCRC(s.head[:68])
	_, wrong := s.file.WriteAt(s.head[:], 0)
	if err = errors.Join(err, wrong); err != nil {
		s.log.Error("what was acknowledged last can no longer be noted; until the store is opened again, a loss at the end of its log cannot be told", "error", err)
		_ = s.close()
	}
}

func (s *state) close() error {
	if s == nil || s.file == nil {
		return nil
	}
	file := s.file
	s.file = nil
	return file.Close()
}

// stateOfPath finds what was acknowledged in a store that lay in a directory, whatever its
// epoch was: the directory may have lost all that told it.
func stateOfPath(dir, store string) *acknowledged {
	names, err := fs.Glob(os.DirFS(dir), "*")
	if err != nil {
		return nil
	}
	digest := pathDigest(store)
	var latest *acknowledged
	for _, name := range names {
		data, err := os.ReadFile(filepath.Join(dir, name))
		if err != nil || !wholeHead(data) || string(data[32:64]) != string(digest[:]) {
			continue
		}
		var epoch history.Epoch
		copy(epoch[:], data[8:])
		if a, err := readState(dir, epoch); err == nil && (latest == nil || a.timestamp > latest.timestamp) {
			latest = a
		}
	}
	return latest
}

// missing says what a shop's numbers were of the drafts that are not there.
func (a *acknowledged) missing(reached func(shop string) history.Number) string {
	if a == nil {
		return ""
	}
	var count history.Number
	var text strings.Builder
	for _, shop := range sortedKeys(a.shops) {
		if last, there := a.shops[shop], reached(shop); last > there {
			count += last - there
			fmt.Fprintf(&text, ", of shop %q the numbers %d to %d", shop, there+1, last)
		}
	}
	if count == 0 {
		return ""
	}
	return fmt.Sprintf("%d writes that were acknowledged are missing%s", count, text.String())
}

// noteAcknowledged notes drafts that are stored, before they are answered.
func (s *Store) noteAcknowledged(drafts []*accepted) {
	if s.state == nil {
		return
	}
	last := map[string]history.Number{}
	for _, d := range drafts {
		if d.trim == nil {
			last[d.draft.Shop] = d.number
		}
	}
	s.state.note(s.timestamps.latest(), last)
}
