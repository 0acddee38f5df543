package app

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"io"
	"log/slog"
	"maps"
	"net/http"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"go.uber.org/goleak"
	"google.golang.org/genproto/googleapis/rpc/errdetails"
	spb "google.golang.org/genproto/googleapis/rpc/status"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/credentials/insecure"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/metadata"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/durationpb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/access"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/badger"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/photos"
)

const (
	testShop    = "north"
	testBench   = "bench-token-for-tests"
	testCounter = "counter-token-for-tests"
)

// running is the service with a client at each door.
type running struct {
	*service
	t    *testing.T
	conn *grpc.ClientConn // at the gRPC door
	web  *http.Client
	said *lockedBuffer
}

type lockedBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (l *lockedBuffer) Write(p []byte) (int, error) {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.Write(p)
}

func (l *lockedBuffer) String() string {
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.b.String()
}

// serve starts the service over a store, with doors of its own.
func serve(t *testing.T, store history.Store) *running { return serveBy(t, store, judge.NoneOwn) }

// serveBy is serve with rules of the shops' own.
func serveBy(t *testing.T, store history.Store, own ownRules) *running {
	t.Helper()
	keys := []access.Key{
		access.NewKey(testBench, "bench phone", access.Bench, testShop),
		access.NewKey(testCounter, "front counter", access.Counter, testShop),
	}
	return serveWith(t, store, keys, own)
}

// serveWith is serve with tokens of its own, by the law alone unless by rules.
func serveWith(t *testing.T, store history.Store, keys []access.Key, rules ...ownRules) *running {
	t.Helper()
	own := judge.NoneOwn
	if len(rules) > 0 {
		own = rules[0]
	}
	return serveFrom(t, store, temporary(t), keys, own)
}

// serveIn is serve with a folder of photos.
func serveIn(t *testing.T, store history.Store, album *photos.Folder) *running {
	t.Helper()
	return serveFrom(t, store, album, []access.Key{
		access.NewKey(testBench, "bench phone", access.Bench, testShop),
		access.NewKey(testCounter, "front counter", access.Counter, testShop),
	}, judge.NoneOwn)
}

func serveFrom(t *testing.T, store history.Store, album *photos.Folder, keys []access.Key, own ownRules) *running {
	t.Helper()
	said := &lockedBuffer{}
	s, err := start(store, album, keys, own, doors{"127.0.0.1:0", "127.0.0.1:0"}, slog.New(slog.NewTextHandler(said, nil)))
	if err != nil {
		t.Fatal(err)
	}
	conn, err := grpc.NewClient(s.grpcAt.Addr().String(), grpc.WithTransportCredentials(insecure.NewCredentials()))
	if err != nil {
		t.Fatal(err)
	}
	return &running{s, t, conn, &http.Client{Transport: &http.Transport{}}, said}
}

// temporary is a folder for photos that is gone with the service.
func temporary(t *testing.T) *photos.Folder {
	t.Helper()
	album, err := photos.OpenTemporary()
	if err != nil {
		t.Fatal(err)
	}
	return album
}

// leave lets the clients go, then stops the service.
func (r *running) leave() {
	r.t.Helper()
	r.web.CloseIdleConnections()
	if err := errors.Join(r.conn.Close(), r.stop()); err != nil {
		r.t.Error(err)
	}
}

func inMemory(t *testing.T) *running {
	t.Helper()
	r := serve(t, memory.New())
	t.Cleanup(r.leave)
	return r
}

func bearing(ctx context.Context, token string) context.Context {
	return metadata.AppendToOutgoingContext(ctx, "authorization", "Bearer "+token)
}

// answer is what came back at a door: the code, and of a refusal its reason and
// the paths it names.
type answer struct {
	code   codes.Code
	reason string
	paths  []string
}

func (a answer) same(b answer) bool {
	return a.code == b.code && a.reason == b.reason && slices.Equal(a.paths, b.paths)
}

func answerOf(st *status.Status) answer {
	a := answer{code: st.Code()}
	for _, d := range st.Details() {
		switch d := d.(type) {
		case *errdetails.ErrorInfo:
			a.reason = d.GetReason()
		case *errdetails.BadRequest:
			for _, v := range d.GetFieldViolations() {
				a.paths = append(a.paths, v.GetField())
			}
		}
	}
	return a
}

