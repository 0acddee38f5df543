package book

import (
	"math"
	"slices"
	"testing"
	"testing/synctest"
	"time"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history/memory"
)

func miles(n float64) *pb.Distance { return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}} }

func kilometersRead(n float64) *pb.Distance {
	return &pb.Distance{AsRead: &pb.Distance_Kilometers{Kilometers: n}}
}

func odometer(in *pb.Inspection, d *pb.Distance) *pb.Inspection {
	in.Odometer = d
	return in
}

// What an odometer that was replaced showed is told from the new one: 1,000 mi after it the
// distance run is 1,000 mi, and what is judged again from before it knows nothing of it.
func TestAnOdometerThatWasReplaced(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v, one := d.keepVehicle(car()), newID()
		first := odometer(taken(1, newVisit(v, wheel("1L", depth, tire(one)))), miles(90_000))
		d.keep(first)
		d.keep(odometer(taken(3, newVisit(v, wheel("1L", depth))), miles(95_000)))
		e := &pb.VehicleEvent{Id: newID(), VehicleId: v.GetId(), What: &pb.VehicleEvent_OdometerReplaced{OdometerReplaced: &pb.OdometerReplaced{
			OldReading: miles(96_000), NewReading: kilometersRead(0),
		}}}
		d.happens(e)
		last := odometer(newVisit(v, wheel("1L", depth)), kilometersRead(1609.344))
		d.keep(last)
		earlier := d.firstJudged(last).GetEarlier()
		if len(earlier) != 2 || math.Abs(earlier[0].GetOdometer().GetMiles()+6000) > 1e-6 || math.Abs(earlier[1].GetOdometer().GetMiles()+1000) > 1e-6 {
			t.Errorf("judged beside %v", earlier)
		}
		late := odometer(taken(2, newVisit(v, wheel("1L", depth))), miles(92_000))
		d.keep(late)
		if earlier := d.firstJudged(late).GetEarlier(); len(earlier) != 1 || earlier[0].GetOdometer().GetMiles() != 90_000 {
			t.Errorf("from before it, judged beside %v", earlier)
		}
		if kept, err := d.GetInspection(t.Context(), shop, first.GetId()); err != nil || kept.GetInspection().GetOdometer().GetMiles() != 90_000 {
			t.Errorf("kept as sent: %v: %v", kept, err)
		}
	})
}

// Moves between visits, with the odometer, are judged by.
func TestMovesAreJudgedBy(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		a, b, one, two := d.keepVehicle(tagged("sedan")), d.keepVehicle(tagged("van")), newID(), newID()
		d.keep(odometer(newVisit(a, wheel("1L", depth, tire(one)), wheel("2L", depth, tire(two))), miles(90_000)))
		m := moved(&pb.TireMove{TireId: one, To: mountedAt(a, "2L")}, &pb.TireMove{TireId: two, To: mountedAt(b, "1L")})
		m.Odometer = miles(91_000)
		d.move(a, m)
		d.move(a, moved(&pb.TireMove{TireId: one, To: mountedAt(a, "1L")})) // at no odometer: nothing is known of where
		in := odometer(newVisit(a, wheel("1L", depth)), miles(92_000))
		d.keep(in)
		got := d.firstJudged(in).GetMoves()
		if len(got) != 1 || got[0].GetOdometer().GetMiles() != 91_000 || got[0].GetMoves()[0].GetTo() == nil || got[0].GetMoves()[1].GetTo() != nil {
			t.Errorf("judged by %v", got)
		}
		if in := odometer(newVisit(b, wheel("1L", depth)), miles(20_000)); len(d.keep(in).GetAssessment().GetFindings()) != 0 || len(d.firstJudged(in).GetMoves()) != 0 {
			t.Errorf("the other vehicle, which ran none of it: %v", d.firstJudged(in).GetMoves())
		}
	})
}

