package finding

import "testing"

// The stages have an order, each after all that it comes after, and the steps that they
// are shown under come in the order of the contract.
func TestStagesHaveAnOrder(t *testing.T) {
	step := map[int]Step{}
	for _, k := range stageKinds {
		rank, placed := stageRanks[k.Stage]
		if !placed {
			t.Errorf("stage %d comes after itself", k.Stage)
		}
		step[rank] = k.Step
		for _, s := range k.After {
			if stageRanks[s] >= rank {
				t.Errorf("stage %d comes before %d", k.Stage, s)
			}
		}
	}
	for rank := 1; rank < len(stageKinds); rank++ {
		if step[rank] < step[rank-1] {
			t.Errorf("the %dth stage is shown under an earlier step than the one before", rank+1)
		}
	}
	for _, w := range works.rows {
		if !w.Retired && StageOf(w.Stage).Stage == StageNotTold {
			t.Errorf("%s has no stage", w.Code)
		}
	}
}

// Each line comes after every line of the stages that its own comes after.
func TestLinesKeepTheOrderOfStages(t *testing.T) {
	for _, w := range works.rows {
		for _, o := range works.rows {
			for _, s := range StageOf(w.Stage).After {
				if o.Stage == s && w.Compare(o) <= 0 {
					t.Errorf("%s comes before %s", w.Code, o.Code)
				}
			}
		}
	}
}
