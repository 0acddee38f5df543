package main

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
)

// pack is a package that faults are drawn from.
type pack struct {
	path  string
	names []string // of its files, whole paths
	files []*ast.File
	text  map[string][]byte
	info  *types.Info
	types *types.Package
}

// tree is the code, read once.
type tree struct {
	positions *token.FileSet
	exports   map[string]string   // by import path: the compiler's export data
	users     map[string][]string // by import path: the packages that import it, or whose tests do
	folders   map[string]string   // by import path
	packages  []*pack
	importer  types.Importer
}

// listed is what `go list` says of a package.
type listed struct {
	ImportPath, Dir, Export, BuildID   string
	GoFiles, Deps                      []string
	Imports, TestImports, XTestImports []string
	Module                             *struct{ Main bool }
}

// load reads the packages of the folders, with types, and who uses them.
func load(folders []string) (*tree, error) {
	wanted, err := list(append([]string{"list", "-json"}, folders...))
	if err != nil {
		return nil, err
	}
	t := &tree{positions: token.NewFileSet(), exports: map[string]string{}, users: map[string][]string{}, folders: map[string]string{}}
	all, err := list([]string{"list", "-export", "-deps", "-json", "./..."})
	if err != nil {
		return nil, err
	}
	for _, l := range all {
		t.exports[l.ImportPath], t.folders[l.ImportPath] = l.Export, l.Dir
		if l.Module == nil || !l.Module.Main {
			continue
		}
		for _, used := range slices.Compact(slices.Sorted(slices.Values(slices.Concat(l.Imports, l.TestImports, l.XTestImports)))) {
			if used != l.ImportPath {
				t.users[used] = append(t.users[used], l.ImportPath)
			}
		}
	}
	t.importer = importer.ForCompiler(t.positions, "gc", func(path string) (io.ReadCloser, error) {
		return os.Open(t.exports[path])
	})
	for _, l := range wanted {
		if strings.HasSuffix(l.ImportPath, "test") { // a package of help for tests
			continue
		}
		p, err := t.read(l)
		if err != nil {
			return nil, err
		}
		t.packages = append(t.packages, p)
	}
	return t, nil
}

func list(arguments []string) ([]listed, error) {
	said, err := exec.Command("go", arguments...).Output() //nolint:gosec // go itself, with folders of this tree
	if err != nil {
		if failed := new(exec.ExitError); errors.As(err, &failed) {
			return nil, fmt.Errorf("go list: %s", failed.Stderr)
		}
		return nil, err
	}
	var all []listed
	for in := json.NewDecoder(bytes.NewReader(said)); ; {
		var l listed
		if err := in.Decode(&l); errors.Is(err, io.EOF) { //nolint:musttag // go tells its fields by their own names
			return all, nil
		} else if err != nil {
			return nil, err
		}
		all = append(all, l)
	}
}

func (t *tree) read(l listed) (*pack, error) {
	p := &pack{path: l.ImportPath, text: map[string][]byte{}}
	for _, name := range l.GoFiles {
		name = filepath.Join(l.Dir, name)
		text, err := os.ReadFile(name)
		if err != nil {
			return nil, err
		}
		file, err := parser.ParseFile(t.positions, name, text, parser.SkipObjectResolution)
		if err != nil {
			return nil, err
		}
		p.names, p.files, p.text[name] = append(p.names, name), append(p.files, file), text
	}
	p.info = &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}}
	var err error
	p.types, err = (&types.Config{Importer: t.importer}).Check(p.path, t.positions, p.files, p.info)
	return p, err
}

// compiles reports whether the package of the fault still does with it.
func (t *tree) compiles(f fault) bool {
	file, err := parser.ParseFile(t.positions, f.file, f.applied(), parser.SkipObjectResolution)
	if err != nil {
		return false
	}
	files := slices.Clone(f.pack.files)
	files[slices.Index(f.pack.names, f.file)] = file
	_, err = (&types.Config{Importer: t.importer}).Check(f.pack.path, t.positions, files, nil)
	return err == nil
}
