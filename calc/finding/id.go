package finding

import (
	"crypto/sha256"
	"encoding/base32"

	"gaugebook.dev/calc/layout"
)

// idBytes of a hash make an id of eight letters and digits: among a thousand
// findings of one visit two ids meet once in two million visits.
const (
	idBytes   = 5
	idLetters = 8
)

var letters = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// ID is a short name for what the parts say together of some positions: the
// beginning of its SHA-256 (FIPS 180-4) in the letters of base 32 (RFC 4648), small.
func ID(at []layout.Position, parts ...string) string {
	var room [256]byte
	said := room[:0]
	for _, p := range parts {
		said = append(append(said, p...), 0)
	}
	for _, p := range at {
		said = append(append(said, p.String()...), 0)
	}
	sum := sha256.Sum256(said)
	var id [idLetters]byte
	letters.Encode(id[:], sum[:idBytes])
	return string(id[:])
}
