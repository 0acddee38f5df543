package judge

import (
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"

	"gaugebook.dev/server/translate"
)

// Tire is a tire that is asked about by itself: read and judged once, whatever is asked
// of it.
type Tire struct {
	told *pb.AssessVisitRequest
	tire verdict.OneTire
	out  verdict.Verdict
}

// TireOf judges the one wheel of a request that check has accepted, with the wheel at
// each of the places. The wheel's own position is what answers say, also where it is
// none. More than one place stands for not known: what is found only at a later one is
// a candidate. The first of the request's tires is the one on the wheel, and its
// repairs are those of that tire. The request has to be the caller's own, and the wheel.
func TireOf(req *pb.AssessVisitRequest, places ...string) Tire {
	wheel := req.GetInspection().GetWheels()[0]
	said, id := wheel.GetPosition(), wheel.GetTireId()
	wheel.Position, wheel.TireId = places[0], ""
	defer func() { wheel.Position, wheel.TireId = said, id }() // that is what answers name
	if len(req.GetTires()) == 0 {
		req.Tires = []*pb.Tire{{}}
	}
	req.Repairs = ofOneTire(req.GetRepairs())
	asked := verdict.OneTire{Visit: translate.Visit(req), Said: translate.Position(said), Places: translate.Positions(places)}
	return Tire{req, asked, verdict.JudgeTire(asked)}
}

// ofOneTire are repairs of a tire that has no name here, whatever it is called elsewhere.
func ofOneTire(repairs []*pb.Repair) []*pb.Repair {
	all := slices.Clone(repairs)
	for i, r := range all {
		if r.GetTireId() != "" {
			all[i] = proto.CloneOf(r)
			all[i].TireId = ""
		}
	}
	return all
}

// Assessment is what is said of the tire.
func (t Tire) Assessment() *pb.Assessment { return translate.Assessment(t.told, t.tire.Visit, t.out) }

// Figures are what the pressure of one tire comes to, as package questions tells them;
// nil for one that is not told.
type Figures struct {
	SetNow, LampOn *pb.Pressure
	Supports       *pb.Mass
}

// Figures work out what the pressure of the tire comes to at the first of its places.
// Without a reading only what to set is asked.
func (t Tire) Figures() (out Figures) {
	v, in := t.tire.Visit, t.told.GetInspection()
	reading := in.GetWheels()[0].GetPressures()[0]
	air, read := v.Air(0), reading.GetPressure() != nil
	found, judged := t.out.Airs.Results[t.tire.Places[0]]
	if !read { // what to set rests on the temperature as of a tire that holds the label
		held := proto.CloneOf(reading)
		held.Pressure = t.told.GetVehicle().GetAxles().GetAxles()[0].GetColdNormalLoad()
		air = v.Labels().Air(v.Wheels[0], translate.Reading(held, in.GetGauges()), v.Conditions)
	}
	if !read || !judged {
		found = inflation.Judge(air)
	}
	f := questions.Figures(questions.FiguresIn{Air: air, Found: found, Tire: v.Wheels[0].Tire, Read: read})
	if f.SetNow > 0 {
		out.SetNow = translate.Pressure(f.SetNow, air.LabelUnit)
	}
	if f.LampOn > 0 {
		out.LampOn = translate.Pressure(f.LampOn, air.LabelUnit)
	}
	if f.Supports > 0 {
		shown := unit.Kilograms
		if air.Read == unit.PSI {
			shown = unit.Pounds
		}
		out.Supports = translate.Mass(f.Supports, shown)
	}
	return out
}

// Places gives where the wheel at a position, or at none, is judged. Laws speak of
// front wheels: those of the first axle, unless it was told of them that they are not
// steered or of others that they are. Where that is not known, the wheel is judged as
// one of the others, and as one of the front besides.
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
