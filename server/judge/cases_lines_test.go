package judge_test

import (
	"cmp"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/translate"
	"gaugebook.dev/server/words"
)

// said is one thing that an assessment says.
type said struct {
	kind, code string
	at         []string
	urgency    string
	limit      string // rule id
	outcome    string
	evidence   []string
	target     unit.Amount
	due        []float64 // from, by, in miles
	method     string
	onlyIf     bool
	rank       int32 // among possible causes, 0 when it is none
	line       int   // of the order of work, from 1
}

func (s said) String() string {
	return strings.TrimSpace(s.kind + " " + s.code + " " + fmt.Sprint(s.at))
}

var inEnglish, _ = words.Reader{Language: words.Default}.Tellers()

// saidBy lists everything that an assessment says.
func saidBy(a *pb.Assessment) []said {
	var all []said
	settle := func(code string, at []string) {
		if words.In(words.Default).Settle[code] != "" { // else it is a question, or nothing
			all = append(all, said{kind: "settle", code: code, at: at})
		}
	}
	caution := func(code string, at []string) {
		if code != "" {
			all = append(all, said{kind: "caution", code: code, at: at})
		}
	}
	for _, f := range a.GetFindings() {
		s := said{kind: "finding", code: f.Code, at: f.Positions, urgency: name(f.Urgency), limit: ruleOf(f).GetId(), outcome: name(f.Comparison), rank: f.GetCauseRank()}
		for _, e := range f.Evidence {
			s.evidence = append(s.evidence, e.Code)
		}
		all = append(all, s)
		caution(f.Caution, f.Positions)
		settle(f.GetToSettle().GetCode(), f.Positions)
	}
	for i, w := range a.GetWork() {
		s := said{kind: "work", code: w.Code, at: w.Positions, urgency: name(w.Urgency), onlyIf: w.GetCondition() != nil, line: i + 1}
		s.target, _ = translate.Amount(w.GetTarget())
		if from, ok := translate.Amount(w.GetDueFromDistance()); ok {
			by, _ := translate.Amount(w.GetDueByDistance())
			s.due = []float64{from.Number, by.Number}
		}
		all = append(all, s)
		caution(w.Caution, w.Positions)
	}
	for _, c := range a.GetNothingFound() {
		all = append(all, said{kind: "checked", code: c.Code, at: c.Positions})
	}
	for _, q := range a.GetQuestions() {
		all = append(all, said{kind: "question", code: q.Code, at: q.Positions})
	}
	for _, n := range a.GetNotJudged() {
		all = append(all, said{kind: "not_judged", code: n.Code, at: n.Positions})
	}
	for _, n := range a.GetNotLookedAt() {
		all = append(all, said{kind: "not_looked", code: cmp.Or(name(n.What), "wheel"), at: n.Positions})
	}
	for _, r := range a.GetRepairs() {
		all = append(all, said{kind: "answer", code: name(r.Repairability), at: []string{r.Position}, method: name(r.Method)})
		for _, m := range r.GetMissing() {
			settle(m.GetCode(), []string{r.Position})
		}
	}
	return all
}

// ruleOf is what a finding was judged by; nil for an observation.
func ruleOf(f *pb.Finding) *pb.Rule {
	if len(f.GetRules()) == 0 {
		return nil
	}
	return f.GetRules()[0]
}

// name is an enum value's name without prefix in kebab case, "" for unspecified.
func name(v protoreflect.Enum) string {
	d := v.Descriptor()
	for i, w := range enumWords(d) {
		if d.Values().Get(i+1).Number() == v.Number() {
			return w
		}
	}
	return ""
}

// knownCodes are the codes that the product may say, by kind of thing, with the
// sentence that goes with each.
var knownCodes = func() map[string]map[string]string {
	c := words.In(words.Default)
	base := func(code string, variants ...string) string {
		for _, v := range variants {
			code = strings.TrimSuffix(code, v)
		}
		return code
	}
	m := map[string]map[string]string{}
	add := func(kind, code, text string) {
		if m[kind] == nil {
			m[kind] = map[string]string{}
		}
		if _, there := m[kind][code]; !there {
			m[kind][code] = text
		}
	}
	for _, k := range slices.Sorted(maps.Keys(c.Findings)) {
		add("finding", base(k, ".cannot-tell", ".candidate", ".no-measured"), c.Findings[k].Technician)
	}
	for _, k := range slices.Sorted(maps.Keys(c.Work)) {
		add("work", base(k, ".no-target", ".finish-cold"), c.Work[k].Technician)
	}
	for k, text := range c.Checked {
		add("checked", k, text)
	}
	for k, p := range c.Questions {
		add("question", k, p.Technician)
	}
	for k, text := range c.NotJudged {
		add("not_judged", k, text)
	}
	for k, text := range c.Cautions {
		add("caution", k, text)
	}
	for k, text := range c.Settle {
		add("settle", k, text)
	}
	for k, text := range c.Evidence {
		add("evidence", k, text)
	}
	for _, w := range append(enumWords(pb.LookedAt(0).Descriptor()), "wheel") {
		add("not_looked", w, c.Labels["looked."+w])
	}
	for _, w := range enumWords(pb.Repairability(0).Descriptor()) {
		add("answer", w, "")
	}
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			add("limit", b.ID+"."+l.ID, l.Says)
		}
	}
	return m
}()

