package translate

import (
	"cmp"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rotation"
	"gaugebook.dev/calc/visit"
)

// rotating is what bears on changing the tires' places.
func rotating(req *pb.AssessVisitRequest, rec record, tires map[string]*pb.Tire) visit.Rotating {
	r := visit.Rotating{Tires: map[layout.Position]visit.Turning{}, Spare: spareMatches(req.GetVehicle().GetSpare().GetKind())}
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
			makes = append(makes, rotation.Make{Identification: s.GetIdentification(), Marking: s.GetMarking(), Rim: w.GetRim(), Wheel: wheelKinds.code(w.GetWheelKind())})
		}
	}
	r.Alike = rotation.MakesAlike(makes)
	if every := req.GetVehicle().GetMakerFigures().GetRotationInterval(); every != nil {
		r.Every, _ = Amount(every)
	}
	r.Before, r.Changed = rec.depths(), rec.Changed()
	r.NoKey = answers[req.GetInspection().GetSpare().GetKeyPresent()] == finding.No
	r.Moved = answers[req.GetInspection().GetConditions().GetTiresMoved()]
	return r
}

// turningOf is what a tire's record, its sidewall and the wheel say of the way round
// it may run; what was looked for on the wheel goes before.
func turningOf(w *pb.WheelReport, t *pb.Tire) (*pb.Sidewall, visit.Turning) {
	s := sidewallOf(w, t)
	out := visit.Turning{Directional: seen(s.GetDirectional()), Studded: seen(s.GetStudded()), OutsideMark: seen(s.GetAsymmetric())}
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
		Vehicle: req.GetVehicle(), Inspection: &pb.Inspection{}, JudgeBy: req.GetJudgeBy(),
		Moves: req.GetMoves(), Tires: req.GetTires(), WorkDone: req.GetWorkDone(),
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
