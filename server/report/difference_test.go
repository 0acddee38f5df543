package report

import (
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// Of a changed finding every field that differs is told, and no other.
func TestDifferenceTellsEachField(t *testing.T) {
	psi := func(n float64) *pb.Quantity {
		return &pb.Quantity{Amount: &pb.Quantity_Pressure{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: n}}}}
	}
	by := func(r *pb.Rule) *pb.Finding { return &pb.Finding{Rules: []*pb.Rule{r}} }
	first, second := int32(1), int32(2)
	for _, c := range []struct {
		was, now *pb.Finding
		says     string
	}{
		{&pb.Finding{Urgency: pb.Urgency_URGENCY_PLAN}, &pb.Finding{Urgency: pb.Urgency_URGENCY_THIS_VISIT}, "to plan → this visit"},
		{&pb.Finding{Comparison: pb.Comparison_COMPARISON_BELOW}, &pb.Finding{Comparison: pb.Comparison_COMPARISON_CANNOT_TELL}, "outcome below → cannot tell yet"},
		{&pb.Finding{Measured: psi(30)}, &pb.Finding{Measured: psi(31)}, "measured 30 psi → 31 psi"},
		{&pb.Finding{Limit: psi(30)}, &pb.Finding{}, "limit 30 psi → -"},
		{&pb.Finding{Margin: psi(-3)}, &pb.Finding{Margin: psi(-2)}, "margin -3 psi → -2 psi"},
		{&pb.Finding{Uncertainty: psi(1)}, &pb.Finding{Uncertainty: psi(1.5)}, "uncertainty ±2.00 psi (k=2) → ±3.00 psi (k=2)"},
		{
			by(&pb.Rule{Id: "a.b", Authority: pb.Authority_AUTHORITY_MAKER, HowKnown: pb.SourceReading_SOURCE_READING_FROM_MEMORY}),
			by(&pb.Rule{Id: "a.b", Authority: pb.Authority_AUTHORITY_MAKER, HowKnown: pb.SourceReading_SOURCE_READING_READ}),
			"rule a.b, maker's figure, from memory → a.b, maker's figure, read",
		},
		{by(&pb.Rule{Id: "a.b", Candidate: true}), by(&pb.Rule{Id: "a.b"}), "the rule may apply → applies"},
		{&pb.Finding{CauseRank: &second}, &pb.Finding{CauseRank: &first}, "rank among the causes 2 → 1"},
		{
			&pb.Finding{Evidence: []*pb.Evidence{{Code: "a.gone"}, {Code: "a.same"}}},
			&pb.Finding{Evidence: []*pb.Evidence{{Code: "a.same"}, {Code: "a.new"}}}, "evidence +a.new, -a.gone",
		},
		{&pb.Finding{Evidence: []*pb.Evidence{{Code: "a.same"}}}, &pb.Finding{Evidence: []*pb.Evidence{{Code: "a.same", Against: true}}}, "evidence differs"},
		{&pb.Finding{AsLeft: &pb.AsLeft{Measured: psi(33)}}, &pb.Finding{}, "as left 33 psi → -"},
		{&pb.Finding{Place: &pb.Place{Groove: 1}}, &pb.Finding{Place: &pb.Place{Groove: 2}}, "place differs"},
		{&pb.Finding{Subject: &pb.Subject{Kind: pb.SubjectKind_SUBJECT_KIND_PLACE}}, &pb.Finding{Subject: &pb.Subject{TireId: "x"}}, "stays open on differs"},
	} {
		var out strings.Builder
		for _, f := range []*pb.Finding{c.was, c.now} {
			f.Id, f.Code, f.Positions, f.ForTechnician = "x.y:S", "x.y", []string{"S"}, "whatever the words"
		}
		c.now.ForTechnician = "other words"
		reassessed := &pb.ReassessInspectionResponse{Assessment: &pb.Assessment{Findings: []*pb.Finding{c.now}}, Changed: []string{"x.y:S"}}
		if err := Difference(&out, "a visit", &pb.Assessment{Findings: []*pb.Finding{c.was}}, reassessed, nil); err != nil {
			t.Fatal(err)
		}
		title := "x.y"
		if id := ruleOf(c.now).GetId(); id != "" {
			title += ", " + id
		}
		_, got, _ := strings.Cut(out.String(), "  changed ")
		if want := "S: " + title + ": " + c.says; strings.Join(strings.Fields(got), " ") != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}
