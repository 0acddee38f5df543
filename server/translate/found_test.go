package translate

import (
	"testing"

	"gaugebook.dev/calc/finding"
)

// Only a cause of wear has a rank, and only what rests on a rule has rules.
func TestWhatAFindingHasNotIsAbsent(t *testing.T) {
	if m := findingMessage(finding.Finding{Code: finding.DamageBulge}, nil); m.CauseRank != nil || len(m.GetRules()) != 0 {
		t.Errorf("%v", m)
	}
	if m := findingMessage(finding.Finding{Code: finding.WearToeIn, Rank: 1, Rule: finding.Rule{ID: "a"}, Others: []finding.Rule{{ID: "b"}}}, nil); m.GetCauseRank() != 1 || len(m.GetRules()) != 2 {
		t.Errorf("%v", m)
	}
}
