// Package report writes an assessment for a person at a terminal: plain text of
// 80 columns that needs no color and can be pasted into a message.
package report

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"text/tabwriter"

	"github.com/mitchellh/go-wordwrap"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/translate"
	"gaugebook.dev/server/words"
)

// Width is the columns a line may take.
const Width = 80

// Write writes the report of one visit. req gives the heading, a the answer.
func Write(w io.Writer, req *pb.AssessVisitRequest, a *pb.Assessment) error {
	p := &printer{texts: words.In(a.GetBasis().GetLanguage()), shown: shownPositions(a)}
	p.heading(req, a)
	p.readings(a.GetWheels())
	p.findings(a.GetFindings())
	p.cautions(a)
	p.order(a.GetWork())
	p.checked(a.GetNothingFound())
	p.notLooked(a)
	p.customer(a)
	_, err := io.WriteString(w, p.out.String())
	return err
}

type printer struct {
	out   strings.Builder
	texts *words.Catalogue
	shown map[string]string
}

func shownPositions(a *pb.Assessment) map[string]string {
	m := map[string]string{}
	for _, s := range a.GetWheels() {
		m[s.GetPosition()] = s.GetShownPosition()
	}
	return m
}

func (p *printer) label(code string) string {
	if t, ok := p.texts.Labels[code]; ok {
		return t
	}
	return code
}

func (p *printer) section(code string) {
	fmt.Fprintf(&p.out, "\n%s\n", p.label("report."+code))
}

// hang writes a text after a lead, wrapped so that every further line starts
// under the text.
func (p *printer) hang(lead string, from int, text string) {
	if strings.TrimSpace(text) == "" {
		return
	}
	lines := strings.Split(wordwrap.WrapString(text, uint(Width-from)), "\n")
	if len([]rune(lead)) > from || strings.TrimSpace(lead) != "" && len([]rune(strings.TrimRight(lead, " "))) == from {
		fmt.Fprintln(&p.out, strings.TrimRight(lead, " "))
		lead = ""
	}
	for i, l := range lines {
		if i > 0 {
			lead = ""
		}
		fmt.Fprintln(&p.out, strings.TrimRight(pad(lead, from)+l, " "))
	}
}

func pad(s string, n int) string {
	if k := len([]rune(s)); k < n {
		return s + strings.Repeat(" ", n-k)
	}
	return s
}

// places writes positions as the trade does. A list longer than room is cut
// into the two ends, never in the middle of a position.
func (p *printer) places(positions []string) string {
	if len(positions) == 0 {
		return p.label("report.vehicle")
	}
	names := make([]string, len(positions))
	for i, pos := range positions {
		names[i] = pos
		if s := p.shown[pos]; s != "" {
			names[i] = s
		}
	}
	return strings.Join(names, " ")
}

func (p *printer) heading(req *pb.AssessVisitRequest, a *pb.Assessment) {
	visit := req.GetInspection()
	parts := []string{p.label("report.visit")}
	if d := visit.GetLocalDate(); d != nil {
		parts = append(parts, fmt.Sprintf("%04d-%02d-%02d", d.GetYear(), d.GetMonth(), d.GetDay()))
	}
	if tag := req.GetVehicle().GetTag(); tag != "" {
		parts = append(parts, tag)
	}
	if o := show(visit.GetOdometer()); o != "" {
		parts = append(parts, o)
	}
	p.hang("", 0, strings.Join(parts, ", "))
	for _, b := range a.GetBasis().GetRulebooks() {
		p.hang("  "+p.label("report.judged-by"), 14, b)
	}
	if d := a.GetBasis().GetAsOf(); d != nil {
		p.hang("  "+p.label("report.as-of"), 14, fmt.Sprintf("%04d-%02d-%02d, %s %s", d.GetYear(), d.GetMonth(), d.GetDay(), p.label("report.engine"), a.GetBasis().GetEngine()))
	}
}

func (p *printer) readings(wheels []*pb.WheelSummary) {
	if len(wheels) == 0 {
		return
	}
	p.section("readings")
	t := tabwriter.NewWriter(&p.out, 0, 0, 2, ' ', 0)
	fmt.Fprintf(t, "  \t%s\t%s\t%s\t%s\t%s\t%s\n", p.label("report.across"), p.label("report.lowest"), p.label("report.usable"),
		p.label("report.pressure"), p.label("report.cold"), p.label("report.label"))
	for _, s := range wheels {
		fmt.Fprintf(t, "  %s\t%s\t%s\t%s\t%s\t%s\t%s\n", s.GetShownPosition(), means(s), dash(show(s.GetGoverningDepth())), left(s),
			dash(show(s.GetFound())), between(s), dash(show(s.GetLabelCold())))
	}
	_ = t.Flush() // into memory
	for _, s := range wheels {
		if u := s.GetUsableTread(); u != nil {
			p.hang("  ", 2, fmt.Sprintf(p.label("report.left-of"), show(u.GetDepthWhenNew()), show(u.GetLimit())))
			break
		}
	}
}

