package words

import (
	"bytes"
	"cmp"
	"math"
	"strconv"
	"strings"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"

	"gaugebook.dev/calc/unit"
)

// numerals are the marks that numbers are written with in a language and region:
// 48,210.5 and 50% in English, 48.210,5 and 50 % in Spain, 48,210.5 in Mexico.
type numerals struct {
	decimal, group, percent string
	groupFrom               int // digits from which on thousands stand apart
}

// numeralsOf takes the marks from the Unicode CLDR, by writing two numbers.
// golang.org/x/text does not tell from how many digits on thousands stand apart:
// the texts do.
func numeralsOf(tag language.Tag, thousandsFrom int) numerals {
	p := message.NewPrinter(tag)
	r := []rune(p.Sprint(number.Decimal(12345.6)))
	percent := strings.TrimPrefix(p.Sprint(number.Percent(0.5)), "50")
	return numerals{
		decimal: string(r[len(r)-2]), group: string(r[2]), percent: strings.ReplaceAll(percent, "\u00a0", " "),
		groupFrom: cmp.Or(thousandsFrom, 4),
	}
}

// longest is more than the digits of any number that is told.
const longest = 64

// append writes the number of an amount alone: two decimals at most, one of
// thirty-seconds, whole distances and masses with thousands apart, inches as a ruler
// shows them.
func (n *numerals) append(dst []byte, a unit.Amount) []byte {
	var room [longest]byte
	switch a.Unit {
	case unit.None:
		return dst
	case unit.Miles, unit.Kilometers, unit.Pounds, unit.Kilograms, unit.Feet, unit.Meters:
		return n.grouped(dst, strconv.AppendFloat(room[:0], a.Number, 'f', 0, 64))
	case unit.Inches:
		if over, under, ok := fraction(a.Number); ok {
			return strconv.AppendInt(append(strconv.AppendInt(dst, over, 10), '/'), under, 10)
		}
		return n.point(dst, bytes.TrimRight(bytes.TrimRight(strconv.AppendFloat(room[:0], a.Number, 'f', 4, 64), "0"), "."))
	case unit.Bar:
		return n.point(dst, bytes.TrimSuffix(strconv.AppendFloat(room[:0], a.Number, 'f', 2, 64), []byte("0"))) // 2.0 bar, as its gauges are marked
	}
	decimals := 2
	if a.Unit == unit.ThirtySecondsInch {
		decimals = 1 // no gauge reads finer
	}
	s := bytes.TrimRight(bytes.TrimRight(strconv.AppendFloat(room[:0], a.Number, 'f', decimals, 64), "0"), ".")
	if string(s) == "-0" {
		s = s[1:]
	}
	return n.point(dst, s)
}

// fraction is a proper fraction of an inch that a ruler shows: 3/16.
func fraction(inches float64) (over, under int64, ok bool) {
	for den := 2.0; den <= 32; den *= 2 {
		if n := inches * den; n == math.Trunc(n) && n > 0 && n < den {
			return int64(n), int64(den), true
		}
	}
	return 0, 0, false
}

// grouped sets the thousands of a whole number apart.
func (n *numerals) grouped(dst, s []byte) []byte {
	digits := bytes.TrimPrefix(s, []byte("-"))
	if len(digits) < n.groupFrom {
		return append(dst, s...)
	}
	dst = append(dst, s[:len(s)-len(digits)]...)
	for i, d := range digits {
		if i > 0 && (len(digits)-i)%3 == 0 {
			dst = append(dst, n.group...)
		}
		dst = append(dst, d)
	}
	return dst
}

// point writes a number with the language's decimal mark.
func (n *numerals) point(dst, s []byte) []byte {
	whole, rest, ok := bytes.Cut(s, []byte("."))
	dst = append(dst, whole...)
	if !ok {
		return dst
	}
	return append(append(dst, n.decimal...), rest...)
}
