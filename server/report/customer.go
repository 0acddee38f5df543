package report

import (
	"fmt"
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/words"
)

// customer is what the counter tells: what cannot wait, then what can. What
// differs by the wheel alone is said once.
func (p *printer) customer(a *pb.Assessment) {
	p.section("customer")
	for _, answer := range tell.Answers(p.counter, a) {
		p.hang("", 2, answer)
	}
	told := false
	list := func(heading string, now bool) {
		var lines []line
		for _, f := range a.GetFindings() {
			waits := f.GetUrgency() > pb.Urgency_URGENCY_THIS_VISIT
			if f.GetForCustomer() == "" || waits == now || noted(f) || f.GetAsLeft() != nil {
				continue
			}
			lines = p.addLine(lines, f)
		}
		if len(lines) > 0 {
			told = true
			fmt.Fprintf(&p.out, "  %s\n", p.label(heading))
		}
		for _, l := range lines {
			text := l.text
			p.hang("  - ", 4, strings.TrimSpace(text+" "+p.sameGoes(l, a.GetWheels())))
		}
	}
	list("report.cannot-wait", true)
	list("report.can-wait", false)
	if !told {
		p.hang("", 2, p.label("report.nothing-to-tell"))
	}
	p.hang("", 2, p.label("report.scope"))
}

// noted tells of a note that the counter does not tell.
func noted(f *pb.Finding) bool {
	return f.GetUrgency() == pb.Urgency_URGENCY_NOTE && !finding.KindOf(finding.Code(f.GetCode())).Calms
}

// at is where a finding is.
func (p *printer) at(f *pb.Finding) words.Value { return tell.At(p.frontRear, f.GetPositions()...) }

// line is one thing that the counter tells, with the other wheels it is true of.
type line struct {
	text, shape string
	position    string // of the first wheel
	amount      string // measured there
	also        []also
}

// also is another wheel, and what was measured there where that is another amount.
type also struct{ position, at, amount string }

// addLine adds what a finding tells the customer, to an earlier line where the
// two differ in nothing but the wheel and what was measured there.
func (p *printer) addLine(lines []line, f *pb.Finding) []line {
	at := p.counter.Value(p.at(f))
	amount := p.counter.Value(shown(f.GetMeasured()))
	l := line{text: f.GetForCustomer(), shape: f.GetForCustomer(), amount: amount}
	if len(f.GetPositions()) == 1 {
		l.position = f.GetPositions()[0]
	}
	if at == "" {
		l.shape = f.GetCode() + l.shape
	} else {
		l.shape = f.GetCode() + strings.ReplaceAll(strings.ReplaceAll(l.shape, words.Sentence(at), at), at, "{at}")
		if amount != "" {
			l.shape = strings.Replace(l.shape, amount, "{measured}", 1)
		}
	}
	for i, o := range lines {
		if o.shape != l.shape {
			continue
		}
		if at == "" || o.text == l.text {
			return lines
		}
		if amount == o.amount || !strings.Contains(l.shape, "{measured}") {
			amount = ""
		}
		amount = strings.TrimSuffix(strings.Replace(amount, " (", ", ", 1), ")") // no parentheses within parentheses
		lines[i].also = append(lines[i].also, also{l.position, at, amount})
		return lines
	}
	return append(lines, l)
}
