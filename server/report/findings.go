package report

import (
	"fmt"
	"slices"
	"strings"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/words"
)

// block is what is printed of one finding, or of several that read the same.
type block struct {
	code      string
	urgency   pb.Urgency
	positions []string
	text      string
	causes    []string // evidence, and other causes of the same shape
	numbers   string
	source    string
	settle    string
	left      string // as left: nothing else is to be said then
}

// findings are listed by urgency. A note is its sentence alone; everything more
// urgent shows its numbers, its rule and what would settle an open answer. What
// reads the same on several wheels is said once, and so are rule and settling of
// findings of one kind that follow one another.
func (p *printer) findings(fs []*pb.Finding) {
	p.section("found")
	if len(fs) == 0 {
		p.hang("", 2, p.label("report.nothing"))
	}
	blocks := p.blocks(fs)
	for i, b := range blocks {
		if i == 0 || b.urgency != blocks[i-1].urgency {
			fmt.Fprintf(&p.out, "  %s\n", p.label(urgencyLabel(b.urgency)))
		}
		p.place(b.positions, b.text)
		for _, c := range b.causes {
			p.hang("", indent, c)
		}
		if i+1 < len(blocks) && blocks[i+1].sharesRule(b) {
			b.source, b.settle = "", ""
		}
		p.hang("", indent, b.left)
		p.hang("", indent, strings.TrimSpace(b.numbers+" "+b.source))
		p.hang("", indent, b.settle)
	}
}

// sharesRule tells that the block is of the same kind as another before it, by
// the same rule, with the same thing left open.
func (b block) sharesRule(before block) bool {
	return b.code == before.code && b.urgency == before.urgency && b.source == before.source && b.settle == before.settle && b.left == "" && len(b.causes) == 0
}

func (p *printer) blocks(fs []*pb.Finding) []block {
	var bs []block
	for _, f := range fs {
		if lesser(f) && slices.ContainsFunc(fs, func(o *pb.Finding) bool { return !lesser(o) && sameShape(o, f) }) {
			continue // told with the likeliest cause
		}
		b := block{code: f.GetCode(), urgency: f.GetUrgency(), positions: f.GetPositions(), text: p.bare(f)}
		if f.GetUrgency() != pb.Urgency_URGENCY_NOTE {
			p.detail(&b, f, fs)
		}
		same := slices.IndexFunc(bs, func(o block) bool {
			return o.code == b.code && o.urgency == b.urgency && o.text == b.text && o.numbers == b.numbers &&
				o.source == b.source && o.settle == b.settle && o.left == b.left && slices.Equal(o.causes, b.causes)
		})
		if same >= 0 {
			bs[same].positions = append(slices.Clone(bs[same].positions), b.positions...)
			continue
		}
		bs = append(bs, b)
	}
	return bs
}

// detail fills in what stands under the sentence of a finding.
func (p *printer) detail(b *block, f *pb.Finding, fs []*pb.Finding) {
	if f.GetAsLeft() != nil {
		b.left = p.label("report.as-left") + " " + f.GetAsLeft().GetPutRight().GetWords()
		return
	}
	b.causes, b.numbers, b.source = p.causes(f, fs), p.numbers(f), p.source(f)
	if f.GetToSettle() != nil {
		b.settle = p.label("report.to-settle") + " " + f.GetToSettle().GetWords()
	}
}

// bare is the technician's sentence without the positions that stand beside it.
// A finding without a sentence is never passed over: its code stands for it.
func (p *printer) bare(f *pb.Finding) string {
	text := p.unplaced(f.GetPositions(), f.GetForTechnician())
	if text == "" {
		return f.GetCode()
	}
	return text
}

// lesser tells a cause that is not the likeliest of its shape.
func lesser(f *pb.Finding) bool { return f.GetCauseRank() > 1 }

// sameShape tells two causes of one wear shape.
func sameShape(a, b *pb.Finding) bool {
	return a.GetCauseRank() > 0 && b.GetCauseRank() > 0 && slices.Equal(a.GetPositions(), b.GetPositions()) && proto.Equal(a.GetMeasured(), b.GetMeasured())
}

