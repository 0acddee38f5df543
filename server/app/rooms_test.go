package app_test

import (
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// house is this module's path, root the way from this folder to its top.
const (
	house = "gaugebook.dev"
	root  = "../.."
)

// A room is a folder with all that lies below it, down to a folder with a row
// of its own. Its row says what the Go files in it may import directly.
type room struct {
	dir    string   // from the module's top; "." is the top's own files and nothing below
	ours   []string // folders of this module, each with all that lies below it
	theirs []string // paths of other modules, the same way
	anyone bool     // any other module
	pure   bool     // nothing that reads or writes the world, see unpure; tests are free
	tests  bool     // tests may import what the room above may
}

// rooms is the whole table. A folder of Go files without a row is an error, so
// that a new room gets one before it gets its first import.
var rooms = append([]room{
	{dir: ".", ours: []string{"server/app"}},
	{dir: "proto", ours: []string{"proto"}, theirs: []string{"google.golang.org/protobuf", "google.golang.org/grpc"}},
	{dir: "server", ours: []string{"proto", "calc", "server"}, anyone: true},
	// What is judged has no words: they are filled in by the one who answers.
	{dir: "server/translate", ours: []string{"proto", "calc", "server/translate"}, anyone: true, tests: true},
	{dir: "server/words", ours: []string{"calc", "server/words"}, anyone: true, tests: true},
	{dir: "server/book", ours: []string{"proto", "calc", "server/book", "server/check", "server/history", "server/translate"}, anyone: true, tests: true},
	{dir: "server/tell", ours: []string{"proto", "calc", "server/words", "server/tell"}, anyone: true, tests: true},
	// The only room that composes.
	{dir: "server/app", ours: []string{"proto", "calc", "server", "gateway"}, anyone: true},
	// A store of keys and bytes: it knows no tire.
	{dir: "server/history", ours: []string{"server/history"}, anyone: true},
	// Files of bytes: it knows no visit. Of the store it has the errors of a disk.
	{dir: "server/photos", ours: []string{"server/photos", "server/history"}, anyone: true},
	{dir: "gateway", ours: []string{"proto", "gateway"}, anyone: true},
	// Tests alone import it: it reads the files of the table of kinds.
	{dir: "calc/finding/findingtest", ours: []string{"calc/finding"}},
	// Tests alone import it: it reads and writes the pages of error rates.
	{dir: "calc/measure/measuretest", anyone: true},
	{dir: "clients", ours: []string{"proto", "clients"}, anyone: true},
}, calcRooms()...)

// calcFloors orders the packages of calc from the ground up. A package imports
// from the floors below its own, never from its own floor or from above.
var calcFloors = [][]string{
	{"unit"},
	{"layout", "measure", "sidewall"},
	{"finding", "plausible"},
	{"past", "rulebook"},
	{"fastener", "fitment", "inflation", "puncture", "sensor", "tread", "trend", "wear"},
	{"rotation"},
	{"visit"},
	{"questions"},
	{"closing"},
	{"order"},
	{"verdict"},
}

// calcRooms gives every package of calc its row.
func calcRooms() []room {
	var rows []room
	var below []string
	for _, floor := range calcFloors {
		for _, name := range floor {
			dir := "calc/" + name
			rows = append(rows, room{
				dir:    dir,
				ours:   append(slices.Clone(below), dir),
				theirs: []string{"gonum.org/v1/gonum"},
				pure:   true,
			})
		}
		for _, name := range floor {
			below = append(below, "calc/"+name)
		}
	}
	return rows
}

// unpure lists what a pure room must not touch: whole packages of the standard
// library with all below them (no names), or single names of a package.
// Local and LoadLocation are there because they answer by the machine they run on.
var unpure = map[string][]string{
	"crypto/rand": nil,
	"io/fs":       nil,
	"io/ioutil":   nil,
	"log":         nil,
	"math/rand":   nil,
	"net":         nil,
	"os":          nil,
	"plugin":      nil,
	"runtime":     nil,
	"syscall":     nil,
	"unsafe":      nil,
	"fmt":         {"Print", "Printf", "Println", "Scan", "Scanf", "Scanln"},
	"time": {
		"After", "AfterFunc", "LoadLocation", "Local", "NewTicker", "NewTimer",
		"Now", "Since", "Sleep", "Tick", "Until",
	},
}

// under says whether a path is a folder or lies below it.
func under(name, dir string) bool {
	return name == dir || strings.HasPrefix(name, dir+"/")
}

func underAny(name string, dirs []string) bool {
	return slices.ContainsFunc(dirs, func(dir string) bool { return under(name, dir) })
}

// roomOf finds the row of a folder: of those it lies under, the deepest.
func roomOf(dir string) (room, bool) {
	var found room
	for _, r := range rooms {
		if (dir == r.dir || r.dir != "." && under(dir, r.dir)) && len(r.dir) > len(found.dir) {
			found = r
		}
	}
	return found, found.dir != ""
}

// breaches lists what one Go file does against its room's row. The name is
// the file's path from the module's top, with slashes.
func breaches(name string, source []byte) ([]string, error) {
	r, ok := roomOf(path.Dir(name))
	if !ok {
		return []string{path.Dir(name) + " belongs to no room"}, nil
	}
	if strings.HasSuffix(name, "_test.go") {
		switch {
		case r.pure:
			return nil, nil
		case r.tests:
			r, _ = roomOf(path.Dir(r.dir))
		}
	}
	mode := parser.ImportsOnly
	if r.pure {
		mode = parser.SkipObjectResolution
	}
	file, err := parser.ParseFile(token.NewFileSet(), name, source, mode)
	if err != nil {
		return nil, fmt.Errorf("reading %s: %w", name, err)
	}

	var found []string
	watched := map[string]string{} // name in this file → package with unpure names
	for _, spec := range file.Imports {
		target, err := strconv.Unquote(spec.Path.Value)
		if err != nil {
			return nil, fmt.Errorf("reading %s: %w", name, err)
		}
		if !r.allows(target) {
			found = append(found, "imports "+target)
		}
		if !r.pure || unpure[target] == nil {
			continue
		}
		local := path.Base(target)
		if spec.Name != nil {
			local = spec.Name.Name
		}
		if local == "." {
			found = append(found, "imports "+target+" without its name")
		}
		watched[local] = target
	}
	if !r.pure {
		return found, nil
	}
	return append(found, unpureNames(file, watched)...), nil
}

// allows says whether a file of the room may import a path.
func (r room) allows(target string) bool {
	if ours, ok := strings.CutPrefix(target, house+"/"); ok {
		return underAny(ours, r.ours)
	}
	if first, _, _ := strings.Cut(target, "/"); strings.Contains(first, ".") {
		return r.anyone || underAny(target, r.theirs)
	}
	if !r.pure {
		return true
	}
	for banned, names := range unpure {
		if names == nil && under(target, banned) {
			return false
		}
	}
	return target != "C"
}

// unpureNames lists the unpure names that a file of a pure room uses of the
// watched packages, and the goroutines that it starts.
func unpureNames(file *ast.File, watched map[string]string) []string {
	var found []string
	ast.Inspect(file, func(node ast.Node) bool {
		if _, starts := node.(*ast.GoStmt); starts {
			found = append(found, "starts a goroutine")
		}
		selector, ok := node.(*ast.SelectorExpr)
		if !ok {
			return true
		}
		if ident, ok := selector.X.(*ast.Ident); ok {
			target := watched[ident.Name]
			if slices.Contains(unpure[target], selector.Sel.Name) {
				found = append(found, "uses "+target+"."+selector.Sel.Name)
			}
		}
		return true
	})
	return found
}

// TestRooms holds every Go file of the module against the table.
func TestRooms(t *testing.T) {
	seen := map[string]int{}
	err := filepath.WalkDir(root, func(name string, entry fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		// The folders that the go command leaves out too, and packages of npm.
		base := entry.Name()
		if entry.IsDir() {
			hidden := strings.HasPrefix(base, ".") || strings.HasPrefix(base, "_")
			if name != root && (hidden || base == "testdata" || base == "node_modules") {
				return fs.SkipDir
			}
			return nil
		}
		if filepath.Ext(base) != ".go" {
			return nil
		}
		source, err := os.ReadFile(name)
		if err != nil {
			return err
		}
		short, err := filepath.Rel(root, name)
		if err != nil {
			return err
		}
		short = filepath.ToSlash(short)
		found, err := breaches(short, source)
		for _, breach := range found {
			t.Errorf("%s: %s", short, breach)
		}
		top, _, _ := strings.Cut(short, "/")
		seen[top]++
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, top := range []string{"main.go", "proto", "calc", "server", "gateway"} {
		if seen[top] == 0 {
			t.Errorf("no Go file found in %s: looked in the wrong place?", top)
		}
	}
}

// TestRoomsRefuse shows the check wrong imports, and right ones beside them.
func TestRoomsRefuse(t *testing.T) {
	tests := []struct {
		file, body string
		want       []string
	}{
		{"calc/unit/a.go", `import "math"`, nil},
		{"calc/unit/a.go", `func f() { go f() }`, []string{"starts a goroutine"}},
		{"server/book/a.go", `func f() { go f() }`, nil},
		{"calc/unit/a.go", `import "gaugebook.dev/calc/measure"`, []string{"imports gaugebook.dev/calc/measure"}},
		{"calc/measure/a.go", `import "gaugebook.dev/calc/unit"`, nil},
		{"calc/layout/a.go", `import "gaugebook.dev/calc/sidewall"`, []string{"imports gaugebook.dev/calc/sidewall"}},
		{"calc/finding/a.go", `import "gaugebook.dev/calc/layout"`, nil},
		{"calc/finding/a.go", `import "gaugebook.dev/calc/rulebook"`, []string{"imports gaugebook.dev/calc/rulebook"}},
		{"calc/rulebook/a.go", `import "gaugebook.dev/calc/sidewall"`, nil},
		{"calc/tread/a.go", `import "gaugebook.dev/calc/inflation"`, []string{"imports gaugebook.dev/calc/inflation"}},
		{"calc/tread/a.go", `import "gaugebook.dev/calc/verdict"`, []string{"imports gaugebook.dev/calc/verdict"}},
		{"calc/verdict/a.go", `import "gaugebook.dev/calc/tread"`, nil},
		{"calc/verdict/a.go", `import "gaugebook.dev/server/words"`, []string{"imports gaugebook.dev/server/words"}},
		{"calc/verdict/a.go", `import pb "gaugebook.dev/proto/gaugebook/v1"`, []string{"imports gaugebook.dev/proto/gaugebook/v1"}},
		{"calc/verdict/a_test.go", `import ("os"; "gaugebook.dev/server/words")`, nil},
		{"calc/trend/a.go", `import "gonum.org/v1/gonum/stat"`, nil},
		{"calc/trend/a.go", `import "google.golang.org/grpc"`, []string{"imports google.golang.org/grpc"}},
		{"calc/tread/a.go", `import "net/http"`, []string{"imports net/http"}},
		{"calc/tread/a.go", `import "log/slog"`, []string{"imports log/slog"}},
		{"calc/tread/a.go", `import "os"`, []string{"imports os"}},
		{"calc/tread/a.go", `import "math/rand/v2"`, []string{"imports math/rand/v2"}},
		{"calc/tread/a.go", `import "C"`, []string{"imports C"}},
		{"calc/tread/a.go", `import "time"; var day = time.Date`, nil},
		{"calc/tread/a.go", `import "time"; var now = time.Now`, []string{"uses time.Now"}},
		{"calc/tread/a.go", `import clock "time"; func f() { _ = clock.Since }`, []string{"uses time.Since"}},
		{"calc/tread/a.go", `import . "time"; var now = Now`, []string{"imports time without its name"}},
		{"calc/tread/a.go", `import "fmt"; func f() { fmt.Println() }`, []string{"uses fmt.Println"}},
		{"calc/tread/a_test.go", `import "time"; var now = time.Now`, nil},
		{"calc/attic/a.go", `import "math"`, []string{"calc/attic belongs to no room"}},
		{"attic/a.go", `import "math"`, []string{"attic belongs to no room"}},

		{"proto/gaugebook/v1/a.pb.go", `import "google.golang.org/protobuf/proto"`, nil},
		{"proto/gaugebook/v1/a.pb.go", `import "gaugebook.dev/calc/unit"`, []string{"imports gaugebook.dev/calc/unit"}},
		{"proto/gaugebook/v1/a.pb.go", `import "github.com/grpc-ecosystem/grpc-gateway/v2/runtime"`,
			[]string{"imports github.com/grpc-ecosystem/grpc-gateway/v2/runtime"}},

		{"server/judge/a.go", `import "gaugebook.dev/calc/verdict"`, nil},
		{"server/judge/a.go", `import "gaugebook.dev/gateway/strictjson"`, []string{"imports gaugebook.dev/gateway/strictjson"}},
		{"server/judge/a_test.go", `import "gaugebook.dev/gateway/strictjson"`, []string{"imports gaugebook.dev/gateway/strictjson"}},
		{"server/translate/a.go", `import "gaugebook.dev/server/words"`, []string{"imports gaugebook.dev/server/words"}},
		{"server/translate/a.go", `import "gaugebook.dev/server/tell"`, []string{"imports gaugebook.dev/server/tell"}},
		{"server/book/a.go", `import "gaugebook.dev/server/tell"`, []string{"imports gaugebook.dev/server/tell"}},
		{"server/tell/a.go", `import "gaugebook.dev/server/words"`, nil},
		{"server/tell/a.go", `import "gaugebook.dev/server/translate"`, []string{"imports gaugebook.dev/server/translate"}},
		{"server/tell/a_test.go", `import "gaugebook.dev/server/judge"`, nil},
		{"server/tell/a_test.go", `import "gaugebook.dev/gateway"`, []string{"imports gaugebook.dev/gateway"}},
		{"server/words/a.go", `import pb "gaugebook.dev/proto/gaugebook/v1"`, []string{"imports gaugebook.dev/proto/gaugebook/v1"}},
		{"server/app/a.go", `import "gaugebook.dev/gateway/strictjson"`, nil},
		{"server/history/badger/a.go", `import "gaugebook.dev/server/history"`, nil},
		{"server/history/badger/a.go", `import "gaugebook.dev/calc/unit"`, []string{"imports gaugebook.dev/calc/unit"}},
		{"server/history/a.go", `import pb "gaugebook.dev/proto/gaugebook/v1"`, []string{"imports gaugebook.dev/proto/gaugebook/v1"}},

		{"gateway/a.go", `import pb "gaugebook.dev/proto/gaugebook/v1"`, nil},
		{"gateway/a.go", `import "gaugebook.dev/calc/unit"`, []string{"imports gaugebook.dev/calc/unit"}},
		{"gateway/a.go", `import "gaugebook.dev/server/check"`, []string{"imports gaugebook.dev/server/check"}},
		{"clients/counter/a.go", `import "gaugebook.dev/server/check"`, []string{"imports gaugebook.dev/server/check"}},
		{"clients/counter/a.go", `import "gaugebook.dev/calc/unit"`, []string{"imports gaugebook.dev/calc/unit"}},

		{"main.go", `import "gaugebook.dev/server/app"`, nil},
		{"main.go", `import "gaugebook.dev/calc/unit"`, []string{"imports gaugebook.dev/calc/unit"}},
	}
	for _, test := range tests {
		t.Run(test.file+" "+test.body, func(t *testing.T) {
			found, err := breaches(test.file, []byte("package a; "+test.body))
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(found, test.want) {
				t.Errorf("found %q, want %q", found, test.want)
			}
		})
	}
}
