package judge_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
)

// yearly is an invented car of Ohio read each June, 10,000 miles apart, alike at all
// three places of all four tires: the depths in thirty-seconds, today's last.
func yearly(t testing.TB, depths ...float64) *pb.AssessVisitRequest {
	t.Helper()
	visit := func(year, miles int, depth float64) string {
		var wheels []string
		for _, at := range []string{"1L", "1R", "2L", "2R"} {
			var read []string
			for _, across := range []string{"INBOARD", "CENTER", "OUTBOARD"} {
				read = append(read, fmt.Sprintf(`{"place": {"across": "ACROSS_%s"}, "depth": {"thirtySecondsInch": %v}}`, across, depth))
			}
			wheels = append(wheels, fmt.Sprintf(`{"position": %q, "tread": [%s]}`, at, strings.Join(read, ",")))
		}
		return fmt.Sprintf(`{"localDate": {"year": %d, "month": 6, "day": 1}, "odometer": {"miles": %d}, "wheels": [%s]}`, year, miles, strings.Join(wheels, ","))
	}
	last := len(depths) - 1
	var earlier []string
	for i, d := range depths[:last] {
		earlier = append(earlier, visit(2026-last+i, 40_000-10_000*(last-i), d))
	}
	req := &pb.AssessVisitRequest{}
	if err := protojson.Unmarshal(fmt.Appendf(nil, `{
		"vehicle": {"vehicleClass": "VEHICLE_CLASS_PASSENGER_CAR", "drive": "DRIVE_FRONT", "axles": {"axles": [{"coldNormalLoad": {"psi": 33}}, {"coldNormalLoad": {"psi": 33}}]},
			"use": {"drivenIn": [{"country": "US", "state": "OH"}], "businessAcrossStateLines": "ANSWER_NO", "tows": "ANSWER_NO"}},
		"inspection": %s, "earlier": [%s]}`, visit(2026, 40_000, depths[last]), strings.Join(earlier, ",")), req); err != nil {
		t.Fatal(err)
	}
	return req
}

// readTwice reads every depth of today again, alike.
func readTwice(req *pb.AssessVisitRequest) {
	for _, w := range req.GetInspection().GetWheels() {
		for _, r := range slices.Clone(w.Tread) {
			again := proto.CloneOf(r)
			again.Repeat = 2
			w.Tread = append(w.Tread, again)
		}
	}
}

func odometer(v *pb.Inspection, miles float64) {
	v.Odometer = &pb.Distance{AsRead: &pb.Distance_Miles{Miles: miles}}
}

// oneWheel is a car or truck of which one wheel was looked at.
func oneWheel(t testing.TB, class, label, wheel string) *pb.AssessVisitRequest {
	t.Helper()
	req := &pb.AssessVisitRequest{}
	if err := protojson.Unmarshal(fmt.Appendf(nil, `{"vehicle": {"vehicleClass": "VEHICLE_CLASS_%s", "axles": {"axles": [{"coldNormalLoad": %s}, {"wheels": "AXLE_WHEELS_%s", "coldNormalLoad": %[2]s}]}},
		"inspection": {"wheels": [%[4]s]}}`, class, label, map[string]string{"HEAVY": "DUAL"}[class]+map[string]string{"PASSENGER_CAR": "SINGLE"}[class], wheel), req); err != nil {
		t.Fatal(err)
	}
	return req
}

