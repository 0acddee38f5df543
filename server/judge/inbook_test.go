package judge_test

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"testing"
	"time"

	guid "github.com/google/uuid"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/timestamppb"
	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
)

// kept is a book with one vehicle.
type kept struct {
	test
	*book.Book
	vehicle *pb.Vehicle
}

type test interface {
	Context() context.Context
	Fatal(...any)
}

const shop = "north"

func newKept(t test, v *pb.Vehicle) kept {
	return newKeptFrom(t, v, time.Date(2026, 3, 2, 15, 0, 0, 0, time.UTC))
}

// newKeptFrom begins its book at a time.
func newKeptFrom(t test, v *pb.Vehicle, at time.Time) kept {
	now := func() time.Time { at = at.Add(time.Hour); return at }
	k := kept{t, book.New(memory.New(), judge.For(judge.NoneOwn), now), proto.CloneOf(v)}
	k.vehicle.Id = guid.NewString()
	if _, err := k.RecordVehicle(t.Context(), shop, k.vehicle, nil); err != nil {
		t.Fatal(err)
	}
	return k
}

// record keeps a visit and gives what is open after it.
func (k kept) record(in *pb.Inspection) (*pb.Inspection, []*pb.OpenFinding, *pb.VehicleState) {
	in = proto.CloneOf(in)
	in.Id, in.VehicleId = guid.NewString(), k.vehicle.GetId()
	v, problems := check.NewVisit("inspection", in)
	if len(problems) > 0 {
		k.Fatal(problems, shownJSON(in))
	}
	if _, err := k.RecordInspection(k.Context(), shop, book.Sender{}, v); err != nil {
		k.Fatal(err)
	}
	out, _, err := k.GetVehicle(k.Context(), shop, k.vehicle.GetId())
	if err != nil {
		k.Fatal(err)
	}
	return in, out.GetState().GetOpen(), out.GetState()
}

// parted is a visit as two: one that found, and a later one that only did what was done
// and left the vehicle so.
func parted(m *mechanic) (found, left *pb.Inspection) {
	found, left = proto.CloneOf(m.req.GetInspection()), proto.CloneOf(m.req.GetInspection())
	found.WorkDone = nil
	found.AxleWeights = slices.DeleteFunc(found.AxleWeights, func(w *pb.AxleWeight) bool { return w.GetPhase() == asLeft })
	left.AxleWeights = slices.DeleteFunc(left.AxleWeights, func(w *pb.AxleWeight) bool { return w.GetPhase() != asLeft })
	left.Changeover = nil
	if s := left.GetSpare(); s != nil { // it is on the road until the road tire is back
		left.Spare = &pb.SpareReport{InServicePosition: s.GetInServicePosition()}
	}
	if c := found.GetConditions(); c != nil {
		c.LampAsLeft, c.SensorsAsLeft = 0, 0
	}
	if c := left.GetConditions(); c != nil {
		c.LampAsFound, c.TiresMoved, c.Complaints = 0, 0, nil
	}
	for _, w := range found.GetWheels() {
		w.FastenerWork, w.ValveWork, w.Inside, w.UnderAir, w.RepairMade, w.ObjectOut, w.Fitted, w.TakenBack, w.TorqueRecheck = nil, nil, nil, nil, nil, nil, nil, nil, nil
		phased(w, false)
		w.Looked = nil
		for _, before := range m.before.GetInspection().GetWheels() {
			if before.GetPosition() == w.GetPosition() {
				w.Looked = proto.CloneOf(before).GetLooked()
			}
		}
	}
	for _, w := range left.GetWheels() {
		phased(w, true)
		w.Sidewall, w.HighLowPairs, w.Valve, w.WheelKind, w.Rim, w.DrivenLow = nil, nil, nil, 0, "", nil // what was taped is not taped again, and is told
	}
	return found, left
}

const asLeft = pb.Phase_PHASE_AS_LEFT

