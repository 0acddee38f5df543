package book

import (
	"slices"

	"gaugebook.dev/calc/closing"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/translate"
)

// opened is what of an open finding bears on what closes it.
func opened(f *pb.Finding) closing.Open {
	return closing.Open{ID: f.GetId(), Code: finding.Code(f.GetCode()), Urgency: finding.Urgency(f.GetUrgency()), Positions: places(f.GetPositions())}
}

func places(names []string) []layout.Position {
	var at []layout.Position
	for _, name := range names {
		at = append(at, translate.Position(name))
	}
	return at
}

// later is what a visit saw and did, as far as it bears on what was open before it.
// before and after are the tires on the vehicle.
func later(kept *pb.KeptInspection, before, after []*pb.Tire) closing.Later {
	in, a := kept.GetInspection(), kept.GetAssessment()
	v := closing.Later{
		Wheels: map[layout.Position]closing.Wheel{}, Work: translate.DoneAt(in), OtherTire: changed(before, after),
		Lamp:  in.GetConditions().GetLampAsFound() != pb.Lamp_LAMP_UNSPECIFIED,
		Spare: in.GetSpare() != nil, Complaints: in.GetConditions() != nil, AllSeen: allSeen(a), Relearned: relearned(in),
	}
	for _, f := range a.GetFindings() {
		v.Found = append(v.Found, closing.Found{ID: f.GetId(), Asks: asks(f)})
	}
	for _, w := range in.GetAxleWeights() {
		v.Weighed = append(v.Weighed, int(w.GetAxle()))
	}
	for _, r := range in.GetWheels() {
		v.Wheels[translate.Position(r.GetPosition())] = reported(r)
	}
	at := func(name string, tell func(*closing.Wheel)) {
		w := v.Wheels[translate.Position(name)]
		tell(&w)
		v.Wheels[translate.Position(name)] = w
	}
	for _, s := range a.GetWheels() {
		at(s.GetPosition(), func(w *closing.Wheel) {
			w.Depth, w.Pressure, w.Whole = s.GetGoverningDepth() != nil, s.GetFound() != nil, s.GetFullyLookedAt()
		})
	}
	for _, r := range a.GetRepairs() {
		at(r.GetPosition(), func(w *closing.Wheel) { w.Injury = true })
	}
	for _, c := range a.GetNothingFound() {
		for _, p := range c.GetPositions() {
			at(p, func(w *closing.Wheel) { w.Good = append(w.Good, finding.Checked(c.GetCode())) })
		}
	}
	for _, q := range a.GetUnanswered() {
		for _, p := range q.GetPositions() {
			at(p, func(w *closing.Wheel) { w.Asked = append(w.Asked, finding.Question(q.GetCode())) })
		}
	}
	return v
}

// reported is what a report says was read and seen of a wheel as found.
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
	return slices.ContainsFunc(w.GetLooked(), func(l *pb.Looked) bool {
		return l.GetWhat() == place && l.GetNotBecause() == pb.NotLookedReason_NOT_LOOKED_REASON_UNSPECIFIED
	})
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
	return !unreported && !slices.ContainsFunc(a.GetWheels(), func(w *pb.WheelSummary) bool { return !w.GetFullyLookedAt() })
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
func changed(before, after []*pb.Tire) (at []layout.Position) {
	there := func(tires []*pb.Tire, p string) string {
		i := slices.IndexFunc(tires, func(t *pb.Tire) bool { return position(t) == p })
		if i < 0 {
			return ""
		}
		return tires[i].GetId()
	}
	for _, t := range slices.Concat(before, after) {
		if p := position(t); there(before, p) != there(after, p) {
			at = append(at, translate.Position(p))
		}
	}
	return at
}
