package api

import (
	"context"
	"log/slog"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/durationpb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/verdict"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/tell"
)

func TestRequestsOfAShopAreChecked(t *testing.T) {
	h := inMemory(t)
	bench, counter := h.bench(), h.counter()
	inspections, vehicles := pb.NewInspectionServiceClient(h.conn), pb.NewVehicleServiceClient(h.conn)
	shops, feed := pb.NewShopServiceClient(h.conn), pb.NewCounterServiceClient(h.conn)
	record := func(in *pb.Inspection) error {
		_, err := inspections.RecordInspection(bench, &pb.RecordInspectionRequest{ShopId: shop, Inspection: in})
		return err
	}
	keepVehicle := func(v *pb.Vehicle, empty ...string) error {
		_, err := vehicles.RecordVehicle(bench, &pb.RecordVehicleRequest{ShopId: shop, Vehicle: v, Clear: empty})
		return err
	}
	get := func(id string) error {
		_, err := inspections.GetInspection(bench, &pb.GetInspectionRequest{ShopId: shop, InspectionId: id})
		return err
	}
	getVehicle := func(id string) error {
		_, err := vehicles.GetVehicle(bench, &pb.GetVehicleRequest{ShopId: shop, VehicleId: id})
		return err
	}
	list := func(id string, size int32) error {
		_, err := inspections.ListInspections(bench, &pb.ListInspectionsRequest{ShopId: shop, VehicleId: id, PageSize: size})
		return err
	}
	update := func(s *pb.Shop, empty ...string) error {
		_, err := shops.UpdateShop(counter, &pb.UpdateShopRequest{ShopId: shop, Shop: s, Clear: empty})
		return err
	}
	pull := func(size int32, wait *durationpb.Duration) error {
		_, err := feed.PullChanges(counter, &pb.PullChangesRequest{ShopId: shop, PageSize: size, Wait: wait})
		return err
	}
	v := car()
	good := visit(v)
	bad := func(spoil func(*pb.Inspection)) *pb.Inspection {
		in := proto.CloneOf(good)
		spoil(in)
		return in
	}

	for _, row := range []struct {
		name  string
		err   error
		paths []string
	}{
		{"no visit", record(nil), []string{"inspection", "inspection.id", "inspection.vehicleId"}},
		{"no ids", record(&pb.Inspection{Wheels: good.GetWheels()}), []string{"inspection.id", "inspection.vehicleId"}},
		{"ids of another form", record(bad(func(in *pb.Inspection) { in.Id, in.VehicleId = strings.ToUpper(in.GetId()), "17" })), []string{"inspection.id", "inspection.vehicleId"}},
		{"a reading", record(bad(func(in *pb.Inspection) { in.Wheels[0].Pressures[0].Pressure = psi(-1) })), []string{"inspection.wheels[0].pressures[0].pressure"}},
		{"no vehicle", keepVehicle(nil), []string{"vehicle.id"}},
		{"no id", keepVehicle(&pb.Vehicle{}), []string{"vehicle.id"}},
		{"a label", keepVehicle(&pb.Vehicle{Id: newID(), Axles: &pb.Axles{Axles: []*pb.Axle{{ColdNormalLoad: psi(0)}}}}), []string{"vehicle.axles.axles[0].coldNormalLoad"}},
		{"what cannot be emptied", keepVehicle(&pb.Vehicle{Id: newID(), Tag: "a"}, "colour", "revision", "sameAs", "tag"), []string{"clear[0]", "clear[1]", "clear[2]", "clear[3]"}},
		{"no visit named", get(""), []string{"inspectionId"}},
		{"in capitals", get(strings.ToUpper(good.GetId())), []string{"inspectionId"}},
		{"in braces", get("{" + good.GetId() + "}"), []string{"inspectionId"}},
		{"a urn", get("urn:uuid:" + good.GetId()), []string{"inspectionId"}},
		{"without hyphens", get(strings.ReplaceAll(good.GetId(), "-", "")), []string{"inspectionId"}},
		{"no vehicle named", getVehicle(""), []string{"vehicleId"}},
		{"no id at all", getVehicle("../.."), []string{"vehicleId"}},
		{"no vehicle and no size", list("", -1), []string{"vehicleId", "pageSize"}},
		{"no time to wait", pull(-1, durationpb.New(-time.Second)), []string{"pageSize", "wait"}},
		{"a broken time", pull(0, &durationpb.Duration{Nanos: -5, Seconds: 3}), []string{"wait"}},
		{"no settings", update(nil), []string{"shop"}},
		{"no such zone", update(&pb.Shop{TimeZone: "America/Nowhere"}), []string{"shop.timeZone"}},
		{"the machine's zone", update(&pb.Shop{TimeZone: "Local"}), []string{"shop.timeZone"}},
		{"a path for a zone", update(&pb.Shop{TimeZone: "../etc/passwd"}), []string{"shop.timeZone"}},
		{"a country", update(&pb.Shop{Place: &pb.Jurisdiction{Country: "usa", State: "California"}}), []string{"shop.place.country", "shop.place.state"}},
		{"a state alone", update(&pb.Shop{Place: &pb.Jurisdiction{State: "CA"}}), []string{"shop.place.state"}},
		{"gauges", update(&pb.Shop{Gauges: &pb.ShopGauges{Gauges: []*pb.Gauge{{Kind: 1}, {Kind: 1}, {}}}}), []string{"shop.gauges.gauges[1]", "shop.gauges.gauges[2]"}},
		{"too high", update(&pb.Shop{Altitude: &pb.Height{AsRead: &pb.Height_Meters{Meters: 9000}}}), []string{"shop.altitude"}},
		{"no such setting", update(&pb.Shop{}, "country"), []string{"clear[0]"}},
		{"a long name", update(&pb.Shop{DisplayName: strings.Repeat("x", 2001)}), []string{"shop.displayName"}},
	} {
		t.Run(row.name, func(t *testing.T) { refused(t, row.err, row.paths...) })
	}
	if h.drafts() != 0 {
		t.Errorf("%d drafts were stored", h.drafts())
	}

	// What only the book can know.
	h.keep(v)
	refused(t, record(bad(func(in *pb.Inspection) { in.Wheels[0].Position = "3L" })), "inspection.wheels[0].position")
	dup := bad(func(in *pb.Inspection) { in.Id = newID() })
	h.keep(v, good, dup)
	wrong := bad(func(in *pb.Inspection) {
		in.Id, in.VehicleId = newID(), newID()
		in.Corrects = &pb.Correction{InspectionId: good.GetId(), Reason: "invented"}
	})
	other := car()
	other.Id = wrong.GetVehicleId()
	h.keep(other)
	refused(t, record(wrong), "inspection.corrects.inspectionId")
	for err, path := range map[error]string{
		get(newID()): "inspectionId", getVehicle(newID()): "vehicleId", list(newID(), 0): "vehicleId",
	} {
		if r := read(t, err); r.Code() != codes.NotFound || !slices.Equal(r.paths, []string{path}) {
			t.Errorf("%v at %v", err, r.paths)
		}
	}
	if h.drafts() != 4 {
		t.Errorf("%d drafts were stored", h.drafts())
	}
}

