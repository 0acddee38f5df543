package words

import (
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"golang.org/x/text/unicode/norm"

	"gaugebook.dev/calc/unit"
)

// Every language says everything: the same codes in the same files, with the same
// values and the same parts that are dropped without theirs.
func TestLanguagesSayTheSame(t *testing.T) {
	byLanguage := map[string]map[[4]string]text{}
	for _, s := range written(t) {
		if byLanguage[s.language] == nil {
			byLanguage[s.language] = map[[4]string]text{}
		}
		byLanguage[s.language][[4]string{strings.TrimPrefix(s.file, s.language+"/"), s.section, s.code, s.reader}] = s
	}
	if told := slices.Sorted(maps.Keys(byLanguage)); len(told) < 2 || !slices.Equal(told, Tongues()) {
		t.Fatalf("languages are %v, with texts in %v", Tongues(), told)
	}
	model := byLanguage[Default]
	for language, said := range byLanguage {
		for key, s := range said {
			if _, form := embedded().texts[language].formOf(s.code); form != "" && s.section == "labels" {
				continue
			}
			if _, ok := model[key]; !ok {
				t.Errorf("%v: not in %s", s, Default)
			}
		}
		for key, m := range model {
			s, ok := said[key]
			if !ok {
				t.Errorf("%v: has no %s", m, language)
				continue
			}
			if got, want := values(s.program(t)), values(m.program(t)); !slices.Equal(got, want) {
				t.Errorf("%v: takes %q, in %s %q", s, got, Default, want)
			}
			if strings.Contains(s.words, " | ") != strings.Contains(m.words, " | ") {
				t.Errorf("%v: a part goes in brief in both or in neither: %q", s, s.words)
			}
			if strings.HasPrefix(s.words, "{at}: ") != strings.HasPrefix(m.words, "{at}: ") && s.reader == "technician" {
				t.Errorf("%v: places stand first in both or in neither: %q", s, s.words)
			}
		}
	}
}

// values are the arguments of a text, each part that may be dropped by itself.
func values(made program) []string {
	all := made.arguments()
	made.each(func(p *piece) {
		if p.kind == optional {
			needs := slices.Clone(p.needs)
			slices.Sort(needs)
			all = append(all, "["+strings.Join(needs, " ")+"]")
		}
	})
	slices.Sort(all)
	return slices.Compact(all)
}

// Letters are composed, so that each takes one column; English has none with an
// accent.
func TestLettersAreComposed(t *testing.T) {
	for _, s := range written(t) {
		if !norm.NFC.IsNormalString(s.words) {
			t.Errorf("%v: not in normal form C: %q", s, s.words)
		}
		if s.language == Default && regexp.MustCompile(`[^\x00-\x7F±]`).MatchString(s.words) {
			t.Errorf("%v: a letter that is not English: %q", s, s.words)
		}
	}
}

// Spanish opens its questions, accents what always bears an accent, and speaks to
// a customer as usted.
func TestSpanish(t *testing.T) {
	unaccented := whole(`\pL*[cs]ion`, `\pL*ia[cs]ion`, `neumatic\pL*`, `vehicul\pL*`, `valvul\pL*`, `esparrag\pL*`, `segun`, `tambien`, `despues`, `presion`, `fabrica(ra|ran)`, `numero`, `simbolo`, `via`, `aun asi`, `ningun`, `algun`, `limite`, `minimo`, `maximo`, `metric\pL*`, `tecnic\pL*`, `practica`, `mas`)
	familiar := whole(`tú`, `tus?`, `te`, `ti`, `contigo`, `vosotros`, `vuestr\pL*`, `puedes`, `tienes`, `dinos`)
	english := whole(`the`, `and`, `tires?`, `wheels?`, `with`, `not`, `of`)
	for _, s := range written(t) {
		if !strings.HasPrefix(s.language, "es") {
			continue
		}
		if strings.Count(s.words, "?") != strings.Count(s.words, "¿") {
			t.Errorf("%v: a question that does not open or close: %q", s, s.words)
		}
		for _, re := range []*regexp.Regexp{unaccented, familiar, english} {
			if w := re.FindString(s.own(t)); w != "" {
				t.Errorf("%v: says %q: %q", s, w, s.words)
			}
		}
	}
}

