package judge_test

import (
	"slices"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
)

// trailer is an invented trailer, which has no odometer, whose tires were left at 65 psi
// a month ago; one has lost more than the others.
func trailer(t testing.TB) *pb.AssessVisitRequest {
	req := slipped(t, "TRAILER", false, `"psi": 65`, []string{`"psi": 50`, `"psi": 64`, `"psi": 64`, `"psi": 64`}, []string{`"thirtySecondsInch": 7`})
	was := slipped(t, "TRAILER", false, `"psi": 65`, []string{`"psi": 65`}, []string{`"thirtySecondsInch": 7`}).GetInspection()
	was.LocalDate = &pb.CalendarDate{Year: 2026, Month: 5, Day: 1}
	for _, w := range was.GetWheels() {
		w.Pressures[0].Phase = pb.Phase_PHASE_AS_LEFT
	}
	for _, v := range []*pb.Inspection{req.GetInspection(), was} {
		v.Conditions.Air = &pb.Temperature{AsRead: &pb.Temperature_Fahrenheit{Fahrenheit: 60}}
	}
	req.Earlier = []*pb.Inspection{was}
	return req
}

// An earlier visit without an odometer counts for pressure, by its day, unless the tire
// may have come there since (common practice: a trailer has no odometer, and leaks).
func TestAVisitWithoutAnOdometerCountsForPressure(t *testing.T) {
	for _, c := range []struct {
		name   string
		change func(*pb.AssessVisitRequest)
		leaks  bool
	}{
		{"as told", func(*pb.AssessVisitRequest) {}, true},
		{"an odometer today alone", func(r *pb.AssessVisitRequest) { odometer(r.Inspection, 40_000) }, true},
		{"another tire since", func(r *pb.AssessVisitRequest) {
			r.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_REPLACED, Positions: []string{"1L"}, Date: &pb.CalendarDate{Year: 2026, Month: 5, Day: 10}}}
		}, false},
		{"another tire before", func(r *pb.AssessVisitRequest) {
			r.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_REPLACED, Positions: []string{"1L"}, Date: &pb.CalendarDate{Year: 2026, Month: 4, Day: 10}}}
		}, true},
		{"somebody moved them", func(r *pb.AssessVisitRequest) { r.Inspection.Conditions.TiresMoved = pb.Answer_ANSWER_YES }, false},
		{"no day", func(r *pb.AssessVisitRequest) { r.Earlier[0].LocalDate = nil }, false},
	} {
		req := trailer(t)
		c.change(req)
		a := judge.Visit(req)
		if leaks := slices.ContainsFunc(a.GetFindings(), func(f *pb.Finding) bool { return f.GetCode() == "trend.loses-faster" }); leaks != c.leaks {
			t.Errorf("%s: loses faster %v", c.name, leaks)
		}
	}
}

// All tires down alike is weather and time, and the customer hears so beside the air
// that they take.
func TestAllAlikeIsToldToTheCustomer(t *testing.T) {
	req := slipped(t, "PASSENGER_CAR", false, `"psi": 33`, []string{`"psi": 28`}, []string{`"thirtySecondsInch": 7`})
	a := judge.Visit(req)
	tell.For(&pb.Reader{Language: "en", CustomerLanguage: "en"}, tell.Shop{}).Assessment(a, true)
	i := slices.IndexFunc(a.GetFindings(), func(f *pb.Finding) bool { return f.GetCode() == "inflation.all-alike" })
	if i < 0 || a.GetFindings()[i].GetForCustomer() == "" {
		t.Errorf("not told: %v", a.GetFindings())
	}
}

// A cause of wear names who or what proves it: nobody sells an alignment on a guess.
func TestACauseNamesWhoProvesIt(t *testing.T) {
	for _, req := range everyVisit(t) {
		for _, f := range judge.Visit(req).GetFindings() {
			if f.GetCauseRank() == 1 && f.GetToSettle() == nil && f.GetCode() != "wear.different-tire" { // by its dates, which were told
				t.Errorf("%s %v", f.GetCode(), f.GetPositions())
			}
		}
	}
}
