package report

import (
	"cmp"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"text/tabwriter"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/words"
)

// Step is an engine or a rulebook then and now; "" where there was or is none.
type Step struct {
	From string `json:"from"`
	To   string `json:"to"`
}

// String is "us-light@1 → us-light@2", or the one name of what stayed.
func (s Step) String() string {
	if s.From == s.To {
		return s.To
	}
	return dash(s.From) + " → " + dash(s.To)
}

// rulebookSteps pairs the versions of rulebooks, in order of their ids.
func rulebookSteps(then, now []string) []Step {
	by := map[string]Step{}
	id := func(name string) string { i, _, _ := strings.Cut(name, "@"); return i }
	for _, name := range then {
		by[id(name)] = Step{From: name}
	}
	for _, name := range now {
		by[id(name)] = Step{From: by[id(name)].From, To: name}
	}
	var steps []Step
	for _, i := range slices.Sorted(maps.Keys(by)) {
		steps = append(steps, by[i])
	}
	return steps
}

// Tally counts what reassessing many visits came to.
type Tally struct {
	judged, differ, failed int
	codes                  map[string]*CodeCount
	engines, rulebooks     map[Step]int
	language               string // of the answer that was counted last
}

// NewTally begins to count.
func NewTally() *Tally {
	return &Tally{codes: map[string]*CodeCount{}, engines: map[Step]int{}, rulebooks: map[Step]int{}}
}

// Fail counts a visit that could not be judged.
func (t *Tally) Fail() { t.failed++ }

// Same counts visits that were judged and mean the same, of which nothing else is known.
func (t *Tally) Same(visits int) { t.judged += visits }

// Add counts a visit that was judged; differs tells that anything of its answer
// does.
func (t *Tally) Add(then *pb.Assessment, reassessed *pb.ReassessInspectionResponse, differs bool) {
	t.judged++
	if differs {
		t.differ++
	}
	now := reassessed.GetAssessment()
	t.language = reassessed.GetTold().GetLanguage()
	t.engines[Step{then.GetBasis().GetEngine(), now.GetBasis().GetEngine()}]++
	for _, s := range rulebookSteps(then.GetBasis().GetRulebooks(), now.GetBasis().GetRulebooks()) {
		t.rulebooks[s]++
	}
	for _, id := range reassessed.GetAppeared() {
		t.code(byID(now, id)).Appeared++
	}
	for _, id := range reassessed.GetDisappeared() {
		t.code(byID(then, id)).Disappeared++
	}
	for _, id := range reassessed.GetChanged() {
		t.code(byID(now, id)).Changed++
	}
}

func (t *Tally) code(f *pb.Finding) *CodeCount {
	if t.codes[f.GetCode()] == nil {
		t.codes[f.GetCode()] = &CodeCount{Code: f.GetCode()}
	}
	return t.codes[f.GetCode()]
}

// Summary is a tally in the order in which it is told.
type Summary struct {
	Judged    int          `json:"judged"`
	Differ    int          `json:"differ"`
	Failed    int          `json:"failed"`
	Codes     []*CodeCount `json:"codes"`
	Engines   []StepCount  `json:"engines"`
	Rulebooks []StepCount  `json:"rulebooks"`
}

// CodeCount is what became of the findings of one code.
type CodeCount struct {
	Code        string `json:"code"`
	Appeared    int    `json:"appeared"`
	Disappeared int    `json:"disappeared"`
	Changed     int    `json:"changed"`
}

// StepCount is how many visits were judged by an engine or a rulebook then and now.
type StepCount struct {
	Step
	Visits int `json:"visits"`
}

// Summary is what was counted so far.
func (t *Tally) Summary() Summary {
	s := Summary{Judged: t.judged, Differ: t.differ, Failed: t.failed, Codes: []*CodeCount{}, Engines: counted(t.engines), Rulebooks: counted(t.rulebooks)}
	for _, code := range slices.Sorted(maps.Keys(t.codes)) {
		s.Codes = append(s.Codes, t.codes[code])
	}
	return s
}

func counted(steps map[Step]int) []StepCount {
	out := []StepCount{}
	for s, n := range steps {
		out = append(out, StepCount{s, n})
	}
	slices.SortFunc(out, func(a, b StepCount) int {
		return cmp.Or(cmp.Compare(a.From, b.From), cmp.Compare(a.To, b.To))
	})
	return out
}

// Write writes the summary in a language, or else in that of the last answer.
func (t *Tally) Write(w io.Writer, language string) error {
	teller, _ := words.Reader{Language: cmp.Or(language, t.language)}.Tellers()
	label := func(code string) string { return teller.Text(words.Labels, code) }
	s := t.Summary()
	var out strings.Builder
	fmt.Fprintf(&out, "%s: %d. %s: %d. %s: %d.\n", label("reassess.judged"), s.Judged, label("reassess.differ"), s.Differ, label("reassess.failed"), s.Failed)
	table := tabwriter.NewWriter(&out, 0, 0, 2, ' ', 0)
	row := func(cells ...any) { // into memory
		_, _ = fmt.Fprintf(table, "  %v"+strings.Repeat("\t%v", len(cells)-1)+"\n", cells...)
	}
	if len(s.Codes) > 0 {
		row(label("report.found"), label("reassess.appeared"), label("reassess.disappeared"), label("reassess.changed"))
	}
	for _, c := range s.Codes {
		row(c.Code, c.Appeared, c.Disappeared, c.Changed)
	}
	_ = table.Flush() // into memory
	table.Init(&out, 0, 0, 2, ' ', 0)
	if s.Judged > 0 {
		row(words.Sentence(label("report.judged-by")), label("reassess.visits"))
	}
	for _, e := range s.Engines {
		row(label("report.engine")+" "+e.String(), e.Visits)
	}
	for _, b := range s.Rulebooks {
		row(b.String(), b.Visits)
	}
	_ = table.Flush() // into memory
	_, err := io.WriteString(w, out.String())
	return err
}
