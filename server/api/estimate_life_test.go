package api

import (
	"math"
	"slices"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

func (h *house) life(req *pb.EstimateLifeRequest) *pb.EstimateLifeResponse {
	h.t.Helper()
	req.Reader = whole
	out, err := pb.NewCalculatorServiceClient(h.conn).EstimateLife(h.t.Context(), req)
	if err != nil {
		h.t.Fatal(err)
	}
	sound(h.t, out.GetAssessment(), "")
	return out
}

func inMiles(n float64) *pb.Distance { return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}} }

func depthAt(miles, thirtySecondsInch float64, on *pb.CalendarDate) *pb.MeasuredDepth {
	return &pb.MeasuredDepth{Distance: inMiles(miles), Depth: thirtySeconds(thirtySecondsInch), Date: on}
}

func codesOf(a *pb.Assessment) (all []string) {
	for _, f := range a.GetFindings() {
		all = append(all, f.GetCode())
	}
	return all
}

// TestEstimateLife: two visits with a gauge of 1/32 in; where it is met is that of
// testdata/reference/life.csv. Its ends, 18,936 and 45,759 mi by Fieller's theorem with the
// zero of the gauge in the level (computed apart from this program), lie 1.4 times nearer
// to the last reading and farther from it: what comes may wear faster or slower.
func TestEstimateLife(t *testing.T) {
	h := inMemory(t)
	day := func(y, m, d int32) *pb.CalendarDate { return &pb.CalendarDate{Year: y, Month: m, Day: d} }
	out := h.life(&pb.EstimateLifeRequest{
		Depths: []*pb.MeasuredDepth{depthAt(10_000, 7, day(2026, 1, 1)), depthAt(0, 10, day(2025, 1, 1))},
		Limits: []*pb.Depth{thirtySeconds(2), thirtySeconds(4)},
	})
	near := func(what string, got *pb.Distance, want float64) {
		t.Helper()
		if got == nil || math.Abs(got.GetMiles()-want) > 50 {
			t.Errorf("%s %v, want %v mi", what, got, want)
		}
	}
	bars := out.GetCrossings()[0]
	near("at", bars.GetDistance(), 26_667)
	near("earliest", bars.GetEarliestDistance(), 16_383)
	near("latest", bars.GetLatestDistance(), 60_062)
	if len(out.GetCrossings()) != 2 || out.GetCrossings()[1].GetLimit().GetThirtySecondsInch() != 4 {
		t.Errorf("not one crossing for each limit in the order asked: %v", out.GetCrossings())
	}
	if got := out.GetWearRate().GetThirtySecondsInchPer_1000Miles(); got != 0.3 {
		t.Errorf("wear rate %v", got)
	}
	if got := out.GetWearRateUncertainty().GetThirtySecondsInchPer_1000Miles(); got != 0.07 {
		t.Errorf("its uncertainty %v", got)
	}
	// 16,667 mi at 27.4 mi a day are 608 days after the first of January.
	if d := bars.GetDate(); d.GetYear() != 2027 || d.GetMonth() != 9 || d.GetDay() != 1 {
		t.Errorf("day %v", d)
	}
	if len(out.GetAssessment().GetFindings()) != 0 {
		t.Errorf("findings %v", codesOf(out.GetAssessment()))
	}
}

// TestEstimateLifeSaysWhatItRestsOn: what is doubtful is told, and what cannot be
// told is absent.
func TestEstimateLifeSaysWhatItRestsOn(t *testing.T) {
	h := inMemory(t)
	two := []*pb.Depth{thirtySeconds(2)}
	for _, c := range []struct {
		name                   string
		depths                 []*pb.MeasuredDepth
		codes                  []string
		mean, earliest, latest bool
	}{
		{"a step apart", []*pb.MeasuredDepth{depthAt(0, 8, nil), depthAt(5000, 7, nil)}, nil, true, true, false},
		{"no wear", []*pb.MeasuredDepth{depthAt(0, 8, nil), depthAt(5000, 8, nil)}, nil, false, true, false},
		{"one and the depth when new", []*pb.MeasuredDepth{{Distance: inMiles(0), Depth: thirtySeconds(11), Assumed: true}, depthAt(22_000, 7, nil)}, nil, true, true, true},
		{"grown", []*pb.MeasuredDepth{depthAt(0, 5, nil), depthAt(5000, 9, nil)}, []string{"trend.grew"}, false, false, false},
		{"a misreading", []*pb.MeasuredDepth{depthAt(0, 10, nil), depthAt(5000, 9, nil), depthAt(10_000, 8, nil), depthAt(15_000, 3, nil), depthAt(20_000, 6, nil), depthAt(25_000, 5, nil)},
			[]string{"trend.broke-in", "trend.grew", "trend.odd-reading"}, true, true, true},
		{"break-in", []*pb.MeasuredDepth{{Distance: inMiles(0), Depth: thirtySeconds(11), Assumed: true}, depthAt(500, 11, nil), depthAt(5000, 9, nil), depthAt(10_000, 8, nil), depthAt(15_000, 7, nil), depthAt(20_000, 6, nil)},
			[]string{"trend.broke-in"}, true, true, true},
		{"break-in, measured when new", []*pb.MeasuredDepth{depthAt(0, 11, nil), depthAt(5000, 9, nil), depthAt(10_000, 8, nil), depthAt(15_000, 7, nil), depthAt(20_000, 6, nil)},
			[]string{"trend.broke-in"}, true, true, true},
		{"too few left after break-in", []*pb.MeasuredDepth{depthAt(0, 11, nil), depthAt(5000, 9, nil), depthAt(10_000, 8, nil), depthAt(15_000, 7, nil)}, nil, true, true, true},
	} {
		out := h.life(&pb.EstimateLifeRequest{Depths: c.depths, Limits: two})
		x := out.GetCrossings()[0]
		if got := codesOf(out.GetAssessment()); !slices.Equal(got, c.codes) {
			t.Errorf("%s: findings %v, want %v", c.name, got, c.codes)
		}
		if (x.GetDistance() != nil) != c.mean || (x.GetEarliestDistance() != nil) != c.earliest || (x.GetLatestDistance() != nil) != c.latest {
			t.Errorf("%s: %v", c.name, x)
		}
		if x.GetDate() != nil || x.GetLatestDate() != nil {
			t.Errorf("%s: a day without any told: %v", c.name, x)
		}
	}
}

