package sidewall

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"gaugebook.dev/calc/unit"
)

// Made is the week in which a tire was made: 1 to 53 of a year from 2000 on.
type Made struct{ Year, Week int }

// DateCode reads the last four digits of a tire identification number: week and
// year, "1816" or "DOT ... 1816" (49 CFR 574.5(b)(3)). Refused with the reason:
// fewer than four digits (before July 2000 a code had three, and did not tell
// the decade), a week that no year has, and a week that begins after asOf. A
// zero asOf refuses no week of the future.
func DateCode(tin string, asOf unit.Date) (Made, error) {
	fields := strings.FieldsFunc(tin, func(r rune) bool { return r == ' ' || r == '-' || r == '\t' || r == '\u00a0' })
	s := strings.Join(fields, "")
	digits := func(s string) int { return len(s) - len(strings.TrimRight(s, "0123456789")) }
	switch {
	case len(fields) > 0 && len(fields[len(fields)-1]) == 3 && digits(fields[len(fields)-1]) == 3:
		return Made{}, fmt.Errorf("%q: three digits were used until July 2000 and do not tell the decade", tin)
	case digits(s) < 4:
		return Made{}, fmt.Errorf("%q does not end in the four digits of week and year", tin)
	}
	week, _ := strconv.Atoi(s[len(s)-4 : len(s)-2])
	year, _ := strconv.Atoi(s[len(s)-2:])
	m := Made{Year: 2000 + year, Week: week}
	if week < 1 || week > 53 {
		return Made{}, fmt.Errorf("%q: no year has a week %02d, weeks run from 01 to 53", tin, week)
	}
	if !asOf.IsZero() && m.begins().DaysUntil(asOf) < 0 {
		return Made{}, fmt.Errorf("%q: week %d of %d lies after %s", tin, m.Week, m.Year, asOf)
	}
	return m, nil
}

// begins is the Sunday the week begins on: week 1 is the first full calendar
// week of the year, Sunday to Saturday.
func (m Made) begins() unit.Date {
	first := time.Date(m.Year, time.January, 1, 0, 0, 0, 0, time.UTC)
	toSunday := (7 - int(first.Weekday())) % 7
	d := first.AddDate(0, 0, toSunday+7*(m.Week-1))
	return unit.Date{Year: d.Year(), Month: int(d.Month()), Day: d.Day()}
}

// Age gives the years from the beginning of the week to a day, unrounded.
func (m Made) Age(asOf unit.Date) unit.Amount {
	return unit.Amount{Number: float64(m.begins().DaysUntil(asOf)) / 365.2425, Unit: unit.Years}
}