// thingKinds are the kinds of things that a line may mean.
var thingKinds = []string{"finding", "work", "checked", "question", "not_judged", "not_looked", "answer", "caution", "settle"}

var thingKeys = append(slices.Clone(thingKinds), "absent", "at", "urgency", "limit", "outcome", "evidence", "target", "due", "method", "only_if", "rank")

// thing is one thing that a line means: something said, or something left unsaid.
type thing struct {
	node
	kind, code string
	at         []string // as written
	like       said     // what else is asked of it
	hasOnlyIf  bool
	absent     bool
}

func (t thing) String() string {
	s := t.kind + " " + t.code
	if len(t.at) > 0 {
		s += " at " + strings.Join(t.at, " ")
	}
	for _, more := range []string{t.like.urgency, t.like.limit, t.like.outcome, t.like.method, strings.Join(t.like.evidence, " "), inEnglish.Value(words.Exact(t.like.target))} {
		if more != "" {
			s += ", " + more
		}
	}
	if t.absent {
		return "nothing of: " + s
	}
	return s
}

// readLines reads every table of lines of a folder: lines.yaml, lines-x.yaml.
func readLines(dir string, fs *faults) map[string][]thing {
	lines := map[string][]thing{}
	for _, f := range caseFiles(dir, fs) {
		if !strings.HasPrefix(f, "lines") {
			continue
		}
		for _, e := range readYAML(dir, f, fs).entries() {
			line := strings.Join(strings.Fields(e.key), " ")
			if _, twice := lines[line]; twice {
				e.value.faultf("the line stands in another table too")
			}
			for _, i := range e.value.items() {
				lines[line] = append(lines[line], readThing(i))
			}
			if len(lines[line]) == 0 {
				e.value.faultf("the line means nothing")
			}
		}
	}
	return lines
}

func readThing(n node) thing {
	kv := n.keys(thingKeys...)
	t := thing{node: n}
	if a := kv["absent"]; a.there() {
		if len(kv) > 1 {
			n.faultf("absent stands alone, with everything below it")
		}
		t = readThing(a)
		if t.absent {
			n.faultf("absent of absent")
		}
		t.absent = true
		return t
	}
	for _, k := range thingKinds {
		if !kv[k].there() {
			continue
		}
		if t.kind != "" {
			n.faultf("one thing has one kind, not %s and %s", t.kind, k)
		}
		t.kind, t.code = k, kv[k].code(k)
	}
	if t.kind == "" {
		n.faultf("a thing is one of %s", strings.Join(thingKinds, ", "))
	}
	t.at = kv["at"].texts()
	word := func(key string, of ...string) string {
		if !kv[key].there() {
			return ""
		}
		return kv[key].one(of...)
	}
	t.like.urgency = word("urgency", enumWords(pb.Urgency(0).Descriptor())...)
	t.like.outcome = word("outcome", enumWords(pb.Comparison(0).Descriptor())...)
	t.like.method = word("method", enumWords(pb.RepairMethod(0).Descriptor())...)
	if kv["limit"].there() {
		t.like.limit = kv["limit"].code("limit")
	}
	for _, e := range kv["evidence"].items() {
		t.like.evidence = append(t.like.evidence, e.code("evidence"))
	}
	if kv["target"].there() {
		t.like.target = readTarget(kv["target"])
	}
	if d := kv["due"]; d.there() {
		for _, i := range d.items() {
			t.like.due = append(t.like.due, quantity(i, &pb.Distance{}, "miles").GetMiles())
		}
		if len(t.like.due) != 2 {
			d.faultf("two distances, from and by, are wanted")
		}
	}
	if r := kv["rank"]; r.there() {
		v, err := strconv.ParseInt(r.text(), 10, 32)
		if err != nil || v < 1 {
			r.faultf("a rank is 1 for the likeliest, 2, 3 ...")
		}
		t.like.rank = int32(v)
	}
	if o := kv["only_if"]; o.there() {
		t.hasOnlyIf, t.like.onlyIf = true, o.yes()
	}
	return t
}

