package judge_test

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"

	"gaugebook.dev/server/judge"
)

// seeds is how many visits are drawn in search of what no visit touches yet.
const seeds = 500

// growCorpus adds visits and never changes or removes one.
func growCorpus(t *testing.T) {
	t.Helper()
	g := &growing{T: t, all: corpus(t), said: map[string]bool{}, before: map[string][]byte{}}
	for _, v := range g.all {
		g.learn(v.visit)
	}
	files, err := filepath.Glob(root + "/testdata/demo/*.json")
	if err != nil {
		t.Fatal(err)
	}
	for _, file := range files {
		data, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		req := &pb.AssessVisitRequest{}
		if err := protojson.Unmarshal(data, req); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		g.add("demo/"+strings.TrimSuffix(filepath.Base(file), ".json"), req)
	}
	for _, l := range readJSONL(t, corpusFolder+"/made.jsonl") {
		g.add(l.Name, visitOf(t, l))
	}
	for _, s := range suites(t) {
		for _, c := range s.cases {
			if s.name == "committed" {
				g.add("case/"+c.id, c.request)
			}
		}
	}
	g.laws()
	g.draw()
	var lines []line
	for _, v := range g.all {
		lines = append(lines, line{Name: v.name, Visit: compact(v.visit, protojson.MarshalOptions{})})
	}
	writeJSONL(t, visitsFile, lines)
}

type growing struct {
	*testing.T
	all    []frozen
	said   map[string]bool   // by any visit: see saying
	before map[string][]byte // the answer to a visit under the rulebooks as they are, by name
}

// saying is what makes a drawn visit worth keeping: each finding in each of its
// variants, each line of work, question and thing checked.
func saying(req *pb.AssessVisitRequest) (all []string) {
	a := judge.Visit(req)
	for _, f := range a.GetFindings() {
		all = append(all, fmt.Sprint("finding ", f.Code, f.Urgency, f.Comparison, ruleOf(f).GetCandidate()))
	}
	for _, w := range a.GetWork() {
		all = append(all, fmt.Sprint("work ", w.Code, w.Condition != nil, w.Target == nil))
	}
	for _, r := range a.GetRepairs() {
		all = append(all, fmt.Sprint("repair ", r.Repairability, r.Method))
	}
	for _, u := range a.GetQuestions() {
		all = append(all, "question "+u.Code)
	}
	for _, c := range a.GetNothingFound() {
		all = append(all, "checked "+c.Code)
	}
	for _, n := range a.GetNotJudged() {
		all = append(all, "not judged "+n.Code)
	}
	return all
}

// laws adds, of each limit of a law of which no visit is known whose answer depends on it,
// the one that is made for it.
func (g *growing) laws() {
	told := witnesses(g.T)
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			id := b.ID + "." + l.ID
			if req := lawVisit(b, l); req != nil && told[id] == "" {
				g.add("law/"+id, req)
			}
		}
	}
}

func (g *growing) learn(req *pb.AssessVisitRequest) (more bool) {
	for _, s := range saying(req) {
		more = more || !g.said[s]
		g.said[s] = true
	}
	return more
}

func (g *growing) add(name string, req *pb.AssessVisitRequest) {
	if slices.ContainsFunc(g.all, func(v frozen) bool { return v.name == name }) {
		return
	}
	g.learn(req)
	g.all = append(g.all, frozen{name, req})
}

// draw adds drawn visits that say what none has said, then, of ten times as many,
// those whose answer depends on a limit that none depends on.
func (g *growing) draw() {
	for seed := range seeds {
		if req := drawnBy(seed); g.learn(req) {
			g.add(g.freeName(seed), req)
		}
	}
	var missing [][]mutation
	for _, ways := range mutations() {
		_, shown := onlyShown[ways[0].id()]
		if !shown && !slices.ContainsFunc(g.all, func(v frozen) bool { return g.matters(ways, v) }) {
			missing = append(missing, ways)
		}
	}
	for seed := 0; seed < 10*seeds && len(missing) > 0; seed++ {
		v := frozen{g.freeName(seed), drawnBy(seed)}
		missing = slices.DeleteFunc(missing, func(ways []mutation) bool {
			touched := g.matters(ways, v)
			if touched {
				g.add(v.name, v.visit)
			}
			return touched
		})
	}
	for _, ways := range missing {
		g.Logf("%s matters to none of %d drawn visits", ways[0].id(), 10*seeds)
	}
}

// matters tells whether the answer to a visit depends on the limit.
func (g *growing) matters(ways []mutation, v frozen) bool {
	if g.before[v.name] == nil {
		g.before[v.name] = answerTo(v.visit)
	}
	return slices.ContainsFunc(ways, func(m mutation) bool {
		return !bytes.Equal(g.before[v.name], under([]mutation{m}, func() []byte { return answerTo(v.visit) }))
	})
}

// freeName is the name of a drawn visit that no visit has yet: an older way of
// drawing may have given the corpus another visit of the same seed.
func (g *growing) freeName(seed int) string {
	name := drawnName(seed)
	for slices.ContainsFunc(g.all, func(v frozen) bool { return v.name == name }) {
		name += "-again"
	}
	return name
}

func drawnName(seed int) string { return fmt.Sprintf("drawn/%05d", seed) }

func drawnBy(seed int) *pb.AssessVisitRequest {
	req := anyVisit.Example(seed)
	req.Reader = nil
	return req
}
