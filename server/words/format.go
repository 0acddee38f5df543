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

// Number writes the number of an amount alone, as the language writes numbers:
// two decimals at most, one of thirty-seconds, whole distances and masses with
// thousands apart, inches as a ruler shows them.
func (c *Catalogue) Number(a unit.Amount) string {
	switch a.Unit {
	case unit.None:
		return ""
	case unit.Miles, unit.Kilometers, unit.Pounds, unit.Kilograms, unit.Feet, unit.Meters:
		return c.numerals.grouped(strconv.FormatFloat(a.Number, 'f', 0, 64))
	case unit.Inches:
		if f := fraction(a.Number); f != "" {
			return f
		}
		return c.numerals.point(strconv.FormatFloat(a.Number, 'f', -1, 64))
	}
	decimals := 2
	if a.Unit == unit.ThirtySecondsInch {
		decimals = 1 // no gauge reads finer
	}
	s := strconv.FormatFloat(a.Number, 'f', decimals, 64)
	if a.Unit == unit.Bar {
		return c.numerals.point(strings.TrimSuffix(s, "0")) // 2.0 bar, as its gauges are marked
	}
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return c.numerals.point(s)
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

// Amount writes a number with its unit as it stands: "3/32 in", "33 psi",
// "48,210 mi"; "" for none.
func (c *Catalogue) Amount(a unit.Amount) string { return c.withUnit(c.Number(a), a.Unit) }

// Month writes the month of a day that is not known finer: "2027-06".
func Month(d unit.Date) string { return d.String()[:len("2006-01")] }

// worded are the units that are words and not symbols, which each language has
// its own of.
var worded = map[unit.Unit]string{
	unit.ThirtySecondsPer1000Miles:   "unit.thirty-seconds-per-thousand-miles",
	unit.MillimetersPer1000Kilometer: "unit.millimeters-per-thousand-kilometers",
	unit.MilsPer1000Miles:            "unit.mils-per-thousand-miles",
	unit.PSIPerMonth:                 "unit.psi-per-month",
	unit.KilopascalsPerMonth:         "unit.kilopascals-per-month",
	unit.BarPerMonth:                 "unit.bar-per-month",
	unit.Days:                        "unit.days",
}

func (c *Catalogue) withUnit(number string, u unit.Unit) string {
	symbol := u.String()
	if w, ok := worded[u]; ok {
		symbol = c.Labels[w]
	}
	switch u {
	case unit.None, unit.Count, unit.Years:
		return number
	case unit.Percent:
		return number + c.numerals.percent
	case unit.ThirtySecondsInch, unit.ThirtySecondsPer1000Miles, unit.Degrees:
		return number + symbol
	}
	return number + " " + symbol
}

// Sentence begins a text with a capital letter.
func Sentence(s string) string {
	r := []rune(s)
	if len(r) > 0 {
		r[0] = unicode.ToUpper(r[0])
	}
	return string(r)
}
