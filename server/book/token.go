package book

import (
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"

	pb "gaugebook.dev/proto/gaugebook/v1"

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
		return nil, refuse(pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH, field, "the store was restored since this token was given out: list again, then follow from the new token")
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

func (b *Book) feedToken(shop string, n history.Number) string {
	return b.token(feedOf(shop), binary.BigEndian.AppendUint64(nil, uint64(n)))
}

func (b *Book) feedAfter(token, shop string) (history.Number, error) {
	if token == "" {
		return 0, nil
	}
	body, err := b.open(feedOf(shop), token, "resume_token")
	if err != nil {
		return 0, err
	}
	if len(body) != 8 {
		return 0, badToken("resume_token")
	}
	return history.Number(binary.BigEndian.Uint64(body)), nil
}
