package tell

import (
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/words"
)

// Answers answer what the customer told of, each in one short sentence: by what was
// found, that it was looked for and not found, or that it was not looked at. They are
// what a customer came for, and stand before all else.
func Answers(to *words.Teller, a *pb.Assessment) (all []string) {
	say := func(label string, arguments ...words.Argument) {
		told, _ := to.Tell(words.Said{Section: words.Labels, Code: label, Arguments: arguments})
		if told = words.Sentence(told); told != "" && !slices.Contains(all, told) {
			all = append(all, told)
		}
	}
	for _, f := range a.GetFindings() {
		what, noticed := strings.CutPrefix(f.GetCode(), "complaint.")
		switch {
		case noticed:
			as, by := answered(f)
			arguments := []words.Argument{words.Text(words.Labels, "noticed."+what).As("noticed")}
			if by != "" {
				arguments = append(arguments, words.Text(words.Evidence, by).As("found"))
			}
			say(as, arguments...)
		case slices.ContainsFunc(f.GetEvidence(), func(e *pb.Evidence) bool { return e.GetCode() == string(finding.FactToldLamp) }):
			say("answer." + strings.TrimPrefix(f.GetCode(), "inflation."))
		}
	}
	if slices.ContainsFunc(a.GetNotJudged(), func(n *pb.NotJudged) bool { return n.GetCode() == string(finding.RecordedComplaints) }) {
		say("answer.in-words")
	}
	return all
}

// answered tells how what the customer told of is answered, and by what of the visit.
func answered(f *pb.Finding) (label, by string) {
	label = "answer.not-looked-at"
	for _, e := range f.GetEvidence() {
		switch {
		case e.GetCode() == string(finding.FactComplaintLookedAtNothingFound):
			label = "answer.not-found"
		case !e.GetAgainst():
			return "answer.found", e.GetCode()
		}
	}
	return label, ""
}
