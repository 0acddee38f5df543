package report

import (
	"io"
	"slices"
	"strconv"
	"strings"

	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/translate"
	"gaugebook.dev/server/words"
)

// Difference writes in what a visit means another thing than it did then. heading
// names the visit, besides the parts of the answer that differ beside its
// findings. An empty line ends it. Both answers were told as the new one says.
func Difference(w io.Writer, heading string, then *pb.Assessment, reassessed *pb.ReassessInspectionResponse, otherParts []string) error {
	then, reassessed = harmless(then), harmless(reassessed)
	now := reassessed.GetAssessment()
	p := newPrinter(now, reassessed.GetTold())
	p.hang("", 0, words.Harmless(heading))
	p.hang("  "+p.label("report.judged-by"), leadWidth, p.bases(then.GetBasis(), now.GetBasis()))
	var appeared, disappeared, changed fates
	for _, id := range reassessed.GetAppeared() {
		f := byID(now, id)
		appeared.add(f, p.told(f))
	}
	for _, id := range reassessed.GetDisappeared() {
		f := byID(then, id)
		disappeared.add(f, p.told(f))
	}
	was, means := translate.Meaning(then), translate.Meaning(now)
	for _, id := range reassessed.GetChanged() {
		f := byID(means, id)
		changed.add(f, title(f)+": "+p.changes(byID(was, id), f))
	}
	p.fates("reassess.appeared", appeared)
	p.fates("reassess.disappeared", disappeared)
	p.fates("reassess.changed", changed)
	var parts []string
	for _, part := range otherParts {
		parts = append(parts, p.label("reassess.part."+words.Kebab(part)))
	}
	p.hang("  "+p.label("reassess.other-parts"), leadWidth, strings.Join(parts, ", "))
	_, err := io.WriteString(w, p.out.String()+"\n")
	return err
}

// leadWidth is the column where texts start, after what became of a finding.
const leadWidth = 16

func byID(a *pb.Assessment, id string) *pb.Finding {
	i := slices.IndexFunc(a.GetFindings(), func(f *pb.Finding) bool { return f.GetId() == id })
	return a.GetFindings()[i]
}

// bases says by which engine and rulebooks it was judged then and now, as far as
// they are others.
func (p *printer) bases(then, now *pb.Basis) string {
	var parts []string
	if e := (Step{then.GetEngine(), now.GetEngine()}); e.From != e.To {
		parts = append(parts, p.label("report.engine")+" "+e.String())
	}
	for _, s := range rulebookSteps(then.GetRulebooks(), now.GetRulebooks()) {
		if s.From != s.To {
			parts = append(parts, s.String())
		}
	}
	if len(parts) == 0 {
		return p.label("reassess.same-basis")
	}
	return strings.Join(parts, ", ")
}

// fate is what became of a finding, or of several of which the same is to be said.
type fate struct {
	positions []string
	text      string
}

type fates []fate

func (fs *fates) add(f *pb.Finding, text string) {
	if i := slices.IndexFunc(*fs, func(o fate) bool { return o.text == text }); i >= 0 {
		(*fs)[i].positions = append((*fs)[i].positions, f.GetPositions()...)
		return
	}
	*fs = append(*fs, fate{slices.Clone(f.GetPositions()), text})
}

func (p *printer) fates(label string, fs fates) {
	for _, f := range fs {
		p.hang("  "+p.label(label), leadWidth, strings.TrimSuffix(p.places(f.positions), ":")+": "+f.text)
	}
}

// title names a finding by its code and its rule.
func title(f *pb.Finding) string {
	if id := ruleOf(f).GetId(); id != "" {
		return f.GetCode() + ", " + id
	}
	return f.GetCode()
}

// told is a finding by its title, its urgency and its sentence.
func (p *printer) told(f *pb.Finding) string {
	text := title(f) + ". " + p.label(urgencyLabel(f.GetUrgency())) + "."
	if said := f.GetForTechnician(); said != "" && said != f.GetCode() {
		text += " " + p.bare(f)
	}
	return text
}

// changes says in what a finding differs from what it was, field by field. Both
// are without words.
func (p *printer) changes(was, now *pb.Finding) string {
	var parts []string
	x, y := was.ProtoReflect(), now.ProtoReflect()
	for i := range x.Descriptor().Fields().Len() {
		field := x.Descriptor().Fields().Get(i)
		if x.Has(field) == y.Has(field) && x.Get(field).Equal(y.Get(field)) {
			continue
		}
		if field.Name() == "rules" {
			parts = append(parts, p.otherRule(ruleOf(was), ruleOf(now)))
			continue
		}
		text := p.label("reassess.differs")
		if field.Name() == "evidence" {
			text = p.otherEvidence(was, now)
		} else if from, to := p.value(field, was), p.value(field, now); from != to {
			text = dash(from) + " → " + dash(to)
		}
		if field.Name() != "urgency" { // which says by itself what it is
			text = p.label("reassess.of."+words.Kebab(string(field.Name()))) + " " + text
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// value writes a field of a finding; "" where it is absent, or has no short way to
// be told.
func (p *printer) value(field protoreflect.FieldDescriptor, f *pb.Finding) string {
	switch field.Name() {
	case "urgency":
		return lower(p.label(urgencyLabel(f.GetUrgency())))
	case "comparison":
		return p.label("reassess.outcome." + words.Kebab(strings.TrimPrefix(f.GetComparison().String(), "COMPARISON_")))
	case "measured":
		return p.show(f.GetMeasured())
	case "limit":
		return p.show(f.GetLimit())
	case "margin":
		return p.wanted(f.GetMargin())
	case "uncertainty":
		if u := p.expanded(f.GetUncertainty()); u != "" {
			return "±" + u + " (k=2)"
		}
	case "cause_rank":
		if f.CauseRank != nil {
			return strconv.Itoa(int(f.GetCauseRank()))
		}
	case "as_left":
		return p.show(f.GetAsLeft().GetMeasured())
	}
	return ""
}

// otherRule tells by which other rule it was judged, and whether it applies.
func (p *printer) otherRule(was, now *pb.Rule) string {
	var parts []string
	name := func(r *pb.Rule) string {
		if r.GetId() == "" {
			return "-"
		}
		return strings.Join([]string{r.GetId(), p.authority(r), p.known(r)}, ", ")
	}
	applies := func(r *pb.Rule) string {
		if r.GetCandidate() {
			return p.label("reassess.may-apply")
		}
		return p.label("reassess.applies")
	}
	if from, to := name(was), name(now); from != to {
		parts = append(parts, p.label("reassess.of.rules")+" "+from+" → "+to)
	}
	if from, to := applies(was), applies(now); from != to {
		parts = append(parts, p.label("reassess.of.candidate")+" "+from+" → "+to)
	}
	return strings.Join(parts, "; ")
}

// otherEvidence names the facts that came and those that went.
func (p *printer) otherEvidence(was, now *pb.Finding) string {
	var parts []string
	codes := func(f *pb.Finding) (cs []string) {
		for _, e := range f.GetEvidence() {
			cs = append(cs, e.GetCode())
		}
		return cs
	}
	before, after := codes(was), codes(now)
	for _, c := range after {
		if !slices.Contains(before, c) {
			parts = append(parts, "+"+c)
		}
	}
	for _, c := range before {
		if !slices.Contains(after, c) {
			parts = append(parts, "-"+c)
		}
	}
	if len(parts) == 0 {
		return p.label("reassess.differs")
	}
	return strings.Join(parts, ", ")
}
