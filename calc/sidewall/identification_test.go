package sidewall

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/unit"
)

var formNames = map[Form]string{UnknownForm: "none", NewTire: "new", Earlier: "earlier", ShortOrEnd: "short", LastSymbols: "last", DateOnly: "date"}

var problemNames = map[ProblemCode]string{NoDate: "nodate", NotUsed: "unused", NotInDate: "digit", EightOrB: "eight", TooLong: "long",
	NoSuchWeek: "week", InFuture: "future", DecadeOpen: "decade"}

// TestPublishedIdentification: each row has its source; those from memory test
// our decision alone.
func TestPublishedIdentification(t *testing.T) {
	for _, c := range published(t, "identification.csv") {
		var asOf unit.Date
		if c["as_of"] != "" {
			if _, err := fmt.Sscanf(c["as_of"], "%d-%d-%d", &asOf.Year, &asOf.Month, &asOf.Day); err != nil {
				t.Fatal(err)
			}
		}
		for _, number := range []string{c["number"], strings.ToLower(c["number"]), "  " + strings.ReplaceAll(c["number"], " ", " - ") + " "} {
			id, problems := Identify(number, asOf)
			var made, said []string
			for _, m := range id.Made {
				made = append(made, fmt.Sprintf("%d-%d", m.Year, m.Week))
			}
			for _, p := range problems {
				said = append(said, problemNames[p.Code])
			}
			got := []string{formNames[id.Form], id.Plant, id.Code, strings.Join(made, ";"), strings.Join(said, ";"), strings.Join(id.Suggestions, ";")}
			if want := []string{c["form"], c["plant"], c["code"], c["made"], c["problems"], c["suggestions"]}; !slices.Equal(got, want) {
				t.Errorf("%s %q: %q, want %q", c["id"], number, got, want)
			}
		}
	}
}

// TestProblems say where and what.
func TestProblems(t *testing.T) {
	day := unit.Date{Year: 2025, Month: 6, Day: 15}
	for _, c := range []struct {
		number string
		want   []Problem
	}{
		{"A1B 2C3D4E 5416", []Problem{{Code: NoSuchWeek, Number: 54}}},
		{"A1O 2C3D4E 2726", []Problem{{Code: NotUsed, At: 3, Symbol: "O", Instead: "0"}, {Code: InFuture, Made: Made{2026, 27}, AsOf: day}}},
		{"AB8 Z", []Problem{{Code: NotUsed, At: 4, Symbol: "Z", Instead: "2"}, {Code: NoDate}}},
		{"8IC 2C3D4E 1816", []Problem{{Code: NotUsed, At: 2, Symbol: "I", Instead: "1"}, {Code: EightOrB, At: 1, Symbol: "8", Instead: "B"}}},
		{"A1B2C3D4E5F61816", []Problem{{Code: TooLong, Number: 16}}},
	} {
		_, got := Identify(c.number, day)
		if !slices.Equal(got, c.want) {
			t.Errorf("%q: %+v, want %+v", c.number, got, c.want)
		}
		for _, p := range got {
			if p.Error() == "" {
				t.Errorf("%q: a problem without words: %+v", c.number, p)
			}
		}
	}
}

// FuzzIdentify: no text breaks it; what it gives is bounded, a suggestion is a
// number without misread letters, and neither case nor more blanks change it.
func FuzzIdentify(f *testing.F) {
	for _, s := range []string{"DOT A1B 2C3D4E 1816", "AB C1 D23 031 ◄", "18I6", "1B16", "A8B QC3D4E 1816", "DOT-R ABC 1816", "A1?2C3D4E1816", "\xb61?2C1816", "A8B Q18 ", "BB1S", "DOT DOT AC3D4E 1861", "◄AABB031 ◄", "", "DOT", "A1B2C3D4E5F61816", "\xff\x00031", "530"} {
		f.Add(s, int64(0))
		f.Add(s, int64(8000))
	}
	f.Fuzz(func(t *testing.T, s string, days int64) {
		asOf := unit.Date{}
		if days > 0 && days < 30_000 {
			asOf = day(days)
		}
		id, problems := Identify(s, asOf)
		if len(id.Plant)+len(id.Code)+len(id.Date) > LongestNumber || len(id.Made) > 4 || len(id.Suggestions) > 1 || len(problems) > 2*LongestNumber {
			t.Fatalf("%q gives %+v, %v", s, id, problems)
		}
		if len(id.Made) != 1 && len(problems) == 0 {
			t.Fatalf("%q: %+v, and nothing is said of it", s, id)
		}
		for i, m := range id.Made {
			if m.Week < 1 || m.Week > 53 || m.Year < firstYear || i > 0 && id.Made[i-1].Year <= m.Year || !asOf.IsZero() && m.Age(asOf).Number < 0 {
				t.Fatalf("%q: %v on %s", s, id.Made, asOf)
			}
		}
		for _, number := range id.Suggestions {
			if len(number) > 3*LongestNumber || number == strings.ToUpper(s) {
				t.Fatalf("%q: suggested is %q", s, number)
			}
			if better, left := Identify(number, asOf); len(better.Suggestions) > 0 {
				t.Fatalf("%q: suggested is %q, of which %v", s, number, left)
			}
		}
		for _, same := range []string{strings.Map(lower, s), strings.Map(upper, s), "\t" + strings.ReplaceAll(s, " ", "  ") + "-"} {
			if again, left := Identify(same, asOf); fmt.Sprint(again, left) != fmt.Sprint(id, problems) && !strings.ContainsAny(s, triangles) {
				t.Fatalf("%q is read as %+v, %q as %+v", s, id, same, again)
			}
		}
		if id.Plant != "" && !strings.HasPrefix(id.Plant+id.Code, "DOT") { // D OT is no mark
			if again, _ := Identify(id.Plant+" "+id.Code+" "+id.Date, asOf); again.Form != id.Form || again.Plant != id.Plant || again.Date != id.Date {
				t.Fatalf("%q is read as %+v, its parts as %+v", s, id, again)
			}
		}
	})
}

// What is offered in the place of a number with misread letters is written in the same
// groups, with its triangle.
func TestWhatIsOfferedIsWrittenAlike(t *testing.T) {
	for written, want := range map[string]string{
		"DOT A1B 2C3D4E I8I6": "A1B 2C3D4E 1816", "AB C1 D23 O31 ◄": "AB C1 D23 031 ◄", "ABC1D23O31◄": "ABC1D23031 ◄", "AB C1 D23 O31": "AB C1 D23 031",
	} {
		id, _ := Identify(written, unit.Date{Year: 2026, Month: 6, Day: 1})
		if len(id.Suggestions) != 1 || id.Suggestions[0] != want {
			t.Errorf("%q: %q, want %q", written, id.Suggestions, want)
		}
	}
}
