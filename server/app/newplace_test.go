package app_test

import (
	"encoding/json"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gaugebook.dev/calc/rulebook"
)

// byHand are the most files that a contributor touches by hand for one more State.
const byHand = 4

// nowhere is an invented State of the US: its literal, and the rows that go with it.
const (
	nowhere = `package rulebook

import "gaugebook.dev/calc/finding"

var usNowhere = Book{
	ID: "us-zz", Version: 1, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "ZZ", InPlace: true},
	Title: "Nowhere (law in use, as reported)",
	Limits: []Limit{{
		ID: "depth", Subject: TreadDepth, Value: thirtySeconds(7), Where: AnyPointMajorGroove,
		Applies:   Scope{Text: "every vehicle"},
		Authority: finding.LawInUse, Citation: "Nowhere Code 1, as reported", Known: finding.Reported,
		Says: "At least 7/32 in.",
	}},
}
`
	nowhereRow    = "us-zz.depth,7,/32 in,\"Nowhere Code 1, as reported\",reported,,,,,driver\n"
	nowhereSource = "sources:\n  \"Nowhere Code 1, as reported\": \"Nowhere Code 1, según referencias\"\n"
	nowhereVisit  = `{"vehicle": {"vehicleClass": "VEHICLE_CLASS_PASSENGER_CAR", "grossRating": {"pounds": 4200},
	"use": {"drivenIn": [{"country": "US", "state": "ZZ"}], "businessAcrossStateLines": "ANSWER_NO", "tows": "ANSWER_NO"}},
	"inspection": {"localDate": {"year": 2026, "month": 6, "day": 15}, "wheels": [{"position": "1L", "tread": [{"depth": {"thirtySecondsInch": 5}}]}]}}`
)

// touched are the files of the tree as they are with the invented State.
func touched(t *testing.T) map[string]string {
	t.Helper()
	files := map[string]string{"calc/rulebook/us_nowhere.go": nowhere}
	for name, change := range map[string][2]string{
		"calc/rulebook/places.go":            {"\t&usLight,\n", "\t&usLight,\n\t&usNowhere,\n"},
		"server/words/es/sources.yaml":       {"sources:\n", nowhereSource},
		"testdata/published/law_figures.csv": {"us-light.depth,", nowhereRow + "us-light.depth,"},
	} {
		data, err := os.ReadFile(filepath.Join(root, name))
		if err != nil {
			t.Fatal(err)
		}
		if !strings.Contains(string(data), change[0]) {
			t.Fatalf("%s has no place for it", name)
		}
		files[name] = strings.Replace(string(data), change[0], change[1], 1)
	}
	return files
}

// One more State is four files by hand and no code: the program built from the tree with
// them laid over it lists the State's rulebook, judges a visit by it and tells what it
// found in every language.
func TestOneMoreStateIsFourFiles(t *testing.T) {
	dir, over := t.TempDir(), map[string]map[string]string{"Replace": {}}
	files := touched(t)
	if len(files) > byHand {
		t.Errorf("%d files by hand: %v", len(files), slices.Sorted(maps.Keys(files)))
	}
	top, err := filepath.Abs(root)
	if err != nil {
		t.Fatal(err)
	}
	write := func(name, content string) string {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(content), 0o600); err != nil {
			t.Fatal(err)
		}
		return path
	}
	for name, content := range files {
		over["Replace"][filepath.Join(top, name)] = write(filepath.Base(name), content)
	}
	list, err := json.Marshal(over)
	if err != nil {
		t.Fatal(err)
	}
	binary := filepath.Join(dir, "program")
	run := func(name string, args ...string) string {
		cmd := exec.CommandContext(t.Context(), name, args...)
		cmd.Dir = top
		said, _ := cmd.CombinedOutput() // what a visit comes to is in the exit status
		return string(said)
	}
	if said := run("go", "build", "-overlay", write("overlay.json", string(list)), "-o", binary, house); said != "" {
		t.Fatal(said)
	}
	visit := write("visit.json", nowhereVisit)
	for _, c := range []struct {
		args []string
		want []string
	}{
		{[]string{"rulebook", "list", "--place", "US-ZZ"}, []string{"us-zz@1"}},
		{[]string{"assess", "--full", visit}, []string{"Nowhere Code 1, as reported", "7/32"}},
		{[]string{"assess", "--full", "--language", "es", visit}, []string{"Nowhere Code 1, según referencias", "7/32"}},
	} {
		said := strings.Join(strings.Fields(run(binary, c.args...)), " ") // whatever its lines
		for _, want := range c.want {
			if !strings.Contains(said, want) {
				t.Errorf("%v does not say %q:\n%s", c.args, want, said)
			}
		}
	}
}

// No code names a place's book: it stands in its own file and in places.go, and its former
// versions in files of those alone.
func TestPlacesAreNamedByTheirFilesAlone(t *testing.T) {
	ids := map[string]bool{}
	for _, b := range rulebook.All() {
		if len(b.Places()) > 0 {
			ids[strconv.Quote(b.ID)] = true
		}
	}
	if len(ids) < 40 {
		t.Fatalf("only %d books of places", len(ids))
	}
	in := map[string][]string{} // files by the book's id
	for _, dir := range []string{"calc", "server", "gateway"} {
		if err := filepath.WalkDir(filepath.Join(root, dir), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasPrefix(d.Name(), "former") {
				return err
			}
			file, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.SkipObjectResolution)
			if err != nil {
				return err
			}
			ast.Inspect(file, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING && ids[lit.Value] && !slices.Contains(in[lit.Value], path) {
					in[lit.Value] = append(in[lit.Value], path)
				}
				return true
			})
			return nil
		}); err != nil {
			t.Fatal(err)
		}
	}
	for id := range ids {
		if len(in[id]) != 1 || filepath.Base(filepath.Dir(in[id][0])) != "rulebook" {
			t.Errorf("%s is named by %v", id, in[id])
		}
	}
}