// overGRPC makes a call at the gRPC door.
func (r *running) overGRPC(ctx context.Context, method, token string, req, out proto.Message) answer {
	r.t.Helper()
	st, ok := status.FromError(r.conn.Invoke(bearing(ctx, token), method, req, out))
	if !ok {
		r.t.Fatal("no status")
	}
	return answerOf(st)
}

// overJSON makes a call at the JSON door. A refusal is read from its body.
func (r *running) overJSON(method, path, token string, header map[string]string, body []byte) (answer, int, []byte) {
	r.t.Helper()
	req, err := http.NewRequestWithContext(r.t.Context(), method, "http://"+r.httpAt.Addr().String()+path, bytes.NewReader(body))
	if err != nil {
		r.t.Fatal(err)
	}
	req.Header.Set("Authorization", "Bearer "+token)
	if len(body) > 0 {
		req.Header.Set("Content-Type", "application/json")
	}
	for k, v := range header {
		req.Header.Set(k, v)
	}
	res, err := r.web.Do(req)
	if err != nil {
		r.t.Fatal(err)
	}
	defer func() { _ = res.Body.Close() }()
	data, err := io.ReadAll(res.Body)
	if err != nil {
		r.t.Fatal(err)
	}
	if res.StatusCode == http.StatusOK {
		return answer{}, res.StatusCode, data
	}
	st := &spb.Status{}
	if err := protojson.Unmarshal(data, st); err != nil {
		r.t.Fatalf("HTTP %d: %v: %s", res.StatusCode, err, data)
	}
	return answerOf(status.FromProto(st)), res.StatusCode, data
}

// drafts is how many drafts the shop's book holds.
func (r *running) drafts() history.Number {
	r.t.Helper()
	s, err := r.store.Snapshot(context.Background(), testShop)
	if err != nil {
		r.t.Fatal(err)
	}
	defer s.Close()
	n, err := s.Last(context.Background())
	if err != nil {
		r.t.Fatal(err)
	}
	return n
}

func testCar() *pb.Vehicle {
	axle := &pb.Axle{ColdNormalLoad: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 33}}}
	return &pb.Vehicle{Id: uuid.NewString(), VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Axles: &pb.Axles{Axles: []*pb.Axle{axle, axle}}}
}

func testVisit(v *pb.Vehicle) *pb.Inspection {
	return &pb.Inspection{Id: uuid.NewString(), VehicleId: v.GetId(), Wheels: []*pb.WheelReport{{
		Position: "1L", Pressures: []*pb.PressureReading{{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 30}}}},
	}}}
}

func (r *running) keep(v *pb.Vehicle, visits ...*pb.Inspection) {
	r.t.Helper()
	ctx := bearing(r.t.Context(), testBench)
	if _, err := pb.NewVehicleServiceClient(r.conn).RecordVehicle(ctx, &pb.RecordVehicleRequest{ShopId: testShop, Vehicle: v}); err != nil {
		r.t.Fatal(err)
	}
	for _, in := range visits {
		if _, err := pb.NewInspectionServiceClient(r.conn).RecordInspection(ctx, &pb.RecordInspectionRequest{ShopId: testShop, Inspection: in}); err != nil {
			r.t.Fatal(err)
		}
	}
}

