package translate

import (
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/calc/visit"
)

// headline is what comes before all else, with what it rests on and what comes of it.
func headline(h verdict.Headline, v visit.Visit, of *pb.Vehicle) *pb.Headline {
	m := &pb.Headline{Hold: pb.Hold(h.Hold), Urgency: pb.Urgency(h.Urgency), Positions: positionStrings(h.Positions), AsOf: dateMessage(v.AsOf)}
	m.Facts = Facts(h.Facts)
	m.Unknown = messages(h.Unknown, said)
	line := func(w order.Work) *pb.Said { return planned(w, of) }
	if first := h.Plan.First; first.Code != "" {
		m.First = said(first.Code)
		m.First.Values = inCode(inAmount(nil, finding.ValueTarget, first.Target), finding.ValueSettle, first.Settle)
	}
	if h.Plan.Ask.Code != "" {
		m.Ask = line(h.Plan.Ask)
	}
	m.Quote, m.Back = messages(h.Plan.Quote, line), messages(h.Plan.Back, line)
	return m
}

// Facts are what a headline rests on, as the contract carries it.
func Facts(all []verdict.Fact) []*pb.Said { return messages(all, fact) }

func fact(f verdict.Fact) *pb.Said {
	m := said(f.Code)
	m.Values = atEach(m.GetValues(), finding.ValueAt, f.Positions...)
	if f.Differ {
		m.Values = atEach(m.GetValues(), finding.ValueWorst, f.Worst...)
	}
	if !f.Read.IsZero() {
		m.Values = inAmount(m.GetValues(), finding.ValueRead, f.Read)
		m.Values = inAmount(m.GetValues(), finding.ValueLabel, f.Label)
		return m
	}
	m.Values = inAmount(m.GetValues(), finding.ValueMeasured, f.Measured)
	m.Values = inAmount(m.GetValues(), finding.ValueLimit, f.Limit)
	return m
}

// SameFact tells that two facts are of findings of one kind on the same wheels.
func SameFact(a, b *pb.Said) bool {
	return a.GetCode() == b.GetCode() && slices.Equal(factAt(a), factAt(b))
}

func factAt(m *pb.Said) (at []string) {
	for _, v := range m.GetValues() {
		if v.GetName() == finding.ValueAt {
			at = append(at, v.GetPosition())
		}
	}
	return at
}

// planned is a line of work as a headline has it.
func planned(w order.Work, of *pb.Vehicle) *pb.Said {
	m := said(w.Code)
	item := bought(&pb.WorkItem{}, w, of)
	if item.GetQuantity() > 0 {
		m.Values = inAmount(m.GetValues(), finding.ValueTires, unit.Amount{Number: float64(item.GetQuantity()), Unit: unit.Count})
	}
	if item.GetSize() != "" {
		m.Values = append(m.Values, &pb.Argument{Name: finding.ValueSize, Value: &pb.Argument_Text{Text: item.GetSize()}})
	}
	m.Values = inCode(m.GetValues(), finding.ValueWhen, w.Condition)
	m.Values = inAmount(m.GetValues(), finding.ValueDueFrom, w.DueFrom)
	m.Values = inAmount(m.GetValues(), finding.ValueDueBy, w.DueBy)
	return m
}

func atEach(all []*pb.Argument, name string, at ...layout.Position) []*pb.Argument {
	for _, p := range positionStrings(at) {
		all = append(all, &pb.Argument{Name: name, Value: &pb.Argument_Position{Position: p}})
	}
	return all
}

func inAmount(all []*pb.Argument, name string, a unit.Amount) []*pb.Argument {
	if q := quantity(a); q != nil && !a.IsZero() {
		all = append(all, &pb.Argument{Name: name, Value: &pb.Argument_Quantity{Quantity: q}})
	}
	return all
}

func inCode[C finding.Condition | finding.Settle](all []*pb.Argument, name string, c C) []*pb.Argument {
	if c != "" {
		all = append(all, &pb.Argument{Name: name, Value: &pb.Argument_Code{Code: string(c)}})
	}
	return all
}