// show writes any quantity message, "" when it is absent.
func show(q proto.Message) string { a, _ := translate.Amount(q); return words.Amount(a) }

func number(q proto.Message) string { a, _ := translate.Amount(q); return words.Number(a) }

func expanded(q proto.Message) string { a, _ := translate.Amount(q); return words.Expanded(a) }

func dash(s string) string {
	if s == "" {
		return "-"
	}
	return s
}

// means are the mean depths across the tread, from the vehicle outward.
func means(s *pb.WheelSummary) string {
	var ns []string
	for _, m := range s.GetMeanDepths() {
		ns = append(ns, number(m.GetDepth()))
	}
	return dash(strings.Join(ns, " "))
}

func left(s *pb.WheelSummary) string {
	u := s.GetUsableTread()
	if u == nil {
		return "-"
	}
	return fmt.Sprintf("%.0f%%", u.GetPercent())
}

// between is the cold equivalent, as an interval when it is not known to a psi.
func between(s *pb.WheelSummary) string {
	low, high := show(s.GetColdLow()), show(s.GetColdHigh())
	if low == "" || low == high {
		return dash(show(s.GetColdEquivalent()))
	}
	return number(s.GetColdLow()) + "-" + high
}

// findings are listed by urgency. A note is its sentence alone; everything more
// urgent shows its numbers, its rule and what would settle an open answer.
func (p *printer) findings(fs []*pb.Finding) {
	p.section("found")
	if len(fs) == 0 {
		p.hang("", 2, p.label("report.nothing"))
	}
	var last pb.Urgency
	for _, f := range fs {
		if f.GetUrgency() != last {
			last = f.GetUrgency()
			fmt.Fprintf(&p.out, "  %s\n", p.label(urgencyLabel(last)))
		}
		p.place(f.GetPositions(), f.GetForTechnician())
		if last == pb.Urgency_URGENCY_NOTE {
			continue
		}
		p.hang("", indent, p.numbers(f))
		p.hang("", indent, p.source(f))
		if f.GetToSettle() != "" {
			p.hang("", indent, p.label("report.to-settle")+" "+f.GetToSettle())
		}
		if f.GetAsLeft() != nil {
			p.hang("", indent, p.label("report.as-left")+" "+f.GetAsLeft().GetWords())
		}
	}
}

// indent is the column where texts start, after the positions.
const indent = 8

// place writes a text beside its positions, which the text then need not repeat.
func (p *printer) place(positions []string, text string) {
	at := p.places(positions)
	text = strings.TrimPrefix(text, at+": ")
	p.hang("  "+at, indent, words.Sentence(text))
}

// cautions stand once each, before the work that they are about.
func (p *printer) cautions(a *pb.Assessment) {
	var order []string
	at := map[string][]string{}
	note := func(caution string, positions []string) {
		if caution == "" {
			return
		}
		if _, seen := at[caution]; !seen {
			order = append(order, caution)
			at[caution] = nil
		}
		for _, pos := range positions {
			if !slices.Contains(at[caution], pos) {
				at[caution] = append(at[caution], pos)
			}
		}
	}
	for _, f := range a.GetFindings() {
		note(f.GetCaution(), f.GetPositions())
	}
	for _, w := range a.GetWork() {
		note(w.GetCaution(), w.GetPositions())
	}
	if len(order) == 0 {
		return
	}
	p.section("cautions")
	for _, c := range order {
		slices.Sort(at[c])
		p.place(at[c], c)
	}
}

func urgencyLabel(u pb.Urgency) string {
	return "urgency." + words.Kebab(strings.TrimPrefix(u.String(), "URGENCY_"))
}

