package book

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

// judging is how a visit judges a finding again.
type judging struct {
	// at tells whether it did so at a position. Nil: nothing in a visit tells that
	// it was looked at, so it stays open until work cures it.
	at func(w wheelSeen) bool
	// whole tells whether it did so for what is about no wheel. Nil: it is the
	// warning lamp's.
	whole func(kept *pb.KeptInspection) bool
}

// again is what of a visit judges a finding again. Silence never reads as good: a
// visit that only read a pressure has said nothing of the tread.
var again = map[finding.Again]judging{
	finding.AgainAlways:    {whole: func(*pb.KeptInspection) bool { return true }},
	finding.AgainDepth:     {at: wheelSeen.depthRead},
	finding.AgainAcross:    {at: wheelSeen.readAcross},
	finding.AgainPressure:  {at: wheelSeen.pressureRead},
	finding.AgainHole:      {at: wheelSeen.holeSeen},
	finding.AgainWhole:     {at: wheelSeen.seenWhole},
	finding.AgainAllSeen:   {at: wheelSeen.seenWhole, whole: allSeen},
	finding.AgainWheel:     {at: lookedAt(pb.LookedAt_LOOKED_AT_WHEEL_FACE, pb.LookedAt_LOOKED_AT_WHEEL_BARREL)},
	finding.AgainFasteners: {at: wheelSeen.fastenersSeen},
	finding.AgainTorque:    {at: wheelSeen.torqueSet},
	finding.AgainValve:     {at: lookedAt(pb.LookedAt_LOOKED_AT_VALVE)},
	finding.AgainSensor:    {at: wheelSeen.sensorRead},
	finding.AgainRelearned: {whole: relearned},
	finding.AgainWeighed:   {at: wheelSeen.weighedAgain},
	finding.AgainMade:      {at: wheelSeen.sidewallRead},
	finding.AgainArrow:     {at: wheelSeen.arrowRead},
	finding.AgainOutside:   {at: wheelSeen.outsideRead},
	finding.AgainMarking:   {at: wheelSeen.markingRead},
	finding.AgainSpare:     {at: func(w wheelSeen) bool { return spareSeen(w.kept) }, whole: spareSeen},
	finding.AgainAsked:     {at: func(w wheelSeen) bool { return askedAgain(w.kept) }, whole: askedAgain},
}

// kindOf is the row of a finding's kind; the zero row, which nothing judges again,
// for a code that this version does not know.
func kindOf(f *pb.Finding) finding.Kind { return finding.KindOf(finding.Code(f.GetCode())) }

// judgedAgain tells whether a visit judged again what a finding is about, at
// every position of it.
func judgedAgain(f *pb.Finding, kept *pb.KeptInspection) bool {
	k := kindOf(f)
	by := again[k.Again]
	if k.Again == finding.AgainGood {
		by.at = foundGood(k.Good)
	}
	if len(f.GetPositions()) == 0 {
		if by.whole != nil {
			return by.whole(kept)
		}
		return kept.GetInspection().GetConditions().GetLampAsFound() != pb.Lamp_LAMP_UNSPECIFIED
	}
	return by.at != nil && !slices.ContainsFunc(f.GetPositions(), func(p string) bool {
		return !by.at(seenAt(p, kept))
	})
}

// spareSeen: somebody looked at the spare's surroundings.
func spareSeen(kept *pb.KeptInspection) bool { return kept.GetInspection().GetSpare() != nil }

// askedAgain: the customer was asked what he notices, and no more says this.
func askedAgain(kept *pb.KeptInspection) bool { return kept.GetInspection().GetConditions() != nil }

// allSeen: every tire was seen whole.
func allSeen(kept *pb.KeptInspection) bool {
	unreported := slices.ContainsFunc(kept.GetAssessment().GetNotLookedAt(), func(n *pb.NotLookedAt) bool { return n.GetWhat() == pb.LookedAt_LOOKED_AT_UNSPECIFIED })
	return !unreported && !slices.ContainsFunc(kept.GetAssessment().GetWheels(), func(w *pb.WheelSummary) bool { return !w.GetFullyLookedAt() })
}

func relearned(kept *pb.KeptInspection) bool {
	switch kept.GetInspection().GetConditions().GetSensorsAsLeft() {
	case pb.SensorReset_SENSOR_RESET_RELEARNED, pb.SensorReset_SENSOR_RESET_RESET, pb.SensorReset_SENSOR_RESET_NOT_NEEDED:
		return true
	}
	return slices.ContainsFunc(kept.GetInspection().GetWorkDone(), func(d *pb.WorkDone) bool {
		return d.GetKind() == pb.WorkKind_WORK_KIND_SENSOR_RELEARNED || d.GetKind() == pb.WorkKind_WORK_KIND_SENSOR_RESET
	})
}

// wheelSeen is what a visit saw of one wheel.
type wheelSeen struct {
	at      string
	report  *pb.WheelReport
	summary *pb.WheelSummary
	whole   *pb.Assessment
	kept    *pb.KeptInspection
}

