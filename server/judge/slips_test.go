package judge_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/encoding/protojson"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
)

// fleet are invented vehicles of each kind, with the pressure of their label in psi, what
// that is in bar, and a depth in thirty-seconds that is usual.
var fleet = []struct {
	class string
	duals bool
	psi   float64
	bar   float64
	depth float64
}{
	{"PASSENGER_CAR", false, 33, 2.3, 7}, {"LIGHT_TRUCK", false, 60, 4.1, 9}, {"LIGHT_TRUCK", true, 65, 4.5, 9}, {"HEAVY", true, 103, 7.1, 14},
	{"BUS", true, 108, 7.4, 14}, {"TRAILER", false, 65, 4.5, 7}, {"MOTORHOME", true, 82, 5.7, 11}, {"UNSPECIFIED", false, 33, 2.3, 7},
}

// slipped is a vehicle of the fleet with every wheel read: pressures and depths as JSON
// writes them, one for each wheel in turn; the last goes on.
func slipped(t testing.TB, class string, duals bool, label string, pressures, depths []string) *pb.AssessVisitRequest {
	t.Helper()
	at, axle := []string{"1L", "1R", "2L", "2R"}, "SINGLE"
	if duals {
		at, axle = []string{"1L", "1R", "2LI", "2LO", "2RI", "2RO"}, "DUAL"
	}
	var wheels []string
	for i, p := range at {
		psi, depth := pressures[min(i, len(pressures)-1)], depths[min(i, len(depths)-1)]
		var read []string
		for _, across := range []string{"INBOARD", "CENTER", "OUTBOARD"} {
			read = append(read, fmt.Sprintf(`{"place": {"across": "ACROSS_%s"}, "depth": {%s}}`, across, depth))
		}
		wheels = append(wheels, fmt.Sprintf(`{"position": %q, "pressures": [{"pressure": {%s}, "gauge": "GAUGE_KIND_DIGITAL"}], "tread": [%s],
			"looked": [{"what": "LOOKED_AT_OUTER_SIDEWALL", "seen": true}]}`, p, psi, strings.Join(read, ",")))
	}
	req := &pb.AssessVisitRequest{}
	if err := protojson.Unmarshal(fmt.Appendf(nil, `{"vehicle": {"vehicleClass": "VEHICLE_CLASS_%s", "use": {"drivenIn": [{"country": "US", "state": "OH"}]},
		"axles": {"axles": [{"coldNormalLoad": {%s}}, {"wheels": "AXLE_WHEELS_%s", "coldNormalLoad": {%[2]s}}]}},
		"inspection": {"localDate": {"year": 2026, "month": 6, "day": 1}, "conditions": {"driven": {"drivenHere": "ANSWER_NO"}}, "wheels": [%[4]s]}}`,
		class, label, axle, strings.Join(wheels, ",")), req); err != nil {
		t.Fatal(err)
	}
	return req
}

// doubts are the codes of what is asked about, and offers what is offered there.
func doubts(a *pb.Assessment) (codes, offers []string) {
	for _, f := range a.GetFindings() {
		if strings.HasPrefix(f.GetCode(), "doubt.") && !slices.Contains(codes, f.GetCode()) {
			codes = append(codes, f.GetCode())
			for _, e := range f.GetEvidence() {
				offers = append(offers, e.GetAmount().String())
			}
		}
	}
	return codes, offers
}

// looksOnly tells of a line that it holds, looks, measures, asks or writes.
func looksOnly(w *pb.WorkItem) bool {
	k := finding.WorkOf(finding.Work(w.GetCode()))
	return k.Needs != finding.NeedsProof && !k.WheelOff && !k.Dismounts && !k.Fits && !k.Moves
}