// A tire that was away ran nobody knows how far: what was read of it before is no evidence of
// how fast it wears. In store it runs nothing, where the odometer was told; and a rotation on
// the vehicle loses nothing.
func TestATireThatWasAwayRanNobodyKnowsHowFar(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		for name, row := range map[string]struct {
			odometer *pb.Distance
			to       func(a, b *pb.Vehicle) *pb.TirePlace
			known    bool
		}{
			"to another vehicle":                {nil, func(_, b *pb.Vehicle) *pb.TirePlace { return mountedAt(b, "1R") }, false},
			"to another vehicle, odometer told": {miles(91_000), func(_, b *pb.Vehicle) *pb.TirePlace { return mountedAt(b, "1R") }, false},
			"into store":                        {nil, func(_, _ *pb.Vehicle) *pb.TirePlace { return stored("rack") }, false},
			"into store, odometer told":         {miles(91_000), func(_, _ *pb.Vehicle) *pb.TirePlace { return stored("rack") }, true},
			"to another wheel":                  {nil, func(a, _ *pb.Vehicle) *pb.TirePlace { return mountedAt(a, "1R") }, true},
		} {
			a, b, id := d.keepVehicle(tagged("sedan")), d.keepVehicle(tagged("van")), newID()
			d.keep(odometer(newVisit(a, wheel("1L", depth, tire(id)), wheel("2L", depth)), miles(90_000)))
			away, back := moved(&pb.TireMove{TireId: id, To: row.to(a, b)}), moved(&pb.TireMove{TireId: id, To: mountedAt(a, "1L")})
			away.Odometer = row.odometer
			d.move(a, away)
			d.move(a, back)
			in := odometer(newVisit(a, wheel("1L", depth), wheel("2L", depth)), miles(99_000))
			d.keep(in)
			var at []string
			for _, w := range d.firstJudged(in).GetEarlier()[0].GetWheels() {
				if len(w.GetTread()) > 0 {
					at = append(at, w.GetPosition())
				}
			}
			if slices.Contains(at, "1L") != row.known || !slices.Contains(at, "2L") {
				t.Errorf("%s: judged by what was read at %v", name, at)
			}
		}
	})
}

// A rotation that was proposed and is done is confirmed by its line of work; where another
// tire is by now at one of its wheels, its moves are told one by one.
func TestARotationIsConfirmed(t *testing.T) {
	onEach(t, func(t *testing.T, d *desk) {
		v, front, rear := d.keepVehicle(car()), newID(), newID()
		first := newVisit(v, wheel("1L", depth, tire(front)), wheel("2L", depth, tire(rear)))
		d.proposes = &pb.WorkItem{Id: "line", Code: "tire.rotate", MapId: "front-rear-same-side", Changes: []*pb.PositionChange{
			{FromPosition: "1L", ToPosition: "2L"}, {FromPosition: "2L", ToPosition: "1L"},
		}}
		d.keep(first)
		confirmed := func(visit *pb.Inspection, line string) *pb.ProposedRotation {
			return &pb.ProposedRotation{InspectionId: visit.GetId(), Work: line}
		}
		done := &pb.TireMoves{Id: newID(), Odometer: miles(50_000)}
		before := d.last()
		refused := func(m *pb.ProposedRotation, of *pb.Vehicle, reason pb.ErrorReason, field string) {
			t.Helper()
			_, err := d.MoveTires(t.Context(), shop, of.GetId(), &pb.TireMoves{Id: newID()}, m)
			d.refused(before, err, reason, field)
		}
		refused(confirmed(newVisit(v), "line"), v, pb.ErrorReason_ERROR_REASON_NOT_YET, "rotation.inspection_id")
		refused(confirmed(first, "other"), v, pb.ErrorReason_ERROR_REASON_NOT_FOUND, "rotation.work")
		other := d.keepVehicle(car())
		before = d.last()
		refused(confirmed(first, "line"), other, pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "rotation.inspection_id")

		m := confirmed(first, "line")
		if r, err := d.MoveTires(t.Context(), shop, v.GetId(), done, m); err != nil || r.GetRepeatedCall() {
			t.Fatalf("%v: %v", r, err)
		}
		if got := d.places(v); got[0] != "1L "+rear || got[1] != "2L "+front {
			t.Errorf("%v", got)
		}
		if last := d.pull("")[d.last()-1]; len(last.GetMoves().GetMoves()) != 2 {
			t.Errorf("the feed: %v", last)
		}
		before = d.last()
		if r, err := d.MoveTires(t.Context(), shop, v.GetId(), proto.CloneOf(done), m); err != nil || !r.GetRepeatedCall() || d.last() != before {
			t.Errorf("repeated: %v: %v", r, err)
		}
		refused(confirmed(first, "line"), v, pb.ErrorReason_ERROR_REASON_FIELD_INVALID, "rotation")
	})
}

