package book

import (
	"slices"
	"strings"

	"gaugebook.dev/calc/layout"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

// subject is what the findings of one family are about.
type subject struct {
	ofTire bool // of the tire itself: another tire has none of it
	// again tells whether a visit judged it again at a position. Nil: nothing in a
	// visit tells that it was looked at, so it stays open until work cures it.
	again func(w wheelSeen) bool
	// whole tells whether a visit judged again what is about no wheel. Nil: it is
	// the warning lamp's.
	whole func(kept *pb.KeptInspection) bool
}

// subjects are the families of findings, by what stands before the dot of their
// code. Silence never reads as good: a visit that only read a pressure has said
// nothing of the tread.
var subjects = map[string]subject{
	"tread":     {ofTire: true, again: wheelSeen.depthRead},
	"trend":     {ofTire: true, again: wheelSeen.depthRead},
	"rotation":  {again: wheelSeen.depthRead},  // the places are the vehicle's
	"wear":      {again: wheelSeen.readAcross}, // its cause stays with the vehicle
	"inflation": {ofTire: true, again: wheelSeen.pressureRead},
	"puncture":  {ofTire: true, again: wheelSeen.holeSeen},
	"repair":    {ofTire: true, again: wheelSeen.holeSeen},
	"damage":    {ofTire: true, again: wheelSeen.seenWhole},
	"dual":      {ofTire: true, again: wheelSeen.seenWhole},
	"wheel":     {again: lookedAt(pb.LookedAt_LOOKED_AT_WHEEL_FACE, pb.LookedAt_LOOKED_AT_WHEEL_BARREL)},
	"fastener":  {again: wheelSeen.fastenersSeen},
	"torque":    {again: wheelSeen.torqueSet},
	"valve":     {again: lookedAt(pb.LookedAt_LOOKED_AT_VALVE)},
	"sensor":    {again: wheelSeen.sensorRead},
	"chassis":   {},
	"load":      {again: wheelSeen.weighedAgain}, // of what lies on the axle as much as of the tire
	"age":       {ofTire: true, again: wheelSeen.sidewallRead},
	"mount":     {ofTire: true, again: wheelSeen.arrowRead},
	"fitment":   {ofTire: true, again: wheelSeen.markingRead}, // it names every tire that it compares
	"match":     {ofTire: true},
	"spare":     {again: func(w wheelSeen) bool { return spareSeen(w.kept) }, whole: spareSeen},
	"complaint": {again: func(w wheelSeen) bool { return askedAgain(w.kept) }, whole: askedAgain},
}

// ofTheirOwn are findings that their family does not speak for.
var ofTheirOwn = map[string]subject{
	"spare.kit-past-its-day":  {whole: func(*pb.KeptInspection) bool { return true }}, // found again as long as it is so
	"trend.loses-alike":       {ofTire: true, again: wheelSeen.pressureRead},
	"trend.loses-faster":      {ofTire: true, again: wheelSeen.pressureRead},
	"sensor.relearn-owed":     {whole: relearned},
	"complaint.thump":         {again: wheelSeen.seenWhole, whole: allSeen},
	"complaint.hit-something": {again: wheelSeen.seenWhole, whole: allSeen},

	"spare.in-service":          {ofTire: true, again: func(w wheelSeen) bool { return spareSeen(w.kept) }},
	"spare.matching-in-service": {ofTire: true, again: func(w wheelSeen) bool { return spareSeen(w.kept) }},

	"mount.outside-in": {ofTire: true, again: wheelSeen.outsideRead},

	// Against the label: the label may be told anew, too.
	"fitment.size-not-label":    foundGood("fitment.as-label"),
	"fitment.load-below-label":  foundGood("fitment.as-label"),
	"fitment.speed-below-label": foundGood("fitment.as-label"),
	"fitment.class-not-label":   foundGood("fitment.as-label"),
	"fitment.build-not-label":   foundGood("fitment.as-label"),
	"fitment.pressure-for-size": foundGood("fitment.as-label"),

	// What one method found another of less worth does not clear.
	"match.all-wheel-drive":        foundGood("match.all-wheel-drive", "match.all-wheel-drive-tape"),
	"match.all-wheel-drive-tape":   foundGood("match.all-wheel-drive-tape"),
	"match.all-wheel-drive-design": foundGood("match.all-wheel-drive", "match.all-wheel-drive-tape"),
	"match.dual":                   foundGood("match.dual"),
	"match.dual-tread":             foundGood("match.dual", "match.dual-tread"),
	"match.dual-design":            foundGood("match.dual", "match.dual-tread"),
	"match.dual-model-limit":       foundGood("match.dual"),
	"match.dual-legal-limit":       foundGood("match.dual"),
}

func subjectOf(f *pb.Finding) subject {
	if s, own := ofTheirOwn[f.GetCode()]; own {
		return s
	}
	return subjects[family(f)]
}

// family is what stands before the dot of a finding's code.
func family(f *pb.Finding) string {
	name, _, _ := strings.Cut(f.GetCode(), ".")
	return name
}

// judgedAgain tells whether a visit judged again what a finding is about, at
// every position of it.
func judgedAgain(f *pb.Finding, kept *pb.KeptInspection) bool {
	of := subjectOf(f)
	if len(f.GetPositions()) == 0 {
		if of.whole != nil {
			return of.whole(kept)
		}
		return kept.GetInspection().GetConditions().GetLampAsFound() != pb.Lamp_LAMP_UNSPECIFIED
	}
	return of.again != nil && !slices.ContainsFunc(f.GetPositions(), func(p string) bool {
		return !of.again(seenAt(p, kept))
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
		!w.asked("ask.load-rating") && !w.asked("ask.load-dual")
}

// asked tells that a question about the wheel is left unanswered.
func (w wheelSeen) asked(code string) bool {
	return slices.ContainsFunc(w.whole.GetUnanswered(), func(u *pb.Unanswered) bool {
		return u.GetCode() == code && slices.Contains(u.GetPositions(), w.at)
	})
}

// markingRead: the marking was read anew, and could be.
func (w wheelSeen) markingRead() bool {
	return w.report.GetSidewall().GetMarking() != "" && !w.asked("fitment.ask-marking")
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
	return w.depthRead() && !w.asked("ask.across")
}

func (w wheelSeen) holeSeen() bool {
	return w.seenWhole() || slices.ContainsFunc(w.whole.GetRepairs(), func(r *pb.RepairAnswer) bool { return r.GetPosition() == w.at })
}

// foundGood is of a tire, and is judged again where the comparison with one of
// the codes was made and found good.
func foundGood(codes ...string) subject {
	return subject{ofTire: true, again: func(w wheelSeen) bool {
		return slices.ContainsFunc(w.whole.GetNothingFound(), func(c *pb.Checked) bool {
			return slices.Contains(codes, c.GetCode()) && slices.Contains(c.GetPositions(), w.at)
		})
	}}
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
