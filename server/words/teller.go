package words

import (
	"bytes"
	"fmt"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// Teller tells one audience in one language and units. It may be used by many at
// once.
type Teller struct {
	locale   *locale
	units    Units
	audience Audience
}

// Said is what is told: by a code, with arguments, and not one word.
type Said struct {
	Section   Section
	Code      string
	When      Condition
	Arguments []Argument
}

// Fault says that something could not be told as it was meant: there is no text of
// the code, or no value of the name that the text does not tell without.
type Fault struct {
	Language string
	Section  Section
	Code     string
	Name     string // "" where there is no text
}

func (f *Fault) Error() string {
	if f.Name == "" {
		return fmt.Sprintf("%s: %s: no text %s", f.Language, f.Section, f.Code)
	}
	return fmt.Sprintf("%s: %s: %s: no value for {%s}", f.Language, f.Section, f.Code, f.Name)
}

// Tag is the language as a BCP 47 tag, with a region where numbers are written
// otherwise there than in the language at large: "en", "es", "es-MX".
func (t *Teller) Tag() string { return t.locale.tag }

// Append appends the text of what is said. Where it cannot be told as it was meant the
// error is a *Fault: of a code without a text nothing is appended; of a value that the
// text does not go without the reader sees the {name}.
func (t *Teller) Append(dst []byte, s Said) ([]byte, error) {
	e := t.find(s.Section, s.Code)
	if e == nil {
		return dst, &Fault{t.Tag(), s.Section, s.Code, ""}
	}
	when := s.When
	switch {
	case s.Section == Work && !toldBy(s.Arguments, "target"):
		when |= noTarget
	case s.Section == Findings && !toldBy(s.Arguments, "measured"):
		when |= noMeasured
	}
	start := len(dst)
	m := rendering{teller: t, arguments: s.Arguments, brief: s.When&Brief != 0}
	dst = m.tell(dst, e.of(when, ""))
	if m.brief {
		dst = closed(dst, start)
	}
	if (s.Section == Findings || s.Section == Work || s.Section == Headlines) && (t.audience == Customer || !m.asItIs) {
		dst = capitalized(dst, start)
	}
	if m.missing != "" {
		return dst, &Fault{t.Tag(), s.Section, s.Code, m.missing}
	}
	return dst, nil
}

// Tell is Append for one text.
func (t *Teller) Tell(s Said) (string, error) {
	room, _ := rooms.Get().(*[]byte)
	defer rooms.Put(room)
	told, err := t.Append((*room)[:0], s)
	*room = told
	return string(told), err
}

// rooms are buffers that texts are told in before they are strings.
var rooms = sync.Pool{New: func() any { return new([]byte) }}

// Reading gives the one who tells the same in these units where the reader left them open.
func (t *Teller) Reading(units Units) *Teller {
	if all := t.units.Or(units); all != t.units {
		same := *t
		same.units = all
		return &same
	}
	return t
}

// Text gives a text that is told without arguments; "" where there is none of the
// code.
func (t *Teller) Text(s Section, code string) string {
	e := t.find(s, code)
	if e == nil {
		return ""
	}
	text := e.of(0, "")
	if len(text) == 1 && text[0].kind == literal || len(text) == 2 && text[0].kind == literal && text[1].kind == optional {
		return strings.TrimRight(text[0].text, " ")
	}
	told, _ := t.Tell(Said{Section: s, Code: code}) // what is missing is seen in it
	return told
}

// Value tells a value by itself; "" for none.
func (t *Teller) Value(v Value) string {
	room, _ := rooms.Get().(*[]byte)
	defer rooms.Put(room)
	*room = t.AppendValue((*room)[:0], v)
	return string(*room)
}

// AppendValue appends a value by itself; nothing for none.
func (t *Teller) AppendValue(dst []byte, v Value) []byte {
	if !isTold(&v) {
		return dst
	}
	m := rendering{teller: t}
	return m.value(dst, &v)
}

func (t *Teller) find(s Section, code string) *entry { return t.locale.texts.told[s][t.audience][code] }

// Sentence begins a text with a capital letter.
func Sentence(s string) string {
	r, size := utf8.DecodeRuneInString(s)
	if u := unicode.ToUpper(r); u != r {
		return string(u) + s[size:]
	}
	return s
}

// closed ends what was appended from start on as a sentence.
func closed(dst []byte, start int) []byte {
	dst = dst[:start+len(bytes.TrimRight(dst[start:], " "))]
	if len(dst) == start || strings.IndexByte(".?!:", dst[len(dst)-1]) >= 0 {
		return dst
	}
	return append(dst, '.')
}

// capitalized begins what was appended from start on with a capital letter.
func capitalized(dst []byte, start int) []byte {
	r, size := utf8.DecodeRune(dst[start:])
	u := unicode.ToUpper(r)
	if u == r {
		return dst
	}
	if utf8.RuneLen(u) == size {
		utf8.EncodeRune(dst[start:], u)
		return dst
	}
	return append(dst[:start], string(u)+string(dst[start+size:])...)
}

// Kebab turns a name of an enum value or a field into words joined by hyphens:
// THIS_VISIT becomes this-visit.
func Kebab(name string) string {
	return strings.ReplaceAll(strings.ToLower(name), "_", "-")
}
