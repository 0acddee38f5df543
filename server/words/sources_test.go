package words

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"gaugebook.dev/calc/rulebook"
)

// cited gathers from the source of calc every citation of a rule and every title
// of a rulebook.
func cited(t *testing.T) []string {
	t.Helper()
	found := map[string]bool{}
	err := filepath.WalkDir("../../calc", func(dir string, e fs.DirEntry, err error) error {
		if err != nil || !e.IsDir() {
			return err
		}
		paths, err := filepath.Glob(dir + "/*.go")
		if err != nil {
			return err
		}
		var parsed []*ast.File
		for _, path := range paths {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				return err
			}
			parsed = append(parsed, f)
		}
		for _, text := range citations(t, parsed) {
			found[text] = true
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	return slices.Sorted(maps.Keys(found))
}

// citations are the values of the fields Citation and Title in one package, with
// its constants put in.
func citations(t *testing.T, files []*ast.File) []string {
	t.Helper()
	values, wanted := map[string]ast.Expr{}, []ast.Expr(nil)
	for _, f := range files {
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ValueSpec:
				for i, name := range n.Names {
					if i < len(n.Values) {
						values[name.Name] = n.Values[i]
					}
				}
			case *ast.KeyValueExpr:
				if key, ok := n.Key.(*ast.Ident); ok && (key.Name == "Citation" || key.Name == "Title") {
					wanted = append(wanted, n.Value)
				}
			}
			return true
		})
	}
	var text func(e ast.Expr) string
	text = func(e ast.Expr) string {
		switch e := e.(type) {
		case *ast.BasicLit:
			s, err := strconv.Unquote(e.Value)
			if err != nil {
				t.Error(err)
			}
			return s
		case *ast.Ident:
			return text(values[e.Name])
		case *ast.BinaryExpr:
			return text(e.X) + text(e.Y)
		}
		return "" // a field of another value, which is gathered where it is made
	}
	var all []string
	for _, w := range wanted {
		if s := text(w); s != "" && !strings.HasPrefix(s, ",") { // the end of one
			all = append(all, s)
		}
	}
	for _, b := range rulebook.Versions() {
		all = append(all, b.Title)
		for _, l := range b.Limits {
			all = append(all, l.Citation)
		}
	}
	slices.Sort(all)
	return slices.DeleteFunc(slices.Compact(all), func(s string) bool { return s == "" })
}

// isOriginal tells of a title of a law or standard, which no language translates. How it
// is known, at its end, is no title.
func isOriginal(c string) bool { return original.MatchString(c) && !strings.HasSuffix(c, " reported") }

var original = regexp.MustCompile(`^(\d+ CFR [^:,]*(, [^:]*)?|KDV § [^a-z]*Abs\. \d+|StVZO § [^a-z]*Abs\. \d+|BS AU 159f` +
	`|(\d+ )?([A-Z&][A-Za-z.&]* )*(Code|COMAR|Law|Stat\.) \d[^ ]*` + // of a State
	`|Road Vehicles \(Construction and Use\) Regulations 1986, reg\. [^ ]+(, [^ ]+)?)$`)

// ofState tells the title of a State's book that is its name and an ending that a
// language has by itself.
func ofState(sources map[string]string, title string) bool {
	if !slices.ContainsFunc(rulebook.Versions(), func(b *rulebook.Book) bool { return b.Binds.State != "" && b.Title == title }) {
		return false
	}
	for c := range sources {
		ending, open := strings.CutPrefix(c, "...")
		if name, ends := strings.CutSuffix(title, ending); open && ends && !strings.ContainsAny(name, ",;") {
			return true
		}
	}
	return false
}

var separator = regexp.MustCompile(`([0-9])[ ,.]([0-9]{3})\b`)

// numbers are those of a text, whatever sets their thousands apart.
func numbers(s string) []string {
	return regexp.MustCompile(`[0-9][0-9./()]*`).FindAllString(separator.ReplaceAllString(s, "$1$2"), -1)
}

// Every language but that of the code has what rules are cited from, with the
// same numbers, and nothing that no rule cites.
func TestSources(t *testing.T) {
	all := cited(t)
	if len(all) < 60 {
		t.Fatalf("only %d citations and titles found in calc", len(all))
	}
	for _, l := range Tongues() {
		sources := In(l).Sources
		if l == Default {
			if len(sources) > 0 {
				t.Errorf("%s: sources are written in this language already", l)
			}
			continue
		}
		for _, c := range all {
			said, ok := sources[c]
			if !ok { // the beginning of one that is put together
				said, ok = sources[c+"..."]
			}
			if isOriginal(c) {
				if ok {
					t.Errorf("%s: %q is a title and stays as it is", l, c)
				}
				continue
			}
			if !ok && ofState(sources, c) {
				continue
			}
			if !ok || said == "" {
				t.Errorf("%s: has no %q", l, c)
				continue
			}
			got, want := numbers(said), numbers(c)
			slices.Sort(got)
			slices.Sort(want)
			if !slices.Equal(got, want) {
				t.Errorf("%s: %q has the numbers %q, want those of %q", l, said, got, c)
			}
			if w := wordingOf(t, l).forbidden().FindString(said); w != "" {
				t.Errorf("%s: says %q: %q", l, w, said)
			}
		}
		for c := range sources {
			if ending, open := strings.CutPrefix(c, "..."); open {
				if !slices.ContainsFunc(all, func(cited string) bool { return strings.HasSuffix(cited, ending) }) {
					t.Errorf("%s: no rule's source ends in %q", l, ending)
				}
				continue
			}
			begin, open := strings.CutSuffix(c, "...")
			if !slices.Contains(all, strings.TrimRight(begin, ", ")) && !slices.Contains(all, begin) {
				t.Errorf("%s: no rule cites %q", l, c)
			}
			for other := range sources {
				if open && other != c && strings.HasPrefix(other, begin) {
					t.Errorf("%s: %q begins %q too", l, c, other)
				}
			}
		}
	}
}

// Nobody composes sentences outside the catalogue: the rooms that speak hold no
// two words of a language in a row.
func TestNoSentencesInCode(t *testing.T) {
	sentence := regexp.MustCompile(`\pL{2,}[,.:;]? \pL{2,}`)
	for _, room := range []string{".", "../report", "../translate"} {
		paths, err := filepath.Glob(room + "/*.go")
		if err != nil || len(paths) == 0 {
			t.Fatalf("%s: %v", room, err)
		}
		for _, path := range paths {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if tag, ok := n.(*ast.Field); ok {
					return tag.Tag == nil
				}
				if forDevelopers(n) {
					return false
				}
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING && sentence.MatchString(lit.Value) {
					t.Errorf("%s says %s", path, lit.Value)
				}
				return true
			})
		}
	}
}

// forDevelopers tells an error, which no reader of a report reads.
func forDevelopers(n ast.Node) bool {
	switch n := n.(type) {
	case *ast.FuncDecl:
		return n.Name.Name == "Error"
	case *ast.CallExpr:
		made, ok := n.Fun.(*ast.SelectorExpr)
		return ok && (made.Sel.Name == "Errorf" || made.Sel.Name == "New")
	}
	return false
}