// Any version of a rulebook may be named; the kept answer stays.
func TestReassessedByAVersion(t *testing.T) {
	h := inMemory(t)
	v := car()
	in := visit(v)
	h.keep(v)
	inspections := pb.NewInspectionServiceClient(h.conn)
	first, err := inspections.RecordInspection(h.bench(), &pb.RecordInspectionRequest{ShopId: shop, Inspection: in})
	if err != nil {
		t.Fatal(err)
	}
	reassessed, err := inspections.ReassessInspection(h.bench(), &pb.ReassessInspectionRequest{ShopId: shop, InspectionId: in.GetId(), JudgeBy: judgedBy("uk-light@1"), Reader: &pb.Reader{Language: "es", View: pb.View_VIEW_FULL}})
	if b := reassessed.GetAssessment().GetBasis(); err != nil || !slices.Equal(b.GetRulebooks(), []string{"uk-light@1"}) || reassessed.GetTold().GetLanguage() != "es" || b.GetEngine() == "" {
		t.Errorf("%v: %v", b, err)
	}
	kept, err := inspections.GetInspection(h.counter(), &pb.GetInspectionRequest{ShopId: shop, InspectionId: in.GetId()})
	if err != nil || !proto.Equal(kept.GetKept().GetAssessment(), first.GetAssessment()) {
		t.Errorf("the kept answer became %v: %v", kept, err)
	}
	_, err = inspections.ReassessInspection(h.bench(), &pb.ReassessInspectionRequest{ShopId: shop, InspectionId: in.GetId(), JudgeBy: judgedBy("us-light", "uk-light@99")})
	if r := read(t, err); r.reason != "RULEBOOK_UNKNOWN" || r.metadata["id"] != "uk-light@99" {
		t.Error(err)
	}
}

