package check

import (
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// life is a request without problems: a depth when new and two that were measured.
func life() *pb.EstimateLifeRequest {
	return &pb.EstimateLifeRequest{
		Depths: []*pb.MeasuredDepth{
			{Distance: miles(0), Depth: thirtySeconds(10), Assumed: true},
			{Distance: miles(21_000), Depth: thirtySeconds(6), Date: day(2026, 3, 2)},
			{Distance: miles(12_000), Depth: thirtySeconds(8), Date: day(2025, 3, 2)},
		},
		Gauges: []*pb.Gauge{{Resolution: &pb.Gauge_Depth{Depth: thirtySeconds(1)}}},
		Limits: []*pb.Depth{thirtySeconds(2)},
		PerDay: miles(30),
	}
}

func TestEstimateLife(t *testing.T) {
	for _, c := range []struct {
		name  string
		spoil func(*pb.EstimateLifeRequest)
		want  []string
	}{
		{"as it should be", func(*pb.EstimateLifeRequest) {}, nil},
		{"one measured and one new", func(r *pb.EstimateLifeRequest) { r.Depths = r.Depths[:2] }, nil},
		{"nothing", func(r *pb.EstimateLifeRequest) { *r = pb.EstimateLifeRequest{} }, []string{
			"depths: 0: too few to tell wear by; two depths at two distances, or one and the depth when new",
			"limits: missing; the depths to estimate for",
		}},
		{"one depth", func(r *pb.EstimateLifeRequest) { r.Depths = r.Depths[1:2] },
			[]string{"depths: 1: too few to tell wear by; two depths at two distances, or one and the depth when new"}},
		{"none measured", func(r *pb.EstimateLifeRequest) { r.Depths[1].Assumed, r.Depths[2].Assumed = true, true }, []string{
			"depths: none of them was measured; at least one depth that was",
			"depths[1].assumed: true: a tire has one depth when new: depths[0] is that",
			"depths[2].assumed: true: a tire has one depth when new: depths[0] is that",
		}},
		{"all at one distance", func(r *pb.EstimateLifeRequest) {
			r.Depths[0].Distance, r.Depths[1].Distance = miles(12_000), miles(12_000)
		},
			[]string{"depths: all at one distance; depths at two distances",
				"depths[2].date: 2025-03-02: earlier than depths[1], at more distance; not before 2026-03-02"}},
		{"a later day at less distance", func(r *pb.EstimateLifeRequest) { r.Depths[2].Date = day(2026, 3, 3) },
			[]string{"depths[1].date: 2026-03-02: earlier than depths[2], at more distance; not before 2026-03-03"}},
		{"new after it was worn", func(r *pb.EstimateLifeRequest) { r.Depths[0].Distance = miles(13_000) },
			[]string{"depths[0].distance: 13000 mi: the depth when new is at the least distance"}},
		{"no distance, no depth", func(r *pb.EstimateLifeRequest) { r.Depths[1].Distance, r.Depths[2].Depth = nil, nil },
			[]string{"depths[1].distance: missing; a distance", "depths[2].depth: missing; a depth"}},
		{"standing still", func(r *pb.EstimateLifeRequest) { r.PerDay = miles(0) },
			[]string{"perDay: 0 mi: a vehicle that is driven runs more than zero in a day"}},
		{"eleven limits", func(r *pb.EstimateLifeRequest) {
			for range 10 {
				r.Limits = append(r.Limits, thirtySeconds(4))
			}
		}, []string{"limits: 11: at most 10 limits"}},
		{"a gauge of pressure", func(r *pb.EstimateLifeRequest) {
			r.Gauges = []*pb.Gauge{{Resolution: &pb.Gauge_Pressure{Pressure: psi(1)}}}
		}, []string{"gauges: none of them measures depth; the step of a depth gauge"}},
		{"a gauge of pressure too", func(r *pb.EstimateLifeRequest) {
			r.Gauges = append(r.Gauges, &pb.Gauge{Resolution: &pb.Gauge_Pressure{Pressure: psi(1)}})
		}, nil},
		{"two gauges of a kind", func(r *pb.EstimateLifeRequest) { r.Gauges = append(r.Gauges, r.Gauges[0]) },
			[]string{"gauges[1]: GAUGE_KIND_UNSPECIFIED: gauges[0] is of this kind too; one gauge of a kind"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := life()
			c.spoil(r)
			same(t, EstimateLife(r), c.want)
		})
	}
	r := life()
	for len(r.GetDepths()) < 1001 {
		r.Depths = append(r.Depths, r.GetDepths()[1])
	}
	same(t, EstimateLife(r), []string{"depths: 1001: at most 1000 depths; the latest of them"})
}
