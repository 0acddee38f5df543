package report

import (
	"slices"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/words"
)

// toCustomer is what the counter tells, each sentence by itself: whether to drive, of
// each wheel the gravest, what nothing was found at, what is asked, and when to come back.
func (p *printer) toCustomer(a *pb.Assessment) {
	p.blank()
	around := a.GetHeadline().GetPositions()
	said := []string{p.nowhere(a.GetHeadline().GetForCustomer(), around)}
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
		say(p.sameGoes(l, a.GetWheels()))
	}
	say(p.others(a))
	for _, w := range once(a.GetWork()) {
		k := finding.WorkOf(finding.Work(w.item.GetCode()))
		if k.ForThem || k.Fits && w.item.GetCondition() == nil {
			say(p.counters(w, around))
		}
	}
	p.paragraph(part{"glance.customer", said})
}

// sameGoes tells of the other wheels that a line is true of: of many that are all the others
// how many they are, with what was measured there.
func (p *printer) sameGoes(l line, wheels []*pb.WheelSummary) string {
	if len(l.also) == 0 {
		return ""
	}
	others := make([]string, len(l.also))
	var amounts []string
	for i, o := range l.also {
		if others[i] = o.at; o.amount != "" {
			others[i] += " (" + o.amount + ")"
			amounts = append(amounts, o.amount)
		}
	}
	onTheRoad := 0
	for _, w := range wheels {
		if w.GetPosition() != "S" {
			onTheRoad++
		}
	}
	if n := len(l.also); p.every > 0 && n > 1 && n == onTheRoad-1 && l.position != "S" && !slices.ContainsFunc(l.also, func(o also) bool { return o.position == "S" }) {
		return tellLabel(p.counter, "glance.same-goes-others", words.Count(n).As("n"), words.List(amounts).As("amounts"))
	}
	return tellLabel(p.counter, "report.same-goes", words.List(others).As("others"))
}

// others tells of the wheels at which nothing was found: of all that have no finding how
// many they are, else which.
func (p *printer) others(a *pb.Assessment) string {
	var at []string
	for _, w := range a.GetWheels() {
		if w.GetNothingWrong() {
			at = append(at, w.GetPosition())
		}
	}
	var found []string
	for _, f := range gravest(a.GetFindings()) {
		found = append(found, f.GetPositions()...)
	}
	slices.Sort(found)
	switch rest := p.every - len(slices.Compact(found)); {
	case len(at) == 0:
		return ""
	case len(found) > 0 && rest == len(at):
		return tellLabel(p.counter, "glance.nothing-wrong-others", words.Count(len(at)).As("n"))
	}
	return tellLabel(p.counter, "glance.nothing-wrong", tell.At(p.frontRear, at...).As("at"))
}

// counters is a line of work as the counter tells it: where all of it is, or where the
// headline is, is not told again; what falls due several times is told once.
func (p *printer) counters(w due, around []string) string {
	at := w.item.GetPositions()
	text := w.told(w.item.GetForCustomer(), p.counter)
	if len(at) == p.every || slices.Equal(at, around) {
		return p.nowhere(text, at)
	}
	return text
}

// nowhere is a sentence of the counter without the places that others name.
func (p *printer) nowhere(text string, at []string) string {
	if len(at) == 0 {
		return text
	}
	return strings.Replace(text, ": "+p.counter.Value(tell.At(p.frontRear, at...))+".", ".", 1)
}

// gravest are the findings that the customer hears: of each wheel the first, for they come
// by urgency; of several wheels what none of them was told of, where it can wait; of the
// vehicle all.
func gravest(fs []*pb.Finding) (all []*pb.Finding) {
	var told []string
	for _, f := range fs {
		if f.GetForCustomer() == "" || f.GetUrgency() == pb.Urgency_URGENCY_NOTE || f.GetAsLeft() != nil {
			continue
		}
		at, untold := f.GetPositions(), 0
		for _, p := range at {
			if !slices.Contains(told, p) {
				untold++
			}
		}
		if len(at) > 0 && (untold == 0 || untold < len(at) && f.GetUrgency() == pb.Urgency_URGENCY_PLAN) {
			continue
		}
		all, told = append(all, f), append(told, at...)
	}
	return all
}
