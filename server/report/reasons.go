package report

import (
	"fmt"
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/words"
)

// reason is one entry of what was found: findings of a kind by one rule, on one wheel or
// on several, with the mark that lines of work carry.
type reason struct {
	mark    string
	urgency pb.Urgency
	ids     []string
	of      alike
}

// alike are findings that say the same of several wheels, but for what was measured.
type alike struct {
	shape string
	fs    []*pb.Finding
}

// at are the wheels of all of them.
func (e alike) at() (at []string) {
	for _, f := range e.fs {
		at = append(at, f.GetPositions()...)
	}
	return at
}

// alike groups the findings that are wanted, in the order they came.
func (p *printer) alike(fs []*pb.Finding, wanted func(*pb.Finding) bool) (all []alike) {
	for _, f := range fs {
		if !wanted(f) || lesser(f) && slices.ContainsFunc(fs, func(o *pb.Finding) bool { return !lesser(o) && sameShape(o, f) }) {
			continue
		}
		shape := fmt.Sprint(f.GetUrgency(), f.GetCode(), ruleOf(f).GetId(), f.GetComparison())
		if f.GetAsLeft() != nil {
			shape += f.GetAsLeft().GetPutRight().GetWords()
		}
		i := slices.IndexFunc(all, func(o alike) bool {
			return o.shape == shape && len(f.GetPositions()) == 1 && len(o.fs[0].GetPositions()) == 1
		})
		if i < 0 {
			all = append(all, alike{shape, []*pb.Finding{f}})
			continue
		}
		all[i].fs = append(all[i].fs, f)
	}
	return all
}

// reasons are what is to be done something about, the most urgent first, each with its
// mark.
func (p *printer) reasons(a *pb.Assessment) (all []reason) {
	for _, of := range p.alike(a.GetFindings(), func(f *pb.Finding) bool { return f.GetUrgency() != pb.Urgency_URGENCY_NOTE && f.GetAsLeft() == nil }) {
		r := reason{mark: mark(len(all)), urgency: of.fs[0].GetUrgency(), of: of}
		for _, f := range of.fs {
			r.ids = append(r.ids, f.GetId())
		}
		all = append(all, r)
	}
	return all
}

// mark is a, b, ... z, then aa, ab ...
func mark(n int) string {
	const letters = 26
	if n < letters {
		return string(rune('a' + n))
	}
	return mark(n/letters-1) + string(rune('a'+n%letters))
}

// because writes the reasons by urgency, the first of each behind its name, those to be
// planned one after the other.
func (p *printer) because(why []reason) {
	if len(why) == 0 {
		p.hang("", 0, p.label("report.nothing"))
	}
	var plan []string
	for i, r := range why {
		if r.urgency == pb.Urgency_URGENCY_PLAN {
			plan = append(plan, r.mark+" "+p.brief(r.of))
			continue
		}
		text := p.entry(r.of)
		if i == 0 || r.urgency != why[i-1].urgency {
			text = p.label(urgencyLabel(r.urgency)) + ": " + text
		}
		p.hang(fmt.Sprintf("%2s ", r.mark), stepsFrom, text)
	}
	p.paragraph(part{"glance.plan", plan})
}

// brief is what can wait: where, and the fact alone where there is a phrase for it.
func (p *printer) brief(e alike) string {
	f := e.fs[0]
	told, err := p.technician.Tell(words.Said{Section: words.Glances, Code: f.GetCode(), Arguments: []words.Argument{
		words.Shown(tell.Amount(f.GetMeasured())).As("measured"), words.Shown(tell.Amount(f.GetLimit())).As("limit"),
		evidence(f, finding.FactInflationRead).As("read"), evidence(f, finding.FactInflationLabel).As("label"),
	}})
	amount := p.show(f.GetMeasured())
	var others []string
	for _, o := range e.fs[1:] {
		if m := p.show(o.GetMeasured()); m != amount {
			others = append(others, p.places(o.GetPositions())+" "+m)
		}
	}
	if err != nil || len(others) > 0 && !strings.Contains(told, amount) && strings.ContainsAny(told, "0123456789") {
		return p.entry(e)
	}
	if len(others) > 0 && strings.Contains(told, amount) {
		told += "; " + strings.Join(others, ", ")
	}
	return p.beginning(e.at()) + words.Sentence(told) + "."
}

// evidence is the amount of a piece of evidence; none where there is none.
func evidence(f *pb.Finding, code finding.Fact) words.Value {
	for _, e := range f.GetEvidence() {
		if e.GetCode() == string(code) {
			return words.Shown(tell.Amount(e.GetAmount()))
		}
	}
	return words.Value{}
}

// putRight is what was found and is put right: the amount then and as left.
func (p *printer) putRight(e alike) string {
	f := e.fs[0]
	left := f.GetAsLeft().GetPutRight().GetWords()
	if p.show(f.GetMeasured()) == "" {
		return p.entry(e)
	}
	var parts []string
	for _, o := range e.fs {
		parts = append(parts, p.places(o.GetPositions())+" "+p.show(o.GetMeasured()))
	}
	return strings.Join(parts, ", ") + ": " + strings.TrimSuffix(left, ".") + "."
}

// entry is what findings of a kind say in one line: where, what, and at the wheels after
// the first what was measured there.
func (p *printer) entry(e alike) string {
	f, at := e.fs[0], e.at()
	text, amount := p.bare(f), p.show(f.GetMeasured())
	var others []string
	for _, o := range e.fs[1:] {
		if m := p.show(o.GetMeasured()); m != "" && m != amount && strings.Contains(text, amount) {
			others = append(others, p.places(o.GetPositions())+" "+m)
		}
	}
	where := p.beginning(at)
	if len(others) > 0 {
		text = strings.TrimSuffix(text, ".") + "; " + strings.Join(others, ", ") + "."
	}
	if u := p.expanded(f.GetUncertainty()); f.GetUrgency() < pb.Urgency_URGENCY_PLAN && u != "" && amount != "" && strings.Contains(text, amount) && f.GetComparison() == pb.Comparison_COMPARISON_CANNOT_TELL && !strings.Contains(text, "±") {
		text = strings.TrimSuffix(text, ".") + ", ±" + u + ": " + p.label("report.cannot-tell") + "."
	}
	if left := f.GetAsLeft(); left != nil {
		text += " " + left.GetPutRight().GetWords()
	}
	return where + words.Sentence(text)
}