// TestEstimateLifeFromNew: one visit and the depth when new, taken as right within
// 2/32 in; where it is met is that of testdata/reference/life.csv, the ends 35,556 and 115,779
// mi with the zero of the gauge (computed apart from this program), and widened as above.
func TestEstimateLifeFromNew(t *testing.T) {
	out := inMemory(t).life(&pb.EstimateLifeRequest{
		Depths: []*pb.MeasuredDepth{{Distance: inMiles(0), Depth: thirtySeconds(11), Assumed: true}, depthAt(22_000, 7, nil)},
		Limits: []*pb.Depth{thirtySeconds(2), thirtySeconds(13)},
	})
	x := out.GetCrossings()[0]
	for _, c := range []struct{ got, want float64 }{{x.GetDistance().GetMiles(), 49_500}, {x.GetEarliestDistance().GetMiles(), 31_683}, {x.GetLatestDistance().GetMiles(), 153_290}} {
		if math.Abs(c.got-c.want) > 50 {
			t.Errorf("%v mi, want %v", c.got, c.want)
		}
	}
	if reached := out.GetCrossings()[1].GetDistance(); reached == nil || reached.GetMiles() != 0 {
		t.Errorf("a limit above the depth when new is reached at %v, want the first mile", reached)
	}
}

// TestEstimateLifeUnsteady: where a straight line explains nearly all of the wear, and the
// gauge not the rest, a life is told, and that it was no straight line.
func TestEstimateLifeUnsteady(t *testing.T) {
	mm := func(n float64) *pb.Depth { return &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: n}} }
	req := &pb.EstimateLifeRequest{Gauges: []*pb.Gauge{{Resolution: &pb.Gauge_Depth{Depth: mm(0.01)}}}, Limits: []*pb.Depth{mm(1.6)}}
	for i, d := range []float64{8, 7.5, 7, 6.5, 5.3} {
		req.Depths = append(req.Depths, &pb.MeasuredDepth{Distance: inMiles(20_000 + 5000*float64(i)), Depth: mm(d)})
	}
	out := inMemory(t).life(req)
	if got := codesOf(out.GetAssessment()); !slices.Equal(got, []string{"trend.unsteady"}) {
		t.Errorf("findings %v", got)
	}
	if out.GetCrossings()[0].GetEarliestDistance() == nil {
		t.Error("no life is told")
	}
}

// TestEstimateLifeUneven: with a fine gauge uneven wear is told from noise.
func TestEstimateLifeUneven(t *testing.T) {
	h := inMemory(t)
	mm := func(n float64) *pb.Depth { return &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: n}} }
	km := func(n float64) *pb.Distance { return &pb.Distance{AsRead: &pb.Distance_Kilometers{Kilometers: n}} }
	req := &pb.EstimateLifeRequest{
		Gauges: []*pb.Gauge{{Resolution: &pb.Gauge_Depth{Depth: mm(0.01)}}},
		Limits: []*pb.Depth{mm(1.6)},
		PerDay: km(40),
	}
	for i, d := range []float64{8, 5.2, 5.1, 5, 2.4} {
		req.Depths = append(req.Depths, &pb.MeasuredDepth{Distance: km(8000 * float64(i)), Depth: mm(d)})
	}
	req.Depths[4].Date = &pb.CalendarDate{Year: 2026, Month: 5, Day: 4}
	out := h.life(req)
	if got := codesOf(out.GetAssessment()); !slices.Equal(got, []string{"trend.broke-in", "trend.uneven"}) {
		t.Errorf("findings %v", got)
	}
	x := out.GetCrossings()[0]
	if out.GetWearRate().GetMillimetersPer_1000Kilometers() <= 0 {
		t.Errorf("in metric: %v", out.GetWearRate())
	}
	if x.GetDistance() != nil || x.GetDate() != nil {
		t.Errorf("a life is told of wear that is not steady: %v", x)
	}
}
