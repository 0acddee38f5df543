package report

import (
	"fmt"
	"io"
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/tell"
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
	p.blank()
	p.standing(a.GetWheels())
	p.asked(a.GetQuestions())
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
	if o := p.show(visit.GetOdometer()); o != "" {
		parts = append(parts, o)
	}
	return strings.Join(parts, "   ")
}

// asked are the questions, each with its wheels.
func (p *printer) asked(questions []*pb.Question) {
	texts := make([]string, len(questions))
	for i, q := range questions {
		texts[i] = p.beginning(q.GetPositions()) + q.GetWords()
	}
	p.run("glance.ask", texts...)
}

// beginning is where what follows is, "" for the vehicle.
func (p *printer) beginning(positions []string) string {
	if len(positions) == 0 {
		return ""
	}
	return p.places(positions) + ": "
}

// afterHeading is the column where texts start that follow a heading on its own line.
const afterHeading = 10

// run writes texts one after the other beside their heading.
func (p *printer) run(heading string, texts ...string) {
	texts = slices.DeleteFunc(texts, func(t string) bool { return strings.TrimSpace(t) == "" })
	if len(texts) > 0 {
		p.hang(p.label(heading), afterHeading, strings.Join(texts, " "))
	}
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
		leave = append(leave, p.entry(e))
	}
	p.run("glance.done", done...)
	p.run("glance.leave", leave...)
	p.run("glance.not-seen", slices.Concat(p.unseen(a.GetNotLookedAt()), p.lawNotKnown(a.GetNotJudged()))...)
	if seen := p.seen(a.GetNothingFound()); len(seen) > 0 {
		p.run("glance.seen", append([]string{p.label("glance.nothing")}, seen...)...)
	}
}

// lawNotKnown is what of the law of the place is not known here.
func (p *printer) lawNotKnown(ns []*pb.NotJudged) (texts []string) {
	for _, n := range ns {
		if strings.HasPrefix(n.GetCode(), "law.") && n.GetCode() != noInspection {
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
		if len(at) == len(a.GetHeadline().GetPositions()) && slices.Equal(at, a.GetHeadline().GetPositions()) {
			at = nil // what the headline is about
		}
		texts = append(texts, p.beginning(at)+c.GetWords())
	}
	p.run("glance.danger", texts...)
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
		name, _, _ := strings.Cut(n.GetWords(), ": ")
		names.add(p.places(n.GetPositions()), name)
	}
	return names.sentences()
}

// seen are the places that were looked at with nothing found.
func (p *printer) seen(all []*pb.Checked) []string {
	var names grouped
	for _, c := range all {
		if look(c) {
			names.add(p.places(c.GetPositions()), p.label(c.GetCode()))
		}
	}
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
	} else {
		name = lower(name)
	}
	if !slices.Contains(g.names[at], name) {
		g.names[at] = append(g.names[at], name)
	}
}

func (g *grouped) sentences() []string {
	all := make([]string, len(g.order))
	for i, at := range g.order {
		all[i] = at + ": " + lower(strings.Join(g.names[at], ", ")) + "."
	}
	return all
}

// toCustomer is what the counter tells, each sentence by itself: whether to drive, of
// each wheel the gravest, what nothing was found at, what is asked, and when to come back.
func (p *printer) toCustomer(a *pb.Assessment) {
	p.blank()
	said := []string{a.GetHeadline().GetForCustomer()}
	say := func(sentence string) {
		if sentence != "" && !slices.Contains(said, sentence) {
			said = append(said, sentence)
		}
	}
	var lines []line
	for _, f := range gravest(a.GetFindings()) {
		lines = p.addLine(lines, f)
	}
	for _, l := range lines {
		say(l.text)
		if len(l.also) > 0 {
			say(tellLabel(p.counter, "report.same-goes", words.List(l.also).As("others")))
		}
	}
	if at := nothingWrong(a); len(at) > 0 {
		say(tellLabel(p.counter, "glance.nothing-wrong", tell.At(p.frontRear, at...).As("at")))
	}
	for _, w := range a.GetWork() {
		if finding.WorkOf(finding.Work(w.GetCode())).ForThem {
			say(w.GetForCustomer())
		}
	}
	p.run("glance.customer", said...)
}

// gravest are the findings that the customer hears: of each wheel the first, for they come
// by urgency; of the vehicle all.
func gravest(fs []*pb.Finding) (all []*pb.Finding) {
	var told []string
	for _, f := range fs {
		if f.GetForCustomer() == "" || f.GetUrgency() == pb.Urgency_URGENCY_NOTE || f.GetAsLeft() != nil {
			continue
		}
		at := f.GetPositions()
		if len(at) > 0 && !slices.ContainsFunc(at, func(p string) bool { return !slices.Contains(told, p) }) {
			continue
		}
		all, told = append(all, f), append(told, at...)
	}
	return all
}

// nothingWrong are the wheels that were read and seen, tread, pressure and outer sidewall,
// with nothing found at them.
func nothingWrong(a *pb.Assessment) (at []string) {
	for _, w := range a.GetWheels() {
		p := w.GetPosition()
		open := slices.ContainsFunc(a.GetFindings(), func(f *pb.Finding) bool {
			return f.GetUrgency() != pb.Urgency_URGENCY_NOTE && slices.Contains(f.GetPositions(), p)
		})
		sidewall := slices.ContainsFunc(a.GetNothingFound(), func(c *pb.Checked) bool {
			return finding.CheckedOf(finding.Checked(c.GetCode())).Place == finding.LookedOuterSidewall && slices.Contains(c.GetPositions(), p)
		})
		if !open && sidewall && w.GetGoverningDepth() != nil && w.GetFound() != nil {
			at = append(at, p)
		}
	}
	return at
}
