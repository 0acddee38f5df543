package translate

import (
	"cmp"
	"slices"
	"strings"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/calc/visit"

	"gaugebook.dev/server/words"
)

// rotating is what bears on changing the tires' places.
func rotating(req *pb.AssessVisitRequest, rec record) visit.Rotating {
	r := visit.Rotating{Tires: map[layout.Position]visit.Turning{}, Spare: spareMatches(req.GetVehicle().GetSpare().GetKind())}
	tires := tiresByID(req)
	var makes []rotation.Make
	for _, w := range req.GetInspection().GetWheels() {
		p := Position(w.GetPosition())
		id := cmp.Or(w.GetTireId(), rec.MovedTo(p))
		t := tires[id]
		if id == "" {
			t = tires["@"+w.GetPosition()]
		}
		s, turning := turningOf(w, t)
		turning.ID = id
		r.Tires[p] = turning
		if !p.Spare {
			makes = append(makes, rotation.Make{Identification: s.GetIdentification(), Marking: s.GetMarking(), Rim: w.GetRim(), Wheel: kebab[string](w.GetWheelKind(), "WHEEL_KIND_")})
		}
	}
	r.Alike = rotation.MakesAlike(makes)
	if every := req.GetVehicle().GetMakerFigures().GetRotationInterval(); every != nil {
		r.Every, _ = Amount(every)
	}
	r.Before, r.Changed = rec.depths(), rec.Changed()
	r.Moved = answers[req.GetInspection().GetConditions().GetTiresMoved()]
	return r
}

// turningOf is what a tire's record, its sidewall and the wheel say of the way round
// it may run; what was looked for on the wheel goes before.
func turningOf(w *pb.WheelReport, t *pb.Tire) (*pb.Sidewall, visit.Turning) {
	s := &pb.Sidewall{}
	for _, known := range []*pb.Sidewall{t.GetSidewall(), w.GetSidewall()} {
		if known != nil {
			proto.Merge(s, known)
		}
	}
	out := visit.Turning{Directional: answerOf(s.Directional), Studded: answerOf(s.Studded), OutsideMark: answerOf(s.Asymmetric)} //nolint:protogetter // absent differs from false
	for _, m := range w.GetMarks() {
		switch m.GetArrow() {
		case pb.DirectionArrow_DIRECTION_ARROW_AGREES, pb.DirectionArrow_DIRECTION_ARROW_OPPOSES:
			out.Directional = finding.Yes
		case pb.DirectionArrow_DIRECTION_ARROW_NONE:
			out.Directional = finding.No
		}
	}
	return s, out
}

func spareMatches(k pb.SpareKind) finding.Answer {
	switch k {
	case pb.SpareKind_SPARE_KIND_FULL_SIZE_MATCHING:
		return finding.Yes
	case pb.SpareKind_SPARE_KIND_FULL_SIZE_OTHER, pb.SpareKind_SPARE_KIND_COMPACT, pb.SpareKind_SPARE_KIND_COLLAPSIBLE:
		return finding.No
	}
	return finding.NotAsked
}

// RotationVisit gives the latest visit of a request to be judged with the others
// before it.
func RotationVisit(req *pb.PlanRotationRequest) *pb.AssessVisitRequest {
	out := &pb.AssessVisitRequest{
		Vehicle: req.GetVehicle(), Inspection: &pb.Inspection{}, RulebookIds: req.GetRulebookIds(), Language: req.GetLanguage(),
		Moves: req.GetMoves(), Tires: req.GetTires(), AsOf: req.GetAsOf(), WorkDone: req.GetWorkDone(),
	}
	latest := LatestVisit(req.GetVisits())
	for i, v := range req.GetVisits() {
		if i == latest {
			out.Inspection = v
			continue
		}
		out.Earlier = append(out.Earlier, v)
	}
	return out
}

// Rotation gives the comparison of rotations as the contract carries it. Distances
// are in the unit of the latest odometer, else in miles.
func Rotation(req *pb.AssessVisitRequest, v visit.Visit, out verdict.Verdict) *pb.PlanRotationResponse {
	a := Assessment(req, v, out)
	t := newTelling(req, v)
	u := unit.Miles
	if m, ok := Amount(req.GetInspection().GetOdometer()); ok {
		u = m.Unit
	}
	r := &pb.PlanRotationResponse{Assessment: a}
	for _, p := range out.Rotation.Result.Plans {
		m := t.plan(p, order.After(v, p.Map), u)
		m.Gains = gains(out.Rotation, p.Map.ID, u)
		r.Plans = append(r.Plans, m)
	}
	if len(r.GetPlans()) == 1 {
		// It has no map but to leave its tires.
		other := string(finding.RecordedRotationOtherVehicle)
		a.NotJudged = append(a.NotJudged, &pb.NotJudged{Code: other, Words: t.technician.Text(words.NotJudged, other)})
	}
	if f := out.Rotation.Unrecorded; f != nil {
		r.UnrecordedRotation = t.finding(*f)
	}
	for _, q := range out.Rotation.Result.Open {
		a.Unanswered = append(a.Unanswered, t.unanswered(q))
	}
	slices.SortStableFunc(a.GetUnanswered(), func(a, b *pb.Unanswered) int { return cmp.Compare(a.GetCode(), b.GetCode()) })
	return r
}

func (t *telling) plan(p rotation.Plan, after []order.Work, u unit.Unit) *pb.RotationPlan {
	m := &pb.RotationPlan{
		MapId: p.Map.ID, Gain: distance(p.Gain.At, u), GainLow: distance(p.Gain.Low, u), GainHigh: distance(p.Gain.High, u),
		UntilFirstOut: distance(p.Until.First, u), UntilPairOut: distance(p.Until.Pair, u), UntilSetOut: distance(p.Until.Set, u),
	}
	for _, move := range p.Map.Moves {
		m.Changes = append(m.Changes, &pb.PositionChange{FromPosition: move.From.String(), ToPosition: move.To.String(), Turned: move.Turned})
	}
	var why []string
	for _, code := range p.WhyNot {
		why = append(why, t.label(string(code)))
	}
	m.WhyNot = strings.Join(why, " ")
	said := t.label("map." + p.Map.ID)
	if len(p.Map.Moves) > 0 {
		said += ": " + t.technician.Value(words.Moves(&t.vehicle, p.Map.Moves))
	}
	said = words.Sentence(said) + "."
	for _, w := range p.Warnings {
		said += " " + t.label(string(w.Code))
	}
	m.Words = said
	for _, w := range after {
		m.Work = append(m.Work, t.work(w))
	}
	return m
}

// gains compares one plan with each of the others.
func gains(r verdict.Rotation, id string, u unit.Unit) (out []*pb.RotationGain) {
	for _, other := range r.Result.Plans {
		g := r.Result.Over(id, other.Map.ID)
		if other.Map.ID == id || g.At == nil && g.Low == nil && g.High == nil {
			continue
		}
		at, low, high := r.Days(g)
		out = append(out, &pb.RotationGain{
			OverMapId: other.Map.ID, Distance: distance(g.At, u), Low: distance(g.Low, u), High: distance(g.High, u),
			Days: days(at), DaysLow: days(low), DaysHigh: days(high),
		})
	}
	return out
}

func days(n *int) *int32 {
	if n == nil {
		return nil
	}
	return new(int32(*n))
}

func distance(d *unit.Distance, u unit.Unit) *pb.Distance {
	if d == nil {
		return nil
	}
	return fill(&pb.Distance{}, d.Amount(u).Rounded())
}
