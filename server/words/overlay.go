package words

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/language"
)

// parentOf is the nearest wider tag that has texts: es-MX lies in es-419, which lies in
// es (Unicode CLDR, parent locales). A language lies in none.
func parentOf[T any](all map[string]T, tag string) (string, bool) {
	t, err := language.Parse(tag)
	if err != nil {
		return "", false
	}
	for t = t.Parent(); t != language.Und; t = t.Parent() {
		if _, ok := all[t.String()]; ok {
			return t.String(), true
		}
	}
	return "", false
}

// overlaid lays the texts of each region over those of the wider one, so that it has
// all of them.
func overlaid(written map[string]*Catalogue) (map[string]*Catalogue, error) {
	all := map[string]*Catalogue{}
	var faults []error
	var lay func(tag string) *Catalogue
	lay = func(tag string) *Catalogue {
		if c := all[tag]; c != nil {
			return c
		}
		all[tag] = written[tag]
		wider, ok := parentOf(written, tag)
		if !ok && strings.Contains(tag, "-") {
			faults = append(faults, fmt.Errorf("%s: its language has no texts", tag))
		}
		if ok {
			c, err := written[tag].over(lay(wider))
			if err != nil {
				faults = append(faults, fmt.Errorf("%s: %w", tag, err))
			}
			all[tag] = c
		}
		return all[tag]
	}
	for _, tag := range slices.Sorted(maps.Keys(written)) {
		lay(tag)
	}
	return all, errors.Join(faults...)
}

// over gives the texts of a wider region with these in place of its own, and elsewhere
// with these terms in place of its words. A text that the wider one has not is refused.
func (c *Catalogue) over(wider *Catalogue) (*Catalogue, error) {
	t := newTerms(c.Terms)
	made := &Catalogue{
		Forms: wider.Forms, Except: c.Except, Terms: c.Terms,
		ThousandsFrom: cmp.Or(c.ThousandsFrom, wider.ThousandsFrom),
	}
	var faults []error
	pairs := func(of func(*Catalogue) *map[string]Pair) {
		all, err := laid(*of(wider), *of(c), func(own, wide Pair) Pair {
			return Pair{cmp.Or(own.Technician, t.in(wide.Technician)), cmp.Or(own.Customer, t.in(wide.Customer))}
		})
		*of(made) = all
		faults = append(faults, err)
	}
	texts := func(of func(*Catalogue) *map[string]string) {
		all, err := laid(*of(wider), *of(c), func(own, wide string) string { return cmp.Or(own, t.in(wide)) })
		*of(made) = all
		faults = append(faults, err)
	}
	pairs(func(c *Catalogue) *map[string]Pair { return &c.Findings })
	pairs(func(c *Catalogue) *map[string]Pair { return &c.Work })
	pairs(func(c *Catalogue) *map[string]Pair { return &c.Headlines })
	pairs(func(c *Catalogue) *map[string]Pair { return &c.Questions })
	texts(func(c *Catalogue) *map[string]string { return &c.Glances })
	texts(func(c *Catalogue) *map[string]string { return &c.Checked })
	texts(func(c *Catalogue) *map[string]string { return &c.Cautions })
	texts(func(c *Catalogue) *map[string]string { return &c.Settle })
	texts(func(c *Catalogue) *map[string]string { return &c.Evidence })
	texts(func(c *Catalogue) *map[string]string { return &c.LookFor })
	texts(func(c *Catalogue) *map[string]string { return &c.NotJudged })
	texts(func(c *Catalogue) *map[string]string { return &c.Notes })
	texts(func(c *Catalogue) *map[string]string { return &c.Labels })
	texts(func(c *Catalogue) *map[string]string { return &c.Titles })
	texts(func(c *Catalogue) *map[string]string { return &c.Sources })
	return made, errors.Join(faults...)
}

// laid joins each text of the wider region with the one of its own, if there is one.
func laid[T any](wider, own map[string]T, join func(own, wide T) T) (map[string]T, error) {
	all := make(map[string]T, len(wider))
	for code, wide := range wider {
		all[code] = join(own[code], wide)
	}
	var faults []error
	for code := range own {
		if _, ok := wider[code]; !ok {
			faults = append(faults, fmt.Errorf("%s stands in no wider language", code))
		}
	}
	return all, errors.Join(faults...)
}

// terms are words, and several in a row, with those in their place; the longest first.
type terms struct {
	by      map[string]string
	longest []string
}

func newTerms(by map[string]string) terms {
	return terms{by, slices.SortedFunc(maps.Keys(by), func(a, b string) int {
		return cmp.Or(cmp.Compare(len(b), len(a)), cmp.Compare(a, b))
	})}
}

// in puts the terms in their places, whole words alone. One that begins with a capital
// letter still does.
func (t terms) in(text string) string {
	if len(t.by) == 0 {
		return text
	}
	var told strings.Builder
	for rest, within := text, false; rest != ""; {
		if term := t.at(rest); !within && term != "" {
			first, _ := utf8.DecodeRuneInString(rest)
			said := t.by[term]
			if unicode.IsUpper(first) {
				said = Sentence(said)
			}
			told.WriteString(said)
			rest = rest[len(term):]
			continue
		}
		r, size := utf8.DecodeRuneInString(rest)
		told.WriteString(rest[:size])
		rest, within = rest[size:], unicode.IsLetter(r)
	}
	return told.String()
}

// at is the longest term that a text begins with as whole words; "" for none.
func (t terms) at(text string) string {
	for _, term := range t.longest {
		if len(text) < len(term) || text[:len(term)] != term && text[:len(term)] != Sentence(term) {
			continue
		}
		if r, _ := utf8.DecodeRuneInString(text[len(term):]); !unicode.IsLetter(r) {
			return term
		}
	}
	return ""
}
