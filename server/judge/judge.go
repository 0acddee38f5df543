// Package judge gathers what the judgement of a visit needs and gives its answer.
package judge

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/verdict"

	"gaugebook.dev/server/translate"
)

// Visit judges a request that check has accepted. Equal requests give equal
// answers: no clock and no state are read.
func Visit(req *pb.AssessVisitRequest) *pb.Assessment { return under(nil, req) }

// For gives the judgement of each shop's visits, by its own limits beside the
// law. own gives them, nil for a shop that has none.
func For(own func(shop string) *rulebook.Book) func(shop string, req *pb.AssessVisitRequest) *pb.Assessment {
	return func(shop string, req *pb.AssessVisitRequest) *pb.Assessment { return under(own(shop), req) }
}

// NoneOwn is where no shop has limits of its own.
func NoneOwn(string) *rulebook.Book { return nil }

func under(own *rulebook.Book, req *pb.AssessVisitRequest) *pb.Assessment {
	v := translate.Visit(req)
	v.Own = own
	return translate.Assessment(req, v, verdict.Judge(v))
}
