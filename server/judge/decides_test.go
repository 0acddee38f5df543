package judge_test

import (
	"slices"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/judge"
)

// beside are the numbers that show beside an answer, or in how sure it is, and that no
// visit of the corpus turns on yet.
var beside = map[string]string{
	"fitment.awd-depth-other": "evidence, as its text says", "fitment.awd-depth-most": "evidence, as its text says",
	"fitment.shown-mph": "an example", "fitment.shown-kmh": "an example",
	"pressure.temperature-sensor": "how sure a cold equivalent is", "pressure.temperature-bay": "how sure a cold equivalent is",
	"fitment.tape-graduation": "how sure a tape is", "gauges.length-graduation": "how sure a length is", "gauges.length-repeatability": "how sure a length is",
	"repair-us.found-size-uncertainty": "how sure a hole is", "repair-us.distance-uncertainty": "how sure a place is", "repair-uk.angle-uncertainty": "how sure an angle is",
	"advice.pattern-needs": "exact miles at the limit", "eu-at.heavy-winter-cross-ply": "rare",
}

// TestEveryRuleDecides: each number of a rulebook has a visit whose answer turns on it:
// what is found, to be done or asked, not what is cited. A rule without a number is
// what some finding stands on. What only informs says so in its book.
func TestEveryRuleDecides(t *testing.T) {
	var visits []*pb.AssessVisitRequest
	var before []string
	cited := map[string]bool{}
	told := witnesses(t)
	first := map[string]int{}
	for i, v := range corpus(t) {
		a := judge.Visit(v.visit)
		visits, before = append(visits, v.visit), append(before, meaning(a))
		first[v.name] = i
		for _, f := range a.GetFindings() {
			for _, r := range f.GetRules() {
				cited[r.GetId()] = true
			}
		}
	}
	var all []int
	for i := range visits {
		all = append(all, i)
	}
	turns := func(l *rulebook.Limit, among []int) bool {
		was := l.Value.Number
		defer func() { l.Value.Number = was }()
		return slices.ContainsFunc([]float64{0.5, 1.5}, func(by float64) bool {
			l.Value.Number = was * by
			return slices.ContainsFunc(among, func(i int) bool { return meaning(judge.Visit(visits[i])) != before[i] })
		})
	}
	for _, b := range rulebook.All() {
		for i := range b.Limits {
			l := &b.Limits[i]
			id := b.ID + "." + l.ID
			switch {
			case l.Informs != "" || beside[id] != "":
				continue
			case l.Value.Unit == unit.None && !cited[id]:
				t.Errorf("%s: no finding stands on it", id)
			case l.Value.Unit != unit.None && !turns(l, []int{first[told[id]]}) && !turns(l, all):
				t.Errorf("%s: no answer turns on its number", id)
			}
		}
	}
}