// code reads a code and refuses one that the product does not know.
func (n node) code(kind string) string {
	code := n.text()
	if kind == "answer" {
		code = kebab(code)
	}
	known := slices.Sorted(maps.Keys(knownCodes[kind]))
	if !slices.Contains(known, code) {
		n.faultf("the product has no %s %q%s", kind, code, meant(code, known))
	}
	return code
}

// readTarget reads what a line of work sets: a pressure, a torque, a depth.
func readTarget(n node) unit.Amount {
	_, written, _ := n.measured()
	var m proto.Message = &pb.Pressure{}
	switch written {
	case "lb-ft", "ft-lb", "nm", "n m":
		m = &pb.Torque{}
	case "in", "mm":
		m = &pb.Depth{}
	}
	a, _ := translate.Amount(quantity(n, m, ""))
	return a
}

// matches tells whether something said is the thing, wherever it is.
func (t thing) matches(s said) bool {
	l := t.like
	same := func(want, got string) bool { return want == "" || want == got }
	for _, e := range l.evidence {
		if !slices.Contains(s.evidence, e) {
			return false
		}
	}
	return t.kind == s.kind && t.code == s.code && same(l.urgency, s.urgency) && same(l.limit, s.limit) && same(l.outcome, s.outcome) && same(l.method, s.method) &&
		(l.target.IsZero() || l.target.Unit == s.target.Unit && math.Abs(l.target.Number-s.target.Number) < 1e-9) &&
		(l.rank == 0 || l.rank == s.rank) && (l.due == nil || slices.Equal(l.due, s.due)) && (!t.hasOnlyIf || l.onlyIf == s.onlyIf)
}

// where gives the positions of a thing on a vehicle; a thing without at gives
// one empty position, which is anywhere.
func (t thing) where(v layout.Vehicle) ([]string, error) {
	if len(t.at) == 0 {
		return []string{""}, nil
	}
	var all []string
	for _, p := range t.at {
		ps := placesOf(v, p)
		if len(ps) == 0 {
			return nil, fmt.Errorf("%q names no wheel of this vehicle: %v", p, v.Positions())
		}
		all = append(all, ps...)
	}
	return all, nil
}

// count is at how many of its places a thing is said.
func (t thing) count(says []said, places []string) int {
	n := 0
	for _, p := range places {
		if slices.ContainsFunc(says, func(s said) bool { return t.matches(s) && (p == "" || slices.Contains(s.at, p)) }) {
			n++
		}
	}
	return n
}

// met tells whether a line is met that says the thing: at every place it names,
// or nowhere when it is absent.
func (t thing) met(says []said, places []string) bool {
	if t.absent {
		return t.count(says, places) == 0
	}
	return t.count(says, places) == len(places)
}

// kept tells whether a line is met that forbids the thing: at none of its
// places; what must not be absent has to be at all of them.
func (t thing) satisfied(says []said, places []string) bool {
	t.absent = !t.absent
	return t.met(says, places)
}

// verdictOn compares what was said of a case with what it expects, and gives
// every difference.
func verdictOn(c *testCase, says []said, lines map[string][]thing) []string {
	var wrong []string
	fail := func(format string, args ...any) { wrong = append(wrong, fmt.Sprintf(format, args...)) }
	v := layoutOf(c.vehicle)
	c.answered(says, fail)
	each := func(key string, judge func(line string, t thing, places []string)) {
		for _, line := range c.expect.lines[key] {
			for _, t := range c.means(line, lines) {
				places, err := t.where(v)
				if err != nil {
					fail("%s %q: %v", key, line, err)
					continue
				}
				judge(line, t, places)
			}
		}
	}
	for _, key := range saidLines {
		each(key, func(line string, t thing, places []string) {
			if !t.met(says, places) {
				fail("%s %q: wanted %v; said was %v", key, line, t, near(t, says))
			}
		})
	}
	for _, key := range forbiddenLines {
		each(key, func(line string, t thing, places []string) {
			if !t.satisfied(says, places) {
				fail("%s %q: must not be said: %v; said was %v", key, line, t, near(t, says))
			}
		})
	}
	right := causes(c, says, lines, "right")
	each("tempting", func(line string, t thing, places []string) {
		others := says
		if t.kind == "finding" && !t.absent {
			others = slices.DeleteFunc(slices.Clone(says), func(s said) bool { return below(s, right) })
		}
		if !t.satisfied(others, places) {
			fail("tempting %q: leads, or stands beside what is right: %v; said was %v", line, t, near(t, says))
		}
	})
	ledBy(right, says, fail)
	inOrder(c, says, lines, fail)
	return wrong
}

