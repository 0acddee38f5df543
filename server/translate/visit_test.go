package translate

import (
	"fmt"
	"slices"
	"testing"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/unit"
)

// The places judged are those where the vehicle is driven, in their order, then where it
// is registered, each once.
func TestPlacesOfLaw(t *testing.T) {
	texas, nevada, mexico := &pb.Jurisdiction{Country: "US", State: "TX"}, &pb.Jurisdiction{Country: "US", State: "NV"}, &pb.Jurisdiction{Country: "MX"}
	for _, c := range []struct {
		name string
		use  *pb.VehicleUse
		want string
	}{
		{"nothing told", nil, "[]"},
		{"nothing told of the place", &pb.VehicleUse{Tows: pb.Answer_ANSWER_NO}, "[]"},
		{"driven in one", &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{texas}}, "[US-TX]"},
		{"registered only", &pb.VehicleUse{RegisteredIn: nevada}, "[US-NV]"},
		{"driven where it is registered", &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{nevada}, RegisteredIn: proto.CloneOf(nevada)}, "[US-NV]"},
		{"driven in two", &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{mexico, texas}}, "[MX US-TX]"},
		{"registered elsewhere", &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{texas, mexico}, RegisteredIn: nevada}, "[US-TX MX US-NV]"},
	} {
		v := Visit(&pb.AssessVisitRequest{Vehicle: &pb.Vehicle{Use: c.use}, Inspection: &pb.Inspection{}})
		if got := fmt.Sprint(v.Use.Places); got != c.want {
			t.Errorf("%s: judged in %v, want %v", c.name, got, c.want)
		}
	}
}

// What was read of a tire today goes before its record, but that nobody could tell
// takes nothing from it; where nobody ever could, it is asked.
func TestASidewallSeenAgain(t *testing.T) {
	const yes, no, unknown, absent = pb.Answer_ANSWER_YES, pb.Answer_ANSWER_NO, pb.Answer_ANSWER_UNKNOWN, pb.Answer_ANSWER_UNSPECIFIED
	for _, c := range []struct {
		record, today pb.Answer
		want          finding.Answer
	}{
		{absent, absent, finding.NotAsked},
		{absent, yes, finding.Yes},
		{absent, unknown, finding.NotAsked},
		{yes, absent, finding.Yes},
		{yes, no, finding.No},
		{yes, unknown, finding.Yes},
		{no, unknown, finding.No},
		{unknown, unknown, finding.NotAsked},
		{unknown, no, finding.No},
	} {
		record := &pb.Tire{Sidewall: &pb.Sidewall{Studded: c.record, Directional: c.record, Marking: "225/65R17"}}
		today := &pb.WheelReport{Sidewall: &pb.Sidewall{Studded: c.today, Directional: c.today}}
		before := proto.CloneOf(record)
		got := tire(today, record, "", unit.Date{})
		turning := func() finding.Answer { _, v := turningOf(today, record); return v.Directional }()
		if got.Studded != c.want || turning != c.want {
			t.Errorf("%v on record, %v today: studded %v, directional %v, want %v", c.record, c.today, got.Studded, turning, c.want)
		}
		if got.Size != "225/65R17" || !proto.Equal(record, before) {
			t.Errorf("%v on record, %v today: the record is %v", c.record, c.today, record)
		}
	}
}

// An axle is what was told of it, else what the drive and its place say.
func TestAnAxleAsTold(t *testing.T) {
	v := vehicle(&pb.Vehicle{Drive: pb.Drive_DRIVE_REAR, Axles: &pb.Axles{Axles: []*pb.Axle{
		{}, {Steered: pb.Answer_ANSWER_YES, Driven: pb.Answer_ANSWER_NO, Wheels: pb.AxleWheels_AXLE_WHEELS_DUAL},
		{Steered: pb.Answer_ANSWER_UNKNOWN, Driven: pb.Answer_ANSWER_UNKNOWN, Wheels: pb.AxleWheels_AXLE_WHEELS_WIDE_BASE_SINGLE},
	}}})
	var steered, driven, dual []bool
	for _, a := range v.Axles {
		steered, driven, dual = append(steered, a.Steered), append(driven, a.Driven), append(dual, a.Dual)
	}
	if !slices.Equal(steered, []bool{true, true, false}) || !slices.Equal(driven, []bool{false, false, true}) || !slices.Equal(dual, []bool{false, true, false}) {
		t.Errorf("steered %v, driven %v, dual %v", steered, driven, dual)
	}
}
