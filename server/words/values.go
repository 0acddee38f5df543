package words

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/unit"
)

// Argument is a value by the name that texts tell it by.
type Argument struct {
	Name  string
	Value Value
}

// Value is what a text is told with, before anybody chose words, units or numerals
// for it. The zero Value is none: an optional part goes without it.
type Value struct {
	kind    valueKind
	section Section
	amount  unit.Amount
	end     unit.Amount
	text    string
	titles  []string
	day     unit.Date
	tire    finding.Place
	vehicle *layout.Vehicle
	at      []layout.Position
	moves   []rotation.Move
	list    []string
}

// As names a value for the text that tells it.
func (v Value) As(name string) Argument { return Argument{name, v} }

type valueKind uint8

const (
	noValue valueKind = iota
	plainValue
	listValue
	citedValue
	standingValue
	textValue
	amountValue
	derivedValue
	expandedValue
	exactValue
	numberValue
	spanStartValue
	spanEndValue
	dayValue
	monthValue
	positionsValue
	tirePlaceValue
	movesValue
)

// Plain is told as it is: a caller's own words, a mark that was read. "" is none.
func Plain(s string) Value { return Value{kind: plainValue, text: s} }

// List is several names, told as "a, b and c"; of no names, none.
func List(names []string) Value { return Value{kind: listValue, list: names} }

// Cited is what a rule is cited from, or the title of a rulebook, in the reader's
// language where it is plain words. "" is none.
func Cited(citation string) Value { return Value{kind: citedValue, text: citation} }

// OfPlace is what a rule is cited from with the place whose law it is, by the title of
// that one's rulebook: "StVZO § 36 Abs. 3, Germany". Without a title it is Cited.
func OfPlace(citation, title string) Value {
	if citation == "" || title == "" {
		return Cited(citation)
	}
	return Value{kind: citedValue, text: citation, titles: []string{title}}
}

// Standing is what is told beside a limit of a law: whose it is, by the titles of
// rulebooks, none where there is but one place; and that it was not read, by the label of
// how it is known, "" where it was. Of neither it is none.
func Standing(titles []string, known string) Value {
	if len(titles) == 0 && known == "" {
		return Value{}
	}
	return Value{kind: standingValue, titles: titles, text: known}
}

// Text is another text, told without arguments. Of code "" it is none.
func Text(s Section, code string) Value { return Value{kind: textValue, section: s, text: code} }

// Counted is the label of a code whose argument {n} is this number: "groove 2".
func Counted(code string, n unit.Amount) Value {
	return Value{kind: textValue, section: Labels, text: code, amount: n}
}

// Count is a whole number by itself: a week, a year, how many.
func Count(n int) Value {
	return Value{kind: numberValue, amount: unit.Amount{Number: float64(n), Unit: unit.Count}}
}

// Shown is an amount in the reader's unit, and beside it as it was read, or as its
// law or label prints it: "1.6 mm (2/32 in)". An amount without a unit is none.
func Shown(a unit.Amount) Value { return Value{kind: amountValue, amount: a} }

// Derived is an amount that nobody read, in the reader's unit alone.
func Derived(a unit.Amount) Value { return Value{kind: derivedValue, amount: a} }

// Expanded is twice a standard uncertainty, to two decimals, in the reader's unit.
// Of zero it is none.
func Expanded(std unit.Amount) Value { return Value{kind: expandedValue, amount: std} }

// Exact is an amount with its unit as it stands: "3/32 in", "48,210 mi".
func Exact(a unit.Amount) Value { return Value{kind: exactValue, amount: a} }

// Number is the number of an amount as it stands, without its unit.
func Number(a unit.Amount) Value { return Value{kind: numberValue, amount: a} }

// SpanStart is the beginning of a span of distance, whose unit its end tells.
func SpanStart(from unit.Amount) Value { return Value{kind: spanStartValue, amount: from} }

// SpanEnd is the end of a span of distance. Where the reader wants another unit, the
// whole span stands beside it as its rule has it: "161 km (50-100 mi)".
func SpanEnd(from, by unit.Amount) Value { return Value{kind: spanEndValue, amount: from, end: by} }

// Day is a day: to a technician as ISO 8601 writes it, to a customer in everyday words.
func Day(d unit.Date) Value { return Value{kind: dayValue, day: d} }

// Month is the month of a day that is not known finer: "2027-06", "June 2027".
func Month(d unit.Date) Value { return Value{kind: monthValue, day: d} }

// At is where tires are on a vehicle: to a technician as the trade writes it, "LF RR",
// to a customer in words, "the left front and the right rear". Of no positions it is
// none; a text that tells it all the same says "the tire".
func At(v *layout.Vehicle, at ...layout.Position) Value {
	return Value{kind: positionsValue, vehicle: v, at: at}
}

// OnTire is where on a tire something lies: "outer side, groove 2".
func OnTire(p finding.Place) Value { return Value{kind: tirePlaceValue, tire: p} }

// Moves are the changes of place of a rotation: "LF→RR, RF→LR (turned)".
func Moves(v *layout.Vehicle, moves []rotation.Move) Value {
	return Value{kind: movesValue, vehicle: v, moves: moves}
}

// isTold tells whether a value has anything to tell.
func isTold(v *Value) bool {
	switch v.kind {
	case plainValue, citedValue, textValue:
		return v.text != ""
	case standingValue:
		return true
	case listValue:
		return len(v.list) > 0
	case amountValue, derivedValue, exactValue, numberValue, spanStartValue:
		return !v.amount.IsZero()
	case expandedValue:
		return !v.amount.IsZero() && v.amount.Number != 0
	case spanEndValue:
		return !v.end.IsZero()
	case dayValue, monthValue:
		return !v.day.IsZero()
	case positionsValue:
		return len(v.at) > 0
	case tirePlaceValue:
		return v.tire != finding.Place{}
	case movesValue:
		return len(v.moves) > 0
	}
	return false
}
