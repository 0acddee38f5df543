package api

import (
	"context"
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
)

// CalculatePressure brings a warm reading to cold and says what the gauge must
// show now.
func (s *Server) CalculatePressure(_ context.Context, req *pb.CalculatePressureRequest) (*pb.CalculatePressureResponse, error) {
	visit := pressureVisit(req)
	if problems := checkPressure(req, visit); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	place := "1L"
	if req.GetDual() {
		place = "1LO"
	}
	if req.GetColdAt() != nil {
		visit.Inspection.Conditions.Outside = req.GetColdAt()
	}
	a := judge.Tire(visit, place)
	leaveOut(a, func(a finding.About) bool { return !ofPressure(a) })
	wheel, figures := first(a.GetWheels()), judge.Pressure(visit, place)
	return &pb.CalculatePressureResponse{
		Assessment: a, ColdEquivalent: wheel.GetColdEquivalent(), ColdLow: wheel.GetColdLow(), ColdHigh: wheel.GetColdHigh(),
		SetToNow: figures.SetNow, WarningThreshold: figures.LampOn, LoadSupported: figures.Supports,
	}, nil
}

// pressureVisit is the tire as the only one of a visit, on the first axle.
func pressureVisit(req *pb.CalculatePressureRequest) *pb.AssessVisitRequest {
	conditions := &pb.Conditions{}
	if req.GetConditions() != nil {
		conditions = proto.CloneOf(req.GetConditions())
	}
	visit := &pb.AssessVisitRequest{
		Vehicle: &pb.Vehicle{VehicleClass: req.GetVehicleClass(), Axles: []*pb.Axle{{Dual: req.GetDual(), ColdNormalLoad: req.GetLabelCold()}}},
		Inspection: &pb.Inspection{Conditions: conditions, Wheels: []*pb.WheelReport{{
			Sidewall:  req.GetSidewall(),
			Pressures: []*pb.PressureReading{{Pressure: req.GetMeasured(), TireTemperature: req.GetTireTemperature(), Source: req.GetTemperatureSource()}},
		}}},
		Language: req.GetLanguage(), Units: req.GetUnits(),
	}
	if req.GetGauge() != nil {
		visit.Inspection.Gauges = []*pb.Gauge{req.GetGauge()}
	}
	return visit
}

func checkPressure(req *pb.CalculatePressureRequest, visit *pb.AssessVisitRequest) []check.Problem {
	problems := checkTire(visit, map[string]string{
		"inspection.wheels[0].pressures[0].pressure": "measured", "inspection.wheels[0].pressures[0].tireTemperature": "tireTemperature",
		"inspection.conditions": "conditions", "vehicle.axles[0].coldNormalLoad": "labelCold",
		"inspection.wheels[0].sidewall": "sidewall", "inspection.gauges[0]": "gauge",
	})
	if req.GetMeasured() == nil { // only what to set is asked
		problems = slices.DeleteFunc(problems, func(p check.Problem) bool { return p.Path == "measured" })
		if req.GetLabelCold() == nil {
			problems = append(problems, check.Problem{Path: "labelCold", Problem: "missing", Want: "what the label asks for, or what was measured"})
		}
	}
	if req.GetColdAt() != nil {
		cold := &pb.Inspection{Conditions: &pb.Conditions{Outside: req.GetColdAt()}, Spare: &pb.SpareReport{}}
		for _, p := range check.Inspection("", cold, nil) {
			rename(&p, map[string]string{"conditions.outside": "coldAt"})
			problems = append(problems, p)
		}
	}
	return problems
}
