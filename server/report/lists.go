package report

import (
	"fmt"
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/words"
)

// cautions stand once each, before the work that they are about.
func (p *printer) cautions(a *pb.Assessment) {
	var order []string
	wheels := map[string][]string{}
	note := func(caution string, positions []string) {
		if caution == "" {
			return
		}
		if _, seen := wheels[caution]; !seen {
			order = append(order, caution)
			wheels[caution] = nil
		}
		for _, pos := range positions {
			if !slices.Contains(wheels[caution], pos) {
				wheels[caution] = append(wheels[caution], pos)
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
	said := map[string]string{}
	for _, c := range a.GetCautions() {
		said[c.GetCode()] = c.GetWords()
	}
	p.section("cautions")
	for _, c := range order {
		slices.Sort(wheels[c])
		p.place(wheels[c], said[c])
	}
}

// settled tells that nothing is open or planned, unread or asked.
func settled(a *pb.Assessment) bool {
	open := func(f *pb.Finding) bool { return f.GetUrgency() != pb.Urgency_URGENCY_NOTE && f.GetAsLeft() == nil }
	return len(a.GetQuestions())+len(a.GetNotLookedAt())+len(a.GetNotJudged()) == 0 && !slices.ContainsFunc(a.GetFindings(), open)
}

func (p *printer) order(a *pb.Assessment) {
	work := a.GetWork()
	p.section("order")
	switch {
	case len(work) > 0:
	case settled(a):
		p.hang("", 2, p.label("report.no-work"))
		return
	default:
		p.hang("", 2, p.label("report.no-work-yet"))
		return
	}
	for n, w := range once(work) {
		p.hang(fmt.Sprintf("  %2d  ", n+1), 6, w.told(p.task(w.item), p.technician))
	}
}

// task is one line of work: where, under which condition, and what.
func (p *printer) task(item *pb.WorkItem) string {
	text := p.unplaced(item.GetPositions(), item.GetForTechnician())
	if text == "" {
		text = item.GetCode()
	}
	where, when := "", item.GetCondition().GetWords()
	if len(item.GetPositions()) > 0 {
		where = p.places(item.GetPositions())
	}
	switch {
	case where != "" && when != "":
		return where + ", " + lower(when) + " " + text
	case where != "":
		return where + ": " + text
	}
	return strings.TrimSpace(when + " " + text)
}

// checked lists first the places of the same wheels on one line, then what was
// measured.
func (p *printer) checked(cs []*pb.Checked) {
	p.section("nothing-found")
	if len(cs) == 0 {
		p.hang("", 2, p.label("report.none"))
	}
	var order []string
	names := map[string][]string{}
	at := map[string][]string{}
	for _, c := range cs {
		if !look(c) {
			continue
		}
		k := p.places(c.GetPositions())
		if names[k] == nil {
			order = append(order, k)
		}
		names[k], at[k] = append(names[k], p.label(c.GetCode())), c.GetPositions()
	}
	for _, k := range order {
		p.place(at[k], strings.Join(names[k], "; "))
	}
	for _, c := range cs {
		if !look(c) {
			p.place(c.GetPositions(), c.GetWords())
		}
	}
}

// look tells a look with nothing found from a comparison that came out good.
func look(c *pb.Checked) bool { return finding.CheckedOf(finding.Checked(c.GetCode())).Place != "" }

// notLooked lists what was not looked at, what is not judged, and what is not
// known, each with its reason.
func (p *printer) notLooked(a *pb.Assessment) {
	p.section("not-looked")
	p.grouped(a.GetNotLookedAt())
	for _, n := range a.GetNotJudged() {
		if n.GetCode() == noInspection {
			continue // the report ends with it
		}
		p.place(n.GetPositions(), n.GetWords())
	}
	for _, u := range a.GetQuestions() {
		p.place(u.GetPositions(), fmt.Sprintf("%s %s %s.", u.GetWords(), p.label("report.would-allow"), strings.TrimSuffix(u.GetWouldAllow(), ".")))
	}
}

const noInspection = string(finding.RecordedLawNotInspection)

// end tells both readers of a report on a commercial vehicle what it is not.
func (p *printer) end(from int, a *pb.Assessment) {
	for _, n := range a.GetNotJudged() {
		if n.GetCode() != noInspection {
			continue
		}
		p.hang("", from, n.GetWords())
		if told := p.counter.Text(words.NotJudged, noInspection); told != n.GetWords() {
			p.hang("", from, told)
		}
	}
}

// grouped lists the places not looked at, those of the same wheels for the same
// reason on one line.
func (p *printer) grouped(ns []*pb.NotLookedAt) {
	type key struct{ at, why string }
	var order []key
	names := map[key][]string{}
	wheels := map[key][]string{}
	for _, n := range ns {
		name, why, _ := strings.Cut(n.GetWords(), ": ")
		k := key{p.places(n.GetPositions()), why}
		if names[k] == nil {
			order = append(order, k)
		} else {
			name = lower(name)
		}
		names[k], wheels[k] = append(names[k], name), n.GetPositions()
	}
	for _, k := range order {
		text := strings.Join(names[k], "; ")
		if k.why != "" {
			text += ": " + k.why
		}
		p.place(wheels[k], text)
	}
}
