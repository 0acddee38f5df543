package words

import (
	"math"
	"strconv"
	"strings"
	"unicode"

	"gaugebook.dev/calc/unit"
)

// Kebab turns a name of an enum value or a field into words joined by hyphens:
// THIS_VISIT becomes this-visit.
func Kebab(name string) string {
	return strings.ReplaceAll(strings.ToLower(name), "_", "-")
}

// Number writes the number of an amount alone: two decimals at most, one of
// thirty-seconds, whole distances and masses with thousands apart, inches as a
// ruler shows them.
func Number(a unit.Amount) string {
	switch a.Unit {
	case unit.None:
		return ""
	case unit.Miles, unit.Kilometers, unit.Pounds, unit.Kilograms, unit.Feet, unit.Meters:
		return thousands(strconv.FormatFloat(a.Number, 'f', 0, 64))
	case unit.Inches:
		if f := fraction(a.Number); f != "" {
			return f
		}
		return strconv.FormatFloat(a.Number, 'f', -1, 64)
	}
	decimals := 2
	if a.Unit == unit.ThirtySecondsInch {
		decimals = 1 // no gauge reads finer
	}
	s := strconv.FormatFloat(a.Number, 'f', decimals, 64)
	if a.Unit == unit.Bar {
		return strings.TrimSuffix(s, "0") // 2.0 bar, as its gauges are marked
	}
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

func thousands(s string) string {
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

// fraction is a proper fraction of an inch that a ruler shows: 3/16.
func fraction(inches float64) string {
	for den := 2.0; den <= 32; den *= 2 {
		if n := inches * den; n == math.Trunc(n) && n > 0 && n < den {
			return strconv.Itoa(int(n)) + "/" + strconv.Itoa(int(den))
		}
	}
	return ""
}

// Amount writes a number with its unit: "3/32 in", "33 psi", "48,210 mi"; ""
// for none.
func Amount(a unit.Amount) string { return withUnit(Number(a), a.Unit) }

// Month writes the month of a day that is not known finer: "2027-06".
func Month(d unit.Date) string { return d.String()[:len("2006-01")] }

// Expanded writes twice a standard uncertainty, to two decimals; "" for none.
func Expanded(std unit.Amount) string {
	if std.IsZero() || std.Number == 0 {
		return ""
	}
	return withUnit(strconv.FormatFloat(2*std.Number, 'f', 2, 64), std.Unit)
}

func withUnit(number string, u unit.Unit) string {
	switch u {
	case unit.None, unit.Count, unit.Years:
		return number
	case unit.ThirtySecondsInch, unit.ThirtySecondsPer1000Miles, unit.Percent, unit.Degrees:
		return number + u.String()
	}
	return number + " " + u.String()
}

// Sentence begins a text with a capital letter.
func Sentence(s string) string {
	r := []rune(s)
	if len(r) > 0 {
		r[0] = unicode.ToUpper(r[0])
	}
	return string(r)
}
