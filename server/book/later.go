package book

import (
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"

	"gaugebook.dev/calc/closing"
	"gaugebook.dev/server/translate"
)

// laterVisit is what a visit saw and did, as far as it bears on what was open before
// it. before and after are the tires on the vehicle.
func laterVisit(v *visit, before, after []*pb.Tire) closing.Later {
	in, a := v.inspection, v.assessment
	out := closing.Later{
		Wheels: map[layout.Position]closing.Wheel{}, Work: translate.DoneAt(in), OtherTire: changed(before, after),
		Lamp:  in.GetConditions().GetLampAsFound() != pb.Lamp_LAMP_UNSPECIFIED,
		Spare: in.GetSpare() != nil, Complaints: in.GetConditions() != nil, AllSeen: allSeen(a), Relearned: relearned(in),
	}
	for _, f := range a.GetFindings() {
		out.Found = append(out.Found, closing.Found{ID: f.GetId(), Asks: asks(f), PutRight: putRight(f)})
	}
	for _, w := range in.GetWheels() {
		out.Wheels[translate.Position(w.GetPosition())] = reported(w)
	}
	// add changes what is known of wheels, reported or not.
	add := func(change func(*closing.Wheel), at ...string) {
		for _, p := range translate.Positions(at) {
			w := out.Wheels[p]
			change(&w)
			out.Wheels[p] = w
		}
	}
	for _, s := range a.GetWheels() {
		add(func(w *closing.Wheel) {
			w.Depth, w.Pressure, w.Whole = s.GetGoverningDepth() != nil, s.GetFound() != nil, s.GetCoverage() == nil
		}, s.GetPosition())
	}
	for _, r := range a.GetRepairs() {
		add(func(w *closing.Wheel) { w.Injury = true }, r.GetPosition())
	}
	for _, g := range a.GetNothingFound() {
		add(func(w *closing.Wheel) { w.Good = append(w.Good, finding.Checked(g.GetCode())) }, g.GetPositions()...)
	}
	for _, q := range a.GetQuestions() {
		add(func(w *closing.Wheel) { w.Asked = append(w.Asked, finding.Question(q.GetCode())) }, q.GetPositions()...)
	}
	for _, w := range in.GetAxleWeights() {
		if w.GetPhase() != pb.Phase_PHASE_AS_LEFT {
			out.Weighed = append(out.Weighed, int(w.GetAxle()))
		}
	}
	return out
}

// reported is what a report says was seen of a wheel as found.
func reported(w *pb.WheelReport) closing.Wheel {
	work := w.GetFastenerWork()
	return closing.Wheel{
		Identification: w.GetSidewall().GetIdentification() != "", Marking: w.GetSidewall().GetMarking() != "",
		Arrow: marked(w, func(m *pb.MountingMarks) bool { return m.GetArrow() != pb.DirectionArrow_DIRECTION_ARROW_UNSPECIFIED }),
		Outside: marked(w, func(m *pb.MountingMarks) bool {
			return m.GetOutsideMark() != pb.MarkFaces_MARK_FACES_UNSPECIFIED && m.GetOutsideMark() != pb.MarkFaces_MARK_FACES_NOT_SEEN
		}),
		Sensor:    slices.ContainsFunc(w.GetSensorReadings(), sensorAsked),
		Fasteners: lookedAt(w, pb.LookedAt_LOOKED_AT_FASTENERS) || work != nil && work.Counted != nil && work.Damaged != nil,
		Torque:    work != nil || w.GetTorqueRecheck() != nil,
		Valve:     lookedAt(w, pb.LookedAt_LOOKED_AT_VALVE),
		Rim:       lookedAt(w, pb.LookedAt_LOOKED_AT_WHEEL_FACE) && lookedAt(w, pb.LookedAt_LOOKED_AT_WHEEL_BARREL),
	}
}

func lookedAt(w *pb.WheelReport, place pb.LookedAt) bool {
	return slices.ContainsFunc(w.GetLooked(), func(l *pb.Looked) bool { return l.GetWhat() == place && l.GetSeen() })
}

// marked: a mark was told as found.
func marked(w *pb.WheelReport, told func(*pb.MountingMarks) bool) bool {
	return slices.ContainsFunc(w.GetMarks(), func(m *pb.MountingMarks) bool { return m.GetPhase() != pb.Phase_PHASE_AS_LEFT && told(m) })
}

// sensorAsked: as found, whatever it said.
func sensorAsked(r *pb.SensorReading) bool {
	told := r.GetAnswering() == pb.Answer_ANSWER_YES || r.GetAnswering() == pb.Answer_ANSWER_NO || r.GetPressure() != nil
	return told && r.GetPhase() != pb.Phase_PHASE_AS_LEFT
}

// allSeen: every tire was seen whole.
func allSeen(a *pb.Assessment) bool {
	unreported := slices.ContainsFunc(a.GetNotLookedAt(), func(n *pb.NotLookedAt) bool { return n.GetWhat() == pb.LookedAt_LOOKED_AT_UNSPECIFIED })
	return !unreported && !slices.ContainsFunc(a.GetWheels(), func(w *pb.WheelSummary) bool { return w.GetCoverage() != nil })
}

func relearned(in *pb.Inspection) bool {
	switch in.GetConditions().GetSensorsAsLeft() {
	case pb.SensorReset_SENSOR_RESET_RELEARNED, pb.SensorReset_SENSOR_RESET_RESET, pb.SensorReset_SENSOR_RESET_NOT_NEEDED:
		return true
	}
	return slices.ContainsFunc(in.GetWorkDone(), func(d *pb.WorkDone) bool {
		return d.GetKind() == pb.WorkKind_WORK_KIND_SENSOR_RELEARNED || d.GetKind() == pb.WorkKind_WORK_KIND_SENSOR_RESET
	})
}

// changed are the positions at which another tire is after a visit than before, or none.
func changed(before, after []*pb.Tire) []layout.Position {
	var out []string
	for _, t := range before {
		if now := tireAt(after, position(t)); now.GetId() != t.GetId() {
			out = append(out, position(t))
		}
	}
	for _, t := range after {
		if tireAt(before, position(t)) == nil {
			out = append(out, position(t))
		}
	}
	return translate.Positions(out)
}
