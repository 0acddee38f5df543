package booktest

import (
	"go/parser"
	"go/token"
	"path/filepath"
	"strings"
	"testing"
)

// What the model shares with the book it cannot find wrong there.
func TestTheModelImportsNothingOfOurs(t *testing.T) {
	files, err := filepath.Glob("*.go")
	if err != nil || len(files) < 2 {
		t.Fatalf("%v: %v", files, err)
	}
	for _, name := range files {
		f, err := parser.ParseFile(token.NewFileSet(), name, nil, parser.ImportsOnly)
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range f.Imports {
			if strings.Contains(i.Path.Value, "gaugebook") {
				t.Errorf("%s imports %s", name, i.Path.Value)
			}
		}
	}
}
