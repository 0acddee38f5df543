package book

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// decided is what became of a finding of a visit.
func decided(v *pb.Inspection, f *pb.Finding, d pb.Decision) *pb.Outcome {
	return &pb.Outcome{Id: newID(), InspectionId: v.GetId(), FindingId: f.GetId(), Decision: d, DecidedBy: "invented owner"}
}

func (d *desk) decide(o *pb.Outcome) (Decided, error) {
	return d.RecordOutcome(context.Background(), shop, "front counter", o)
}

func (d *desk) mustDecide(o *pb.Outcome) Decided {
	d.t.Helper()
	out, err := d.decide(o)
	if err != nil || out.Recorded.GetRepeatedCall() {
		d.t.Fatalf("%v: %v", out, err)
	}
	return out
}

func cautioned(f *pb.Finding) *pb.Finding {
	f.Caution = "caution.wheel-fastening"
	return f
}

// What an outcome makes of its finding: what protects someone stays open until a reading
// closes it, whoever says that it was done.
func TestWhatAnOutcomeCloses(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		for _, row := range []struct {
			finding  *pb.Finding
			decision pb.Decision
			closed   string
		}{
			{found("tread.wet-advice", "1L"), pb.Decision_DECISION_AUTHORIZED_TODAY, ""},
			{found("tread.wet-advice", "1L"), pb.Decision_DECISION_NOT_AUTHORIZED_TODAY, ""},
			{found("tread.wet-advice", "1L"), pb.Decision_DECISION_NOT_POSSIBLE_TODAY, ""},
			{found("tread.wet-advice", "1L"), pb.Decision(99), ""},
			{found("tread.wet-advice", "1L"), pb.Decision_DECISION_DONE, "closed.done-here"},
			{found("tread.wet-advice", "1L"), pb.Decision_DECISION_DONE_ELSEWHERE, "closed.done-elsewhere"},
			{grave(found("tread.wet-advice", "1L")), pb.Decision_DECISION_DONE, ""},
			{cautioned(found("tread.wet-advice", "1L")), pb.Decision_DECISION_DONE, ""},
			{cautioned(found("tread.wet-advice", "1L")), pb.Decision_DECISION_DONE_ELSEWHERE, ""},
			{grave(found("tread.wet-advice", "1L")), pb.Decision_DECISION_WITHDRAWN, "closed.taken-back"},
		} {
			v := d.keepVehicle(car())
			in := d.find(newVisit(v), row.finding, found("wear.toe-in", "1R"))
			d.keep(in)
			o := decided(in, row.finding, row.decision)
			out := d.mustDecide(o)
			open := d.vehicle(v).GetState()
			change := d.pull("")[d.last()-1]
			if !proto.Equal(change.GetOutcome(), &pb.Outcome{Id: o.GetId(), InspectionId: o.GetInspectionId(), FindingId: o.GetFindingId(), Decision: o.GetDecision()}) {
				t.Errorf("the feed: %v", change.GetOutcome())
			}
			if row.closed == "" {
				if len(open.GetOpen()) != 2 || len(change.GetClosed()) != 0 || len(out.Finding.GetOutcomes()) != 1 || out.Finding.GetOpenId() == "" || out.Finding.GetOutcomes()[0].GetDecidedBy() == "" {
					t.Errorf("%v of %v: open %v, told %v", row.decision, row.finding, open.GetOpen(), out)
				}
				if f := change.GetVehicles()[0].GetOpen()[0].GetOutcomes(); len(f) != 1 || f[0].GetDecidedBy() != "" {
					t.Errorf("the feed tells %v", f)
				}
				continue
			}
			if len(open.GetOpen()) != 1 || len(change.GetClosed()) != 1 || change.GetClosed()[0].GetClosedBy().GetCode() != row.closed || len(change.GetVehicles()[0].GetOpen()) != 1 {
				t.Errorf("%v of %v: open %v, the feed %v", row.decision, row.finding, open.GetOpen(), change)
			}
			if open.GetHeadline().GetUrgency() != pb.Urgency_URGENCY_THIS_VISIT || slices.Contains([]pb.Hold{pb.Hold_HOLD_DO_NOT_MOVE, pb.Hold_HOLD_OFF_THE_ROAD, pb.Hold_HOLD_NONE_FOUND}, open.GetHeadline().GetHold()) {
				t.Errorf("%v: headline %v", row.decision, open.GetHeadline())
			}
		}
	})
}