func jsonOf(t *testing.T, m proto.Message) []byte {
	t.Helper()
	data, err := protojson.Marshal(m)
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// Both doors give one answer about a tire of another size than the label's.
func TestFitmentAtBothDoors(t *testing.T) {
	r := inMemory(t)
	v := testCar()
	for _, a := range v.GetAxles().GetAxles() {
		a.Size = "215/60R16 95H"
	}
	req := &pb.CheckFitmentRequest{Vehicle: v, Wheels: []*pb.WheelReport{{Position: "1L", Sidewall: &pb.Sidewall{Marking: "205/60R16 92H"}}}}
	said, read := &pb.CheckFitmentResponse{}, &pb.CheckFitmentResponse{}
	if a := r.overGRPC(t.Context(), pb.CalculatorService_CheckFitment_FullMethodName, "", req, said); a.code != codes.OK {
		t.Fatal(a)
	}
	_, code, body := r.overJSON(http.MethodPost, "/v1/calculate/fitment", "", nil, jsonOf(t, req))
	if err := protojson.Unmarshal(body, read); err != nil || code != http.StatusOK || !proto.Equal(said, read) {
		t.Errorf("HTTP %d: %v: %s", code, err, body)
	}
	if len(read.GetWheels()) != 1 || read.GetWheels()[0].GetPosition() != "1L" || len(read.GetAssessment().GetFindings()) == 0 {
		t.Errorf("%v", read)
	}
}

// At both doors the same record is kept and given back, and the same refusals
// come: what one door has stored the other reads.
func TestBothDoorsLeadToOneBook(t *testing.T) {
	r := inMemory(t)
	v, shopPath := testCar(), "/v1/shops/"+testShop
	if a, code, body := r.overJSON(http.MethodPost, shopPath+"/vehicles", testBench, nil, jsonOf(t, &pb.RecordVehicleRequest{Vehicle: v})); code != http.StatusOK {
		t.Fatalf("%v: %s", a, body)
	}
	in := testVisit(v)
	kept := &pb.RecordInspectionResponse{}
	if a := r.overGRPC(t.Context(), pb.InspectionService_RecordInspection_FullMethodName, testBench, &pb.RecordInspectionRequest{ShopId: testShop, Inspection: in}, kept); a.code != codes.OK {
		t.Fatal(a)
	}
	again := &pb.RecordInspectionResponse{}
	_, code, body := r.overJSON(http.MethodPost, shopPath+"/inspections", testBench, nil, jsonOf(t, &pb.RecordInspectionRequest{Inspection: in}))
	if err := protojson.Unmarshal(body, again); err != nil || code != http.StatusOK || !again.GetRecorded().GetRepeatedCall() || !proto.Equal(again.GetAssessment(), kept.GetAssessment()) {
		t.Errorf("HTTP %d: %v: %s", code, err, body)
	}
	changes := &pb.PullChangesResponse{}
	_, _, body = r.overJSON(http.MethodGet, shopPath+"/changes?pageSize=10&wait=5s", testCounter, nil, nil)
	if err := protojson.Unmarshal(body, changes); err != nil || len(changes.GetChanges()) != 2 {
		t.Errorf("%v: %s", err, body)
	}

	missing, another := uuid.NewString(), proto.CloneOf(in)
	another.DoneBy = "another"
	itself := uuid.NewString()
	wheelsOff := &pb.VehicleEvent{Id: uuid.NewString(), VehicleId: uuid.NewString(), What: &pb.VehicleEvent_WheelsOff{WheelsOff: &pb.WheelsOff{Positions: []string{"1L"}}}}
	for _, row := range []struct {
		name         string
		grpc         string
		token        string
		req          proto.Message
		method, path string
		body         proto.Message
		status       int
		want         answer
	}{
		{
			"no visit", pb.InspectionService_GetInspection_FullMethodName, testBench, &pb.GetInspectionRequest{ShopId: testShop, InspectionId: missing},
			http.MethodGet, shopPath + "/inspections/" + missing, nil, 404, answer{codes.NotFound, "NOT_FOUND", []string{"inspectionId"}},
		},
		{
			"an id of another form", pb.InspectionService_GetInspection_FullMethodName, testBench, &pb.GetInspectionRequest{ShopId: testShop, InspectionId: "17"},
			http.MethodGet, shopPath + "/inspections/17", nil, 400, answer{codes.InvalidArgument, "FIELD_INVALID", []string{"inspectionId"}},
		},
		{
			"an id in capitals", pb.VehicleService_GetVehicle_FullMethodName, testBench, &pb.GetVehicleRequest{ShopId: testShop, VehicleId: strings.ToUpper(v.GetId())},
			http.MethodGet, shopPath + "/vehicles/" + strings.ToUpper(v.GetId()), nil, 400, answer{codes.InvalidArgument, "FIELD_INVALID", []string{"vehicleId"}},
		},
		{
			"another shop", pb.VehicleService_GetVehicle_FullMethodName, testBench, &pb.GetVehicleRequest{ShopId: "south", VehicleId: v.GetId()},
			http.MethodGet, "/v1/shops/south/vehicles/" + v.GetId(), nil, 403, answer{codes.PermissionDenied, "FORBIDDEN", nil},
		},
		{
			"no such token", pb.VehicleService_GetVehicle_FullMethodName, "unknown-token-unknown", &pb.GetVehicleRequest{ShopId: testShop, VehicleId: v.GetId()},
			http.MethodGet, shopPath + "/vehicles/" + v.GetId(), nil, 401, answer{codes.Unauthenticated, "UNAUTHENTICATED", nil},
		},
		{
			"not its role", pb.CounterService_PullChanges_FullMethodName, testBench, &pb.PullChangesRequest{ShopId: testShop},
			http.MethodGet, shopPath + "/changes", nil, 403, answer{codes.PermissionDenied, "FORBIDDEN", nil},
		},
		{
			"another visit under the id", pb.InspectionService_RecordInspection_FullMethodName, testBench, &pb.RecordInspectionRequest{ShopId: testShop, Inspection: another},
			http.MethodPost, shopPath + "/inspections", &pb.RecordInspectionRequest{Inspection: another}, 409, answer{codes.AlreadyExists, "ID_TAKEN", []string{"inspection.id"}},
		},
		{
			"settings that were changed", pb.ShopService_UpdateShop_FullMethodName, testCounter, &pb.UpdateShopRequest{ShopId: testShop, Shop: &pb.Shop{Revision: "7", Language: "de"}},
			http.MethodPatch, shopPath, &pb.UpdateShopRequest{Shop: &pb.Shop{Revision: "7", Language: "de"}}, 409, answer{codes.Aborted, "REVISION_STALE", []string{"shop.revision"}},
		},
		{
			"not a token of the feed", pb.CounterService_PullChanges_FullMethodName, testCounter, &pb.PullChangesRequest{ShopId: testShop, ResumeToken: "x"},
			http.MethodGet, shopPath + "/changes?resumeToken=x", nil, 400, answer{codes.InvalidArgument, "TOKEN_INVALID", []string{"resumeToken"}},
		},
		{
			"no time to wait", pb.CounterService_PullChanges_FullMethodName, testCounter, &pb.PullChangesRequest{ShopId: testShop, Wait: durationpb.New(-time.Second), PageSize: -1},
			http.MethodGet, shopPath + "/changes?wait=-1s&pageSize=-1", nil, 400, answer{codes.InvalidArgument, "FIELD_INVALID", []string{"pageSize", "wait"}},
		},
		{
			"no such rulebook", pb.ShopService_GetRulebook_FullMethodName, testBench, &pb.GetRulebookRequest{ShopId: testShop, RulebookId: "us-lite"},
			http.MethodGet, shopPath + "/rulebooks/us-lite", nil, 404, answer{codes.NotFound, "RULEBOOK_UNKNOWN", []string{"rulebookId"}},
		},
		{
			"tires compared with no vehicle", pb.CalculatorService_CheckFitment_FullMethodName, "", &pb.CheckFitmentRequest{Wheels: []*pb.WheelReport{{Position: "LF"}}},
			http.MethodPost, "/v1/calculate/fitment", &pb.CheckFitmentRequest{Wheels: []*pb.WheelReport{{Position: "LF"}}}, 400,
			answer{codes.InvalidArgument, "FIELD_INVALID", []string{"wheels[0].position", "vehicle"}},
		},
		{
			"wheels off, and not by whom", pb.VehicleService_RecordEvent_FullMethodName, testBench, &pb.RecordEventRequest{ShopId: testShop, Event: wheelsOff},
			http.MethodPost, shopPath + "/events", &pb.RecordEventRequest{Event: wheelsOff}, 400,
			answer{codes.InvalidArgument, "FIELD_INVALID", []string{"event.doneBy"}},
		},
		{
			"not a token of the wheels off", pb.VehicleService_ListWheelsOff_FullMethodName, testCounter, &pb.ListWheelsOffRequest{ShopId: testShop, PageToken: "x"},
			http.MethodGet, shopPath + "/wheels-off?pageToken=x", nil, 400, answer{codes.InvalidArgument, "TOKEN_INVALID", []string{"pageToken"}},
		},
		{
			"a vehicle merged with itself", pb.VehicleService_MergeVehicles_FullMethodName, testCounter, &pb.MergeVehiclesRequest{ShopId: testShop, Id: itself, KeepVehicleId: itself, SameVehicleId: itself},
			http.MethodPost, shopPath + "/vehicles:merge", &pb.MergeVehiclesRequest{Id: itself, KeepVehicleId: itself, SameVehicleId: itself}, 400,
			answer{codes.InvalidArgument, "FIELD_INVALID", []string{"sameVehicleId"}},
		},
		{
			"a photo without a name", pb.PhotoService_GetPhoto_FullMethodName, testBench, &pb.GetPhotoRequest{ShopId: testShop, Sha256: "x"},
			http.MethodGet, shopPath + "/photos/x", nil, 400, answer{codes.InvalidArgument, "FIELD_INVALID", []string{"sha256"}},
		},
	} {
		before := r.drafts()
		if got := r.overGRPC(t.Context(), row.grpc, row.token, row.req, &pb.GetServerResponse{}); !got.same(row.want) {
			t.Errorf("%s: over gRPC %v, want %v", row.name, got, row.want)
		}
		var body []byte
		if row.body != nil {
			body = jsonOf(t, row.body)
		}
		if got, code, _ := r.overJSON(row.method, row.path, row.token, nil, body); !got.same(row.want) || code != row.status {
			t.Errorf("%s: over JSON HTTP %d, %v, want %d, %v", row.name, code, got, row.status, row.want)
		}
		if r.drafts() != before {
			t.Errorf("%s: something was stored", row.name)
		}
	}
	if said := r.said.String(); said != "" {
		t.Errorf("logged %q", said)
	}
}

// A message that is larger than the server takes is refused at either door. The
// gRPC door does not read it, so that only its code tells why.
func TestOversizedMessages(t *testing.T) {
	r := inMemory(t)
	in := testVisit(testCar())
	for range 2200 {
		in.Wheels[0].Observations = append(in.Wheels[0].Observations, &pb.Observation{Words: strings.Repeat("x", 2000)})
	}
	req := &pb.RecordInspectionRequest{ShopId: testShop, Inspection: in}
	if proto.Size(req) <= maxMessage {
		t.Fatalf("%d bytes are no oversized message", proto.Size(req))
	}
	if got := r.overGRPC(t.Context(), pb.InspectionService_RecordInspection_FullMethodName, testBench, req, &pb.RecordInspectionResponse{}); got.code != codes.ResourceExhausted {
		t.Errorf("over gRPC %v", got)
	}
	want := answer{codes.ResourceExhausted, "TOO_LARGE", nil}
	if got, code, _ := r.overJSON(http.MethodPost, "/v1/shops/"+testShop+"/inspections", testBench, nil, jsonOf(t, req)); !got.same(want) || code != http.StatusRequestEntityTooLarge {
		t.Errorf("over JSON HTTP %d, %v", code, got)
	}
	// One that is taken and is larger than the book keeps.
	v := testCar()
	r.keep(v)
	in.VehicleId, in.Wheels[0].Observations = v.GetId(), in.Wheels[0].Observations[:600]
	if got := r.overGRPC(t.Context(), pb.InspectionService_RecordInspection_FullMethodName, testBench, req, &pb.RecordInspectionResponse{}); !got.same(want) {
		t.Errorf("over gRPC %v", got)
	}
	if got, code, _ := r.overJSON(http.MethodPost, "/v1/shops/"+testShop+"/inspections", testBench, nil, jsonOf(t, req)); !got.same(want) || code != http.StatusRequestEntityTooLarge {
		t.Errorf("over JSON HTTP %d, %v", code, got)
	}
	if r.drafts() != 1 {
		t.Errorf("%d drafts", r.drafts())
	}
}

// slow is a store that a test holds up.
type slow struct {
	history.Store
	came    chan struct{} // a commit has begun
	proceed chan struct{} // closed when commits may go on
}

func (s *slow) Commit(ctx context.Context, d history.Draft) (history.Number, error) {
	s.came <- struct{}{}
	select {
	case <-s.proceed:
	case <-ctx.Done():
	}
	return s.Store.Commit(ctx, d)
}

// A call whose deadline passes or whose caller leaves has stored nothing.
func TestCallsThatAreCutShort(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	hold := &slow{memory.New(), make(chan struct{}, 10), make(chan struct{})}
	r := serve(t, hold)
	defer r.leave()
	req := &pb.RecordVehicleRequest{ShopId: testShop, Vehicle: testCar()}
	const method = pb.VehicleService_RecordVehicle_FullMethodName

	ctx, cancel := context.WithTimeout(t.Context(), 30*time.Millisecond)
	if got := r.overGRPC(ctx, method, testBench, req, &pb.RecordVehicleResponse{}); got.code != codes.DeadlineExceeded {
		t.Errorf("over gRPC %v", got)
	}
	cancel()
	<-hold.came
	ctx, cancel = context.WithCancel(t.Context())
	go func() { <-hold.came; cancel() }()
	if got := r.overGRPC(ctx, method, testBench, req, &pb.RecordVehicleResponse{}); got.code != codes.Canceled {
		t.Errorf("over gRPC %v", got)
	}
	path, body := "/v1/shops/"+testShop+"/vehicles", jsonOf(t, &pb.RecordVehicleRequest{Vehicle: req.GetVehicle()})
	got, code, _ := r.overJSON(http.MethodPost, path, testBench, map[string]string{"Grpc-Timeout": "30m"}, body)
	if got.code != codes.DeadlineExceeded || code != http.StatusGatewayTimeout {
		t.Errorf("over JSON HTTP %d, %v", code, got)
	}
	if got, _, _ = r.overJSON(http.MethodPost, path, testBench, map[string]string{"Grpc-Timeout": "1n"}, body); got.code != codes.DeadlineExceeded {
		t.Errorf("over JSON, past its time already: %v", got)
	}
	if r.drafts() != 0 {
		t.Errorf("%d drafts", r.drafts())
	}
	close(hold.proceed)
	kept := &pb.RecordVehicleResponse{}
	if got := r.overGRPC(t.Context(), method, testBench, req, kept); got.code != codes.OK || kept.GetRecorded().GetRepeatedCall() {
		t.Errorf("%v, %v", got, kept)
	}
}

// order notes when the store is used and closed, and tells who waits for a change.
type order struct {
	slow
	waits chan struct{}
	mu    sync.Mutex
	steps []string
}

func (o *order) Wait(ctx context.Context, shop string, after history.Number) error {
	o.waits <- struct{}{}
	return o.slow.Wait(ctx, shop, after)
}

func (o *order) note(step string) {
	o.mu.Lock()
	defer o.mu.Unlock()
	o.steps = append(o.steps, step)
}

func (o *order) Commit(ctx context.Context, d history.Draft) (history.Number, error) {
	n, err := o.slow.Commit(ctx, d)
	o.note("commit")
	return n, err
}

func (o *order) Close() error {
	o.note("close")
	return o.Store.Close()
}

// At shutdown the health service says so first, a call in flight ends, a caller
// who waits for a change is answered at once, no new call is taken, the store is
// closed last, and nothing is left running; a second start on the same folder
// finds what was kept.
func TestShutdownInOrder(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	dir := t.TempDir()
	open := func() *badger.Store {
		store, err := badger.Open(dir, badger.Options{MinFree: 1})
		if err != nil {
			t.Fatal(err)
		}
		return store
	}
	hold := &order{slow: slow{open(), make(chan struct{}, 10), make(chan struct{})}, waits: make(chan struct{}, 10)}
	r := serve(t, hold)
	v := testCar()

	// Health is watched, a change is waited for at both doors, a call is in flight
	// at both doors.
	watch, err := healthpb.NewHealthClient(r.conn).Watch(t.Context(), &healthpb.HealthCheckRequest{})
	if err != nil {
		t.Fatal(err)
	}
	if got, err := watch.Recv(); err != nil || got.GetStatus() != healthpb.HealthCheckResponse_SERVING {
		t.Fatalf("%v: %v", got, err)
	}
	var inFlight sync.WaitGroup
	var waiting sync.WaitGroup
	waiting.Go(func() {
		wait := &pb.PullChangesRequest{ShopId: testShop, Wait: durationpb.New(time.Minute)}
		if got := r.overGRPC(t.Context(), pb.CounterService_PullChanges_FullMethodName, testCounter, wait, &pb.PullChangesResponse{}); got.code != codes.OK {
			t.Errorf("who waits over gRPC: %v", got)
		}
	})
	waiting.Go(func() {
		if got, code, _ := r.overJSON(http.MethodGet, "/v1/shops/"+testShop+"/changes?wait=60s", testCounter, nil, nil); code != http.StatusOK {
			t.Errorf("who waits over JSON: HTTP %d, %v", code, got)
		}
	})
	inFlight.Go(func() {
		if got := r.overGRPC(t.Context(), pb.VehicleService_RecordVehicle_FullMethodName, testBench, &pb.RecordVehicleRequest{ShopId: testShop, Vehicle: v}, &pb.RecordVehicleResponse{}); got.code != codes.OK {
			t.Errorf("in flight over gRPC: %v", got)
		}
	})
	inFlight.Go(func() {
		if got, code, _ := r.overJSON(http.MethodPost, "/v1/shops/"+testShop+"/vehicles", testBench, nil, jsonOf(t, &pb.RecordVehicleRequest{Vehicle: testCar()})); code != http.StatusOK {
			t.Errorf("in flight over JSON: HTTP %d, %v", code, got)
		}
	})
	for range 2 {
		<-hold.came
		<-hold.waits
	}

	ctx, interrupt := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- r.run(ctx) }()
	interrupt()
	if got, err := watch.Recv(); err != nil || got.GetStatus() != healthpb.HealthCheckResponse_NOT_SERVING {
		t.Errorf("%v: %v", got, err)
	}
	waiting.Wait() // before the calls in flight have ended
	if err := watch.CloseSend(); err != nil {
		t.Error(err)
	}
	refused := func() bool {
		late, err := grpc.NewClient(r.grpcAt.Addr().String(), grpc.WithTransportCredentials(insecure.NewCredentials()))
		if err != nil {
			t.Fatal(err)
		}
		defer func() { _ = late.Close() }()
		_, err = pb.NewShopServiceClient(late).GetServer(t.Context(), &pb.GetServerRequest{})
		return status.Code(err) == codes.Unavailable
	}
	for !refused() {
		time.Sleep(time.Millisecond)
	}
	hold.note("go on")
	close(hold.proceed)
	inFlight.Wait()
	r.web.CloseIdleConnections()
	if err := errors.Join(r.conn.Close(), <-ended); err != nil {
		t.Error(err)
	}
	if want := []string{"go on", "commit", "commit", "close"}; !slices.Equal(hold.steps, want) {
		t.Errorf("%v, want %v", hold.steps, want)
	}

	second := serve(t, open())
	defer second.leave()
	kept := &pb.GetVehicleResponse{}
	if got := second.overGRPC(t.Context(), pb.VehicleService_GetVehicle_FullMethodName, testBench, &pb.GetVehicleRequest{ShopId: testShop, VehicleId: v.GetId()}, kept); got.code != codes.OK || kept.GetVehicle().GetId() != v.GetId() {
		t.Errorf("%v: %v", got, kept)
	}
	if second.drafts() != 2 {
		t.Errorf("%d drafts", second.drafts())
	}
}

