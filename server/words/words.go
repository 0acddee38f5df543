// Package words turns codes and amounts into sentences for the technician and
// for the customer, from a catalogue per language. It judges nothing.
package words

import (
	"embed"
	"fmt"
	"io/fs"
	"maps"
	"path"
	"regexp"
	"slices"
	"strings"
	"sync"

	"go.yaml.in/yaml/v3"
	"golang.org/x/text/language"
)

//go:embed en/*.yaml es/*.yaml
var files embed.FS

// Default is the language of a visit that asks for none, or for one that has no
// catalogue.
const Default = "en"

// Pair is what is said of one thing, to the one who does the work and to the
// one who pays for it.
type Pair struct {
	Technician string `yaml:"technician"`
	Customer   string `yaml:"customer"`
}

// Catalogue holds the texts of one language by code, and how its reader reads
// numbers.
type Catalogue struct {
	Findings  map[string]Pair   `yaml:"findings"`
	Work      map[string]Pair   `yaml:"work"`
	Checked   map[string]string `yaml:"checked"`   // looked at and nothing found
	Cautions  map[string]string `yaml:"cautions"`  // where someone could be hurt
	Settle    map[string]string `yaml:"settle"`    // the measurement that would decide
	Evidence  map[string]string `yaml:"evidence"`  // a noun phrase; the amount follows it
	LookFor   map[string]string `yaml:"look_for"`  // inside a tire that comes off
	Questions map[string]Pair   `yaml:"questions"` // technician: the question; customer: what its answer would allow
	NotJudged map[string]string `yaml:"not_judged"`
	Notes     map[string]string `yaml:"notes"`  // beside the numbers of a calculator
	Labels    map[string]string `yaml:"labels"` // headings, urgencies, authorities, places, reasons

	// Sources are titles of rulebooks and what rules are cited from, by their
	// English, where they are plain words; titles of laws and standards stay as
	// they are.
	Sources map[string]string `yaml:"sources"`

	tag      string
	numerals numerals
	units    Units
}

var load = sync.OnceValue(func() map[string]*Catalogue {
	all := map[string]*Catalogue{}
	paths, err := fs.Glob(files, "*/*.yaml")
	if err != nil {
		panic(err)
	}
	for _, p := range paths {
		data, err := files.ReadFile(p)
		if err != nil {
			panic(err)
		}
		lang := path.Dir(p)
		if all[lang] == nil {
			all[lang] = &Catalogue{}
		}
		// Decoding into the same value merges the maps; a code in two files of a
		// section would overwrite silently, which a test forbids.
		if err := yaml.Unmarshal(data, all[lang]); err != nil {
			panic(fmt.Sprintf("%s: %v", p, err))
		}
	}
	return all
})

// Languages lists the languages that have a catalogue.
func Languages() []string {
	return slices.Sorted(maps.Keys(load()))
}

// In gives the catalogue for a BCP 47 tag, by its language (RFC 4647, lookup), with
// numbers as they are written in its region; the default one where the language
// has none.
func In(tag string) *Catalogue {
	asked, _ := language.Parse(tag) // of a tag that is partly wrong, what is right in it
	base, _, region := asked.Raw()
	texts, ok := load()[base.String()]
	if !ok {
		base, region, texts = language.MustParseBase(Default), language.Region{}, load()[Default]
	}
	c := *texts
	c.tag = base.String()
	at, _ := language.Compose(base)
	c.numerals = numeralsOf(at)
	if here, err := language.Compose(base, region); err == nil {
		if n := numeralsOf(here); n != c.numerals {
			c.tag, c.numerals = here.String(), n
		}
	}
	return &c
}

// Tag is the language of the texts as a BCP 47 tag, with a region where numbers
// are written otherwise there than in the language at large: "en", "es", "es-MX".
func (c *Catalogue) Tag() string { return c.tag }

// Source gives a title of a rulebook or a citation in the language. Of one that
// was put together, "the vehicle maker's figure, ..." with what the caller told,
// the part with words of ours is translated.
func (c *Catalogue) Source(cited string) string {
	if s, ok := c.Sources[cited]; ok {
		return s
	}
	for from, s := range c.Sources {
		if begin, open := strings.CutSuffix(from, "..."); open {
			if rest, ok := strings.CutPrefix(cited, begin); ok {
				return strings.TrimSuffix(s, "...") + c.Source(rest)
			}
		}
	}
	return cited
}

// Finding gives the texts of a finding: of its open or candidate variant where
// the catalogue has one, else of the plain code.
func (c *Catalogue) Finding(code string, cannotTell, candidate bool) Pair {
	var variants []string
	if candidate && cannotTell {
		variants = append(variants, ".candidate.cannot-tell")
	}
	if candidate {
		variants = append(variants, ".candidate")
	}
	if cannotTell {
		variants = append(variants, ".cannot-tell")
	}
	return firstOf(c.Findings, code, variants)
}

// WorkLine gives the texts of a line of work: of its variant without a target
// or finished when cold where the catalogue has one, else of the plain code.
func (c *Catalogue) WorkLine(code string, noTarget, finishCold bool) Pair {
	var variants []string
	if noTarget {
		variants = append(variants, ".no-target")
	}
	if finishCold {
		variants = append(variants, ".finish-cold")
	}
	return firstOf(c.Work, code, variants)
}

func firstOf(texts map[string]Pair, code string, variants []string) Pair {
	for _, v := range variants {
		if p, ok := texts[code+v]; ok {
			return p
		}
	}
	return texts[code]
}

var (
	optional    = regexp.MustCompile(`\[[^\[\]]*\]`)
	placeholder = regexp.MustCompile(`\{[a-z0-9_.-]+\}`)
)

// Fill puts values into a text. A part in [square brackets] is dropped when a
// placeholder in it has no value; a missing value elsewhere leaves nothing.
func Fill(text string, values map[string]string) string {
	text = optional.ReplaceAllStringFunc(text, func(part string) string {
		for _, p := range placeholder.FindAllString(part, -1) {
			if values[p[1:len(p)-1]] == "" {
				return ""
			}
		}
		return part[1 : len(part)-1]
	})
	text = placeholder.ReplaceAllStringFunc(text, func(p string) string { return values[p[1:len(p)-1]] })
	return strings.Join(strings.Fields(text), " ")
}
