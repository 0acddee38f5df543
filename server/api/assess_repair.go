package api

import (
	"context"
	"fmt"
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
)

// AssessRepair says whether a tire may be repaired, with every rule that fails.
func (s *Server) AssessRepair(_ context.Context, req *pb.AssessRepairRequest) (*pb.AssessRepairResponse, error) {
	visit := repairVisit(req)
	names := map[string]string{
		"inspection.wheels[0].sidewall": "sidewall", "inspection.wheels[0].tread[0].depth": "lowestDepth", "repairs": "earlier",
		"inspection.wheels[0].looked": "looked", "inspection.wheels[0].observations": "observations",
		"inspection.wheels[0].pressures": "found", "inspection.wheels[0].drivenLow": "drivenLow",
		"vehicle.axles.axles[0].coldNormalLoad": "labelCold", "tires[0].makerPolicy": "makerPolicy", "inspection.gauges": "gauges", "vehicle.use": "use",
		"vehicle.grossRating": "grossRating",
	}
	for i := range req.GetInjuries() {
		names[fmt.Sprintf("inspection.wheels[0].observations[%d].injury", len(req.GetObservations())+i)] = fmt.Sprintf("injuries[%d]", i)
	}
	if problems := checkTire(visit, names); len(problems) > 0 {
		return nil, &invalid{problems}
	}
	axle := visit.GetVehicle().GetAxles().GetAxles()[0]
	visit.Vehicle.Axles.Axles = []*pb.Axle{axle, axle} // it may be on either
	a := judge.TireOf(visit, judge.Places("", req.GetVehicleClass(), req.GetSteerAxle())...).Assessment()
	leaveOut(a, func(a finding.About) bool { return a == finding.AboutShape })
	named(a, req)
	answer, t := proto.CloneOf(first(a.GetRepairs())), tell.For(req.GetReader(), tell.Shop{})
	t.Repair(answer)
	t.Assessment(a, false)
	return &pb.AssessRepairResponse{Answer: answer, Assessment: a, Told: t.Told()}, nil
}

// repairVisit is the tire as the only one of a visit. Of an injury that nobody
// described nothing is known, and the answer says so.
func repairVisit(req *pb.AssessRepairRequest) *pb.AssessVisitRequest {
	wheel := &pb.WheelReport{
		Sidewall: req.GetSidewall(), Looked: req.GetLooked(), Observations: slices.Clone(req.GetObservations()),
		Pressures: req.GetFound(), DrivenLow: req.GetDrivenLow(),
	}
	injuries := req.GetInjuries()
	if len(injuries) == 0 {
		injuries = []*pb.Injury{{}}
	}
	for _, injury := range injuries {
		wheel.Observations = append(wheel.Observations, &pb.Observation{Kind: pb.ObservationKind_OBSERVATION_KIND_INJURY, Injury: injury})
	}
	if req.GetLowestDepth() != nil {
		wheel.Tread = []*pb.TreadReading{{Depth: req.GetLowestDepth()}}
	}
	return &pb.AssessVisitRequest{
		Vehicle: &pb.Vehicle{
			VehicleClass: req.GetVehicleClass(), Use: req.GetUse(), GrossRating: req.GetGrossRating(),
			Axles: &pb.Axles{Axles: []*pb.Axle{{ColdNormalLoad: req.GetLabelCold()}}},
		},
		Inspection: &pb.Inspection{Gauges: req.GetGauges(), Wheels: []*pb.WheelReport{wheel}},
		Tires:      []*pb.Tire{{MakerPolicy: req.GetMakerPolicy()}},
		Repairs:    req.GetEarlier(),
		JudgeBy:    req.GetJudgeBy(),
	}
}
