package main

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"
)

// measured is what the tests of a package showed without a fault.
type measured struct {
	Tests []timed          `json:"tests"`
	Ran   map[string][]int `json:"ran"` // by block, as a profile names it: the tests that ran it
}

// timed is a test and how long it took.
type timed struct {
	Name string        `json:"name"`
	Took time.Duration `json:"took"`
}

// coverage tells which tests run what, of each state of a package measured once.
type coverage struct {
	folder string            // where what was measured is kept
	states map[string]string // by import path: a sum of all that its tests are made of
	known  map[string]*measured
}

func newCoverage() (*coverage, error) {
	home, err := os.UserCacheDir()
	if err != nil {
		return nil, err
	}
	c := &coverage{folder: filepath.Join(home, "gaugebook", "faults"), known: map[string]*measured{}}
	if err := os.MkdirAll(c.folder, 0o700); err != nil {
		return nil, err
	}
	c.states, err = states()
	return c, err
}

// states sum up, of each package with tests, the code that these are made of and the files
// that they may read.
func states() (map[string]string, error) {
	files, err := sumOfFiles()
	if err != nil {
		return nil, err
	}
	all, err := list([]string{"list", "-test", "-deps", "-export", "-json=ImportPath,BuildID,Deps", "./..."})
	if err != nil {
		return nil, err
	}
	built := map[string]string{}
	for _, l := range all {
		built[l.ImportPath] = l.BuildID
	}
	found := map[string]string{}
	for _, l := range all {
		name, ok := strings.CutSuffix(l.ImportPath, ".test")
		if !ok {
			continue
		}
		of := []string{files, leftOut, drawing, built[l.ImportPath]}
		for _, dep := range l.Deps {
			of = append(of, built[dep])
		}
		found[name] = sum([]byte(strings.Join(of, "\n")))
	}
	return found, nil
}

// sumOfFiles sums up what lies in the tree beside code and what people read.
func sumOfFiles() (string, error) {
	var all []string
	tree := os.DirFS(".")
	err := fs.WalkDir(tree, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir():
			if name != "." && (strings.HasPrefix(d.Name(), ".") || d.Name() == "node_modules") {
				return fs.SkipDir
			}
			return nil
		case !d.Type().IsRegular(), slices.Contains([]string{".go", ".md"}, path.Ext(name)):
			return nil
		}
		text, err := fs.ReadFile(tree, name)
		all = append(all, name, sum(text))
		return err
	})
	return sum([]byte(strings.Join(all, "\n"))), err
}

func sum(text []byte) string {
	s := sha256.Sum256(text)
	return hex.EncodeToString(s[:])
}

// of is what the tests of a package showed: as it was kept, or by running them now.
func (c *coverage) of(t tester, of string) (*measured, error) {
	if m := c.known[of]; m != nil {
		return m, nil
	}
	m := &measured{Ran: map[string][]int{}}
	c.known[of] = m
	if c.states[of] == "" { // it has no tests
		return m, nil
	}
	kept := filepath.Join(c.folder, c.states[of]+".json")
	if text, err := os.ReadFile(kept); err == nil {
		return m, json.Unmarshal(text, m)
	}
	if err := m.measure(t, of); err != nil {
		return nil, err
	}
	text, err := json.Marshal(m)
	if err != nil {
		return nil, err
	}
	return m, os.WriteFile(kept, text, 0o600)
}

// measure runs the tests of a package, in calc each alone. The server takes so long to
// start that it is cheaper to run all tests of one of its packages that runs the place of a
// fault.
func (m *measured) measure(t tester, path string) error {
	if said, err := t.build(path, "-cover", "-covermode=set", "-coverpkg="+strings.Join(over, ",")); err != nil {
		return fmt.Errorf("without a fault, %s: %s", path, said)
	}
	names, err := t.names(path)
	if err != nil || len(names) == 0 {
		return err
	}
	if !strings.Contains(path, "/calc/") {
		return m.run(t, path, names)
	}
	for _, name := range names {
		if err := m.run(t, path, []string{name}); err != nil {
			return err
		}
	}
	return nil
}

