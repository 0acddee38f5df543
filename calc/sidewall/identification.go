package sidewall

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"gaugebook.dev/calc/unit"
)

// Form is the make-up of a tire identification number, told by its length.
type Form uint8

// Forms of the number (49 CFR 574.5). The lengths of full numbers and retreads
// are read; the make-up of each is from memory.
const (
	UnknownForm Form = iota // no length that a number has
	NewTire                 // 13 symbols: plant 3, maker's code 6, date 4
	Earlier                 // 8 to 12: plant 2, maker's code 2 to 6, date 4; or 7 to 11 with a date of 3
	ShortOrEnd              // 7 with a date of 4: plant 3 and date of a retread, or the end of a longer number
	LastSymbols             // fewer: the end of a number, with its date
	DateOnly                // the date alone
)

// Identification is what a tire identification number says.
type Identification struct {
	Form  Form
	Plant string // of the full forms
	Code  string // the maker's own, size included, of the full forms
	Date  string // the digits of the date as written
	Made  []Made // every reading of the date, the latest first; none where it is not read
	// Suggestions are spellings that were probably meant, each with every symbol
	// mended that cannot be right, in the groups that were written. They are for a
	// person to choose: nothing is read from them.
	Suggestions []string
}

// Identify reads a tire identification number, with or without DOT, blanks and
// hyphens, or its last symbols, or the date alone. A triangle after a date of
// three digits tells the 1990s. What is wrong or in doubt is told by the
// problems; what else can be read is read, with "?" for what is neither letter
// nor digit. A date after asOf is refused unless
// asOf is zero.
func Identify(tin string, asOf unit.Date) (Identification, []Problem) {
	n := symbolsOf(tin)
	if n.text == "" {
		return Identification{}, []Problem{{Code: NoDate}}
	}
	var id Identification
	var problems []Problem
	if len(n.text) > LongestNumber {
		problems = append(problems, Problem{Code: TooLong, Number: len(n.text)})
	} else {
		id.Suggestions, problems = n.misread()
	}
	width := n.dateWidth()
	if width == 0 {
		return id, append(problems, Problem{Code: NoDate})
	}
	id.divide(n.text, width)
	made, problem := n.made(id.Date, asOf)
	if problem != nil {
		problems = append(problems, *problem)
	}
	id.Made = made
	return id, problems
}

// LongestNumber is the length of the longest form, in symbols.
const LongestNumber = 13

// A written number is its symbols without what stands around them.
type written struct {
	text     string
	groups   []int // lengths of the groups it is written in
	triangle bool
}

// triangles are the signs that people type for the triangle of the 1990s.
const triangles = "◄◀◁▲△▸▶▷<>"

// around are the signs that stand between and around symbols.
const around = " -\t()\u00a0"

// asSymbol reads letters in upper case, and what is no symbol as "?".
func asSymbol(r rune) rune {
	switch {
	case strings.ContainsRune(around+triangles, r):
		return r
	case r > unicode.MaxASCII || !letter(byte(r)) && !digit(byte(r)):
		return '?'
	}
	return unicode.ToUpper(r)
}

func symbolsOf(tin string) written {
	s := strings.TrimRight(strings.Map(asSymbol, tin), around)
	bare := strings.TrimRight(s, triangles)
	inner := strings.Map(func(r rune) rune {
		if strings.ContainsRune(triangles, r) {
			return '?'
		}
		return r
	}, bare)
	fields := strings.FieldsFunc(inner, func(r rune) bool { return strings.ContainsRune(around, r) })
	fields = unmarked(fields)
	if len(fields) == 0 {
		return written{}
	}
	w := written{text: strings.Join(fields, ""), triangle: bare != s}
	for _, f := range fields {
		w.groups = append(w.groups, len(f))
	}
	return w
}

// unmarked leaves out DOT, with which no number begins as O is not used, and the
// R that follows it on retreads (from memory).
func unmarked(fields []string) []string {
	for len(fields) > 0 && strings.HasPrefix(fields[0], "DOT") {
		fields[0] = fields[0][len("DOT"):]
		if fields[0] != "" {
			continue
		}
		fields = fields[1:]
		if len(fields) > 1 && fields[0] == "R" {
			fields = fields[1:]
		}
	}
	return fields
}

// threeApart tells that the last three symbols are marked as the date.
func (w written) threeApart() bool { return w.triangle || w.groups[len(w.groups)-1] == 3 }

// grouped writes symbols in the groups that were written.
func (w written) grouped(symbols string) string {
	var groups []string
	for _, n := range w.groups {
		groups, symbols = append(groups, symbols[:n]), symbols[n:]
	}
	if w.triangle {
		groups = append(groups, "◄")
	}
	return strings.Join(groups, " ")
}

// dateWidth is the number of digits of the date: four at the end, or three where
// they stand apart, have a triangle, or follow a letter; 0 when there is none.
func (w written) dateWidth() int {
	digits := len(w.text) - len(strings.TrimRight(w.text, "0123456789"))
	switch {
	case digits >= 3 && w.threeApart():
		return 3
	case digits >= 4:
		return 4
	case digits == 3 && (len(w.text) == 3 || !misreadOrNone(w.text[len(w.text)-4])):
		return 3
	}
	return 0
}

// misreadOrNone tells a symbol that may stand for a digit, or is none at all: what
// follows it need not be the whole date.
func misreadOrNone(c byte) bool { return c == 'B' || digitFor[c] != 0 || !letter(c) && !digit(c) }

