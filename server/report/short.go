package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	"github.com/mitchellh/go-wordwrap"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/translate"
	"gaugebook.dev/server/words"
)

// Short writes the report that fits a screen or two: what holds the vehicle, the
// readings as the wheels stand, the order of work with a mark to the reason of each
// line, and what the customer is told. What it rests on stands in what Write writes.
// The answer was told whole (FULL) and in brief.
func Short(w io.Writer, req *pb.AssessVisitRequest, a *pb.Assessment, told *pb.Told) error {
	req, a = harmless(req), harmless(a)
	p := newPrinter(a, told)
	p.every, p.frontRear = everyWheel(req, a), translate.FrontRear(req.GetVehicle())
	why := p.reasons(a)
	p.hang("", 0, a.GetHeadline().GetForTechnician())
	p.hang("", 0, p.visit(req))
	p.standing(a.GetWheels())
	p.paragraph(part{"glance.ok", p.oks(a.GetWork())}, part{"glance.ask", p.asked(a.GetQuestions())})
	p.steps(a, why)
	p.because(why)
	p.aside(a)
	p.toCustomer(a)
	p.hang("", 0, p.label("glance.scope"))
	p.end(0, a)
	_, err := io.WriteString(w, p.out.String())
	return err
}

func (p *printer) blank() { p.out.WriteByte('\n') }

// visit is which visit it is of.
func (p *printer) visit(req *pb.AssessVisitRequest) string {
	visit := req.GetInspection()
	var parts []string
	if tag := req.GetVehicle().GetTag(); tag != "" {
		parts = append(parts, tag)
	}
	if d := visit.GetLocalDate(); d != nil {
		parts = append(parts, fmt.Sprintf("%04d-%02d-%02d", d.GetYear(), d.GetMonth(), d.GetDay()))
	}
	if o := p.chosen.Value(shown(visit.GetOdometer())); o != "" {
		parts = append(parts, o)
	}
	return strings.Join(parts, "   ")
}

// oks are those that are needed: before anything comes off, and before anything is mended.
func (p *printer) oks(work []*pb.WorkItem) (texts []string) {
	ok := func(label string, at []string) {
		texts = append(texts, words.Sentence(p.label(label))+p.behind(at)+".")
	}
	look, looks := asks(work, finding.WorkConsentLook)
	mend, mends := asks(work, finding.WorkConsentMend)
	switch {
	case looks && mends && slices.Equal(look, mend):
		ok("glance.ok-both", look)
	default:
		if looks {
			ok("glance.ok-look", look)
		}
		if mends {
			ok("glance.ok-mend", mend)
		}
	}
	if len(texts) > 0 {
		texts[0] = lower(texts[0])
	}
	return texts
}

// asks tells whether lines of work ask for an OK, and at which wheels in all; some may ask on
// a condition.
func asks(work []*pb.WorkItem, code finding.Work) (at []string, needed bool) {
	for _, w := range work {
		if finding.Work(w.GetCode()) == code {
			at, needed = append(at, w.GetPositions()...), true
		}
	}
	slices.Sort(at)
	return slices.Compact(at), needed
}

// behind is where what stands before it is, "" for the vehicle and for all of its wheels.
func (p *printer) behind(positions []string) string {
	if len(positions) == 0 || len(positions) == p.every {
		return ""
	}
	return ": " + p.places(positions)
}

// asked are the questions that come first, each with its wheels: those that how somebody is
// kept from harm turns on, or which law holds, and one at least. How many more there are is
// told.
func (p *printer) asked(questions []*pb.Question) (texts []string) {
	shown := 0
	for _, q := range questions {
		if about := finding.QuestionOf(finding.Question(q.GetCode())).About; shown == 0 || shown == 1 && (about == finding.AboutHarm || about == finding.AboutPlace) {
			shown++
			texts = append(texts, p.around(q.GetPositions())+q.GetWords())
		}
	}
	if more := len(questions) - shown; more > 0 {
		texts = append(texts, tellLabel(p.technician, "glance.more", words.Count(more).As("n")))
	}
	return texts
}

// beginning is where what follows is, "" for the vehicle.
func (p *printer) beginning(positions []string) string {
	if len(positions) == 0 {
		return ""
	}
	return p.places(positions) + ": "
}

// around is beginning, and "" where it is all of the wheels.
func (p *printer) around(positions []string) string {
	if len(positions) == p.every {
		return ""
	}
	return p.beginning(positions)
}

// part is a heading and the texts under it.
type part struct {
	heading string
	texts   []string
}

// paragraph writes what has anything to say, part behind part, each behind its heading.
func (p *printer) paragraph(parts ...part) {
	var said []string
	for _, of := range parts {
		texts := slices.DeleteFunc(of.texts, func(t string) bool { return strings.TrimSpace(t) == "" })
		if len(texts) > 0 {
			said = append(said, p.label(of.heading)+": "+strings.Join(texts, " "))
		}
	}
	if len(said) > 0 {
		p.flow(strings.Join(said, " "))
	}
}

