package shoprules_test

import (
	"context"
	"errors"
	"log/slog"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/shoprules"
)

// An invented shop in Austria, stricter than KDV § 4 Abs. 4 (1.6 mm; 4 mm for
// winter tires), and one in the United States, stricter than the model standard
// 49 CFR 570.9(a) (2/32 in).
const good = `shops:
  alpine:
    version: 2
    limits:
      - id: tread
        stricter_than: eu-at.depth
        value: 3 mm
        says: We replace at 3 mm.
      - {id: winter, stricter_than: eu-at.winter-depth, value: 5.5 mm, says: We change winter tires at 5.5 mm.}
  plains:
    version: 1
    limits:
      - {id: tread, stricter_than: us-light.depth, value: 4/32 in, says: "We replace at 4/32 in."}
`

func TestParse(t *testing.T) {
	rules, err := shoprules.Parse("rules.yaml", []byte(good))
	if err != nil {
		t.Fatal(err)
	}
	alpine := rules["alpine"]
	if len(rules) != 2 || alpine.ID != rulebook.Own || alpine.Version != 2 || len(alpine.Limits) != 2 {
		t.Fatalf("%+v", rules)
	}
	l, law := alpine.Limits[0], rulebook.Must("eu-at").Limit("depth")
	if want := (unit.Amount{Number: 3, Unit: unit.Millimeters}.OfTread()); l.Value != want || l.Than != "eu-at.depth" || l.Says != "We replace at 3 mm." {
		t.Errorf("%+v", l)
	}
	if l.Authority != finding.Shop || l.Subject != law.Subject || l.Where != law.Where || !strings.HasSuffix(l.Citation, law.Citation) {
		t.Errorf("%+v, made from %+v", l, law)
	}
	if w := alpine.Limits[1].Winter; w == nil || w.Required || w.Trigger != rulebook.Must("eu-at").Limit("winter-depth").Winter.Trigger {
		t.Errorf("winter: %+v", w)
	}
	if rules["plains"].Limits[0].Value != (unit.Amount{Number: 4, Unit: unit.ThirtySecondsInch}) {
		t.Errorf("%+v", rules["plains"].Limits[0])
	}
}

// What a shop's rules are called tells two contents apart, and nothing else.
// A fleet's edition of a published standard stands beside a law in use, lower than it:
// 49 CFR 393.75(b), 4/32 in. The standard and its figures are invented.
func TestEditions(t *testing.T) {
	of := func(limit string) (shoprules.Rules, error) {
		return shoprules.Parse("rules.yaml", []byte("shops:\n  fleet:\n    version: 1\n    limits:\n      - "+limit+"\n"))
	}
	rules, err := of("{id: roadside-front, beside: us-commercial.front-depth, value: 2/32 in, standard: Roadside criteria, edition: edition of 2026}")
	if err != nil {
		t.Fatal(err)
	}
	l := rules["fleet"].Limits[0]
	if l.Subject != rulebook.EditionDepth || l.Authority != finding.PublishedStandard || l.Citation != "Roadside criteria, edition of 2026" ||
		l.Than != "us-commercial.front-depth" || l.Applies.Wheels != rulebook.FrontWheels {
		t.Errorf("%+v", l)
	}
	for limit, want := range map[string]string{
		"{id: a, beside: us-commercial.front-depth, value: 4/32 in, standard: S, edition: E}":          "is not lower than us-commercial.front-depth, law in use, which asks for 4 /32 in",
		"{id: a, beside: us-light.depth, value: 1/32 in, standard: S, edition: E}":                     "us-light.depth is no least depth of a law in use",
		"{id: a, beside: no.winter-depth, value: 1 mm, standard: S, edition: E}":                       "no.winter-depth is no least depth of a law in use",
		"{id: a, beside: us-commercial.no-such, value: 1/32 in, standard: S, edition: E}":              `rulebook us-commercial has no limit "no-such"`,
		"{id: a, beside: winter-fi.depth, value: 1 mm, standard: S, edition: E}":                       `there is no rulebook "winter-fi"`,
		"{id: a, beside: us-commercial.front-depth, value: 2/32 in, standard: S}":                      "edition is missing",
		"{id: a, beside: us-commercial.front-depth, value: 2/32 in, standard: S, edition: E, says: b}": "unknown key says",
		"{id: a, stricter_than: winter-fi.depth, value: 4 mm, says: b}":                                `there is no rulebook "winter-fi"`,
	} {
		if _, err := of(limit); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %v, want %q", limit, err, want)
		}
	}
}

func TestNameFollowsTheContent(t *testing.T) {
	name := func(file string) string {
		t.Helper()
		rules, err := shoprules.Parse("rules.yaml", []byte(file))
		if err != nil {
			t.Fatal(err)
		}
		return rules["plains"].Name()
	}
	first := name(good)
	if !strings.HasPrefix(first, "shop@1+") {
		t.Errorf("called %s", first)
	}
	if laidOut := name(strings.Replace(good, "shops:", "# our own\nshops:", 1)); laidOut != first {
		t.Errorf("%s for the same rules, was %s", laidOut, first)
	}
	if other := name(strings.Replace(good, "4/32 in,", "5/32 in,", 1)); other == first {
		t.Errorf("%s for other rules too", other)
	}
}

