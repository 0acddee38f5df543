package sidewall

import (
	"time"

	"gaugebook.dev/calc/unit"
)

// Made is the week in which a tire was made: 1 to 53 of a year.
type Made struct{ Year, Week int }

// DateCode reads when a tire was made from its identification number or the last
// digits of it: "1816", "DOT ... 1816" (49 CFR 574.5(b)(3)). Refused with the
// reason: no digits of a date, three digits that leave the decade open, a week
// that no year has, and a week that begins after asOf. A zero asOf refuses no
// week of the future.
func DateCode(tin string, asOf unit.Date) (Made, error) {
	id, problems := Identify(tin, asOf)
	if len(id.Made) == 1 {
		return id.Made[0], nil
	}
	for _, p := range problems {
		if p.Code.ofDate() {
			return Made{}, p
		}
	}
	return Made{}, Problem{Code: NoDate}
}

// LastWeek is the highest week that a date can have (from memory of 49 CFR
// 574.5): a year has it when a 53rd Sunday falls into it.
const LastWeek = 53

// FourDigits begin with the tires of this day, three end (64 FR 36807; the day
// is from memory).
var FourDigits = unit.Date{Year: 2000, Month: 7, Day: 2}

// The years of three-digit codes: identification numbers began in 1971 (from
// memory).
const firstYear, lastYear = 1971, 2000

// readings gives every year that the digits can mean, the latest first: four
// digits one, three digits (week and last digit of the year) one in each decade
// (49 CFR 574.5). nineties tells that the triangle of the 1990s follows.
func readings(week, year int, three, nineties bool) []Made {
	if !three {
		return []Made{{Year: 2000 + year, Week: week}}
	}
	var out []Made
	for y := lastYear; y >= firstYear; y-- {
		m := Made{Year: y, Week: week}
		if y%10 == year && m.begins().DaysUntil(FourDigits) > 0 && (!nineties || y/10 == 199) {
			out = append(out, m)
		}
	}
	return out
}

// InItsYear tells that the year has the week: a 53rd begins in few years.
func (m Made) InItsYear() bool { return m.begins().Year == m.Year }

// begins is the Sunday the week begins on: week 1 is the first full calendar
// week of the year, Sunday to Saturday.
func (m Made) begins() unit.Date {
	first := time.Date(m.Year, time.January, 1, 0, 0, 0, 0, time.UTC)
	toSunday := (7 - int(first.Weekday())) % 7
	d := first.AddDate(0, 0, toSunday+7*(m.Week-1))
	return unit.Date{Year: d.Year(), Month: int(d.Month()), Day: d.Day()}
}

// Days gives the first and the last day of the week.
func (m Made) Days() (first, last unit.Date) {
	first = m.begins()
	end := time.Date(first.Year, time.Month(first.Month), first.Day+6, 0, 0, 0, 0, time.UTC)
	return first, unit.Date{Year: end.Year(), Month: int(end.Month()), Day: end.Day()}
}

// Ages from which makers commonly advise a check every year, earliest and latest,
// and by which a replacement, in years (common practice).
const (
	YearlyChecksFrom = 5
	YearlyChecksBy   = 6
	ReplaceBy        = 10
)

// Age gives the years from the beginning of the week to a day, unrounded.
func (m Made) Age(asOf unit.Date) unit.Amount {
	return unit.Amount{Number: float64(m.begins().DaysUntil(asOf)) / 365.2425, Unit: unit.Years}
}
