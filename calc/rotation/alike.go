package rotation

import (
	"strings"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/past"
)

// Make is what is told of a tire and its wheel, as written; empty where it is not.
type Make struct {
	Identification string // of the tire, with its date code
	Marking        string // size and service description
	Rim            string
	Wheel          string // kind of wheel
}

// MakesAlike compares the tires and wheels of the road. They are alike when all of size,
// rim, kind of wheel and identification but its date are told and the same: the
// identification names plant, size and type (49 CFR 574.5). One that is told to differ
// makes them differ, but for the plant.
func MakesAlike(makes []Make) finding.Answer {
	answer := finding.Yes
	for _, fact := range []struct {
		differing finding.Answer
		of        func(Make) string
	}{
		{finding.NotKnown, func(m Make) string {
			return strings.TrimSuffix(m.Identification, past.DateCode(m.Identification))
		}},
		{finding.No, func(m Make) string { return m.Marking }},
		{finding.No, func(m Make) string { return m.Rim }},
		{finding.No, func(m Make) string { return m.Wheel }},
	} {
		for _, m := range makes {
			switch first, other := bare(fact.of(makes[0])), bare(fact.of(m)); {
			case first == "" || other == "":
				answer = max(answer, finding.NotKnown)
			case other != first && answer != finding.No:
				answer = fact.differing
			}
		}
	}
	return answer
}

// bare is a text as written on a sidewall, however it was typed.
func bare(s string) string { return strings.ToUpper(strings.Join(strings.Fields(s), "")) }