// phased keeps what of a wheel was told as left, or all else.
func phased(w *pb.WheelReport, left bool) {
	goes := func(p pb.Phase) bool { return (p == asLeft) != left }
	w.Pressures = slices.DeleteFunc(w.Pressures, func(r *pb.PressureReading) bool { return goes(r.GetPhase()) })
	w.Tread = slices.DeleteFunc(w.Tread, func(r *pb.TreadReading) bool { return goes(r.GetPhase()) })
	w.Marks = slices.DeleteFunc(w.Marks, func(r *pb.MountingMarks) bool { return goes(r.GetPhase()) })
	w.SensorReadings = slices.DeleteFunc(w.SensorReadings, func(r *pb.SensorReading) bool { return goes(r.GetPhase()) })
	w.Observations = slices.DeleteFunc(w.Observations, func(r *pb.Observation) bool { return goes(r.GetPhase()) })
}

// alone is a drawn visit of a vehicle of which nothing else is known.
func alone(req *pb.AssessVisitRequest) *pb.AssessVisitRequest {
	req = proto.CloneOf(req)
	req = &pb.AssessVisitRequest{Vehicle: req.GetVehicle(), Inspection: req.GetInspection()}
	for _, w := range req.GetInspection().GetWheels() {
		w.TireId, w.TorqueRecheck = "", nil
	}
	return req
}

// What is done at a later visit closes what an earlier one found, as it does where both are
// told at once: the later visit need not find it again.
func TestDoItAllInTheBook(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := alone(anyVisit.Draw(t, "visit"))
		if c := req.GetVehicle().GetVehicleClass(); c > pb.VehicleClass_VEHICLE_CLASS_MOTORHOME || seenAsLeft(req) {
			return // not judged here, or told to be so still as it left
		}
		open, _, m := doItAll(req, "")
		if len(open) > 0 {
			return // what no look ends; TestDoItAllDrawn
		}
		found, left := parted(m)
		k := newKept(t, m.req.GetVehicle())
		found, _, _ = k.record(found)
		left, carried, _ := k.record(left)
		for _, f := range carried {
			if f.GetFinding().GetUrgency() <= thisVisit {
				t.Fatalf("%s %v stays open\n%s\n%s", f.GetFinding().GetCode(), f.GetFinding().GetPositions(), shownJSON(found), shownJSON(left))
			}
		}
		next, carried, state := k.record(sound(m.req))
		for _, f := range carried {
			again := f.GetFinding().GetUrgency() > thisVisit && f.GetInspectionId() == next.GetId() // as the vehicle's own record says
			if f.GetSinceInspectionId() != next.GetId() && !again {
				t.Fatalf("%s %v is carried\n%s\n%s\n%s", f.GetFinding().GetCode(), f.GetFinding().GetPositions(), shownJSON(found), shownJSON(left), shownJSON(next))
			}
		}
		if h := state.GetHeadline().GetHold(); h == pb.Hold_HOLD_DO_NOT_MOVE || h == pb.Hold_HOLD_OFF_THE_ROAD {
			t.Fatalf("held: %v\n%s", state.GetHeadline(), shownJSON(next))
		}
	})
}

// A phone out of reach sends what was found after what was done about it: the vehicle is as
// if both had come in the order in which they were taken, however many visits lie behind.
func TestWhatIsFoundLateIsClosedByWhatWasDoneSince(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := alone(anyVisit.Draw(t, "visit"))
		if c := req.GetVehicle().GetVehicleClass(); c > pb.VehicleClass_VEHICLE_CLASS_MOTORHOME || seenAsLeft(req) {
			return
		}
		_, _, m := doItAll(req, "")
		found, left := parted(m)
		next := &pb.Inspection{LocalDate: left.GetLocalDate(), Conditions: &pb.Conditions{Complaints: []*pb.Complaint{{Kind: pb.ComplaintKind_COMPLAINT_KIND_VIBRATION}}}}
		all := []*pb.Inspection{found, left, next}
		for i, in := range all {
			in.TakenTime = timestamppb.New(time.Date(2026, 1, 5, 9+i, 0, 0, 0, time.UTC))
			if day := in.GetLocalDate(); day != nil {
				in.TakenTime = timestamppb.New(time.Date(int(day.GetYear()), time.Month(day.GetMonth()), int(day.GetDay()), 9+i, 0, 0, 0, time.UTC))
			}
		}
		var inOrder *[]string
		for _, order := range [][]int{{0, 1, 2}, {1, 0, 2}, {1, 2, 0}, {2, 1, 0}} {
			k := newKeptFrom(t, m.req.GetVehicle(), time.Date(2100, 1, 1, 0, 0, 0, 0, time.UTC)) // behind whatever day is drawn
			var open []*pb.OpenFinding
			for _, i := range order {
				_, open, _ = k.record(all[i])
			}
			var codes []string
			for _, f := range open {
				codes = append(codes, fmt.Sprint(f.GetFinding().GetCode(), f.GetFinding().GetPositions()))
			}
			slices.Sort(codes)
			if inOrder == nil {
				inOrder = &codes
			}
			if !slices.Equal(codes, *inOrder) {
				t.Fatalf("told as %v, open %v, else %v\n%s\n%s", order, codes, *inOrder, shownJSON(found), shownJSON(left))
			}
		}
	})
}

