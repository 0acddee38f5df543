package rulebook_test

import (
	"encoding/csv"
	"os"
	"strings"
	"testing"

	"gaugebook.dev/calc/rulebook"
)

// rowsOf reads a table of testdata/published without its head.
func rowsOf(t *testing.T, name string) [][]string {
	t.Helper()
	f, err := os.Open("../../testdata/published/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows[1:]
}

// Each row of law that was looked up is a rule here, or it is told why nothing is judged by
// it; what it asks for that no visit tells is told beside its rules. A rule known better
// than its row would claim what nobody read.
func TestEveryRowOfLaw(t *testing.T) {
	known := map[string]string{}
	for _, row := range rowsOf(t, "law_figures.csv") {
		known[row[0]] = row[4]
	}
	seen := map[string]bool{}
	for _, row := range rowsOf(t, "law_rows.csv") {
		id, status, rules, why := row[0], row[1], strings.Fields(row[2]), row[3]
		if seen[id] {
			t.Errorf("%s stands twice", id)
		}
		seen[id] = true
		if len(rules) == 0 && why == "" {
			t.Errorf("%s (%s): no rule, and no reason", id, status)
		}
		better := 0
		for _, rule := range rules {
			book, limit, _ := strings.Cut(rule, ".")
			if _, ok := rulebook.Get(book); !ok {
				t.Errorf("%s: there is no rulebook %s", id, book)
				continue
			}
			find(t, rule)
			if _, held := known[rule]; !held && placeOf(book) != "" {
				t.Errorf("%s: %s has no figure in law_figures.csv", id, limit)
			}
			if known[rule] == "read" {
				better++
			}
		}
		if status == "reported" && better > 0 && !readElsewhere[id] {
			t.Errorf("%s is reported, and a rule of it is said to be read", id)
		}
	}
	const rows = 142
	if len(seen) != rows {
		t.Errorf("%d rows, want %d", len(seen), rows)
	}
}

// readElsewhere are reported rows whose rules were read in an earlier text.
var readElsewhere = map[string]bool{"UK-27-15": true}

// placeOf is the country of a book, "" for practice.
func placeOf(id string) string { return rulebook.Must(id).Country }
