package judge_test

import (
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
)

// mechanic carries out an order of work as it reads, and writes down what it asks for
// as left. It knows codes and the contract, and nothing of what closes what.
type mechanic struct {
	req  *pb.AssessVisitRequest
	skip string // a fact that is not written down: see piece
	did  map[string]bool
}

// piece tells whether a fact of a wheel is written down.
func (m *mechanic) piece(at, what string) bool {
	name := what + ":" + at
	m.did[name] = true
	return name != m.skip
}

func (m *mechanic) wheel(at string) *pb.WheelReport {
	in := m.req.GetInspection()
	for _, w := range in.GetWheels() {
		if w.GetPosition() == at {
			return w
		}
	}
	w := &pb.WheelReport{Position: at}
	in.Wheels = append(in.Wheels, w)
	return w
}

func (m *mechanic) done(kind pb.WorkKind, at ...string) {
	if !m.piece(strings.Join(at, ","), kind.String()) {
		return
	}
	in := m.req.GetInspection()
	in.WorkDone = append(in.WorkDone, &pb.WorkDone{Kind: kind, Positions: at, InRange: yes, DoneBy: "invented"})
}

const (
	yes = pb.Answer_ANSWER_YES
	no  = pb.Answer_ANSWER_NO
)

func (m *mechanic) conditions() *pb.Conditions {
	in := m.req.GetInspection()
	if in.Conditions == nil {
		in.Conditions = &pb.Conditions{}
	}
	return in.Conditions
}

func (m *mechanic) see(w *pb.WheelReport, places ...pb.LookedAt) {
	for _, place := range places {
		w.Looked = slices.DeleteFunc(w.Looked, func(l *pb.Looked) bool { return l.GetWhat() == place })
		w.Looked = append(w.Looked, &pb.Looked{What: place, Looked: &pb.Looked_Seen{Seen: true}})
	}
}

func (m *mechanic) air(w *pb.WheelReport, p *pb.Pressure) {
	if p == nil || !m.piece(w.GetPosition(), "pressure as left") {
		return
	}
	w.Pressures = slices.DeleteFunc(w.Pressures, func(r *pb.PressureReading) bool { return r.GetPhase() == pb.Phase_PHASE_AS_LEFT })
	w.Pressures = append(w.Pressures, &pb.PressureReading{Phase: pb.Phase_PHASE_AS_LEFT, Pressure: p, Gauge: pb.GaugeKind_GAUGE_KIND_DIGITAL})
}

func (m *mechanic) fasten(w *pb.WheelReport, torque *pb.Torque) {
	if !m.piece(w.GetPosition(), "torque") {
		return
	}
	if torque == nil {
		torque = &pb.Torque{AsRead: &pb.Torque_PoundFeet{PoundFeet: 100}}
	}
	n := int32(5)
	if each := m.req.GetVehicle().GetFasteners().GetEachWheel(); each > 0 {
		n = each
	}
	w.FastenerWork = &pb.FastenerWork{Counted: new(n), Damaged: new(int32(0)), Replaced: new(n), FacesCleaned: yes, Torque: torque,
		Tool: pb.TorqueTool_TORQUE_TOOL_HAND_TORQUE_WRENCH, Pattern: pb.TorquePattern_TORQUE_PATTERN_STAR, Staged: yes, DoneBy: "invented"}
	w.TorqueRecheck = nil
}

func (m *mechanic) fit(w *pb.WheelReport) {
	if m.piece(w.GetPosition(), "tire fitted") {
		w.Fitted = &pb.TireFitted{Sidewall: &pb.Sidewall{Identification: "DOT 1AB CDEF 0126"}, DoneBy: "invented"}
	}
}

