package wear_test

import (
	"regexp"
	"strings"
	"testing"

	"gaugebook.dev/server/words"
)

// A cause is a likelihood; nobody is sent below the door label, and words that
// only an engineer uses are left to him (common practice).
func TestCausesAreLikely(t *testing.T) {
	engineer := regexp.MustCompile(`(?i)\b(tilt|crown|inner edge|outer edge|caster)\b`)
	lower := regexp.MustCompile(`(?i)\b(lower|drop|reduce|let out|less air)\b[^.]*\b(pressure|label|psi)\b`)
	certain := map[string]bool{ // told as they are: no cause is named, or an event is
		"wear.look-again": true, "wear.undecided": true, "wear.made-at-former-position": true, "wear.not-round": true, "wear.rotation-missed": true,
		"wear.flat-spot": true, "wear.heel-and-toe": true,
	}
	said := words.In(words.Default)
	causes := 0
	for code, p := range said.Findings {
		if !strings.HasPrefix(code, "wear.") {
			continue
		}
		causes++
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
	if causes < 25 {
		t.Errorf("only %d causes", causes)
	}
}
