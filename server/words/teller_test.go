package words

import (
	"errors"
	"fmt"
	"maps"
	"strings"
	"testing"
	"testing/fstest"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/unit"
)

// needed are the labels that every language has; plain ones.
func needed() map[string]string {
	labels := map[string]string{}
	for _, way := range []string{"place", "short"} {
		for _, code := range []string{"spare", "left", "right", "inner-dual", "outer-dual", "front", "rear", "on-axle", "front-rear"} {
			labels[way+"."+code] = code
		}
	}
	for _, code := range []string{"both.left", "both.right", "both.inner-dual", "both.outer-dual", "both.front", "both.rear", "both.on-axle", "both.front-rear", "all.on-axle", "all.front-rear"} {
		labels["place."+code] = code
	}
	labels["place.beside"], labels["place.this"], labels["place.and"], labels["place.many"] = "the other", "the tire", "and", "{n} wheels"
	for _, code := range wordedUnits {
		labels[code] = code
	}
	return labels
}

// libraryOf makes languages from texts, each beside the labels that it needs.
func libraryOf(t *testing.T, languages map[string]string) (*library, error) {
	t.Helper()
	fsys := fstest.MapFS{}
	for language, texts := range languages {
		labels := needed()
		var missing strings.Builder
		for code, text := range labels {
			if !strings.Contains(texts, "  "+code+":") {
				fmt.Fprintf(&missing, "  %s: %q\n", code, text)
			}
		}
		fsys[language+"/texts.yaml"] = &fstest.MapFile{Data: []byte(texts)}
		if missing.Len() > 0 {
			fsys[language+"/labels.yaml"] = &fstest.MapFile{Data: []byte("labels:\n" + missing.String())}
		}
	}
	return readLibrary(fsys)
}

// Of the texts of one code the one that fits best is told.
func TestVariants(t *testing.T) {
	l, err := libraryOf(t, map[string]string{"en": `
findings:
  cut: {technician: Plain, customer: For the customer}
  cut.cannot-tell: {technician: Open, customer: c}
  cut.candidate: {technician: Candidate, customer: c}
  cut.candidate.cannot-tell: {technician: Open candidate, customer: c}
  bulge: {technician: Plain, customer: c}
  bulge.cannot-tell: {technician: Open, customer: c}
work:
  air.set: {technician: "Set[ to {target}]", customer: c}
  air.set.no-target: {technician: No target, customer: c}
  air.set.finish-cold: {technician: Finish cold, customer: c}
  tire.replace: {technician: Plain, customer: c}
`})
	if err != nil {
		t.Fatal(err)
	}
	technician, customer := l.tellers(Reader{})
	target := []Argument{{"target", Plain("33 psi")}}
	for _, c := range []struct {
		section   Section
		code      string
		when      Condition
		arguments []Argument
		want      string
	}{
		{Findings, "cut", 0, nil, "Plain"},
		{Findings, "cut", CannotTell, nil, "Open"},
		{Findings, "cut", Candidate, nil, "Candidate"},
		{Findings, "cut", Candidate | CannotTell, nil, "Open candidate"},
		{Findings, "bulge", Candidate, nil, "Plain"},
		{Findings, "bulge", Candidate | CannotTell, nil, "Open"},
		{Work, "air.set", 0, target, "Set to 33 psi"},
		{Work, "air.set", 0, nil, "No target"},
		{Work, "air.set", FinishCold, target, "Finish cold"},
		{Work, "air.set", FinishCold, []Argument{{"target", Value{}}}, "No target"},
		{Work, "tire.replace", FinishCold, nil, "Plain"},
	} {
		if got, err := technician.Tell(Said{c.section, c.code, c.when, c.arguments}); got != c.want || err != nil {
			t.Errorf("%s when %b: %q, %v, want %q", c.code, c.when, got, err, c.want)
		}
	}
	if got, err := customer.Tell(Said{Section: Findings, Code: "cut"}); got != "For the customer" || err != nil {
		t.Errorf("the customer is told %q, %v", got, err)
	}
}