// Numbers as the Unicode CLDR has them, which leaves the decimal comma to Spain
// and most of South America, and the point to Mexico, the United States and
// Central America.
func TestTagsAndNumerals(t *testing.T) {
	for _, c := range []struct{ asked, tag, miles, bar, percent string }{
		{"", "en", "48,210 mi", "2.25 bar", "50%"},
		{"en", "en", "48,210 mi", "2.25 bar", "50%"},
		{"en-GB", "en", "48,210 mi", "2.25 bar", "50%"},
		{"xx", "en", "48,210 mi", "2.25 bar", "50%"},
		{"fr-CA", "en", "48,210 mi", "2.25 bar", "50%"},
		{"not a tag", "en", "48,210 mi", "2.25 bar", "50%"},
		{"es", "es", "48.210 mi", "2,25 bar", "50 %"},
		{"es-ES", "es", "48.210 mi", "2,25 bar", "50 %"},
		{"es-AR", "es", "48.210 mi", "2,25 bar", "50 %"}, // llanta is the rim there
		{"es-CL", "es", "48.210 mi", "2,25 bar", "50 %"},
		{"es-CO", "es-CO", "48.210 mi", "2,25 bar", "50 %"},
		{"es-GT", "es-419", "48,210 mi", "2.25 bar", "50 %"},
		{"spa", "es", "48.210 mi", "2,25 bar", "50 %"},
		{"es-MX", "es-MX", "48,210 mi", "2.25 bar", "50 %"},
		{"es_mx", "es-MX", "48,210 mi", "2.25 bar", "50 %"},
		{"es-Latn-US", "es-US", "48,210 mi", "2.25 bar", "50 %"},
		{"es-419", "es-419", "48,210 mi", "2.25 bar", "50 %"},
	} {
		teller, customers := Reader{Language: c.asked}.Tellers()
		if teller.Tag() != c.tag || customers.Tag() != c.tag {
			t.Errorf("%q is told in %q, want %q", c.asked, teller.Tag(), c.tag)
		}
		if again, _ := (Reader{Language: teller.Tag()}).Tellers(); again.locale.tag != c.tag || again.locale.numerals != teller.locale.numerals {
			t.Errorf("%q: %q is read as %q", c.asked, teller.Tag(), again.Tag())
		}
		exact := func(a unit.Amount) string { return teller.Value(Exact(a)) }
		if got := exact(miles(48210)) + "; " + exact(bar(2.25)) + "; " + exact(percent(50)); got != c.miles+"; "+c.bar+"; "+c.percent {
			t.Errorf("%q: %s, want %s; %s; %s", c.asked, got, c.miles, c.bar, c.percent)
		}
	}
}

// What speaks of a law says beside it how it stands: each text of a finding that tells the
// standing of its law to one reader tells it, or the rule whole, to the other too; to the
// technician before the bar.
func TestLawsAreToldAsTheyStand(t *testing.T) {
	ofLaw := regexp.MustCompile(`(?i)\b(laws?|legal|ley|leyes)\b`)
	for _, tongue := range Tongues() {
		found := In(tongue).Findings
		for code, p := range found {
			if !strings.Contains(p.Technician+p.Customer, "{standing}") {
				continue
			}
			brief, _, _ := strings.Cut(p.Technician, " | ")
			for who, text := range map[string]string{"technician": brief, "customer": p.Customer} {
				if ofLaw.MatchString(text) && !strings.Contains(text, "{standing}") && !strings.Contains(text, "{rule}") {
					t.Errorf("%s: %s: %s: %q does not tell how the law stands", tongue, code, who, text)
				}
			}
		}
	}
}
