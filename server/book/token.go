package book

import (
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
)

// A token is opaque to callers: version, epoch of the numbering, kind, what it
// points at, and a checksum over these and the shop, so that a token of another
// shop, kind or store is told apart from a damaged one.
const tokenVersion = 1

const epochSize = len(history.Epoch{})

func (b *Book) token(shop, kind string, body []byte) string {
	epoch := b.store.Epoch()
	t := append([]byte{tokenVersion}, epoch[:]...)
	t = append(t, kind[0])
	t = append(t, body...)
	t = binary.BigEndian.AppendUint32(t, checksum(t, shop))
	return base64.RawURLEncoding.EncodeToString(t)
}

func checksum(token []byte, shop string) uint32 {
	return crc32.Update(crc32.ChecksumIEEE(token), crc32.IEEETable, []byte(shop))
}

// open reads a token of this shop and kind. field names it in a refusal.
func (b *Book) open(token, shop, kind, field string) ([]byte, error) {
	bad := refuse(pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, field, "not a token that this call gave out for this shop")
	t, err := base64.RawURLEncoding.DecodeString(token)
	head := 1 + epochSize + 1
	if err != nil || len(t) < head+4 || t[0] != tokenVersion {
		return nil, bad
	}
	body, sum := t[:len(t)-4], binary.BigEndian.Uint32(t[len(t)-4:])
	if checksum(body, shop) != sum || body[head-1] != kind[0] {
		return nil, bad
	}
	if history.Epoch(body[1:1+epochSize]) != b.store.Epoch() {
		return nil, refuse(pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH, field, "the store was restored since this token was given out: list again, then follow from the new token")
	}
	return body[head:], nil
}

func (b *Book) pageToken(shop, kind string, last history.Key) string {
	return b.token(shop, kind, []byte(last))
}

func (b *Book) pageAfter(token, shop, kind string) (history.Key, error) {
	if token == "" {
		return "", nil
	}
	body, err := b.open(token, shop, kind, "page_token")
	return history.Key(body), err
}

func (b *Book) feedToken(shop string, n history.Number) string {
	return b.token(shop, "f", binary.BigEndian.AppendUint64(nil, uint64(n)))
}

func (b *Book) feedAfter(token, shop string) (history.Number, error) {
	if token == "" {
		return 0, nil
	}
	body, err := b.open(token, shop, "f", "resume_token")
	if err != nil {
		return 0, err
	}
	if len(body) != 8 {
		return 0, refuse(pb.ErrorReason_ERROR_REASON_TOKEN_INVALID, "resume_token", "not a token that this call gave out for this shop")
	}
	return history.Number(binary.BigEndian.Uint64(body)), nil
}