// What an outcome may close is told by what is open by then, and by what its visit asked for:
// a correction may have opened again what that visit said was good, and may have made it
// graver.
func TestAnOutcomeClosesNothingGraverThanItWasOf(t *testing.T) {
	note := func(f *pb.Finding) *pb.Finding { f.Urgency = pb.Urgency_URGENCY_NOTE; return f }
	onEach(t, func(t *testing.T, d *desk) {
		for name, row := range map[string]struct {
			of, corrected *pb.Finding
			decision      pb.Decision
			outcomes      int
		}{
			"done, and found good again": {note(found("damage.bulge", "1L")), nil, pb.Decision_DECISION_DONE, 0},
			"a note that was withdrawn":  {note(found("damage.bulge", "1L")), nil, pb.Decision_DECISION_WITHDRAWN, 0},
			"done, and graver":           {found("damage.bulge", "1L"), grave(found("damage.bulge", "1L")), pb.Decision_DECISION_DONE, 1},
			"done, and with a caution":   {found("damage.bulge", "1L"), cautioned(found("damage.bulge", "1L")), pb.Decision_DECISION_DONE, 1},
		} {
			v := d.keepVehicle(car())
			d.keep(d.find(newVisit(v), grave(found("damage.bulge", "1L"))))
			in := d.find(newVisit(v), row.of)
			d.keep(in)
			d.mustDecide(decided(in, row.of, row.decision))
			again := newVisit(v)
			if row.corrected != nil {
				d.find(again, row.corrected)
			}
			d.keep(correcting(in, again))
			if open := d.vehicle(v).GetState().GetOpen(); len(open) != 1 || len(open[0].GetOutcomes()) != row.outcomes || open[0].GetVisitsOpen() != 2 {
				t.Errorf("%s: %v", name, open)
			}
		}
	})
}

// An outcome is kept once, whatever happens between.
func TestAnOutcomeIsKeptOnce(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		f := found("tread.wet-advice", "1L")
		in := d.find(newVisit(v), f)
		before := d.last()
		_, err := d.decide(decided(in, f, pb.Decision_DECISION_DONE))
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_YET, "outcome.inspection_id")
		d.keep(in)
		before = d.last()
		_, err = d.decide(decided(in, found("wear.toe-in", "1R"), pb.Decision_DECISION_DONE))
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "outcome.finding_id")
		o := decided(in, f, pb.Decision_DECISION_SET_FOR_LATER)
		o.Until = &pb.Outcome_UntilDate{UntilDate: theDay("2026-05-01")}
		first := d.mustDecide(o)
		d.keep(newVisit(v))
		before = d.last()
		again, err := d.decide(o)
		if err != nil || !again.Recorded.GetRepeatedCall() || again.Recorded.GetNumber() != first.Recorded.GetNumber() || d.last() != before {
			t.Errorf("%v: %v", again, err)
		}
		other := proto.CloneOf(o)
		other.DecidedBy = "another"
		_, err = d.decide(other)
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_ID_TAKEN, "outcome.id")
	})
}

// Declined it stays open on its subject, through what is recorded after it and what comes
// late before it, and its outcomes with it.
func TestAnOutcomeStaysWithItsFinding(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		f := found("damage.cut", "1L")
		first := taken(10, d.find(newVisit(v), f))
		d.keep(first)
		d.mustDecide(decided(first, f, pb.Decision_DECISION_NOT_AUTHORIZED_TODAY))
		again := taken(11, d.find(newVisit(v), f))
		d.keep(again)
		d.mustDecide(decided(again, f, pb.Decision_DECISION_NOT_AUTHORIZED_TODAY))
		d.keep(taken(5, newVisit(v, wheel("1R"))))
		open := d.vehicle(v).GetState().GetOpen()
		if len(open) != 1 || len(open[0].GetOutcomes()) != 2 || open[0].GetVisitsOpen() != 2 {
			t.Errorf("open: %v", open)
		}
		d.mustDecide(decided(first, f, pb.Decision_DECISION_WITHDRAWN))
		if open := d.vehicle(v).GetState().GetOpen(); len(open) != 0 {
			t.Errorf("open: %v", open)
		}
		d.keep(taken(6, newVisit(v, wheel("1R"))))
		if open := d.vehicle(v).GetState().GetOpen(); len(open) != 0 {
			t.Errorf("after another late visit: %v", open)
		}
	})
}

