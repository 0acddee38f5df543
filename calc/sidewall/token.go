package sidewall

import "strings"

// A token is a run of letters, a number with its decimals, or one other sign.
// Blanks end a token and make none, so that "R16" and "R 16" are alike.
type token struct {
	kind rune // word, number, or the sign itself
	text string
}

const (
	word   = 'W'
	number = '0'
)

// likeSigns are signs that people and keyboards put for one another.
var likeSigns = strings.NewReplacer("×", "X", "–", "-", "−", "-", "‐", "-", "\u00a0", " ", "_", " ", "*", " ")

// tokensOf splits a text. A comma between digits is a decimal point when at most
// two digits follow; letters are read in upper case.
func tokensOf(text string) []token {
	s := likeSigns.Replace(text)
	var out []token
	for i := 0; i < len(s); {
		c := s[i]
		switch {
		case digit(c):
			n := run(s[i:], digit)
			t := s[i : i+n]
			if rest := s[i+n:]; len(rest) > 1 && (rest[0] == '.' || rest[0] == ',') {
				if d := run(rest[1:], digit); d == 1 || d == 2 {
					t, n = t+"."+rest[1:1+d], n+1+d
				}
			}
			out, i = append(out, token{number, t}), i+n
		case letter(c):
			n := run(s[i:], letter)
			out, i = append(out, token{word, strings.ToUpper(s[i : i+n])}), i+n
		case c == ' ' || c == '\t' || c == '\n' || c == '\r':
			i++
		default:
			out, i = append(out, token{kind: rune(c)}), i+1
		}
	}
	return out
}

func digit(c byte) bool  { return c >= '0' && c <= '9' }
func letter(c byte) bool { return c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' }

// run counts the leading bytes that are of a kind.
func run(s string, accept func(byte) bool) int {
	n := 0
	for n < len(s) && accept(s[n]) {
		n++
	}
	return n
}

// A reader walks the tokens. Its methods take what they name, or nothing.
type reader struct {
	tokens []token
}

// peek gives the token n places ahead, an empty one past the end.
func (r *reader) peek(n int) token {
	if n >= len(r.tokens) {
		return token{}
	}
	return r.tokens[n]
}

func (r *reader) skip(n int) { r.tokens = r.tokens[min(n, len(r.tokens)):] }

// sign takes one of the signs given, if one follows.
func (r *reader) sign(signs string) {
	if k := r.peek(0).kind; k != 0 && strings.ContainsRune(signs, k) {
		r.skip(1)
	}
}

// oneOf takes one of the words given, and gives "" when another follows.
func (r *reader) oneOf(words ...string) string {
	t := r.peek(0)
	if t.kind == word {
		for _, w := range words {
			if t.text == w {
				r.skip(1)
				return w
			}
		}
	}
	return ""
}

// number takes a number.
func (r *reader) number() (string, bool) {
	t := r.peek(0)
	if t.kind != number {
		return "", false
	}
	r.skip(1)
	return t.text, true
}
