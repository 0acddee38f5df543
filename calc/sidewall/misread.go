package sidewall

import (
	"regexp"

	"gaugebook.dev/calc/unit"
)

// rimWritten is the rim at the end of a size: the digits behind the letter of construction.
var rimWritten = regexp.MustCompile(`(?i)([RDB-] ?)(\d)(\d)(\D|$)`)

// SwappedRim tells of a marking that cannot be read for its rim alone which rim was
// probably meant: the one with its two digits the other way round. R61 for R16.
func SwappedRim(marking string) (written, meant unit.Length, ok bool) {
	digits := rimWritten.FindStringSubmatch(marking)
	if digits == nil || Parse(marking).Class != UnknownClass {
		return 0, 0, false
	}
	swapped := Parse(rimWritten.ReplaceAllString(marking, "${1}${3}${2}${4}"))
	if swapped.Class == UnknownClass {
		return 0, 0, false
	}
	n := float64(10*(digits[2][0]-'0') + digits[3][0] - '0')
	return unit.MustLength(n, unit.Inches), swapped.Rim, true
}