// sound is the next visit of a vehicle on which nothing is wrong: all is read, seen and
// asked, and all is as it should be.
func sound(of *pb.AssessVisitRequest) *pb.Inspection {
	seen := []pb.LookedAt{
		pb.LookedAt_LOOKED_AT_TREAD_FULL_TURN, pb.LookedAt_LOOKED_AT_OUTER_SIDEWALL, pb.LookedAt_LOOKED_AT_INNER_SIDEWALL, pb.LookedAt_LOOKED_AT_VALVE,
		pb.LookedAt_LOOKED_AT_BEADS, pb.LookedAt_LOOKED_AT_WHEEL_FACE, pb.LookedAt_LOOKED_AT_WHEEL_BARREL, pb.LookedAt_LOOKED_AT_FASTENERS,
	}
	miles := func(n float64) *pb.Distance { return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}} }
	in := &pb.Inspection{
		LocalDate: &pb.CalendarDate{Year: 2026, Month: 6, Day: 1},
		Conditions: &pb.Conditions{
			Driven: &pb.DrivenBefore{DrivenHere: no}, LampAsFound: pb.Lamp_LAMP_OFF, TiresMoved: no, SensorsAsLeft: pb.SensorReset_SENSOR_RESET_NOT_NEEDED,
		},
		Odometer: miles(500000),
		Spare:    &pb.SpareReport{Reachable: yes, HoistWorks: yes, JackPresent: yes, KeyPresent: yes, KitPresent: yes},
	}
	m := &mechanic{req: of}
	for n, a := range of.GetVehicle().GetAxles().GetAxles() {
		in.AxleWeights = append(in.AxleWeights, &pb.AxleWeight{Axle: int32(n + 1), Weight: &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: 500}}})
		places := []string{"L", "R"}
		if a.GetWheels() == pb.AxleWheels_AXLE_WHEELS_DUAL {
			places = []string{"LO", "LI", "RI", "RO"}
		}
		for _, place := range places {
			w := &pb.WheelReport{Position: fmt.Sprint(n+1, place)}
			w.Sidewall = &pb.Sidewall{Marking: cmp.Or(a.GetSize(), "P215/60R16 94T"), Identification: "DOT 1AB CDEF 0126", LoadRange: "XL"}
			w.Pressures = []*pb.PressureReading{{Pressure: m.label(w.GetPosition()), Gauge: pb.GaugeKind_GAUGE_KIND_DIGITAL, Source: pb.TemperatureSource_TEMPERATURE_SOURCE_AIR_AROUND}}
			for across := range int32(3) {
				w.Tread = append(w.Tread, &pb.TreadReading{
					Place: &pb.Place{Across: pb.Across(across + 1)}, Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 10}},
				})
			}
			w.SensorReadings = []*pb.SensorReading{{Answering: yes, Battery: pb.SensorBattery_SENSOR_BATTERY_GOOD, ShownPosition: w.GetPosition()}}
			w.Marks = []*pb.MountingMarks{{Arrow: pb.DirectionArrow_DIRECTION_ARROW_AGREES, OutsideMark: pb.MarkFaces_MARK_FACES_OUT}}
			w.TorqueRecheck = &pb.TorqueRecheck{Torque: &pb.Torque{AsRead: &pb.Torque_PoundFeet{PoundFeet: 100}}, Odometer: in.GetOdometer(), WheelCool: yes, AnyMoved: no, DoneBy: "invented",
				Towed: miles(60)}
			m.see(w, seen...)
			in.Wheels = append(in.Wheels, w)
		}
	}
	if slices.ContainsFunc(of.GetInspection().GetWheels(), func(w *pb.WheelReport) bool { return w.GetPosition() == "S" }) {
		w := &pb.WheelReport{Position: "S"}
		if p := m.label("S"); p != nil {
			w.Pressures = []*pb.PressureReading{{Pressure: p}}
		}
		m.see(w, seen...)
		in.Wheels = append(in.Wheels, w)
	}
	return in
}