// divide cuts the number by its length.
func (id *Identification) divide(s string, width int) {
	id.Date = s[len(s)-width:]
	head := s[:len(s)-width]
	plant := 0
	switch n := len(head); {
	case n == 0:
		id.Form = DateOnly
	case n == 9 && width == 4:
		id.Form, plant = NewTire, 3
	case n >= 4 && n <= 8:
		id.Form, plant = Earlier, 2
	case n == 3 && width == 4:
		id.Form = ShortOrEnd
	case n < 4:
		id.Form = LastSymbols
	}
	if plant > 0 {
		id.Plant, id.Code = head[:plant], head[plant:]
	}
}

// made reads the date, and leaves out what lies after asOf.
func (w written) made(date string, asOf unit.Date) ([]Made, *Problem) {
	week, _ := strconv.Atoi(date[:2])
	year, _ := strconv.Atoi(date[2:])
	if week < 1 || week > LastWeek {
		return nil, &Problem{Code: NoSuchWeek, Number: week}
	}
	all := readings(week, year, len(date) == 3, w.triangle)
	if len(all) == 0 {
		return nil, &Problem{Code: NoSuchWeek, Number: week}
	}
	past := slices.DeleteFunc(slices.Clone(all), func(m Made) bool { return !asOf.IsZero() && m.begins().DaysUntil(asOf) < 0 })
	switch {
	case len(past) == 0:
		return nil, &Problem{Code: InFuture, Made: all[len(all)-1], AsOf: asOf}
	case len(past) > 1:
		return past, &Problem{Code: DecadeOpen}
	}
	return past, nil
}

// digitFor is the digit that each letter which is not used was probably meant
// for (letters from memory of 49 CFR 574.5, suggestions common practice).
var digitFor = map[byte]byte{'O': '0', 'Q': '0', 'I': '1', 'Z': '2', 'S': '5', 'G': '6'}

// misread names the symbols that no number has, with the spelling that mends
// them all. A B among the last four is one too, as a date has digits only.
// Elsewhere B and 8 are both used, so they are asked about, and only where
// another symbol shows that the number was hard to read.
func (w written) misread() (suggestions []string, problems []Problem) {
	mended := []byte(w.text)
	whole := true
	for i, c := range mended {
		p := Problem{Code: NotUsed, At: i + 1, Symbol: string(c)}
		switch d, ok := digitFor[c]; {
		case ok:
			p.Instead = string(d)
			mended[i] = d
		case c == 'B' && i >= len(mended)-4 && w.almostDate():
			p.Code, p.Instead = NotInDate, "8"
			mended[i] = '8'
		case !letter(c) && !digit(c):
			p.Symbol, whole = "", false
		default:
			continue
		}
		problems = append(problems, p)
	}
	if len(problems) == 0 {
		return nil, nil
	}
	for i, c := range w.text {
		if (c == '8' || c == 'B' && mended[i] == 'B') && i < len(w.text)-4 {
			problems = append(problems, Problem{Code: EightOrB, At: i + 1, Symbol: string(c), Instead: map[rune]string{'8': "B", 'B': "8"}[c]})
		}
	}
	if whole {
		suggestions = []string{w.grouped(string(mended))}
	}
	return suggestions, problems
}

// almostDate tells four last symbols that can all be taken for digits, at most
// two of them for an 8.
func (w written) almostDate() bool {
	if len(w.text) < 4 || w.threeApart() {
		return false
	}
	date := w.text[len(w.text)-4:]
	for i := range len(date) {
		if c := date[i]; !digit(c) && c != 'B' && digitFor[c] == 0 {
			return false
		}
	}
	return strings.Count(date, "B") <= 2
}

// ProblemCode is what is wrong or in doubt with an identification number.
type ProblemCode uint8

// Problems of identification numbers.
const (
	NoDate     ProblemCode = iota + 1 // it does not end in the digits of a date
	NotUsed                           // Symbol at At is not used in numbers; Instead was probably meant
	NotInDate                         // a letter where the date has digits
	EightOrB                          // both are used, and the number was misread elsewhere
	TooLong                           // more than 13 symbols: Number
	NoSuchWeek                        // weeks run from 01 to 53: Number
	InFuture                          // Made lies after AsOf
	DecadeOpen                        // a date of three digits, used until July 2000
)

// ofDate tells the problems that keep the date from being read.
func (c ProblemCode) ofDate() bool {
	return c == NoDate || c == NoSuchWeek || c == InFuture || c == DecadeOpen
}

// Problem is one thing that is wrong or in doubt. It is an error, too, with
// words for whoever writes the log.
type Problem struct {
	Code    ProblemCode
	At      int    // place of the symbol, from 1
	Symbol  string // as written; "" when it is neither letter nor digit
	Instead string // what was probably meant
	Number  int
	Made    Made
	AsOf    unit.Date
}

// Error says what is wrong and what would be right.
func (p Problem) Error() string {
	switch p.Code {
	case NoDate:
		return "the number does not end in the four digits of week and year"
	case NotUsed, NotInDate, EightOrB:
		return fmt.Sprintf("symbol %d is %q: %q is meant", p.At, p.Symbol, p.Instead)
	case TooLong:
		return fmt.Sprintf("%d symbols: a number has at most 13", p.Number)
	case NoSuchWeek:
		return fmt.Sprintf("no year has a week %02d, weeks run from 01 to 53", p.Number)
	case InFuture:
		return fmt.Sprintf("week %d of %d lies after %s", p.Made.Week, p.Made.Year, p.AsOf)
	case DecadeOpen:
		return "three digits were used until July 2000 and do not tell the decade"
	}
	return ""
}
