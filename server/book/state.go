package book

import (
	"maps"
	"slices"
	"strings"

	"github.com/google/uuid"
	"google.golang.org/protobuf/proto"

	"gaugebook.dev/calc/layout"
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/translate"
)

// step gives what a visit makes of a vehicle: which tires are on it afterwards,
// what is open, and that this was its last visit. root names the tires that
// nobody named, see tiresOf; strangers are tires that it names and that were not
// on the vehicle, as far as the book knows them.
func step(before *pb.GetVehicleResponse, root string, kept *pb.KeptInspection, strangers map[string]*pb.Tire) *pb.GetVehicleResponse {
	visit := kept.GetInspection()
	next := &pb.GetVehicleResponse{
		Tires:            mount(before.GetTires(), visit, tiresOf(before.GetTires(), root, visit.GetWheels()), strangers),
		LastInspectionId: visit.GetId(), LastSeen: kept.GetRecordedAt(),
	}
	next.OpenFindings = open(before, next, kept)
	return next
}

// tireNames is the name space from which a tire that nobody named gets its id,
// so that the same visit repeated names the same tire.
var tireNames = uuid.NewSHA1(uuid.NameSpaceOID, []byte("gaugebook tire of a visit"))

// tiresOf gives the tire of each wheel: the one that is named, else the one last
// mounted there unless this visit names it elsewhere, else a new one whose id
// follows from the position and the visit, or the first that this one corrects.
func tiresOf(mounted []*pb.Tire, root string, wheels []*pb.WheelReport) []string {
	there, named := map[string]string{}, map[string]bool{}
	for _, t := range mounted {
		there[position(t)] = t.GetId()
	}
	for _, w := range wheels {
		named[w.GetTireId()] = true
	}
	ids := make([]string, len(wheels))
	for i, w := range wheels {
		on := there[w.GetPosition()]
		switch {
		case w.GetTireId() != "":
			ids[i] = w.GetTireId()
		case on != "" && !named[on]:
			ids[i] = on
		default:
			ids[i] = uuid.NewSHA1(tireNames, []byte(root+" "+w.GetPosition())).String()
		}
	}
	return ids
}

func position(t *pb.Tire) string { return t.GetPlace().GetMounted().GetPosition() }

// mount puts a visit's tires on its wheels, in order of position. One whose
// place was taken, and which is on no other wheel, is on the vehicle no more.
func mount(on []*pb.Tire, visit *pb.Inspection, ids []string, strangers map[string]*pb.Tire) []*pb.Tire {
	known, taken := map[string]*pb.Tire{}, map[string]bool{}
	maps.Copy(known, strangers)
	for _, t := range on {
		known[t.GetId()] = t
	}
	for _, w := range visit.GetWheels() {
		taken[w.GetPosition()] = true
	}
	var after []*pb.Tire
	for _, t := range on {
		if !taken[position(t)] && !slices.Contains(ids, t.GetId()) {
			after = append(after, t)
		}
	}
	for i, w := range visit.GetWheels() {
		tire := &pb.Tire{Id: ids[i]}
		if t := known[ids[i]]; t != nil {
			tire = proto.CloneOf(t)
		}
		if w.GetSidewall() != nil {
			if tire.GetSidewall() == nil {
				tire.Sidewall = &pb.Sidewall{}
			}
			proto.Merge(tire.GetSidewall(), w.GetSidewall())
		}
		tire.Place = &pb.TirePlace{At: &pb.TirePlace_Mounted{Mounted: &pb.MountedAt{VehicleId: visit.GetVehicleId(), Position: w.GetPosition()}}}
		after = append(after, tire)
	}
	slices.SortFunc(after, func(a, b *pb.Tire) int { return strings.Compare(position(a), position(b)) })
	return after
}

