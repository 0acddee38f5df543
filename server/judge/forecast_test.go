package judge_test

import (
	"testing"

	"google.golang.org/protobuf/proto"
	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// The coldest morning expected is a forecast and no reading: beside what is short on that
// morning, which is planned for, it finds nothing, and changes and closes nothing that was
// found. Where it asks for more air than the label, what was set to the label alone may
// stay open.
func TestAForecastIsNoReading(t *testing.T) {
	const onThatMorning = "inflation.short-where-used"
	rapid.Check(t, func(t *rapid.T) {
		req := anyVisit.Draw(t, "visit")
		if req.GetInspection().GetConditions() == nil {
			req.Inspection.Conditions = &pb.Conditions{}
		}
		req.Inspection.Conditions.ColdestExpected = nil
		with := proto.CloneOf(req)
		with.Inspection.Conditions.ColdestExpected = &pb.Temperature{AsRead: &pb.Temperature_Celsius{Celsius: rapid.Float64Range(-40, 40).Draw(t, "forecast")}}
		without, found := judged(t, req), judged(t, with)
		for _, f := range found.GetFindings() {
			switch g := byID(without, f.GetId()); {
			case f.GetCode() == onThatMorning:
				if f.GetUrgency() < planned {
					t.Fatalf("by a forecast %v\n%s", f, shownJSON(with))
				}
			case g == nil || f.GetAsLeft() != nil && g.GetAsLeft() == nil || !proto.Equal(asFound(f), asFound(g)):
				t.Fatalf("a forecast makes %v\nof %v\n%s", f, g, shownJSON(with))
			}
		}
		for _, f := range without.GetFindings() {
			if f.GetCode() != onThatMorning && byID(found, f.GetId()) == nil {
				t.Fatalf("a forecast takes away %v\n%s", f, shownJSON(with))
			}
		}
	})
}

// asFound is a finding without how the vehicle was left.
func asFound(f *pb.Finding) *pb.Finding {
	f = proto.CloneOf(f)
	f.AsLeft = nil
	return f
}