// An odometer that is told otherwise is told so in its own unit, wherever a visit has one;
// what has none stays without.
func TestOdometersAreToldOtherwiseInTheirUnits(t *testing.T) {
	const by = 160.9344 // km, 100 mi
	in := &pb.Inspection{
		Odometer: miles(50_000),
		WorkDone: []*pb.WorkDone{{Odometer: kilometersRead(80_000)}, {}},
		Wheels:   []*pb.WheelReport{{TorqueRecheck: &pb.TorqueRecheck{Odometer: miles(49_000)}}, {}, {TorqueRecheck: &pb.TorqueRecheck{}}},
	}
	was := proto.CloneOf(in)
	got := shifted(in, by)
	if !proto.Equal(in, was) {
		t.Errorf("the visit itself has changed: %v", in)
	}
	for name, c := range map[string]struct {
		got  *pb.Distance
		want float64 // km
		mi   bool
	}{
		"the visit's":   {got.GetOdometer(), 50_100 * 1.609344, true},
		"of work":       {got.GetWorkDone()[0].GetOdometer(), 80_160.9344, false},
		"of a recheck":  {got.GetWheels()[0].GetTorqueRecheck().GetOdometer(), 49_100 * 1.609344, true},
		"in kilometers": {plus(kilometersRead(100), -by), -60.9344, false},
	} {
		_, inMiles := c.got.GetAsRead().(*pb.Distance_Miles)
		if math.Abs(kilometers(c.got)-c.want) > 1e-6 || inMiles != c.mi {
			t.Errorf("%s: %v, want %v km", name, c.got, c.want)
		}
	}
	if got.GetWorkDone()[1].GetOdometer() != nil || got.GetWheels()[2].GetTorqueRecheck().GetOdometer() != nil || got.GetWheels()[1].GetTorqueRecheck() != nil {
		t.Errorf("told where none was: %v", got)
	}
	if got := kilometers(nil); got != 0 {
		t.Errorf("no distance: %v km", got)
	}
}

// What went elsewhere went off the vehicle, as the vehicle sees it.
func TestMovesAsOneVehicleSeesThem(t *testing.T) {
	v, other := car(), car()
	m := moved(&pb.TireMove{TireId: "a", To: mountedAt(v, "1L")}, &pb.TireMove{TireId: "b", To: mountedAt(other, "1L")}, &pb.TireMove{TireId: "c", To: stored("rack")})
	got := onVehicle(m, v.GetId()).GetMoves()
	if got[0].GetTo().GetMounted().GetPosition() != "1L" || got[1].GetTo() != nil || got[2].GetTo() != nil || m.GetMoves()[1].GetTo() == nil {
		t.Errorf("%v", got)
	}
}

// Moves from before an odometer was replaced are judged by what the one on the vehicle now
// would have shown, those from after it by what it showed.
func TestMovesAroundAnotherOdometer(t *testing.T) {
	onMemory(t, "moves", func(t *testing.T, d *desk) {
		v := d.keepVehicle(car())
		a, b := newID(), newID()
		d.keep(odometer(newVisit(v, wheel("1L", depth, tire(a)), wheel("1R", depth, tire(b))), miles(49_000)))
		first := moved(&pb.TireMove{TireId: a, To: mountedAt(v, "2L")})
		first.Odometer = miles(50_000)
		d.move(v, first)
		d.happens(&pb.VehicleEvent{Id: newID(), VehicleId: v.GetId(), What: &pb.VehicleEvent_OdometerReplaced{OdometerReplaced: &pb.OdometerReplaced{OldReading: miles(51_000), NewReading: miles(0)}}})
		second := moved(&pb.TireMove{TireId: b, To: mountedAt(v, "2R")})
		second.Odometer = miles(500)
		d.move(v, second)
		d.keep(odometer(newVisit(v, wheel("2L", depth, tire(a)), wheel("2R", depth, tire(b))), miles(900)))
		got := map[string]float64{}
		for _, m := range d.lastJudged().GetMoves() {
			got[m.GetId()] = math.Round(kilometers(m.GetOdometer()) / kilometersOfMile)
		}
		if len(got) != 2 || got[first.GetId()] != -1000 || got[second.GetId()] != 500 {
			t.Errorf("judged by moves at %v, first %s", got, first.GetId())
		}
	})
}

// A pull that finds changes answers at once, however long it may wait.
func TestAPullThatFindsChangesDoesNotWait(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		d := newDesk(t, memory.New(), nil)
		d.keepVehicle(car())
		began := time.Now()
		out, err := d.PullChanges(t.Context(), shop, "", 7, 20*time.Second)
		if err != nil || len(out.Changes) != 1 || time.Since(began) != 0 {
			t.Errorf("%d changes after %v: %v", len(out.Changes), time.Since(began), err)
		}
	})
}
