package finding

import (
	"slices"

	"gaugebook.dev/calc/measure"
)

// Certainty is how sure a finding is. What is done about it follows: from doubt come
// only a hold, no air, a look, a measurement and a question.
type Certainty uint8

// Certainties, the surest first.
const (
	CertaintyNotTold Certainty = iota
	Proved                     // read or seen, and past its limit whatever the gauge's uncertainty; or a condition
	MayApply                   // by a law that may bind the vehicle, among others
	Undecided                  // the limit lies within the uncertainty, or only a look tells
	Doubtful                   // rests on a reading in doubt
	Assumed                    // rests on something that nobody told
)

// Certainty is how sure a finding is. It is told here alone: by what its evidence says of
// the reading or was seen, by its outcome, and by whether its rule is one of several that may
// apply. A condition (see Kind) is proved where its limit lies within the uncertainty,
// as its legal status need not be.
func (f Finding) Certainty() Certainty {
	says := func(c Certainty) bool {
		return slices.ContainsFunc(f.Evidence, func(e Evidence) bool { return FactOf(e.Code).Leaves == c })
	}
	switch {
	case says(Proved):
		return Proved
	case says(Doubtful):
		return Doubtful
	case KindOf(f.Code).Condition:
		return Proved
	case f.Candidate:
		return MayApply
	case f.Outcome == measure.CannotTell:
		return Undecided
	case says(Assumed):
		return Assumed
	}
	return Proved
}

// Needs is how sure of what calls for it a line of work has to be.
type Needs uint8

// What a line of work needs.
const (
	NeedsNotTold Needs = iota
	NeedsNothing       // doubt is enough: it holds, keeps air out, looks, measures, asks, records
	NeedsProof         // it buys, moves, scraps, repairs or sets
	NeedsWork          // it follows from other lines, as sure as they are
)