// doubtful are visits of which something cannot be as it is told, by name, with what is
// said of it and what may not be said.
func doubtful(t testing.TB) []doubtfulVisit {
	dropped := yearly(t, 9, 9, 8, 3)
	settled := yearly(t, 9, 9, 8, 3)
	readTwice(settled)
	deeper := yearly(t, 11, 10, 10, 4)
	rolledBack := yearly(t, 9, 8, 7)
	odometer(rolledBack.Inspection, 3_000)
	rolledBetween := yearly(t, 10, 9, 8, 7)
	odometer(rolledBetween.Earlier[1], 2_000)
	otherUnit := yearly(t, 10, 9, 8, 7)
	odometer(otherUnit.Inspection, 64_373)
	tooFar := yearly(t, 10, 9, 8, 7)
	odometer(tooFar.Inspection, 4_000_000)
	sameTwice := yearly(t, 9, 8, 8)
	readTwice(sameTwice)
	same := yearly(t, 8, 7)
	for _, v := range []*pb.Inspection{same.Inspection, same.Earlier[0]} {
		for _, w := range v.Wheels {
			w.Sidewall = &pb.Sidewall{Identification: "DOT 1AB CDEF 1822"}
		}
	}
	same.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_REPLACED, Positions: []string{"2L"}, Date: &pb.CalendarDate{Year: 2025, Month: 6, Day: 1}}}
	uneven := yearly(t, 10, 10, 6, 6, 3)
	noLife := []string{"trend.first-out", "trend.reaches-limit", "trend.set-out"}
	bars := `{"position": "2R", "observations": [{"kind": "OBSERVATION_KIND_AT_WEAR_BARS"}], "tread": [
		{"place": {"across": "ACROSS_INBOARD"}, "depth": {"thirtySecondsInch": 6}}, {"place": {"across": "ACROSS_CENTER"}, "depth": {"thirtySecondsInch": 6}},
		{"place": {"across": "ACROSS_OUTBOARD"}, "depth": {"thirtySecondsInch": %s}}]}`
	flat := `{"position": %q, "observations": [{"kind": "OBSERVATION_KIND_FLAT"}], "pressures": [{"pressure": %s}]}`
	return []doubtfulVisit{
		{"today-contradicts", dropped, []string{"trend.newest-in-doubt"}, noLife},
		{"today-contradicts-deeper", deeper, []string{"trend.newest-in-doubt"}, noLife},
		{"today-contradicts-read-twice", settled, []string{"trend.wears-otherwise"}, append([]string{"trend.newest-in-doubt"}, noLife...)},
		{"uneven-and-near", uneven, []string{"trend.uneven"}, noLife},
		{"odometer-went-back", rolledBack, []string{"doubt.odometer-fell"}, append([]string{"trend.grew"}, noLife...)},
		{"odometer-went-back-between", rolledBetween, []string{"doubt.odometer-fell"}, append([]string{"trend.grew"}, noLife...)},
		{"odometer-in-kilometers", otherUnit, []string{"doubt.odometer-unit"}, append([]string{"trend.newest-in-doubt"}, noLife...)},
		{"replaced-and-the-same", same, []string{"doubt.same-tire"}, nil},
		{"flat-at-100-psi", oneWheel(t, "HEAVY", `{"psi": 100}`, fmt.Sprintf(flat, "2LI", `{"psi": 100}`)), []string{"doubt.flat-with-air"}, []string{"inflation.flat", "inflation.run-low"}},
		{"flat-at-2.3-bar", oneWheel(t, "PASSENGER_CAR", `{"bar": 2.3}`, fmt.Sprintf(flat, "1R", `{"bar": 2.3}`)), []string{"doubt.flat-with-air"}, []string{"inflation.flat"}},
		{"bars-flush-at-6", oneWheel(t, "PASSENGER_CAR", `{"psi": 33}`, fmt.Sprintf(bars, "6")), []string{"doubt.bars-with-tread"}, []string{"tread.worn-to-bars"}},
		{"odometer-a-digit-too-many", tooFar, []string{"doubt.odometer-far"}, append([]string{"trend.newest-in-doubt"}, noLife...)},
		{"same-readings-as-before", yearly(t, 9, 8, 8), []string{"doubt.readings-as-before"}, noLife},
		{"same-readings-read-twice", sameTwice, nil, []string{"doubt.readings-as-before"}},
		{"steady", yearly(t, 10, 9, 8, 7), []string{"trend.first-out"}, []string{"trend.newest-in-doubt", "doubt.odometer-unit"}},
		{"low-and-flat", oneWheel(t, "PASSENGER_CAR", `{"psi": 33}`, fmt.Sprintf(flat, "1R", `{"psi": 6}`)), []string{"inflation.flat"}, []string{"doubt.flat-with-air"}},
		{"bars-flush-at-the-edge", oneWheel(t, "PASSENGER_CAR", `{"psi": 33}`, fmt.Sprintf(bars, "2")), []string{"tread.worn-to-bars"}, []string{"doubt.bars-with-tread"}},
	}
}

