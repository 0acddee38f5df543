package judge

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/translate"
)

// Figures are what the pressure of one tire comes to, as package questions tells them;
// nil for one that is not told.
type Figures struct {
	SetNow, LampOn *pb.Pressure
	Supports       *pb.Mass
}

// Pressure works out the figures of the one wheel of a request, judged at a place on its
// first axle. Its one reading may have no pressure: then only what to set is asked.
func Pressure(req *pb.AssessVisitRequest, place string) (out Figures) {
	req = withPlace(req, place)
	reading := req.GetInspection().GetWheels()[0].GetPressures()[0]
	read := reading.GetPressure() != nil
	if !read { // what to set rests on the temperature as of a tire that holds the label
		reading.Pressure = req.GetVehicle().GetAxles().GetAxles()[0].GetColdNormalLoad()
	}
	v := translate.Visit(req)
	air := v.Air(0)
	f := questions.Figures(questions.FiguresIn{Air: air, Tire: v.Wheels[0].Tire, Read: read})
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
