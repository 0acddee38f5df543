package rulebook_test

import (
	"encoding/csv"
	"os"
	"strconv"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/rulebook"
)

// Every figure and condition of a law or model standard, as its source was copied
// apart from the program, with how the source is known, whose copy of it was read and of
// what day, and the words it rests on. A limit without a row, or whose row is gone, fails.
func TestPublishedFigures(t *testing.T) {
	f, err := os.Open("../../testdata/published/law_figures.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	known := map[string]finding.Known{"read": finding.Read, "reported": finding.Reported, "from memory": finding.FromMemory}
	copied := map[string]rulebook.Copyist{"": rulebook.OfState, "reprint": rulebook.Reprint, "agency": rulebook.Agency}
	seen := map[string]bool{}
	for _, row := range rows[1:] {
		rule, source, how := row[0], row[3], row[4]
		if seen[rule] {
			t.Errorf("%s stands twice", rule)
		}
		seen[rule] = true
		l := find(t, rule)
		printed := ""
		if !l.Value.IsZero() {
			printed = strconv.FormatFloat(l.Value.Number, 'f', -1, 64)
		}
		if printed != row[1] || l.Value.Unit.String() != row[2] {
			t.Errorf("%s: %s %v, printed %s %s in %s", rule, printed, l.Value.Unit, row[1], row[2], source)
		}
		if l.Known != known[how] {
			t.Errorf("%s: known as %v, want %s", rule, l.Known, how)
		}
		if !strings.Contains(l.Citation, source) {
			t.Errorf("%s: cites %q, want %q", rule, l.Citation, source)
		}
		if want := (rulebook.Text{By: copied[row[5]], Copy: row[6], Words: row[7]}); l.Text != want {
			t.Errorf("%s: rests on %+v, want %+v", rule, l.Text, want)
		}
	}
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			// Repairs have a table of their own, repair.csv.
			if rule := b.ID + "." + l.ID; b.Country != "" && !strings.HasPrefix(b.ID, "repair-") && !seen[rule] {
				t.Errorf("%s has no row", rule)
			}
		}
	}
}