// What cannot be told is an error that names it, and is seen in the text.
func TestFaults(t *testing.T) {
	technician, _ := Reader{}.Tellers()
	for _, c := range []struct {
		said       Said
		told, says string
	}{
		{Said{Section: Findings, Code: "tread.no-such"}, "", "en: findings: no text tread.no-such"},
		{Said{Section: Labels, Code: "age.years"}, "{n} years", "en: labels: age.years: no value for {n}"},
		{
			Said{Section: Work, Code: "measure.to-settle", Arguments: []Argument{{"at", At(&layout.Vehicle{})}, {"settle", Text(Settle, "settle.no-such")}}},
			"Settle this first: it decides. {settle.no-such}", "en: work: measure.to-settle: no value for {settle.no-such}",
		},
	} {
		got, err := technician.Tell(c.said)
		var fault *Fault
		if got != c.told || !errors.As(err, &fault) || err.Error() != c.says {
			t.Errorf("%q, %v; want %q, %s", got, err, c.told, c.says)
		}
	}
	if got := technician.Text(Cautions, "caution.no-such"); got != "" {
		t.Errorf("a caution without words is %q", got)
	}
	if got := technician.Text(Cautions, ""); got != "" {
		t.Errorf("no caution is %q", got)
	}
	if got := technician.Text(Labels, "age.years"); got != "{n} years" {
		t.Errorf("a label without its number is %q", got)
	}
	if question := In(Default).Questions["ask.week-of-making"].Technician; technician.Text(Settle, "ask.week-of-making") != question {
		t.Error("a question settles nothing")
	}
}

// A finding without a place begins with its own words; what the customer reads of it
// says the tire, and drops the parts that only say where.
func TestNobodySaidWhere(t *testing.T) {
	l, err := libraryOf(t, map[string]string{"en": `
findings:
  cut: {technician: "{at}: cut, and {at} worn.", customer: "{at} has a cut[, at {at}]."}
labels: {}
`})
	if err != nil {
		t.Fatal(err)
	}
	technician, customer := l.tellers(Reader{})
	said := Said{Section: Findings, Code: "cut", Arguments: []Argument{{"at", At(&layout.Vehicle{})}}}
	for teller, want := range map[*Teller]string{technician: "Cut, and the tire worn.", customer: "The tire has a cut."} {
		if got, err := teller.Tell(said); got != want || err != nil {
			t.Errorf("%q, %v, want %q", got, err, want)
		}
	}
}

func TestValues(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	at := func(names ...string) (ps []layout.Position) {
		for _, n := range names {
			ps = append(ps, layout.MustParse(n))
		}
		return ps
	}
	day := unit.Date{Year: 2027, Month: 6, Day: 3}
	for _, c := range []struct {
		name                 string
		value                Value
		technician, customer string
	}{
		{"nothing", Value{}, "", ""},
		{"no place", At(&car), "", ""},
		{"places", At(&car, at("1L", "2R")...), "LF RR", "the left front and the right rear"},
		{"the other tire of a pair", At(&car, append(at("1L"), layout.Beside)...), "LF the tire beside it", "the tire beside it"},
		{"day", Day(day), "2027-06-03", "June 3, 2027"},
		{"month", Month(day), "2027-06", "June 2027"},
		{"count", Count(2027), "2027", "2027"},
		{"list", List([]string{"a", "b", "c"}), "a, b and c", "a, b and c"},
		{"list of one", List([]string{"a"}), "a", "a"},
		{"another text", Text(Labels, "place.groove"), "groove {n}", "groove {n}"},
		{"another text with its number", Counted("place.groove", unit.Amount{Number: 2, Unit: unit.Count}), "groove 2", "groove 2"},
		{"where on a tire", OnTire(finding.Place{Side: "outer", Part: "sidewall", Across: layout.Inboard, Groove: 2, Station: 3}), "outer side, sidewall, inboard edge, groove 2, station 3", "outer side, sidewall, inboard edge, groove 2, station 3"},
		{
			"changes of place", Moves(&car, []rotation.Move{{From: at("1L")[0], To: at("2R")[0]}, {From: at("2L")[0], To: at("1L")[0], Turned: true}}),
			"LF→RR, LR→LF (turned)", "the left front→the right rear, the left rear→the left front (turned)",
		},
		{"one day", Exact(unit.Amount{Number: 1, Unit: unit.Days}), "1 day", "1 day"},
		{"days", Exact(unit.Amount{Number: 14, Unit: unit.Days}), "14 days", "14 days"},
	} {
		technician, customer := Reader{}.Tellers()
		if got := technician.Value(c.value); got != c.technician {
			t.Errorf("%s: to the technician %q, want %q", c.name, got, c.technician)
		}
		if got := customer.Value(c.value); got != c.customer {
			t.Errorf("%s: to the customer %q, want %q", c.name, got, c.customer)
		}
	}
}

