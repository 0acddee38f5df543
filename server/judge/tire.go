package judge

import (
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/calc/visit"

	"gaugebook.dev/server/translate"
)

// Tire judges the one wheel of a request that check has accepted with the wheel
// at each of the places. The wheel's own position is what the answer says, also
// where it is none. More than one place stands for not known: what is found only
// at a later one is a candidate. The first of the request's tires is the one on
// the wheel, and its repairs are those of that tire.
func Tire(req *pb.AssessVisitRequest, places ...string) *pb.Assessment {
	said, _ := layout.Parse(req.GetInspection().GetWheels()[0].GetPosition()) // accepted by check, or none
	var v visit.Visit
	var out verdict.Verdict
	for i, place := range places {
		in := translate.Visit(seated(req, place))
		is := verdict.Judge(in)
		seat{said, layout.MustParse(place)}.rename(&is)
		if i == 0 {
			v, out = in, is
			continue
		}
		maybe(&out, is)
	}
	return translate.Assessment(req, v, out)
}

// Places gives where the wheel at a position, or at none, is judged by Tire. Laws
// speak of front wheels: those of the first axle, unless it was told of them that
// they are not steered or of others that they are. Where that is not known, the
// wheel is judged as one of the others, and as one of the front besides.
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

// seated puts the wheel and its tire in a place.
func seated(req *pb.AssessVisitRequest, place string) *pb.AssessVisitRequest {
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

// maybe adds what asks for something at another place that the wheel may have.
func maybe(out *verdict.Verdict, other verdict.Verdict) {
	for _, f := range other.Findings {
		if f.Urgency == finding.Note || slices.ContainsFunc(out.Findings, func(o finding.Finding) bool { return o.ID() == f.ID() }) {
			continue
		}
		f.Candidate, f.Urgency = true, max(f.Urgency, finding.ThisVisit)
		out.Findings = append(out.Findings, f)
	}
	finding.Sort(out.Findings)
}

// seat renames the place that a wheel was judged at to what was said of it.
type seat struct{ said, place layout.Position }

// at gives positions as they were said. Where nothing was said, the wheel has
// none, nor has the one across from it; its mate is the one beside it.
func (s seat) at(ps []layout.Position) []layout.Position {
	var out []layout.Position
	for _, p := range ps {
		switch {
		case s.said != layout.Position{}:
			if p.Axle == s.place.Axle {
				p.Axle = s.said.Axle
			}
		case p.Dual == s.place.Dual:
			continue
		default:
			p = translate.Beside
		}
		if !slices.Contains(out, p) {
			out = append(out, p)
		}
	}
	return out
}

func (s seat) rename(out *verdict.Verdict) {
	ids := map[string]string{}
	for i, f := range out.Findings {
		out.Findings[i].Positions = s.at(f.Positions)
		ids[f.ID()] = out.Findings[i].ID()
	}
	closed := map[string]unit.Amount{}
	for was, left := range out.Closed {
		closed[ids[was]] = left
	}
	out.Closed = closed
	for i, w := range out.Work {
		out.Work[i].Positions = s.at(w.Positions)
		for k, id := range w.Findings {
			out.Work[i].Findings[k] = ids[id]
		}
	}
	for i := range out.Wheels {
		out.Wheels[i].Position = s.said
	}
	for i := range out.Repairs {
		out.Repairs[i].Position = s.said
	}
	for i, c := range out.Checked {
		out.Checked[i].Positions = s.at(c.Positions)
	}
	// The vehicle's other wheels were not asked about.
	out.NotLooked = slices.DeleteFunc(out.NotLooked, func(n questions.NotLooked) bool { return n.What == finding.LookedWheel })
	for i, n := range out.NotLooked {
		out.NotLooked[i].Positions = s.at(n.Positions)
	}
	for i, n := range out.NotJudged {
		out.NotJudged[i].Positions = s.at(n.Positions)
	}
	for i, u := range out.Unanswered {
		out.Unanswered[i].Positions = s.at(u.Positions)
	}
}
