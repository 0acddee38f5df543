package words

import (
	"strings"

	"golang.org/x/text/language"
	"golang.org/x/text/message"
	"golang.org/x/text/number"
)

// numerals are the marks that numbers are written with in a language and region:
// 48,210.5 and 50% in English, 48.210,5 and 50 % in Spain, 48,210.5 in Mexico.
type numerals struct {
	decimal, group, percent string
	groupFrom               int // digits from which on thousands stand apart
}

// numeralsOf takes the marks from the Unicode CLDR, by writing two numbers.
func numeralsOf(tag language.Tag) numerals {
	p := message.NewPrinter(tag)
	r := []rune(p.Sprint(number.Decimal(12345.6)))
	percent := strings.TrimPrefix(p.Sprint(number.Percent(0.5)), "50")
	n := numerals{decimal: string(r[len(r)-2]), group: string(r[2]), percent: strings.ReplaceAll(percent, "\u00a0", " "), groupFrom: 4}
	if base, _ := tag.Base(); base.String() == "es" {
		n.groupFrom = 5 // Spanish orthography leaves four digits together
	}
	return n
}

// grouped sets the thousands of a whole number apart.
func (n numerals) grouped(s string) string {
	digits := strings.TrimPrefix(s, "-")
	if len(digits) < n.groupFrom {
		return s
	}
	sign := len(s) - len(digits)
	for i := len(s) - 3; i > sign; i -= 3 {
		s = s[:i] + n.group + s[i:]
	}
	return s
}

func (n numerals) point(s string) string { return strings.Replace(s, ".", n.decimal, 1) }