type doubtfulVisit struct {
	name    string
	visit   *pb.AssessVisitRequest
	says    []string
	neither []string
}

// What cannot be as it is told is asked about and not judged, in a mirror and in other
// units too; what may be so is judged.
func TestDoubtsAreAskedAbout(t *testing.T) {
	for _, d := range doubtful(t) {
		for how, req := range map[string]*pb.AssessVisitRequest{"as told": d.visit, "in a mirror": mirrored(d.visit), "in metric units": metric(d.visit)} {
			for _, p := range check.AssessVisit(req) {
				t.Fatalf("%s: %v", d.name, p)
			}
			a := judge.Visit(req)
			var codes []string
			for _, f := range a.GetFindings() {
				codes = append(codes, f.GetCode())
			}
			for _, c := range d.says {
				if !slices.Contains(codes, c) {
					t.Errorf("%s, %s: %s is not said: %v", d.name, how, c, codes)
				}
			}
			for _, c := range d.neither {
				if slices.Contains(codes, c) {
					t.Errorf("%s, %s: %s is said", d.name, how, c)
				}
			}
		}
	}
}

// metric is the visit read in millimeters, bar and kilometers, to the last digit.
func metric(req *pb.AssessVisitRequest) *pb.AssessVisitRequest {
	out := proto.CloneOf(req)
	kilometers := func(d *pb.Distance) {
		if m, ok := d.GetAsRead().(*pb.Distance_Miles); ok {
			d.AsRead = &pb.Distance_Kilometers{Kilometers: m.Miles * 1.609344}
		}
	}
	for _, v := range append([]*pb.Inspection{out.Inspection}, out.Earlier...) {
		kilometers(v.Odometer)
		for _, w := range v.Wheels {
			for _, r := range w.Tread {
				r.Depth = &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: r.GetDepth().GetThirtySecondsInch() * 25.4 / 32}}
			}
		}
	}
	return out
}

// A tire whose newest reading is in doubt is measured again before anything else, and
// what rests on its depth says that it is not confirmed.
func TestADoubtfulReadingIsMeasuredAgainFirst(t *testing.T) {
	a := judge.Visit(yearly(t, 9, 9, 8, 2))
	again := slices.IndexFunc(a.GetWork(), func(w *pb.WorkItem) bool { return w.GetCode() == "measure.again" })
	if again < 0 || len(a.GetWork()[again].GetPositions()) != 4 {
		t.Fatalf("not measured again: %v", a.GetWork())
	}
	for _, f := range a.GetFindings() {
		unconfirmed := slices.ContainsFunc(f.GetEvidence(), func(e *pb.Evidence) bool { return e.GetCode() == "tread.unconfirmed" })
		if strings.HasPrefix(f.GetCode(), "tread.") && !unconfirmed {
			t.Errorf("%s does not say that the reading is in doubt", f.GetCode())
		}
	}
	settled := yearly(t, 9, 9, 8, 2)
	readTwice(settled)
	for _, f := range judge.Visit(settled).GetFindings() {
		if slices.ContainsFunc(f.GetEvidence(), func(e *pb.Evidence) bool { return e.GetCode() == "tread.unconfirmed" }) {
			t.Errorf("%s is read twice alike and still in doubt", f.GetCode())
		}
	}
}

// Nothing is told beyond the age at which a tire is replaced anyway.
func TestNoLifeBeyondAge(t *testing.T) {
	for _, c := range []struct {
		made string
		told bool
	}{{"", true}, {"1AB CDEF 1824", true}, {"1AB CDEF 1817", false}} {
		req := yearly(t, 10, 9, 8, 7) // out in five years
		for _, w := range req.GetInspection().GetWheels() {
			w.Sidewall = &pb.Sidewall{Identification: c.made}
		}
		told := slices.ContainsFunc(judge.Visit(req).GetFindings(), func(f *pb.Finding) bool { return f.GetCode() == "trend.first-out" })
		if told != c.told {
			t.Errorf("made %q: told %v", c.made, told)
		}
	}
}