// flow writes a paragraph whose further lines begin further in.
func (p *printer) flow(text string) {
	const in = 2
	first := []rune(p.bound(text)) // it begins with a word: so much of it stands where the others have none
	lines := strings.Split(wordwrap.WrapString(string(first[in:]), Width-in), "\n")
	fmt.Fprintln(&p.out, unbind.Replace(string(first[:in])+strings.Join(lines, "\n"+strings.Repeat(" ", in))))
}

// aside is what stands beside the work: dangers, what is put right already, what is to
// be left as it is, what was not seen, and what was seen with nothing found.
func (p *printer) aside(a *pb.Assessment) {
	p.dangers(a)
	var done, leave []string
	for _, e := range p.alike(a.GetFindings(), func(f *pb.Finding) bool { return f.GetAsLeft() != nil && f.GetUrgency() != pb.Urgency_URGENCY_NOTE }) {
		done = append(done, p.putRight(e))
	}
	for _, e := range p.alike(a.GetFindings(), func(f *pb.Finding) bool {
		return f.GetUrgency() == pb.Urgency_URGENCY_NOTE && finding.KindOf(finding.Code(f.GetCode())).LeaveAlone
	}) {
		leave = append(leave, p.brief(e))
	}
	p.paragraph(part{"glance.done", done}, part{"glance.leave", leave}, part{"glance.not-seen", slices.Concat(p.unseen(a.GetNotLookedAt()), p.lawNotKnown(a.GetNotJudged()))}, part{"glance.seen", p.seen(a.GetNothingFound())})
}

// lawNotKnown is what of the law of the place is not known here.
func (p *printer) lawNotKnown(ns []*pb.NotJudged) (texts []string) {
	for _, n := range ns {
		if finding.RecordedOf(finding.Recorded(n.GetCode())).LawNotKnown {
			texts = append(texts, words.Sentence(n.GetWords())+".")
		}
	}
	return texts
}

// dangers are what can hurt somebody and how it is kept from it, each once.
func (p *printer) dangers(a *pb.Assessment) {
	var texts []string
	for _, c := range a.GetCautions() {
		at := cautioned(a, c.GetCode())
		if finding.CautionOf(finding.Caution(c.GetCode())).OfAct || len(at) == p.every || slices.Equal(at, a.GetHeadline().GetPositions()) {
			at = nil // wherever it is done, all of them, or what the headline is about
		}
		texts = append(texts, p.beginning(at)+c.GetWords())
	}
	p.paragraph(part{"glance.danger", texts})
}

// cautioned are the wheels that a caution is about, in order.
func cautioned(a *pb.Assessment, code string) (at []string) {
	for _, f := range a.GetFindings() {
		if f.GetCaution() == code {
			at = append(at, f.GetPositions()...)
		}
	}
	for _, w := range a.GetWork() {
		if w.GetCaution() == code {
			at = append(at, w.GetPositions()...)
		}
	}
	slices.Sort(at)
	return slices.Compact(at)
}

// unseen are the places that nobody looked at, by wheels, without the reasons.
func (p *printer) unseen(all []*pb.NotLookedAt) []string {
	var names grouped
	for _, n := range all {
		code := "wheel"
		if what := n.GetWhat(); what != pb.LookedAt_LOOKED_AT_UNSPECIFIED {
			code = words.Kebab(strings.TrimPrefix(what.String(), "LOOKED_AT_"))
		}
		names.add(p.around(n.GetPositions()), p.label("glance.looked-"+code))
	}
	return p.looked(names)
}

// seen are the places that were looked at with nothing found.
func (p *printer) seen(all []*pb.Checked) []string {
	var names grouped
	for _, c := range all {
		if look(c) {
			names.add(p.around(c.GetPositions()), p.label("glance."+strings.Replace(c.GetCode(), ".", "-", 1)))
		}
	}
	return p.looked(names)
}

// looked are places under their wheels.
func (p *printer) looked(names grouped) []string {
	names.join(p.label("glance.looked-inner-sidewall"), p.label("glance.looked-outer-sidewall"), p.label("glance.looked-both-sidewalls"))
	return names.sentences()
}

// grouped are names under the wheels that they are of, in the order they came.
type grouped struct {
	order []string
	names map[string][]string
}

func (g *grouped) add(at, name string) {
	if g.names == nil {
		g.names = map[string][]string{}
	}
	if g.names[at] == nil {
		g.order = append(g.order, at)
	}
	if !slices.Contains(g.names[at], name) {
		g.names[at] = append(g.names[at], name)
	}
}

// join tells two names that stand together as one.
func (g *grouped) join(one, other, both string) {
	for at, names := range g.names {
		i, j := slices.Index(names, one), slices.Index(names, other)
		if i >= 0 && j >= 0 {
			names[min(i, j)] = both
			g.names[at] = slices.Delete(names, max(i, j), max(i, j)+1)
		}
	}
}

// sentences are the names under each, first those of all the wheels.
func (g *grouped) sentences() []string {
	slices.SortStableFunc(g.order, func(a, b string) int { return min(len(a), 1) - min(len(b), 1) })
	all := make([]string, len(g.order))
	for i, at := range g.order {
		all[i] = at + strings.Join(g.names[at], ", ") + "."
	}
	return all
}
