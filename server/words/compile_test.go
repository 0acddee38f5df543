package words

import (
	"strings"
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// told is a text by itself, told in English.
func told(t *testing.T, written string, arguments ...Argument) (got, missing string) {
	t.Helper()
	made, err := compile(written)
	if err != nil {
		t.Fatalf("%q: %v", written, err)
	}
	teller, _ := Reader{}.Tellers()
	m := rendering{teller: teller, arguments: arguments}
	return string(m.tell(nil, made)), m.missing
}

func TestTold(t *testing.T) {
	arguments := []Argument{
		{"at", Plain("LF")}, {"measured", Plain("3/32 in")}, {"limit", Plain("4/32 in")}, {"uncertainty", Value{}},
		{"damage.size", Plain("1/2 in")}, {"damage.size", Value{}}, {"damage.depth", Plain("1 mm")}, {"damage.depth", Plain("2 mm")},
		{"one", Count(1)}, {"five", Count(5)}, {"rule", Plain("a {at} b")}, {"blanks", Plain(" as \n told\u00a0here ")},
	}
	for _, c := range []struct{ name, text, want, missing string }{
		{"no placeholder", "Fit a valve cap.", "Fit a valve cap.", ""},
		{"value", "{at}: worn.", "LF: worn.", ""},
		{"the same value twice", "{at} and {at}", "LF and LF", ""},
		{"a code as placeholder", "cut, {damage.size} long", "cut, 1/2 in long", ""},
		{"of two values the last that is told", "{damage.depth} deep", "2 mm deep", ""},
		{"part with its value stays", "{at}: cut[, {damage.size} long].", "LF: cut, 1/2 in long.", ""},
		{"part with an absent value goes", "{at}: cut[, {place}].", "LF: cut.", ""},
		{"part with an empty value goes", "{at}: worn.[ Gauge ±{uncertainty}.]", "LF: worn.", ""},
		{"one absent value drops its whole part", "worn[ ({measured}, {place})].", "worn.", ""},
		{"parts go one by one", "a[ {measured}][ {place}][ {limit}]", "a 3/32 in 4/32 in", ""},
		{"spaces and lines become one space", "a  b\n c", "a b c", ""},
		{"no two spaces around a part that goes", "the [{dual} ]{at} [{place}] wheel", "the LF wheel", ""},
		{"no space at the ends", "[{place}] the wheel [{place}]", "the wheel", ""},
		{"a value is told as it is", "by {rule}", "by a {at} b", ""},
		{"blanks of a caller are one space each", "{blanks}.", "as told here.", ""},
		{"empty text", "", "", ""},
		{"an absent value is seen", "torque {target} now", "torque {target} now", "target"},
		{"the first absent value is named", "{b}, {a}", "{b}, {a}", "b"},
		{"one", "{one|one: {one} year|other: {one} years} old", "1 year old", ""},
		{"other", "{five|one: {five} year|other: {five} years} old", "5 years old", ""},
		{"a choice of words alone", "{five|one: is|other: are}", "are", ""},
		{"a part within a choice", "{one|one: a day[, {place}]|other: days}.", "a day.", ""},
		{"a choice within a part", "a[, {five|one: day|other: days}].", "a, days.", ""},
		{"a choice of an absent number", "{n|one: day|other: days}", "days", "n"},
		{"a bar is not seen", "{at}: off. | Set it to {limit}.", "LF: off. Set it to 4/32 in.", ""},
		{"a part after a bar", "Off. | Then on[, {place}].", "Off. Then on.", ""},
		{"a part goes without its number", "a[ {n|one: day|other: days}]", "a", ""},
	} {
		if got, missing := told(t, c.text, arguments...); got != c.want || missing != c.missing {
			t.Errorf("%s: %q is told %q, missing %q; want %q, %q", c.name, c.text, got, missing, c.want, c.missing)
		}
	}
}

// In brief goes what follows a bar, and nobody misses what it takes.
func TestBrief(t *testing.T) {
	l, err := libraryOf(t, map[string]string{"en": `
work:
  wheel.torque: {technician: "Torque by hand. | To {target}. Write it down.", customer: c}
  wheel.hang: {technician: "Hang it. | On clean faces[, by {at}].", customer: c}
  air.set: {technician: "Set to {target}.", customer: c}
`})
	if err != nil {
		t.Fatal(err)
	}
	technician, _ := l.tellers(Reader{})
	for code, want := range map[string]string{"wheel.torque": "Torque by hand.", "wheel.hang": "Hang it.", "air.set": "Set to 33 psi."} {
		said := Said{Section: Work, Code: code, When: Brief}
		if code == "air.set" {
			said.Arguments = []Argument{{"target", Plain("33 psi")}}
		}
		if got, err := technician.Tell(said); got != want || err != nil {
			t.Errorf("%s: %q, %v, want %q", code, got, err, want)
		}
	}
	for section, text := range map[string]string{
		"notes":  `look: "Look closely. | Probe it."`,
		"work":   `air.set: {technician: Set., customer: "Filled. | To the label."}`,
		"settle": `look: "Look closely. | Probe it."`,
	} {
		if _, err := libraryOf(t, map[string]string{"en": section + ":\n  " + text + "\n"}); err == nil || !strings.Contains(err.Error(), "in brief") {
			t.Errorf("%s: a bar is let through: %v", section, err)
		}
	}
}

// What is told follows what was there before, which is left as it is.
func TestAppendFollows(t *testing.T) {
	teller, _ := Reader{}.Tellers()
	got, err := teller.Append([]byte("before "), Said{Section: Labels, Code: "age.years", Arguments: []Argument{{"n", Count(1)}}})
	if err != nil || string(got) != "before 1 year" {
		t.Errorf("%q, %v", got, err)
	}
}

func TestTextsThatCannotBe(t *testing.T) {
	for text, says := range map[string]string{
		"a {b":                     "not closed",
		"a b}":                     "closes nothing",
		"a [{b}":                   "not closed",
		"a {b}]":                   "closes nothing",
		"a [b]":                    "without an argument",
		"a [{b} [{c}]]":            "within another",
		"a {}":                     "without a name",
		"a {B}":                    "without a name",
		"a {b c}":                  "not closed",
		"a {b:}":                   "one word",
		"a {b:c d}":                "one word",
		"a | b | c":                "closes nothing",
		"a | b]":                   "closes nothing",
		"a |":                      "nothing after",
		"{n|one: day}":             "no other",
		"{n|single: day}":          "few",
		"{n|one day}":              "few",
		"{n|one: a|one: b}":        "twice",
		"{n|one: |other: days}":    "says nothing",
		"{n|one: day|other: days":  "not closed",
		"{n|one: a]|other: days}":  "not closed",
		"[{n|one: a|other: days]}": "not closed",
	} {
		if _, err := compile(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want %q", text, err, says)
		}
	}
}

// Forms of a plural by the Unicode CLDR's rules for English: one is 1 without a
// visible fraction, all else is other.
func TestPluralGoesByWhatIsTold(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	left, right := layout.MustParse("1L"), layout.MustParse("1R")
	metricReader, _ := Reader{Units: metric}.Tellers()
	made, err := compile("{n|one: one|other: other}")
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name  string
		value Value
		want  string
	}{
		{"1", Count(1), "one"},
		{"0", Count(0), "other"},
		{"101", Count(101), "other"},
		{"1.5 years", Exact(unit.Amount{Number: 1.5, Unit: unit.Years}), "other"},
		{"1 year", Exact(unit.Amount{Number: 1, Unit: unit.Years}), "one"},
		{"2.0 bar", Exact(bar(2)), "other"},
		{"1.0 bar: a fraction is seen", Exact(bar(1)), "other"},
		{"1 mi, told as 2 km", Derived(miles(1)), "other"},
		{"half an inch", Exact(unit.Amount{Number: 0.5, Unit: unit.Inches}), "other"},
		{"one wheel", At(&car, left), "one"},
		{"two wheels", At(&car, left, right), "other"},
		{"one name", List([]string{"a"}), "one"},
	} {
		m := rendering{teller: metricReader, arguments: []Argument{{"n", c.value}}}
		if got := string(m.tell(nil, made)); got != c.want || m.missing != "" {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}