// What the hand slips into is asked about on every kind of vehicle, and nothing is set,
// mended, moved or bought for it; read rightly, nothing is asked (common practice).
func TestSlipsOfTheHand(t *testing.T) {
	number := func(name string, n float64) string { return fmt.Sprintf(`"%s": %v`, name, n) }
	for _, v := range fleet {
		psi, deep := number("psi", v.psi), number("thirtySecondsInch", v.depth)
		metric := []string{number("bar", v.bar), number("kilopascals", 100*v.bar)}
		for _, c := range []struct {
			name             string
			label            string
			pressures, depth []string
			want             string
		}{
			{"right", psi, []string{psi}, []string{deep}, ""},
			{"right in bar", metric[0], []string{metric[0]}, []string{deep}, ""},
			{"right in kPa", metric[1], []string{metric[1]}, []string{deep}, ""},
			{"bar and psi", psi, []string{psi, metric[0]}, []string{deep}, ""},
			{"one low", psi, []string{number("psi", 0.1*v.psi), psi}, []string{deep}, ""},
			{"one low in kPa", metric[1], []string{number("kilopascals", v.psi), metric[1]}, []string{deep}, ""},
			{"kPa for psi", psi, []string{number("kilopascals", v.psi)}, []string{deep}, "doubt.pressure-unit"},
			{"kPa for psi on one", psi, []string{number("kilopascals", v.psi), psi}, []string{deep}, "doubt.pressure-unit"},
			{"psi for bar", metric[0], []string{number("psi", v.bar)}, []string{deep}, "doubt.pressure-unit"},
			{"kPa for bar", metric[0], []string{number("kilopascals", v.bar)}, []string{deep}, "doubt.pressure-unit"},
			{"a label of kPa for psi", number("kilopascals", v.psi), []string{psi}, []string{deep}, "doubt.label-unit"},
			{"a label of psi for bar", number("psi", v.bar), []string{metric[0]}, []string{deep}, "doubt.label-unit"},
			{"one in mm for thirty-seconds", psi, []string{psi}, []string{number("millimeters", v.depth), deep}, "doubt.depth-unit"},
			{"one in mm", psi, []string{psi}, []string{number("millimeters", 25.4/32*v.depth), deep}, ""},
			{"mm without their point", psi, []string{psi}, []string{number("millimeters", 39)}, "doubt.depth-unit"},
		} {
			req := slipped(t, v.class, v.duals, c.label, c.pressures, c.depth)
			if problems := check.AssessVisit(req); len(problems) > 0 {
				t.Fatalf("%s %s: %v", v.class, c.name, problems)
			}
			a := judge.Visit(req)
			codes, offers := doubts(a)
			if c.want == "" && len(codes) > 0 || c.want != "" && !slices.Equal(codes, []string{c.want}) {
				t.Errorf("%s %s: asked about %v %v, want %s", v.class, c.name, codes, offers, c.want)
			}
			if c.want == "" {
				continue
			}
			if a.GetHeadline().GetHold() != pb.Hold_HOLD_CANNOT_TELL {
				t.Errorf("%s %s: %v", v.class, c.name, a.GetHeadline().GetHold())
			}
			for _, w := range a.GetWork() {
				if !looksOnly(w) {
					t.Errorf("%s %s orders %s", v.class, c.name, w.GetCode())
				}
			}
		}
	}
}

// Six round pressures alike on duals are read or thumped; what was read with a gauge, is
// not round, not alike, or low, is taken as read (common practice).
func TestReadOrThumped(t *testing.T) {
	for _, c := range []struct {
		pressures []string
		gauge     bool
		duals     bool
		want      bool
	}{
		{[]string{`"psi": 100`}, false, true, true}, {[]string{`"bar": 7`}, false, true, true}, {[]string{`"kilopascals": 700`}, false, true, true},
		{[]string{`"psi": 100`}, true, true, false}, {[]string{`"psi": 103`}, false, true, false}, {[]string{`"psi": 105`, `"psi": 100`}, false, true, false},
		{[]string{`"psi": 70`}, false, true, false}, {[]string{`"psi": 100`}, false, false, false},
	} {
		req := slipped(t, "HEAVY", c.duals, `"psi": 100`, c.pressures, []string{`"thirtySecondsInch": 12`})
		for _, w := range req.GetInspection().GetWheels() {
			if !c.gauge {
				w.Pressures[0].Gauge = 0
			}
		}
		if codes, _ := doubts(judge.Visit(req)); slices.Contains(codes, "doubt.read-or-thumped") != c.want {
			t.Errorf("%v, gauge told %v, duals %v: %v", c.pressures, c.gauge, c.duals, codes)
		}
	}
}

// What a sidewall cannot say is asked about: a week to come, one that the year has not,
// letters that such numbers do not use (49 CFR 574.5, letters from memory), a rim with
// its digits the other way round.
func TestMisreadSidewalls(t *testing.T) {
	for _, c := range []struct{ identification, marking, want string }{
		{"1AB CDEF 1026", "225/60R16 98H", ""}, {"1026", "", ""}, {"1AB CDEF", "", ""}, {"1AB CDEF 5323", "", ""},
		{"1AB CDEF 1230", "", "doubt.made-later"}, {"2426", "", "doubt.made-later"}, {"1AB CDEF 5321", "", "doubt.no-such-week"},
		{"1AB CDEF 6021", "", "doubt.no-such-week"}, {"1AB CDEF 1O21", "", "doubt.symbol"}, {"OAB CDEF 1021", "", "doubt.symbol"},
		{"", "225/60R61 98H", "doubt.rim"}, {"", "LT245/75R61 120/116S", "doubt.rim"}, {"", "9.5R 17", ""},
	} {
		req := slipped(t, "PASSENGER_CAR", false, `"psi": 33`, []string{`"psi": 33`}, []string{`"thirtySecondsInch": 7`})
		req.Inspection.Wheels[0].Sidewall = &pb.Sidewall{Identification: c.identification, Marking: c.marking}
		codes, _ := doubts(judge.Visit(req))
		if c.want == "" && len(codes) > 0 || c.want != "" && !slices.Equal(codes, []string{c.want}) {
			t.Errorf("%q %q: %v, want %s", c.identification, c.marking, codes, c.want)
		}
	}
}
