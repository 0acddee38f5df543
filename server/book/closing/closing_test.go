package closing

import (
	"testing"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/words"
)

// Every family of findings that there are words for is known here, or nothing in
// a visit tells that it was looked at again.
func TestEveryFamilyOfFindingsHasARow(t *testing.T) {
	known := map[string]bool{}
	for code := range words.In(words.Default).Findings {
		known[family(finding.Code(code))] = true
	}
	for name := range known {
		if _, there := families[name]; !there {
			t.Errorf("%q: has no row", name)
		}
	}
	for name := range families {
		if !known[name] {
			t.Errorf("%q: there is no such finding", name)
		}
	}
}