// line carries out one line at one wheel.
func (m *mechanic) line(l *pb.WorkItem, at string) {
	w := m.wheel(at)
	switch l.GetCode() {
	case "air.set", "air.match-mates", "air.set-for-size", "air.lower-cold", "rotation.set-pressures":
		m.air(w, l.GetTarget().GetPressure())
	case "tire.replace", "tires.replace-pair", "tires.fit-right", "tires.fit-winter", "tire.replace-if-below", "repair.refer-section", "tires.match-set", "dual.match", "spare.put-back":
		m.fit(w)
	case "tire.demount-inspect":
		if m.piece(at, "inside") {
			w.Inside = &pb.InsideSeen{LinerRing: no, RubberDust: no, Wrinkles: no, LinerDamage: no, BadRepair: no, DoneBy: "invented"}
		}
		m.see(w, pb.LookedAt_LOOKED_AT_INSIDE_OF_TIRE, pb.LookedAt_LOOKED_AT_INNER_SIDEWALL, pb.LookedAt_LOOKED_AT_OUTER_SIDEWALL)
	case "tire.restraining-device":
		if m.piece(at, "under air") {
			w.UnderAir = &pb.UnderAir{AtTwentyPsi: yes, AtWorkingPressure: yes, RippleOrPopping: no, DoneBy: "invented"}
		}
	case "repair.after-inspection", "repair.combination", "repair.two-piece", "repair.find-out":
		method := pb.RepairMethod_REPAIR_METHOD_COMBINATION
		if l.GetCode() == "repair.two-piece" {
			method = pb.RepairMethod_REPAIR_METHOD_TWO_PIECE
		}
		if m.piece(at, "repair") {
			w.RepairMade = &pb.RepairMade{Cutter: &pb.Length{AsRead: &pb.Length_Inches{Inches: 0.125}}, Method: method, SoapedDry: yes, DoneBy: "invented"}
		}
	case "object.remove-and-soap":
		if m.piece(at, "object out") {
			w.ObjectOut = &pb.ObjectOut{Dry: yes, DryFilled: yes, DoneBy: "invented"}
		}
	case "valve.renew", "air.find-leak":
		m.done(pb.WorkKind_WORK_KIND_VALVE_RENEWED, at)
		w.ValveWork = &pb.ValveWork{Renewed: []pb.ValvePart{pb.ValvePart_VALVE_PART_WHOLE}, ValveNow: &pb.Valve{Kind: pb.ValveKind_VALVE_KIND_CLAMP_IN, Rating: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 200}}}}
	case "wheel.replace":
		m.done(pb.WorkKind_WORK_KIND_WHEEL_REPLACED, at)
	case "wheel.clean-bead-seat":
		m.done(pb.WorkKind_WORK_KIND_BEAD_SEAT_CLEANED, at)
	case "tire.look-closely":
		m.done(pb.WorkKind_WORK_KIND_PROBED, at)
	case "refer.steering-suspension":
		m.done(pb.WorkKind_WORK_KIND_STEERING_PART_RENEWED, at)
		m.done(pb.WorkKind_WORK_KIND_SUSPENSION_PART_RENEWED, at)
	case "refer.brakes-hub":
		m.done(pb.WorkKind_WORK_KIND_BEARING_WORK, at)
		m.done(pb.WorkKind_WORK_KIND_BRAKE_WORK, at)
	case "wheel.torque", "fasteners.put-right":
		if at != "S" {
			m.fasten(w, l.GetTarget().GetTorque())
		}
	case "wheel.torque-check":
		w.TorqueRecheck = &pb.TorqueRecheck{Torque: l.GetTarget().GetTorque(), Odometer: m.req.GetInspection().GetOdometer(), WheelCool: yes, AnyMoved: no, DoneBy: "invented",
			Towed: &pb.Distance{AsRead: &pb.Distance_Miles{Miles: 60}}}
		if w.TorqueRecheck.Torque == nil {
			w.TorqueRecheck.Torque = &pb.Torque{AsRead: &pb.Torque_PoundFeet{PoundFeet: 100}}
		}
	case "tire.remount", "wheels.swap-sides":
		w.Marks = slices.DeleteFunc(w.Marks, func(k *pb.MountingMarks) bool { return k.GetPhase() == pb.Phase_PHASE_AS_LEFT })
		if m.piece(at, "marks as left") {
			w.Marks = append(w.Marks, &pb.MountingMarks{Phase: pb.Phase_PHASE_AS_LEFT, Arrow: pb.DirectionArrow_DIRECTION_ARROW_AGREES, OutsideMark: pb.MarkFaces_MARK_FACES_OUT})
		}
	case "sensor.check", "sensor.renew":
		w.SensorReadings = slices.DeleteFunc(w.SensorReadings, func(s *pb.SensorReading) bool { return s.GetPhase() == pb.Phase_PHASE_AS_LEFT })
		w.SensorReadings = append(w.SensorReadings, &pb.SensorReading{Phase: pb.Phase_PHASE_AS_LEFT, Answering: yes, Battery: pb.SensorBattery_SENSOR_BATTERY_GOOD, ShownPosition: at})
	}
}

