package book

import (
	"context"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history/memory"
)

// mountedAt is a place on a vehicle.
func mountedAt(v *pb.Vehicle, at string) *pb.TirePlace {
	return &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{VehicleId: v.GetId(), Position: at}}}
}

func stored(where string) *pb.TirePlace {
	return &pb.TirePlace{Where: &pb.TirePlace_Stored{Stored: &pb.StoredPlace{Words: where}}}
}

func moved(each ...*pb.TireMove) *pb.TireMoves { return &pb.TireMoves{Id: newID(), Moves: each} }

func (d *desk) move(v *pb.Vehicle, m *pb.TireMoves) {
	d.t.Helper()
	if r, err := d.MoveTires(context.Background(), shop, v.GetId(), m, nil); err != nil || r.GetRepeatedCall() {
		d.t.Fatalf("%v: %v", r, err)
	}
}

func (d *desk) places(v *pb.Vehicle) (all []string) {
	d.t.Helper()
	for _, t := range d.vehicle(v).GetTires() {
		all = append(all, position(t)+" "+t.GetId())
	}
	return all
}

func (d *desk) tireNow(id string) *pb.GetTireResponse {
	d.t.Helper()
	out, err := d.GetTire(context.Background(), shop, id)
	if err != nil {
		d.t.Fatal(err)
	}
	return out
}

func (d *desk) life(id string) (all []*pb.TireEvent) {
	d.t.Helper()
	for token, more := "", true; more; more = token != "" {
		page, err := d.ListTireHistory(context.Background(), shop, id, 2, token)
		if err != nil {
			d.t.Fatal(err)
		}
		all, token = append(all, page.Rows...), page.Next
	}
	return all
}

// A tire is followed wherever it is mounted: rotated, taken off, put on another vehicle, with
// which face looks out, its repairs and what was known of it.
func TestATireIsFollowed(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b := d.keepVehicle(tagged("sedan")), d.keepVehicle(tagged("van"))
		left, right := newID(), newID()
		first := taken(1, newVisit(a, wheel("1L", depth, tire(left)), wheel("2L", depth, tire(right))))
		d.keep(first)
		rotation := moved(&pb.TireMove{TireId: left, To: mountedAt(a, "2L")}, &pb.TireMove{TireId: right, To: mountedAt(a, "1L")})
		d.move(a, rotation)
		if got := d.places(a); !slices.Equal(got, []string{"1L " + right, "2L " + left}) {
			t.Errorf("rotated: %v", got)
		}
		repair := &pb.Repair{Id: newID(), TireId: left, Method: pb.RepairMethod_REPAIR_METHOD_COMBINATION}
		if r, err := d.RecordRepair(t.Context(), shop, repair); err != nil || r.GetRepeatedCall() {
			t.Fatalf("%v: %v", r, err)
		}
		d.move(a, moved(&pb.TireMove{TireId: left, To: mountedAt(b, "1R")}))
		if got := d.places(a); !slices.Equal(got, []string{"1L " + right}) {
			t.Errorf("after one went: %v", got)
		}
		if got := d.places(b); !slices.Equal(got, []string{"1R " + left}) {
			t.Errorf("where it came: %v", got)
		}
		last := d.pull("")[d.last()-1]
		if len(last.GetMoves().GetMoves()) != 1 || len(last.GetVehicles()) != 2 {
			t.Errorf("the feed: %v", last)
		}
		d.keep(newVisit(b, wheel("1R", depth)))
		if req := d.lastJudged(); len(req.GetRepairs()) != 1 || !proto.Equal(req.GetRepairs()[0], repair) || req.GetInspection().GetWheels()[0].GetTireId() != left {
			t.Errorf("judged by the repairs %v at %v", req.GetRepairs(), req.GetInspection().GetWheels())
		}
		// A visit from before the moves comes late: where the tires are now stays.
		d.keep(taken(0, newVisit(a, wheel("1L", depth, tire(left)))))
		if got := d.places(a); !slices.Equal(got, []string{"1L " + right}) {
			t.Errorf("after a late visit: %v", got)
		}
		d.move(b, moved(&pb.TireMove{TireId: left, To: stored("rack 12")}))
		if now := d.tireNow(left); now.GetTire().GetPlace().GetStored().GetWords() != "rack 12" || len(now.GetRepairs()) != 1 || now.GetTire().GetRevision() == "" {
			t.Errorf("stored: %v", now)
		}
		var kinds []string
		for _, e := range d.life(left) {
			switch e.GetWhat().(type) {
			case *pb.TireEvent_Measured:
				kinds = append(kinds, "measured at "+e.GetMounted().GetPosition())
			case *pb.TireEvent_Moved:
				kinds = append(kinds, "moved")
			case *pb.TireEvent_Repaired:
				kinds = append(kinds, "repaired")
			}
			if e.GetNumber() == "" || e.GetRecordId() == "" {
				t.Errorf("%v", e)
			}
		}
		if want := []string{"moved", "measured at 1R", "moved", "repaired", "moved", "measured at 1L", "measured at 1L"}; !slices.Equal(kinds, want) {
			t.Errorf("its life: %v, want %v", kinds, want)
		}
	})
}

