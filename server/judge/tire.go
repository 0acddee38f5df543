package judge

import (
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/verdict"

	"gaugebook.dev/server/translate"
)

// Tire judges the one wheel of a request that check has accepted with the wheel
// at each of the places. The wheel's own position is what the answer says, also
// where it is none. More than one place stands for not known: what is found only
// at a later one is a candidate. The first of the request's tires is the one on
// the wheel, and its repairs are those of that tire.
func Tire(req *pb.AssessVisitRequest, places ...string) *pb.Assessment {
	tire := verdict.OneTire{Visit: translate.Visit(withPlace(req, places[0]))}
	tire.Said, _ = layout.Parse(req.GetInspection().GetWheels()[0].GetPosition()) // accepted by check, or none
	for _, place := range places {
		tire.Places = append(tire.Places, layout.MustParse(place))
	}
	return translate.Assessment(req, tire.Visit, verdict.JudgeTire(tire))
}

// Places gives where the wheel at a position, or at none, is judged by Tire. Laws
// speak of front wheels: those of the first axle, unless it was told of them that
// they are not steered or of others that they are. Where that is not known, the
// wheel is judged as one of the others, and as one of the front too.
func Places(position string, class pb.VehicleClass, steered pb.Answer) []string {
	p, err := layout.Parse(position)
	told := err == nil
	if !told {
		p = layout.Position{Axle: 1, Side: layout.Left}
	}
	front, other := p, p
	front.Axle = 1
	if p.Axle == 1 {
		other.Axle = 2
	}
	switch {
	case p.Spare || class == pb.VehicleClass_VEHICLE_CLASS_TRAILER:
		return []string{p.String()}
	case steered == pb.Answer_ANSWER_YES:
		return []string{front.String()}
	case steered == pb.Answer_ANSWER_NO:
		return []string{other.String()}
	case told && steered == pb.Answer_ANSWER_UNSPECIFIED:
		return []string{position}
	}
	return []string{other.String(), front.String()}
}

// withPlace puts the wheel and its tire in a place.
func withPlace(req *pb.AssessVisitRequest, place string) *pb.AssessVisitRequest {
	req = proto.CloneOf(req)
	wheel := req.GetInspection().GetWheels()[0]
	wheel.Position, wheel.TireId = place, ""
	if len(req.GetTires()) == 0 {
		req.Tires = []*pb.Tire{{}}
	}
	req.Tires[0].Id = ""
	req.Tires[0].Place = &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{Position: place}}}
	for _, r := range req.GetRepairs() {
		r.TireId = ""
	}
	return req
}
