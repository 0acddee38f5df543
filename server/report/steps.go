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
	var look []string
	var now, later []*pb.WorkItem
	for _, w := range a.GetWork() {
		kind := finding.WorkOf(finding.Work(w.GetCode()))
		switch {
		case kind.Code == finding.WorkConsentLook:
			look = append(look, p.places(w.GetPositions()))
		case kind.Stage == finding.StageLater:
			later = append(later, w)
		case !kind.Routine && (kind.Code != finding.WorkVehicleHold || w.GetToSettle() != nil): // the headline says it
			now = append(now, w)
		}
	}
	if len(look) > 0 {
		p.run("glance.ok", p.label("glance.ok-look")+" "+strings.Join(look, ", ")+".")
	}
	for n := 0; len(now) > 0; {
		same := 1
		under := now[0].GetPositions()
		for ; same < len(now) && (len(under) == 0 || together(now[same].GetPositions(), under)); same++ {
			if len(under) == 0 {
				under = now[same].GetPositions()
			}
		}
		n = p.under(under, now[:same], why, n)
		now = now[same:]
	}
	p.later(later)
}

// together tells that a line stands under the heading of another: it is of the same
// wheels, or of the vehicle.
func together(at, under []string) bool { return len(at) == 0 || slices.Equal(at, under) }

// stepsFrom is the column where the lines of work begin, after their number.
const stepsFrom = 4

// under writes lines of the same wheels, or of the vehicle: where, with the marks of what
// they answer, then those of one step, or on one condition, together. It gives the number
// of the last step.
func (p *printer) under(at []string, work []*pb.WorkItem, why []reason, n int) int {
	heading := p.label("glance.vehicle")
	if len(at) > 0 {
		heading = p.places(at)
	}
	if marks := marksOf(work, why); marks != "" {
		heading += " " + marks
	}
	heading += ": "
	for len(work) > 0 {
		same, when := 1, work[0].GetCondition().GetWords()
		for same < len(work) && work[same].GetCondition().GetWords() == when && (when != "" || phase(work[same]) == phase(work[0])) {
			same++
		}
		texts := make([]string, same)
		for i, w := range work[:same] {
			texts[i] = p.what(w)
		}
		text := strings.Join(texts, " ")
		if when != "" {
			text = when + " " + lower(text)
		}
		n++
		p.hang(fmt.Sprintf("%3d ", n), stepsFrom, heading+text)
		work, heading = work[same:], ""
	}
	return n
}

// phase is which part of the visit a line of work belongs to: before anything is touched,
// looking, mending, places and pressures, wheels on and the end.
func phase(w *pb.WorkItem) int {
	ends := []pb.WorkStep{pb.WorkStep_WORK_STEP_MAKE_SAFE, pb.WorkStep_WORK_STEP_INSPECT, pb.WorkStep_WORK_STEP_MOUNT, pb.WorkStep_WORK_STEP_PRESSURE}
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

// step is a line of work on its condition.
func (p *printer) step(w *pb.WorkItem) string {
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

// later is what falls due after the visit: what falls due several times is said once.
func (p *printer) later(work []*pb.WorkItem) {
	var texts []string
	var at []string
	for len(work) > 0 {
		text, due := p.step(work[0]), p.show(work[0].GetDueByDistance())
		first, same := due, 1
		for ; same < len(work) && due != "" && work[same].GetCode() == work[0].GetCode() && slices.Equal(work[same].GetPositions(), work[0].GetPositions()); same++ {
			due += ", " + p.show(work[same].GetDueByDistance())
		}
		text = strings.Replace(text, first, due, 1)
		if !slices.Equal(work[0].GetPositions(), at) {
			text = p.beginning(work[0].GetPositions()) + text
		}
		at = work[0].GetPositions()
		texts, work = append(texts, text), work[same:]
	}
	p.run("glance.later", texts...)
}
