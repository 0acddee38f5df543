package backup

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"hash"
	"io"
	"strings"

	"github.com/klauspost/compress/zstd"

	"gaugebook.dev/server/history"
)

// Reader reads a backup.
type Reader struct {
	Head Head

	in      *bufio.Reader
	sum     hash.Hash // of all that was read before the piece that is read
	decoder *zstd.Decoder
	pieces  uint64
	content []byte
	plain   []byte
	seen    End
	photo   Photo // as far as it was read
}

// NewReader begins to read a backup.
//
// Errors: *DamagedError; *FormatError; *BrokenOffError; the reader's.
func NewReader(from io.Reader) (*Reader, error) {
	decoder, err := zstd.NewReader(nil, zstd.WithDecoderConcurrency(1), zstd.WithDecoderMaxMemory(maxContent))
	if err != nil {
		return nil, err
	}
	r := &Reader{in: bufio.NewReaderSize(from, 64<<10), sum: sha256.New(), decoder: decoder}
	if err := r.begin(); err != nil {
		return nil, err
	}
	kind, frame, err := r.piece()
	if err != nil {
		return nil, err
	}
	if kind == kindBroken {
		return nil, &BrokenOffError{string(r.content)}
	}
	if err := json.Unmarshal(r.content, &r.Head); kind != kindHead || err != nil {
		return nil, damaged("the backup has no head")
	}
	r.take(frame)
	return r, nil
}

// begin reads what every file begins with.
func (r *Reader) begin() error {
	begin, err := r.in.Peek(len(magic) + len("0\n"))
	if err != nil && !errors.Is(err, io.EOF) {
		return err
	}
	if len(begin) < len(magic)+len("0\n") || !strings.HasPrefix(string(begin), magic) {
		return damaged("this is no backup that this program makes, or only the beginning of one")
	}
	if format := string(begin[len(magic):]); format != fmt.Sprintf("%d\n", Format) {
		return &FormatError{strings.TrimSpace(format)}
	}
	r.sum.Write(begin)
	_, err = r.in.Discard(len(begin))
	return err
}

// To gives a loader all that the backup holds, and says what that was. Only when it
// returns without an error is the backup known to be whole: then alone the loader's
// Done has been called.
//
// Errors: *DamagedError; *BrokenOffError; the reader's; the loader's.
func (r *Reader) To(to history.Loader) (End, error) {
	for {
		kind, frame, err := r.piece()
		if err != nil {
			return End{}, err
		}
		if kind != kindPhoto && len(r.photo.Content) > 0 {
			return End{}, r.changed()
		}
		switch kind {
		case kindPhoto:
			if err := r.photoPart(to); err != nil {
				return End{}, err
			}
			r.take(frame)
			continue
		case kindBroken:
			return End{}, &BrokenOffError{string(r.content)}
		case kindEnd:
			if err := r.end(); err != nil {
				return End{}, err
			}
			return r.seen, ill(to.Done())
		}
		if err := r.load(kind, to); err != nil {
			return End{}, err
		}
		r.take(frame)
	}
}

// take adds a piece that was read to what is checked in the end.
func (r *Reader) take(frame []byte) {
	r.sum.Write(frame)
	r.sum.Write(r.content)
	r.sum.Write(binary.BigEndian.AppendUint32(nil, checksum(r.pieces, frame, r.content)))
	r.pieces++
}

// piece reads a piece as it lies in the file, into r.content.
func (r *Reader) piece() (kind byte, frame []byte, err error) {
	frame = make([]byte, 1+4)
	if _, err := io.ReadFull(r.in, frame); err != nil {
		return 0, nil, cut(err, r.pieces)
	}
	length := binary.BigEndian.Uint32(frame[1:])
	if length > maxContent {
		return 0, nil, r.changed()
	}
	r.content = append(r.content[:0], make([]byte, length)...)
	var sum [4]byte
	if _, err := io.ReadFull(r.in, r.content); err != nil {
		return 0, nil, cut(err, r.pieces)
	}
	if _, err := io.ReadFull(r.in, sum[:]); err != nil {
		return 0, nil, cut(err, r.pieces)
	}
	if binary.BigEndian.Uint32(sum[:]) != checksum(r.pieces, frame, r.content) {
		return 0, nil, r.changed()
	}
	return frame[0], frame, nil
}

// cut is the error of a file that ends within a piece.
func cut(err error, pieces uint64) error {
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return damaged("the backup is cut short: it has no end behind its piece %d", pieces)
	}
	return err
}

func (r *Reader) changed() error {
	return damaged("the backup is damaged: its piece %d is not as it was written", r.pieces+1)
}

// end holds what was read against what was written.
func (r *Reader) end() error {
	var wrote End
	if err := json.Unmarshal(r.content, &wrote); err != nil {
		return r.changed()
	}
	r.seen.Pieces, r.seen.SHA256 = r.pieces, hex.EncodeToString(r.sum.Sum(nil))
	if r.seen != wrote || r.seen.Shops != len(r.Head.Shops) {
		return damaged("the backup is damaged: it holds %+v where %+v were written", r.seen, wrote)
	}
	if _, err := r.in.ReadByte(); err == nil {
		return damaged("the backup is damaged: something stands behind its end")
	} else if !errors.Is(err, io.EOF) {
		return err
	}
	return nil
}