// The list of what is open holds what the vehicles say, the most urgent first, whatever was
// recorded in whatever order; of what was set for a day, what comes before a day.
func TestWhatIsOpenIsListed(t *testing.T) {
	codes := []string{"tread.model-limit", "inflation.low", "damage.bulge", "wear.toe-in"}
	for seed := range uint64(20) {
		random := rand.New(rand.NewPCG(seed, 5))
		onMemory(t, fmt.Sprint(seed), func(t *testing.T, d *desk) {
			cars := []*pb.Vehicle{d.keepVehicle(car()), d.keepVehicle(car()), d.keepVehicle(car())}
			var visits []*pb.Inspection
			until := map[string]string{}
			for range 25 {
				v := cars[random.IntN(len(cars))]
				if len(visits) > 0 && random.IntN(3) == 0 {
					in := visits[random.IntN(len(visits))]
					if fs := d.finds[in.GetId()]; len(fs) > 0 {
						o := decided(in, fs[random.IntN(len(fs))], pb.Decision(1+random.IntN(7)))
						if o.GetDecision() == pb.Decision_DECISION_SET_FOR_LATER {
							o.Until = &pb.Outcome_UntilDate{UntilDate: theDay(fmt.Sprintf("2026-0%d-01", 1+random.IntN(9)))}
						}
						d.mustDecide(o)
					}
				} else {
					in := taken(random.IntN(25), newVisit(v, randomWheels(random, []string{newID(), newID()})...))
					for _, code := range codes {
						if random.IntN(3) == 0 {
							f := found(code, "1L")
							f.Urgency = pb.Urgency(1 + random.IntN(3))
							d.finds[in.GetId()] = append(d.finds[in.GetId()], f)
						}
					}
					visits = append(visits, in)
					d.keep(in)
				}
				var want, due []string
				clear(until)
				for _, v := range cars {
					for _, f := range d.vehicle(v).GetState().GetOpen() {
						want = append(want, f.GetOpenId())
						if n := len(f.GetOutcomes()); n > 0 && f.GetOutcomes()[n-1].GetUntilDate() != nil && after(theDay("2026-05-01"), f.GetOutcomes()[n-1].GetUntilDate()) {
							due = append(due, f.GetOpenId())
						}
					}
				}
				sameOpen(t, "all", d.listOpen(nil), want)
				sameOpen(t, "due", d.listOpen(theDay("2026-05-01")), due)
			}
		})
	}
}

func (d *desk) listOpen(due *pb.CalendarDate) (all []*pb.OpenFinding) {
	d.t.Helper()
	for token, more := "", true; more; more = token != "" {
		page, err := d.ListOpenFindings(d.t.Context(), shop, "", due, 2, token)
		if err != nil {
			d.t.Fatal(err)
		}
		all, token = append(all, page.Rows...), page.Next
	}
	if due == nil && !slices.IsSortedFunc(all, func(a, b *pb.OpenFinding) int { return int(a.GetFinding().GetUrgency() - b.GetFinding().GetUrgency()) }) {
		d.t.Errorf("not the most urgent first: %v", all)
	}
	return all
}

func sameOpen(t *testing.T, what string, got []*pb.OpenFinding, want []string) {
	t.Helper()
	var ids []string
	for _, f := range got {
		ids = append(ids, f.GetOpenId())
	}
	slices.Sort(ids)
	slices.Sort(want)
	if !slices.Equal(ids, want) {
		t.Fatalf("%s: listed are %v, open are %v", what, ids, want)
	}
}

