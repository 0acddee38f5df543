package app_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/words"
)

const (
	readme    = root + "/README.md"
	lawPage   = root + "/calc/rulebook/README.md"
	lawBegins = "<!-- law: begin -->\n"
	lawEnds   = "<!-- law: end -->\n"
)

// lawTable lists every figure of a law in use, as the rulebooks have it, by place.
func lawTable() string {
	teller, _ := words.Reader{}.Tellers()
	known := map[finding.Known]string{finding.Read: "known.read", finding.Reported: "known.reported", finding.FromMemory: "known.from-memory"}
	var out strings.Builder
	out.WriteString("| place | rulebook | limit | on | of | written in | known |\n|---|---|---|---|---|---|---|\n")
	books := rulebook.All()
	slices.SortStableFunc(books, func(a, b *rulebook.Book) int {
		return strings.Compare(strings.Join(a.Places(), " "), strings.Join(b.Places(), " "))
	})
	for _, b := range books {
		for _, l := range b.Limits {
			if l.Authority != finding.LawInUse || l.Value.IsZero() {
				continue
			}
			value := teller.Value(words.Exact(l.Value))
			if l.Value.Unit == unit.Years {
				value = teller.Value(words.Counted("age.years", l.Value))
			}
			fmt.Fprintf(&out, "| %s | `%s`%s | %s | %s | %s | %s | %s |\n", strings.Join(b.Places(), " "), b.Name(), place(b), value, l.Subject, l.Applies.Text, l.Citation, teller.Text(words.Labels, known[l.Known]))
		}
	}
	return out.String()
}

// place is where a rulebook is law, from its title; "" for one of no place.
func place(b *rulebook.Book) string {
	if b.Country == "" {
		return ""
	}
	where, _, _ := strings.Cut(b.Title, " (")
	where, _, _ = strings.Cut(where, ",")
	return " " + where
}

// README is read on one screen after another: it stays short.
func TestReadmeIsShort(t *testing.T) {
	const most = 160
	data, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	if n := strings.Count(string(data), "\n"); n > most {
		t.Errorf("README has %d lines, more than %d", n, most)
	}
}

// The table of what is law where, beside the rulebooks, says what they say.
func TestReadmeLawTable(t *testing.T) {
	data, err := os.ReadFile(lawPage)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, ok := strings.Cut(string(data), lawBegins)
	written, after, ended := strings.Cut(rest, lawEnds)
	if !ok || !ended {
		t.Fatal("the page has no place for the table of laws")
	}
	want := "\n" + lawTable() + "\n"
	if strings.Count(want, "\n") < 25 {
		t.Fatalf("only so much is law:\n%s", want)
	}
	if written == want {
		return
	}
	if !*update {
		t.Fatal("the table of laws differs from the rulebooks: run this test with -update")
	}
	if err := os.WriteFile(lawPage, []byte(before+lawBegins+want+lawEnds+after), 0o644); err != nil {
		t.Fatal(err)
	}
}

// README's report is the demo's with lines left out, where an ellipsis says so.
func TestReadmeReport(t *testing.T) {
	page, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	report, err := os.ReadFile(root + "/testdata/demo/reports/en/sedan-nail.txt")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(page), "## What the report looks like\n")
	section, _, _ := strings.Cut(rest, "\n## ")
	shown, left := 0, strings.Split(string(report), "\n")
	for _, line := range strings.Split(section, "\n")[1:] {
		line, indented := strings.CutPrefix(line, "    ")
		if strings.HasPrefix(line, "gaugebook ") {
			break // its flags come after it
		}
		line, cut := strings.CutSuffix(line, "...")
		if line = strings.TrimSpace(line); !indented || line == "" {
			continue
		}
		at := slices.IndexFunc(left, func(l string) bool {
			l = strings.TrimSpace(l)
			return l == line || cut && strings.HasPrefix(l, line)
		})
		if at < 0 {
			t.Errorf("the report has no such line from here on: %q", line)
			continue
		}
		shown, left = shown+1, left[at+1:]
	}
	if shown < 10 {
		t.Errorf("README shows %d lines of a report", shown)
	}
}

// The example of the Android client's README is what one of its tests does, line by line
// but for where the server is.
func TestAndroidReadme(t *testing.T) {
	page, err := os.ReadFile(root + "/clients/android/README.md")
	if err != nil {
		t.Fatal(err)
	}
	tested, err := os.ReadFile(root + "/clients/android/src/test/kotlin/dev/gaugebook/client/ReadmeTest.kt")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(page), "```kotlin\n")
	example, _, _ := strings.Cut(rest, "\n```")
	lines, left := strings.Split(example, "\n")[1:], strings.Split(string(tested), "\n")
	if len(lines) < 15 {
		t.Fatalf("the example has %d lines", len(lines))
	}
	for _, line := range lines {
		line, _, _ = strings.Cut(line, "   //")
		at := slices.IndexFunc(left, func(l string) bool { return strings.TrimSpace(l) == strings.TrimSpace(line) })
		if at < 0 {
			t.Errorf("no test has the line %q", line)
			continue
		}
		left = left[at+1:]
	}
}