// answered compares the answer about a repair, and the urgency.
func (c *testCase) answered(says []said, fail func(string, ...any)) {
	e := c.expect
	here := func(s said) bool { return e.at == "" || slices.Contains(s.at, e.at) }
	if e.answer != "" || e.method != "" {
		i := slices.IndexFunc(says, func(s said) bool { return s.kind == "answer" && here(s) })
		switch {
		case i < 0:
			fail("no answer about a repair was given; wanted is %s", e.answer)
		case e.answer != "" && says[i].code != e.answer:
			fail("the answer is %s; wanted is %s", says[i].code, e.answer)
		case e.method != "" && says[i].method != e.method:
			fail("the method is %q; wanted is %s", says[i].method, e.method)
		}
	}
	if e.urgency == "" {
		return
	}
	all := enumWords(pb.Urgency(0).Descriptor())
	least := len(all)
	for _, s := range says {
		if s.kind == "finding" && here(s) {
			least = min(least, slices.Index(all, s.urgency))
		}
	}
	if least == len(all) || all[least] != e.urgency {
		fail("the most urgent finding is not %s: %v", e.urgency, all[min(least, len(all)-1)])
	}
}

// means gives the meaning of a line: the one for this case alone ("CW12: the
// line"), else the one for every case.
func (c *testCase) means(line string, lines map[string][]thing) []thing {
	if own := lines[c.id+": "+line]; len(own) > 0 {
		return own
	}
	return lines[line]
}

// near lists what was said of the kind of a thing.
func near(t thing, says []said) []string {
	var all []string
	for _, s := range says {
		if s.kind == t.kind {
			all = append(all, s.code+fmt.Sprint(s.at))
		}
	}
	return all
}

// causes are the findings among the possible causes of wear that a key's lines name.
func causes(c *testCase, says []said, lines map[string][]thing, key string) []said {
	var all []said
	for _, line := range c.expect.lines[key] {
		for _, t := range c.means(line, lines) {
			for _, s := range says {
				if t.kind == "finding" && !t.absent && s.rank > 0 && t.matches(s) {
					all = append(all, s)
				}
			}
		}
	}
	return all
}

func overlap(a, b []string) bool {
	return slices.ContainsFunc(a, func(p string) bool { return slices.Contains(b, p) })
}

// below tells whether something said is a possible cause ranked after every
// right one at its place.
func below(s said, right []said) bool {
	last := int32(1)
	for _, r := range right {
		if overlap(r.at, s.at) {
			last = max(last, r.rank)
		}
	}
	return s.kind == "finding" && s.rank > last
}

// ledBy: the right causes come first among all that are named at their places.
func ledBy(right, says []said, fail func(string, ...any)) {
	for _, s := range says {
		isRight := slices.ContainsFunc(right, func(r said) bool { return r.code == s.code && overlap(r.at, s.at) })
		hasRight := slices.ContainsFunc(right, func(r said) bool { return overlap(r.at, s.at) })
		if s.rank > 0 && hasRight && !isRight && !below(s, right) {
			fail("right: %v is ranked before or beside a right cause", s)
		}
	}
}

// inOrder: no line of the order begins, in the order of work, after a later
// line has ended.
func inOrder(c *testCase, says []said, lines map[string][]thing, fail func(string, ...any)) {
	type span struct {
		line        string
		first, last int
	}
	var spans []span
	for _, line := range c.expect.lines["order"] {
		s := span{line: line}
		for _, t := range c.means(line, lines) {
			for _, x := range says {
				if t.kind == "work" && !t.absent && t.matches(x) {
					s.first, s.last = cmp.Or(min(s.first, x.line), x.line), max(s.last, x.line)
				}
			}
		}
		if s.first > 0 {
			spans = append(spans, s)
		}
	}
	for i, s := range spans {
		for _, later := range spans[i+1:] {
			if s.first > later.last {
				fail("order: the work of %q comes after that of %q", s.line, later.line)
			}
		}
	}
}

func layoutOf(v *pb.Vehicle) layout.Vehicle { return (&builder{vehicle: v}).layout() }
