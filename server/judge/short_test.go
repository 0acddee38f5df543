package judge_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/report"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
	"gaugebook.dev/server/words"
)

// Everything that is found before driving or at this visit is in the short report of its
// visit, in every tongue: an entry with a mark says it, of each of its wheels and with what
// was measured there; and what is done about it now stands under that mark. No row is wider
// than a terminal. That is our own decision, held for every visit.
func TestShortLosesNothingUrgent(t *testing.T) {
	looked, marked := 0, 0
	for i, req := range everyVisit(t) {
		said := judge.Visit(req)
		for j, tongue := range words.Tongues() {
			if tongue != words.Default && (i+j)%len(words.Tongues()) != 0 {
				continue // each visit in one tongue beside English
			}
			a := proto.CloneOf(said)
			by := tell.For(&pb.Reader{Language: tongue, CustomerLanguage: tongue, View: pb.View_VIEW_FULL}, tell.Shop{}).Short()
			by.Assessment(a, translate.FrontRear(req.GetVehicle()))
			var text strings.Builder
			if err := report.Short(&text, req, a, by.Told()); err != nil {
				t.Fatal(err)
			}
			if strings.ContainsAny(text.String(), "{}") {
				t.Fatalf("%s: a value is missing:\n%s", tongue, text.String())
			}
			s := readShort(text.String())
			for _, line := range s.lines {
				if utf8.RuneCountInString(line) > report.Width {
					t.Errorf("%s: wider than %d columns: %q", tongue, report.Width, line)
				}
			}
			if at := notAskedFor(a, text.String(), tongue); at != "" {
				t.Fatalf("%s: no OK is asked for at %s:\n%s", tongue, at, text.String())
			}
			for _, f := range a.GetFindings() {
				if f.GetUrgency() > pb.Urgency_URGENCY_THIS_VISIT || f.GetAsLeft() != nil {
					continue
				}
				looked++
				technician, _ := words.Reader{Language: tongue}.Tellers()
				measured := technician.Value(words.Shown(tell.Amount(f.GetMeasured())))
				mark, ok := s.entry(f, shownPlaces(a), measured)
				switch {
				case !ok:
					t.Errorf("%s, %s: %q is in no entry with a mark:\n%s", tongue, f.GetCode(), f.GetForTechnician(), text.String())
				case doneNow(a, f):
					if marked++; !s.under[mark] {
						t.Errorf("%s, %s: no line of work stands under %q:\n%s", tongue, f.GetCode(), mark, text.String())
					}
				}
				if t.Failed() {
					return
				}
			}
		}
	}
	if looked < 1000 || marked < 1000 {
		t.Errorf("%d findings, %d with work", looked, marked)
	}
}

// notAskedFor is a wheel at which the order of work asks for an OK, and the line of those
// that are needed does not; "" for none. A line that names no wheel asks for all.
func notAskedFor(a *pb.Assessment, text, tongue string) string {
	technician, _ := words.Reader{Language: tongue}.Tellers()
	labeled := func(code string) string { return technician.Text(words.Labels, code) }
	_, after, _ := strings.Cut(strings.Join(strings.Fields(text), " "), labeled("glance.ok")+": ")
	asked, _, _ := strings.Cut(after, labeled("glance.ask")+": ")
	shown := shownPlaces(a)
	for code, label := range map[finding.Work]string{finding.WorkConsentLook: "glance.ok-look", finding.WorkConsentMend: "glance.ok-mend"} {
		for _, w := range a.GetWork() {
			if finding.Work(w.GetCode()) != code {
				continue
			}
			for _, p := range w.GetPositions() {
				_, here, told := strings.Cut(strings.ToLower(asked), strings.ToLower(labeled("glance.ok-both")))
				if !told {
					_, here, told = strings.Cut(strings.ToLower(asked), strings.ToLower(labeled(label)))
				}
				here, _, _ = strings.Cut(here, ".")
				if name := strings.ToLower(shown[p]); !told || here != "" && !slices.Contains(strings.Fields(strings.TrimPrefix(here, ":")), name) {
					return shown[p]
				}
			}
		}
	}
	return ""
}

