package words

import (
	"cmp"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"slices"
	"sync"

	"golang.org/x/text/language"
)

// library holds the texts of all languages by their tags.
type library struct {
	texts map[string]*texts

	mu      sync.RWMutex
	locales map[string]*locale // by language and region: as many as there are regions
}

// locale is a language as it is told in a region.
type locale struct {
	tag      string
	texts    *texts
	numerals numerals
}

// readLibrary compiles the languages of a file system: in a folder each, named by
// the language's tag.
func readLibrary(fsys fs.FS) (*library, error) {
	written, err := readCatalogues(fsys)
	if err == nil {
		written, err = overlaid(written)
	}
	if err != nil {
		return nil, err
	}
	l := &library{texts: map[string]*texts{}, locales: map[string]*locale{}}
	var faults []error
	for tag, c := range written {
		if l.texts[tag], err = compileTexts(tag, c); err != nil {
			faults = append(faults, fmt.Errorf("%s: %w", tag, err))
		}
	}
	if l.texts[Default] == nil {
		faults = append(faults, fmt.Errorf("there is no %s", Default))
	}
	return l, errors.Join(faults...)
}

func (l *library) tongues() []string { return slices.Sorted(maps.Keys(l.texts)) }

func (l *library) languages() []string {
	return slices.DeleteFunc(l.tongues(), func(tag string) bool {
		_, regional := parentOf(l.texts, tag)
		return regional
	})
}

// locale gives a language for a BCP 47 tag, by its language (RFC 4647, lookup), in the
// words of its region and with numbers as they are written there; the default one where
// the language has no texts.
func (l *library) locale(tag string) *locale {
	tag = cmp.Or(tag, Default)
	if known := l.known(tag); known != nil {
		return known
	}
	asked, _ := language.Parse(tag) // of a tag that is partly wrong, what is right in it
	base, _, region := asked.Raw()
	if l.texts[base.String()] == nil {
		base, region = language.MustParseBase(Default), language.Region{}
	}
	here, err := language.Compose(base, region)
	if err != nil {
		here, _ = language.Compose(base)
	}
	if known := l.known(here.String()); known != nil {
		return known
	}
	made := newLocale(l.spoken(here), here)
	l.mu.Lock()
	defer l.mu.Unlock()
	l.locales[here.String()] = made
	return made
}

func (l *library) known(tag string) *locale {
	l.mu.RLock()
	defer l.mu.RUnlock()
	return l.locales[tag]
}

// speaks tells whether the language of a tag has texts.
func (l *library) speaks(tag string) bool {
	asked, _ := language.Parse(tag)
	base, _, _ := asked.Raw()
	return l.texts[base.String()] != nil
}

// spoken are the texts of a tag whose language has some: of its region, or of the
// nearest wider one that speaks so.
func (l *library) spoken(here language.Tag) *texts {
	for t := here; t != language.Und; t = t.Parent() {
		if found := l.texts[t.String()]; found != nil && !slices.Contains(found.written.Except, here.String()) {
			return found
		}
	}
	return l.texts[Default]
}

// newLocale names the region only where words or numbers are others there than in the
// language at large.
func newLocale(t *texts, here language.Tag) *locale {
	made := &locale{tag: t.tag.String(), texts: t, numerals: numeralsOf(t.tag, t.written.ThousandsFrom)}
	if n := numeralsOf(here, t.written.ThousandsFrom); n != made.numerals {
		made.tag, made.numerals = here.String(), n
	}
	return made
}

func (l *library) tellers(r Reader) (technician, customer *Teller) {
	technician = &Teller{locale: l.locale(r.Language), units: r.Units, audience: Technician}
	customer = &Teller{locale: technician.locale, units: r.Units, audience: Customer}
	if r.CustomerLanguage != "" {
		customer.locale = l.locale(r.CustomerLanguage)
	}
	return technician, customer
}
