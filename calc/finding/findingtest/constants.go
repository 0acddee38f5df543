// Package findingtest reads the codes of the table of kinds from its files, for the
// tests that walk all of them.
package findingtest

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"strconv"
	"testing"
)

// Constants gives the codes that the files of the table in a folder declare, by the
// name of their type: "tread.worn-to-bars" under "Code".
func Constants(t testing.TB, folder string) map[string][]string {
	t.Helper()
	all := map[string][]string{}
	for _, c := range declared(t, folder) {
		all[c.kind] = append(all[c.kind], c.code)
	}
	return all
}

// ByName gives the codes by the names of their constants: "tread.worn-to-bars" under
// "TreadWornToBars".
func ByName(t testing.TB, folder string) map[string]string {
	t.Helper()
	all := map[string]string{}
	for _, c := range declared(t, folder) {
		all[c.name] = c.code
	}
	return all
}

type constant struct{ name, kind, code string }

func declared(t testing.TB, folder string) (all []constant) {
	t.Helper()
	paths, err := filepath.Glob(filepath.Join(folder, "kinds_*.go"))
	if err != nil || len(paths) == 0 {
		t.Fatalf("no files of the table in %s: %v", folder, err)
	}
	for _, path := range paths {
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		ast.Inspect(file, func(n ast.Node) bool {
			v, ok := n.(*ast.ValueSpec)
			if !ok || len(v.Values) != 1 {
				return true
			}
			kind, typed := v.Type.(*ast.Ident)
			if lit, ok := v.Values[0].(*ast.BasicLit); ok && typed && lit.Kind == token.STRING {
				code, _ := strconv.Unquote(lit.Value)
				all = append(all, constant{v.Names[0].Name, kind.Name, code})
			}
			return false
		})
	}
	return all
}
