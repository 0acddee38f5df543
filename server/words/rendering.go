package words

import (
	"bytes"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/feature/plural"

	"gaugebook.dev/calc/unit"
)

// rendering is one text, or a text within another, as it is told.
type rendering struct {
	teller    *Teller
	arguments []Argument
	number    unit.Amount // the argument {n} of a label
	form      string      // that the text around it asks for
	start     int         // where the text begins
	missing   string      // the first argument that the text does not go without
	brief     bool        // what follows a bar is not told
	asItIs    bool        // it begins with where on a tire something lies, which a technician reads as a label says it
}

// tell appends a program. Where a part was dropped, no two spaces meet, and none is
// left at either end.
func (m *rendering) tell(dst []byte, text program) []byte {
	m.start = len(dst)
	dst = m.pieces(dst, text)
	if n := len(dst); n > m.start && dst[n-1] == ' ' {
		dst = dst[:n-1]
	}
	return dst
}

func (m *rendering) pieces(dst []byte, text program) []byte {
	for i := range text {
		p := &text[i]
		switch p.kind {
		case literal:
			said := p.text
			if said[0] == ' ' && (len(dst) == m.start || dst[len(dst)-1] == ' ') {
				said = said[1:]
			}
			dst = append(dst, said...)
		case argument:
			dst = m.argument(dst, p)
		case optional:
			if m.all(p.needs) {
				dst = m.pieces(dst, p.part)
			}
		case choice:
			dst = m.pieces(dst, m.chosen(p))
		case detail:
			if !m.brief {
				dst = m.pieces(dst, p.part)
			}
		}
	}
	return dst
}

func (m *rendering) all(names []string) bool {
	for _, name := range names {
		if !toldBy(m.arguments, name) {
			return false
		}
	}
	return true
}

// find gives the last argument of a name that has something to tell, else any of
// the name, else nil.
func find(arguments []Argument, name string) *Value {
	var found *Value
	for i := len(arguments) - 1; i >= 0; i-- {
		if a := &arguments[i]; a.Name == name {
			if isTold(&a.Value) {
				return &a.Value
			}
			found = &a.Value
		}
	}
	return found
}

func toldBy(arguments []Argument, name string) bool {
	v := find(arguments, name)
	return v != nil && isTold(v)
}

func (m *rendering) argument(dst []byte, p *piece) []byte {
	v := find(m.arguments, p.text)
	around := m.form
	if p.form != "" {
		m.form = p.form
	}
	switch {
	case v != nil && isTold(v):
		m.asItIs = m.asItIs || len(dst) == m.start && v.kind == tirePlaceValue
		dst = m.value(dst, v)
	case v != nil && v.kind == positionsValue:
		dst = m.within(dst, m.teller.locale.texts.thisTire, unit.Amount{})
	case p.text == "n" && !m.number.IsZero():
		dst = m.teller.locale.numerals.append(dst, m.number)
	default:
		dst = append(append(append(dst, '{'), p.text...), '}')
		m.miss(p.text)
	}
	m.form = around
	return dst
}

func (m *rendering) miss(name string) {
	if m.missing == "" {
		m.missing = name
	}
}

// within tells another text in the same form, with a number where it has one.
func (m *rendering) within(dst []byte, e *entry, number unit.Amount) []byte {
	inner := rendering{teller: m.teller, number: number, form: m.form}
	dst = inner.tell(dst, e.of(0, m.form))
	if inner.missing != "" {
		m.miss(inner.missing)
	}
	return dst
}

// chosen is the form of a choice that goes with its number.
func (m *rendering) chosen(p *piece) program {
	v := find(m.arguments, p.text)
	which := plural.Other
	switch {
	case v != nil && isTold(v):
		which = m.pluralOf(v)
	case p.text == "n" && !m.number.IsZero():
		which = m.pluralOfAmount(m.number)
	default:
		m.miss(p.text)
	}
	if f := p.forms[which]; f != nil {
		return f
	}
	return p.forms[plural.Other]
}

// pluralOf is the plural form of a number as it is told; of places and lists, of how
// many they are.
func (m *rendering) pluralOf(v *Value) plural.Form {
	switch v.kind {
	case positionsValue:
		return m.pluralOfAmount(Count(len(v.at)).amount)
	case listValue:
		return m.pluralOfAmount(Count(len(v.list)).amount)
	case exactValue, numberValue:
		return m.pluralOfAmount(v.amount)
	}
	return m.pluralOfAmount(m.teller.In(v.amount))
}

// pluralOfAmount goes by the digits that are seen, by the rules of the Unicode CLDR.
func (m *rendering) pluralOfAmount(a unit.Amount) plural.Form {
	var room [longest]byte
	digits := plainNumerals.append(room[:0], a)
	whole, rest, _ := bytes.Cut(bytes.TrimPrefix(digits, []byte("-")), []byte("."))
	i, err := strconv.Atoi(string(whole))
	if err != nil {
		return plural.Other // a fraction of an inch
	}
	f, _ := strconv.Atoi(string(rest))
	short := bytes.TrimRight(rest, "0")
	t, _ := strconv.Atoi(string(short))
	return plural.Cardinal.MatchPlural(m.teller.locale.texts.language, i%10_000_000, len(rest), len(short), f, t)
}

// plainNumerals write digits and a point alone.
var plainNumerals = numerals{decimal: ".", groupFrom: longest}

