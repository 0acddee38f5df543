package tell

import (
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
)

// What WORK leaves out is what findings and work rest on, what another sentence of the
// same answer tells, what all work ends with, and how routine work is done.

// leaveOut leaves an answer with the findings and the lines that are in WORK.
func leaveOut(a *pb.Assessment) {
	a.Findings = slices.DeleteFunc(a.GetFindings(), func(f *pb.Finding) bool {
		return finding.KindOf(finding.Code(f.GetCode())).Beside || saidByWork(f, a.GetWork())
	})
	a.Work = slices.DeleteFunc(a.GetWork(), func(w *pb.WorkItem) bool { return finding.WorkOf(finding.Work(w.GetCode())).Routine })
}

// saidByWork tells that a finding is a note that says what a line of work at its
// wheels says.
func saidByWork(f *pb.Finding, work []*pb.WorkItem) bool {
	line := string(finding.KindOf(finding.Code(f.GetCode())).SaidBy)
	return line != "" && f.GetUrgency() == pb.Urgency_URGENCY_NOTE && slices.ContainsFunc(work, func(w *pb.WorkItem) bool {
		return w.GetCode() == line && !slices.ContainsFunc(f.GetPositions(), func(p string) bool { return !slices.Contains(w.GetPositions(), p) })
	})
}

// concerns tells that a finding asks something of the customer, or calms: any other note
// is told to the customer where everything is.
func (g *rendering) concerns(f *pb.Finding) bool {
	return g.full() || f.GetUrgency() != pb.Urgency_URGENCY_NOTE || finding.KindOf(finding.Code(f.GetCode())).Calms
}

// asked tells that a line of work which answers a finding asks in its own words for
// what settles it.
func asked(f *pb.Finding, work []*pb.WorkItem) bool {
	settle := f.GetToSettle().GetCode()
	return settle != "" && slices.ContainsFunc(work, func(w *pb.WorkItem) bool {
		asks := w.GetToSettle().GetCode() == settle || slices.Contains(finding.WorkOf(finding.Work(w.GetCode())).Settles, finding.Settle(settle))
		return asks && slices.Contains(w.GetFindingIds(), f.GetId())
	})
}

// leaveOutOfFinding leaves a finding with what is in WORK.
func leaveOutOfFinding(f *pb.Finding) {
	f.Comparison, f.Measured, f.Limit, f.Margin, f.Uncertainty = 0, nil, nil, nil, nil
	f.Rules, f.Evidence, f.Place, f.CauseRank = nil, nil, nil, nil
	if s := f.GetSubject(); s.GetTireId() == "" && s.GetKind() != pb.SubjectKind_SUBJECT_KIND_PAIR_MATE {
		f.Subject = nil
	}
}

// leaveOutOfWork leaves a line of work with what is in WORK: its sentence has its
// amounts.
func leaveOutOfWork(w *pb.WorkItem) {
	w.FindingIds, w.ToSettle = nil, nil
	w.Target, w.DueFromDistance, w.DueByDistance = nil, nil, nil
}