// doneNow tells that a line of work that stands by itself in the short report answers the
// finding.
func doneNow(a *pb.Assessment, f *pb.Finding) bool {
	return slices.ContainsFunc(a.GetWork(), func(w *pb.WorkItem) bool {
		k := finding.WorkOf(finding.Work(w.GetCode()))
		later := k.Stage == finding.StageLater || k.ForThem && k.Stage != finding.StageNuts && k.Stage != finding.StageDecide
		return !later && !k.Routine && !k.Opening && k.Needs != finding.NeedsWork && slices.Contains(w.GetFindingIds(), f.GetId())
	})
}

// shownPlaces are the wheels as the trade writes them.
func shownPlaces(a *pb.Assessment) map[string]string {
	shown := map[string]string{}
	for _, w := range a.GetWheels() {
		shown[w.GetPosition()] = w.GetShownPosition()
	}
	return shown
}

// short is a short report as it is read: its lines, its entries by their marks, and the marks
// that lines of work stand under.
type short struct {
	lines   []string
	entries map[string]string
	under   map[string]bool
}

var (
	entryOfMark = regexp.MustCompile(`^ ([a-z]) (.*)|^([a-z]{2}) (.*)`)
	stepNumber  = regexp.MustCompile(`^ ?\d+ `)
	headOfWork  = regexp.MustCompile(`((?: [a-z]{1,2})+): `)
)

func readShort(text string) short {
	s := short{lines: strings.Split(text, "\n"), entries: map[string]string{}, under: map[string]bool{}}
	mark, step := "", ""
	steps := func() {
		for _, m := range headOfWork.FindAllStringSubmatch(step, -1) {
			for mark := range strings.FieldsSeq(m[1]) {
				s.under[mark] = true
			}
		}
		step = ""
	}
	for _, line := range s.lines {
		switch m := entryOfMark.FindStringSubmatch(line); {
		case m != nil && (m[3] == "" || s.entries["z"] != ""): // a headline may go on with "of"
			steps()
			mark = m[1] + m[3]
			s.entries[mark] = m[2] + m[4]
		case stepNumber.MatchString(line):
			steps()
			mark, step = "", line
		case strings.HasPrefix(line, "   ") && mark != "":
			s.entries[mark] += " " + strings.TrimSpace(line)
		case strings.HasPrefix(line, "   ") && step != "":
			step += " " + strings.TrimSpace(line)
		default:
			steps()
			mark = ""
		}
	}
	return s
}

// entry is the mark of the entry that says a finding.
func (s short) entry(f *pb.Finding, shown map[string]string, measured string) (string, bool) {
	var names []string
	for _, p := range f.GetPositions() {
		name := shown[p]
		if name == "" {
			name = p
		}
		names = append(names, name)
	}
	sentence := strings.TrimPrefix(f.GetForTechnician(), strings.Join(names, " ")+": ")
	for mark, said := range s.entries {
		missed := measured != "" && strings.Contains(sentence, measured) && !strings.Contains(said, measured)
		if strings.Contains(plainly(said), plainly(sentence)) && everywhere(said, names) && !missed {
			return mark, true
		}
	}
	return "", false
}

// everywhere tells that an entry names all the wheels, or says that it is of all.
func everywhere(said string, names []string) bool {
	head, _, _ := strings.Cut(said, ": ")
	if _, after, two := strings.Cut(said, ": "); two {
		next, _, _ := strings.Cut(after, ": ")
		head += " " + next // behind the urgency
	}
	all := slices.ContainsFunc(words.Tongues(), func(l string) bool {
		return slices.Contains(strings.Fields(head), words.In(l).Labels["report.all"])
	})
	return all || !slices.ContainsFunc(names, func(n string) bool { return !slices.Contains(strings.Fields(head), n) })
}

var (
	numbers = regexp.MustCompile(`[\d.,/]*\d(?:/32)?(?: (?:in|mm|psi|kPa|bar|mi|km|lb|kg)\b)?`)
	aside   = regexp.MustCompile(` ?\([^()]*\)`)
)

// plainly is a sentence without its numbers, what stands in parentheses, and its end: findings
// that say the same of several wheels are one entry.
func plainly(s string) string {
	return strings.ToLower(strings.TrimRight(numbers.ReplaceAllString(aside.ReplaceAllString(s, ""), "#"), "."))
}
