package book

import (
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// bring imports a visit.
func (d *desk) bring(v *pb.Inspection) Kept {
	d.t.Helper()
	kept, err := d.Importing(nil).RecordInspection(d.t.Context(), shop, Sender{}, checked(d.t, v))
	if err != nil {
		d.t.Fatal(err)
	}
	return kept
}

// nothingToDo holds all lists and the feed to telling nothing to act on.
func (d *desk) nothingToDo(after string) {
	d.t.Helper()
	open, err := d.ListOpenFindings(d.t.Context(), shop, "", nil, 50, "")
	if err != nil || len(open.Rows) > 0 {
		d.t.Errorf("open: %v, %v", open.Rows, err)
	}
	due, err := d.ListComingDue(d.t.Context(), shop, &pb.CalendarDate{Year: 1900, Month: 1, Day: 1}, nil, 50, "")
	if err != nil || len(due.GetRows()) > 0 {
		d.t.Errorf("due: %v, %v", due, err)
	}
	off, err := d.ListWheelsOff(d.t.Context(), shop, 50, "")
	if err != nil || len(off.Rows) > 0 {
		d.t.Errorf("wheels off: %v, %v", off.Rows, err)
	}
	for _, c := range d.pull(after) {
		if c.GetWhat() != nil || len(c.GetOpened())+len(c.GetClosed()) > 0 {
			d.t.Errorf("the feed tells %v", c)
		}
		for _, v := range c.GetVehicles() {
			if len(v.GetOpen()) > 0 || v.GetHeadline() != nil {
				d.t.Errorf("the feed tells of a vehicle %v", v)
			}
		}
	}
	if failures, _ := verified(d.t, d.Book, false); len(failures) > 0 {
		d.t.Errorf("verify: %v", failures)
	}
}

// feedEnd is a token behind all that is in the feed.
func (d *desk) feedEnd() (token string) {
	d.t.Helper()
	for more := true; more; {
		out, err := d.PullChanges(d.t.Context(), shop, token, 50, 0)
		if err != nil {
			d.t.Fatal(err)
		}
		token, more = out.Token, out.More
	}
	return token
}

// History that is imported is read, and is evidence for later visits; nothing of it is open,
// due, off or told as news, whatever is imported.
func TestImportedHistoryOpensNothing(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		c := d.keepVehicle(car())
		token := d.feedEnd()
		tireID := newID()
		if _, err := d.Importing(nil).RecordTire(t.Context(), shop, &pb.Tire{Id: tireID}, nil); err != nil {
			t.Fatal(err)
		}
		old := newVisit(c, wheel("1L", depth, pressure, tire(tireID)))
		old.TakenTime = at(2024, 5, 6, 9, 0)
		old.Wheels[0].FastenerWork = &pb.FastenerWork{}
		due := grave(found(reachesLimit, "1L"))
		due.Evidence = []*pb.Evidence{{Code: expectedDay, Amount: &pb.Quantity{Amount: &pb.Quantity_Date{Date: theDay("2026-09-01")}}}}
		d.find(old, due, grave(found("tread.worn-to-bars", "1L")))
		kept := d.bring(old)
		if kept.GetRecorded().GetRepeatedCall() || len(kept.GetAssessment().GetFindings()) != 2 || kept.GetRecordedBy() != importer {
			t.Errorf("kept %v", kept)
		}
		if again := d.bring(old); !again.GetRecorded().GetRepeatedCall() {
			t.Errorf("again %v", again)
		}
		imported := d.Importing(at(2024, 6, 1, 9, 0))
		_, err := imported.RecordEvent(t.Context(), shop, &pb.VehicleEvent{Id: newID(), VehicleId: c.GetId(), What: &pb.VehicleEvent_WheelsOff{WheelsOff: &pb.WheelsOff{Positions: []string{"1L"}}}})
		if err != nil {
			t.Error(err)
		}
		if _, err := imported.RecordRepair(t.Context(), shop, &pb.Repair{Id: newID(), TireId: tireID}); err != nil {
			t.Error(err)
		}
		o := decided(old, found("tread.worn-to-bars", "1L"), pb.Decision_DECISION_SET_FOR_LATER)
		o.Until = &pb.Outcome_UntilDate{UntilDate: theDay("2026-04-01")}
		if _, err := imported.RecordOutcome(t.Context(), shop, "import", o); err != nil {
			t.Error(err)
		}
		if _, err := imported.MoveTires(t.Context(), shop, c.GetId(), moved(&pb.TireMove{TireId: tireID, To: mountedAt(c, "2L")}), nil); err != nil {
			t.Error(err)
		}
		d.nothingToDo(token)

		page, err := d.ListInspections(t.Context(), shop, c.GetId(), 10, "")
		if err != nil || len(page.Rows) != 1 || page.Rows[0].GetInspectionId() != old.GetId() {
			t.Errorf("visits %v, %v", page.Rows, err)
		}
		life, err := d.ListTireHistory(t.Context(), shop, tireID, 10, "")
		if err != nil || len(life.Rows) != 3 {
			t.Errorf("the tire's history %v, %v", life.Rows, err)
		}
		if now := d.vehicle(c); position(now.GetTires()[0]) != "2L" || !now.GetState().GetLeft() {
			t.Errorf("tires %v, state %v", now.GetTires(), now.GetState())
		}
		now := d.find(newVisit(c, wheel("2L", depth)), found("tread.worn-to-bars", "2L"))
		d.keep(now)
		if earlier := d.firstJudged(now).GetEarlier(); len(earlier) != 1 || earlier[0].GetId() != old.GetId() || len(earlier[0].GetWheels()) != 1 {
			t.Errorf("evidence %v", earlier)
		}
		if open := d.open(c); len(open) != 1 {
			t.Errorf("open %v", open)
		}
		if failures, _ := verified(t, d.Book, false); len(failures) > 0 {
			t.Error(failures)
		}
	})
}