func judgedBy(rulebooks ...string) *pb.JudgeBy { return &pb.JudgeBy{RulebookIds: rulebooks} }

// A kept visit to a wheel that its vehicle is recorded without by now.
func TestAVisitThatFitsItsVehicleNoMoreIsNotReassessed(t *testing.T) {
	h := inMemory(t)
	v := car()
	in := visit(v)
	in.Wheels[0].Position = "2L"
	h.keep(v)
	vehicles, inspections := pb.NewVehicleServiceClient(h.conn), pb.NewInspectionServiceClient(h.conn)
	if _, err := inspections.RecordInspection(h.bench(), &pb.RecordInspectionRequest{ShopId: shop, Inspection: in}); err != nil {
		t.Fatal(err)
	}
	kept, err := vehicles.GetVehicle(h.bench(), &pb.GetVehicleRequest{ShopId: shop, VehicleId: v.GetId()})
	if err != nil {
		t.Fatal(err)
	}
	kept.Vehicle.Axles.Axles = kept.GetVehicle().GetAxles().GetAxles()[1:]
	if _, err := vehicles.RecordVehicle(h.bench(), &pb.RecordVehicleRequest{ShopId: shop, Vehicle: kept.GetVehicle()}); err != nil {
		t.Fatal(err)
	}
	_, err = inspections.ReassessInspection(h.bench(), &pb.ReassessInspectionRequest{ShopId: shop, InspectionId: in.GetId()})
	if r := read(t, err); r.reason != "FIELD_INVALID" || !slices.Equal(r.paths, []string{"inspection.wheels[0].position"}) {
		t.Error(err)
	}
}

