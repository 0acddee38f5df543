package judge

import (
	"gaugebook.dev/calc/finding"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"

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
		reading.Pressure = req.GetVehicle().GetAxles().GetAxles()[0].GetColdNormalLoad()
	}
	w := translate.Visit(req).Air(0)
	found, set := inflation.Judge(w), w.SetNow()
	if w.Label == 0 || found.NoAir || found.Has(finding.InflationLabelAboveSidewall) || read && set.Show <= w.Found {
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

// LoadSupported gives the load that the one wheel of a request supports at the
// lowest cold pressure that fits what is known of it; it does not make the tire
// fit to run. Where the load mark is not told, it is the lesser of standard and
// extra load. It is nil without a reading, where the tire's own marking does not
// tell what it carries, below the lowest published figure of its class, and where
// the tire has to be seen inside first.
func LoadSupported(req *pb.AssessVisitRequest, place string) *pb.Mass {
	v := translate.Visit(seated(req, place))
	found := inflation.Judge(v.Air(0))
	rating, known := v.Wheels[0].Tire.Rating()
	if !known || !v.Vehicle.Class.Judged() || found.NoAir || found.Cold.Basis == inflation.BasisNone {
		return nil
	}
	load, ok := rating.Least().Load(found.Cold.Low, found.At.Dual != layout.Single)
	if !ok {
		return nil
	}
	if v.Wheels[0].Pressure.Read == unit.PSI {
		return translate.Mass(load, unit.Pounds)
	}
	return translate.Mass(load, unit.Kilograms)
}
