package translate

import (
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// Wordless is an assessment without its sentences, the words its rules are cited
// in and what it was made from: two that are equal so mean the same, whatever
// language and units they are told in. The rules themselves stay.
func Wordless(a *pb.Assessment) *pb.Assessment {
	a = proto.CloneOf(a)
	a.Basis = nil
	for _, f := range a.GetFindings() {
		f.ToSettle, f.ForTechnician, f.ForCustomer, f.Caution = "", "", "", ""
		for _, e := range f.GetEvidence() {
			e.Words = ""
		}
		if f.GetAsLeft() != nil {
			f.AsLeft.Words = ""
		}
		if f.GetRule() != nil {
			f.Rule.Citation = ""
		}
	}
	for _, w := range a.GetWork() {
		w.ForTechnician, w.ForCustomer, w.Caution, w.OnCondition = "", "", "", ""
	}
	for _, u := range a.GetUnanswered() {
		u.Question, u.WouldAllow = "", ""
	}
	for _, n := range a.GetNotLookedAt() {
		n.Words = ""
	}
	for _, c := range a.GetNothingFound() {
		c.Words = ""
	}
	for _, n := range a.GetNotJudged() {
		n.Words = ""
	}
	for _, w := range a.GetWheels() {
		w.ShownPosition, w.Coverage = "", ""
	}
	for _, r := range a.GetRepairs() {
		r.LookFor, r.Words = nil, ""
	}
	return a
}
