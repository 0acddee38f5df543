package finding

import (
	"regexp"
	"testing"

	"gaugebook.dev/calc/layout"
)

// An id tells findings of a visit apart, and nobody can take it apart.
func TestID(t *testing.T) {
	left, right := layout.MustParse("1L"), layout.MustParse("1R")
	opaque := regexp.MustCompile(`^[a-z2-7]{8}$`)
	known := map[string]Finding{}
	for _, f := range []Finding{
		{Code: "tread.legal-limit"},
		{Code: "tread.model-limit"},
		{Code: "tread.legal-limit", Rule: Rule{ID: "us-ca.depth"}},
		{Code: "tread.legal-limit", Rule: Rule{ID: "us-ca.depth"}, Positions: []layout.Position{left}},
		{Code: "tread.legal-limit", Rule: Rule{ID: "us-ca.depth"}, Positions: []layout.Position{right}},
		{Code: "tread.legal-limit", Rule: Rule{ID: "us-ca.depth"}, Positions: []layout.Position{left, right}},
		{Code: "tread.legal-limit", Positions: []layout.Position{left}},
		{Code: "tread.legal-limitus-ca.depth"},
		{Code: "tread.legal-limit", Rule: Rule{ID: "1L"}},
	} {
		id := f.ID()
		if !opaque.MatchString(id) {
			t.Errorf("%v: %q can be read", f, id)
		}
		if other, taken := known[id]; taken {
			t.Errorf("%v and %v have one id", f, other)
		}
		known[id] = f
		f.Urgency, f.Candidate, f.Evidence = Plan, true, []Evidence{{Code: "a"}}
		if again := f.ID(); again != id {
			t.Errorf("%v: another id when judged otherwise", f)
		}
	}
	// SHA-256 of the code and its end, by the published examples' algorithm (FIPS
	// 180-4), in base 32 (RFC 4648): worked out with coreutils.
	if got, want := (Finding{Code: "abc"}).ID(), "aylcsdqk"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
	// With a rule and two places each of them ends so, too.
	if got, want := (Finding{Code: "abc", Rule: Rule{ID: "d.e"}, Positions: []layout.Position{left, right}}).ID(), "k5nux5m5"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}
