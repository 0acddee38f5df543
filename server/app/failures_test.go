package app_test

import (
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
)

// The table of failures names tests that there are, at least one in each row.
func TestTheTableOfFailuresNamesItsTests(t *testing.T) {
	table, err := os.ReadFile(filepath.Join(root, "server/app/operate/failures.md"))
	if err != nil {
		t.Fatal(err)
	}
	tests := testNames(t)
	named := regexp.MustCompile("`([A-Z][A-Za-z]+)`")
	rows := 0
	for line := range strings.Lines(string(table)) {
		cells := strings.Split(strings.TrimSpace(line), "|")
		if len(cells) != 5 || strings.HasPrefix(cells[1], "---") || strings.Contains(cells[3], "Held by") {
			continue
		}
		rows++
		found := named.FindAllStringSubmatch(cells[3], -1)
		if len(found) == 0 {
			t.Errorf("held by none: %s", line)
		}
		for _, m := range found {
			if !tests[m[1]] {
				t.Errorf("there is no test %s", m[1])
			}
		}
	}
	if rows < 10 {
		t.Errorf("%d rows", rows)
	}
}

// testNames are all tests of the server, and the promises that drivers are held to.
func testNames(t *testing.T) map[string]bool {
	t.Helper()
	names := map[string]bool{}
	declared := regexp.MustCompile(`(?m)^func (Test\w+)\(|^\t\t\{"([A-Z]\w+)", \w+\},$`)
	err := filepath.WalkDir(filepath.Join(root, "server"), func(path string, entry fs.DirEntry, err error) error {
		if err != nil || entry.IsDir() || !strings.HasSuffix(path, ".go") || !strings.Contains(path, "test") {
			return err
		}
		text, err := os.ReadFile(path)
		for _, m := range declared.FindAllStringSubmatch(string(text), -1) {
			names[m[1]+m[2]] = true
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return names
}
