package judge_test

import (
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/durationpb"
	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// wheelEnds draws what a visit records of sensors, fasteners, spare and complaints.
func (d *drawn) wheelEnds() {
	in := d.req.GetInspection()
	if d.odds(30) {
		d.sensors(in)
	}
	if d.odds(20) {
		d.fastened(in)
	}
	for d.odds(15) {
		if in.GetConditions() == nil {
			in.Conditions = &pb.Conditions{}
		}
		in.Conditions.Complaints = append(in.Conditions.Complaints, d.complaint())
	}
	if d.odds(10) {
		in.Spare = &pb.SpareReport{Reachable: d.answer(), HoistWorks: d.answer(), JackPresent: d.answer(), KeyPresent: d.answer(), KitPresent: d.answer()}
		if d.odds(30) {
			in.Spare.InServicePosition = oneOf(d, d.positions...)
		}
	}
	if d.req.Vehicle.Spare == nil && d.odds(10) {
		d.req.Vehicle.Spare = &pb.Spare{Kind: pb.SpareKind_SPARE_KIND_NONE_SEALANT_KIT, KitExpiresDate: dayOf(d.day.AddDate(0, 0, d.between(-400, 400)))}
	}
}

// sensors of one vehicle: mostly they read as the gauge does, some are dealt
// elsewhere.
func (d *drawn) sensors(in *pb.Inspection) {
	d.req.Vehicle.Tpms = oneOf(d, pb.TpmsKind_TPMS_KIND_DIRECT, pb.TpmsKind_TPMS_KIND_DIRECT, pb.TpmsKind_TPMS_KIND_DIRECT, d.req.Vehicle.Tpms)
	shift := oneOf(d, 0, 0, 0, 4, -5)
	for i, w := range in.Wheels {
		psi := d.labelAt(w.Position) * d.air
		if d.odds(70) && len(w.Pressures) > 0 {
			psi = inBase(w.Pressures[0].Pressure.ProtoReflect()) / 6.894757
		}
		if d.odds(10) {
			psi = d.labelAt(in.Wheels[(i+1)%len(in.Wheels)].Position)
		}
		s := &pb.SensorReading{Answering: pb.Answer_ANSWER_YES, Pressure: d.pressure(max(psi+float64(shift), 0)), Battery: oneOf(d, pb.SensorBattery_SENSOR_BATTERY_GOOD, 0, pb.SensorBattery_SENSOR_BATTERY_LOW)}
		if d.odds(10) {
			s = &pb.SensorReading{Answering: d.answer()}
		}
		if d.odds(30) {
			s.ShownPosition = oneOf(d, w.Position, w.Position, oneOf(d, d.positions...))
		}
		if d.odds(20) {
			s.Temperature = d.temperature(float64(d.between(-10, 60)))
		}
		w.SensorReadings = []*pb.SensorReading{s}
		if d.odds(20) {
			left := proto.Clone(s).(*pb.SensorReading)
			left.Phase = pb.Phase_PHASE_AS_LEFT
			w.SensorReadings = append(w.SensorReadings, left)
		}
	}
	if in.Conditions != nil {
		in.Conditions.LampAsLeft, in.Conditions.SensorsAsLeft = pb.Lamp(d.between(0, 4)), pb.SensorReset(d.between(0, 4))
	}
}

func (d *drawn) fastened(in *pb.Inspection) {
	if d.req.Vehicle.Fasteners == nil {
		d.req.Vehicle.Fasteners = &pb.Fasteners{}
	}
	if d.odds(60) {
		d.req.Vehicle.Fasteners.EachWheel = new(int32(d.between(4, 6)))
	}
	for _, w := range in.Wheels {
		switch {
		case d.odds(30):
			w.FastenerWork = d.fastenerWork()
		case d.odds(20):
			w.TorqueRecheck = d.recheck()
		}
		if d.odds(10) {
			w.Observations = append(w.Observations, &pb.Observation{Kind: pb.ObservationKind_OBSERVATION_KIND_STUD_BROKEN, Count: new(int32(d.between(1, 3)))})
		}
	}
	for _, e := range d.req.GetEarlier() {
		for _, w := range e.Wheels {
			if d.odds(30) {
				w.FastenerWork = d.fastenerWork()
			} else if d.odds(20) {
				w.TorqueRecheck = d.recheck()
			}
		}
	}
	if d.odds(40) {
		in.WorkDone = append(in.WorkDone, &pb.WorkDone{Positions: []string{oneOf(d, d.positions...)}, Kind: oneOf(d,
			pb.WorkKind_WORK_KIND_BEARING_WORK, pb.WorkKind_WORK_KIND_BRAKE_WORK, pb.WorkKind_WORK_KIND_STEERING_PART_RENEWED,
			pb.WorkKind_WORK_KIND_SUSPENSION_PART_RENEWED, pb.WorkKind_WORK_KIND_VALVE_RENEWED, pb.WorkKind_WORK_KIND_SENSOR_RELEARNED)})
	}
}

func (d *drawn) torque() *pb.Torque {
	if d.odds(20) {
		return nil
	}
	if d.metric {
		return &pb.Torque{AsRead: &pb.Torque_NewtonMeters{NewtonMeters: float64(d.between(80, 160))}}
	}
	return &pb.Torque{AsRead: &pb.Torque_PoundFeet{PoundFeet: float64(d.between(60, 120))}}
}

func (d *drawn) fastenerWork() *pb.FastenerWork {
	f := &pb.FastenerWork{FacesCleaned: d.answer(), Staged: d.answer(), Torque: d.torque(), Tool: pb.TorqueTool(d.between(0, 4)), Pattern: pb.TorquePattern(d.between(0, 3)), DoneBy: oneOf(d, "", "invented")}
	if d.odds(70) {
		f.Counted, f.Damaged, f.Replaced = new(int32(5)), new(int32(oneOf(d, 0, 0, 1, 2))), new(int32(oneOf(d, 0, 1, 3, 5)))
	}
	return f
}

func (d *drawn) recheck() *pb.TorqueRecheck {
	r := &pb.TorqueRecheck{Torque: d.torque(), DoneBy: oneOf(d, "", "invented", "invented"), WheelCool: d.answer(), AnyMoved: d.answer()}
	if d.odds(60) {
		r.Odometer = d.distance(d.odometer + float64(d.between(0, 200)))
	}
	return r
}

func (d *drawn) complaint() *pb.Complaint {
	c := &pb.Complaint{Kind: pb.ComplaintKind(d.between(1, 13)), FeltAt: pb.FeltAt(d.between(0, 4))}
	if d.odds(40) {
		c.Position = oneOf(d, d.positions...)
	}
	if d.odds(30) {
		c.SpeedFrom = &pb.Speed{AsRead: &pb.Speed_MilesPerHour{MilesPerHour: float64(d.between(5, 70))}}
	}
	if d.odds(30) {
		c.AiredEvery = durationpb.New(time.Duration(d.between(1, 60)) * 24 * time.Hour)
	}
	return c
}

// sides swaps what names a side of the vehicle by a word of its own.
var sides = strings.NewReplacer("pulls-left", "pulls-right", "pulls-right", "pulls-left")

// mirroredKind swaps the complaints that name a side.
func mirroredKind(m proto.Message) {
	c, ok := m.(*pb.Complaint)
	switch {
	case !ok:
	case c.Kind == pb.ComplaintKind_COMPLAINT_KIND_PULLS_LEFT:
		c.Kind = pb.ComplaintKind_COMPLAINT_KIND_PULLS_RIGHT
	case c.Kind == pb.ComplaintKind_COMPLAINT_KIND_PULLS_RIGHT:
		c.Kind = pb.ComplaintKind_COMPLAINT_KIND_PULLS_LEFT
	}
}

// A complaint is evidence: one more removes no finding, makes none milder, and
// takes nothing from the order of work.
func TestOneMoreComplaintMakesNothingMilder(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		more := proto.Clone(req).(*pb.AssessVisitRequest)
		if more.Inspection.Conditions == nil {
			more.Inspection.Conditions = &pb.Conditions{}
		}
		var positions []string
		for _, w := range req.Inspection.Wheels {
			positions = append(positions, w.Position)
		}
		c := (&drawn{T: t, positions: positions}).complaint()
		more.Inspection.Conditions.Complaints = append(more.Inspection.Conditions.Complaints, c)
		before, after := judged(t, req), judged(t, more)
		for _, f := range before.GetFindings() {
			if g := byID(after, f.Id); g == nil || g.Urgency != f.Urgency || len(g.Evidence) < len(f.Evidence) {
				t.Fatalf("%v changes %s to %v\n%s", c, f.Id, g, shownJSON(req))
			}
		}
		for _, w := range before.GetWork() {
			if !slices.ContainsFunc(after.GetWork(), func(o *pb.WorkItem) bool { return o.Code == w.Code && o.Urgency <= w.Urgency }) {
				t.Fatalf("%v takes %s from the work\n%s", c, w.Code, shownJSON(req))
			}
		}
	})
}

// What was done about a wheel closes findings and removes none. A check of torque that was
// owed is of the fastening before: of a wheel that was off, that of today is judged.
func TestWorkDoneRemovesNoFinding(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		more := proto.Clone(req).(*pb.AssessVisitRequest)
		w := wheelWhere(t, req, func(*pb.WheelReport) bool { return true })
		kind := pb.WorkKind(rapid.SampledFrom([]int{1, 7, 8, 9, 10, 14, 16, 17}).Draw(t, "kind"))
		more.Inspection.WorkDone = append(more.Inspection.WorkDone, &pb.WorkDone{Kind: kind, Positions: []string{w.Position}})
		before, after := judged(t, req), judged(t, more)
		for _, f := range before.GetFindings() {
			anew := slices.ContainsFunc(findingsAt(after, w.Position, "torque.no-record"), func(g *pb.Finding) bool { return g.Urgency <= f.Urgency })
			if f.Code == "torque.recheck-owed" && slices.Equal(f.Positions, []string{w.Position}) && anew {
				continue
			}
			if g := byID(after, f.Id); g == nil || g.Urgency != f.Urgency {
				t.Fatalf("%v at %s changes %s to %v\n%s", kind, w.Position, f.Id, g, shownJSON(req))
			}
		}
	})
}
