package judge_test

import (
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
	"gaugebook.dev/server/translate"
)

// inView is the judgement of a visit, told to a technician and a customer.
func inView(a *pb.Assessment, v *pb.Vehicle, view pb.View) *pb.Assessment {
	a = proto.CloneOf(a)
	tell.For(&pb.Reader{Language: "en", CustomerLanguage: "en", View: view}, tell.Shop{}).Assessment(a, translate.FrontRear(v))
	return a
}

// What WORK leaves out of what it holds, another sentence of it tells, but for figures
// beside another finding; only a customer is not told what concerns no customer. That is our own decision, held for every visit.
func TestWorkLosesNothing(t *testing.T) {
	saved := map[string]int{}
	for _, req := range everyVisit(t) {
		a := judge.Visit(req)
		full, work := inView(a, req.GetVehicle(), pb.View_VIEW_FULL), inView(a, req.GetVehicle(), pb.View_VIEW_WORK)
		full.Findings = slices.DeleteFunc(full.Findings, func(f *pb.Finding) bool { return finding.KindOf(finding.Code(f.GetCode())).Beside })
		if !proto.Equal(full.GetHeadline(), work.GetHeadline()) || len(full.GetFindings()) != len(work.GetFindings()) ||
			len(full.GetWork()) != len(work.GetWork()) || len(full.GetQuestions()) != len(work.GetQuestions()) {
			t.Fatalf("%v: other lists than in FULL", work)
		}
		for i, f := range work.GetFindings() {
			lessOfFinding(t, full, full.GetFindings()[i], f, saved)
		}
		for i, w := range work.GetWork() {
			lessOfWork(t, full, full.GetWork()[i], w, saved)
		}
		for i, q := range work.GetQuestions() {
			if q.GetWords() != full.GetQuestions()[i].GetWords() {
				t.Errorf("%s asks %q", q.GetCode(), q.GetWords())
			}
		}
		if !slices.EqualFunc(work.GetCautions(), full.GetCautions(), func(a, b *pb.Said) bool { return proto.Equal(a, b) }) {
			t.Errorf("cautions %v, in FULL %v", work.GetCautions(), full.GetCautions())
		}
	}
	for _, what := range []string{"to_settle", "customer of a note", "customer of work"} {
		if saved[what] == 0 {
			t.Errorf("no visit has it left out: %s", what)
		}
	}
}

func lessOfFinding(t *testing.T, full *pb.Assessment, whole, f *pb.Finding, saved map[string]int) {
	t.Helper()
	if f.GetId() != whole.GetId() || f.GetForTechnician() != whole.GetForTechnician() || f.GetCaution() != whole.GetCaution() || !proto.Equal(f.GetAsLeft(), whole.GetAsLeft()) {
		t.Errorf("%s is told otherwise than in FULL: %v", f.GetCode(), f)
	}
	if f.GetForCustomer() != whole.GetForCustomer() {
		saved["customer of a note"]++
		if f.GetForCustomer() != "" || f.GetUrgency() != pb.Urgency_URGENCY_NOTE {
			t.Errorf("%s, %v: the customer hears %q", f.GetCode(), f.GetUrgency(), f.GetForCustomer())
		}
	}
	if !proto.Equal(f.GetToSettle(), whole.GetToSettle()) {
		saved["to_settle"]++
		settle := finding.Settle(whole.GetToSettle().GetCode())
		if f.GetToSettle() != nil || !slices.ContainsFunc(full.GetWork(), func(w *pb.WorkItem) bool {
			return slices.Contains(w.GetFindingIds(), f.GetId()) &&
				(w.GetToSettle().GetCode() == string(settle) || slices.Contains(finding.WorkOf(finding.Work(w.GetCode())).Settles, settle))
		}) {
			t.Errorf("%s is settled by %s, and no work asks for it", f.GetCode(), settle)
		}
	}
	if s := whole.GetSubject(); f.GetSubject() == nil && (s.GetTireId() != "" || s.GetKind() == pb.SubjectKind_SUBJECT_KIND_PAIR_MATE) {
		t.Errorf("%s: positions cannot say what it is of: %v", f.GetCode(), s)
	}
}

func lessOfWork(t *testing.T, full *pb.Assessment, whole, w *pb.WorkItem, saved map[string]int) {
	t.Helper()
	if w.GetForTechnician() != whole.GetForTechnician() || w.GetCaution() != whole.GetCaution() || !proto.Equal(w.GetCondition(), whole.GetCondition()) {
		t.Errorf("%s is told otherwise than in FULL: %v", w.GetCode(), w)
	}
	if w.GetForCustomer() != whole.GetForCustomer() {
		saved["customer of work"]++
		if w.GetForCustomer() != "" || !finding.WorkOf(finding.Work(w.GetCode())).InHouse {
			t.Errorf("%s: the customer hears %q", w.GetCode(), w.GetForCustomer())
		}
	}
	// Where the hold is not told to the customer as work, it comes before all else.
	if h := full.GetHeadline(); finding.Work(w.GetCode()) == finding.WorkVehicleHold &&
		(h.GetHold() == pb.Hold_HOLD_NONE_FOUND || h.GetUrgency() != pb.Urgency_URGENCY_BEFORE_DRIVING || h.GetForCustomer() == "") {
		t.Errorf("held, and the headline is %v", h)
	}
	amountsInSentence(t, whole, saved)
}

// An amount that WORK has in no field is in the sentence: without it the sentence
// reads otherwise, or, told without one, has a fault. Each is tried once.
func amountsInSentence(t *testing.T, whole *pb.WorkItem, saved map[string]int) {
	t.Helper()
	for name, leaveOut := range map[string]func(*pb.WorkItem) bool{
		"target": func(w *pb.WorkItem) (had bool) { had, w.Target = w.Target != nil, nil; return had },
		"due_from_distance": func(w *pb.WorkItem) (had bool) { // the same as the other: it is one distance
			had, w.DueFromDistance = w.DueFromDistance != nil && !proto.Equal(w.DueFromDistance, w.DueByDistance), nil
			return had
		},
		"due_by_distance": func(w *pb.WorkItem) (had bool) { had, w.DueByDistance = w.DueByDistance != nil, nil; return had },
		"to_settle":       func(w *pb.WorkItem) (had bool) { had, w.ToSettle = w.ToSettle != nil, nil; return had },
	} {
		without := proto.CloneOf(whole)
		once := whole.GetCode() + " " + name
		if !leaveOut(without) || saved[once] > 0 {
			continue
		}
		saved[once]++
		read := inView(&pb.Assessment{Work: []*pb.WorkItem{without}}, nil, pb.View_VIEW_FULL)
		if read.GetWork()[0].GetForTechnician() == whole.GetForTechnician() {
			t.Errorf("%s: its sentence does not tell %s: %q", whole.GetCode(), name, whole.GetForTechnician())
		}
	}
}
