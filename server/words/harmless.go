package words

import (
	"strings"
	"unicode"
)

// Harmless is a text that can be shown: one line, and nothing in it that steers a
// terminal or turns the order of what is read. A line break or another control for
// spacing is a space; any other is "�".
func Harmless(s string) string {
	return strings.Map(harmless, strings.ToValidUTF8(s, string(unicode.ReplacementChar)))
}

// harmless is what is shown of a character. Joiners within words (U+200C, U+200D) and
// the marks of direction that change no order beyond themselves (U+200E, U+200F) stay:
// scripts need them.
func harmless(r rune) rune {
	switch {
	case r >= ' ' && r < 0x7f, r >= '\u200c' && r <= '\u200f':
		return r
	case unicode.IsControl(r) && unicode.IsSpace(r), unicode.In(r, unicode.Zl, unicode.Zp):
		return ' '
	case unicode.In(r, unicode.Cc, unicode.Cf):
		return unicode.ReplacementChar
	}
	return r
}