// All moves of one event happen or none does, once.
func TestMovesHappenTogether(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		one, two := newID(), newID()
		d.keep(newVisit(v, wheel("1L", tire(one)), wheel("1R", tire(two))))
		before := d.last()
		refused := func(m *pb.TireMoves, of *pb.Vehicle, reason pb.ErrorReason, field string) {
			t.Helper()
			_, err := d.MoveTires(t.Context(), shop, of.GetId(), m, nil)
			d.refused(before, err, reason, field)
		}
		away := &pb.TireMove{TireId: one, To: stored("rack")}
		refused(moved(away, &pb.TireMove{TireId: newID(), To: stored("rack")}), v, pb.ErrorReason_ERROR_REASON_NOT_YET, "moves.moves[1].tire_id")
		refused(moved(away), car(), pb.ErrorReason_ERROR_REASON_NOT_YET, "vehicle_id")
		refused(moved(away, &pb.TireMove{TireId: two, To: mountedAt(car(), "1L")}), v, pb.ErrorReason_ERROR_REASON_NOT_YET, "moves.moves[1].to.mounted.vehicle_id")
		if _, err := d.MoveTires(t.Context(), shop, v.GetId(), moved(&pb.TireMove{TireId: one, To: mountedAt(v, "3L")}), nil); err == nil || d.last() != before {
			t.Errorf("to a wheel that there is not: %v", err)
		}
		m := moved(&pb.TireMove{TireId: one, To: mountedAt(v, "1R")}) // whose tire went nobody knows where
		d.move(v, m)
		if got := d.places(v); !slices.Equal(got, []string{"1R " + one}) || d.tireNow(two).GetTire().GetPlace() != nil {
			t.Errorf("%v; %v", got, d.tireNow(two))
		}
		before = d.last()
		if again, err := d.MoveTires(t.Context(), shop, v.GetId(), m, nil); err != nil || !again.GetRepeatedCall() || d.last() != before {
			t.Errorf("%v: %v", again, err)
		}
		other := moved(away)
		other.Id = m.GetId()
		refused(other, v, pb.ErrorReason_ERROR_REASON_ID_TAKEN, "moves.id")
	})
}

// A disc wheel that moves between an outer dual and any other position is turned round, every
// other one is not, unless it is told otherwise. Common practice.
func TestWhichFaceLooksOut(t *testing.T) {
	full, partial := pb.SidewallFace_SIDEWALL_FACE_FULL_IDENTIFICATION, pb.SidewallFace_SIDEWALL_FACE_PARTIAL_IDENTIFICATION
	for _, row := range []struct {
		from, to string
		turned   pb.Answer
		want     pb.SidewallFace
	}{
		{"2LO", "2LI", pb.Answer_ANSWER_UNSPECIFIED, partial},
		{"2LI", "2LO", pb.Answer_ANSWER_UNSPECIFIED, partial},
		{"2LO", "1L", pb.Answer_ANSWER_UNSPECIFIED, partial},
		{"2LO", "2RO", pb.Answer_ANSWER_UNSPECIFIED, full},
		{"1L", "1R", pb.Answer_ANSWER_UNSPECIFIED, full},
		{"2LI", "1L", pb.Answer_ANSWER_UNSPECIFIED, full},
		{"2LO", "2LI", pb.Answer_ANSWER_NO, full},
		{"1L", "1R", pb.Answer_ANSWER_YES, partial},
	} {
		if got := facesOut(&pb.MountedPlace{Position: row.from, FacesOut: full}, &pb.MountedPlace{Position: row.to}, row.turned); got != row.want {
			t.Errorf("%s to %s, turned %v: %v", row.from, row.to, row.turned, got)
		}
	}
	if got := facesOut(nil, &pb.MountedPlace{Position: "2LO"}, pb.Answer_ANSWER_UNSPECIFIED); got != 0 {
		t.Errorf("from nowhere: %v", got)
	}
}

