package judge_test

import (
	"slices"
	"strings"
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
// beside another finding, how routine work is done and what all work ends with; only a
// customer is not told what concerns no customer. That is our own decision, held for
// every visit.
func TestWorkLosesNothing(t *testing.T) {
	saved := map[string]int{}
	for _, req := range everyVisit(t) {
		a := judge.Visit(req)
		full, work := inView(a, req.GetVehicle(), pb.View_VIEW_FULL), inView(a, req.GetVehicle(), pb.View_VIEW_WORK)
		if !proto.Equal(sentences(full.GetHeadline()), work.GetHeadline()) || !proto.Equal(full.GetTotals(), work.GetTotals()) || len(full.GetQuestions()) != len(work.GetQuestions()) {
			t.Fatalf("%v: other than in FULL", work)
		}
		for i, f := range findingsInBoth(t, full, work, saved) {
			lessOfFinding(t, full, f, work.GetFindings()[i], saved)
		}
		for i, w := range linesInBoth(t, full, work, saved) {
			lessOfWork(t, full, w, work.GetWork()[i], saved)
		}
		for i, q := range work.GetQuestions() {
			if q.GetWords() != full.GetQuestions()[i].GetWords() {
				t.Errorf("%s asks %q", q.GetCode(), q.GetWords())
			}
		}
		lessOfCautions(t, full.GetCautions(), work.GetCautions(), saved)
	}
	for _, what := range []string{"to_settle", "customer of a note", "customer of work", "a figure", "a note", "what all work ends with", "how it is done", "whom a caution defers to"} {
		if saved[what] == 0 {
			t.Errorf("no visit has it left out: %s", what)
		}
	}
}

// lessOfCautions holds that WORK has every caution, in brief at the least, and behind them whom
// all of them defer to, once.
func lessOfCautions(t *testing.T, full, work []*pb.Said, saved map[string]int) {
	t.Helper()
	if len(full) == 0 && len(work) == 0 {
		return
	}
	if last := len(work) - 1; last != len(full) || work[last].GetCode() != string(finding.CautionDefer) {
		t.Errorf("cautions %v, in FULL %v", work, full)
		return
	}
	for i, c := range full {
		if work[i].GetCode() != c.GetCode() || work[i].GetWords() == "" || !strings.HasPrefix(c.GetWords(), work[i].GetWords()) {
			t.Errorf("caution %v, in FULL %v", work[i], c)
		}
		if len(work[i].GetWords()) < len(c.GetWords()) {
			saved["whom a caution defers to"]++
		}
	}
}

// sentences are a headline without what its sentences tell.
func sentences(h *pb.Headline) *pb.Headline {
	h = proto.CloneOf(h)
	h.Facts, h.Unknown, h.First, h.Ask, h.Quote, h.Back = nil, nil, nil, nil, nil, nil
	return h
}

// findingsInBoth are the findings of FULL that WORK holds, in the same order. What it
// does not hold is a figure beside another, or a note that a line of work says: nothing
// that has to be done before driving, at this visit or later.
func findingsInBoth(t *testing.T, full, work *pb.Assessment, saved map[string]int) (both []*pb.Finding) {
	t.Helper()
	for _, f := range full.GetFindings() {
		kind := finding.KindOf(finding.Code(f.GetCode()))
		switch {
		case len(both) < len(work.GetFindings()) && work.GetFindings()[len(both)].GetId() == f.GetId():
			both = append(both, f)
		case f.GetUrgency() != pb.Urgency_URGENCY_NOTE:
			t.Errorf("%s, %v, is left out", f.GetCode(), f.GetUrgency())
		case kind.Beside:
			saved["a figure"]++
		case !saysOf(work.GetWork(), kind.SaidBy, f.GetPositions()):
			t.Errorf("%s at %v is left out, and no line of work says it", f.GetCode(), f.GetPositions())
		default:
			saved["a note"]++
		}
	}
	if len(both) != len(work.GetFindings()) {
		t.Fatalf("%d findings that FULL has not", len(work.GetFindings())-len(both))
	}
	return both
}

// saysOf tells that a line of work stands at these wheels.
func saysOf(work []*pb.WorkItem, line finding.Work, at []string) bool {
	return slices.ContainsFunc(work, func(w *pb.WorkItem) bool {
		return w.GetCode() == string(line) && !slices.ContainsFunc(at, func(p string) bool { return !slices.Contains(w.GetPositions(), p) })
	})
}

// linesInBoth are the lines of work of FULL that WORK holds, in the same order.
func linesInBoth(t *testing.T, full, work *pb.Assessment, saved map[string]int) (both []*pb.WorkItem) {
	t.Helper()
	for _, w := range full.GetWork() {
		switch {
		case len(both) < len(work.GetWork()) && work.GetWork()[len(both)].GetId() == w.GetId():
			both = append(both, w)
		case !finding.WorkOf(finding.Work(w.GetCode())).Routine || w.GetCaution() != "":
			t.Errorf("%s at %v is left out", w.GetCode(), w.GetPositions())
		default:
			saved["what all work ends with"]++
		}
	}
	if len(both) != len(work.GetWork()) {
		t.Fatalf("%d lines that FULL has not", len(work.GetWork())-len(both))
	}
	return both
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
	if w.GetForTechnician() != whole.GetForTechnician() {
		saved["how it is done"]++
	}
	if w.GetForTechnician() == "" || !strings.HasPrefix(whole.GetForTechnician(), w.GetForTechnician()) || w.GetCaution() != whole.GetCaution() || !proto.Equal(w.GetCondition(), whole.GetCondition()) {
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

// An amount that WORK has in no field is in its sentence: without it the sentence
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
		read := inView(&pb.Assessment{Work: []*pb.WorkItem{without, whole}}, nil, pb.View_VIEW_WORK).GetWork()
		if read[0].GetForTechnician() == read[1].GetForTechnician() {
			t.Errorf("%s: its sentence does not tell %s: %q", whole.GetCode(), name, whole.GetForTechnician())
		}
	}
}
