package words

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"golang.org/x/text/feature/plural"
	"golang.org/x/text/language"

	"gaugebook.dev/calc/unit"
)

// texts are the compiled texts of one language.
type texts struct {
	written  *Catalogue
	tag      language.Tag // the folder's, with its region
	language language.Tag // without one
	told     [sectionCount][audiences]map[string]*entry
	places   [audiences]map[string]placeNames // by form; "" is the plain one
	beside   *entry                           // the other tire of a pair, where nobody said which
	many     *entry                           // of the wheels, more than are named
	thisTire *entry                           // a tire of which nobody said where it is
	and      *entry
	units    map[unit.Unit]*entry
	sources  []source // citations that begin so; the longest first
	endings  []source // and those that end so
}

// entry is what is said by one code.
type entry struct {
	texts []variant // the plain one last
	forms []form
}

type variant struct {
	when Condition
	text program
}

type form struct {
	name string
	text program
}

type source struct{ part, said string }

// compileTexts compiles what is written in one language and checks it.
func compileTexts(tag string, written *Catalogue) (*texts, error) {
	named, err := language.Parse(tag)
	if err != nil || named.String() != tag {
		return nil, fmt.Errorf("the folder %q is not named by a BCP 47 language", tag)
	}
	base, _ := named.Base()
	t := &texts{written: written, tag: named, units: map[unit.Unit]*entry{}}
	t.language, _ = language.Compose(base)
	var faults []error
	for s := range sectionCount {
		for to := range audiences {
			if to > 0 && s != Findings && s != Work && s != Headlines {
				t.told[s][to] = t.told[s][Technician]
				continue
			}
			entries, err := t.section(s, to)
			t.told[s][to] = entries
			faults = append(faults, err)
		}
	}
	return t, errors.Join(append(faults, t.link())...)
}

// section compiles the texts of a section to one audience, in order of their codes:
// a plain text comes before its variants and forms.
func (t *texts) section(s Section, to Audience) (map[string]*entry, error) {
	entries := map[string]*entry{}
	var faults []error
	written := t.written.written(s, to)
	for _, code := range slices.Sorted(maps.Keys(written)) {
		text, err := t.compile(s, to, code, written[code])
		if err == nil {
			err = t.enter(entries, s, code, text)
		}
		if err != nil {
			faults = append(faults, fmt.Errorf("%s: %s: %w", s, code, err))
		}
	}
	for _, e := range entries {
		slices.SortFunc(e.texts, func(a, b variant) int { return cmp.Compare(b.when, a.when) })
	}
	return entries, errors.Join(faults...)
}

// placeFirst is how texts to a technician begin that say first where it is.
const placeFirst = "{at}: "

func (t *texts) compile(s Section, to Audience, code, written string) (program, error) {
	if to == Technician && strings.HasPrefix(written, placeFirst) {
		written = "[" + placeFirst + "]" + strings.TrimPrefix(written, placeFirst) // goes where nobody said where
	}
	if s == Evidence {
		written += "[ {amount}]"
	}
	made, err := compile(written)
	if err != nil {
		return nil, err
	}
	var faults []error
	made.each(func(p *piece) {
		faults = append(faults, t.check(s, to, code, p))
	})
	return made, errors.Join(faults...)
}

// check demands that a piece can be told: its argument is one that the section is
// told with, its form and its numbers are those of the language.
func (t *texts) check(s Section, to Audience, code string, p *piece) error {
	switch p.kind {
	case literal:
		return nil
	case detail:
		if s != Cautions && s != Findings && (s != Work || to != Technician) {
			return errors.New("only cautions, findings, and work for the technician, are told in brief")
		}
		return nil
	case optional:
		for i, name := range p.needs {
			p.needs[i] = strings.TrimPrefix(name, evidencePrefix)
		}
		return nil
	case choice:
		if err := t.checkPlural(p); err != nil {
			return err
		}
	case argument:
		if p.form != "" && !slices.Contains(t.written.Forms, p.form) {
			return fmt.Errorf("{%s:%s}: the language has no such form", p.text, p.form)
		}
	}
	if s == Findings && strings.HasPrefix(p.text, evidencePrefix) {
		p.text = strings.TrimPrefix(p.text, evidencePrefix)
		if _, ok := t.written.Evidence[p.text]; !ok {
			return fmt.Errorf("nothing fills {%s%s}", evidencePrefix, p.text)
		}
		return nil
	}
	plain, _ := t.formOf(code)
	if !slices.Contains(argumentsOf(s, plain), p.text) {
		return fmt.Errorf("nothing fills {%s}", p.text)
	}
	return nil
}