// Every problem is told with its line. A limit that is looser than a law is named
// with the law.
func TestProblems(t *testing.T) {
	entry := func(limit string) string {
		return "shops:\n  plains:\n    version: 1\n    limits:\n      - " + limit + "\n"
	}
	for _, c := range []struct {
		name, file string
		want       []string
	}{
		{"empty", "", []string{"rules.yaml: empty; it begins with shops:"}},
		{"no YAML", "shops: [", []string{"rules.yaml: line 1:"}},
		{"another file", "tokens: []", []string{"rules.yaml:1: unknown key tokens; the keys here are shops"}},
		{"a list", "- shops", []string{"rules.yaml:1: the file: want the keys shops"}},
		{"no shops", "{}", []string{"rules.yaml:1: shops is missing"}},
		{"a shop without a name", "shops:\n  \"\": {version: 1, limits: []}", []string{"rules.yaml:2: ", "rules.yaml:2: limits: want a list"}},
		{"a shop twice", good + "  plains: {version: 1, limits: []}", []string{"rules.yaml:14: plains is there twice"}},
		{"no version", "shops:\n  plains:\n    limits: [{id: a, stricter_than: us-light.depth, value: 3/32 in, says: b}]", []string{"rules.yaml:2: plains: version is missing"}},
		{"half a version", "shops:\n  plains:\n    version: 1.5\n    limits: [{id: a, stricter_than: us-light.depth, value: 3/32 in, says: b}]", []string{`rules.yaml:3: version: "1.5"; want a whole number from 1 on`}},
		{"no limits", "shops:\n  plains:\n    version: 1", []string{"rules.yaml:2: plains: limits is missing"}},
		{"a limit without a reason", entry("{id: a, stricter_than: us-light.depth, value: 3/32 in}"), []string{"rules.yaml:5: says is missing"}},
		{"an unknown key", entry("{id: a, stricter: us-light.depth, value: 3/32 in, says: b}"), []string{"rules.yaml:5: unknown key stricter; the keys here are id, stricter_than, value, says"}},
		{"an id with blanks", entry("{id: our rule, stricter_than: us-light.depth, value: 3/32 in, says: b}"), []string{`rules.yaml:5: id: "our rule"; want small letters, digits and hyphens`}},
		{"no unit", entry("{id: a, stricter_than: us-light.depth, value: 3, says: b}"), []string{`rules.yaml:5: value: "3"; want a depth such as 3 mm or 4/32 in`}},
		{"below zero", entry("{id: a, stricter_than: us-light.depth, value: -3 mm, says: b}"), []string{`rules.yaml:5: value: "-3 mm"; want a depth`}},
		{"no such book", entry("{id: a, stricter_than: us-lite.depth, value: 3 mm, says: b}"), []string{`rules.yaml:5: limit a: there is no rulebook "us-lite"`}},
		{"a version of a book", entry("{id: a, stricter_than: us-light@1.depth, value: 3 mm, says: b}"), []string{`rules.yaml:5: limit a: there is no rulebook "us-light@1"`}},
		{"no such limit", entry("{id: a, stricter_than: us-light.deep, value: 3 mm, says: b}"), []string{`rules.yaml:5: limit a: rulebook us-light has no limit "deep"`}},
		{"no depth", entry("{id: a, stricter_than: us-light.structure, value: 3 mm, says: b}"), []string{"rules.yaml:5: limit a: us-light.structure is no least depth"}},
		{"the same", entry("{id: a, stricter_than: us-light.depth, value: 2/32 in, says: b}"), []string{"rules.yaml:5: limit a: 2 /32 in is not stricter than us-light.depth, which asks for 2 /32 in (49 CFR 570.9(a))"}},
		{"looser than law in use", entry("{id: a, stricter_than: uk-light.depth, value: 1.5 mm, says: b}"), []string{"rules.yaml:5: limit a: 1.5 mm is looser than uk-light.depth, law in use, which asks for 1.6 mm (Road Vehicles (Construction and Use) Regulations 1986, reg. 27"}},
		{"two limits of one id, and one more", entry("{id: a, stricter_than: us-light.depth, value: 3 mm, says: b}\n      - {id: a, stricter_than: us-light.depth, value: 4 mm, says: b}\n      - {id: c}"),
			[]string{"rules.yaml:6: limit a is there twice", "rules.yaml:7: stricter_than is missing", "rules.yaml:7: value is missing", "rules.yaml:7: says is missing"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			rules, err := shoprules.Parse("rules.yaml", []byte(c.file))
			problems := shoprules.Problems(nil)
			if !errors.As(err, &problems) || rules != nil {
				t.Fatalf("%v, %v", rules, err)
			}
			if len(problems) != len(c.want) {
				t.Fatalf("%d problems, want %d:\n%v", len(problems), len(c.want), err)
			}
			for i, want := range c.want {
				if !strings.HasPrefix(problems[i], want) {
					t.Errorf("%s\nwant %s", problems[i], want)
				}
			}
		})
	}
}