// What is open stays as it is when history is imported beside it, and what history says of a
// visit that was recorded here is refused.
func TestImportingLeavesWhatIsOpen(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		c := d.keepVehicle(car())
		here := d.find(newVisit(c, wheel("1L", depth)), grave(found("damage.bulge", "1L")))
		d.keep(here)
		was := d.vehicle(c).GetState()
		token := d.feedEnd()
		before := newVisit(c, wheel("1L", depth), wheel("1R", depth))
		before.TakenTime = at(2025, 1, 1, 9, 0)
		d.bring(d.find(before, found("damage.bulge", "1R")))
		day := newVisit(c, wheel("1L", whole))
		day.LocalDate = theDay("2025-02-01")
		d.bring(day)
		last := d.vehicle(c).GetState()
		sameMessage(t, "state", last, was)
		for _, change := range d.pull(token) {
			if change.GetWhat() != nil || len(change.GetOpened())+len(change.GetClosed()) > 0 {
				t.Errorf("told %v", change)
			}
		}
		n := d.last()
		_, err := d.Importing(nil).RecordInspection(t.Context(), shop, Sender{}, checked(t, newVisit(c)))
		d.refused(n, err, pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "inspection.taken_time")
		fix := correcting(here, newVisit(c))
		fix.TakenTime = at(2025, 1, 1, 9, 0)
		_, err = d.Importing(nil).RecordInspection(t.Context(), shop, Sender{}, checked(t, fix))
		d.refused(n, err, pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "inspection.corrects.inspection_id")
		_, err = d.Importing(nil).RecordOutcome(t.Context(), shop, "", decided(here, found("damage.bulge", "1L"), pb.Decision_DECISION_DONE))
		d.refused(n, err, pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "outcome.inspection_id")
		if failures, _ := verified(t, d.Book, false); len(failures) > 0 {
			t.Error(failures)
		}
		// A correction of history is history.
		mended := correcting(before, newVisit(c, wheel("1R", depth)))
		mended.TakenTime = before.GetTakenTime()
		d.keep(d.find(mended, found("damage.bulge", "1R")))
		sameMessage(t, "state", d.vehicle(c).GetState(), was)
	})
}
