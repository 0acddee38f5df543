package unit

import (
	"cmp"
	"fmt"
	"time"
)

// Date is a day on the wall calendar of the place where the vehicle stands.
// The zero Date means that no day was given.
type Date struct{ Year, Month, Day int }

// DateOf makes a date; one that no calendar has (30 February) is refused.
func DateOf(year, month, day int) (Date, error) {
	t := time.Date(year, time.Month(month), day, 0, 0, 0, 0, time.UTC)
	if year < 1900 || year > 9999 || t.Year() != year || int(t.Month()) != month || t.Day() != day {
		return Date{}, fmt.Errorf("%04d-%02d-%02d is no day of the calendar", year, month, day)
	}
	return Date{year, month, day}, nil
}

// IsZero tells that no day was given.
func (d Date) IsZero() bool { return d == Date{} }

// DaysUntil counts the days from d to later; negative when later is earlier.
func (d Date) DaysUntil(later Date) int {
	return int(later.noon().Sub(d.noon()) / (24 * time.Hour))
}

// Compare orders days; the zero Date comes first.
func (d Date) Compare(e Date) int {
	return cmp.Or(cmp.Compare(d.Year, e.Year), cmp.Compare(d.Month, e.Month), cmp.Compare(d.Day, e.Day))
}

// After is the day that many days later; earlier when negative.
func (d Date) After(days int) Date {
	t := d.noon().AddDate(0, 0, days)
	return Date{t.Year(), int(t.Month()), t.Day()}
}

// String is the date as ISO 8601 writes it.
func (d Date) String() string { return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day) }

func (d Date) noon() time.Time {
	return time.Date(d.Year, time.Month(d.Month), d.Day, 12, 0, 0, 0, time.UTC)
}