// A folder that another version wrote is not served, and let go.
func TestAStoreOfAnotherFormatIsNotServed(t *testing.T) {
	dir := t.TempDir()
	store, err := badger.Open(dir, badger.Options{MinFree: 1})
	if err != nil {
		t.Fatal(err)
	}
	if _, err := store.Commit(t.Context(), history.Draft{Shop: testShop, Feed: []byte{1}}); err != nil {
		t.Fatal(err)
	}
	if err := store.Close(); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if _, err := (&place{dir: dir}).open(slog.New(slog.DiscardHandler)); err == nil || !strings.HasPrefix(err.Error(), dir+": the store was written in format 1 ") || strings.Contains(err.Error(), "\n") {
			t.Errorf("%v", err)
		}
	}
}

// A door that cannot be opened lets go of the store and of the other door.
func TestADoorThatIsTaken(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	r := serve(t, memory.New())
	defer r.leave()
	taken := map[string]doors{
		"gRPC": {r.grpcAt.Addr().String(), "127.0.0.1:0"},
		"HTTP": {"127.0.0.1:0", r.httpAt.Addr().String()},
		"none": {"127.0.0.1:0", "127.0.0.1"},
	}
	for _, name := range slices.Sorted(maps.Keys(taken)) {
		store := memory.New()
		if _, err := start(store, temporary(t), nil, judge.NoneOwn, taken[name], slog.New(slog.DiscardHandler)); err == nil {
			t.Errorf("%s: opened twice", name)
		}
		if _, err := store.Snapshot(t.Context(), testShop); !errors.Is(err, history.ErrClosed) {
			t.Errorf("%s: the store is left open: %v", name, err)
		}
	}
}

