package badger

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"sort"

	"github.com/dgraph-io/badger/v4/fb"
	"github.com/dgraph-io/badger/v4/options"
	"github.com/dgraph-io/badger/v4/pb"
	"github.com/dgraph-io/badger/v4/y"
	"google.golang.org/protobuf/proto"
)

// tableFile is a table of the engine, read past the engine: block by block, so that a
// bad one is told and not passed over, and with little memory. The file holds
//
//	blocks, index, length of the index (4 bytes), checksum of the index, length of that (4 bytes)
//
// and a block, once it is decompressed,
//
//	entries, an offset for each (4 bytes), their count (4 bytes), checksum of all that, length of that (4 bytes)
//
// and an entry
//
//	bytes shared with the first key of the block (2 bytes), further bytes of the key (2 bytes), those bytes, value
//
// Lengths of the file are big-endian; offsets and the lengths in an entry are as the
// engine writes them on every machine that it runs on, little-endian.
type tableFile struct {
	r           io.ReaderAt
	compression options.CompressionType
	places      []blockPlace
	maxVersion  uint64 // of the transactions in it
	keys        int
	noIndex     bool // blocks were found by what they begin with

	raw, plain []byte // reused
}

type blockPlace struct {
	offset, length int64
	first          []byte // the lowest key of the block
}

var errTableIndex = errors.New("its index cannot be read")

// openTableFile reads the index of a table.
func openTableFile(r io.ReaderAt, size int64, compression options.CompressionType) (t *tableFile, err error) {
	defer func() {
		// What has its checksum was written by the engine and reads well; this is for what
		// nobody has thought of.
		if recover() != nil {
			t, err = nil, errTableIndex
		}
	}()
	end := size
	take := func(length int64) ([]byte, error) {
		if length < 0 || length > end {
			return nil, errTableIndex
		}
		end -= length
		data := make([]byte, length)
		if _, err := r.ReadAt(data, end); err != nil {
			return nil, fmt.Errorf("%w: %w", errTableIndex, err)
		}
		return data, nil
	}
	takeSized := func() ([]byte, error) {
		length, err := take(4)
		if err != nil {
			return nil, err
		}
		return take(int64(binary.BigEndian.Uint32(length)))
	}
	checksum, err := takeSized()
	if err != nil {
		return nil, err
	}
	index, err := takeSized()
	if err != nil {
		return nil, err
	}
	if !hasChecksum(index, checksum) {
		return nil, errTableIndex
	}
	root := fb.GetRootAsTableIndex(index, 0)
	t = &tableFile{r: r, compression: compression, maxVersion: root.MaxVersion(), keys: int(root.KeyCount())}
	for i := range root.OffsetsLength() {
		var place fb.BlockOffset
		if !root.Offsets(&place, i) {
			return nil, errTableIndex
		}
		t.places = append(t.places, blockPlace{int64(place.Offset()), int64(place.Len()), place.KeyBytes()})
	}
	if len(t.places) == 0 {
		return nil, errTableIndex
	}
	return t, nil
}

// frame is how every compressed block begins (RFC 8878, section 3.1.1).
var frame = []byte{0x28, 0xb5, 0x2f, 0xfd}

// findBlocks finds the blocks of a table whose index cannot be read, as far as they can be.
// Its keys are those that were found.
func findBlocks(r io.ReaderAt, size int64, compression options.CompressionType) (*tableFile, error) {
	if compression != options.ZSTD {
		return nil, errTableIndex
	}
	data := make([]byte, size)
	if n, err := r.ReadAt(data, 0); int64(n) < size {
		return nil, err
	}
	t := &tableFile{r: r, compression: compression, noIndex: true}
	for at := bytes.Index(data, frame); at >= 0; {
		next, length := bytes.Index(data[at+1:], frame), len(data)-at
		if next >= 0 {
			length = next + 1
		}
		t.places = append(t.places, blockPlace{offset: int64(at), length: int64(length)})
		if at += length; next < 0 {
			break
		}
	}
	places := t.places
	t.places = nil
	for _, place := range places {
		t.places = append(t.places, place)
		found := len(t.places) - 1
		b, err := t.block(found)
		if err == nil {
			err = b.each(func(key []byte, _ y.ValueStruct) error {
				if t.places[found].first == nil {
					t.places[found].first = bytes.Clone(key)
				}
				t.maxVersion = max(t.maxVersion, y.ParseTs(key))
				t.keys++
				return nil
			})
		}
		if err != nil {
			t.places = t.places[:found]
		}
	}
	if len(t.places) == 0 {
		return nil, errTableIndex
	}
	return t, nil
}