// What identifies a person is erased wherever it stands, once; what was measured stays, and
// repeats of what was recorded before are answered as before.
func TestACustomerIsErased(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := car()
		v.CustomerData = &pb.CustomerData{Plate: "INV-123", Customer: "invented owner"}
		sent := proto.CloneOf(v)
		v = d.keepVehicle(v)
		f := found("tread.wet-advice", "1L")
		in := d.find(newVisit(v), f)
		d.keep(in)
		o := decided(in, f, pb.Decision_DECISION_NOT_AUTHORIZED_TODAY)
		o.Warning = &pb.Warning{ToldTo: "invented owner"}
		d.mustDecide(o)
		req := &pb.EraseCustomerRequest{ShopId: shop, Id: newID(), VehicleId: v.GetId(), RequestedBy: "customer, by letter"}
		out, err := d.EraseCustomer(t.Context(), shop, req)
		if err != nil || out.Records != 2 || out.Recorded.GetRepeatedCall() {
			t.Fatalf("%v: %v", out, err)
		}
		now := d.vehicle(v)
		if now.GetVehicle().GetCustomerData() != nil || len(now.GetState().GetOpen()) != 1 || now.GetState().GetOpen()[0].GetOutcomes()[0].GetDecidedBy() != "" {
			t.Errorf("%v", now)
		}
		for _, r := range d.rows() {
			if slices.Contains([]byte{personMark, deciderMark}, r.Key[0]) {
				t.Errorf("a row %q is there yet", r.Key)
			}
		}
		change := d.pull("")[d.last()-1]
		if change.GetErasure().GetVehicleId() != v.GetId() || len(change.GetVehicles()) != 1 {
			t.Errorf("the feed: %v", change)
		}
		before := d.last()
		again, err := d.EraseCustomer(t.Context(), shop, req)
		if err != nil || !again.Recorded.GetRepeatedCall() || again.Records != 2 || again.Recorded.GetNumber() != out.Recorded.GetNumber() {
			t.Errorf("%v: %v", again, err)
		}
		if again, err := d.decide(o); err != nil || !again.Recorded.GetRepeatedCall() {
			t.Errorf("%v: %v", again, err)
		}
		if again, err := d.recordVehicle(sent); err != nil || !again.GetRepeatedCall() {
			t.Errorf("%v: %v", again, err)
		}
		if now := d.vehicle(v); now.GetVehicle().GetCustomerData() != nil || d.last() != before {
			t.Errorf("repeats brought back %v", now.GetVehicle())
		}
		other := proto.CloneOf(req)
		other.RequestedBy = "another"
		_, err = d.EraseCustomer(t.Context(), shop, other)
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_ID_TAKEN, "id")
		_, err = d.EraseCustomer(t.Context(), shop, &pb.EraseCustomerRequest{Id: newID(), VehicleId: newID()})
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "vehicle_id")
	})
}

// A correction may make two of what was one: an outcome is of what its own visit found, and
// only else of what has the name that it knows it by, whichever stands first.
func TestWhichAnOutcomeIsOf(t *testing.T) {
	o := &outcome{said: &pb.Outcome{InspectionId: "second", FindingId: "bulge@1L"}, openID: "first opened"}
	for name, c := range map[string]struct {
		open []openFinding
		want int
	}{
		"what its visit found": {[]openFinding{
			{openID: "first opened", visitID: "third", findingID: "bulge@1R"},
			{openID: "another", visitID: "third", findingID: "bulge@1R", also: []string{"first opened"}},
			{openID: "its own", visitID: "second", findingID: "bulge@1L"},
		}, 2},
		"what is called so": {[]openFinding{
			{openID: "another", visitID: "third", findingID: "bulge@1R", also: []string{"first opened"}},
			{openID: "first opened", visitID: "third", findingID: "bulge@1L"},
		}, 1},
		"what was called so": {[]openFinding{
			{openID: "no", visitID: "second", findingID: "bulge@1R"},
			{openID: "another", visitID: "third", findingID: "bulge@1R", also: []string{"first opened"}},
		}, 1},
		"nothing": {[]openFinding{{openID: "no", visitID: "second", findingID: "bulge@1R"}}, -1},
	} {
		if got := o.of(c.open); got != c.want {
			t.Errorf("%s: %d, should be %d", name, got, c.want)
		}
	}
}
