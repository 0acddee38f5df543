package words

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/rulebook"
)

var (
	quoted = regexp.MustCompile(`"([^"\s]+)"`)
	dotted = regexp.MustCompile(`^[a-z]+(-[a-z]+)*(\.[a-z]+(-[a-z]+)*)+$`)
)

// codesNamed are the codes and rules that comments of a contract file give as
// examples: "tread.legal-limit", or within an id, "code/rule:positions".
func codesNamed(source string) (all []string) {
	for l := range strings.Lines(source) {
		_, comment, _ := strings.Cut(l, "//")
		for _, m := range quoted.FindAllStringSubmatch(comment, -1) {
			for _, part := range strings.FieldsFunc(m[1], func(r rune) bool { return r == '/' || r == ':' }) {
				if dotted.MatchString(part) {
					all = append(all, part)
				}
			}
		}
	}
	return all
}

// Who reads the contract meets no code that no answer ever has.
func TestCodesInTheContractExist(t *testing.T) {
	known := map[string]bool{}
	add := func(codes ...string) {
		for _, code := range codes {
			known[code] = true
		}
	}
	c := In(Default)
	for _, texts := range []map[string]Pair{c.Findings, c.Work, c.Questions} {
		add(slices.Collect(maps.Keys(texts))...)
	}
	for _, texts := range []map[string]string{c.Checked, c.Evidence, c.NotJudged} {
		add(slices.Collect(maps.Keys(texts))...)
	}
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			add(b.RuleOf(l).ID)
		}
	}
	files, err := filepath.Glob("../../proto/gaugebook/v1/*.proto")
	if err != nil {
		t.Fatal(err)
	}
	named := 0
	for _, file := range files {
		source, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, code := range codesNamed(string(source)) {
			if named++; !known[code] {
				t.Errorf("%s names %q, which there is not", filepath.Base(file), code)
			}
		}
	}
	if named < 5 {
		t.Errorf("%d codes were found in comments: are they written otherwise now?", named)
	}
}