// A call that does not end is cut off when the time to drain is over.
func TestDrainingEnds(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	hold := &slow{memory.New(), make(chan struct{}, 1), make(chan struct{})}
	r := serve(t, hold)
	defer r.leave()
	cut := make(chan answer)
	go func() {
		req := &pb.RecordVehicleRequest{ShopId: testShop, Vehicle: testCar()}
		cut <- r.overGRPC(context.Background(), pb.VehicleService_RecordVehicle_FullMethodName, testBench, req, &pb.RecordVehicleResponse{})
	}()
	<-hold.came
	ctx, cancel := context.WithTimeout(t.Context(), 20*time.Millisecond)
	defer cancel()
	drain(ctx, r.grpc)
	if got := <-cut; got.code != codes.Unavailable && got.code != codes.Canceled {
		t.Errorf("%v", got)
	}
	if r.drafts() != 0 {
		t.Errorf("%d drafts", r.drafts())
	}
}

// The service does not stay up with a door that takes no calls.
func TestADoorThatFailsEndsTheService(t *testing.T) {
	defer goleak.VerifyNone(t, goleak.IgnoreCurrent())
	r := serve(t, memory.New())
	defer func() { _ = r.conn.Close() }()
	lost := errors.New("the listener was lost")
	r.failed <- lost
	if err := r.run(t.Context()); !errors.Is(err, lost) {
		t.Errorf("%v", err)
	}
	if _, err := r.store.Snapshot(t.Context(), testShop); !errors.Is(err, history.ErrClosed) {
		t.Errorf("the store is left open: %v", err)
	}
}

