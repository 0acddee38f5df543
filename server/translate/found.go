package translate

import (
	"strings"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/puncture"
	"gaugebook.dev/calc/verdict"
)

// isDepth tells millimeters of tread from millimeters of anything else.
func isDepth(c finding.Code) bool {
	return strings.HasPrefix(string(c), "tread.") || strings.HasPrefix(string(c), "wear.") || strings.HasPrefix(string(c), "trend.") || depthMatched[c] || c == puncture.CodeWorn
}

// depthMatched are the codes of matching that speak of tread; others of taped sizes.
var depthMatched = map[finding.Code]bool{
	fitment.AllWheelTread: true, fitment.DualTread: true, fitment.OtherPractice: true, fitment.WidestPractice: true,
}

var outcomes = map[measure.Outcome]pb.Comparison{
	measure.Below: pb.Comparison_COMPARISON_BELOW, measure.Above: pb.Comparison_COMPARISON_ABOVE, measure.CannotTell: pb.Comparison_COMPARISON_CANNOT_TELL,
}

func findingMessage(f finding.Finding, tires map[layout.Position]string) *pb.Finding {
	depth := isDepth(f.Code)
	m := &pb.Finding{
		Id: f.ID(), Code: string(f.Code), Urgency: pb.Urgency(f.Urgency), Positions: positionStrings(f.Positions),
		ToSettle: said(f.ToSettle), Caution: string(f.Caution), Subject: subject(f, tires), Comparison: outcomes[f.Outcome],
		Measured: quantity(f.Measured, depth), Limit: quantity(f.Limit, depth), Margin: quantity(f.Margin, depth), Uncertainty: quantity(f.Uncertainty, depth),
		Place: place(f.Place),
	}
	if r := rule(f.Rule, f.Candidate); r != nil {
		m.Rules = []*pb.Rule{r}
	}
	for _, e := range f.Evidence {
		m.Evidence = append(m.Evidence, evidence(e))
	}
	if f.Rank > 0 {
		m.CauseRank = new(int32(f.Rank))
	}
	return m
}

func evidence(e finding.Evidence) *pb.Evidence {
	depth := isDepth(e.Code) || e.Code == puncture.EvidenceTread
	m := &pb.Evidence{Code: string(e.Code), Amount: quantity(e.Amount, depth), Uncertainty: quantity(e.Uncertainty, depth), Against: e.Against}
	if !e.Day.IsZero() {
		m.Amount = &pb.Quantity{Amount: &pb.Quantity_Date{Date: dateMessage(e.Day)}}
	}
	return m
}

// asLeft says what put a finding right before the vehicle left; nil: nothing did.
func asLeft(f finding.Finding, out verdict.Verdict) *pb.AsLeft {
	left, closed := out.Closed[f.ID()]
	done, cured := out.Done[f.ID()]
	switch measured := quantity(left, isDepth(f.Code)); {
	case measured != nil:
		return &pb.AsLeft{Measured: measured, PutRight: &pb.Said{
			Code: "as-left.measured", Values: []*pb.Argument{{Name: "measured", Value: &pb.Argument_Quantity{Quantity: measured}}},
		}}
	case closed:
		return &pb.AsLeft{PutRight: said("as-left.put-right")}
	case cured:
		return &pb.AsLeft{PutRight: said(done)}
	}
	return nil
}

// subject is what a finding stays open on from visit to visit.
func subject(f finding.Finding, tires map[layout.Position]string) *pb.Subject {
	at := f.Positions
	switch {
	case len(at) == 1 && at[0] == Beside:
		return &pb.Subject{Kind: pb.SubjectKind_SUBJECT_KIND_PAIR_MATE}
	case f.Subject() == finding.OfTire:
		return &pb.Subject{Kind: pb.SubjectKind_SUBJECT_KIND_TIRE, TireId: tires[at[0]]}
	case f.Subject() == finding.OfPlace:
		return &pb.Subject{Kind: pb.SubjectKind_SUBJECT_KIND_PLACE}
	}
	return &pb.Subject{Kind: pb.SubjectKind_SUBJECT_KIND_VEHICLE}
}

// rule is what was judged by; nil where nothing was that has a name.
func rule(r finding.Rule, candidate bool) *pb.Rule {
	if r == (finding.Rule{}) && !candidate {
		return nil
	}
	return &pb.Rule{Id: r.ID, Authority: pb.Authority(r.Authority), Citation: cited(r.Citation), HowKnown: pb.SourceReading(r.Known), Candidate: candidate}
}

func place(p finding.Place) *pb.Place {
	if p == (finding.Place{}) {
		return nil
	}
	return &pb.Place{
		Part: pb.TirePart(pb.TirePart_value[enumName(p.Part, "TIRE_PART_")]), Side: pb.WheelSide(pb.WheelSide_value[enumName(p.Side, "WHEEL_SIDE_")]),
		Across: pb.Across(p.Across), Groove: int32(p.Groove), Station: int32(p.Station),
	}
}

func enumName(code finding.Code, prefix string) string {
	return prefix + strings.ToUpper(strings.ReplaceAll(string(code), "-", "_"))
}

func lookedAt(what finding.Code) pb.LookedAt {
	return pb.LookedAt(pb.LookedAt_value[enumName(what, "LOOKED_AT_")])
}

func notLookedReason(reason finding.Code) pb.NotLookedReason {
	return pb.NotLookedReason(pb.NotLookedReason_value[enumName(reason, "NOT_LOOKED_REASON_")])
}

// workMessage is one line of work.
func workMessage(w verdict.Work) *pb.WorkItem {
	m := &pb.WorkItem{
		Id: w.ID(), Code: string(w.Code), Step: pb.WorkStep(w.Step + 1), Urgency: pb.Urgency(w.Urgency), Positions: positionStrings(w.Positions),
		FindingIds: w.Findings, Caution: string(w.Caution), Condition: said(w.Condition), Target: quantity(w.Target, false), ToSettle: said(w.Settle),
		FinishCold: w.FinishCold, MapId: w.Map.ID, Changes: changes(w.Map),
	}
	if len(w.Positions) == 1 && w.Positions[0] == Beside {
		m.Subject = pb.SubjectKind_SUBJECT_KIND_PAIR_MATE
	}
	if !w.DueFrom.IsZero() {
		m.DueFromDistance, m.DueByDistance = fill(&pb.Distance{}, w.DueFrom), fill(&pb.Distance{}, w.DueBy)
	}
	return m
}