// A tire is recorded and changed like a vehicle, and its vehicle knows it.
func TestATireIsRecorded(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		record := func(sent *pb.Tire, empty ...string) (*pb.Recorded, error) {
			return d.RecordTire(context.Background(), shop, sent, empty)
		}
		id := newID()
		sent := &pb.Tire{Id: id, Sidewall: &pb.Sidewall{Marking: "215/60R16 95H"}, FittedDate: theDay("2026-01-05")}
		first, err := record(sent)
		if err != nil || first.GetRepeatedCall() || first.GetRevision() == "" {
			t.Fatalf("%v: %v", first, err)
		}
		v := d.keepVehicle(car())
		d.keep(newVisit(v, wheel("1L", depth, tire(id))))
		if again, err := record(sent); err != nil || !again.GetRepeatedCall() || again.GetNumber() != first.GetNumber() {
			t.Errorf("repeated: %v: %v", again, err)
		}
		now := d.tireNow(id).GetTire()
		if now.GetPlace().GetMounted().GetPosition() != "1L" || !proto.Equal(now.GetFittedDate(), sent.GetFittedDate()) {
			t.Errorf("mounted: %v", now)
		}
		changed, err := record(&pb.Tire{Id: id, Revision: now.GetRevision(), FittedOdometer: &pb.Distance{AsRead: &pb.Distance_Miles{Miles: 12_000}}}, "fittedDate")
		if err != nil || changed.GetRepeatedCall() {
			t.Fatalf("%v: %v", changed, err)
		}
		on := d.vehicle(v).GetTires()[0]
		if on.GetFittedOdometer() == nil || on.GetFittedDate() != nil || on.GetSidewall().GetMarking() == "" || position(on) != "1L" {
			t.Errorf("on the vehicle: %v", on)
		}
		last := d.pull("")[d.last()-1]
		if last.GetTire().GetTireId() != id || last.GetTire().GetRevision() != changed.GetRevision() || len(last.GetVehicles()) != 1 {
			t.Errorf("the feed: %v", last)
		}
		d.keep(taken(0, newVisit(v, wheel("1R", depth)))) // comes late
		if on := d.vehicle(v).GetTires()[0]; on.GetFittedOdometer() == nil {
			t.Errorf("after a late visit: %v", on)
		}
		before := d.last()
		_, err = record(&pb.Tire{Id: id, Revision: now.GetRevision(), FittedDate: theDay("2026-01-06")})
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_REVISION_STALE, "tire.revision")
		_, err = record(&pb.Tire{Id: id})
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_ID_TAKEN, "tire.id")
		_, err = record(&pb.Tire{Id: newID(), Revision: "3"})
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "tire.id")
		_, err = d.GetTire(t.Context(), shop, newID())
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "tire_id")
		_, err = d.RecordRepair(t.Context(), shop, &pb.Repair{Id: newID(), TireId: newID()})
		d.refused(before, err, pb.ErrorReason_ERROR_REASON_NOT_YET, "repair.tire_id")
	})
}

// A repair of a later day is not known to a visit from before it that comes late; what is
// judged again knows what was known then.
func TestARepairIsKnownFromThenOn(t *testing.T) {
	d := newDesk(t, memory.New(), nil)
	v := d.keepVehicle(car())
	id := newID()
	first := taken(5, newVisit(v, wheel("1L", depth, tire(id))))
	d.keep(first)
	done := &pb.Repair{Id: newID(), TireId: id, DoneTime: timestamppb.New(first.GetTakenTime().AsTime().AddDate(0, 0, 2))}
	if _, err := d.RecordRepair(t.Context(), shop, done); err != nil {
		t.Fatal(err)
	}
	for day, n := range map[int]int{6: 0, 7: 1, 8: 1} { // on the seventh, at the time of the repair
		in := taken(day, newVisit(v, wheel("1L", depth)))
		d.keep(in)
		if req := d.firstJudged(in); len(req.GetRepairs()) != n {
			t.Errorf("on day %d: %v", day, req.GetRepairs())
		}
	}
	if _, err := d.Reassess(t.Context(), shop, first.GetId(), nil, nil); err != nil || len(d.lastJudged().GetRepairs()) != 0 {
		t.Errorf("judged again: %v, %v", d.lastJudged().GetRepairs(), err)
	}
}

// A repair is kept once: the same again is answered as the first time, another under its
// id is refused.
func TestARepairIsKeptOnce(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		id := newID()
		d.keep(newVisit(v, wheel("1L", depth, tire(id))))
		repair := &pb.Repair{Id: newID(), TireId: id, DoneBy: "invented"}
		first, err := d.RecordRepair(t.Context(), shop, repair)
		if err != nil || first.GetRepeatedCall() {
			t.Fatalf("%v: %v", first, err)
		}
		before := d.last()
		again, err := d.RecordRepair(t.Context(), shop, repair)
		if err != nil || !again.GetRepeatedCall() || again.GetNumber() != first.GetNumber() || d.last() != before {
			t.Errorf("%v: %v", again, err)
		}
		other := proto.CloneOf(repair)
		other.DoneBy = "another"
		_, err = d.RecordRepair(t.Context(), shop, other)
		if r := d.refused(before, err, pb.ErrorReason_ERROR_REASON_ID_TAKEN, "repair.id"); r.Metadata["id"] != repair.GetId() {
			t.Errorf("%v", r)
		}
		if now := d.tireNow(id); len(now.GetRepairs()) != 1 {
			t.Errorf("%v", now.GetRepairs())
		}
	})
}