// Health and what the server is are told without a token, over JSON too.
func TestHealthAtBothDoors(t *testing.T) {
	r := inMemory(t)
	got, err := healthpb.NewHealthClient(r.conn).Check(t.Context(), &healthpb.HealthCheckRequest{})
	if err != nil || got.GetStatus() != healthpb.HealthCheckResponse_SERVING {
		t.Errorf("%v: %v", got, err)
	}
	_, err = healthpb.NewHealthClient(r.conn).Check(t.Context(), &healthpb.HealthCheckRequest{Service: "unknown"})
	if status.Code(err) != codes.NotFound {
		t.Errorf("an unknown service: %v", err)
	}
	for _, path := range []string{"/healthz", "/readyz", "/v1/server"} {
		if _, code, body := r.overJSON(http.MethodGet, path, "", nil, nil); code != http.StatusOK || !json.Valid(body) {
			t.Errorf("%s: HTTP %d: %s", path, code, body)
		}
	}
	r.health.Shutdown()
	if _, code, _ := r.overJSON(http.MethodGet, "/readyz", "", nil, nil); code != http.StatusServiceUnavailable {
		t.Errorf("not serving: HTTP %d", code)
	}
	if _, err := pb.NewShopServiceClient(r.conn).GetServer(t.Context(), &pb.GetServerRequest{}); err != nil {
		t.Errorf("what is in flight is still answered: %v", err)
	}
	if r.said.String() != "" {
		t.Errorf("logged %q", r.said.String())
	}
}
