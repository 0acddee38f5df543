// Package words turns codes and amounts into sentences for the technician and
// for the customer, from a catalogue per language. It judges nothing.
package words

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"strings"
	"sync"

	"go.yaml.in/yaml/v3"
)

//go:embed en/*.yaml
var files embed.FS

// Default is the language of a visit that asks for none.
const Default = "en"

// Pair is what is said of one thing, to the one who does the work and to the
// one who pays for it.
type Pair struct {
	Technician string `yaml:"technician"`
	Customer   string `yaml:"customer"`
}

// Catalogue holds the texts of one language by code.
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
	var ls []string
	for l := range load() {
		ls = append(ls, l)
	}
	return ls
}

// In gives the catalogue of a language, or of the default one.
func In(language string) *Catalogue {
	if c, ok := load()[language]; ok {
		return c
	}
	return load()[Default]
}

// Has tells whether there is a catalogue in the language.
func Has(language string) bool { return load()[language] != nil }

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
