package judge_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/translate"
)

// A visit's line names the map: by the rearward cross the deeper pair goes to the
// driven rear; and it says when the next one is due (common practice).
func TestRotateLineNamesTheMap(t *testing.T) {
	cases := suites(t)[0].cases
	for id, want := range map[string][]string{
		"CW08": {"rearward cross: LF→RR, RF→LR, LR→LF, RR→RF", "Again every 5,000 mi"},
		"OC04": {"forward cross: LF→LR, RF→RR, LR→RF, RR→LF", "Again every 5,000 mi"},
	} {
		i := slices.IndexFunc(cases, func(c *testCase) bool { return c.id == id })
		said := ""
		for _, w := range inWords(cases[i].request, &pb.Reader{}).GetWork() {
			if w.GetCode() == "tires.rotate" {
				said = w.GetForTechnician()
			}
		}
		for _, text := range want {
			if !strings.Contains(said, text) {
				t.Errorf("%s: %q does not say %q", id, said, text)
			}
		}
	}
	// The vehicle maker's own interval goes before common practice.
	i := slices.IndexFunc(cases, func(c *testCase) bool { return c.id == "CW08" })
	req := proto.CloneOf(cases[i].request)
	req.Vehicle.MakerFigures = &pb.VehicleMakerFigures{RotationInterval: miles(7500)}
	if !slices.ContainsFunc(inWords(req, &pb.Reader{}).GetWork(), func(w *pb.WorkItem) bool {
		return w.GetCode() == "tires.rotate" && strings.Contains(w.GetForTechnician(), "Again every 7,500 mi")
	}) {
		t.Error("the vehicle maker's interval is not told")
	}
}

// anyRotation draws a car of one or more visits.
func anyRotation(t *rapid.T) *pb.PlanRotationRequest {
	drive := rapid.SampledFrom([]pb.Drive{0, pb.Drive_DRIVE_FRONT, pb.Drive_DRIVE_REAR, pb.Drive_DRIVE_ALL}).Draw(t, "drive")
	req := &pb.PlanRotationRequest{Vehicle: &pb.Vehicle{VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Drive: drive, Axles: &pb.Axles{Axles: []*pb.Axle{{}, {}}}}}
	odometer := float64(rapid.IntRange(20, 60).Draw(t, "odometer")) * 1000
	depth := map[string]int{}
	for range rapid.IntRange(1, 3).Draw(t, "visits") {
		v := &pb.Inspection{Odometer: miles(odometer), Gauges: []*pb.Gauge{{Kind: pb.GaugeKind_GAUGE_KIND_DEPTH_ELECTRONIC, Resolution: &pb.Gauge_Depth{Depth: thirtySeconds(1)}}}}
		for _, at := range []string{"1L", "1R", "2L", "2R"} {
			depth[at] += rapid.IntRange(0, 3).Draw(t, "lost")
			w := &pb.WheelReport{Position: at, Sidewall: &pb.Sidewall{}}
			if rapid.IntRange(0, 5).Draw(t, "arrow") == 0 {
				w.Sidewall.Directional = pb.Answer_ANSWER_YES
			}
			for across := range pb.Across(3) {
				w.Tread = append(w.Tread, &pb.TreadReading{Place: &pb.Place{Across: across + 1},
					Depth: thirtySeconds(float64(depth[at] + rapid.IntRange(2, 6).Draw(t, "depth")))})
			}
			v.Wheels = append(v.Wheels, w)
		}
		req.Visits = append(req.Visits, v)
		odometer -= float64(rapid.IntRange(1, 6).Draw(t, "run")) * 1000
	}
	return req
}

func thirtySeconds(n float64) *pb.Depth {
	return &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: n}}
}

// Other units change nothing but the unit of the answer; a mirrored car has the same
// maps, mirrored.
func TestRotationInOtherUnitsAndMirrored(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		req := anyRotation(t)
		if p := check.PlanRotation(req, translate.LatestVisit(req.GetVisits())); len(p) > 0 {
			t.Fatal(p)
		}
		metric, mirror := proto.CloneOf(req), proto.CloneOf(req)
		for i, v := range req.GetVisits() {
			metric.Visits[i].Odometer = &pb.Distance{AsRead: &pb.Distance_Kilometers{Kilometers: v.GetOdometer().GetMiles() * 1.609344}}
			for k, w := range v.GetWheels() {
				mirror.Visits[i].Wheels[k].Position = strings.NewReplacer("L", "R", "R", "L").Replace(w.GetPosition())
				for n, r := range w.GetTread() {
					metric.Visits[i].Wheels[k].Tread[n].Depth = &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: r.GetDepth().GetThirtySecondsInch() * 0.79375}}
				}
			}
		}
		got, other, across := judge.Rotation(req), judge.Rotation(metric), judge.Rotation(mirror)
		asked := func(r *pb.PlanRotationResponse) bool { return r.GetUnrecordedRotation() != nil }
		if asked(got) != asked(other) || asked(got) != asked(across) {
			t.Fatalf("asked %v, in other units %v, mirrored %v", asked(got), asked(other), asked(across))
		}
		for i, p := range got.GetPlans() {
			for what, q := range map[string]*pb.RotationPlan{"in other units": other.GetPlans()[i], "mirrored": across.GetPlans()[i]} {
				if p.GetMapId() != q.GetMapId() || !slices.EqualFunc(p.GetWhyNot(), q.GetWhyNot(), func(a, b *pb.Said) bool { return a.GetCode() == b.GetCode() }) || !sameRun(p.GetGain(), q.GetGain()) || !sameRun(p.GetGainLow(), q.GetGainLow()) ||
					!sameRun(p.GetGainHigh(), q.GetGainHigh()) || !sameRun(p.GetUntilPairOut(), q.GetUntilPairOut()) || !sameRun(p.GetUntilSetOut(), q.GetUntilSetOut()) {
					t.Fatalf("%v\n%s %v", p, what, q)
				}
			}
		}
	})
}

// sameRun tells that two distances are the same but for their rounding.
func sameRun(a, b *pb.Distance) bool {
	inMiles := func(d *pb.Distance) float64 { return d.GetMiles() + d.GetKilometers()/1.609344 }
	return (a == nil) == (b == nil) && math.Abs(inMiles(a)-inMiles(b)) <= 1
}