func TestVisitsAreKeptReadAndReassessed(t *testing.T) {
	h := inMemory(t)
	v := car()
	in := visit(v)
	h.keep(v)
	inspections := pb.NewInspectionServiceClient(h.conn)
	answer, err := inspections.RecordInspection(h.bench(), &pb.RecordInspectionRequest{ShopId: shop, Inspection: in})
	if recorded := answer.GetRecorded(); err != nil || recorded.GetRepeatedCall() || recorded.GetNumber() != "2" || recorded.GetRecordedTime() == nil || recorded.GetRevision() != "" {
		t.Fatalf("%v: %v", answer, err)
	}
	if !slices.ContainsFunc(answer.GetAssessment().GetFindings(), func(f *pb.Finding) bool {
		return f.GetCode() == "inflation.below-label" || f.GetCode() == "inflation.low"
	}) {
		t.Errorf("found %v", answer.GetAssessment().GetFindings())
	}
	again, err := inspections.RecordInspection(h.bench(), &pb.RecordInspectionRequest{ShopId: shop, Inspection: in})
	if err != nil || !again.GetRecorded().GetRepeatedCall() || again.GetRecorded().GetNumber() != "2" || !proto.Equal(again.GetAssessment(), answer.GetAssessment()) {
		t.Errorf("%v: %v", again, err)
	}
	got, err := inspections.GetInspection(h.counter(), &pb.GetInspectionRequest{ShopId: shop, InspectionId: in.GetId()})
	if kept := got.GetKept(); err != nil || kept.GetRecordedBy() != "bench phone" || !proto.Equal(kept.GetAssessment(), answer.GetAssessment()) ||
		!proto.Equal(kept.GetRecorded(), answer.GetRecorded()) || !proto.Equal(kept.GetInspection(), in) {
		t.Errorf("%v: %v", got, err)
	}
	reassessed, err := inspections.ReassessInspection(h.bench(), &pb.ReassessInspectionRequest{ShopId: shop, InspectionId: in.GetId()})
	if err != nil || len(reassessed.GetAppeared())+len(reassessed.GetDisappeared())+len(reassessed.GetChanged()) > 0 {
		t.Errorf("%v: %v", reassessed, err)
	}
	byUK, err := inspections.ReassessInspection(h.bench(), &pb.ReassessInspectionRequest{ShopId: shop, InspectionId: in.GetId(), JudgeBy: judgedBy("uk-light"), Reader: whole})
	if err != nil || !slices.Equal(byUK.GetAssessment().GetBasis().GetRulebooks(), []string{rulebook.Must("uk-light").Name()}) {
		t.Errorf("%v: %v", byUK.GetAssessment().GetBasis(), err)
	}
	_, err = inspections.ReassessInspection(h.bench(), &pb.ReassessInspectionRequest{ShopId: shop, InspectionId: in.GetId(), JudgeBy: judgedBy("uk-lite")})
	if r := read(t, err); r.reason != "RULEBOOK_UNKNOWN" || r.metadata["id"] != "uk-lite" {
		t.Error(err)
	}
	refusedID := read(t, func() error {
		_, err := inspections.ReassessInspection(h.bench(), &pb.ReassessInspectionRequest{ShopId: shop})
		return err
	}())
	if !slices.Equal(refusedID.paths, []string{"inspectionId"}) {
		t.Errorf("%v", refusedID.paths)
	}
	found, err := pb.NewVehicleServiceClient(h.conn).GetVehicle(h.bench(), &pb.GetVehicleRequest{ShopId: shop, VehicleId: v.GetId()})
	if err != nil || found.GetState().GetLastInspectionId() != in.GetId() || len(found.GetState().GetOpen()) == 0 || found.GetVehicle().GetRevision() != "1" {
		t.Errorf("%v: %v", found, err)
	}
}

func TestPagesAreAsLargeAsAskedUpToTheLargest(t *testing.T) {
	for asked, want := range map[int32]int{0: 50, 1: 1, 200: 200, 201: 200, 1 << 30: 200} {
		if got := pageSize(asked); got != want {
			t.Errorf("%d: %d", asked, got)
		}
	}
}

func TestTheServerTellsWhatItIs(t *testing.T) {
	h := inMemory(t)
	shops := pb.NewShopServiceClient(h.conn)
	server, err := shops.GetServer(t.Context(), &pb.GetServerRequest{})
	want := &pb.GetServerResponse{
		Version: "1.2.3", Contract: "v1", Engine: verdict.Engine, Epoch: h.store.Epoch().String(),
		MaxMessageBytes: 4 << 20, MaxPageSize: 200, KeepaliveMin: durationpb.New(time.Minute), ServedCalls: Served(),
	}
	if err != nil || !proto.Equal(server, want) {
		t.Errorf("%v: %v", server, err)
	}
	books, err := shops.ListRulebooks(h.bench(), &pb.ListRulebooksRequest{ShopId: shop})
	if err != nil || len(books.GetRulebooks()) != len(rulebook.All()) {
		t.Fatalf("%v: %v", books, err)
	}
	for i, b := range books.GetRulebooks() {
		whole, err := shops.GetRulebook(h.counter(), &pb.GetRulebookRequest{ShopId: shop, RulebookId: b.GetId()})
		if err != nil || len(b.GetLimits()) != 0 || len(whole.GetRulebook().GetLimits()) != len(rulebook.All()[i].Limits) {
			t.Errorf("%s: %v", b.GetId(), err)
		}
	}
}

