package words

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path"

	"go.yaml.in/yaml/v3"
)

// Pair is what is said of one thing, to the one who does the work and to the
// one who pays for it.
type Pair struct {
	Technician string `yaml:"technician"`
	Customer   string `yaml:"customer"`
}

// Catalogue holds the texts of one language by code, as they are written.
type Catalogue struct {
	Findings  map[string]Pair   `yaml:"findings"`
	Work      map[string]Pair   `yaml:"work"`
	Headlines map[string]Pair   `yaml:"headlines"` // what comes before all else
	Glances   map[string]string `yaml:"glances"`   // a part of a headline or a row: the fact alone
	Checked   map[string]string `yaml:"checked"`   // looked at and nothing found
	Cautions  map[string]string `yaml:"cautions"`  // where someone could be hurt
	Settle    map[string]string `yaml:"settle"`    // the measurement that would decide
	Evidence  map[string]string `yaml:"evidence"`  // a noun phrase; the amount follows it
	LookFor   map[string]string `yaml:"look_for"`  // inside a tire that comes off
	Questions map[string]Pair   `yaml:"questions"` // technician: the question; customer: what its answer would allow
	NotJudged map[string]string `yaml:"not_judged"`
	Notes     map[string]string `yaml:"notes"`  // beside the numbers of a calculator
	Labels    map[string]string `yaml:"labels"` // headings, urgencies, authorities, places, reasons
	Titles    map[string]string `yaml:"titles"` // of findings and work, in a few words, without a value

	// Sources are titles of rulebooks and what rules are cited from, by their
	// English, where they are plain words; titles of laws and standards stay as
	// they are.
	Sources map[string]string `yaml:"sources"`

	// Forms are the forms that labels have beside their plain one, where a language
	// bends its nouns: the label place.spare.dative is a form of place.spare.
	Forms []string `yaml:"forms"`

	// Terms are words of the wider language for which a region has others, each with
	// the one in its place; they are told wherever the region has no text of its own.
	Terms map[string]string `yaml:"terms"`

	// Except are tags of regions that lie in this one and do not speak so.
	Except []string `yaml:"except"`

	// ThousandsFrom is how many digits a whole number has at least that shows its
	// thousands apart (CLDR minimumGroupingDigits, and three); 0 is four.
	ThousandsFrom int `yaml:"thousands_from"`
}

// add decodes one file strictly into the catalogue. A code that another file of the
// language has in the same section is refused.
func (c *Catalogue) add(data []byte) error {
	var more Catalogue
	d := yaml.NewDecoder(bytes.NewReader(data))
	d.KnownFields(true)
	if err := d.Decode(&more); err != nil && !errors.Is(err, io.EOF) {
		return err
	}
	c.Forms = append(c.Forms, more.Forms...)
	c.Except = append(c.Except, more.Except...)
	c.ThousandsFrom = max(c.ThousandsFrom, more.ThousandsFrom)
	return errors.Join(
		merge(&c.Findings, more.Findings), merge(&c.Work, more.Work), merge(&c.Headlines, more.Headlines), merge(&c.Glances, more.Glances), merge(&c.Checked, more.Checked), merge(&c.Cautions, more.Cautions),
		merge(&c.Settle, more.Settle), merge(&c.Evidence, more.Evidence), merge(&c.LookFor, more.LookFor), merge(&c.Questions, more.Questions),
		merge(&c.NotJudged, more.NotJudged), merge(&c.Notes, more.Notes), merge(&c.Labels, more.Labels), merge(&c.Titles, more.Titles), merge(&c.Sources, more.Sources), merge(&c.Terms, more.Terms),
	)
}

func merge[T any](into *map[string]T, more map[string]T) error {
	if *into == nil {
		*into = map[string]T{}
	}
	var twice []error
	for code, text := range more {
		if _, ok := (*into)[code]; ok {
			twice = append(twice, fmt.Errorf("%s stands in another file too", code))
		}
		(*into)[code] = text
	}
	return errors.Join(twice...)
}

// readCatalogues reads the files LANGUAGE/NAME.yaml of a file system.
func readCatalogues(fsys fs.FS) (map[string]*Catalogue, error) {
	paths, err := fs.Glob(fsys, "*/*.yaml")
	if err != nil {
		return nil, err
	}
	all := map[string]*Catalogue{}
	for _, p := range paths {
		data, err := fs.ReadFile(fsys, p)
		if err != nil {
			return nil, err
		}
		language := path.Dir(p)
		if all[language] == nil {
			all[language] = &Catalogue{}
		}
		if err := all[language].add(data); err != nil {
			return nil, fmt.Errorf("%s: %w", p, err)
		}
	}
	return all, nil
}
