package translate

import (
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/questions"
	"gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/calc/visit"
)

// Life answers how long a tire has left, without a word, for a request that check has
// accepted.
func Life(req *pb.EstimateLifeRequest) *pb.EstimateLifeResponse {
	gauge, _ := depthGauge(req.GetGauges())
	depths, distances := unit.ThirtySecondsInch, unit.Miles
	var points []trend.Point
	for i, d := range req.GetDepths() {
		run, far, _ := of(unit.DistanceOf, d.GetDistance())
		depth, deep, _ := of(unit.DepthOf, d.GetDepth())
		p := trend.Read(gauge, depth)
		if d.GetAssumed() {
			p = trend.Point{Depth: trend.NewDepth(depth, false), Assumed: true}
		}
		p.Run, p.Day = run, Date(d.GetDate())
		points = append(points, p)
		if i == 0 {
			depths, distances = deep, far
		}
	}
	var limits []unit.Depth
	for _, l := range req.GetLimits() {
		depth, _, _ := of(unit.DepthOf, l)
		limits = append(limits, depth)
	}
	perDay, _, _ := of(unit.DistanceOf, req.GetPerDay())
	life := questions.Life(questions.LifeIn{Points: points, Limits: limits, PerDay: perDay, Depth: depths, Distance: distances})

	rateUnit := unit.MillimetersPer1000Kilometer
	if depths == unit.ThirtySecondsInch && distances == unit.Miles {
		rateUnit = unit.ThirtySecondsPer1000Miles
	}
	out := &pb.EstimateLifeResponse{
		Assessment: Assessment(&pb.AssessVisitRequest{}, visit.Visit{}, verdict.Verdict{Findings: life.Findings}),
	}
	if life.Trend.Known {
		rate := life.Trend.Line.Rate()
		out.WearRate = fill(&pb.WearRate{}, rate.Of.Amount(rateUnit).Rounded())
		out.WearRateUncertainty = fill(&pb.WearRate{}, unit.WearRate(rate.Std).Amount(rateUnit).Rounded())
	}
	for i, c := range life.Crossings {
		days := life.Days[i]
		out.Crossings = append(out.Crossings, &pb.Crossing{
			Limit:    proto.CloneOf(req.GetLimits()[i]),
			Distance: reached(c.At, distances), EarliestDistance: reached(c.Earliest, distances), LatestDistance: reached(c.Latest, distances),
			Date: dateMessage(days.At), EarliestDate: dateMessage(days.Earliest), LatestDate: dateMessage(days.Latest),
		})
	}
	return out
}

// reached is a distance of a crossing. What was before the first mile is at zero.
func reached(d *unit.Distance, u unit.Unit) *pb.Distance {
	if d == nil {
		return nil
	}
	return fill(&pb.Distance{}, max(0, *d).Amount(u).Rounded())
}
