package check

import (
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

func TestEvent(t *testing.T) {
	const id, of = "7d1d1f0a-4a52-4bd5-9a0e-1f6b6f6b2a11", "7d1d1f0a-4a52-4bd5-9a0e-1f6b6f6b2a12"
	torque := &pb.Torque{AsRead: &pb.Torque_PoundFeet{PoundFeet: 100}}
	for _, row := range []struct {
		name  string
		event *pb.VehicleEvent
		want  []string
	}{
		{"it left", &pb.VehicleEvent{Id: id, VehicleId: of, What: &pb.VehicleEvent_Leaving{Leaving: &pb.Leaving{LeftBy: pb.LeftBy_LEFT_BY_TOWED}}}, nil},
		{"it left, and not how", &pb.VehicleEvent{Id: id, VehicleId: of, What: &pb.VehicleEvent_Leaving{Leaving: &pb.Leaving{}}},
			[]string{"event.leaving.leftBy: missing; how it left"}},
		{"nothing happened", &pb.VehicleEvent{Id: id, VehicleId: of},
			[]string{"event.leaving: missing; what happened: leaving, wheelsOff, wheelsTorqued or odometerReplaced"}},
		{"wheels off", &pb.VehicleEvent{Id: id, VehicleId: of, DoneBy: "invented", What: &pb.VehicleEvent_WheelsOff{WheelsOff: &pb.WheelsOff{Positions: []string{"1L"}}}}, nil},
		{"none off, by nobody", &pb.VehicleEvent{Id: id, VehicleId: of, What: &pb.VehicleEvent_WheelsOff{WheelsOff: &pb.WheelsOff{}}},
			[]string{"event.doneBy: missing; who took them off", "event.wheelsOff.positions: missing; " + positionForm}},
		{"torqued", &pb.VehicleEvent{Id: id, VehicleId: of, DoneBy: "invented", What: &pb.VehicleEvent_WheelsTorqued{WheelsTorqued: &pb.WheelsTorqued{Positions: []string{"1L"}, Torque: torque}}}, nil},
		{"torqued to nothing told", &pb.VehicleEvent{Id: id, VehicleId: of, DoneBy: "invented", What: &pb.VehicleEvent_WheelsTorqued{WheelsTorqued: &pb.WheelsTorqued{Positions: []string{"1L"}}}},
			[]string{"event.wheelsTorqued.torque: missing; the torque that was set"}},
		{"another odometer", &pb.VehicleEvent{Id: id, VehicleId: of, What: &pb.VehicleEvent_OdometerReplaced{OdometerReplaced: &pb.OdometerReplaced{OldReading: miles(90_000), NewReading: miles(0)}}}, nil},
		{"of which one reading is told", &pb.VehicleEvent{Id: id, VehicleId: of, What: &pb.VehicleEvent_OdometerReplaced{OdometerReplaced: &pb.OdometerReplaced{OldReading: miles(90_000)}}},
			[]string{"event.odometerReplaced.newReading: missing; what the new one showed first, zero too"}},
	} {
		t.Run(row.name, func(t *testing.T) { same(t, Event("event", row.event), row.want) })
	}
	car := &pb.Vehicle{VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Axles: &pb.Axles{Axles: []*pb.Axle{{}, {}}}}
	off := &pb.VehicleEvent{What: &pb.VehicleEvent_WheelsOff{WheelsOff: &pb.WheelsOff{Positions: []string{"1L", "3L", "left"}}}}
	if got := EventOn("event", off, car); len(got) != 2 || got[0].Path != "event.wheelsOff.positions[1]" {
		t.Errorf("wheels that it has not: %v", got)
	}
}

// Moves are told, or the rotation that was proposed, and not both.
func TestMoveTires(t *testing.T) {
	const id = "7d1d1f0a-4a52-4bd5-9a0e-1f6b6f6b2a11"
	moves := &pb.TireMoves{Id: id, Moves: []*pb.TireMove{{TireId: id, To: &pb.TirePlace{Where: &pb.TirePlace_Stored{Stored: &pb.StoredPlace{Words: "rack"}}}}}}
	done := &pb.ProposedRotation{InspectionId: id, Work: "yilfpntz"}
	for _, row := range []struct {
		name string
		req  *pb.MoveTiresRequest
		want []string
	}{
		{"moves", &pb.MoveTiresRequest{Moves: moves}, nil},
		{"a rotation", &pb.MoveTiresRequest{Moves: &pb.TireMoves{Id: id}, Rotation: done}, nil},
		{"neither", &pb.MoveTiresRequest{Moves: &pb.TireMoves{Id: id}}, []string{"moves.moves: missing; one move or more, or the rotation that was proposed"}},
		{"both", &pb.MoveTiresRequest{Moves: moves, Rotation: done}, []string{"rotation: told beside the moves; one of the two"}},
		{"of no visit", &pb.MoveTiresRequest{Moves: &pb.TireMoves{Id: id}, Rotation: &pb.ProposedRotation{Work: "yilfpntz"}}, []string{"rotation.inspectionId: missing; the visit that proposed it"}},
	} {
		t.Run(row.name, func(t *testing.T) { same(t, MoveTires(row.req), row.want) })
	}
}
