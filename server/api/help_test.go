package api

import (
	"bytes"
	"context"
	"io"
	"log/slog"
	"net"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/google/uuid"
	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/metadata"
	"google.golang.org/grpc/status"
	"google.golang.org/grpc/test/bufconn"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/access"
	"gaugebook.dev/server/book"
	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
	"gaugebook.dev/server/judge"
	"gaugebook.dev/server/photos"
)

const (
	shop         = "north"
	benchToken   = "bench-token-for-tests"
	counterToken = "counter-token-for-tests"
)

// whole reads all of an answer, in English.
var whole = &pb.Reader{Language: "en", CustomerLanguage: "en", View: pb.View_VIEW_FULL}

// house is a server of the whole contract in memory, with a client.
type house struct {
	t     *testing.T
	store history.Store
	album *photos.Folder
	book  *book.Book
	conn  *grpc.ClientConn
	said  safeBuffer // the log
}

// safeBuffer may be written and read at once.
type safeBuffer struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (s *safeBuffer) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.Write(p)
}

func (s *safeBuffer) String() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String()
}

func newHouse(t *testing.T, store history.Store) *house {
	t.Helper()
	album, err := photos.Open(t.TempDir())
	if err != nil {
		t.Fatal(err)
	}
	h := &house{t: t, store: store, album: album, book: book.New(store, judge.For(judge.NoneOwn), time.Now)}
	log := slog.New(slog.NewTextHandler(&h.said, &slog.HandlerOptions{Level: slog.LevelDebug}))
	guard := access.NewGuard(
		access.NewKey(benchToken, "bench phone", access.Bench, shop, strings.Repeat("long", 20)),
		access.NewKey(counterToken, "front counter", access.Counter, shop),
	)
	server := grpc.NewServer(grpc.ChainUnaryInterceptor(Recover(log), Errors(log), guard.Unary),
		grpc.ChainStreamInterceptor(StreamRecover(log), StreamErrors(log), guard.Stream))
	api := New(h.book, album, About{Version: "1.2.3", Epoch: store.Epoch().String(), MaxMessageBytes: 4 << 20}, log)
	api.heartbeat = 50 * time.Millisecond
	api.Register(server)
	listener := bufconn.Listen(1 << 20)
	go func() { _ = server.Serve(listener) }()
	h.conn, err = grpc.NewClient("passthrough:house", grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return listener.DialContext(ctx) }))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = h.conn.Close(); server.Stop(); _ = store.Close() })
	return h
}

func inMemory(t *testing.T) *house {
	t.Helper()
	return newHouse(t, memory.New())
}

// as gives the context of calls with a token.
func as(t *testing.T, token string) context.Context {
	t.Helper()
	return metadata.AppendToOutgoingContext(t.Context(), "authorization", "Bearer "+token)
}

func (h *house) bench() context.Context { return as(h.t, benchToken) }

func (h *house) counter() context.Context { return as(h.t, counterToken) }

// refusal is a status as a client reads it.
type refusal struct {
	*status.Status
	reason   string
	metadata map[string]string
	paths    []string
	wait     time.Duration
}

func read(t *testing.T, err error) refusal {
	t.Helper()
	st, ok := status.FromError(err)
	if err == nil || !ok {
		t.Fatalf("no status: %v", err)
	}
	r := refusal{Status: st}
	for _, d := range st.Details() {
		switch d := d.(type) {
		case *errdetails.ErrorInfo:
			r.reason, r.metadata = d.GetReason(), d.GetMetadata()
			if d.GetDomain() != "gaugebook" {
				t.Errorf("domain %q", d.GetDomain())
			}
		case *errdetails.BadRequest:
			for _, v := range d.GetFieldViolations() {
				r.paths = append(r.paths, v.GetField())
				if v.GetDescription() == "" {
					t.Errorf("%s: nothing is said", v.GetField())
				}
			}
		case *errdetails.RetryInfo:
			r.wait = d.GetRetryDelay().AsDuration()
		default:
			t.Errorf("a detail of type %T", d)
		}
	}
	return r
}

// refused demands FIELD_INVALID at exactly these paths.
func refused(t *testing.T, err error, paths ...string) {
	t.Helper()
	if r := read(t, err); r.reason != "FIELD_INVALID" || !slices.Equal(r.paths, paths) {
		t.Errorf("want problems at %q, got %v at %q: %v", paths, r.reason, r.paths, err)
	}
}

func newID() string { return uuid.NewString() }

func psi(n float64) *pb.Pressure { return &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: n}} }
func kPa(n float64) *pb.Pressure {
	return &pb.Pressure{AsRead: &pb.Pressure_Kilopascals{Kilopascals: n}}
}
func fahrenheit(n float64) *pb.Temperature {
	return &pb.Temperature{AsRead: &pb.Temperature_Fahrenheit{Fahrenheit: n}}
}
func celsius(n float64) *pb.Temperature {
	return &pb.Temperature{AsRead: &pb.Temperature_Celsius{Celsius: n}}
}
func inches(n float64) *pb.Length { return &pb.Length{AsRead: &pb.Length_Inches{Inches: n}} }
func thirtySeconds(n float64) *pb.Depth {
	return &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: n}}
}

func car() *pb.Vehicle {
	axle := &pb.Axle{ColdNormalLoad: psi(33)}
	return &pb.Vehicle{Id: newID(), VehicleClass: pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, Axles: &pb.Axles{Axles: []*pb.Axle{axle, axle}}}
}

func visit(v *pb.Vehicle) *pb.Inspection {
	return &pb.Inspection{Id: newID(), VehicleId: v.GetId(), Wheels: []*pb.WheelReport{{
		Position: "1L", Pressures: []*pb.PressureReading{{Pressure: psi(30)}},
	}}}
}

func (h *house) keep(v *pb.Vehicle, visits ...*pb.Inspection) {
	h.t.Helper()
	if _, err := pb.NewVehicleServiceClient(h.conn).RecordVehicle(h.bench(), &pb.RecordVehicleRequest{ShopId: shop, Vehicle: v}); err != nil {
		h.t.Fatal(err)
	}
	for _, in := range visits {
		if _, err := pb.NewInspectionServiceClient(h.conn).RecordInspection(h.bench(), &pb.RecordInspectionRequest{ShopId: shop, Inspection: in}); err != nil {
			h.t.Fatal(err)
		}
	}
}

// drafts is how many drafts the shop's book holds.
func (h *house) drafts() history.Number {
	h.t.Helper()
	s, err := h.store.Snapshot(context.Background(), shop)
	if err != nil {
		h.t.Fatal(err)
	}
	defer s.Close()
	n, err := s.Last(context.Background())
	if err != nil {
		h.t.Fatal(err)
	}
	return n
}

// rootFS is the whole tree of the program.
var rootFS = os.DirFS("../..")

func logTo(w io.Writer) *slog.Logger { return slog.New(slog.NewTextHandler(w, nil)) }

// aStream is a stream of which only the context is asked.
type aStream struct {
	grpc.ServerStream
	ctx context.Context
}

func (s aStream) Context() context.Context { return s.ctx }
