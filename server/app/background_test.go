package app

import (
	"strings"
	"testing"
	"time"

	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/types/known/durationpb"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// The server removes changes that a shop keeps no longer, says how many, and tells a
// counter that is behind to list again; records stay.
func TestTheServerTrimsTheFeed(t *testing.T) {
	r := inMemory(t)
	v := testCar()
	r.keep(v, testVisit(v))
	if r.trimChanges(t.Context()); r.said.String() != "" {
		t.Errorf("with nothing old: %s", r.said.String())
	}
	settings, err := r.book.GetShop(t.Context(), testShop)
	if err != nil {
		t.Fatal(err)
	}
	settings.KeepChanges = durationpb.New(time.Nanosecond) // shorter than a caller may ask for
	if _, err := r.book.UpdateShop(t.Context(), testShop, settings, nil); err != nil {
		t.Fatal(err)
	}
	if r.trimChanges(t.Context()); !strings.Contains(r.said.String(), "changes=3") {
		t.Errorf("said %q", r.said.String())
	}
	_, err = pb.NewCounterServiceClient(r.conn).PullChanges(bearing(t.Context(), testCounter), &pb.PullChangesRequest{ShopId: testShop})
	if code, reason, _, _ := refusedOf(err); code != codes.FailedPrecondition || reason != "TOKEN_TRIMMED" {
		t.Errorf("%v %s", code, reason)
	}
	out, err := pb.NewInspectionServiceClient(r.conn).ListInspections(bearing(t.Context(), testCounter), &pb.ListInspectionsRequest{ShopId: testShop, VehicleId: v.GetId()})
	if err != nil || len(out.GetInspections()) != 1 {
		t.Errorf("%d visits, %v", len(out.GetInspections()), err)
	}
}
