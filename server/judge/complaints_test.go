package judge_test

import (
	"slices"
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
)

// headlines is what a visit comes down to for technician and customer, at a glance.
func headlines(req *pb.AssessVisitRequest, language string) (technician, customer string) {
	a := judge.Visit(req)
	tell.For(&pb.Reader{Language: language, CustomerLanguage: language, View: pb.View_VIEW_GLANCE}, tell.Shop{}).Assessment(a, true)
	return a.GetHeadline().GetForTechnician(), a.GetHeadline().GetForCustomer()
}

// What the customer came for is taken by itself, and answered in the headline: by what
// was found, that it was looked for and not found, or that nobody looked.
func TestEveryComplaintIsAnswered(t *testing.T) {
	never := []pb.ComplaintKind{ // nothing that a visit records proves that there is none
		pb.ComplaintKind_COMPLAINT_KIND_LAMP_FLASHING, pb.ComplaintKind_COMPLAINT_KIND_SEALANT_USED, pb.ComplaintKind_COMPLAINT_KIND_OTHER,
	}
	for n := range pb.ComplaintKind_name {
		kind := pb.ComplaintKind(n)
		c := &pb.Complaint{Kind: kind, Words: "since Tuesday"}
		alone := slipped(t, "PASSENGER_CAR", false, `"psi": 33`, []string{`"psi": 33`}, []string{`"thirtySecondsInch": 7`})
		looked := slipped(t, "PASSENGER_CAR", false, `"psi": 33`, []string{`"psi": 33`}, []string{`"thirtySecondsInch": 7`})
		for _, w := range looked.GetInspection().GetWheels() {
			w.Looked = nil
			for l := range pb.LookedAt_name {
				if l != 0 && l != int32(pb.LookedAt_LOOKED_AT_INSIDE_OF_TIRE) && l != int32(pb.LookedAt_LOOKED_AT_TREAD_PART) {
					w.Looked = append(w.Looked, &pb.Looked{What: pb.LookedAt(l), Looked: &pb.Looked_Seen{Seen: true}})
				}
			}
		}
		alone.Inspection.Wheels = nil
		for _, v := range []struct {
			visit *pb.AssessVisitRequest
			want  [2]string // English, Spanish
		}{{alone, [2]string{"not looked at yet", "todavía no se ha mirado"}}, {looked, [2]string{"looked at, not found", "se miró, no se encontró"}}} {
			v.visit.GetInspection().GetConditions().Complaints = []*pb.Complaint{c}
			if problems := check.AssessVisit(v.visit); len(problems) > 0 {
				t.Fatalf("%v: %v", kind, problems)
			}
			if v.visit == looked && (n == 0 || slices.Contains(never, kind)) {
				v.want = [2]string{"not looked at yet", "todavía no se ha mirado"}
			}
			for i, language := range []string{"en", "es"} {
				if technician, customer := headlines(v.visit, language); !strings.Contains(technician, v.want[i]) || !strings.Contains(customer, v.want[i]) {
					t.Errorf("%v: %q, %q: want %q", kind, technician, customer, v.want[i])
				}
			}
		}
	}
}

// It is answered by what was found, and a lamp that is on now by what it is on for.
func TestComplaintsAreAnsweredByWhatWasFound(t *testing.T) {
	for _, c := range []struct {
		kind pb.ComplaintKind
		lamp pb.Lamp
		seen pb.ObservationKind
		psi  string
		want string
	}{
		{pb.ComplaintKind_COMPLAINT_KIND_VIBRATION, 0, pb.ObservationKind_OBSERVATION_KIND_BULGE, `"psi": 33`, "Vibration: bulge or separation."},
		{pb.ComplaintKind_COMPLAINT_KIND_SLOW_LEAK, 0, pb.ObservationKind_OBSERVATION_KIND_OBJECT_IN_TREAD, `"psi": 33`, "Slow leak: a place where air may escape."},
		{pb.ComplaintKind_COMPLAINT_KIND_LAMP_COLD_MORNINGS_ONLY, 0, 0, `"psi": 26`, "cold mornings: a tire short of air."},
		{pb.ComplaintKind_COMPLAINT_KIND_LAMP_STEADY, pb.Lamp_LAMP_ON_STEADY, 0, `"psi": 24`, "Warning lamp: a tire low on air."},
		{pb.ComplaintKind_COMPLAINT_KIND_LAMP_STEADY, pb.Lamp_LAMP_ON_STEADY, 0, `"psi": 33`, "Warning lamp: on, pressures right."},
		{pb.ComplaintKind_COMPLAINT_KIND_LAMP_FLASHING, pb.Lamp_LAMP_FLASHING_THEN_STEADY, 0, `"psi": 33`, "Warning lamp: the system has a fault."},
	} {
		req := slipped(t, "PASSENGER_CAR", false, `"psi": 33`, []string{c.psi}, []string{`"thirtySecondsInch": 7`})
		req.GetInspection().GetConditions().Complaints = []*pb.Complaint{{Kind: c.kind}}
		req.GetInspection().GetConditions().LampAsFound = c.lamp
		if c.seen != 0 {
			req.GetInspection().GetWheels()[0].Observations = []*pb.Observation{{Kind: c.seen}}
		}
		if technician, customer := headlines(req, "en"); !strings.HasSuffix(technician, c.want) || !strings.HasSuffix(customer, c.want) {
			t.Errorf("%v: %q, %q: want %q", c.kind, technician, customer, c.want)
		}
	}
}

// A visit of nothing but a photo is taken, and cannot tell.
func TestAPhotoAlone(t *testing.T) {
	req := slipped(t, "PASSENGER_CAR", false, `"psi": 33`, []string{`"psi": 33`}, []string{`"thirtySecondsInch": 7`})
	req.Inspection.Wheels, req.Inspection.PhotoSha256 = nil, []string{strings.Repeat("0a", 32)}
	if problems := check.AssessVisit(req); len(problems) > 0 {
		t.Fatal(problems)
	}
	if h := judge.Visit(req).GetHeadline().GetHold(); h != pb.Hold_HOLD_CANNOT_TELL {
		t.Error(h)
	}
	req.Inspection.PhotoSha256 = nil
	req.Inspection.Conditions.Complaints = []*pb.Complaint{{Words: " "}}
	if len(check.AssessVisit(req)) == 0 {
		t.Error("a visit of nothing is taken")
	}
}