// work carries out all lines.
func (m *mechanic) work(a *pb.Assessment) {
	pairs := map[string][]string{}
	for _, l := range a.GetWork() {
		for _, at := range l.GetPositions() {
			m.line(l, at)
		}
		switch l.GetCode() {
		case "wheel.clear-space":
			for _, at := range l.GetPositions() {
				pairs[strings.TrimRight(at, "IO")] = append(pairs[strings.TrimRight(at, "IO")], at)
			}
		case "sensor.relearn", "sensor.reset":
			m.conditions().SensorsAsLeft = pb.SensorReset_SENSOR_RESET_RELEARNED
		case "lamp.check":
			if m.piece("", "lamp as left") {
				m.conditions().LampAsLeft = pb.Lamp_LAMP_OFF
			}
		case "alignment.check":
			m.done(pb.WorkKind_WORK_KIND_ALIGNMENT_SET, l.GetPositions()...)
		case "road.test":
			m.done(pb.WorkKind_WORK_KIND_ROAD_TEST)
		}
	}
	for _, key := range slices.Sorted(maps.Keys(pairs)) {
		m.done(pb.WorkKind_WORK_KIND_DUALS_CLEARED, pairs[key]...)
	}
}

// answer answers what is asked before any work: what the labels say.
func (m *mechanic) answer() {
	for _, a := range m.req.GetVehicle().GetAxles().GetAxles() {
		if a.ColdNormalLoad == nil && a.ColdFullLoad == nil {
			a.ColdNormalLoad = &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 35}}
		}
	}
	if s := m.req.GetVehicle().GetSpare(); s != nil && s.ColdPressure == nil {
		s.ColdPressure = &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 60}}
	}
}

// doItAll carries out the order of a visit and of what is judged after it, and gives what
// is still open before driving or at this visit.
func doItAll(req *pb.AssessVisitRequest, skip string) (open []*pb.Finding, after *pb.Assessment, m *mechanic) {
	m = &mechanic{req: proto.CloneOf(req), skip: skip, did: map[string]bool{}}
	m.answer()
	const rounds = 3 // a look inside may bring out more
	for range rounds {
		if p := check.AssessVisit(m.req); len(p) > 0 {
			panic(fmt.Sprint(p, shownJSON(m.req)))
		}
		after = judge.Visit(m.req)
		open = nil
		for _, f := range after.GetFindings() {
			if f.GetUrgency() <= thisVisit && f.GetAsLeft() == nil {
				open = append(open, f)
			}
		}
		if len(open) == 0 {
			return nil, after, m
		}
		m.work(after)
	}
	return open, after, m
}

func TestDoItAll(t *testing.T) {
	left := map[string]int{}
	example := map[string]string{}
	for _, req := range everyVisit(t) {
		switch req.GetVehicle().GetVehicleClass() {
		case pb.VehicleClass_VEHICLE_CLASS_MOTORCYCLE, pb.VehicleClass(99):
			continue
		}
		open, after, m := doItAll(req, "")
		for _, f := range open {
			left[f.GetCode()]++
			if left[f.GetCode()] == 1 {
				example[f.GetCode()] = fmt.Sprint(f.GetPositions(), "\n", shownWork(m.req), len(after.GetWork()))
			}
		}
	}
	for _, code := range slices.Sorted(maps.Keys(left)) {
		t.Errorf("%4d %s", left[code], code)
	}
}
