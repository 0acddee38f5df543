package api

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

func (h *house) comingDue(req *pb.ListComingDueRequest) (*pb.ListComingDueResponse, error) {
	if req.GetFromDate() == nil { // whatever the day is on which this runs
		req.FromDate = until(2020, 1, 1)
	}
	return pb.NewShopServiceClient(h.conn).ListComingDue(h.counter(), req)
}

func until(y, m, d int32) *pb.CalendarDate { return &pb.CalendarDate{Year: y, Month: m, Day: d} }

// twice is an invented car that was seen twice, 9,000 miles in 180 days, all four
// tires worn from 9/32 to 6/32 in.
func twice(tag, marking string) (*pb.Vehicle, []*pb.Inspection) {
	v := car()
	v.Tag = tag
	var visits []*pb.Inspection
	for i, on := range []*pb.CalendarDate{until(2026, 1, 10), until(2026, 7, 9)} {
		in := &pb.Inspection{Id: newID(), VehicleId: v.GetId(), LocalDate: on, Odometer: inMiles(10_000 + float64(9_000*i))}
		for _, position := range []string{"1L", "1R", "2L", "2R"} {
			n := 9 - float64(3*i)
			w := depths(position, n, n, n)
			w.Sidewall = &pb.Sidewall{Marking: marking}
			in.Wheels = append(in.Wheels, w)
		}
		visits = append(visits, in)
	}
	return v, visits
}

// Worked by hand: 3/32 in over 9,000 miles leave 12,000 miles to 2/32 in; at 50 miles a
// day that is 240 days after 9 July 2026. Read with a 1/32 in gauge, it may come much
// sooner, and no end can be told.
func TestListComingDue(t *testing.T) {
	h := inMemory(t)
	v, visits := twice("gray sedan", "215/60R16 95V")
	h.keep(v, visits...)
	out, err := h.comingDue(&pb.ListComingDueRequest{ShopId: shop, UntilDate: until(2027, 3, 6)})
	if err != nil || len(out.GetRows()) != 1 || out.GetNextPageToken() != "" {
		t.Fatalf("%v: %v", out, err)
	}
	row := out.GetRows()[0]
	if row.GetVehicleId() != v.GetId() || row.GetTag() != "gray sedan" || !slices.Equal(row.GetPositions(), []string{"1L", "1R", "2L", "2R"}) ||
		row.GetSize() != "215/60R16 95V" || row.GetLimitId() != "advice.wear-bars" {
		t.Errorf("%v", row)
	}
	if !proto.Equal(row.GetExpectedDate(), until(2027, 3, 6)) || row.GetEarliestDate().GetYear() == 0 || row.GetEarliestDate().GetYear() > 2026 || row.GetLatestDate() != nil && row.GetLatestDate().GetYear() < 2027 {
		t.Errorf("%v", row)
	}
	if out, err := h.comingDue(&pb.ListComingDueRequest{ShopId: shop, UntilDate: until(2027, 3, 5)}); err != nil || len(out.GetRows()) != 0 {
		t.Errorf("the day before: %v: %v", out, err)
	}
	// What the newest visit's finding says is what the list says.
	kept, err := pb.NewInspectionServiceClient(h.conn).GetInspection(h.bench(), &pb.GetInspectionRequest{ShopId: shop, InspectionId: visits[1].GetId(), Reader: whole})
	if err != nil {
		t.Fatal(err)
	}
	days := map[string]*pb.CalendarDate{}
	for _, f := range kept.GetKept().GetAssessment().GetFindings() {
		for _, e := range f.GetEvidence() {
			if f.GetCode() == "trend.reaches-limit" && f.GetPositions()[0] == "1L" && !f.GetRules()[0].GetCandidate() && e.GetAmount().GetDate() != nil {
				days[e.GetCode()] = e.GetAmount().GetDate()
			}
		}
	}
	if !proto.Equal(days["trend.day"], row.GetExpectedDate()) || !proto.Equal(days["trend.earliest-day"], row.GetEarliestDate()) || !proto.Equal(days["trend.latest-day"], row.GetLatestDate()) {
		t.Errorf("%v, told as %v", row, days)
	}
}

// A misreading of the first visit is put right: 8/32 in were there, so that 2/32 in over
// 9,000 miles leave 18,000 miles, 360 days.
func TestComingDueAfterACorrection(t *testing.T) {
	h := inMemory(t)
	v, visits := twice("gray sedan", "")
	h.keep(v, visits...)
	right := proto.CloneOf(visits[0])
	right.Id, right.Corrects = newID(), &pb.Correction{InspectionId: visits[0].GetId(), Reason: "misread"}
	for _, w := range right.GetWheels() {
		for _, r := range w.GetTread() {
			r.Depth = thirtySeconds(8)
		}
	}
	if _, err := pb.NewInspectionServiceClient(h.conn).RecordInspection(h.bench(), &pb.RecordInspectionRequest{ShopId: shop, Inspection: right}); err != nil {
		t.Fatal(err)
	}
	if out, err := h.comingDue(&pb.ListComingDueRequest{ShopId: shop, UntilDate: until(2100, 1, 1)}); err != nil || len(out.GetRows()) != 1 || !proto.Equal(out.GetRows()[0].GetExpectedDate(), until(2027, 7, 4)) {
		t.Errorf("after a correction: %v: %v", out, err)
	}
}

// Pages, and what a call may not be.
func TestListComingDuePages(t *testing.T) {
	h := inMemory(t)
	var tags []string
	for i := range 5 {
		tags = append(tags, fmt.Sprint("car ", i))
		v, visits := twice(tags[i], "")
		h.keep(v, visits...)
	}
	var got []string
	for token, more := "", true; more; more = token != "" {
		out, err := h.comingDue(&pb.ListComingDueRequest{ShopId: shop, UntilDate: until(2027, 12, 31), PageSize: 2, PageToken: token})
		if err != nil || len(out.GetRows()) > 2 {
			t.Fatalf("%v: %v", out, err)
		}
		for _, row := range out.GetRows() {
			got = append(got, row.GetTag())
		}
		token = out.GetNextPageToken()
	}
	if slices.Sort(got); !slices.Equal(got, tags) {
		t.Errorf("%v", got)
	}
	_, err := h.comingDue(&pb.ListComingDueRequest{ShopId: shop, PageSize: -1})
	refused(t, err, "untilDate", "pageSize")
	_, err = h.comingDue(&pb.ListComingDueRequest{ShopId: shop, UntilDate: until(2027, 2, 29)})
	refused(t, err, "untilDate")
	_, err = h.comingDue(&pb.ListComingDueRequest{ShopId: shop, FromDate: until(2027, 2, 29), UntilDate: until(2028, 1, 1)})
	refused(t, err, "fromDate")
	_, err = h.comingDue(&pb.ListComingDueRequest{ShopId: shop, UntilDate: until(2027, 1, 1), PageToken: "x"})
	if r := read(t, err); r.reason != "TOKEN_INVALID" {
		t.Errorf("%v", err)
	}
	_, err = h.comingDue(&pb.ListComingDueRequest{ShopId: "south", UntilDate: until(2027, 1, 1)})
	if r := read(t, err); r.Code() != codes.PermissionDenied {
		t.Errorf("another shop: %v", err)
	}
	_, err = pb.NewShopServiceClient(h.conn).ListComingDue(h.bench(), &pb.ListComingDueRequest{ShopId: shop, UntilDate: until(2027, 1, 1)})
	if r := read(t, err); r.Code() != codes.PermissionDenied || strings.Contains(err.Error(), "car 1") {
		t.Errorf("not for the bench: %v", err)
	}
}