var (
	passed = regexp.MustCompile(`(?m)^--- PASS: (\S+) \((\S+)\)$`)
	fails  = regexp.MustCompile(`(?m)^--- FAIL: (\S+)`)
)

// run runs some tests of the binary together and notes what they ran, and how long each
// took. One that fails without a fault can tell nothing of one: it is named and left out.
func (m *measured) run(t tester, path string, names []string) error {
	profile := filepath.Join(t.folder, "profile")
	said, err := t.test(path, names, time.Hour, "-test.v", "-test.failfast=false", "-test.coverprofile="+profile)
	if err != nil {
		failing := fails.FindAllSubmatch(said, -1)
		if len(failing) == 0 {
			return fmt.Errorf("without a fault, %s fails: %s", path, said)
		}
		for _, test := range failing {
			fmt.Fprintf(os.Stdout, "left out, for it fails without a fault: %s %s\n", path, test[1])
			names = slices.DeleteFunc(slices.Clone(names), func(name string) bool { return name == string(test[1]) })
		}
		if len(names) == 0 {
			return nil
		}
		return m.run(t, path, names)
	}
	first := len(m.Tests)
	for _, found := range passed.FindAllStringSubmatch(string(said), -1) {
		took, err := time.ParseDuration(found[2])
		if err != nil {
			return err
		}
		m.Tests = append(m.Tests, timed{found[1], took})
	}
	return m.read(profile, first)
}

// read notes which blocks a profile tells as run by the tests from the first on.
func (m *measured) read(profile string, first int) error {
	text, err := os.ReadFile(profile)
	if err != nil {
		return err
	}
	for lines := bufio.NewScanner(bytes.NewReader(text)); lines.Scan(); {
		block, counts, _ := strings.Cut(lines.Text(), " ")
		ran := m.Ran[block]
		for test := first; strings.HasSuffix(counts, " 1") && test < len(m.Tests); test++ {
			ran = append(ran, test)
		}
		m.Ran[block] = ran // known too where no test runs it
	}
	return nil
}

// place is where something stands in a file, counted from 1, a column by bytes.
type place struct{ line, column int }

func (p place) before(q place) bool {
	return p.line < q.line || p.line == q.line && p.column < q.column
}

// block is what a profile counts as one: from a place up to before another.
type block struct{ from, to place }

func (b block) holds(p place) bool { return !p.before(b.from) && p.before(b.to) }

// running are the tests that run the place of a fault. In a function it is the block that
// holds it, or, of what no block holds (a case, what follows a function inside a
// statement), any of its function. Of a table, or another value of the package, all tests.
func (m *measured) running(t *tree, f fault) []timed {
	at := f.place(f.from)
	if tests, ok := m.among(f, func(b block) bool { return b.holds(at) }); ok {
		return tests
	}
	whole, ok := t.function(f)
	if !ok {
		return slices.Clone(m.Tests)
	}
	tests, _ := m.among(f, func(b block) bool { return whole.holds(b.from) })
	return tests
}

// among are the tests that run a block, of the file of a fault, that is asked for, and
// whether there is one.
func (m *measured) among(f fault, asked func(block) bool) (tests []timed, found bool) {
	run := map[int]bool{}
	file := f.pack.path + "/" + filepath.Base(f.file) + ":"
	for where, ran := range m.Ran {
		numbers, ok := strings.CutPrefix(where, file)
		if !ok {
			continue
		}
		var b block
		_, err := fmt.Sscanf(numbers, "%d.%d,%d.%d", &b.from.line, &b.from.column, &b.to.line, &b.to.column)
		if err != nil || !asked(b) {
			continue
		}
		found = true
		for _, test := range ran {
			run[test] = true
		}
	}
	for i, test := range m.Tests {
		if run[i] {
			tests = append(tests, test)
		}
	}
	return tests, found
}
