package judge

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"

	"gaugebook.dev/server/translate"
)

// SetNow gives what the gauge has to show now at the one wheel of a request,
// judged at a place on its first axle, so that it has the label's pressure cold.
// Its one reading may have no pressure: then only what to set is asked.
// It is nil where the label is not told, where the tire holds as much already, as
// air is never let out of a warm tire, and where no air may go in: the inside has
// to be seen first, or the label asks for more than the sidewall allows.
func SetNow(req *pb.AssessVisitRequest, place string) *pb.Pressure {
	req = seated(req, place)
	reading := req.GetInspection().GetWheels()[0].GetPressures()[0]
	read := reading.GetPressure() != nil
	if !read { // what to set rests on the temperature as of a tire that holds the label
		reading.Pressure = req.GetVehicle().GetAxles()[0].GetColdNormalLoad()
	}
	w := translate.Visit(req).Air(0)
	found, set := inflation.Judge(w), w.SetNow()
	if w.Label == 0 || found.NoAir || found.Has(inflation.LabelAboveSidewall) || read && set.Show <= w.Found {
		return nil
	}
	return translate.Pressure(set.Show, w.LabelUnit)
}

// WarningThreshold gives the pressure at which the warning lamp of a new light
// vehicle has to be on (49 CFR 571.138 S4.2(a)) for the one wheel of a request;
// nil where the rule does not speak of it or the label is not told.
func WarningThreshold(req *pb.AssessVisitRequest, place string) *pb.Pressure {
	w := translate.Visit(seated(req, place)).Air(0)
	light := w.Class == layout.PassengerCar || w.Class == layout.LightTruck
	if !light || w.At.Dual != layout.Single || w.Label == 0 {
		return nil
	}
	at, _ := inflation.LampThreshold(w.Label, w.Load)
	return translate.Pressure(at, w.LabelUnit)
}
