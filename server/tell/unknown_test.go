package tell_test

import (
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/tell"
)

// ofAnotherVersion is an answer that another version of the program kept: nothing in
// it is known here.
func ofAnotherVersion() *pb.Assessment {
	said := func(code string) *pb.Said { return &pb.Said{Code: code} }
	filled := &pb.Said{Code: "x.filled", Values: []*pb.Argument{{Name: "n", Value: &pb.Argument_Text{Text: "7"}}, {Name: "none"}, {
		Name: "at", Value: &pb.Argument_Position{Position: "no place"},
	}}}
	return &pb.Assessment{
		Headline: &pb.Headline{Hold: 17, Urgency: 17, Positions: []string{"2R", "no place"}},
		Findings: []*pb.Finding{{
			Code: "x.finding", Urgency: 17, Positions: []string{"nowhere"}, ToSettle: said("x.settle"), Caution: "x.caution", AsLeft: &pb.AsLeft{PutRight: filled},
			Comparison: 17, Measured: &pb.Quantity{}, Limit: &pb.Quantity{Amount: &pb.Quantity_Depth{Depth: &pb.Depth{}}},
			Rules: []*pb.Rule{{Citation: said("x.cited"), Candidate: true}}, Evidence: []*pb.Evidence{{Code: "x.fact"}},
			Place: &pb.Place{Part: 17, Side: 17},
		}},
		Work:         []*pb.WorkItem{{Code: "x.work", Condition: said("x.when"), ToSettle: said("x.settle"), MapId: "x", Changes: []*pb.PositionChange{{FromPosition: "here", ToPosition: "there"}}}},
		Cautions:     []*pb.Said{said("x.caution")},
		Questions:    []*pb.Question{{Code: "x.question"}},
		Repairs:      []*pb.RepairAnswer{{LookFor: []*pb.Said{said("x.look")}, Missing: []*pb.Said{said("x.missing")}}},
		Wheels:       []*pb.WheelSummary{{Position: "no place", Coverage: said("x.coverage")}},
		NotLookedAt:  []*pb.NotLookedAt{{What: 17, Reason: 17}},
		NothingFound: []*pb.Checked{{Code: "x.checked"}},
		NotJudged:    []*pb.NotJudged{{Code: "x.not-judged"}},
	}
}

// A code without a text is told by itself, and so is what fills it; the customer
// hears nothing of it.
func TestUnknownCodes(t *testing.T) {
	a := ofAnotherVersion()
	tell.For(&pb.Reader{View: pb.View_VIEW_FULL, CustomerLanguage: "es"}, tell.Shop{}).Assessment(a, true)
	f, w, r := a.GetFindings()[0], a.GetWork()[0], a.GetRepairs()[0]
	for _, c := range []struct{ got, want string }{
		{a.GetHeadline().GetForTechnician(), "17"},
		{a.GetHeadline().GetForCustomer(), ""},
		{f.GetForTechnician(), "x.finding"},
		{f.GetForCustomer(), ""},
		{f.GetToSettle().GetWords(), "x.settle"},
		{f.GetAsLeft().GetPutRight().GetWords(), "x.filled"},
		{f.GetRules()[0].GetCitation().GetWords(), "x.cited"},
		{f.GetEvidence()[0].GetWords(), "x.fact"},
		{w.GetForTechnician(), "x.work"},
		{w.GetForCustomer(), ""},
		{w.GetCondition().GetWords(), "x.when"},
		{a.GetCautions()[0].GetWords(), "x.caution"},
		{a.GetQuestions()[0].GetWords(), "x.question"},
		{r.GetLookFor()[0].GetWords(), "x.look"},
		{r.GetMissing()[0].GetWords(), "x.missing"},
		{a.GetWheels()[0].GetCoverage().GetWords(), "x.coverage"},
		{a.GetWheels()[0].GetShownPosition(), "no place"},
		{a.GetNotLookedAt()[0].GetWords(), "looked.17: not-looked.17"},
		{a.GetNothingFound()[0].GetWords(), "x.checked"},
		{a.GetNotJudged()[0].GetWords(), "x.not-judged"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}

	plan := &pb.PlanRotationResponse{Plans: []*pb.RotationPlan{{MapId: "x", WhyNot: []*pb.Said{{Code: "x.why"}}, Warnings: []*pb.Said{{Code: "x.warning"}}}}}
	sidewall := &pb.ReadSidewallResponse{Notes: []*pb.Said{{Code: "x.note"}}}
	book := &pb.Rulebook{Title: &pb.Said{Code: "x.title"}, Limits: []*pb.Limit{{Subject: &pb.Said{Code: "x"}}}}
	t2 := tell.For(nil, tell.Shop{})
	t2.Rotation(plan, true)
	t2.Sidewall(sidewall)
	t2.Rulebook(book)
	for _, c := range []struct{ got, want string }{
		{plan.GetPlans()[0].GetWords(), "Map.x."},
		{plan.GetPlans()[0].GetWhyNot()[0].GetWords(), "x.why"},
		{plan.GetPlans()[0].GetWarnings()[0].GetWords(), "x.warning"},
		{sidewall.GetNotes()[0].GetWords(), "x.note"},
		{book.GetTitle().GetWords(), "x.title"},
		{book.GetLimits()[0].GetSubject().GetWords(), "x"},
	} {
		if c.got != c.want {
			t.Errorf("%q, want %q", c.got, c.want)
		}
	}
}

// Absent messages are no fault.
func TestNothingToTell(*testing.T) {
	for _, view := range []pb.View{pb.View_VIEW_GLANCE, pb.View_VIEW_WORK, pb.View_VIEW_FULL} {
		t := tell.For(&pb.Reader{View: view, CustomerLanguage: "es"}, tell.Shop{})
		t.Assessment(nil, true)
		t.Assessment(&pb.Assessment{}, true)
		t.Headline(nil, true)
		t.Finding(nil, true)
		t.Finding(&pb.Finding{}, true)
		t.Open(nil, true)
		t.Open(&pb.OpenFinding{}, true)
		t.State(nil, true)
		t.State(&pb.VehicleState{Open: []*pb.OpenFinding{{}}}, true)
		t.Change(&pb.Change{}, func(string) bool { return true })
		t.Change(&pb.Change{What: &pb.Change_Inspection{Inspection: &pb.InspectionChange{Closed: []*pb.ClosedFinding{{}}}}}, func(string) bool { return true })
		t.Rotation(&pb.PlanRotationResponse{Plans: []*pb.RotationPlan{{}}}, true)
		t.Sidewall(&pb.ReadSidewallResponse{})
		t.Rulebook(&pb.Rulebook{Limits: []*pb.Limit{{}}})
		t.Repair(nil)
	}
}