// open are the findings that are open after a visit, the most urgent first: its
// own that ask for something and were not closed as left, and of those open
// before the ones that it did not judge again. What must not be driven on stays
// open until an as-left reading closes it, for a tire does not heal; and what was
// found of a tire goes with it.
func open(before, after *pb.GetVehicleResponse, kept *pb.KeptInspection) []*pb.Finding {
	now := kept.GetAssessment().GetFindings()
	var open []*pb.Finding
	for _, f := range now {
		if asks(f) {
			open = append(open, f)
		}
	}
	for _, f := range before.GetOpenFindings() {
		ofTire := subjectOf(f).ofTire
		grave := ofTire && f.GetUrgency() == pb.Urgency_URGENCY_BEFORE_DRIVING
		switch {
		case has(now, f), cured(f, kept.GetInspection()), ofTire && !sameTires(before, after, f.GetPositions()):
		case grave, !judgedAgain(f, kept):
			open = append(open, f)
		}
	}
	slices.SortStableFunc(open, func(a, b *pb.Finding) int { return int(a.GetUrgency()) - int(b.GetUrgency()) })
	return open
}

// asks tells whether a finding asks for something that was not done by the end
// of its own visit.
func asks(f *pb.Finding) bool {
	return f.GetUrgency() != pb.Urgency_URGENCY_NOTE && f.GetAsLeft() == nil
}

func has(fs []*pb.Finding, f *pb.Finding) bool {
	return slices.ContainsFunc(fs, func(o *pb.Finding) bool { return o.GetId() == f.GetId() })
}

// sameTires tells whether the same tires are still at the positions.
func sameTires(before, after *pb.GetVehicleResponse, at []string) bool {
	tire := func(s *pb.GetVehicleResponse, p string) string {
		for _, t := range s.GetTires() {
			if position(t) == p {
				return t.GetId()
			}
		}
		return ""
	}
	return !slices.ContainsFunc(at, func(p string) bool { return tire(before, p) != tire(after, p) })
}

// gone lists the ids of findings that were open and are not any more.
func gone(before, after []*pb.Finding) []string {
	var ids []string
	for _, f := range before {
		if !has(after, f) {
			ids = append(ids, f.GetId())
		}
	}
	return ids
}

// cured tells whether work done at a visit set right what a finding said.
func cured(f *pb.Finding, visit *pb.Inspection) bool {
	return slices.ContainsFunc(visit.GetWorkDone(), func(d *pb.WorkDone) bool { return translate.Cures(d, visit, f) })
}

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
	"wear":      {again: wheelSeen.readAcross}, // its cause stays with the vehicle
	"inflation": {ofTire: true, again: wheelSeen.pressureRead},
	"puncture":  {ofTire: true, again: wheelSeen.holeSeen},
	"repair":    {ofTire: true, again: wheelSeen.holeSeen},
	"age":       {ofTire: true, again: wheelSeen.sidewallRead},
	"damage":    {ofTire: true, again: wheelSeen.seenWhole},
	"dual":      {ofTire: true, again: wheelSeen.seenWhole},
	"wheel":     {again: lookedAt(pb.LookedAt_LOOKED_AT_WHEEL_FACE, pb.LookedAt_LOOKED_AT_WHEEL_BARREL)},
	"fastener":  {again: wheelSeen.fastenersSeen},
	"torque":    {again: wheelSeen.torqueSet},
	"valve":     {again: lookedAt(pb.LookedAt_LOOKED_AT_VALVE)},
	"sensor":    {again: wheelSeen.sensorRead},
	"chassis":   {},
	"load":      {again: wheelSeen.weighedAgain}, // of what lies on the axle as much as of the tire
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
func (w wheelSeen) pressureRead() bool { return w.summary.GetFound() != nil }
func (w wheelSeen) sidewallRead() bool { return w.report.GetSidewall().GetIdentification() != "" }
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

// readAcross: where the depths do not tell a shape, it is asked for.
func (w wheelSeen) readAcross() bool {
	return w.depthRead() && !w.asked("ask.across")
}

func (w wheelSeen) holeSeen() bool {
	return w.seenWhole() || slices.ContainsFunc(w.whole.GetRepairs(), func(r *pb.RepairAnswer) bool { return r.GetPosition() == w.at })
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