// checkPlural demands the forms that whole numbers have in the language, and no
// others: "other" stands for fractions, and for what is not given itself.
func (t *texts) checkPlural(p *piece) error {
	used := map[plural.Form]bool{plural.Other: true}
	for n := range 1000 {
		used[plural.Cardinal.MatchPlural(t.language, n, 0, 0, 0, 0)] = true
	}
	for name, f := range pluralNames {
		if used[f] != (p.forms[f] != nil) {
			return fmt.Errorf("{%s|%s: the language has the form %v", p.text, name, used[f])
		}
	}
	return nil
}

// enter puts a text where it is found: at its own code, or with the plain text that
// it is a variant or a form of.
func (t *texts) enter(entries map[string]*entry, s Section, code string, text program) error {
	switch s {
	case Findings, Work:
		plain, when := plainCode(code)
		if entries[plain] == nil {
			if when != 0 {
				return fmt.Errorf("there is no %s", plain)
			}
			entries[plain] = &entry{}
		}
		entries[plain].texts = append(entries[plain].texts, variant{when, text})
		return nil
	case Labels:
		if plain, name := t.formOf(code); name != "" {
			if entries[plain] == nil {
				return fmt.Errorf("there is no %s", plain)
			}
			entries[plain].forms = append(entries[plain].forms, form{name, text})
			return nil
		}
	}
	entries[code] = &entry{texts: []variant{{0, text}}}
	return nil
}

// formOf splits the code of a label that is a form of another.
func (t *texts) formOf(code string) (plain, name string) {
	for _, f := range t.written.Forms {
		if p, ok := strings.CutSuffix(code, "."+f); ok {
			return p, f
		}
	}
	return code, ""
}

// link finds the labels that places, lists and units are told with.
func (t *texts) link() error {
	var faults []error
	label := func(code string) *entry {
		e := t.told[Labels][Technician][code]
		if e == nil {
			faults = append(faults, fmt.Errorf("labels: there is no %s", code))
		}
		return e
	}
	t.beside, t.thisTire, t.and, t.many = label("place.beside"), label("place.this"), label("place.and"), label("place.many")
	for u, code := range wordedUnits {
		t.units[u] = label(code)
	}
	for to, way := range [audiences]string{Technician: "short", Customer: "place"} {
		t.places[to] = map[string]placeNames{}
		for _, f := range append([]string{""}, t.written.Forms...) {
			names, err := t.name(way, f)
			faults = append(faults, err)
			t.places[to][f] = names
		}
	}
	for begin, said := range t.written.Sources {
		if cut, open := strings.CutSuffix(begin, "..."); open {
			t.sources = append(t.sources, source{cut, strings.TrimSuffix(said, "...")})
		}
		if cut, open := strings.CutPrefix(begin, "..."); open {
			t.endings = append(t.endings, source{cut, strings.TrimPrefix(said, "...")})
		}
	}
	longest := func(a, b source) int {
		return cmp.Or(cmp.Compare(len(b.part), len(a.part)), cmp.Compare(a.part, b.part))
	}
	slices.SortFunc(t.sources, longest)
	slices.SortFunc(t.endings, longest)
	return errors.Join(faults...)
}

// of gives the text of a code that fits best.
func (e *entry) of(when Condition, formName string) program {
	for _, f := range e.forms {
		if f.name == formName {
			return f.text
		}
	}
	for _, v := range e.texts {
		if v.when&when == v.when {
			return v.text
		}
	}
	return nil
}
