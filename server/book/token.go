package book

import (
	"crypto/rand"
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book/rows"
	"gaugebook.dev/server/history"
)

// A token is opaque to callers: version, epoch of the numbering, what it points
// at, and a checksum over these and over the list that it was given out for. One
// that is damaged, of another shop or of another list is refused; one of another
// store is told apart from these, for then the caller lists again.
const (
	tokenVersion = 1
	headSize     = 1 + len(history.Epoch{})
	sumSize      = 4
)

// list is what a token belongs to: rows of a shop that are given in pages.
type list struct {
	shop string
	rows history.Key // the beginning of all its rows; empty: the feed
}

func feedOf(shop string) list { return list{shop: shop} }

func (b *Book) token(of list, body []byte) string {
	epoch := b.store.Epoch()
	t := append([]byte{tokenVersion}, epoch[:]...)
	t = append(t, body...)
	return base64.RawURLEncoding.EncodeToString(binary.BigEndian.AppendUint32(t, of.checksum(t)))
}

func (l list) checksum(token []byte) uint32 {
	sum := crc32.ChecksumIEEE(token)
	for _, s := range []string{l.shop, "\x00", string(l.rows)} { // no shop's name holds a zero byte
		sum = crc32.Update(sum, crc32.IEEETable, []byte(s))
	}
	return sum
}

// open gives what a token of this list points at. field names it in a refusal.
func (b *Book) open(of list, token, field string) ([]byte, error) {
	t, err := base64.RawURLEncoding.Strict().DecodeString(token)
	if err != nil || len(t) < headSize+sumSize || t[0] != tokenVersion {
		return nil, badToken(field)
	}
	body, sum := t[:len(t)-sumSize], binary.BigEndian.Uint32(t[len(t)-sumSize:])
	if of.checksum(body) != sum {
		return nil, badToken(field)
	}
	if history.Epoch(body[1:headSize]) != b.store.Epoch() {
		return nil, refuse(pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH, field, "the store was restored since this token was given out: list again, then follow from the new token").with("why", "OTHER_EPOCH")
	}
	return body[headSize:], nil
}

func badToken(field string) error {
	return refuse(pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, field, "not a token that this call gave out for this shop")
}

// pageToken is the token behind the rows of a page, "" where they are the last.
func (b *Book) pageToken(of list, p history.Page) string {
	if !p.More {
		return ""
	}
	return b.token(of, []byte(p.Rows[len(p.Rows)-1].Key[len(of.rows):]))
}

// pageAfter is the key behind which a page begins, "" for the first.
func (b *Book) pageAfter(of list, token string) (history.Key, error) {
	if token == "" {
		return "", nil
	}
	body, err := b.open(of, token, "page_token")
	return of.rows + history.Key(body), err
}

// point is a place in a shop's feed: behind the commit of a number, which the mark tells
// from any other that had this number. A copy of the store that was put back, and written
// on, has other marks: whoever followed the past that was lost is told so.
type point struct {
	number history.Number // 0: the beginning
	mark   string         // "" of a former program
}

func (b *Book) feedToken(shop string, p point) string {
	return b.token(feedOf(shop), append(binary.BigEndian.AppendUint64(nil, uint64(p.number)), p.mark...))
}

func (b *Book) feedAfter(token, shop string) (point, error) {
	if token == "" {
		return point{}, nil
	}
	body, err := b.open(feedOf(shop), token, "resume_token")
	if err != nil {
		return point{}, err
	}
	if len(body) != 8 && len(body) != 8+markSize {
		return point{}, badToken("resume_token")
	}
	return point{history.Number(binary.BigEndian.Uint64(body)), string(body[8:])}, nil
}

// markSize is the length of a commit's mark in bytes.
const markSize = 8

// mark is a new one.
func mark() []byte {
	m := make([]byte, markSize)
	_, _ = rand.Read(m) // documented never to fail
	return m
}

// lost says that what a token points at is not in this store's past.
func lost(why, message string) error {
	return refuse(pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH, "resume_token", "%s: list again, then follow from the new token", message).with("why", why)
}

// end is the point behind all that a snapshot holds.
func (v view) end() (point, error) {
	last, err := v.s.Last(v.ctx)
	if err != nil || last == 0 {
		return point{}, err
	}
	trimmed, err := v.s.Trimmed(v.ctx)
	switch {
	case err != nil:
		return point{}, err
	case trimmed.Number == last:
		return pointOf(trimmed)
	}
	entries, err := v.s.Changes(v.ctx, last-1, 1)
	if err != nil {
		return point{}, err
	}
	return pointOf(entries[0])
}

// pointOf is the point behind an entry of the feed.
func pointOf(e history.Change) (point, error) {
	row := &rows.Change{}
	err := decode(e.Feed, row)
	return point{e.Number, string(row.GetMark())}, err
}

// after reads the entries of the feed behind a point, at most so many. A point that is not
// in this store's past is refused, and one behind which entries were trimmed.
func (v view) after(p point, limit int) ([]history.Change, error) {
	trimmed, err := v.s.Trimmed(v.ctx)
	switch {
	case err != nil:
		return nil, err
	case p.number < trimmed.Number:
		return nil, refuse(pb.ErrorReason_ERROR_REASON_TOKEN_TRIMMED, "resume_token", "changes up to number %d are no longer kept: list again, then follow from the new token", trimmed.Number).with("trimmed", decimal(trimmed.Number))
	case p.number == 0:
		return v.s.Changes(v.ctx, 0, limit)
	case p.number == trimmed.Number:
		if err := p.isThat(trimmed); err != nil {
			return nil, err
		}
		return v.s.Changes(v.ctx, p.number, limit)
	}
	entries, err := v.s.Changes(v.ctx, p.number-1, limit+1)
	switch {
	case err != nil:
		return nil, err
	case len(entries) == 0:
		return nil, lost("BEYOND_END", "this shop's book ends before what was followed: a copy was put back")
	}
	return entries[1:], p.isThat(entries[0])
}

// isThat refuses a point that is not behind the entry that has its number.
func (p point) isThat(e history.Change) error {
	switch here, err := pointOf(e); {
	case err != nil:
		return err
	case here != p:
		return lost("OTHER_PAST", "this shop's book has another past than what was followed: a copy was put back")
	}
	return nil
}