func seenAt(p string, kept *pb.KeptInspection) wheelSeen {
	w := wheelSeen{at: p, whole: kept.GetAssessment(), kept: kept}
	for _, r := range kept.GetInspection().GetWheels() {
		if r.GetPosition() == p {
			w.report = r
		}
	}
	for _, s := range w.whole.GetWheels() {
		if s.GetPosition() == p {
			w.summary = s
		}
	}
	return w
}

// fastenersSeen: looked at, or counted with what was damaged when the wheel was off.
func (w wheelSeen) fastenersSeen() bool {
	work := w.report.GetFastenerWork()
	return lookedAt(pb.LookedAt_LOOKED_AT_FASTENERS)(w) || work != nil && work.Counted != nil && work.Damaged != nil
}

// torqueSet: the wheel was off again, or its torque was checked.
func (w wheelSeen) torqueSet() bool {
	return w.report.GetFastenerWork() != nil || w.report.GetTorqueRecheck() != nil
}

// sensorRead: the sensor was asked, as found, whatever it said.
func (w wheelSeen) sensorRead() bool {
	return slices.ContainsFunc(w.report.GetSensorReadings(), func(r *pb.SensorReading) bool {
		told := r.GetAnswering() == pb.Answer_ANSWER_YES || r.GetAnswering() == pb.Answer_ANSWER_NO || r.GetPressure() != nil
		return told && r.GetPhase() != pb.Phase_PHASE_AS_LEFT
	})
}

func (w wheelSeen) depthRead() bool    { return w.summary.GetGoverningDepth() != nil }
func (w wheelSeen) sidewallRead() bool { return w.report.GetSidewall().GetIdentification() != "" }
func (w wheelSeen) pressureRead() bool { return w.summary.GetFound() != nil }
func (w wheelSeen) seenWhole() bool    { return w.summary.GetFullyLookedAt() }

// weighedAgain: its axle was on a scale, and what its tire carries at the
// pressure read could be told.
func (w wheelSeen) weighedAgain() bool {
	p, err := layout.Parse(w.at)
	return err == nil && w.pressureRead() &&
		slices.ContainsFunc(w.kept.GetInspection().GetAxleWeights(), func(a *pb.AxleWeight) bool { return int(a.GetAxle()) == p.Axle }) &&
		!w.asked(finding.AskLoadRating) && !w.asked(finding.AskLoadDual)
}

// asked tells that a question about the wheel is left unanswered.
func (w wheelSeen) asked(q finding.Question) bool {
	return slices.ContainsFunc(w.whole.GetUnanswered(), func(u *pb.Unanswered) bool {
		return u.GetCode() == string(q) && slices.Contains(u.GetPositions(), w.at)
	})
}

// markingRead: the marking was read anew, and could be.
func (w wheelSeen) markingRead() bool {
	return w.report.GetSidewall().GetMarking() != "" && !w.asked(finding.AskMarking)
}

func (w wheelSeen) arrowRead() bool {
	return w.marked(func(m *pb.MountingMarks) bool { return m.GetArrow() != pb.DirectionArrow_DIRECTION_ARROW_UNSPECIFIED })
}

func (w wheelSeen) outsideRead() bool {
	return w.marked(func(m *pb.MountingMarks) bool {
		return m.GetOutsideMark() != pb.MarkFaces_MARK_FACES_UNSPECIFIED && m.GetOutsideMark() != pb.MarkFaces_MARK_FACES_NOT_SEEN
	})
}

// marked: a mark was told as found.
func (w wheelSeen) marked(told func(*pb.MountingMarks) bool) bool {
	return slices.ContainsFunc(w.report.GetMarks(), func(m *pb.MountingMarks) bool { return m.GetPhase() != pb.Phase_PHASE_AS_LEFT && told(m) })
}

// readAcross: where the depths do not tell a shape, it is asked for.
func (w wheelSeen) readAcross() bool {
	return w.depthRead() && !w.asked(finding.AskAcross)
}

func (w wheelSeen) holeSeen() bool {
	return w.seenWhole() || slices.ContainsFunc(w.whole.GetRepairs(), func(r *pb.RepairAnswer) bool { return r.GetPosition() == w.at })
}

// foundGood: one of the comparisons was made, and found good.
func foundGood(codes []finding.Checked) func(wheelSeen) bool {
	return func(w wheelSeen) bool {
		return slices.ContainsFunc(w.whole.GetNothingFound(), func(c *pb.Checked) bool {
			return slices.Contains(codes, finding.Checked(c.GetCode())) && slices.Contains(c.GetPositions(), w.at)
		})
	}
}

func lookedAt(places ...pb.LookedAt) func(wheelSeen) bool {
	return func(w wheelSeen) bool {
		return !slices.ContainsFunc(places, func(place pb.LookedAt) bool {
			return !slices.ContainsFunc(w.report.GetLooked(), func(l *pb.Looked) bool {
				return l.GetWhat() == place && l.GetNotBecause() == pb.NotLookedReason_NOT_LOOKED_REASON_UNSPECIFIED
			})
		})
	}
}
