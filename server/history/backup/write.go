package backup

import (
	"context"
	"crypto/sha256"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"hash"
	"io"
	"slices"
	"time"

	"github.com/klauspost/compress/zstd"

	"gaugebook.dev/server/history"
)

// About is what a backup says of its making.
type About struct {
	Program string // version of the program that makes it
	Made    time.Time

	// Photos gives the photos beside the store, each once; nil: there are none. It is
	// asked behind all else, so that no photo is missing that the store told of.
	Photos func(each func(Photo) error) error
}

// Write makes a backup of a store, while others may write to it: each shop as it is at
// the call. An error is written into it, too, as far as that can be, so that who reads
// the other end of a line is told.
//
// Errors: the store's, the writer's, the context's.
func Write(ctx context.Context, w io.Writer, of history.Store, about About) (End, error) {
	return Make(w, of.Epoch(), about, func(to history.Loader, observe func(history.Loaded)) error {
		return history.Copy(ctx, of, to, observe)
	})
}

// Make makes a backup of what copies gives a loader, after it has told it each shop, as
// history.Copy does. epoch is that of the store that it is of.
func Make(w io.Writer, epoch history.Epoch, about About, copies func(to history.Loader, observe func(history.Loaded)) error) (End, error) {
	out, err := newWriter(w)
	if err != nil {
		return End{}, err
	}
	head := Head{Format: Format, Program: about.Program, Made: about.Made.UTC(), Epoch: epoch.String()}
	begun := &begin{writer: out, head: &head, photos: about.Photos}
	err = copies(begun, func(shop history.Loaded) {
		head.Shops = append(head.Shops, Shop{shop.Name, shop.Last, shop.Trimmed.Number})
	})
	if err != nil {
		_ = out.piece(kindBroken, []byte(err.Error())) // where it does not arrive, the end is missing
	}
	return out.end, err
}

// begin is a history.Loader that writes a file: the head before all else.
type begin struct {
	*writer
	head   *Head
	photos func(each func(Photo) error) error
}

func (b *begin) begin() error {
	if b.head == nil {
		return nil
	}
	head := b.head
	b.head = nil
	return b.json(kindHead, head)
}

// Shop begins a shop.
func (b *begin) Shop(shop history.Loaded) error {
	if err := b.begin(); err != nil {
		return err
	}
	return b.writer.Shop(shop)
}

// Done writes the photos and ends the file.
func (b *begin) Done() error {
	if err := b.begin(); err != nil { // there are no shops
		return err
	}
	if err := b.order.Done(); err != nil {
		return err
	}
	if err := b.flush(); err != nil {
		return err
	}
	if b.photos != nil {
		if err := b.photos(b.photo); err != nil {
			return err
		}
	}
	b.writer.end.Pieces, b.writer.end.SHA256 = b.pieces, hex.EncodeToString(b.sum.Sum(nil))
	return b.json(kindEnd, b.writer.end)
}

// writer writes the pieces.
type writer struct {
	out     io.Writer
	sum     hash.Hash // of all that was written
	encoder *zstd.Encoder
	order   history.Order

	kind    byte // of the piece that is gathered
	content []byte
	packed  []byte
	pieces  uint64
	end     End
}

func newWriter(to io.Writer) (*writer, error) {
	encoder, err := zstd.NewWriter(nil, zstd.WithEncoderConcurrency(1), zstd.WithEncoderLevel(zstd.SpeedDefault))
	if err != nil {
		return nil, err
	}
	w := &writer{sum: sha256.New(), encoder: encoder}
	w.out = io.MultiWriter(to, w.sum)
	_, err = fmt.Fprintf(w.out, "%s%d\n", magic, Format)
	return w, err
}

func (w *writer) Shop(shop history.Loaded) error {
	if err := w.order.Shop(shop); err != nil {
		return err
	}
	if err := w.flush(); err != nil {
		return err
	}
	w.end.Shops++
	w.kind, w.content = kindShop, binary.AppendUvarint(w.content, uint64(shop.Last))
	w.content = binary.AppendUvarint(w.content, uint64(shop.Trimmed.Number))
	w.content = append(appendBytes(w.content, shop.Trimmed.Feed), shop.Name...)
	return w.flush()
}

func (w *writer) Changes(changes []history.Change) error {
	if err := w.order.Changes(changes); err != nil {
		return err
	}
	for _, c := range changes {
		if err := w.gather(kindChanges); err != nil {
			return err
		}
		w.content = binary.AppendUvarint(w.content, uint64(c.Number))
		w.content = appendBytes(w.content, c.Feed)
		w.end.Changes++
	}
	return nil
}

func (w *writer) Rows(rows []history.Row) error {
	if err := w.order.Rows(rows); err != nil {
		return err
	}
	for _, r := range rows {
		if err := w.gather(kindRows); err != nil {
			return err
		}
		w.content = appendBytes(w.content, []byte(r.Key))
		w.content = binary.AppendUvarint(w.content, uint64(r.Version))
		w.content = appendBytes(w.content, r.Value)
		w.end.Rows++
	}
	return nil
}

// photo writes a photo in parts.
func (w *writer) photo(p Photo) error {
	if len(p.Content) == 0 || len(p.Content) > MaxPhoto {
		return fmt.Errorf("the photo %s of the shop %s has %d bytes", p.Name, p.Shop, len(p.Content))
	}
	head := binary.AppendUvarint(appendBytes(appendBytes(nil, []byte(p.Shop)), []byte(p.Name)), uint64(len(p.Content)))
	for part := range slices.Chunk(p.Content, pieceSize) {
		if err := w.piece(kindPhoto, append(slices.Clone(head), part...)); err != nil {
			return err
		}
	}
	w.end.Photos++
	return nil
}

func appendBytes(to, b []byte) []byte {
	return append(binary.AppendUvarint(to, uint64(len(b))), b...)
}

// gather sees to a piece of a kind that has room.
func (w *writer) gather(kind byte) error {
	if w.kind != kind || len(w.content) >= pieceSize {
		if err := w.flush(); err != nil {
			return err
		}
	}
	w.kind = kind
	return nil
}

// flush writes what was gathered.
func (w *writer) flush() error {
	if len(w.content) == 0 {
		return nil
	}
	w.packed = w.encoder.EncodeAll(w.content, w.packed[:0])
	w.content = w.content[:0]
	return w.piece(w.kind, w.packed)
}

func (w *writer) json(kind byte, v any) error {
	content, err := json.Marshal(v)
	if err != nil {
		return err
	}
	return w.piece(kind, content)
}

func (w *writer) piece(kind byte, content []byte) error {
	frame := binary.BigEndian.AppendUint32([]byte{kind}, uint32(len(content)))
	sum := binary.BigEndian.AppendUint32(nil, checksum(w.pieces, frame, content))
	w.pieces++
	for _, part := range [][]byte{frame, content, sum} {
		if _, err := w.out.Write(part); err != nil {
			return err
		}
	}
	return nil
}
