package app_test

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/constant"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding/findingtest"
)

// tableOfKinds is the package whose files kinds_*.go declare the codes.
const tableOfKinds = house + "/calc/finding"

// source is a package of calc or server, with its types.
type source struct {
	path  string
	pkg   *types.Package
	files []*ast.File
	info  *types.Info
}

// sources reads calc and server without their tests.
func sources(t *testing.T) (*token.FileSet, []source) {
	t.Helper()
	list := exec.CommandContext(t.Context(), "go", "list", "-export", "-deps", "-json=ImportPath,Dir,Export,GoFiles", "./calc/...", "./server/...")
	list.Dir = root
	out, err := list.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	fset := token.NewFileSet()
	exports, checked := map[string]string{}, map[string]*types.Package{}
	gc := importer.ForCompiler(fset, "gc", func(path string) (io.ReadCloser, error) { return os.Open(exports[path]) })
	load := importing(func(path string) (*types.Package, error) {
		if p, ours := checked[path]; ours {
			return p, nil
		}
		return gc.Import(path)
	})
	var all []source
	for in := json.NewDecoder(bytes.NewReader(out)); ; {
		var p struct {
			ImportPath string   `json:"ImportPath"`
			Dir        string   `json:"Dir"`
			Export     string   `json:"Export"`
			GoFiles    []string `json:"GoFiles"`
		}
		if err := in.Decode(&p); errors.Is(err, io.EOF) {
			return fset, all
		} else if err != nil {
			t.Fatal(err)
		}
		exports[p.ImportPath] = p.Export
		if !strings.HasPrefix(p.ImportPath, house+"/calc") && !strings.HasPrefix(p.ImportPath, house+"/server") {
			continue
		}
		s := source{path: p.ImportPath, info: &types.Info{Types: map[ast.Expr]types.TypeAndValue{}, Uses: map[*ast.Ident]types.Object{}}}
		for _, name := range p.GoFiles {
			file, err := parser.ParseFile(fset, filepath.Join(p.Dir, name), nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			s.files = append(s.files, file)
		}
		if s.pkg, err = (&types.Config{Importer: load}).Check(p.ImportPath, fset, s.files, s.info); err != nil {
			t.Fatal(err)
		}
		checked[p.ImportPath] = s.pkg
		all = append(all, s)
	}
}

type importing func(path string) (*types.Package, error)

func (i importing) Import(path string) (*types.Package, error) { return i(path) }

// codeType names the type of a code, "" for any other.
func codeType(t types.Type) string {
	n, ok := types.Unalias(t).(*types.Named)
	if !ok || n.Obj().Pkg() == nil || n.Obj().Pkg().Path() != tableOfKinds {
		return ""
	}
	if b, ok := n.Underlying().(*types.Basic); !ok || b.Kind() != types.String || n.Obj().Name() == "Subject" {
		return ""
	}
	return n.Obj().Name()
}

// A code is spelled in the table of kinds and nowhere else: no string becomes one
// outside it, none that is spelled out is one, and nobody takes a code apart.
func TestCodesAreSpelledInTheTableAlone(t *testing.T) {
	known := map[string]bool{}
	for _, codes := range findingtest.Constants(t, root+"/calc/finding") {
		for _, c := range codes {
			known[c] = known[c] || strings.Contains(c, ".")
		}
	}
	fset, all := sources(t)
	for _, s := range all {
		for _, file := range s.files {
			name := fset.Position(file.Pos()).Filename
			if strings.HasPrefix(filepath.Base(name), "kinds_") && filepath.Base(filepath.Dir(name)) == "finding" {
				continue
			}
			ast.Inspect(file, func(n ast.Node) bool {
				e, ok := n.(ast.Expr)
				if !ok {
					return true
				}
				if wrong := spelled(s.info, known, e); wrong != "" {
					t.Errorf("%v: %s", fset.Position(e.Pos()), wrong)
				}
				return true
			})
		}
	}
}

// spelled tells what is wrong with an expression.
func spelled(info *types.Info, known map[string]bool, e ast.Expr) string {
	tv := info.Types[e]
	switch e := e.(type) {
	case *ast.BasicLit:
		if tv.Value == nil || tv.Value.Kind() != constant.String {
			return ""
		}
		code := constant.StringVal(tv.Value)
		if kind := codeType(tv.Type); kind != "" && code != "" {
			return fmt.Sprintf("%q becomes a %s", code, kind)
		}
		if known[code] {
			return fmt.Sprintf("%q is a code", code)
		}
	case *ast.CallExpr:
		if info.Types[e.Fun].IsType() && codeType(tv.Type) != "" && putTogether(e.Args[0]) {
			return "a code is put together"
		}
		if sel, ok := e.Fun.(*ast.SelectorExpr); ok && fmt.Sprint(sel.X) == "strings" {
			for _, a := range e.Args {
				if c, ok := a.(*ast.CallExpr); ok && len(c.Args) == 1 && info.Types[c.Fun].IsType() && codeType(info.Types[c.Args[0]].Type) != "" {
					return "a code is taken apart"
				}
			}
		}
	}
	return ""
}

// putTogether tells that a string is made of more than one.
func putTogether(e ast.Expr) bool {
	b, ok := e.(*ast.BinaryExpr)
	return ok && b.Op == token.ADD
}
