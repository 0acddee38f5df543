package words

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Each tongue has the trade's words of its own region and none of another's; where each
// is in use, and how that is known, stands beside it in testdata/wording.
func TestTermsOfEachTongue(t *testing.T) {
	all := wordings(t)
	said, never := map[string][]string{}, map[string]*regexp.Regexp{}
	for _, w := range all {
		for _, term := range w.Terms {
			never[term.Never] = whole(term.Never)
		}
	}
	for _, s := range written(t) {
		own := s.own(t)
		said[s.language] = append(said[s.language], own)
		for _, term := range all[s.language].Terms {
			if w := never[term.Never].FindString(own); w != "" {
				t.Errorf("%v: the %s is never %q: %q", s, term.Of, w, s.words)
			}
		}
	}
	for language, w := range all {
		for _, term := range w.Terms {
			if term.Of == "" || term.Where == "" || term.Known == "" || term.Never == "" {
				t.Errorf("%s: not all is told of %q", language, term.Of)
			}
			if !slices.ContainsFunc(said[language], whole(term.Say).MatchString) {
				t.Errorf("%s: nothing says %q of the %s", language, term.Say, term.Of)
			}
		}
	}
}

// What goes with a noun has its gender and number, as far as patterns tell.
func TestWordsAgree(t *testing.T) {
	all := wordings(t)
	for language, w := range all {
		for _, caught := range w.DisagreeCaught {
			if !slices.ContainsFunc(w.Disagree, func(pattern string) bool { return whole(pattern).MatchString(" " + caught) }) {
				t.Errorf("%s: %q is let through", language, caught)
			}
		}
	}
	disagree := map[string]*regexp.Regexp{}
	for language, w := range all {
		if len(w.Disagree) > 0 {
			disagree[language] = whole(w.Disagree...)
		}
	}
	for _, s := range written(t) {
		if re := disagree[s.language]; re != nil {
			if w := re.FindString(" " + s.words); w != "" {
				t.Errorf("%v: %q: %q", s, w, s.words)
			}
		}
	}
}

// An overlay holds only what differs: each of its terms is a word of the wider language
// in some text that it has not written anew, and each text differs from what the terms
// would make of it.
func TestOverlaysHoldWhatDiffers(t *testing.T) {
	raw, err := readCatalogues(files)
	if err != nil {
		t.Fatal(err)
	}
	overlays := 0
	for _, tag := range Tongues() {
		wider, regional := parentOf(raw, tag)
		if !regional {
			continue
		}
		overlays++
		own, from := raw[tag], In(wider)
		used := map[string]bool{}
		for _, s := range writtenInFiles(t) {
			base, _, _ := strings.Cut(tag, "-")
			if s.language != base {
				continue
			}
			here, there := s.in(own), s.in(from)
			by := newTerms(own.Terms)
			if here != "" && here == by.in(there) {
				t.Errorf("%s: %s: %s: its terms say so already: %q", tag, s.section, s.code, here)
			}
			if here == "" {
				note(used, by, there)
			}
		}
		for _, said := range from.Sources {
			note(used, newTerms(own.Terms), said)
		}
		for _, p := range from.Headlines {
			note(used, newTerms(own.Terms), p.Technician+" "+p.Customer)
		}
		for term := range own.Terms {
			if !used[term] {
				t.Errorf("%s: no text has %q", tag, term)
			}
		}
	}
	if overlays < 3 {
		t.Errorf("%d regions have words of their own", overlays)
	}
}

// note notes the terms that a text has.
func note(used map[string]bool, by terms, text string) {
	for term := range by.by {
		rest := terms{by: map[string]string{term: "\x00"}, longest: []string{term}}
		if !used[term] && strings.ContainsRune(rest.in(text), 0) {
			used[term] = true
		}
	}
}

// Any tongue's region is a folder: its texts lie over those of the wider tongue, its
// terms take the place of whole words, the longest first, and a region that speaks
// otherwise is left out.
func TestInventedRegion(t *testing.T) {
	l, err := libraryOf(t, map[string]string{
		"en":     "{}",
		"pl":     inventedTongue,
		"pl-150": "except: [pl-DE]\nterms:\n  vek: starost\n  vek tulom: starost tulomi\nwork:\n  wheel.invented.no-target: {technician: \"{at}: druga.\"}",
	})
	if err != nil {
		t.Fatal(err)
	}
	tell := func(tag string, s Said) string {
		technician, _ := l.tellers(Reader{Language: tag})
		told, err := technician.Tell(s)
		if err != nil {
			t.Error(err)
		}
		return technician.Tag() + ": " + told
	}
	for _, c := range []struct {
		tag  string
		said Said
		want string
	}{
		{"pl", Said{Checked, "age.invented", 0, []Argument{{"measured", Count(5)}, {"limit", Count(9)}}}, "pl: Vek 5, lim 9."},
		{"pl-150", Said{Checked, "age.invented", 0, []Argument{{"measured", Count(5)}, {"limit", Count(9)}}}, "pl-150: Starost 5, lim 9."},
		{"pl-150", Said{Evidence, "age.invented", 0, nil}, "pl-150: starost tulomi"},
		{"pl-150", Said{Work, "wheel.invented", 0, nil}, "pl-150: Druga."},
	} {
		if got := tell(c.tag, c.said); got != c.want {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
	for name, overlay := range map[string]string{
		"a code of its own":    "labels: {place.moon: mesec}",
		"an argument":          "checked: {age.invented: \"Vek {target}.\"}",
		"a term and no string": "terms: {vek: [a]}",
	} {
		if _, err := libraryOf(t, map[string]string{"en": "{}", "pl": inventedTongue, "pl-150": overlay}); err == nil {
			t.Errorf("%s is taken", name)
		}
	}
}

func TestTermsAreWholeWords(t *testing.T) {
	by := newTerms(map[string]string{"aro": "rin", "el neumático": "la llanta", "neumático": "llanta", "del": "de la"})
	for text, want := range map[string]string{
		"El neumático y el aro.":               "La llanta y el rin.",
		"{at}: aro claro, faro, aros":          "{at}: rin claro, faro, aros",
		"[, aro][ neumático]":                  "[, rin][ llanta]",
		"{n|one: neumático|other: aro}":        "{n|one: llanta|other: rin}",
		"Aro del modelo":                       "Rin de la modelo",
		"paraneumático, neumáticos":            "paraneumático, neumáticos",
		"el\u00a0neumático no es el neumático": "el\u00a0llanta no es la llanta",
	} {
		if got := by.in(text); got != want {
			t.Errorf("%q is %q, want %q", text, got, want)
		}
	}
}