// load gives a loader the content of a piece.
func (r *Reader) load(kind byte, to history.Loader) error {
	var err error
	if r.plain, err = r.decoder.DecodeAll(r.content, r.plain[:0]); err != nil {
		return r.changed()
	}
	in := bytes.NewReader(r.plain)
	switch kind {
	case kindShop:
		return r.shop(in, to)
	case kindChanges:
		return r.changes(in, to)
	case kindRows:
		return r.rows(in, to)
	}
	return damaged("the backup holds a piece that this program does not know: %q", kind)
}

func (r *Reader) shop(in *bytes.Reader, to history.Loader) error {
	last, err := binary.ReadUvarint(in)
	if err != nil {
		return r.changed()
	}
	trimmed, err := binary.ReadUvarint(in)
	if err != nil {
		return r.changed()
	}
	left, err := readBytes(in)
	if err != nil {
		return r.changed()
	}
	shop := Shop{string(r.plain[len(r.plain)-in.Len():]), history.Number(last), history.Number(trimmed)}
	if r.seen.Shops >= len(r.Head.Shops) || r.Head.Shops[r.seen.Shops] != shop {
		return damaged("the backup is damaged: its head does not name the shop %q here", shop.Name)
	}
	r.seen.Shops++
	return ill(to.Shop(history.Loaded{Name: shop.Name, Last: shop.Last, Trimmed: history.Change{Number: shop.Trimmed, Feed: left}}))
}

func (r *Reader) changes(in *bytes.Reader, to history.Loader) error {
	var changes []history.Change
	for in.Len() > 0 {
		number, err := binary.ReadUvarint(in)
		if err != nil {
			return r.changed()
		}
		feed, err := readBytes(in)
		if err != nil {
			return r.changed()
		}
		changes = append(changes, history.Change{Number: history.Number(number), Feed: feed})
	}
	r.seen.Changes += uint64(len(changes))
	return ill(to.Changes(changes))
}

func (r *Reader) rows(in *bytes.Reader, to history.Loader) error {
	var rows []history.Row
	for in.Len() > 0 {
		key, err := readBytes(in)
		if err != nil {
			return r.changed()
		}
		version, err := binary.ReadUvarint(in)
		if err != nil {
			return r.changed()
		}
		value, err := readBytes(in)
		if err != nil {
			return r.changed()
		}
		rows = append(rows, history.Row{Key: history.Key(key), Version: history.Number(version), Value: value})
	}
	r.seen.Rows += uint64(len(rows))
	return ill(to.Rows(rows))
}

// photoPart reads a part of a photo, and gives a photo that is whole to a loader that takes
// such.
func (r *Reader) photoPart(to history.Loader) error {
	in := bytes.NewReader(r.content)
	shop, err1 := readBytes(in)
	name, err2 := readBytes(in)
	size, err3 := binary.ReadUvarint(in)
	part := r.content[len(r.content)-in.Len():]
	if r.photo.Content == nil {
		r.photo = Photo{Shop: string(shop), Name: string(name)}
	}
	same := r.photo.Shop == string(shop) && r.photo.Name == string(name)
	if errors.Join(err1, err2, err3) != nil || !same || len(part) == 0 || size > MaxPhoto || uint64(len(r.photo.Content)+len(part)) > size {
		return r.changed()
	}
	r.photo.Content = append(r.photo.Content, part...)
	if uint64(len(r.photo.Content)) < size {
		return nil
	}
	whole := r.photo
	r.photo = Photo{}
	r.seen.Photos++
	if taker, ok := to.(PhotoLoader); ok {
		return ill(taker.Photo(whole))
	}
	return nil
}

func readBytes(in *bytes.Reader) ([]byte, error) {
	length, err := binary.ReadUvarint(in)
	if err != nil || length > uint64(in.Len()) {
		return nil, io.ErrUnexpectedEOF
	}
	b := make([]byte, length)
	_, err = io.ReadFull(in, b)
	return b, err
}

// ill is the error of a loader: what comes in no right order was written so.
func ill(err error) error {
	if wrong, ok := errors.AsType[*history.InvalidError](err); ok {
		return damaged("the backup is damaged: %s", wrong.Reason)
	}
	return err
}

// Nothing is a loader that keeps nothing: it holds a backup to its order.
type Nothing struct{ order history.Order }

var _ history.Loader = (*Nothing)(nil)

// Shop keeps nothing.
func (n *Nothing) Shop(shop history.Loaded) error { return n.order.Shop(shop) }

// Changes keeps nothing.
func (n *Nothing) Changes(changes []history.Change) error { return n.order.Changes(changes) }

// Rows keeps nothing.
func (n *Nothing) Rows(rows []history.Row) error { return n.order.Rows(rows) }

// Done keeps nothing.
func (n *Nothing) Done() error { return n.order.Done() }
