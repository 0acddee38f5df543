package judge_test

import (
	"bufio"
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/words"
)

// The corpus is visits with the answers that an engine gave. Its README says how
// it is kept.
const (
	corpusFolder = root + "/testdata/corpus"
	engineFile   = corpusFolder + "/ENGINE"
	visitsFile   = corpusFolder + "/visits.jsonl"
	answersFile  = corpusFolder + "/answers.jsonl"
	witnessFile  = corpusFolder + "/limits.txt"

	leastVisits = 120
	mostBytes   = 10 << 20
)

var (
	update = flag.Bool("update", false, "write the answers of the corpus, where a new engine or a new visit allows it")
	grow   = flag.Bool("grow", false, "add visits to the corpus: demo files, cases, and drawn ones that touch what none touches")
)

// frozen is one visit of the corpus.
type frozen struct {
	name  string
	visit *pb.AssessVisitRequest
}

// line is one line of a file of the corpus.
type line struct {
	Name   string          `json:"name"`
	Visit  json.RawMessage `json:"visit,omitempty"`
	Answer json.RawMessage `json:"answer,omitempty"`
}

func readJSONL(t testing.TB, file string) []line {
	t.Helper()
	f, err := os.Open(file)
	if os.IsNotExist(err) && *grow {
		return nil
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	var lines []line
	in := bufio.NewScanner(f)
	in.Buffer(nil, mostBytes)
	for in.Scan() {
		var l line
		d := json.NewDecoder(bytes.NewReader(in.Bytes()))
		d.DisallowUnknownFields()
		if err := d.Decode(&l); err != nil {
			t.Fatalf("%s: %v", file, err)
		}
		lines = append(lines, l)
	}
	if err := in.Err(); err != nil {
		t.Fatalf("%s: %v", file, err)
	}
	return lines
}

func writeJSONL(t *testing.T, file string, lines []line) {
	t.Helper()
	var out bytes.Buffer
	e := json.NewEncoder(&out)
	e.SetEscapeHTML(false)
	for _, l := range lines {
		if err := e.Encode(l); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(file, out.Bytes(), 0o644); err != nil {
		t.Fatal(err)
	}
}

// visitOf reads the visit of a line, which has to be one that can be judged.
func visitOf(t testing.TB, l line) *pb.AssessVisitRequest {
	t.Helper()
	req := &pb.AssessVisitRequest{}
	if err := protojson.Unmarshal(l.Visit, req); err != nil {
		t.Fatalf("%s: %v", l.Name, err)
	}
	for _, p := range check.AssessVisit(req) {
		t.Fatalf("%s cannot be judged: %v", l.Name, p)
	}
	return req
}

func corpus(t *testing.T) []frozen {
	t.Helper()
	var all []frozen
	for _, l := range readJSONL(t, visitsFile) {
		req := visitOf(t, l)
		if slices.ContainsFunc(all, func(f frozen) bool { return f.name == l.Name }) {
			t.Fatalf("two visits are called %s", l.Name)
		}
		all = append(all, frozen{l.Name, req})
	}
	return all
}

// compact is a message as JSON that is the same in every build.
func compact(m proto.Message, how protojson.MarshalOptions) []byte {
	data, err := how.Marshal(m)
	var out bytes.Buffer
	if err == nil {
		err = json.Compact(&out, data)
	}
	if err != nil {
		panic(err)
	}
	return out.Bytes()
}

// kept is what the corpus keeps of an assessment. To be short, enum values are
// numbers, a line of work names its findings by their place in the list, and a
// citation is its text.
func condensed(a *pb.Assessment) []byte {
	a.Basis.Engine = "" // the file ENGINE says it once
	found := map[string]string{}
	for i, f := range a.GetFindings() {
		found[f.Id] = strconv.Itoa(i)
	}
	for _, w := range a.GetWork() {
		for i, id := range w.FindingIds {
			w.FindingIds[i] = found[id]
		}
	}
	eachMessage(a.ProtoReflect(), func(m protoreflect.Message) bool {
		if r, ok := m.Interface().(*pb.Rule); ok && r.GetCitation() != nil {
			r.Citation = &pb.Said{Code: citationOf(r)}
		}
		return true
	})
	return compact(a, protojson.MarshalOptions{UseEnumNumbers: true})
}

// citationOf is what a rule is cited from, as its rulebook has it.
func citationOf(r *pb.Rule) string {
	for _, v := range r.GetCitation().GetValues() {
		return v.GetText()
	}
	return ""
}

func answerTo(req *pb.AssessVisitRequest) []byte { return condensed(judge.Visit(req)) }

// TestCorpus fails when an answer changed. A change that is meant is a new
// engine: raise verdict.Engine, and write the answers with -update.
func TestCorpus(t *testing.T) {
	if *grow {
		growCorpus(t)
	}
	visits := corpus(t)
	old := map[string][]byte{}
	for _, l := range readJSONL(t, answersFile) {
		old[l.Name] = l.Answer
	}
	engine, err := os.ReadFile(engineFile)
	if err != nil && !*update {
		t.Fatal(err)
	}
	sameEngine := strings.TrimSpace(string(engine)) == verdict.Engine
	var answers []line
	var changed, added []string
	for _, v := range visits {
		answer := answerTo(v.visit)
		answers = append(answers, line{Name: v.name, Answer: answer})
		before, known := old[v.name]
		switch {
		case !known:
			added = append(added, v.name)
		case !bytes.Equal(before, answer):
			changed = append(changed, v.name)
			if !*update || sameEngine {
				t.Errorf("%s: %s", v.name, differenceOf(before, answer))
			}
		}
		delete(old, v.name)
	}
	for _, name := range slices.Sorted(maps.Keys(old)) {
		changed = append(changed, name)
		t.Errorf("%s has an answer and is no visit of the corpus", name)
	}
	switch {
	case len(changed) > 0 && sameEngine:
		t.Fatalf("%d answers changed: raise verdict.Engine, now %s, and run this test with -update", len(changed), verdict.Engine)
	case *update:
		writeJSONL(t, answersFile, answers)
		if err := os.WriteFile(engineFile, []byte(verdict.Engine+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
		t.Logf("engine %s: %d answers written, %d changed, %d added", verdict.Engine, len(answers), len(changed), len(added))
	case !sameEngine:
		t.Fatalf("the answers are those of engine %q, this one is %s: run this test with -update", strings.TrimSpace(string(engine)), verdict.Engine)
	case len(added) > 0:
		t.Fatalf("no answers yet to %v: run this test with -update", added)
	}
}

// differenceOf shows where two answers begin to differ.
func differenceOf(before, now []byte) string {
	i := 0
	for i < len(before) && i < len(now) && before[i] == now[i] {
		i++
	}
	cut := func(s []byte) string { return string(s[max(0, min(i-160, len(s))):min(i+160, len(s))]) }
	return fmt.Sprintf("the answer changed\nfrom ...%s...\nto   ...%s...", cut(before), cut(now))
}

func TestCorpusIsSmallEnoughAndLargeEnough(t *testing.T) {
	if n := len(corpus(t)); n < leastVisits {
		t.Errorf("%d visits, at least %d are wanted", n, leastVisits)
	}
	size := int64(0)
	files, err := filepath.Glob(corpusFolder + "/*")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range files {
		info, err := os.Stat(f)
		if err != nil {
			t.Fatal(err)
		}
		size += info.Size()
	}
	if size > mostBytes {
		t.Errorf("%d bytes, at most %d are wanted", size, mostBytes)
	}
}

// TestCorpusReadsBack: a visit of the corpus is judged the same when it is read
// from what the corpus would write of it.
func TestCorpusReadsBack(t *testing.T) {
	for _, l := range readJSONL(t, visitsFile) {
		if got := compact(visitOf(t, l), protojson.MarshalOptions{}); !bytes.Equal(got, l.Visit) {
			t.Errorf("%s is not written as it is read: %s", l.Name, differenceOf(l.Visit, got))
		}
	}
}

// findingCodes are the codes of findings that have words, without their variants.
func findingCodes() []string {
	all := map[string]bool{}
	for code := range words.In(words.Default).Findings {
		for _, variant := range []string{".no-measured", ".cannot-tell", ".candidate"} {
			code = strings.TrimSuffix(code, variant)
		}
		all[code] = true
	}
	return slices.Sorted(maps.Keys(all))
}

func TestCorpusTouchesEveryFinding(t *testing.T) {
	found := map[string]bool{}
	for _, v := range corpus(t) {
		for _, f := range judge.Visit(v.visit).GetFindings() {
			found[f.Code] = true
		}
	}
	found["tread.shop-limit"] = true     // by a shop's own file alone: TestShopsOwnLimit
	found["tread.roadside-limit"] = true // the same: TestEditionBesideTheLaw
	for _, code := range findingCodes() {
		if !found[code] {
			t.Errorf("no visit of the corpus finds %s", code)
		}
	}
}

// onlyShown are the limits that people can read and that this version judges
// nothing by, with why: their rulebook says so.
var onlyShown = func() map[string]string {
	all := map[string]string{}
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			if l.Informs != "" {
				all[b.ID+"."+l.ID] = l.Informs
			}
		}
	}
	return all
}()

// mutation is one way to change a limit: its number, or its citation where it has
// none.
type mutation struct {
	book  *rulebook.Book
	limit *rulebook.Limit
	by    float64
}

func (m mutation) id() string { return m.book.ID + "." + m.limit.ID }

func (m mutation) String() string {
	if m.by == 0 {
		return m.id() + " cited otherwise"
	}
	return fmt.Sprintf("%s times %v", m.id(), m.by)
}

// under gives what do gives while the limits are changed.
func under[T any](ms []mutation, do func() T) T {
	for _, m := range ms {
		was := *m.limit
		defer func() { *m.limit = was }()
		if m.by == 0 {
			m.limit.Citation = "cited otherwise"
		} else {
			m.limit.Value.Number *= m.by
		}
	}
	return do()
}

// mutations are for each limit the ways to change it.
func mutations() (all [][]mutation) {
	for _, b := range rulebook.All() {
		for i := range b.Limits {
			l := &b.Limits[i]
			ways := []mutation{{b, l, 0.5}, {b, l, 1.5}}
			if l.Value.Unit == unit.None {
				ways = []mutation{{b, l, 0}}
			}
			all = append(all, ways)
		}
	}
	return all
}

// witnesses tell of each limit a visit whose answer changes with it, so that the
// test need not look for one. They prove nothing by themselves.
func witnesses(t *testing.T) map[string]string {
	t.Helper()
	data, err := os.ReadFile(witnessFile)
	if err != nil && !*update {
		t.Fatal(err)
	}
	all := map[string]string{}
	for l := range strings.Lines(string(data)) {
		limit, visit, _ := strings.Cut(strings.TrimSpace(l), " ")
		all[limit] = visit
	}
	return all
}

// TestCorpusTouchesEveryLimit: no number of a rulebook can be mistyped without
// some answer of the corpus changing.
func TestCorpusTouchesEveryLimit(t *testing.T) {
	answer := func(v frozen) []byte { return wire(judge.Visit(v.visit)) }
	visits := corpus(t)
	before := make([][]byte, len(visits))
	for i, v := range visits {
		before[i] = answer(v)
	}
	changes := func(i int, ms ...mutation) bool {
		return !bytes.Equal(before[i], under(ms, func() []byte { return answer(visits[i]) }))
	}
	told, known := witnesses(t), map[string]bool{}
	var idle []mutation
	var lines strings.Builder
	for _, ways := range mutations() {
		id := ways[0].id()
		known[id] = true
		if _, shown := onlyShown[id]; shown {
			idle = append(idle, ways...)
			continue
		}
		// One way to change it is enough to show that it is judged by.
		shows := func(i int) bool {
			return slices.ContainsFunc(ways, func(m mutation) bool { return changes(i, m) })
		}
		witness := slices.IndexFunc(visits, func(v frozen) bool { return v.name == told[id] })
		if witness < 0 || !shows(witness) {
			witness = 0
			for witness < len(visits) && !shows(witness) {
				witness++
			}
		}
		if witness == len(visits) {
			t.Errorf("%s: no answer of the corpus changes with it", id)
			continue
		}
		fmt.Fprintln(&lines, id, visits[witness].name)
	}
	if *update {
		if err := os.WriteFile(witnessFile, []byte(lines.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for id, why := range onlyShown {
		if !known[id] {
			t.Errorf("%s is on the list of limits that are only shown (%s), and is no limit", id, why)
		}
	}
	// All idle limits are changed together, down and up.
	for _, by := range []float64{0.5, 1.5} {
		some := slices.DeleteFunc(slices.Clone(idle), func(m mutation) bool { return m.by != 0 && m.by != by })
		for i, v := range visits {
			if !changes(i, some...) {
				continue
			}
			for _, m := range some {
				if changes(i, m) {
					t.Errorf("%v changes the answer to %s: it is not only shown any more", m, v.name)
				}
			}
		}
	}
}