// numbers is measured value, limit, margin and uncertainty on one line.
func (p *printer) numbers(f *pb.Finding) string {
	m, l := show(f.GetMeasured()), show(f.GetLimit())
	if m == "" || l == "" {
		return ""
	}
	s := fmt.Sprintf("%s %s, %s %s, %s %s", p.label("report.measured"), m, p.label("report.limit"), l, p.label("report.margin"), show(f.GetMargin()))
	if u := expanded(f.GetUncertainty()); u != "" {
		s += fmt.Sprintf(", ±%s (k=2)", u)
	}
	if f.GetComparison() == pb.Comparison_COMPARISON_CANNOT_TELL {
		s += ": " + p.label("report.cannot-tell")
	}
	return s
}

func (p *printer) source(f *pb.Finding) string {
	r := f.GetRule()
	if r.GetCitation() == "" {
		return ""
	}
	authority := p.label("authority." + words.Kebab(strings.TrimPrefix(r.GetAuthority().String(), "AUTHORITY_")))
	parts := []string{authority}
	if !strings.EqualFold(authority, r.GetCitation()) {
		parts = append([]string{r.GetCitation()}, parts...)
	}
	if r.GetHowKnown() != pb.SourceReading_SOURCE_READING_READ {
		parts = append(parts, p.label("known."+words.Kebab(strings.TrimPrefix(r.GetHowKnown().String(), "SOURCE_READING_"))))
	}
	if f.GetCandidate() {
		parts = append(parts, p.label("report.candidate"))
	}
	return p.label("report.by") + " " + strings.Join(parts, "; ")
}

func (p *printer) order(work []*pb.WorkItem) {
	p.section("order")
	if len(work) == 0 {
		p.hang("", 2, p.label("report.no-work"))
		return
	}
	for i, item := range work {
		at := p.places(item.GetPositions())
		text := words.Sentence(strings.TrimPrefix(item.GetForTechnician(), at+": "))
		if c := item.GetOnCondition(); c != "" {
			text = c + " " + text
		}
		if len(item.GetPositions()) > 0 {
			text = at + ": " + text
		}
		p.hang(fmt.Sprintf("  %2d  ", i+1), 6, text)
	}
}

func (p *printer) checked(cs []*pb.Checked) {
	p.section("nothing-found")
	if len(cs) == 0 {
		p.hang("", 2, p.label("report.none"))
	}
	for _, c := range cs {
		p.place(c.GetPositions(), c.GetWords())
	}
}

// notLooked lists what was not looked at, what is not judged, and what is not
// known, each with its reason.
func (p *printer) notLooked(a *pb.Assessment) {
	p.section("not-looked")
	p.grouped(a.GetNotLookedAt())
	for _, n := range a.GetNotJudged() {
		p.place(n.GetPositions(), n.GetWords())
	}
	for _, u := range a.GetUnanswered() {
		p.place(u.GetPositions(), fmt.Sprintf("%s %s %s.", u.GetQuestion(), p.label("report.would-allow"), strings.TrimSuffix(u.GetWouldAllow(), ".")))
	}
}

// grouped lists the places not looked at, those of the same wheels for the same
// reason on one line.
func (p *printer) grouped(ns []*pb.NotLookedAt) {
	type key struct{ at, why string }
	var order []key
	names := map[key][]string{}
	at := map[key][]string{}
	for _, n := range ns {
		name, why, _ := strings.Cut(n.GetWords(), ": ")
		k := key{p.places(n.GetPositions()), why}
		if names[k] == nil {
			order = append(order, k)
		} else {
			name = strings.ToLower(name[:1]) + name[1:]
		}
		names[k], at[k] = append(names[k], name), n.GetPositions()
	}
	for _, k := range order {
		text := strings.Join(names[k], ", ")
		if k.why != "" {
			text += ": " + k.why
		}
		p.place(at[k], text)
	}
}

// customer is what the counter tells: what cannot wait, then what can.
func (p *printer) customer(a *pb.Assessment) {
	p.section("customer")
	said := map[string]bool{}
	tell := func(heading string, now bool) {
		first := true
		for _, f := range a.GetFindings() {
			text := f.GetForCustomer()
			waits := f.GetUrgency() > pb.Urgency_URGENCY_THIS_VISIT
			if text == "" || said[text] || waits == now || f.GetUrgency() == pb.Urgency_URGENCY_NOTE || f.GetAsLeft() != nil {
				continue
			}
			if first {
				fmt.Fprintf(&p.out, "  %s\n", p.label(heading))
				first = false
			}
			said[text] = true
			p.hang("  - ", 4, text)
		}
	}
	tell("report.cannot-wait", true)
	tell("report.can-wait", false)
	if len(said) == 0 {
		p.hang("", 2, p.label("report.nothing-to-tell"))
	}
	p.hang("", 2, p.label("report.scope"))
}
