package app_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding/findingtest"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/sidewall"

	"gaugebook.dev/server/words"
)

// example is one form that an example in a comment of the contract may have, and how
// the program knows it.
type example struct {
	form  *regexp.Regexp
	known func(text string) bool
}

func whole(form string) *regexp.Regexp { return regexp.MustCompile(`^(?:` + form + `)$`) }

// examples lists the forms; the first that fits counts. What fits none is prose, a
// caller's own words.
func examples(t *testing.T) []example {
	codes := map[string]bool{}
	for _, list := range findingtest.Constants(t, root+"/calc/finding") {
		for _, code := range list {
			codes[code] = true
		}
	}
	book := func(s string) bool { _, ok := rulebook.Get(s); return ok }
	return []example{
		{whole(`[0-9][A-Z]{1,2}|S`), isPlace},
		{whole(`[a-z-]+@[0-9]+`), book},
		{whole(`(us|uk|eu|ca|winter)-[a-z]+`), book},
		{whole(`[a-z0-9-]+\.[a-z0-9-]+(/.*)?`), func(s string) bool { return codes[s] || isLimit(s) }},
		{whole(`[A-Z]{0,2}[0-9]{3}/[0-9]{2}R[0-9]{2}.*`), func(s string) bool { m := sidewall.Parse(s); return m.Class != sidewall.UnknownClass && m.Rim != 0 }},
		{whole(`gaugebook\.v1\..*`), func(s string) bool {
			_, err := protoregistry.GlobalFiles.FindDescriptorByName(protoreflect.FullName(s))
			return err == nil
		}},
		{whole(`(en|es)(-[A-Z]{2})?`), func(s string) bool {
			teller, _ := words.Reader{Language: s}.Tellers()
			return teller.Tag() == s
		}},
		{whole(`[a-z]+(\.[a-zA-Z]+|\[[0-9]+\])+`), func(s string) bool { return isPath((&pb.AssessVisitRequest{}).ProtoReflect().Descriptor(), s) }},
		{whole(`leave`), func(s string) bool { return s == rotation.Leave }},
	}
}

// isPlace tells whether a text is a position as it is sent or, in any language, as
// reports print it.
func isPlace(s string) bool {
	if _, err := layout.Parse(s); err == nil {
		return true
	}
	v := layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{}, {Dual: true}, {Dual: true}}}
	for _, language := range words.Languages() {
		teller, _ := words.Reader{Language: language}.Tellers()
		for _, p := range v.Positions() {
			if teller.Value(words.At(&v, p)) == s {
				return true
			}
		}
	}
	return false
}

// isLimit tells whether a rulebook has the limit: "us-light.depth".
func isLimit(s string) bool {
	id, limit, _ := strings.Cut(s, ".")
	b, ok := rulebook.Get(id)
	if !ok {
		return false
	}
	for _, l := range b.Limits {
		if l.ID == limit || l.ID == s {
			return true
		}
	}
	return false
}

// isPath tells whether a path leads to a field, by JSON names.
func isPath(md protoreflect.MessageDescriptor, path string) bool {
	for step := range strings.SplitSeq(path, ".") {
		name, _, listed := strings.Cut(step, "[")
		if md == nil {
			return false
		}
		field := md.Fields().ByJSONName(name)
		if field == nil || listed != field.IsList() {
			return false
		}
		md = field.Message()
	}
	return true
}

var (
	quotedInComment = regexp.MustCompile(`"([^"]+)"`)
	reasonInComment = regexp.MustCompile(`"reason": "([A-Z_]+)"`)
	codeComment     = regexp.MustCompile(`[Ss]table (id|code)`)
)

// What a comment of the contract gives as an example is what the program knows: codes,
// rulebooks, limits, positions, sizes, paths, languages, calls, reasons.
func TestExamplesOfTheContract(t *testing.T) {
	files, err := filepath.Glob(root + "/proto/gaugebook/v1/*.proto")
	if err != nil || len(files) < 10 {
		t.Fatalf("the contract: %v, %v", files, err)
	}
	forms, seen := examples(t), make([]int, len(examples(t)))
	reasons := 0
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for i, line := range strings.Split(string(data), "\n") {
			_, comment, ok := strings.Cut(line, "//")
			if !ok {
				continue
			}
			if r := reasonInComment.FindStringSubmatch(comment); r != nil {
				if reasons++; pb.ErrorReason_value["ERROR_REASON_"+r[1]] == 0 {
					t.Errorf("%s:%d: no reason %s", filepath.Base(file), i+1, r[1])
				}
				continue
			}
			for _, q := range quotedInComment.FindAllStringSubmatch(comment, -1) {
				fits := false
				for k, form := range forms {
					if fits = form.form.MatchString(q[1]); fits {
						if seen[k]++; !form.known(q[1]) {
							t.Errorf("%s:%d: the program knows no %q", filepath.Base(file), i+1, q[1])
						}
						break
					}
				}
				if !fits && codeComment.MatchString(comment) {
					t.Errorf("%s:%d: %q is no code", filepath.Base(file), i+1, q[1])
				}
			}
		}
	}
	for k, n := range seen {
		if n == 0 {
			t.Errorf("no example has the form %s", forms[k].form)
		}
	}
	if reasons < 10 {
		t.Errorf("%d reasons", reasons)
	}
}
