package translate

import (
	"slices"
	"testing"

	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/finding/findingtest"
)

// names gives the values of an enum of the contract as calc's codes.
func names(e protoreflect.Enum, prefix string) (all []string) {
	values := e.Descriptor().Values()
	for i := range values.Len() {
		if code := kebab[string](string(values.Get(i).Name()), prefix); code != "" {
			all = append(all, code)
		}
	}
	slices.Sort(all)
	return all
}

// The kinds that calc knows are those of the contract, one for one.
func TestKindsAreTheContracts(t *testing.T) {
	codes := findingtest.Constants(t, "../../calc/finding")
	for _, c := range []struct {
		of    string
		enum  []string
		codes []string
	}{
		{"observation", names(pb.ObservationKind(0), "OBSERVATION_KIND_"), codes["Observation"]},
		{"work done", names(pb.WorkKind(0), "WORK_KIND_"), codes["Done"]},
		{"complaint", names(pb.ComplaintKind(0), "COMPLAINT_KIND_"), codes["Complaint"]},
		// "wheel" stands for a position without any report: nobody says so.
		{"looked at", append(names(pb.LookedAt(0), "LOOKED_AT_"), string(finding.LookedWheel)), codes["Looked"]},
		// "part-only" is said of a tread of which a part was looked at.
		{"not looked at", append(names(pb.NotLookedReason(0), "NOT_LOOKED_REASON_"), string(finding.NotLookedPartOnly)), codes["NotLooked"]},
		{"part", names(pb.TirePart(0), "TIRE_PART_"), codes["Part"]},
		{"side", names(pb.WheelSide(0), "WHEEL_SIDE_"), codes["WheelSide"]},
	} {
		slices.Sort(c.enum)
		for _, code := range c.enum {
			if !slices.Contains(c.codes, code) {
				t.Errorf("%s: the contract has %q, calc has not", c.of, code)
			}
		}
		for _, code := range c.codes {
			if !slices.Contains(c.enum, code) {
				t.Errorf("%s: calc has %q, the contract has not", c.of, code)
			}
		}
	}
}
