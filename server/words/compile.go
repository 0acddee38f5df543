package words

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/feature/plural"
)

// program is a compiled text: its pieces in the order in which they are told.
type program []piece

// piece is one of: words, an argument, a part that is told only with its arguments,
// a choice by number, a part that goes where the text is told in brief.
type piece struct {
	kind  pieceKind
	text  string       // words, or the name of the argument
	form  string       // of the argument; "" is the plain one, or that of the text around it
	needs []string     // arguments of an optional part
	part  program      // of an optional part, or what follows a bar
	forms *pluralForms // of a choice
}

type pieceKind uint8

const (
	literal pieceKind = iota
	argument
	optional
	choice
	detail
)

// pluralForms are by plural.Form; nil where the language has no use for one.
type pluralForms [plural.Many + 1]program

var pluralNames = map[string]plural.Form{
	"zero": plural.Zero, "one": plural.One, "two": plural.Two, "few": plural.Few, "many": plural.Many, "other": plural.Other,
}

// evidencePrefix stands before the code of a piece of evidence in a text of a finding.
const evidencePrefix = "evidence."

// compile makes a program of a text: words, {argument}, {argument:form},
// [a part that goes without its arguments], {argument|one: ...|other: ...} and, after
// a bar, what goes where it is told in brief.
func compile(text string) (program, error) {
	p := scanner{text: text, rest: text}
	made, err := p.pieces("|")
	if err == nil && p.take('|') {
		made, err = p.detail(made)
	}
	if err == nil && p.rest != "" {
		err = fmt.Errorf("%q closes nothing", p.rest)
	}
	return made, err
}

// detail reads what follows a bar, to the end.
func (p *scanner) detail(brief program) (program, error) {
	part, err := p.pieces("|")
	if err == nil && len(part) == 0 {
		err = errors.New("nothing after a bar")
	}
	return append(brief, piece{kind: detail, part: part}), err
}

type scanner struct {
	text, rest string
	inPart     bool
}

// pieces reads up to the end, or to one of the marks of whatever is around.
func (p *scanner) pieces(until string) (program, error) {
	var made program
	for p.rest != "" && !strings.ContainsRune(until, rune(p.rest[0])) {
		var next piece
		var err error
		switch p.rest[0] {
		case '{':
			next, err = p.placeholder()
		case '[':
			next, err = p.optional()
		case '}', ']':
			return made, nil // not ours: whoever is around tells
		default:
			next = p.words(until)
		}
		if err != nil {
			return nil, err
		}
		made = append(made, next)
	}
	return made, nil
}

// words are taken with their blanks as one space each.
func (p *scanner) words(until string) piece {
	end := strings.IndexAny(p.rest, "{}[]"+until)
	if end < 0 {
		end = len(p.rest)
	}
	text := p.rest[:end]
	p.rest = p.rest[end:]
	var b strings.Builder
	for _, r := range text {
		switch {
		case !unicode.IsSpace(r):
			b.WriteRune(r)
		case !strings.HasSuffix(b.String(), " "):
			b.WriteByte(' ')
		}
	}
	return piece{kind: literal, text: b.String()}
}

func (p *scanner) optional() (piece, error) {
	if p.inPart {
		return piece{}, errors.New("an optional part within another")
	}
	p.rest, p.inPart = p.rest[1:], true
	part, err := p.pieces("]")
	if err != nil {
		return piece{}, err
	}
	if !p.take(']') {
		return piece{}, errors.New("an optional part that is not closed")
	}
	p.inPart = false
	needs := part.arguments()
	if len(needs) == 0 {
		return piece{}, errors.New("an optional part without an argument")
	}
	return piece{kind: optional, needs: needs, part: part}, nil
}

func (p *scanner) placeholder() (piece, error) {
	p.rest = p.rest[1:]
	name := p.name("_.-0123456789")
	switch {
	case name == "":
		return piece{}, errors.New("a placeholder without a name")
	case p.take('}'):
		return piece{kind: argument, text: name}, nil
	case p.take(':'):
		form := p.name("-")
		if form == "" || !p.take('}') {
			return piece{}, fmt.Errorf("{%s: a form is one word", name)
		}
		return piece{kind: argument, text: name, form: form}, nil
	case p.take('|'):
		return p.choice(name)
	}
	return piece{}, fmt.Errorf("{%s is not closed", name)
}

// choice reads the forms after {name|: blanks around each are dropped.
func (p *scanner) choice(name string) (piece, error) {
	forms := &pluralForms{}
	for more := true; more; {
		p.rest = strings.TrimLeft(p.rest, " ")
		which := p.name("")
		form, known := pluralNames[which]
		if !known || !p.take(':') {
			return piece{}, fmt.Errorf("{%s|%s: wanted are one, few, many, other and the like", name, which)
		}
		if forms[form] != nil {
			return piece{}, fmt.Errorf("{%s|%s stands twice", name, which)
		}
		p.rest = strings.TrimLeft(p.rest, " ")
		said, err := p.pieces("|}")
		if err != nil {
			return piece{}, err
		}
		if last := len(said) - 1; last >= 0 && said[last].kind == literal {
			said[last].text = strings.TrimRight(said[last].text, " ")
		}
		if len(said) == 0 {
			return piece{}, fmt.Errorf("{%s|%s says nothing", name, which)
		}
		forms[form] = said
		more = p.take('|')
	}
	if !p.take('}') {
		return piece{}, fmt.Errorf("{%s| is not closed", name)
	}
	if forms[plural.Other] == nil {
		return piece{}, fmt.Errorf("{%s| has no other", name)
	}
	return piece{kind: choice, text: name, forms: forms}, nil
}

// name reads small letters, and what else a name may hold.
func (p *scanner) name(extra string) string {
	end := strings.IndexFunc(p.rest, func(r rune) bool { return (r < 'a' || r > 'z') && !strings.ContainsRune(extra, r) })
	if end < 0 {
		end = len(p.rest)
	}
	name := p.rest[:end]
	p.rest = p.rest[end:]
	return name
}

func (p *scanner) take(mark byte) bool {
	if p.rest == "" || p.rest[0] != mark {
		return false
	}
	p.rest = p.rest[1:]
	return true
}

// each goes through the pieces and those within them.
func (p program) each(do func(*piece)) {
	for i := range p {
		do(&p[i])
		p[i].part.each(do)
		if p[i].forms != nil {
			for _, f := range p[i].forms {
				f.each(do)
			}
		}
	}
}

// arguments are the names that the text tells, each once.
func (p program) arguments() []string {
	var names []string
	p.each(func(s *piece) {
		if (s.kind == argument || s.kind == choice) && !slices.Contains(names, s.text) {
			names = append(names, s.text)
		}
	})
	return names
}