func TestTheFeedOverACall(t *testing.T) {
	h := inMemory(t)
	v := car()
	h.keep(v)
	feed := pb.NewCounterServiceClient(h.conn)
	first, err := feed.PullChanges(h.counter(), &pb.PullChangesRequest{ShopId: shop})
	if err != nil || len(first.GetChanges()) != 1 || first.GetMore() {
		t.Fatalf("%v: %v", first, err)
	}
	came := make(chan *pb.PullChangesResponse, 1)
	go func() {
		out, err := feed.PullChanges(h.counter(), &pb.PullChangesRequest{ShopId: shop, ResumeToken: first.GetResumeToken(), Wait: durationpb.New(time.Hour)})
		if err != nil {
			t.Error(err)
		}
		came <- out
	}()
	h.keep(v, visit(v))
	if out := <-came; len(out.GetChanges()) != 1 || out.GetChanges()[0].GetNumber() != "2" {
		t.Errorf("%v", out)
	}
}

// A call whose time is over, or whose caller has gone, is answered so and has
// stored nothing.
func TestCallsThatEndTooEarly(t *testing.T) {
	h := inMemory(t)
	v := car()
	h.keep(v)
	server := New(h.book, h.album, About{}, slog.New(slog.DiscardHandler))
	past, cancel := context.WithDeadline(t.Context(), time.Now().Add(-time.Second))
	defer cancel()
	gone, leave := context.WithCancel(t.Context())
	leave()
	for ctx, want := range map[context.Context]codes.Code{past: codes.DeadlineExceeded, gone: codes.Canceled} {
		_, err1 := server.RecordInspection(ctx, &pb.RecordInspectionRequest{ShopId: shop, Inspection: visit(v)})
		_, err2 := server.RecordVehicle(ctx, &pb.RecordVehicleRequest{ShopId: shop, Vehicle: car()})
		_, err3 := server.GetVehicle(ctx, &pb.GetVehicleRequest{ShopId: shop, VehicleId: v.GetId()})
		_, err4 := server.PullChanges(ctx, &pb.PullChangesRequest{ShopId: shop, Wait: durationpb.New(time.Minute)})
		_, err5 := server.UpdateShop(ctx, &pb.UpdateShopRequest{ShopId: shop, Shop: &pb.Shop{}})
		for i, err := range []error{err1, err2, err3, err4, err5} {
			if err == nil || statusOf(err).Code() != want {
				t.Errorf("%d: %v, want %v", i+1, err, want)
			}
		}
	}
	if h.drafts() != 1 {
		t.Errorf("%d drafts", h.drafts())
	}
}

func TestAVisitIsJudgedAndNothingKept(t *testing.T) {
	h := inMemory(t)
	v := car()
	req := &pb.AssessVisitRequest{Vehicle: v, Inspection: visit(v), Reader: whole}
	out, err := pb.NewCalculatorServiceClient(h.conn).AssessVisit(t.Context(), req)
	want := judge.Visit(req)
	tell.For(whole, tell.Shop{}).Assessment(want, true)
	if err != nil || !proto.Equal(out.GetAssessment(), want) {
		t.Errorf("%v: %v", out, err)
	}
	req.Inspection.Wheels[0].Position = "LF"
	req.JudgeBy = judgedBy("us-lite")
	_, err = pb.NewCalculatorServiceClient(h.conn).AssessVisit(t.Context(), req)
	refused(t, err, "inspection.wheels[0].position", "judgeBy.rulebookIds[0]")
	if h.drafts() != 0 {
		t.Errorf("%d drafts", h.drafts())
	}
}
