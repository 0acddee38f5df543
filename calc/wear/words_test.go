package wear_test

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"

	"gaugebook.dev/server/words"
)

// codes reads the package's own sources: exported codes stand in constants,
// evidence is spelled out where it is said.
func codes(t *testing.T) (findings, settle, evidence map[string]bool) {
	t.Helper()
	findings, settle, evidence = map[string]bool{}, map[string]bool{}, map[string]bool{}
	paths, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	for _, path := range paths {
		if strings.HasSuffix(path, "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		constants := map[ast.Node]bool{}
		ast.Inspect(file, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.GenDecl:
				for _, s := range n.Specs {
					if v, ok := s.(*ast.ValueSpec); ok && n.Tok == token.CONST {
						for _, value := range v.Values {
							constants[value] = true
						}
					}
				}
			case *ast.BasicLit:
				code, err := strconv.Unquote(n.Value)
				switch {
				case err != nil || n.Kind != token.STRING:
				case constants[n] && strings.HasPrefix(code, "wear."):
					findings[code] = true
				case strings.HasPrefix(code, "settle."):
					settle[code] = true
				case strings.HasPrefix(code, "wear."):
					evidence[code] = true
				}
			}
			return true
		})
	}
	if len(findings) < 25 || len(settle) < 12 || len(evidence) < 30 {
		t.Fatalf("%d findings, %d settle, %d evidence found in the sources", len(findings), len(settle), len(evidence))
	}
	return findings, settle, evidence
}

// Every code that can be said has its text, and no text is left without a code.
func TestEveryCodeHasItsText(t *testing.T) {
	findings, settle, evidence := codes(t)
	said := words.In(words.Default)
	for code := range findings {
		if p := said.Findings[code]; p.Technician == "" || p.Customer == "" {
			t.Errorf("%s has no text", code)
		}
	}
	for code := range settle {
		if said.Settle[code] == "" {
			t.Errorf("%s has no text", code)
		}
	}
	for code := range evidence {
		if said.Evidence[code] == "" {
			t.Errorf("%s has no text", code)
		}
	}
	data, err := os.ReadFile("../../server/words/en/wear.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var own words.Catalogue
	if err := yaml.Unmarshal(data, &own); err != nil {
		t.Fatal(err)
	}
	for code := range own.Findings {
		if !findings[code] {
			t.Errorf("finding %s is never made", code)
		}
	}
	for code := range own.Settle {
		if !settle[code] {
			t.Errorf("%s is never asked for", code)
		}
	}
	for code := range own.Evidence {
		if !evidence[code] {
			t.Errorf("evidence %s is never said", code)
		}
	}
}

// A cause is a likelihood; nobody is sent below the door label, and words that
// only an engineer uses are left to him (common practice).
func TestCausesAreLikely(t *testing.T) {
	engineer := regexp.MustCompile(`(?i)\b(tilt|crown|inner edge|outer edge|caster)\b`)
	lower := regexp.MustCompile(`(?i)\b(lower|drop|reduce|let out|less air)\b[^.]*\b(pressure|label|psi)\b`)
	certain := map[string]bool{ // told as they are: no cause is named, or an event is
		"wear.look-again": true, "wear.made-at-former-position": true, "wear.not-round": true, "wear.rotation-missed": true,
		"wear.flat-spot": true, "wear.heel-and-toe": true,
	}
	said := words.In(words.Default)
	findings, _, _ := codes(t)
	for code := range findings {
		p := said.Findings[code]
		for _, text := range []string{p.Technician, p.Customer} {
			if !certain[code] && !strings.Contains(strings.ToLower(text), "likely") {
				t.Errorf("%s is told as certain: %q", code, text)
			}
			for _, never := range []*regexp.Regexp{engineer, lower} {
				if w := never.FindString(text); w != "" {
					t.Errorf("%s says %q", code, w)
				}
			}
		}
	}
}
