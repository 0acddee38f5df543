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
func Visit(req *pb.AssessVisitRequest) *pb.Assessment { return VisitUnder(nil, req) }

// VisitUnder is Visit under a shop's own limits besides the law; nil for none.
func VisitUnder(own *rulebook.Book, req *pb.AssessVisitRequest) *pb.Assessment {
	v := translate.Visit(req)
	v.Own = own
	return translate.Assessment(req, v, verdict.Judge(v))
}
