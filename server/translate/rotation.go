package translate

import (
	"cmp"
	"slices"
	"strings"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"

	"gaugebook.dev/server/words"
)

// rotating is what bears on changing the tires' places.
func rotating(req *pb.AssessVisitRequest, before past) verdict.Rotating {
	r := verdict.Rotating{Tires: map[layout.Position]verdict.Turning{}, Spare: spareMatches(req.GetVehicle().GetSpare().GetKind())}
	tires := tiresByID(req)
	var sidewalls []*pb.Sidewall
	for _, w := range req.GetInspection().GetWheels() {
		p, _ := layout.Parse(w.GetPosition()) // accepted by check
		id := cmp.Or(w.GetTireId(), before.movedTo(w.GetPosition()))
		t := tires[id]
		if id == "" {
			t = tires["@"+w.GetPosition()]
		}
		s, turning := turningOf(w, t)
		turning.ID = id
		r.Tires[p] = turning
		if !p.Spare {
			sidewalls = append(sidewalls, s)
		}
	}
	r.Alike = alike(sidewalls, req.GetInspection().GetWheels())
	if every := req.GetVehicle().GetMakerFigures().GetRotationInterval(); every != nil {
		r.Every, _ = Amount(every)
	}
	r.Before, r.Changed = before.depths(), before.changed()
	r.Moved = answers[req.GetInspection().GetConditions().GetTiresMoved()]
	return r
}

