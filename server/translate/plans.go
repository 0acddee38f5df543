package translate

import (
	"slices"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/order"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/calc/visit"
)

// Rotation gives the comparison of rotations as the contract carries it, without a
// word. Distances are in the unit of the latest odometer, else in miles.
func Rotation(req *pb.AssessVisitRequest, v visit.Visit, out verdict.Verdict) *pb.PlanRotationResponse {
	a := Assessment(req, v, out)
	u := unit.Miles
	if m, ok := Amount(req.GetInspection().GetOdometer()); ok {
		u = m.Unit
	}
	r := &pb.PlanRotationResponse{Assessment: a}
	for _, p := range out.Rotation.Result.Plans {
		m := plan(p, order.After(v, p.Map), u)
		m.Gains = gains(out.Rotation, p.Map.ID, u)
		r.Plans = append(r.Plans, m)
	}
	if len(r.GetPlans()) == 1 { // it has no map but to leave its tires
		a.NotJudged = append(a.NotJudged, &pb.NotJudged{Code: string(finding.RecordedRotationOtherVehicle)})
	}
	if f := out.Rotation.Unrecorded; f != nil {
		r.UnrecordedRotation = findingMessage(*f, tiresAt(req))
	}
	for _, q := range out.Rotation.Result.Open {
		a.Questions = append(a.Questions, &pb.Question{Code: string(q)})
	}
	slices.SortStableFunc(a.GetQuestions(), func(a, b *pb.Question) int {
		return finding.CompareQuestions(finding.Question(a.GetCode()), finding.Question(b.GetCode()))
	})
	Count(a)
	for _, p := range r.GetPlans() {
		a.Cautions = cautions(a.GetCautions(), nil, p.GetWork())
	}
	if f := r.GetUnrecordedRotation(); f != nil {
		a.Cautions = cautions(a.GetCautions(), []*pb.Finding{f}, nil)
	}
	return r
}

func plan(p rotation.Plan, after []order.Work, u unit.Unit) *pb.RotationPlan {
	m := &pb.RotationPlan{
		MapId: p.Map.ID, Changes: changes(p.Map), Gain: distance(p.Gain.At, u), GainLow: distance(p.Gain.Low, u), GainHigh: distance(p.Gain.High, u),
		UntilFirstOut: distance(p.Until.First, u), UntilPairOut: distance(p.Until.Pair, u), UntilSetOut: distance(p.Until.Set, u),
	}
	for _, code := range p.WhyNot {
		m.WhyNot = append(m.WhyNot, said(code))
	}
	for _, w := range p.Warnings {
		m.Warnings = append(m.Warnings, said(w.Code))
	}
	for _, w := range after {
		m.Work = append(m.Work, workMessage(w))
	}
	return m
}

// changes are the wheels of a map that change place.
func changes(m rotation.Map) []*pb.PositionChange {
	var all []*pb.PositionChange
	for _, move := range m.Moves {
		all = append(all, &pb.PositionChange{FromPosition: move.From.String(), ToPosition: move.To.String(), Turned: move.Turned})
	}
	return all
}

// gains compares one plan with each of the others.
func gains(r verdict.Rotation, id string, u unit.Unit) (out []*pb.RotationGain) {
	for _, other := range r.Result.Plans {
		g := r.Result.Over(id, other.Map.ID)
		if other.Map.ID == id || g.At == nil && g.Low == nil && g.High == nil {
			continue
		}
		likely, low, high := r.Days(g)
		out = append(out, &pb.RotationGain{
			OverMapId: other.Map.ID, Distance: distance(g.At, u), Low: distance(g.Low, u), High: distance(g.High, u),
			Days: days(likely), DaysLow: days(low), DaysHigh: days(high),
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
