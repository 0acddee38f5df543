package translate

import (
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// Meaning is an assessment without its words, what its rules are cited from, what it
// was made from and what follows from the rest: two that are equal so mean the same,
// to whomever they are told. The rules themselves stay.
func Meaning(a *pb.Assessment) *pb.Assessment {
	a = proto.CloneOf(a)
	a.Basis, a.Totals, a.Cautions = nil, nil, nil
	if h := a.GetHeadline(); h != nil {
		h.ForTechnician, h.ForCustomer, h.Line, h.AsOf = "", "", "", nil
		unsaid(h.GetFirst(), h.GetAsk())
		for _, said := range [][]*pb.Said{h.GetFacts(), h.GetUnknown(), h.GetQuote(), h.GetBack()} {
			unsaid(said...)
		}
	}
	for _, f := range a.GetFindings() {
		f.ForTechnician, f.ForCustomer, f.OpenId = "", "", ""
		unsaid(f.GetToSettle(), f.GetAsLeft().GetPutRight())
		uncited(f.GetRules()...)
		for _, e := range f.GetEvidence() {
			e.Words = ""
		}
	}
	for _, w := range a.GetWork() {
		w.ForTechnician, w.ForCustomer = "", ""
		unsaid(w.GetCondition(), w.GetToSettle())
	}
	for _, r := range a.GetRepairs() {
		unsaid(r.GetLookFor()...)
		unsaid(r.GetMissing()...)
	}
	for _, w := range a.GetWheels() {
		w.ShownPosition = ""
		unsaid(w.GetCoverage())
	}
	clearListWords(a)
	return a
}

func clearListWords(a *pb.Assessment) {
	for _, q := range a.GetQuestions() {
		q.Words, q.WouldAllow = "", ""
	}
	for _, n := range a.GetNotLookedAt() {
		n.Words = ""
	}
	for _, c := range a.GetNothingFound() {
		c.Words = ""
		uncited(c.GetRule())
	}
	for _, n := range a.GetNotJudged() {
		n.Words = ""
	}
}

func unsaid(said ...*pb.Said) {
	for _, s := range said {
		if s != nil {
			s.Words = ""
		}
	}
}

func uncited(rules ...*pb.Rule) {
	for _, r := range rules {
		if r != nil {
			r.Citation = nil
		}
	}
}
