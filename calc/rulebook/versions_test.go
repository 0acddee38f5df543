package rulebook_test

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
)

var update = flag.Bool("update", false, "write the digests of versions that have none yet")

const digests = "testdata/versions.txt"

// TestVersionsNeverChange: what a version says is for ever, since kept answers
// name it. A change of a rulebook is a new version, and the old one stays.
func TestVersionsNeverChange(t *testing.T) {
	known := map[string]string{}
	data, err := os.ReadFile(digests)
	if err != nil && !*update {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(data)) {
		name, digest, _ := strings.Cut(strings.TrimSpace(line), " ")
		known[name] = digest
	}
	var lines []string
	seen := map[string]bool{}
	for _, b := range rulebook.Versions() {
		sum := sha256.Sum256(said(t, b))
		digest := hex.EncodeToString(sum[:8])
		switch {
		case seen[b.Name()]:
			t.Errorf("two books are called %s", b.Name())
		case known[b.Name()] == "" && !*update:
			t.Errorf("%s is new: run this test with -update", b.Name())
		case known[b.Name()] != "" && known[b.Name()] != digest:
			t.Errorf("%s changed: give the change a new version, and keep this one", b.Name())
		}
		seen[b.Name()] = true
		lines = append(lines, fmt.Sprintln(b.Name(), digest))
	}
	for name := range known {
		if !seen[name] {
			t.Errorf("%s is gone: kept answers name it", name)
		}
	}
	if *update && !t.Failed() {
		slices.Sort(lines)
		if err := os.WriteFile(digests, []byte(strings.Join(lines, "")), 0o644); err != nil {
			t.Fatal(err)
		}
	}
}

// said is all that a version says, without the fields it says nothing in, so that
// a new kind of field changes no old version.
func said(t *testing.T, b *rulebook.Book) []byte {
	t.Helper()
	content, err := json.Marshal(b) //nolint:musttag // to be compared, never read back
	if err != nil {
		t.Fatal(err)
	}
	var fields map[string]any
	if err := json.Unmarshal(content, &fields); err != nil {
		t.Fatal(err)
	}
	content, err = json.Marshal(told(fields))
	if err != nil {
		t.Fatal(err)
	}
	return content
}

func told(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for name, field := range v {
			if v[name] = told(field); v[name] == nil {
				delete(v, name)
			}
		}
		if len(v) == 0 {
			return nil
		}
	case []any:
		for i := range v {
			v[i] = told(v[i])
		}
		if len(v) == 0 {
			return nil
		}
	case string:
		if v == "" {
			return nil
		}
	case float64:
		if v == 0 {
			return nil
		}
	case bool:
		if !v {
			return nil
		}
	}
	return v
}

// Two versions of one book live side by side: each is found by its name, and the
// id alone means the newest.
func TestVersionsSideBySide(t *testing.T) {
	newest, ok := rulebook.Get("eu-at")
	if !ok || newest.Name() != "eu-at@2" {
		t.Fatalf("eu-at is %v", newest)
	}
	old, ok := rulebook.Get("eu-at@1")
	if !ok || old.Version != 1 || old == newest {
		t.Fatalf("eu-at@1 is %v", old)
	}
	if got, _ := rulebook.Get("eu-at@2"); got != newest {
		t.Errorf("eu-at@2 is %v", got)
	}
	if len(old.About(rulebook.WinterTire)) != 0 || len(newest.About(rulebook.WinterTire)) != 3 {
		t.Errorf("winter rules: %d in the old, %d in the new", len(old.About(rulebook.WinterTire)), len(newest.About(rulebook.WinterTire)))
	}
	if got := old.Limit("depth"); got.Value != newest.Limit("depth").Value {
		t.Errorf("the depth changed: %v", got.Value)
	}
	for _, name := range []string{"eu-at@3", "eu-at@", "eu-at@01", "@1"} {
		if b, ok := rulebook.Get(name); ok {
			t.Errorf("%s is found: %s", name, b.Name())
		}
	}
	books, _ := rulebook.Choose(layout.Vehicle{Class: layout.PassengerCar}, rulebook.Use{}, []string{"eu-at@1"})
	if len(books) != 1 || books[0].Book != old {
		t.Errorf("asked for eu-at@1: %s", chosen(books))
	}
	for _, b := range rulebook.All() {
		if got, _ := rulebook.Get(b.ID); got != b {
			t.Errorf("%s is not its newest version", b.ID)
		}
		versions := 0
		for _, o := range rulebook.Versions() {
			if o.ID == b.ID {
				versions++
			}
		}
		if versions != b.Version {
			t.Errorf("%s: %d versions are there", b.Name(), versions)
		}
	}
}
