package translate

import (
	"strconv"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
)

// Rulebook gives a rulebook as the contract carries it.
func Rulebook(b *rulebook.Book) *pb.Rulebook {
	m := &pb.Rulebook{Id: b.ID, Version: strconv.Itoa(b.Version), Title: b.Title}
	for _, l := range b.Limits {
		r := b.RuleOf(l)
		m.Limits = append(m.Limits, &pb.Limit{
			Id: r.ID, Value: quantity(l.Value), AppliesTo: l.Applies.Text, Subject: string(l.Subject), Says: l.Says,
			Rule: &pb.Rule{Id: r.ID, Authority: pb.Authority(r.Authority), Citation: r.Citation, HowKnown: pb.SourceReading(r.Known)},
		})
	}
	return m
}
