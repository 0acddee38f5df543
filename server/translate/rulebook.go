package translate

import (
	"strconv"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
)

// Rulebook gives a rulebook as the contract carries it, without a word.
func Rulebook(b *rulebook.Book) *pb.Rulebook {
	m := &pb.Rulebook{Id: b.ID, Version: strconv.Itoa(b.Version), Title: cited(b.Title)}
	for _, l := range b.Limits {
		r := b.RuleOf(l)
		m.Limits = append(m.Limits, &pb.Limit{
			Id: r.ID, Value: quantity(l.Value), Subject: said(strings.NewReplacer(",", "", "'", "", " ", "-").Replace(string(l.Subject))), Rule: rule(r, false),
		})
	}
	return m
}
