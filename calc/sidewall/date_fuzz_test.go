package sidewall

import (
	"testing"

	"gaugebook.dev/calc/unit"
)

// FuzzDateCode: what is read of a date code is a week that some year has and no
// week after the day of reading; it is the one reading of the whole number, and
// its digits alone give it again.
func FuzzDateCode(f *testing.F) {
	for _, s := range []string{"1816", "DOT XXXX XXX 1816", "5399", "0016", "5416", "186", "186<", "AB 12-34", "", "\u00a01816 ", "４８１６"} {
		f.Add(s, int64(0))
		f.Add(s, int64(6000))
	}
	f.Fuzz(func(t *testing.T, s string, days int64) {
		asOf := unit.Date{}
		if days > 0 && days < 70_000 {
			asOf = day(days)
		}
		m, err := DateCode(s, asOf)
		if err != nil {
			if m != (Made{}) || len(err.Error()) > 100 {
				t.Fatalf("%q is refused by %v and still was made in %v", s, err, m)
			}
			return
		}
		if m.Week < 1 || m.Week > 53 || m.Year < firstYear || m.Year > 2099 {
			t.Fatalf("%q gives week %d of %d", s, m.Week, m.Year)
		}
		if !asOf.IsZero() && m.Age(asOf).Number < 0 {
			t.Fatalf("%q lies after %s", s, asOf)
		}
		id, _ := Identify(s, asOf)
		if len(id.Date) == 3 { // the triangle or the day left one decade
			return
		}
		if again, err := DateCode(id.Date, asOf); err != nil || again != m {
			t.Fatalf("%q gives %v, its last digits %v, %v", s, m, again, err)
		}
	})
}

// day counts the days since 2000, in months of 28 days so that each is one.
func day(n int64) unit.Date {
	return unit.Date{Year: 2000 + int(n/336), Month: 1 + int(n/28%12), Day: 1 + int(n%28)}
}
