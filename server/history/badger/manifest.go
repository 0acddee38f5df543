package badger

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"os"
	"path/filepath"
	"slices"

	engine "github.com/dgraph-io/badger/v4"
	"github.com/dgraph-io/badger/v4/options"
	"github.com/dgraph-io/badger/v4/pb"
	"github.com/dgraph-io/badger/v4/y"
	"google.golang.org/protobuf/proto"
)

// manifest is the engine's list of tables, as far as it can be read. Its file begins
// with
//
//	"Bdgr", the format of the store (2 bytes), the engine's own version (2 bytes)
//
// and goes on with sets of changes, of which each holds whole or not at all:
//
//	length (4 bytes), CRC-32C (4 bytes), a ManifestChangeSet
//
// Numbers are big-endian.
type manifest struct {
	format uint16
	engine uint16
	tables map[uint64]tableEntry
	gone   map[uint64]bool // tables that were taken out
	end    int64           // where the last whole set ends
	broken string          // what stands behind it; "" where the file ends there
}

// tableEntry is what the list says of a table.
type tableEntry struct {
	level       uint32
	compression options.CompressionType
}

const (
	manifestMagic = "Bdgr"
	manifestHead  = 8
	setHead       = 8

	// engineVersion is the engine's own version of its files.
	engineVersion = 8
)

// errNoManifest says that a file of that name is no list of tables.
var errNoManifest = errors.New("it is not a list of tables")

// readManifest reads the list of tables of a directory.
func readManifest(dir string) (*manifest, error) {
	data, err := os.ReadFile(filepath.Join(dir, engine.ManifestFilename))
	if err != nil {
		return nil, err
	}
	return parseManifest(data)
}

func parseManifest(data []byte) (*manifest, error) {
	if len(data) < manifestHead || string(data[:4]) != manifestMagic {
		return nil, errNoManifest
	}
	m := &manifest{
		format: binary.BigEndian.Uint16(data[4:]),
		engine: binary.BigEndian.Uint16(data[6:]),
		tables: map[uint64]tableEntry{},
		gone:   map[uint64]bool{},
		end:    manifestHead,
	}
	for rest := data[m.end:]; len(rest) > 0; rest = data[m.end:] {
		if len(rest) < setHead {
			m.broken = "a change is cut short"
			break
		}
		length := int64(binary.BigEndian.Uint32(rest))
		if length > int64(len(rest)-setHead) {
			m.broken = "a change is cut short"
			break
		}
		set := rest[setHead : setHead+length]
		if crc32.Checksum(set, y.CastagnoliCrcTable) != binary.BigEndian.Uint32(rest[4:]) {
			m.broken = "a change does not have its checksum"
			break
		}
		if err := m.apply(set); err != nil {
			m.broken = err.Error()
			break
		}
		m.end += setHead + length
	}
	return m, nil
}

// apply applies a set of changes.
func (m *manifest) apply(set []byte) error {
	changes := &pb.ManifestChangeSet{}
	if err := proto.Unmarshal(set, changes); err != nil {
		return errors.New("a change cannot be read")
	}
	for _, c := range changes.GetChanges() {
		_, known := m.tables[c.GetId()]
		switch {
		case c.GetOp() == pb.ManifestChange_DELETE:
			delete(m.tables, c.GetId())
			m.gone[c.GetId()] = true
		case c.GetOp() != pb.ManifestChange_CREATE:
			return fmt.Errorf("a change is neither making nor removing a table, but %d", c.GetOp())
		case known:
			return fmt.Errorf("table %d is made twice", c.GetId())
		default:
			m.tables[c.GetId()] = tableEntry{c.GetLevel(), options.CompressionType(c.GetCompression())}
		}
	}
	return nil
}

// ids are the tables of the list, in order.
func (m *manifest) ids() []uint64 {
	ids := make([]uint64, 0, len(m.tables))
	for id := range m.tables {
		ids = append(ids, id)
	}
	slices.Sort(ids)
	return ids
}

// bytes are the list as a file that makes its tables in one change.
func (m *manifest) bytes() ([]byte, error) {
	changes := &pb.ManifestChangeSet{}
	for _, id := range m.ids() {
		entry := m.tables[id]
		changes.Changes = append(changes.Changes, &pb.ManifestChange{
			Id: id, Op: pb.ManifestChange_CREATE, Level: entry.level, Compression: uint32(entry.compression),
		})
	}
	set, err := proto.Marshal(changes)
	if err != nil {
		return nil, err
	}
	data := []byte(manifestMagic)
	data = binary.BigEndian.AppendUint16(data, m.format)
	data = binary.BigEndian.AppendUint16(data, m.engine)
	data = binary.BigEndian.AppendUint32(data, uint32(len(set)))
	data = binary.BigEndian.AppendUint32(data, crc32.Checksum(set, y.CastagnoliCrcTable))
	return append(data, set...), nil
}

// write puts the list in the place of what a directory has, whole or not at all.
func (m *manifest) write(dir string) error {
	data, err := m.bytes()
	if err != nil {
		return err
	}
	return replaceFile(filepath.Join(dir, engine.ManifestFilename), data)
}

// replaceFile writes a file beside another of that name and puts it in its place, so
// that a power cut leaves one of them whole.
//
//nolint:gosec // where a store lies is its operator's to say
func replaceFile(name string, data []byte) error {
	beside := name + ".new"
	file, err := os.OpenFile(beside, os.O_CREATE|os.O_TRUNC|os.O_WRONLY, 0o600)
	if err != nil {
		return err
	}
	_, err = file.Write(data)
	if err := errors.Join(err, file.Sync(), file.Close()); err != nil {
		return err
	}
	if err := os.Rename(beside, name); err != nil {
		return err
	}
	return syncPath(filepath.Dir(name))
}

// syncPath syncs a directory, and with it the names in it.
//
//nolint:gosec // where a store lies is its operator's to say
func syncPath(dir string) error {
	file, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(syncDir(file), file.Close())
}
