package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
)

// steps is the order of work under its wheels: short lines, with the marks of the
// findings that they answer, then what falls due later.
func (p *printer) steps(a *pb.Assessment, why []reason) {
	if len(a.GetWork()) == 0 {
		code := "report.no-work-yet"
		if settled(a) {
			code = "report.no-work"
		}
		p.hang("", 0, p.label(code))
		return
	}
	var now, later []*pb.WorkItem
	for _, w := range a.GetWork() {
		kind := finding.WorkOf(finding.Work(w.GetCode()))
		switch {
		case kind.Code == finding.WorkConsentLook: // said before
		case kind.Stage == finding.StageLater:
			later = append(later, w)
		case !kind.Routine && (kind.Code != finding.WorkVehicleHold || w.GetToSettle() != nil): // the headline says it
			now = append(now, w)
		}
	}
	p.numbered(now, why)
	p.later(later)
}

// stepsFrom is the column where the lines of work begin, after their number.
const stepsFrom = 3

// numbered writes the lines of work step by step: the lines of one part of the visit, where
// they are done, with the marks of what is answered there at its first line. What is done on
// a condition ends its step.
func (p *printer) numbered(work []*pb.WorkItem, why []reason) {
	marked := map[string]bool{}
	for n := 1; len(work) > 0; n++ {
		size := step(work)
		var texts []string
		under := ""
		for _, w := range work[:size] {
			at := p.label("glance.vehicle")
			if len(w.GetPositions()) > 0 {
				at = p.places(w.GetPositions())
			} else if under != "" {
				at = under
			}
			text := p.what(w)
			if when := w.GetCondition().GetWords(); when != "" && !strings.Contains(strings.Join(texts, " "), when) {
				text = when + " " + lower(text)
			}
			if at != under {
				heading := at
				if marks := marksAt(work, w, why); marks != "" && !marked[at] {
					heading, marked[at] = at+" "+marks, true
				}
				text, under = heading+": "+text, at
			}
			texts = append(texts, text)
		}
		p.hang(fmt.Sprintf("%2d ", n), stepsFrom, strings.Join(texts, " "))
		work = work[size:]
	}
}

// step is how many lines of work, from the first on, are one step.
func step(work []*pb.WorkItem) (n int) {
	for n = 1; n < len(work); n++ {
		when, before := work[n].GetCondition().GetWords(), work[n-1].GetCondition().GetWords()
		if phase(work[n]) != phase(work[0]) || before != "" && when != before {
			break
		}
	}
	return n
}

// marksAt are the marks of the reasons that the lines of work at the wheels of one answer.
func marksAt(work []*pb.WorkItem, at *pb.WorkItem, why []reason) string {
	return marksOf(slices.DeleteFunc(slices.Clone(work), func(w *pb.WorkItem) bool { return !slices.Equal(w.GetPositions(), at.GetPositions()) }), why)
}

// phase is which part of the visit a line of work belongs to: up to looking, mending up to
// the pressures, wheels on and the end.
func phase(w *pb.WorkItem) int {
	ends := []pb.WorkStep{pb.WorkStep_WORK_STEP_INSPECT, pb.WorkStep_WORK_STEP_PRESSURE}
	i := slices.IndexFunc(ends, func(last pb.WorkStep) bool { return w.GetStep() <= last })
	if i < 0 {
		return len(ends)
	}
	return i
}

// what is a line of work that stands under its wheels.
func (p *printer) what(w *pb.WorkItem) string {
	return cmp.Or(p.unplaced(w.GetPositions(), w.GetForTechnician()), w.GetCode())
}

// onCondition is a line of work on its condition.
func (p *printer) onCondition(w *pb.WorkItem) string {
	if when := w.GetCondition().GetWords(); when != "" {
		return when + " " + lower(p.what(w))
	}
	return p.what(w)
}

// marksOf are the marks of the reasons that lines of work answer.
func marksOf(work []*pb.WorkItem, why []reason) string {
	var marks []string
	for _, r := range why {
		if slices.ContainsFunc(work, func(w *pb.WorkItem) bool {
			return finding.WorkOf(finding.Work(w.GetCode())).Needs != finding.NeedsWork && slices.ContainsFunc(r.ids, func(id string) bool { return slices.Contains(w.GetFindingIds(), id) })
		}) {
			marks = append(marks, r.mark)
		}
	}
	return strings.Join(marks, " ")
}

// later is what falls due after the visit.
func (p *printer) later(work []*pb.WorkItem) {
	var texts []string
	var at []string
	for _, w := range once(work) {
		text := w.told(p.onCondition(w.item), p.technician)
		if !slices.Equal(w.item.GetPositions(), at) {
			text = p.beginning(w.item.GetPositions()) + text
		}
		at = w.item.GetPositions()
		texts = append(texts, text)
	}
	p.paragraph(part{"glance.later", texts})
}