// A trailer has no odometer: its torque is checked again by the distance it was towed since
// its wheel was on. A check that is told whole closes what was owed, late too; without a
// distance it is none. After one that was too early it is owed again as soon as nobody
// knows how far it was towed since (common practice: 10, 25 and 50 miles).
func TestTrailerRecheckClosesInTheBook(t *testing.T) {
	miles := func(n float64) *pb.Distance { return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}} }
	figure := &pb.Torque{AsRead: &pb.Torque_PoundFeet{PoundFeet: 100}}
	day := int32(0)
	of := func(w *pb.WheelReport) *pb.Inspection {
		w.Position = "1L"
		day++
		return &pb.Inspection{LocalDate: &pb.CalendarDate{Year: 2026, Month: 3, Day: day}, Wheels: []*pb.WheelReport{w}}
	}
	for _, c := range []struct {
		name   string
		towed  *pb.Distance
		closed bool // at the visit of the check
		again  bool // owed at the next
	}{
		{"all three distances run", miles(52), true, false},
		{"late", miles(120), true, false},
		{"too early", miles(4), true, true},
		{"the first alone", miles(12), true, true},
		{"no distance", nil, false, true},
	} {
		day = 0
		axle := &pb.Axle{ColdNormalLoad: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 50}}}
		k := newKept(t, &pb.Vehicle{VehicleClass: pb.VehicleClass_VEHICLE_CLASS_TRAILER, Axles: &pb.Axles{Axles: []*pb.Axle{axle, axle}}})
		n := int32(5)
		k.record(of(&pb.WheelReport{FastenerWork: &pb.FastenerWork{Counted: &n, Damaged: new(int32(0)), Replaced: &n, FacesCleaned: yes, Torque: figure,
			Tool: pb.TorqueTool_TORQUE_TOOL_HAND_TORQUE_WRENCH, Pattern: pb.TorquePattern_TORQUE_PATTERN_STAR, Staged: yes, DoneBy: "invented"}}))
		owed := func(open []*pb.OpenFinding) bool {
			return slices.ContainsFunc(open, func(f *pb.OpenFinding) bool { return f.GetFinding().GetCode() == "torque.recheck-owed" })
		}
		if _, open, _ := k.record(of(&pb.WheelReport{})); !owed(open) {
			t.Errorf("%s: a check that nobody made is not owed: %v", c.name, open)
		}
		_, open, _ := k.record(of(&pb.WheelReport{TorqueRecheck: &pb.TorqueRecheck{Torque: figure, Towed: c.towed, WheelCool: yes, AnyMoved: no, DoneBy: "invented"}}))
		left := slices.ContainsFunc(open, func(f *pb.OpenFinding) bool {
			return f.GetFinding().GetUrgency() <= thisVisit && f.GetFinding().GetPositions()[0] == "1L"
		})
		if left == c.closed {
			t.Errorf("%s: closed %v: %v", c.name, !left, open)
		}
		if _, open, _ := k.record(of(&pb.WheelReport{})); owed(open) != c.again {
			t.Errorf("%s: owed again %v: %v", c.name, !c.again, open)
		}
	}
}
