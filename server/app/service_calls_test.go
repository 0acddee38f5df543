package app

import (
	"fmt"
	"net/http"
	"testing"

	"github.com/google/uuid"
	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// seenTwice is an invented car at two visits, 9,000 miles in 180 days apart: 9/32 in
// and 6/32 in on all four tires.
func seenTwice() (*pb.Vehicle, []*pb.Inspection) {
	v := testCar()
	v.Tag, v.Drive = "gray sedan", pb.Drive_DRIVE_FRONT
	var visits []*pb.Inspection
	for i, on := range []*pb.CalendarDate{{Year: 2026, Month: 1, Day: 10}, {Year: 2026, Month: 7, Day: 9}} {
		in := &pb.Inspection{Id: uuid.NewString(), VehicleId: v.GetId(), LocalDate: on,
			Odometer: &pb.Distance{AsRead: &pb.Distance_Miles{Miles: 10_000 + float64(9_000*i)}}}
		for _, at := range []string{"1L", "1R", "2L", "2R"} {
			w := &pb.WheelReport{Position: at, Sidewall: &pb.Sidewall{Marking: "215/60R16 95V", Directional: pb.Answer_ANSWER_NO, Studded: pb.Answer_ANSWER_NO}}
			for across := range pb.Across(3) {
				w.Tread = append(w.Tread, &pb.TreadReading{Place: &pb.Place{Across: across + 1},
					Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 9 - float64(3*i)}}})
			}
			in.Wheels = append(in.Wheels, w)
		}
		visits = append(visits, in)
	}
	return v, visits
}

// What comes due is told alike at either door: 6/32 in less 2/32 in at 3/32 in over
// 9,000 miles, 50 miles a day, are 240 days.
func TestComingDueAtBothDoors(t *testing.T) {
	r := inMemory(t)
	v, visits := seenTwice()
	r.keep(v, visits...)
	path := "/v1/shops/" + testShop + "/coming-due?untilDate.year=2027&untilDate.month=3&untilDate.day="
	_, code, body := r.overJSON(http.MethodGet, path+"6&pageSize=10", testCounter, nil, nil)
	got, want := &pb.ListComingDueResponse{}, &pb.ListComingDueResponse{}
	if err := protojson.Unmarshal(body, got); err != nil || code != http.StatusOK || len(got.GetRows()) != 1 || got.GetRows()[0].GetTag() != "gray sedan" {
		t.Fatalf("HTTP %d: %v: %s", code, err, body)
	}
	req := &pb.ListComingDueRequest{ShopId: testShop, UntilDate: &pb.CalendarDate{Year: 2027, Month: 3, Day: 6}}
	if a := r.overGRPC(t.Context(), pb.ShopService_ListComingDue_FullMethodName, testCounter, req, want); a.code != codes.OK || !proto.Equal(got, want) {
		t.Errorf("%v: %v, want %v", a, got, want)
	}
	_, code, body = r.overJSON(http.MethodGet, path+"5", testCounter, nil, nil)
	if err := protojson.Unmarshal(body, got); err != nil || code != http.StatusOK || len(got.GetRows()) > 0 {
		t.Errorf("the day before: HTTP %d: %v: %s", code, err, body)
	}
	for _, row := range []struct {
		path, token string
		status      int
	}{
		{path + "6", testBench, http.StatusForbidden},
		{path + "6", "", http.StatusUnauthorized},
		{"/v1/shops/south/coming-due?untilDate.year=2027&untilDate.month=3&untilDate.day=6", testCounter, http.StatusForbidden},
		{path + "32", testCounter, http.StatusBadRequest},
		{"/v1/shops/" + testShop + "/coming-due", testCounter, http.StatusBadRequest},
	} {
		if a, code, body := r.overJSON(http.MethodGet, row.path, row.token, nil, nil); code != row.status {
			t.Errorf("%s: HTTP %d, %v: %s", row.path, code, a, body)
		}
	}
}

func TestPlanRotationAtBothDoors(t *testing.T) {
	r := inMemory(t)
	v, visits := seenTwice()
	req := &pb.PlanRotationRequest{Vehicle: v, Visits: visits}
	_, code, body := r.overJSON(http.MethodPost, "/v1/calculate/rotation", "", nil, jsonOf(t, req))
	got, want := &pb.PlanRotationResponse{}, &pb.PlanRotationResponse{}
	if err := protojson.Unmarshal(body, got); err != nil || code != http.StatusOK {
		t.Fatalf("HTTP %d: %v: %s", code, err, body)
	}
	if a := r.overGRPC(t.Context(), pb.CalculatorService_PlanRotation_FullMethodName, "", req, want); a.code != codes.OK || !proto.Equal(got, want) {
		t.Errorf("%v: %v, want %v", a, got, want)
	}
	if p := got.GetPlans()[0]; p.GetMapId() != "forward-cross" || len(p.GetChanges()) != 4 || len(p.GetGains()) != len(got.GetPlans())-1 {
		t.Errorf("%v", p)
	}
	if a, code, body := r.overJSON(http.MethodPost, "/v1/calculate/rotation", "", nil, []byte(`{"vehicle":{},"visits":[]}`)); code != http.StatusBadRequest || fmt.Sprint(a.paths) != "[visits]" {
		t.Errorf("HTTP %d, %v: %s", code, a, body)
	}
}
