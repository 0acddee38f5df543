package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/words"
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
		case kind.Code == finding.WorkConsentLook, kind.Code == finding.WorkConsentMend && w.GetCondition() == nil: // said before
		case kind.Stage == finding.StageLater:
			later = append(later, w)
		case !kind.Routine && (kind.Code != finding.WorkVehicleHold || w.GetToSettle() != nil): // the headline says it
			now = append(now, w)
		}
	}
	on := p.conditions(now, later)
	p.numbered(now, why, on)
	p.later(later, on)
}

// stepsFrom is the column where the lines of work begin, after their number.
const stepsFrom = 3

// numbered writes the lines of work step by step: the lines of one part of the visit, where
// they are done, with the marks of what is answered there at its first line. A step that goes
// on at the same wheels names them again, where there are others. What is done on a
// condition ends its step.
func (p *printer) numbered(work []*pb.WorkItem, why []reason, on *conditions) {
	marked := map[string]bool{}
	under, several := "", p.several(work)
	for n := 1; len(work) > 0; n++ {
		size := step(work)
		var texts []string
		when, named := "", false // the line before is told by its name
		for i, w := range work[:size] {
			at, marks := p.where(w), marksAt(work, w, why)
			if marked[at] {
				marks = ""
			}
			if len(w.GetPositions()) == 0 && marks == "" {
				at = under // what is of the vehicle stands where it is done
			}
			text := p.what(w)
			if c := w.GetCondition().GetWords(); alone(work, i) {
				text = on.behind(text, c)
			} else if c != "" && c != when {
				text, when = on.told(c)+" "+lower(text), c
			} else if small(w) && named && at == under && marks == "" && c == "" {
				texts[len(texts)-1] = strings.TrimSuffix(texts[len(texts)-1], ".") + ", " + lower(text)
				continue
			}
			named = small(w) && w.GetCondition() == nil
			if at != under || marks != "" || i == 0 && at != "" && several {
				heading := cmp.Or(at, p.label("glance.vehicle"))
				if marks != "" {
					heading, marked[at] = heading+" "+marks, true
				}
				text, under = heading+": "+text, at
			}
			texts = append(texts, text)
		}
		p.hang(fmt.Sprintf("%2d ", n), stepsFrom, strings.Join(texts, " "))
		work = work[size:]
	}
}

// several tells that work is done at other wheels than those of another line.
func (p *printer) several(work []*pb.WorkItem) bool {
	first := ""
	for _, w := range work {
		at := p.where(w)
		if first = cmp.Or(first, at); at != "" && at != first {
			return true
		}
	}
	return false
}

// where is where a line of work is done, "" for the vehicle.
func (p *printer) where(w *pb.WorkItem) string {
	if len(w.GetPositions()) == 0 {
		return ""
	}
	return p.places(w.GetPositions())
}

// conditions are those of the lines of work. One that stands at several steps is told whole
// once, with a mark, and then by its mark.
type conditions struct {
	p     *printer
	marks map[string]string // by the condition's words; "" of one that stands once
	whole map[string]bool   // told whole
}

func (p *printer) conditions(now, later []*pb.WorkItem) *conditions {
	on := &conditions{p: p, marks: map[string]string{}, whole: map[string]bool{}}
	times, marked := map[string]int{}, 0
	stands := func(when string) {
		if when == "" {
			return
		}
		if times[when]++; times[when] == 2 {
			marked++
			on.marks[when] = strings.Repeat("*", marked)
		}
	}
	for len(now) > 0 {
		size, when := step(now), ""
		for _, w := range now[:size] {
			if c := w.GetCondition().GetWords(); c != when {
				stands(c)
				when = c
			}
		}
		now = now[size:]
	}
	for _, w := range later {
		stands(w.GetCondition().GetWords())
	}
	return on
}

// told is a condition where it stands next.
func (on *conditions) told(when string) string {
	mark := on.marks[when]
	switch {
	case mark == "":
		return when
	case on.whole[when]:
		return tellLabel(on.p.technician, "glance.if", words.Plain(mark).As("mark"))
	}
	on.whole[when] = true
	return strings.TrimSuffix(when, ":") + " (" + mark + "):"
}

// behind is a line of work with its condition behind it.
func (on *conditions) behind(text, when string) string {
	when = strings.NewReplacer(" (", " ", ")", "").Replace(strings.TrimSuffix(on.told(when), ":"))
	return strings.TrimSuffix(text, ".") + " (" + lower(when) + ")."
}

// alone tells that no line beside this one is done on its condition, and that no harm is done
// by reading the condition last: nobody can be hurt, and no tire is lost.
func alone(work []*pb.WorkItem, i int) bool {
	when := work[i].GetCondition().GetWords()
	if finding.WorkOf(finding.Work(work[i].GetCode())).Stage == finding.StageMend {
		return false
	}
	same := func(j int) bool { return j >= 0 && j < len(work) && work[j].GetCondition().GetWords() == when }
	return when != "" && work[i].GetCaution() == "" && !same(i-1) && !same(i+1)
}

// step is how many lines of work, from the first on, are one step.
func step(work []*pb.WorkItem) (n int) {
	for n = 1; n < len(work); n++ {
		when, before := work[n].GetCondition().GetWords(), work[n-1].GetCondition().GetWords()
		if phase(work[n]) != phase(work[0]) || before != "" && when != before && !alone(work, n-1) {
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

// small tells a step that is told by its name, after others of its kind; how it is done
// stands in what Write writes.
func small(w *pb.WorkItem) bool { return finding.WorkOf(finding.Work(w.GetCode())).Craft }

// what is a line of work that stands under its wheels.
func (p *printer) what(w *pb.WorkItem) string {
	if small(w) {
		if name := p.technician.Text(words.Titles, w.GetCode()); name != "" {
			return name + "."
		}
	}
	return cmp.Or(p.unplaced(w.GetPositions(), w.GetForTechnician()), w.GetCode())
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
func (p *printer) later(work []*pb.WorkItem, on *conditions) {
	var texts []string
	var at []string
	for _, w := range once(work) {
		text := w.told(p.what(w.item), p.technician)
		if when := w.item.GetCondition().GetWords(); when != "" {
			text = on.told(when) + " " + lower(text)
		}
		if !slices.Equal(w.item.GetPositions(), at) {
			where := p.beginning(w.item.GetPositions())
			if len(texts) == 0 {
				where = p.around(w.item.GetPositions())
			}
			text = where + text
		}
		at = w.item.GetPositions()
		texts = append(texts, text)
	}
	p.paragraph(part{"glance.later", texts})
}