// causes is the evidence of a cause, whether others are as likely, and the less
// likely ones of the same shape with theirs.
func (p *printer) causes(f *pb.Finding, fs []*pb.Finding) []string {
	if f.GetCauseRank() == 0 {
		return nil
	}
	var lines []string
	equals := 0
	for _, o := range fs {
		if sameShape(o, f) && !lesser(o) {
			equals++
		}
	}
	first := p.evidence(f)
	if equals > 1 {
		first = strings.TrimSpace(p.label("report.as-likely") + " " + first)
	}
	if first != "" {
		lines = append(lines, first)
	}
	last := slices.IndexFunc(fs, func(o *pb.Finding) bool { return sameShape(o, f) && !lesser(o) })
	if fs[last] != f {
		return lines
	}
	for _, o := range fs {
		if sameShape(o, f) && lesser(o) {
			lines = append(lines, strings.TrimSpace(p.label("report.less-likely")+" "+p.bare(o)+" "+p.evidence(o)))
		}
	}
	return lines
}

// evidence is what speaks for a cause and what against it.
func (p *printer) evidence(f *pb.Finding) string {
	var said [2][]string
	for _, e := range f.GetEvidence() {
		side := 0
		if e.GetAgainst() {
			side = 1
		}
		if w := e.GetWords(); w != "" {
			said[side] = append(said[side], w)
		}
	}
	var parts []string
	for side, label := range []string{"report.speaks-for", "report.speaks-against"} {
		if len(said[side]) > 0 {
			parts = append(parts, p.label(label)+" "+strings.Join(said[side], "; ")+".")
		}
	}
	return strings.Join(parts, " ")
}

func urgencyLabel(u pb.Urgency) string {
	return "urgency." + words.Kebab(strings.TrimPrefix(u.String(), "URGENCY_"))
}

// numbers is measured value, limit, margin and uncertainty on one line, without
// what the sentence above it has said.
func (p *printer) numbers(f *pb.Finding) string {
	m, l := p.show(f.GetMeasured()), p.show(f.GetLimit())
	if m == "" || l == "" {
		return ""
	}
	text := f.GetForTechnician()
	var parts []string
	if !strings.Contains(text, m) {
		parts = append(parts, p.label("report.measured")+" "+m)
	}
	if !strings.Contains(text, l) {
		parts = append(parts, p.label("report.limit")+" "+l)
	}
	if margin := p.wanted(f.GetMargin()); margin != "" {
		parts = append(parts, p.label("report.margin")+" "+margin)
	}
	if u := p.expanded(f.GetUncertainty()); u != "" && !strings.Contains(text, "±"+u) {
		parts = append(parts, fmt.Sprintf("±%s (k=2)", u))
	}
	if len(parts) == 0 {
		return ""
	}
	s := words.Sentence(strings.Join(parts, ", "))
	if f.GetComparison() == pb.Comparison_COMPARISON_CANNOT_TELL {
		s += ": " + p.label("report.cannot-tell")
	}
	return s + "."
}

// ruleOf is the strictest rule that a finding was judged by; nil where none was.
func ruleOf(f *pb.Finding) *pb.Rule {
	if rules := f.GetRules(); len(rules) > 0 {
		return rules[0]
	}
	return nil
}

func (p *printer) source(f *pb.Finding) string {
	r := ruleOf(f)
	cited := r.GetCitation().GetWords()
	if cited == "" {
		return ""
	}
	authority := p.authority(r)
	parts := []string{authority}
	if !strings.EqualFold(authority, cited) && !strings.Contains(f.GetForTechnician(), cited) {
		parts = append([]string{cited}, parts...)
	}
	if r.GetHowKnown() != pb.SourceReading_SOURCE_READING_READ {
		parts = append(parts, p.known(r))
	}
	if who := p.binds(r); who != "" {
		parts = append(parts, who)
	}
	if r.GetCandidate() {
		parts = append(parts, p.label("report.candidate"))
	}
	return p.label("report.by") + " " + strings.Join(parts, "; ")
}

// binds is whom a rule binds; "" for one that binds nobody.
func (p *printer) binds(r *pb.Rule) string {
	var who []string
	for _, b := range r.GetBinds() {
		code := "unspecified" // grows
		if name, known := pb.Binds_name[int32(b)]; known {
			code = words.Kebab(strings.TrimPrefix(name, "BINDS_"))
		}
		who = append(who, p.label("binds."+code))
	}
	if len(who) == 0 {
		return ""
	}
	return p.label("report.binds") + " " + p.technician.Value(words.List(who))
}

// authority is what stands behind a rule.
func (p *printer) authority(r *pb.Rule) string {
	return p.label("authority." + words.Kebab(strings.TrimPrefix(r.GetAuthority().String(), "AUTHORITY_")))
}

// known is how the number of a rule is known.
func (p *printer) known(r *pb.Rule) string {
	return p.label("known." + words.Kebab(strings.TrimPrefix(r.GetHowKnown().String(), "SOURCE_READING_")))
}
