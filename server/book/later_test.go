package book

import (
	"reflect"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/closing"
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// What a visit says of one wheel is known of that wheel, and of no other: a hole judged at
// the right front clears nothing at the left (our own decision).
func TestWhatWasSeenIsOfItsOwnWheel(t *testing.T) {
	const at, other = "1R", "1L"
	of := func(change func(*pb.WheelReport)) *visit {
		w := &pb.WheelReport{Position: at}
		change(w)
		return &visit{inspection: &pb.Inspection{Wheels: []*pb.WheelReport{{Position: other}, w}}}
	}
	judged := func(a *pb.Assessment) *visit { return &visit{inspection: &pb.Inspection{}, assessment: a} }
	looked := func(what ...pb.LookedAt) func(*pb.WheelReport) {
		return func(w *pb.WheelReport) {
			for _, l := range what {
				w.Looked = append(w.Looked, &pb.Looked{What: l, Looked: &pb.Looked_Seen{Seen: true}})
			}
		}
	}
	marks := func(m *pb.MountingMarks) func(*pb.WheelReport) {
		return func(w *pb.WheelReport) { w.Marks = []*pb.MountingMarks{m} }
	}
	for _, row := range []struct {
		name string
		v    *visit
		want closing.Wheel
	}{
		{"a repair judged", judged(&pb.Assessment{Repairs: []*pb.RepairAnswer{{Position: at}}}), closing.Wheel{Injury: true}},
		{"its depth and pressure, not all of it seen", judged(&pb.Assessment{Wheels: []*pb.WheelSummary{
			{Position: at, GoverningDepth: &pb.Depth{}, Found: &pb.Pressure{}, Coverage: &pb.Said{}}}}), closing.Wheel{Depth: true, Pressure: true}},
		{"seen whole", judged(&pb.Assessment{Wheels: []*pb.WheelSummary{{Position: at}}}), closing.Wheel{Whole: true}},
		{"found good", judged(&pb.Assessment{NothingFound: []*pb.Checked{{Code: "load.carried", Positions: []string{at}}}}), closing.Wheel{Good: []finding.Checked{finding.CheckedLoadCarried}}},
		{"asked", judged(&pb.Assessment{Questions: []*pb.Question{{Code: "ask.across", Positions: []string{at}}}}), closing.Wheel{Asked: []finding.Question{finding.AskAcross}}},
		{"identification", of(func(w *pb.WheelReport) { w.Sidewall = &pb.Sidewall{Identification: "1816"} }), closing.Wheel{Identification: true}},
		{"marking", of(func(w *pb.WheelReport) { w.Sidewall = &pb.Sidewall{Marking: "225/60R17"} }), closing.Wheel{Marking: true}},
		{"arrow", of(marks(&pb.MountingMarks{Arrow: pb.DirectionArrow_DIRECTION_ARROW_AGREES})), closing.Wheel{Arrow: true}},
		{"arrow as left", of(marks(&pb.MountingMarks{Arrow: pb.DirectionArrow_DIRECTION_ARROW_AGREES, Phase: pb.Phase_PHASE_AS_LEFT})), closing.Wheel{}},
		{"outside", of(marks(&pb.MountingMarks{OutsideMark: pb.MarkFaces_MARK_FACES_OUT})), closing.Wheel{Outside: true}},
		{"outside, not to be seen", of(marks(&pb.MountingMarks{OutsideMark: pb.MarkFaces_MARK_FACES_NOT_SEEN})), closing.Wheel{}},
		{"sensor silent", of(func(w *pb.WheelReport) {
			w.SensorReadings = []*pb.SensorReading{{Answering: pb.Answer_ANSWER_NO}}
		}), closing.Wheel{Sensor: true}},
		{"sensor not asked", of(func(w *pb.WheelReport) { w.SensorReadings = []*pb.SensorReading{{}} }), closing.Wheel{}},
		{"fasteners looked at", of(looked(pb.LookedAt_LOOKED_AT_FASTENERS)), closing.Wheel{Fasteners: true}},
		{"fasteners counted", of(func(w *pb.WheelReport) {
			w.FastenerWork = &pb.FastenerWork{Counted: proto.Int32(5), Damaged: proto.Int32(0)}
		}), closing.Wheel{Fasteners: true, Torque: true}},
		{"fasteners counted, the damaged not told", of(func(w *pb.WheelReport) { w.FastenerWork = &pb.FastenerWork{Counted: proto.Int32(5)} }), closing.Wheel{Torque: true}},
		{"torque checked", of(func(w *pb.WheelReport) { w.TorqueRecheck = &pb.TorqueRecheck{} }), closing.Wheel{Torque: true}},
		{"valve", of(looked(pb.LookedAt_LOOKED_AT_VALVE)), closing.Wheel{Valve: true}},
		{"half of the rim", of(looked(pb.LookedAt_LOOKED_AT_WHEEL_FACE)), closing.Wheel{}},
		{"the other half", of(looked(pb.LookedAt_LOOKED_AT_WHEEL_BARREL)), closing.Wheel{}},
		{"the rim", of(looked(pb.LookedAt_LOOKED_AT_WHEEL_FACE, pb.LookedAt_LOOKED_AT_WHEEL_BARREL)), closing.Wheel{Rim: true}},
	} {
		got := laterVisit(row.v, nil, nil).Wheels
		if !reflect.DeepEqual(got[layout.MustParse(at)], row.want) {
			t.Errorf("%s: %+v, want %+v", row.name, got[layout.MustParse(at)], row.want)
		}
		if !reflect.DeepEqual(got[layout.MustParse(other)], closing.Wheel{}) {
			t.Errorf("%s: of the other wheel %+v", row.name, got[layout.MustParse(other)])
		}
	}
}

// What differs is named by its field: what only one of the two has, and what both have of
// another value.
func TestDifferingNamesWhatDiffers(t *testing.T) {
	amount := func(n float64) *pb.Distance { return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}} }
	base := func() *pb.Inspection {
		return &pb.Inspection{Id: "a", Odometer: amount(1), Wheels: []*pb.WheelReport{{Position: "1L"}}}
	}
	for _, row := range []struct {
		name   string
		change func(*pb.Inspection)
		want   []string
	}{
		{"nothing", func(*pb.Inspection) {}, nil},
		{"a text of another value", func(m *pb.Inspection) { m.Id = "b" }, []string{"id"}},
		{"a message of another value", func(m *pb.Inspection) { m.Odometer = amount(2) }, []string{"odometer"}},
		{"a message that is gone", func(m *pb.Inspection) { m.Odometer = nil }, []string{"odometer"}},
		{"an entry of another value", func(m *pb.Inspection) { m.Wheels[0].Position = "1R" }, []string{"wheels"}},
		{"one more entry", func(m *pb.Inspection) { m.Wheels = append(m.Wheels, &pb.WheelReport{}) }, []string{"wheels"}},
		{"a message that came", func(m *pb.Inspection) { m.Conditions = &pb.Conditions{} }, []string{"conditions"}},
	} {
		a, b := base(), base()
		row.change(b)
		for _, got := range [][]string{differing(a, b), differing(b, a)} {
			if !slices.Equal(got, row.want) {
				t.Errorf("%s: %v, want %v", row.name, got, row.want)
			}
		}
	}
}

// A finding is a candidate where it has rules and none of them is known to bind.
func TestCandidate(t *testing.T) {
	binds, may := &pb.Rule{Id: "a"}, &pb.Rule{Id: "b", Candidate: true}
	for _, row := range []struct {
		rules []*pb.Rule
		want  bool
	}{{nil, false}, {[]*pb.Rule{binds}, false}, {[]*pb.Rule{may}, true}, {[]*pb.Rule{may, may}, true}, {[]*pb.Rule{may, binds}, false}} {
		if got := candidate(&pb.Finding{Rules: row.rules}); got != row.want {
			t.Errorf("%v: %v", row.rules, got)
		}
	}
}