// value appends a value that has something to tell.
func (m *rendering) value(dst []byte, v *Value) []byte {
	switch v.kind {
	case plainValue:
		return appendPlain(dst, v.text)
	case listValue:
		for i, name := range v.list {
			dst = appendPlain(m.between(dst, i, len(v.list)), name)
		}
		return dst
	case citedValue:
		dst = m.teller.locale.texts.appendCited(dst, v.text)
		for _, title := range v.titles {
			dst = m.teller.locale.texts.appendPlace(append(dst, ", "...), title)
		}
		return dst
	case standingValue:
		return m.standing(dst, v)
	case textValue:
		return m.text(dst, v.section, v.text, v.amount)
	case dayValue, monthValue:
		return m.date(dst, v)
	case positionsValue:
		return m.positions(dst, v)
	case tirePlaceValue:
		return m.onTire(dst, v.tire)
	case movesValue:
		return m.moves(dst, v)
	}
	return m.teller.appendAmount(dst, v)
}

// standing appends whose law it is, and that it was not read: "Latvia, as reported".
func (m *rendering) standing(dst []byte, v *Value) []byte {
	for i, title := range v.titles {
		dst = m.teller.locale.texts.appendPlace(m.between(dst, i, len(v.titles)), title)
	}
	if len(v.titles) > 0 && v.text != "" {
		dst = append(dst, ", "...)
	}
	if v.text != "" {
		dst = m.text(dst, Labels, v.text, unit.Amount{})
	}
	return dst
}

// text tells the text of a code, with its number where it has one.
func (m *rendering) text(dst []byte, section Section, code string, number unit.Amount) []byte {
	e := m.teller.find(section, code)
	if e == nil {
		m.miss(code)
		return append(append(append(dst, '{'), code...), '}')
	}
	return m.within(dst, e, number)
}

// between sets the i-th of n names apart from the one before it: "a, b and c".
func (m *rendering) between(dst []byte, i, n int) []byte {
	switch {
	case i == 0:
		return dst
	case i < n-1:
		return append(dst, ", "...)
	}
	return append(m.within(append(dst, ' '), m.teller.locale.texts.and, unit.Amount{}), ' ')
}

// appendPlain appends text with its blanks as one space each, and harmless.
func appendPlain(dst []byte, text string) []byte {
	start := len(dst)
	blank := false
	for _, r := range text {
		if unicode.IsSpace(r) {
			blank = true
			continue
		}
		if blank && len(dst) > start {
			dst = append(dst, ' ')
		}
		blank = false
		dst = utf8.AppendRune(dst, harmless(r))
	}
	return dst
}

// appendCited translates what stands there in plain words. Of a citation that was put
// together, "the vehicle maker's figure, ..." with what the caller told, the part
// with words of ours is translated; so is the end of "... (law in use, as reported)"
// after a name.
func (t *texts) appendCited(dst []byte, cited string) []byte {
	for {
		if said, ok := t.written.Sources[cited]; ok {
			return append(dst, said...)
		}
		rest, found := cited, false
		for _, s := range t.sources {
			if len(cited) >= len(s.part) && cited[:len(s.part)] == s.part {
				dst, rest, found = append(dst, s.said...), cited[len(s.part):], true
				break
			}
		}
		if !found {
			break
		}
		cited = rest
	}
	for _, s := range t.endings {
		if begin := len(cited) - len(s.part); begin > 0 && cited[begin:] == s.part {
			return append(append(dst, Harmless(cited[:begin])...), s.said...)
		}
	}
	return append(dst, Harmless(cited)...)
}

// appendPlace appends the name of a place, which the title of its rulebook begins with.
func (t *texts) appendPlace(dst []byte, title string) []byte {
	from := len(dst)
	dst = t.appendCited(dst, title)
	if end := bytes.IndexAny(dst[from:], ",("); end >= 0 {
		dst = bytes.TrimRight(dst[:from+end], " ")
	}
	return dst
}

// date writes a day or a month: to a customer in everyday words, to a technician as it sorts.
func (m *rendering) date(dst []byte, v *Value) []byte {
	length, code := len("2006-01-02"), "date.day"
	if v.kind == monthValue {
		length, code = len("2006-01"), "date.month"
	}
	e := m.teller.find(Labels, code)
	if m.teller.audience != Customer || e == nil {
		return appendDay(dst, v.day, length)
	}
	inner := rendering{teller: m.teller, form: m.form, arguments: []Argument{
		Count(v.day.Day).As("day"), Text(Labels, "month."+strings.ToLower(time.Month(v.day.Month).String())).As("month"), Count(v.day.Year).As("year"),
	}}
	dst = inner.tell(dst, e.of(0, m.form))
	if inner.missing != "" {
		m.miss(inner.missing)
	}
	return dst
}

// appendDay writes so much of a day as ISO 8601 writes it.
func appendDay(dst []byte, d unit.Date, length int) []byte {
	var room [len("2006-01-02")]byte
	day := append(room[:0], byte('0'+d.Year/1000%10), byte('0'+d.Year/100%10), byte('0'+d.Year/10%10), byte('0'+d.Year%10))
	day = append(day, '-', byte('0'+d.Month/10%10), byte('0'+d.Month%10), '-', byte('0'+d.Day/10%10), byte('0'+d.Day%10))
	return append(dst, day[:length]...)
}
