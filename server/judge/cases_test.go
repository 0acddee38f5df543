// The cases are visits with the answer a good technician gives. They are read
// from testdata/cases, whose README documents their format, and from the folder
// that GAUGEBOOK_CASES names, if any.
package judge_test

import (
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/judge"
)

// suite is the cases of one folder with the meaning of their lines.
type suite struct {
	name  string
	cases []*testCase
	lines map[string][]thing
	own   []string // lines of the folder's own tables
	says  map[string][]said
}

const root = "../.."

// suites loads the committed cases, and those of GAUGEBOOK_CASES: a folder, from
// the repository's root unless absolute. A case file that cannot be read whole
// fails the test.
func suites(t *testing.T) []*suite {
	t.Helper()
	fs := &faults{}
	all := []*suite{load("committed", filepath.Join(root, "testdata/cases"), nil, fs)}
	if dir := os.Getenv("GAUGEBOOK_CASES"); dir != "" {
		if !filepath.IsAbs(dir) {
			dir = filepath.Join(root, dir)
		}
		all = append(all, load("GAUGEBOOK_CASES", dir, all[0].lines, fs))
	}
	for _, f := range fs.list {
		t.Error(f)
	}
	for _, s := range all {
		if len(s.cases) == 0 {
			t.Errorf("%s: no cases", s.name)
		}
	}
	return all
}

// load reads one folder; a line that its own tables do not have means what the
// other table says.
func load(name, dir string, others map[string][]thing, fs *faults) *suite {
	s := &suite{name: name, cases: readCases(dir, fs), lines: map[string][]thing{}, says: map[string][]said{}}
	maps.Copy(s.lines, others)
	own := readLines(dir, fs)
	maps.Copy(s.lines, own)
	s.own = slices.Sorted(maps.Keys(own))
	for _, c := range s.cases {
		for _, k := range allLines {
			for _, line := range c.expect.lines[k] {
				if len(c.means(line, s.lines)) == 0 {
					c.faultf("expect.%s: no table of lines says what %q means", k, line)
				}
			}
		}
		s.says[c.id] = saidBy(judge.Visit(c.request))
	}
	return s
}

func TestCases(t *testing.T) {
	for _, s := range suites(t) {
		for _, c := range s.cases {
			t.Run(s.name+"/"+c.id, func(t *testing.T) {
				for _, wrong := range verdictOn(c, s.says[c.id], s.lines) {
					t.Errorf("%s: %s", c.title, wrong)
				}
			})
		}
	}
}

// A table of lines holds no line that no case of its folder has.
func TestCasesUseEveryLine(t *testing.T) {
	for _, s := range suites(t) {
		used := map[string]bool{}
		for _, c := range s.cases {
			for _, lines := range c.expect.lines {
				for _, line := range lines {
					used[line], used[c.id+": "+line] = true, true
				}
			}
		}
		for _, line := range s.own {
			if !used[line] {
				t.Errorf("%s: no case has the line %q", s.name, line)
			}
		}
	}
}

// What a case forbids is said in some other case, and what it says must not be
// missing is missing in some other: else the line could not fail.
func TestCasesForbiddenCanBeSaid(t *testing.T) {
	all := suites(t)
	for _, s := range all {
		for _, c := range s.cases {
			for key, lines := range c.expect.lines {
				for _, line := range lines {
					for _, x := range c.means(line, s.lines) {
						forbidden := slices.Contains(forbiddenLines, key) != x.absent
						missing := slices.Contains(forbiddenLines, key) && x.absent
						if key == "tempting" || !forbidden && !missing {
							continue
						}
						if !elsewhere(all, s, c, x, forbidden) {
							t.Errorf("%s: %s %q: no other case shows that %s %s can be %s", c.id, key, line, x.kind, x.code, map[bool]string{true: "said", false: "missing"}[forbidden])
						}
					}
				}
			}
		}
	}
}

// elsewhere tells whether another case says the code of a thing, or does not.
func elsewhere(all []*suite, of *suite, c *testCase, x thing, saidThere bool) bool {
	for _, s := range all {
		for id, says := range s.says {
			if s == of && id == c.id {
				continue
			}
			if saidThere == slices.ContainsFunc(says, func(o said) bool { return o.kind == x.kind && o.code == x.code }) {
				return true
			}
		}
	}
	return false
}

// Every code that any case brings out is one that a line may expect. With -v it
// lists them all, with the sentence of each.
func TestCodes(t *testing.T) {
	for _, s := range suites(t) {
		for id, says := range s.says {
			for _, o := range says {
				if _, ok := knownCodes[o.kind][o.code]; !ok {
					t.Errorf("%s says %v, which no line can expect: it has no text", id, o)
				}
			}
		}
	}
	for _, kind := range slices.Sorted(maps.Keys(knownCodes)) {
		for _, code := range slices.Sorted(maps.Keys(knownCodes[kind])) {
			t.Logf("{%s: %s}  %s", kind, code, knownCodes[kind][code])
		}
	}
	t.Logf("observed, felt: %s", strings.Join(enumWords(pb.ObservationKind(0).Descriptor()), ", "))
	t.Logf("looked: %s", strings.Join(enumWords(pb.LookedAt(0).Descriptor()), ", "))
	t.Logf("work: %s", strings.Join(enumWords(pb.WorkKind(0).Descriptor()), ", "))
}
