package rulebook_test

import (
	"encoding/csv"
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/rulebook"
)

// Every figure and condition of a law or model standard, as its source was copied
// apart from the program, with how the source is known, whose copy of it was read and of
// what day, the words it rests on, when it holds and whom it binds. A limit without a row, or whose row is gone, fails.
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
		book, _, _ := strings.Cut(rule, ".")
		if got := whenOf(l); got != row[8] {
			t.Errorf("%s: holds %q, want %q", rule, got, row[8])
		}
		if got := boundOf(rulebook.Must(book).Bound(l)); got != row[9] {
			t.Errorf("%s: binds %q, want %q", rule, got, row[9])
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

// whenOf writes when a rule holds: "season 11-15..03-01; M+S alone; asked for".
func whenOf(l rulebook.Limit) string {
	w := l.Winter
	switch {
	case l.MayBe:
		return "may bind"
	case w == nil:
		return ""
	}
	said := map[rulebook.Trigger]string{
		0:                 "fitted",
		rulebook.InSeason: "season", rulebook.InConditions: "conditions", rulebook.InSeasonAndConditions: "season and conditions",
		rulebook.InSeasonOrConditions: "season or conditions", rulebook.OnSignedRoads: "signed roads", rulebook.WheneverFitted: "whenever fitted",
	}[w.Trigger]
	if w.HasSeason() {
		until := fmt.Sprintf("%02d-%02d", w.Until.Month, w.Until.Day)
		if w.AfterEaster > 0 {
			until = fmt.Sprintf("Easter+%d", w.AfterEaster)
		}
		said += fmt.Sprintf(" %02d-%02d..%s", w.From.Month, w.From.Day, until)
	}
	if mark := []string{"", "three peaks or studs", "three peaks alone", "M+S alone", "three peaks with M+S, or studs"}[w.Mark]; mark != "" {
		said += "; " + mark
	}
	if d := w.MudAndSnowUntil; !d.IsZero() {
		said += fmt.Sprintf("; M+S to %d-%02d-%02d", d.Year, d.Month, d.Day)
	}
	if l.Shown {
		said += "; shown to the driver"
	}
	if w.DepthWillDo {
		said += "; or the depth"
	}
	if w.Required {
		said += "; asked for"
	}
	return said
}

// boundOf writes whom a rule binds.
func boundOf(b finding.Binds) string {
	var who []string
	for i, name := range []string{"driver", "owner", "employer", "carrier", "seller"} {
		if b&(1<<i) != 0 {
			who = append(who, name)
		}
	}
	return strings.Join(who, ", ")
}
