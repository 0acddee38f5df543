package words

import (
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/finding/findingtest"
)

// tableOfKinds is where calc's codes are declared.
const tableOfKinds = "../../calc/finding"

// section is a section of the catalogue, with the types of the codes it tells.
type section struct {
	name  string
	kinds []string
	texts map[string]Pair // a text for both readers stands as both
}

func sections(c *Catalogue) []section {
	both := func(texts map[string]string) map[string]Pair {
		all := map[string]Pair{}
		for code, s := range texts {
			all[code] = Pair{s, s}
		}
		return all
	}
	return []section{
		{"findings", []string{"Code"}, c.Findings},
		{"work", []string{"Work", "Target"}, c.Work},
		{"glances", []string{"Code", "Work", "Settle", "Unknown"}, both(c.Glances)},
		{"checked", []string{"Checked"}, both(c.Checked)},
		{"cautions", []string{"Caution"}, both(c.Cautions)},
		{"settle", []string{"Settle"}, both(c.Settle)},
		{"evidence", []string{"Fact"}, both(c.Evidence)},
		{"look_for", []string{"LookFor"}, both(c.LookFor)},
		{"questions", []string{"Question"}, c.Questions},
		{"not_judged", []string{"Recorded"}, both(c.NotJudged)},
		{"notes", []string{"Remark"}, both(c.Notes)},
		{"titles", []string{"Code", "Work"}, both(c.Titles)},
		{"labels", []string{"Condition", "Closed", "Reason"}, both(c.Labels)},
	}
}

// Every code has its words, for each reader in each language.
func TestEveryCodeHasItsWords(t *testing.T) {
	kinds := findingtest.Constants(t, tableOfKinds)
	for _, language := range Tongues() {
		c := In(language)
		for _, s := range sections(c) {
			if s.name == "glances" {
				continue // of many codes none is wanted
			}
			for _, code := range slices.Concat(lists(kinds, s.kinds)...) {
				if p := s.texts[code]; p.Technician == "" || p.Customer == "" {
					t.Errorf("%s: %s has no words in %s", code, language, s.name)
				}
			}
		}
	}
}

func lists(kinds map[string][]string, of []string) (all [][]string) {
	for _, k := range of {
		all = append(all, kinds[k])
	}
	return all
}

// Whatever can be open, be done first, be asked for, quoted or due later, and whatever is
// not known, has a phrase for headlines and rows.
func TestEveryCodeHasItsGlance(t *testing.T) {
	kinds := findingtest.Constants(t, tableOfKinds)
	wanted := slices.Concat(kinds["Settle"], kinds["Unknown"])
	for k := range finding.Kinds() {
		if k.Urgency != finding.Note && !k.Retired {
			wanted = append(wanted, string(k.Code))
		}
	}
	for _, code := range kinds["Work"] {
		k := finding.WorkOf(finding.Work(code))
		stepOf := k.Needs == finding.NeedsWork && k.Stage != finding.StageLater && !k.ForThem
		if !k.Retired && !k.Opening && !k.Routine && !stepOf {
			wanted = append(wanted, code)
		}
	}
	for _, language := range Tongues() {
		for _, code := range wanted {
			if In(language).Glances[code] == "" {
				t.Errorf("%s: %s has no glance", code, language)
			}
		}
	}
}

// No words are left without a code. Labels are of much else, too.
func TestEveryTextHasItsCode(t *testing.T) {
	kinds := findingtest.Constants(t, tableOfKinds)
	for _, s := range sections(In(Default)) {
		known := slices.Concat(lists(kinds, s.kinds)...)
		for code := range s.texts {
			for _, variant := range []string{".cannot-tell", ".candidate", ".no-target", ".no-measured", ".finish-cold"} {
				code = strings.TrimSuffix(code, variant)
			}
			if s.name != "labels" && !slices.Contains(known, code) {
				t.Errorf("words in %s for %s, which is no code", s.name, code)
			}
		}
	}
}
