package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// codes reads the codes of calc's table of kinds, by their type.
func codes(t *testing.T) map[string][]string {
	t.Helper()
	all := map[string][]string{}
	paths, err := filepath.Glob("../../calc/finding/kinds_*.go")
	if err != nil || len(paths) == 0 {
		t.Fatalf("no table of kinds: %v", err)
	}
	for _, path := range paths {
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			v, ok := n.(*ast.ValueSpec)
			if !ok || len(v.Values) != 1 {
				return true
			}
			if lit, ok := v.Values[0].(*ast.BasicLit); ok && lit.Kind == token.STRING {
				code, _ := strconv.Unquote(lit.Value)
				kind := v.Type.(*ast.Ident).Name
				all[kind] = append(all[kind], code)
			}
			return false
		})
	}
	return all
}

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
		{"checked", []string{"Checked"}, both(c.Checked)},
		{"cautions", []string{"Caution"}, both(c.Cautions)},
		{"settle", []string{"Settle"}, both(c.Settle)},
		{"evidence", []string{"Fact"}, both(c.Evidence)},
		{"look_for", []string{"LookFor"}, both(c.LookFor)},
		{"questions", []string{"Question"}, c.Questions},
		{"not_judged", []string{"Recorded"}, both(c.NotJudged)},
		{"labels", []string{"Condition", "Closed", "Reason"}, both(c.Labels)},
	}
}

// Every code has its words, for each reader in each language.
func TestEveryCodeHasItsWords(t *testing.T) {
	kinds := codes(t)
	for _, language := range Languages() {
		c := In(language)
		for _, s := range sections(c) {
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

// No words are left without a code. Labels are of much else, too.
func TestEveryTextHasItsCode(t *testing.T) {
	kinds := codes(t)
	for _, s := range sections(In(Default)) {
		known := slices.Concat(lists(kinds, s.kinds)...)
		for code := range s.texts {
			for _, variant := range []string{".cannot-tell", ".candidate", ".no-target", ".finish-cold"} {
				code = strings.TrimSuffix(code, variant)
			}
			if s.name != "labels" && !slices.Contains(known, code) {
				t.Errorf("words in %s for %s, which is no code", s.name, code)
			}
		}
	}
}
