package api

import (
	"testing"

	"google.golang.org/grpc/codes"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// aFinding is a visit that was kept, with one of its findings that is open.
func (h *house) aFinding() (v *pb.Vehicle, in *pb.Inspection, open *pb.OpenFinding) {
	h.t.Helper()
	v = car()
	v.CustomerData = &pb.CustomerData{Customer: "invented owner"}
	in = visit(v)
	h.keep(v, in)
	list, err := pb.NewCounterServiceClient(h.conn).ListOpenFindings(h.bench(), &pb.ListOpenFindingsRequest{ShopId: shop, VehicleId: v.GetId(), Reader: whole})
	if err != nil || len(list.GetFindings()) == 0 {
		h.t.Fatalf("%v: %v", list, err)
	}
	return v, in, list.GetFindings()[0]
}

// What the counter answers about a finding stands with it for every reader, and over the feed
// without a name; what was open and what became of it is told with words.
func TestTheCounterAnswers(t *testing.T) {
	h := inMemory(t)
	v, in, open := h.aFinding()
	calls := pb.NewCounterServiceClient(h.conn)
	if open.GetFinding().GetForTechnician() == "" || open.GetFinding().GetForCustomer() == "" {
		t.Errorf("told without words: %v", open)
	}
	o := &pb.Outcome{
		Id: newID(), InspectionId: in.GetId(), FindingId: open.GetFinding().GetId(), Decision: pb.Decision_DECISION_SET_FOR_LATER,
		Until: &pb.Outcome_UntilDate{UntilDate: until(2027, 3, 1)}, DecidedBy: "invented owner",
	}
	out, err := calls.RecordOutcome(h.counter(), &pb.RecordOutcomeRequest{ShopId: shop, Outcome: o, Reader: whole})
	if err != nil || len(out.GetFinding().GetOutcomes()) != 1 || out.GetFinding().GetOpenId() != open.GetOpenId() || out.GetFinding().GetFinding().GetForTechnician() == "" || out.GetTold() == nil {
		t.Fatalf("%v: %v", out, err)
	}
	if len(out.GetCautions()) != 1 || out.GetCautions()[0].GetWords() == "" {
		t.Errorf("cautions: %v", out.GetCautions())
	}
	for day, n := range map[int32]int{1: 0, 2: 1} {
		due, err := calls.ListOpenFindings(h.counter(), &pb.ListOpenFindingsRequest{ShopId: shop, DueBeforeDate: until(2027, 3, day)})
		if err != nil || len(due.GetFindings()) != n {
			t.Errorf("due before March %d: %v: %v", day, due, err)
		}
	}
	all, err := calls.ListOpenFindings(h.counter(), &pb.ListOpenFindingsRequest{ShopId: shop, PageSize: 1, Reader: &pb.Reader{View: pb.View_VIEW_GLANCE}})
	if err != nil || len(all.GetFindings()) != 1 || len(all.GetCautions()) != 0 || all.GetFindings()[0].GetFinding().GetForTechnician() != "" {
		t.Errorf("at a glance: %v: %v", all, err)
	}
	withdrawn := &pb.Outcome{
		Id: newID(), InspectionId: in.GetId(), FindingId: open.GetFinding().GetId(), Decision: pb.Decision_DECISION_WITHDRAWN, Words: "another car", DecidedBy: "invented advisor",
	}
	if _, err := calls.RecordOutcome(h.counter(), &pb.RecordOutcomeRequest{ShopId: shop, Outcome: withdrawn}); err != nil {
		t.Fatal(err)
	}
	feed, err := calls.PullChanges(h.counter(), &pb.PullChangesRequest{ShopId: shop, Reader: whole})
	if err != nil {
		t.Fatal(err)
	}
	last := feed.GetChanges()[len(feed.GetChanges())-1]
	if last.GetOutcome().GetDecidedBy() != "" || len(last.GetClosed()) != 1 || last.GetClosed()[0].GetClosedBy().GetWords() == "" {
		t.Errorf("the feed: %v", last)
	}
	erased, err := pb.NewShopServiceClient(h.conn).EraseCustomer(h.counter(), &pb.EraseCustomerRequest{ShopId: shop, Id: newID(), VehicleId: v.GetId()})
	if err != nil || erased.GetRecords() != 3 {
		t.Errorf("%v: %v", erased, err)
	}
}

// What the calls of the counter may not be.
func TestTheCountersRequestsAreChecked(t *testing.T) {
	h := inMemory(t)
	calls := pb.NewCounterServiceClient(h.conn)
	decide := func(o *pb.Outcome) error {
		_, err := calls.RecordOutcome(h.counter(), &pb.RecordOutcomeRequest{ShopId: shop, Outcome: o})
		return err
	}
	list := func(req *pb.ListOpenFindingsRequest) error {
		req.ShopId = shop
		_, err := calls.ListOpenFindings(h.counter(), req)
		return err
	}
	erase := func(req *pb.EraseCustomerRequest) error {
		req.ShopId = shop
		_, err := pb.NewShopServiceClient(h.conn).EraseCustomer(h.counter(), req)
		return err
	}
	of := func(change func(*pb.Outcome)) *pb.Outcome {
		o := &pb.Outcome{Id: newID(), InspectionId: newID(), FindingId: "yilfpntz", Decision: pb.Decision_DECISION_DONE}
		change(o)
		return o
	}
	for _, row := range []struct {
		name  string
		err   error
		paths []string
	}{
		{"no outcome", decide(nil), []string{"outcome.id", "outcome.inspectionId", "outcome.findingId", "outcome.decision"}},
		{"later, and not when", decide(of(func(o *pb.Outcome) { o.Decision = pb.Decision_DECISION_SET_FOR_LATER })), []string{"outcome.untilDate"}},
		{"done, and a day", decide(of(func(o *pb.Outcome) { o.Until = &pb.Outcome_UntilDate{UntilDate: until(2027, 1, 1)} })), []string{"outcome.untilDate"}},
		{"withdrawn, and not why", decide(of(func(o *pb.Outcome) { o.Decision = pb.Decision_DECISION_WITHDRAWN })), []string{"outcome.words", "outcome.decidedBy"}},
		{"ids of another form", decide(of(func(o *pb.Outcome) { o.Id, o.InspectionId = "17", "18" })), []string{"outcome.id", "outcome.inspectionId"}},
		{"no vehicle of that form", list(&pb.ListOpenFindingsRequest{VehicleId: "17", PageSize: -1}), []string{"pageSize", "vehicleId"}},
		{"no such day", list(&pb.ListOpenFindingsRequest{DueBeforeDate: until(2027, 2, 29)}), []string{"dueBeforeDate"}},
		{"nobody to erase", erase(&pb.EraseCustomerRequest{}), []string{"id", "vehicleId"}},
		{"an erasure of another form", erase(&pb.EraseCustomerRequest{Id: "17", VehicleId: newID()}), []string{"id"}},
	} {
		t.Run(row.name, func(t *testing.T) { refused(t, row.err, row.paths...) })
	}
	if r := read(t, list(&pb.ListOpenFindingsRequest{VehicleId: newID()})); r.Code() != codes.NotFound {
		t.Errorf("an unknown vehicle: %v", r)
	}
	if r := read(t, list(&pb.ListOpenFindingsRequest{PageToken: "x"})); r.reason != "TOKEN_INVALID" {
		t.Errorf("no token: %v", r)
	}
	if r := read(t, decide(of(func(*pb.Outcome) {}))); r.reason != "NOT_YET" {
		t.Errorf("an unknown visit: %v", r)
	}
	if h.drafts() != 0 {
		t.Errorf("%d drafts were stored", h.drafts())
	}
}