// hasChecksum tells whether data has a checksum as the engine writes it.
func hasChecksum(data, checksum []byte) bool {
	want := &pb.Checksum{}
	if proto.Unmarshal(checksum, want) != nil {
		return false
	}
	switch want.GetAlgo() {
	case pb.Checksum_CRC32C, pb.Checksum_XXHash64:
		return y.CalculateChecksum(data, want.GetAlgo()) == want.GetSum()
	}
	return false
}

var errBlock = errors.New("a block cannot be read")

// block is a block's entries, parted, in memory that is lent until the next call.
type block struct {
	entries []byte
	offsets []byte
}

// block reads a block and checks it.
func (t *tableFile) block(i int) (b block, err error) {
	defer func() {
		if recover() != nil {
			b, err = block{}, errBlock
		}
	}()
	place := t.places[i]
	if int64(cap(t.raw)) < place.length {
		t.raw = make([]byte, place.length)
	}
	t.raw = t.raw[:place.length]
	if _, err := t.r.ReadAt(t.raw, place.offset); err != nil {
		return block{}, fmt.Errorf("%w: %w", errBlock, err)
	}
	data := t.raw
	switch t.compression {
	case options.None:
	case options.ZSTD:
		// Where the end of a block is not known something else follows.
		if data, err = y.ZSTDDecompress(t.plain, t.raw); err != nil && !t.noIndex {
			return block{}, errBlock
		}
		t.plain = data
	default:
		return block{}, fmt.Errorf("%w: compression %d is none that this program writes", errBlock, t.compression)
	}
	end := len(data)
	take := func(length int) []byte {
		if length < 0 || length > end {
			panic(errBlock)
		}
		end -= length
		return data[end : end+length]
	}
	checksum := take(int(binary.BigEndian.Uint32(take(4))))
	if !hasChecksum(data[:end], checksum) {
		return block{}, errBlock
	}
	count := int(binary.BigEndian.Uint32(take(4)))
	offsets := take(4 * count)
	return block{data[:end], offsets}, nil
}

// each gives the entries of a block in the order of their keys. A key ends with the
// engine's timestamp. Both are lent until the next entry.
func (b block) each(f func(key []byte, value y.ValueStruct) error) (err error) {
	defer func() {
		if recover() != nil {
			err = errBlock
		}
	}()
	var first, key []byte
	for i := 0; i < len(b.offsets); i += 4 {
		end := len(b.entries)
		if i+4 < len(b.offsets) {
			end = int(binary.LittleEndian.Uint32(b.offsets[i+4:]))
		}
		entry := b.entries[binary.LittleEndian.Uint32(b.offsets[i:]):end]
		shared, further := int(binary.LittleEndian.Uint16(entry)), int(binary.LittleEndian.Uint16(entry[2:]))
		key = append(append(key[:0], first[:shared]...), entry[4:4+further]...)
		if i == 0 {
			first = append(first, key...)
		}
		var value y.ValueStruct
		value.Decode(entry[4+further:])
		if err := f(key, value); err != nil {
			return err
		}
	}
	return nil
}

// check reads every block and gives how many are bad and how many rows the others
// hold, pausing as it is told after each.
func (t *tableFile) check(pause func(bytes int64) error) (bad, rows int, err error) {
	for i, place := range t.places {
		if b, err := t.block(i); err != nil {
			bad++
		} else {
			rows += len(b.offsets) / 4
		}
		if err := pause(place.length); err != nil {
			return bad, rows, err
		}
	}
	return bad, rows, nil
}

// each gives all entries of the blocks that can be read.
func (t *tableFile) each(f func(key []byte, value y.ValueStruct) error) error {
	for i := range t.places {
		b, err := t.block(i)
		if err != nil {
			continue // told by check
		}
		if err := b.each(f); err != nil {
			return err
		}
	}
	return nil
}

// newest finds the newest version of a key that is not newer than a timestamp.
func (t *tableFile) newest(key []byte, timestamp uint64) (version uint64, value y.ValueStruct, ok bool) {
	target := y.KeyWithTs(key, timestamp)
	i := sort.Search(len(t.places), func(i int) bool { return y.CompareKeys(t.places[i].first, target) > 0 })
	for i = max(i-1, 0); i < len(t.places) && !ok; i++ {
		if y.CompareKeys(t.places[i].first, target) > 0 && !bytes.Equal(y.ParseKey(t.places[i].first), key) {
			break
		}
		b, err := t.block(i)
		if err != nil {
			continue // told by check
		}
		_ = b.each(func(found []byte, v y.ValueStruct) error {
			if !ok && y.CompareKeys(found, target) >= 0 && bytes.Equal(y.ParseKey(found), key) {
				version, ok = y.ParseTs(found), true
				value = y.ValueStruct{Meta: v.Meta, Value: bytes.Clone(v.Value)}
			}
			return nil
		})
	}
	return version, value, ok
}