// Technician and customer may each read a language of their own.
func TestEachReadsTheirOwn(t *testing.T) {
	technician, customer := Reader{Language: "en", CustomerLanguage: "es-MX", Units: inch}.Tellers()
	if technician.Tag() != "en" || customer.Tag() != "es-MX" {
		t.Errorf("told in %s and %s", technician.Tag(), customer.Tag())
	}
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: make([]layout.Axle, 2)}
	said := Said{Section: Findings, Code: "inflation.flat", Arguments: []Argument{{"at", At(&car, layout.MustParse("1L"))}, {"measured", Shown(bar(0.5))}}}
	for teller, want := range map[*Teller]string{
		technician: "LF: flat, reads 7.2 psi (0.5 bar).",
		customer:   "La rueda delantera izquierda está ponchada, sin aire. Por favor, no maneje así hasta que se haya revisado.",
	} {
		if got, err := teller.Tell(said); got != want || err != nil {
			t.Errorf("%q, %v, want %q", got, err, want)
		}
	}
}

// Texts that could not be told are refused when they are read.
func TestTextsAreChecked(t *testing.T) {
	for texts, says := range map[string]string{
		"findings: {a.b: {technician: '{target}', customer: c}}":                "findings: a.b: nothing fills {target}",
		"findings: {a.b: {technician: '{evidence.x.y}', customer: c}}":          "nothing fills {evidence.x.y}",
		"findings: {a.b.candidate: {technician: a, customer: c}}":               "there is no a.b",
		"work: {a.b: {technician: a, customer: '{place}'}}":                     "work: a.b: nothing fills {place}",
		"evidence: {a.b: 'of {amounts}'}":                                       "nothing fills {amounts}",
		"cautions: {a.b: 'at {at}'}":                                            "nothing fills {at}",
		"labels: {a.b: 'at {at}'}":                                              "nothing fills {at}",
		"labels: {report.left-of: '{new:dative}'}":                              "no such form",
		"labels: {age.years: '{n|one: year|few: years|other: years}'}":          "few",
		"labels: {age.years: '{n|other: years}'}":                               "one",
		"labels: {age.years: '{n|one: year'}":                                   "age.years: {n| is not closed",
		"forms: [dative]\nlabels: {map.a.dative: x}":                            "there is no map.a",
		"labels: {place.left: ''}\nnonsense: {}":                                "nonsense",
		"labels: {place.left: links, place.left: rechts}":                       "already defined",
		"work: {a.b: {technician: '[{at}', customer: '[{at}]'}}\nlabels: {a: }": "not closed",
	} {
		if _, err := libraryOf(t, map[string]string{"en": texts}); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%s: %v, want %q", texts, err, says)
		}
	}
	for _, l := range []map[string]string{{"es": "{}"}, {"en": "{}", "english": "{}"}, {"en": "{}", "es-MX": "{}"}} {
		if _, err := libraryOf(t, l); err == nil {
			t.Errorf("%v are taken as languages", maps.Keys(l))
		}
	}
	if _, err := readLibrary(fstest.MapFS{"en/a.yaml": {Data: []byte("labels: {a.b: x}")}, "en/b.yaml": {Data: []byte("labels: {a.b: y}")}}); err == nil || !strings.Contains(err.Error(), "a.b stands in another file too") {
		t.Errorf("one code in two files: %v", err)
	}
	if _, err := readLibrary(fstest.MapFS{"en/a.yaml": {Data: []byte("labels: {a.b: x}")}}); err == nil || !strings.Contains(err.Error(), "nothing is told of place.left") {
		t.Errorf("without places: %v", err)
	}
}