// turningOf is what a tire's record, its sidewall and the wheel say of the way round
// it may run; what was looked for on the wheel goes before.
func turningOf(w *pb.WheelReport, t *pb.Tire) (*pb.Sidewall, verdict.Turning) {
	s := &pb.Sidewall{}
	for _, known := range []*pb.Sidewall{t.GetSidewall(), w.GetSidewall()} {
		if known != nil {
			proto.Merge(s, known)
		}
	}
	out := verdict.Turning{Directional: answerOf(s.Directional), Studded: answerOf(s.Studded), OutsideMark: answerOf(s.Asymmetric)} //nolint:protogetter // absent differs from false
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

// alike compares the tires and wheels of the road. They are alike when all of size,
// rim, kind of wheel and identification but its date are told and the same: the
// identification names plant, size and type (49 CFR 574.5). One that is told to
// differ makes them differ, but for the plant.
func alike(sidewalls []*pb.Sidewall, wheels []*pb.WheelReport) finding.Answer {
	wheels = slices.DeleteFunc(slices.Clone(wheels), func(w *pb.WheelReport) bool { return w.GetPosition() == "S" })
	bare := func(s string) string { return strings.ToUpper(strings.Join(strings.Fields(s), "")) }
	answer := finding.Yes
	same := func(differing finding.Answer, told func(i int) string) {
		for i := range wheels {
			switch first, is := told(0), told(i); {
			case first == "" || is == "":
				answer = max(answer, finding.NotKnown)
			case is != first && answer != finding.No:
				answer = differing
			}
		}
	}
	same(finding.NotKnown, func(i int) string {
		return bare(strings.TrimSuffix(sidewalls[i].GetIdentification(), lastFour(sidewalls[i].GetIdentification())))
	})
	same(finding.No, func(i int) string { return bare(sidewalls[i].GetMarking()) })
	same(finding.No, func(i int) string { return bare(wheels[i].GetRim()) })
	same(finding.No, func(i int) string { return kebab[string](wheels[i].GetWheelKind(), "WHEEL_KIND_") })
	return answer
}

// depths gives the depths as found at earlier visits whose odometer is known, the
// latest first.
func (h past) depths() []verdict.DepthsBefore {
	var out []verdict.DepthsBefore
	for _, e := range h.early {
		ago := h.ago(e.GetOdometer())
		if ago == nil {
			continue
		}
		d := verdict.DepthsBefore{Ago: *ago, Day: Date(e.GetLocalDate())}
		d.Gauge, _ = depthGauge(e.GetGauges())
		for _, w := range e.GetWheels() {
			p, err := layout.Parse(w.GetPosition())
			if err != nil {
				continue
			}
			at := verdict.DepthsAt{Position: p, Tire: w.GetTireId()}
			for _, r := range w.GetTread() {
				if of, u, ok := of(unit.DepthOf, r.GetDepth()); ok && r.GetPhase() != pb.Phase_PHASE_AS_LEFT {
					at.Readings = append(at.Readings, tread.Reading{Depth: of, AsRead: unit.Amount{Number: mustAmount(r.GetDepth()).Number, Unit: u},
						Across: layout.Across(r.GetAcross()), Groove: int(r.GetGroove()), Station: int(r.GetStation())})
				}
			}
			if len(at.Readings) > 0 {
				d.Wheels = append(d.Wheels, at)
			}
		}
		if len(d.Wheels) > 0 {
			out = append(out, d)
		}
	}
	slices.SortStableFunc(out, func(a, b verdict.DepthsBefore) int { return cmp.Compare(a.Ago, b.Ago) })
	return out
}

// changed tells how long ago tires were moved or exchanged, by the record: moves and
// work, that of this visit too, and the answers of earlier visits.
func (h past) changed() []*unit.Distance {
	var out []*unit.Distance
	for _, w := range slices.Concat(h.work, h.today) {
		switch w.GetKind() {
		case pb.WorkKind_WORK_KIND_TIRES_ROTATED, pb.WorkKind_WORK_KIND_TIRES_REPLACED, pb.WorkKind_WORK_KIND_SEASON_CHANGED, pb.WorkKind_WORK_KIND_TIRE_MOUNTED:
			out = append(out, h.ago(w.GetOdometer()))
		}
	}
	for _, m := range h.moves {
		out = append(out, h.ago(m.GetOdometer()))
	}
	for _, e := range h.early {
		if e.GetConditions().GetTiresMoved() == pb.Answer_ANSWER_YES {
			out = append(out, h.ago(e.GetOdometer()))
		}
	}
	return out
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

// LatestVisit gives the index of the latest of some visits: by their days where all
// are told, on one day by the odometer; else by the odometer alone. -1: there is none.
func LatestVisit(visits []*pb.Inspection) int {
	dated := !slices.ContainsFunc(visits, func(v *pb.Inspection) bool { return v.GetLocalDate() == nil })
	latest := -1
	for i, v := range visits {
		if latest < 0 || compareVisits(v, visits[latest], dated) > 0 {
			latest = i
		}
	}
	return latest
}

func compareVisits(a, b *pb.Inspection, dated bool) int {
	days := 0
	if dated {
		days = -cmp.Compare(Date(a.GetLocalDate()).DaysUntil(Date(b.GetLocalDate())), 0)
	}
	return cmp.Or(days, cmp.Compare(odometer(a.GetOdometer()), odometer(b.GetOdometer())), cmp.Compare(a.GetTakenAt().AsTime().UnixNano(), b.GetTakenAt().AsTime().UnixNano()))
}

// Rotation gives the comparison of rotations as the contract carries it. Distances
// are in the unit of the latest odometer, else in miles.
func Rotation(req *pb.AssessVisitRequest, v verdict.Visit, out verdict.Verdict) *pb.PlanRotationResponse {
	a := Assessment(req, v, out)
	t := newTelling(req, v)
	u := unit.Miles
	if m, ok := Amount(req.GetInspection().GetOdometer()); ok {
		u = m.Unit
	}
	r := &pb.PlanRotationResponse{Assessment: a}
	for _, p := range out.Rotation.Result.Plans {
		m := t.plan(p, verdict.After(v, p.Map), u)
		m.Gains = gains(out.Rotation, p.Map.ID, u)
		r.Plans = append(r.Plans, m)
	}
	if len(r.GetPlans()) == 1 {
		// It has no map but to leave its tires.
		other := string(finding.RecordedRotationOtherVehicle)
		a.NotJudged = append(a.NotJudged, &pb.NotJudged{Code: other, Words: t.texts.NotJudged[other]})
	}
	if f := out.Rotation.Unrecorded; f != nil {
		r.UnrecordedRotation = t.finding(*f)
	}
	for _, q := range out.Rotation.Result.Open {
		said := t.texts.Questions[string(q)]
		a.Unanswered = append(a.Unanswered, &pb.Unanswered{Code: string(q), Question: said.Technician, WouldAllow: said.Customer})
	}
	slices.SortStableFunc(a.GetUnanswered(), func(a, b *pb.Unanswered) int { return cmp.Compare(a.GetCode(), b.GetCode()) })
	return r
}

func (t *telling) plan(p rotation.Plan, after []verdict.Work, u unit.Unit) *pb.RotationPlan {
	m := &pb.RotationPlan{
		MapId: p.Map.ID, Gain: distance(p.Gain.At, u), GainLow: distance(p.Gain.Low, u), GainHigh: distance(p.Gain.High, u),
		UntilFirstOut: distance(p.Until.First, u), UntilPairOut: distance(p.Until.Pair, u), UntilSetOut: distance(p.Until.Set, u),
	}
	for _, move := range p.Map.Moves {
		m.Changes = append(m.Changes, &pb.PositionChange{FromPosition: move.From.String(), ToPosition: move.To.String(), Turned: move.Turned})
	}
	var why []string
	for _, code := range p.WhyNot {
		why = append(why, t.texts.Labels[string(code)])
	}
	m.WhyNot = strings.Join(why, " ")
	said := t.texts.Labels["map."+p.Map.ID]
	if len(p.Map.Moves) > 0 {
		said += ": " + t.changes(p.Map)
	}
	said = words.Sentence(said) + "."
	for _, w := range p.Warnings {
		said += " " + t.texts.Labels[string(w.Code)]
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

// changes writes the moves of a map: "LF→RR, RF→LR".
func (t *telling) changes(m rotation.Map) string {
	var all []string
	for _, move := range m.Moves {
		s := t.shownAt(move.From) + "→" + t.shownAt(move.To)
		if move.Turned {
			s += " " + t.texts.Labels["map.turned"]
		}
		all = append(all, s)
	}
	return strings.Join(all, ", ")
}

func distance(d *unit.Distance, u unit.Unit) *pb.Distance {
	if d == nil {
		return nil
	}
	return fill(&pb.Distance{}, d.Amount(u).Rounded())
}