// FuzzParse: whatever the file, it is refused with lines or holds nothing but
// limits that are stricter than the ones they build on.
func FuzzParse(f *testing.F) {
	f.Add([]byte(good))
	f.Add([]byte("shops: {a: {version: 1, limits: [{id: a, stricter_than: nz.depth, value: 9.9 mm, says: b}]}}"))
	f.Add([]byte("shops: &a {b: *a}"))
	f.Add([]byte("shops:\n  ? [a]\n  : b"))
	f.Fuzz(func(t *testing.T, data []byte) {
		rules, err := shoprules.Parse("f", data)
		if err != nil {
			if rules != nil || !strings.HasPrefix(err.Error(), "f:") {
				t.Fatalf("%v, %v", rules, err)
			}
			return
		}
		for shop, own := range rules {
			for _, l := range own.Limits {
				book, id, _ := strings.Cut(l.Than, ".")
				if l.Depth() <= rulebook.Must(book).Limit(id).Depth() {
					t.Errorf("%s: %+v", shop, l)
				}
			}
		}
	})
}

// write puts a file in its place at once: nobody sees half of it.
func write(t *testing.T, file, content string) {
	t.Helper()
	if err := errors.Join(os.WriteFile(file+".new", []byte(content), 0o600), os.Rename(file+".new", file)); err != nil {
		t.Fatal(err)
	}
}

// A file is read again as it stands; one that is refused leaves what was in use.
func TestReload(t *testing.T) {
	name := filepath.Join(t.TempDir(), "rules.yaml")
	write(t, name, good)
	f, err := shoprules.Open(name, slog.New(slog.DiscardHandler))
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(f.Shops(), []string{"alpine", "plains"}) || f.Of("nowhere") != nil {
		t.Fatalf("%v", f.Shops())
	}
	raised := strings.NewReplacer("4/32 in", "5/32 in", "version: 1", "version: 2").Replace(good)
	for _, c := range []struct {
		name, file, problem string
		version             int
	}{
		{"the same", good, "", 1},
		{"half written", good[:strings.LastIndex(good, "    limits:")], "plains: limits is missing", 1},
		{"other limits under the old version", strings.ReplaceAll(good, "4/32 in", "5/32 in"), "plains: the limits changed and version 1 was in use", 1},
		{"a new version", raised, "", 2},
		{"the old version again", good, "plains: the limits changed and version 2 was in use", 2},
		{"a new version laid out otherwise", "# ours\n" + raised, "", 2},
	} {
		write(t, name, c.file)
		err := f.Reload()
		if (err != nil) != (c.problem != "") || err != nil && !strings.Contains(err.Error(), c.problem) {
			t.Errorf("%s: %v", c.name, err)
		}
		if own := f.Of("plains"); own == nil || own.Version != c.version {
			t.Errorf("%s: %+v in use, want version %d", c.name, own, c.version)
		}
	}
	if err := os.Remove(name); err != nil {
		t.Fatal(err)
	}
	if err := f.Reload(); !errors.Is(err, os.ErrNotExist) || f.Of("plains").Version != 2 {
		t.Errorf("gone: %v, %+v in use", err, f.Of("plains"))
	}
}

func TestOpenRefuses(t *testing.T) {
	name := filepath.Join(t.TempDir(), "rules.yaml")
	if _, err := shoprules.Open(name, slog.New(slog.DiscardHandler)); !errors.Is(err, os.ErrNotExist) {
		t.Error(err)
	}
	write(t, name, "shops: 3")
	if _, err := shoprules.Open(name, slog.New(slog.DiscardHandler)); !errors.As(err, new(shoprules.Problems)) {
		t.Error(err)
	}
}

// lines passes on what is logged.
type lines chan string

func (l lines) Write(p []byte) (int, error) { l <- string(p); return len(p), nil }

// A watched file is in use soon after it was changed; what is wrong is told once.
func TestWatch(t *testing.T) {
	name := filepath.Join(t.TempDir(), "rules.yaml")
	write(t, name, good)
	said := make(lines, 100)
	f, err := shoprules.Open(name, slog.New(slog.NewTextHandler(said, nil)))
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	ended := make(chan bool)
	go func() { f.Watch(ctx, time.Millisecond); close(ended) }()

	write(t, name, "shops: 3")
	if line := <-said; !strings.Contains(line, "refused") || !strings.Contains(line, "rules.yaml:1") {
		t.Error(line)
	}
	write(t, name, strings.NewReplacer("4/32 in", "5/32 in", "version: 1", "version: 2").Replace(good))
	if line := <-said; !strings.Contains(line, "loaded") || f.Of("plains").Version != 2 {
		t.Errorf("%s, %+v in use", line, f.Of("plains"))
	}
	if err := os.Remove(name); err != nil {
		t.Fatal(err)
	}
	if line := <-said; !strings.Contains(line, "refused") {
		t.Error(line)
	}
	time.Sleep(20 * time.Millisecond) // many ticks
	stop()
	<-ended
	if len(said) > 0 {
		t.Errorf("told again: %s", <-said)
	}
}
