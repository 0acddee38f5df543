package strictjson

import (
	"bytes"
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/types/known/wrapperspb"
)

// kind is what a JSON value looks like (RFC 8259, section 3).
type kind int

const (
	nothing kind = iota // reading has stopped
	object
	list
	text
	number
	truth
	null
	word // a run of characters that is no JSON value, such as 4/32
)

// String names the kind in a sentence.
func (k kind) String() string {
	return [...]string{"nothing", "an object", "a list", "text", "a number", "true or false", "null", "something that is not JSON"}[k]
}

// token is one whole value, or one field name, as it stands in the document.
type token struct {
	kind   kind
	offset int // of its first byte
	raw    []byte
}

// isNumber matches a number by RFC 8259, section 6.
var isNumber = regexp.MustCompile(`^-?(0|[1-9][0-9]*)(\.[0-9]+)?([eE][+-]?[0-9]+)?$`).Match

// next passes over white space and returns the byte that follows, 0 at the end
// of the document.
func (r *reader) next() byte {
	for ; r.pos < len(r.data); r.pos++ {
		switch c := r.data[r.pos]; c {
		case ' ', '\t', '\r', '\n':
		default:
			return c
		}
	}
	return 0
}

// stop reports that the text ceases to be readable at the reader's position and
// ends reading: what follows cannot be given a meaning.
func (r *reader) stop(problem, want string) {
	if r.pos == len(r.data) {
		problem = "not JSON: the document ends too early"
	}
	line, _, _ := bytes.Cut(r.data[r.pos:], []byte("\n"))
	r.report(r.pos, line, fault{problem, want})
	r.stopped = true
	r.pos = len(r.data)
}

// skip passes over one value of any kind, looking only at its syntax.
func (r *reader) skip() token {
	c := r.next()
	t := token{offset: r.pos}
	switch c {
	case '{':
		t.kind = object
		r.object(func(token) { r.skip() })
	case '[':
		t.kind = list
		r.list(func() { r.skip() })
	case '"':
		return r.quoted()
	default:
		return r.word()
	}
	if r.stopped {
		return token{}
	}
	t.raw = r.data[t.offset:r.pos]
	return t
}

// object passes over an object, calling field at each value with its name.
// Each call must pass over one value.
func (r *reader) object(field func(name token)) {
	r.items('}', func() {
		if c := r.next(); c != '"' {
			want := "a field name in double quotes"
			if '0' <= c && c <= '9' {
				want += ", or a decimal point in place of the comma"
			}
			r.stop("not JSON: a field name is missing", want)
			return
		}
		name := r.quoted()
		if r.next() != ':' {
			r.stop("not JSON: a colon is missing", "a colon between the field name and its value")
			return
		}
		r.pos++
		field(name)
	})
}

// list passes over a list, calling element at each element. Each call must pass
// over one value.
func (r *reader) list(element func()) { r.items(']', element) }

// items passes over an opening bracket, items parted by commas, and the closing
// bracket. A comma after the last item is reported, but reading goes on: there
// is no doubt what was meant.
func (r *reader) items(closing byte, item func()) {
	if r.nesting == MaxNesting {
		r.stop(fmt.Sprintf("nested deeper than %d levels", MaxNesting), "fewer objects and lists inside one another")
		return
	}
	r.nesting++
	r.pos++
	for comma := -1; !r.stopped; {
		if r.next() == closing {
			if comma >= 0 {
				r.report(comma, []byte(","), fault{"not JSON: a comma with nothing after it", "leave the comma out"})
			}
			r.pos++
			break
		}
		item()
		switch r.next() {
		case ',':
			comma = r.pos
			r.pos++
		case closing:
			comma = -1
		default:
			r.stop("not JSON: a comma is missing", fmt.Sprintf("a comma or %q", closing))
		}
	}
	r.nesting--
}

// quoted passes over text in double quotes, leaving what is between them to
// unquote. A line break before the closing quote means that the quote was
// forgotten: everything after it would be read inside out.
func (r *reader) quoted() token {
	start := r.pos
	for i := start + 1; i < len(r.data); i++ {
		switch r.data[i] {
		case '\\':
			i++
		case '"':
			r.pos = i + 1
			return token{text, start, r.data[start:r.pos]}
		case '\n', '\r':
			i = len(r.data)
		}
	}
	r.stop("not JSON: the closing quote is missing", "a double quote at the end of the text, on the same line")
	return token{}
}

// word passes over a value that is neither bracketed nor quoted. What is not
// JSON is handed back as a word, for its end is as clear as a number's and
// reading can go on behind it.
func (r *reader) word() token {
	start := r.pos
	for r.pos < len(r.data) && r.data[r.pos] > ' ' && strings.IndexByte(`,:{}[]"`, r.data[r.pos]) < 0 {
		r.pos++
	}
	t := token{word, start, r.data[start:r.pos]}
	switch {
	case len(t.raw) == 0:
		r.stop("not JSON: a value is missing", "a value, or leave the field out")
		return token{}
	case string(t.raw) == "null":
		t.kind = null
	case string(t.raw) == "true", string(t.raw) == "false":
		t.kind = truth
	case isNumber(t.raw):
		t.kind = number
	}
	return t
}

// unquote gives the text of a text token.
func unquote(t token) (string, fault) {
	inner := t.raw[1 : len(t.raw)-1]
	plain := true
	for _, c := range inner {
		if c < ' ' {
			return "", fault{"a control character in the text", `\t for a tab, \u and four hexadecimal digits for another`}
		}
		plain = plain && c != '\\'
	}
	if !utf8.Valid(inner) {
		return "", fault{"the text is not UTF-8", "save the document as UTF-8"}
	}
	if plain {
		return string(inner), fault{}
	}
	var v wrapperspb.StringValue
	if protojson.Unmarshal(t.raw, &v) != nil {
		return "", fault{"a wrong escape in the text", `after a backslash one of " \ / b f n r t, or u and four hexadecimal digits`}
	}
	return v.GetValue(), fault{}
}
