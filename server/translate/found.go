package translate

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/verdict"
)

var outcomes = map[measure.Outcome]pb.Comparison{
	measure.Below: pb.Comparison_COMPARISON_BELOW, measure.Above: pb.Comparison_COMPARISON_ABOVE, measure.CannotTell: pb.Comparison_COMPARISON_CANNOT_TELL,
}

func findingMessage(f finding.Finding, tires map[layout.Position]string) *pb.Finding {
	m := &pb.Finding{
		Id: f.ID(), Code: string(f.Code), Urgency: pb.Urgency(f.Urgency), Positions: positionStrings(f.Positions),
		ToSettle: said(f.ToSettle), Caution: string(f.Caution), Subject: subject(f, tires), Comparison: outcomes[f.Outcome],
		Measured: quantity(f.Measured), Limit: quantity(f.Limit), Margin: quantity(f.Margin), Uncertainty: quantity(f.Uncertainty),
		Place: place(f.Place), Evidence: messages(f.Evidence, evidence),
	}
	if r := rule(f.Rule, f.Candidate); r != nil {
		m.Rules = []*pb.Rule{r}
		for _, o := range f.Others {
			m.Rules = append(m.Rules, rule(o, f.Candidate))
		}
	}
	if f.Rank > 0 {
		m.CauseRank = new(int32(f.Rank))
	}
	return m
}

func evidence(e finding.Evidence) *pb.Evidence {
	m := &pb.Evidence{Code: string(e.Code), Amount: quantity(e.Amount), Uncertainty: quantity(e.Uncertainty), Against: e.Against}
	if !e.Day.IsZero() {
		m.Amount = &pb.Quantity{Amount: &pb.Quantity_Date{Date: dateMessage(e.Day)}}
	}
	return m
}

// asLeft says what put a finding right before the vehicle left; nil: nothing did.
func asLeft(id string, out verdict.Verdict) *pb.AsLeft {
	left, closed := out.Closed[id]
	done, cured := out.Done[id]
	switch measured := quantity(left); {
	case measured != nil:
		return &pb.AsLeft{Measured: measured, PutRight: &pb.Said{
			Code: string(finding.ClosedMeasured), Values: []*pb.Argument{{Name: "measured", Value: &pb.Argument_Quantity{Quantity: measured}}},
		}}
	case closed:
		return &pb.AsLeft{PutRight: said(finding.ClosedAsLeft)}
	case cured:
		return &pb.AsLeft{PutRight: said(done)}
	}
	return nil
}

// subject is what a finding stays open on from visit to visit.
func subject(f finding.Finding, tires map[layout.Position]string) *pb.Subject {
	at, of := f.Positions, finding.KindOf(f.Code).Of
	switch {
	case len(at) == 1 && at[0] == layout.Beside:
		return &pb.Subject{Kind: pb.SubjectKind_SUBJECT_KIND_PAIR_MATE}
	case len(at) == 1 && of == finding.OfTire:
		return &pb.Subject{Kind: pb.SubjectKind_SUBJECT_KIND_TIRE, TireId: tires[at[0]]}
	case len(at) == 1:
		return &pb.Subject{Kind: pb.SubjectKind_SUBJECT_KIND_PLACE}
	}
	return &pb.Subject{Kind: pb.SubjectKind_SUBJECT_KIND_VEHICLE}
}

// rule is what was judged by; nil where nothing was that has a name.
func rule(r finding.Rule, candidate bool) *pb.Rule {
	if r == (finding.Rule{}) && !candidate {
		return nil
	}
	return &pb.Rule{Id: r.ID, Authority: pb.Authority(r.Authority), Citation: citedOf(r), HowKnown: pb.SourceReading(r.Known), Candidate: candidate, Binds: bound(r.Binds)}
}

// citedOf is what a rule is cited from; with the id of the book of its place, where laws
// of several are judged together.
func citedOf(r finding.Rule) *pb.Said {
	s := cited(r.Citation)
	if s != nil && r.Of != "" {
		s.Values = append(s.Values, &pb.Argument{Name: "of", Value: &pb.Argument_Text{Text: r.Of}})
	}
	return s
}

// bound lists whom a rule binds.
func bound(by finding.Binds) (all []pb.Binds) {
	for i := range len(pb.Binds_name) - 1 {
		if by&(1<<i) != 0 {
			all = append(all, pb.Binds(i+1))
		}
	}
	return all
}

func place(p finding.Place) *pb.Place {
	if p == (finding.Place{}) {
		return nil
	}
	return &pb.Place{
		Part: parts.value(p.Part), Side: sides.value(p.Side),
		Across: pb.Across(p.Across), Groove: int32(p.Groove), Station: int32(p.Station),
	}
}

// bought adds to a line that fits tires how many there are to buy and, where the vehicle's
// label asks for one alone at its wheels, which size with load and speed.
func bought(m *pb.WorkItem, w order.Work, v *pb.Vehicle) *pb.WorkItem {
	kind := finding.WorkOf(w.Code)
	if !kind.Fits || kind.Moves {
		return m
	}
	m.Quantity = int32(len(w.Positions))
	for i, p := range w.Positions {
		asked := labelSize(v, p)
		if i > 0 && asked != m.GetSize() {
			asked = ""
		}
		if m.Size = asked; asked == "" {
			break
		}
	}
	return m
}

// labelSize is the size that a vehicle's label asks for at a wheel; "" where it is not told.
func labelSize(v *pb.Vehicle, p layout.Position) string {
	axles := v.GetAxles().GetAxles()
	switch {
	case p.Spare:
		return v.GetSpare().GetSize()
	case p.Axle < 1 || p.Axle > len(axles):
		return ""
	}
	return axles[p.Axle-1].GetSize()
}

// workMessage is one line of work.
func workMessage(w order.Work) *pb.WorkItem {
	m := &pb.WorkItem{
		Id: w.ID(), Code: string(w.Code), Step: pb.WorkStep(w.Step + 1), Urgency: pb.Urgency(w.Urgency), Positions: positionStrings(w.Positions),
		FindingIds: w.Findings, Caution: string(w.Caution), Condition: said(w.Condition), Target: quantity(w.Target), ToSettle: said(w.Settle),
		FinishCold: w.FinishCold, MapId: w.Map.ID, Changes: changes(w.Map),
	}
	if len(w.Positions) == 1 && w.Positions[0] == layout.Beside {
		m.Subject = pb.SubjectKind_SUBJECT_KIND_PAIR_MATE
	}
	if !w.DueFrom.IsZero() {
		m.DueFromDistance, m.DueByDistance = fill(&pb.Distance{}, w.DueFrom), fill(&pb.Distance{}, w.DueBy)
	}
	return m
}
