package api

import (
	"context"
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
)

// CalculatePressure brings a warm reading to cold and says what the gauge must
// show now.
func (s *Server) CalculatePressure(_ context.Context, req *pb.CalculatePressureRequest) (*pb.CalculatePressureResponse, error) {
	visit := pressureVisit(req)
	if problems := checkPressure(req, visit); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	place := "1L"
	if req.GetDual() == pb.Answer_ANSWER_YES {
		place = "1LO"
	}
	at := atForecast(req, visit)
	tire := judge.TireOf(visit, place)
	a := tire.Assessment()
	leaveOut(a, func(a finding.About) bool { return !ofPressure(a) })
	named(a, req)
	wheel, figures, t := first(a.GetWheels()), tire.Figures(), tell.For(req.GetReader(), tell.Shop{})
	if at != nil {
		wheel, figures = forecast(judge.TireOf(at, place), figures, visit.GetInspection().GetConditions())
	}
	t.Assessment(a, false)
	return &pb.CalculatePressureResponse{
		Assessment: a, ColdEquivalent: wheel.GetColdEquivalent(), ColdLow: wheel.GetColdLow(), ColdHigh: wheel.GetColdHigh(),
		SetToNow: figures.SetNow, WarningThreshold: figures.LampOn, LoadSupported: figures.Supports, Told: t.Told(),
	}, nil
}

// atForecast gives the visit as of the temperature that the pressure is to be right at,
// nil where none was told. That one is a forecast and no reading: the visit itself is
// judged by the air that was told, with the forecast as the coldest morning expected.
func atForecast(req *pb.CalculatePressureRequest, visit *pb.AssessVisitRequest) *pb.AssessVisitRequest {
	cold := req.GetColdTemperature()
	if cold == nil {
		return nil
	}
	at := proto.CloneOf(visit)
	for _, in := range []*pb.Inspection{at.GetInspection(), visit.GetInspection()} {
		conditions := &pb.Conditions{}
		if in.GetConditions() != nil {
			conditions = proto.CloneOf(in.GetConditions())
		}
		in.Conditions = conditions
	}
	at.Inspection.Conditions.Outside = cold
	if visit.GetInspection().GetConditions().GetColdestExpected() == nil {
		visit.Inspection.Conditions.ColdestExpected = cold
	}
	return at
}

// forecast gives the figures as of the forecast. What to set is what the judged visit
// sets, which adds nothing to a tire that is to be seen inside first; only where no air
// was told does it rest on the forecast.
func forecast(at judge.Tire, judged judge.Figures, told *pb.Conditions) (*pb.WheelSummary, judge.Figures) {
	wheel, figures := first(at.Assessment().GetWheels()), at.Figures()
	unknown := told.GetAir() == nil && told.GetOutside() == nil
	if !unknown || judged.SetNow == nil || figures.SetNow == nil {
		figures.SetNow = judged.SetNow
	}
	return wheel, figures
}

// pressureVisit is the tire as the only one of a visit, on the first axle.
func pressureVisit(req *pb.CalculatePressureRequest) *pb.AssessVisitRequest {
	wheels := pb.AxleWheels_AXLE_WHEELS_SINGLE
	if req.GetDual() == pb.Answer_ANSWER_YES {
		wheels = pb.AxleWheels_AXLE_WHEELS_DUAL
	}
	return &pb.AssessVisitRequest{
		Vehicle: &pb.Vehicle{
			VehicleClass: req.GetVehicleClass(), Use: req.GetUse(), GrossRating: req.GetGrossRating(),
			Axles: &pb.Axles{Axles: []*pb.Axle{{Wheels: wheels, ColdNormalLoad: req.GetLabelCold()}}},
		},
		Inspection: &pb.Inspection{Conditions: req.GetConditions(), Gauges: req.GetGauges(), Wheels: []*pb.WheelReport{{
			Sidewall:  req.GetSidewall(),
			Pressures: []*pb.PressureReading{{Pressure: req.GetMeasured(), TireTemperature: req.GetTireTemperature(), Source: req.GetTemperatureSource()}},
		}}},
		JudgeBy: req.GetJudgeBy(),
	}
}

// pressureNames are what CalculatePressure calls the places of its visit.
var pressureNames = map[string]string{
	"inspection.wheels[0].pressures[0].pressure": "measured", "inspection.wheels[0].pressures[0].tireTemperature": "tireTemperature",
	"inspection.conditions": "conditions", "vehicle.axles.axles[0].coldNormalLoad": "labelCold",
	"inspection.wheels[0].sidewall": "sidewall", "inspection.gauges": "gauges", "vehicle.use": "use", "vehicle.grossRating": "grossRating",
}

func checkPressure(req *pb.CalculatePressureRequest, visit *pb.AssessVisitRequest) []check.Problem {
	problems := checkTire(visit, pressureNames)
	if req.GetMeasured() == nil { // only what to set is asked
		problems = slices.DeleteFunc(problems, func(p check.Problem) bool { return p.Path == "measured" })
		if req.GetLabelCold() == nil {
			problems = append(problems, check.Problem{Path: "labelCold", Problem: "missing", Want: "what the label asks for, or what was measured"})
		}
	}
	if req.GetColdTemperature() != nil {
		cold := &pb.Inspection{Conditions: &pb.Conditions{Outside: req.GetColdTemperature()}, Spare: &pb.SpareReport{}}
		for _, p := range check.Inspection("", cold, nil) {
			rename(&p, map[string]string{"conditions.outside": "coldTemperature"})
			problems = append(problems, p)
		}
	}
	return problems
}
