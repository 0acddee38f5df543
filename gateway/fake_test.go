package gateway_test

import (
	"context"
	"encoding/json"
	"io"
	"net"
	"net/http"
	"net/http/httptest"
	"strings"
	"sync"
	"testing"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/health"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/metadata"
	"google.golang.org/grpc/test/bufconn"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

	spb "google.golang.org/genproto/googleapis/rpc/status"

	"gaugebook.dev/gateway"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

// shopServer is a gRPC server of the whole contract that notes every call. It
// answers in an interceptor: what does not pass through interceptors gets
// UNIMPLEMENTED.
type shopServer struct {
	health *health.Server

	mu     sync.Mutex
	calls  []received
	answer func(ctx context.Context, req proto.Message) (proto.Message, error)
}

// received is one call as the server got it.
type received struct {
	method   string
	request  proto.Message
	metadata metadata.MD
	deadline time.Time
}

// start runs a server in memory and gives a gateway to it.
func start(t *testing.T, o gateway.Options) (*shopServer, http.Handler) {
	t.Helper()
	s := &shopServer{health: health.NewServer()}
	server := grpc.NewServer(grpc.UnaryInterceptor(s.intercept))
	pb.RegisterCalculatorServiceServer(server, pb.UnimplementedCalculatorServiceServer{})
	pb.RegisterCounterServiceServer(server, pb.UnimplementedCounterServiceServer{})
	pb.RegisterInspectionServiceServer(server, pb.UnimplementedInspectionServiceServer{})
	pb.RegisterOutboxServiceServer(server, pb.UnimplementedOutboxServiceServer{})
	pb.RegisterPhotoServiceServer(server, pb.UnimplementedPhotoServiceServer{})
	pb.RegisterShopServiceServer(server, pb.UnimplementedShopServiceServer{})
	pb.RegisterTireServiceServer(server, pb.UnimplementedTireServiceServer{})
	pb.RegisterVehicleServiceServer(server, pb.UnimplementedVehicleServiceServer{})
	healthpb.RegisterHealthServer(server, s.health)
	listener := bufconn.Listen(1 << 20)
	go func() { _ = server.Serve(listener) }()
	t.Cleanup(server.Stop)

	conn, err := grpc.NewClient("passthrough:///memory",
		grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithContextDialer(func(ctx context.Context, _ string) (net.Conn, error) { return listener.DialContext(ctx) }))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = conn.Close() })
	return s, gateway.New(conn, o)
}

func (s *shopServer) intercept(ctx context.Context, req any, info *grpc.UnaryServerInfo, next grpc.UnaryHandler) (any, error) {
	if strings.HasPrefix(info.FullMethod, "/grpc.health") {
		return next(ctx, req)
	}
	call := received{method: info.FullMethod, request: req.(proto.Message)}
	call.metadata, _ = metadata.FromIncomingContext(ctx)
	call.deadline, _ = ctx.Deadline()
	s.mu.Lock()
	s.calls = append(s.calls, call)
	answer := s.answer
	s.mu.Unlock()
	if answer != nil {
		return answer(ctx, call.request)
	}
	return emptyAnswer(info.FullMethod), nil
}

// emptyAnswer is the response of a method with nothing in it.
func emptyAnswer(fullMethod string) proto.Message {
	name := strings.ReplaceAll(strings.TrimPrefix(fullMethod, "/"), "/", ".")
	found, err := protoregistry.GlobalFiles.FindDescriptorByName(protoreflect.FullName(name))
	if err != nil {
		panic(err)
	}
	output, err := protoregistry.GlobalTypes.FindMessageByName(found.(protoreflect.MethodDescriptor).Output().FullName())
	if err != nil {
		panic(err)
	}
	return output.New().Interface()
}

// answers makes the server answer every call the same.
func (s *shopServer) answers(m proto.Message, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.answer = func(context.Context, proto.Message) (proto.Message, error) { return m, err }
}

// last gives the latest call, and none where none has come since the last time.
func (s *shopServer) last() (received, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if len(s.calls) == 0 {
		return received{}, false
	}
	call := s.calls[len(s.calls)-1]
	s.calls = nil
	return call, true
}

// ask sends one request to the handler. A body goes as JSON unless header says
// otherwise; header alternates names and values.
func ask(t *testing.T, h http.Handler, method, target, body string, header ...string) *httptest.ResponseRecorder {
	t.Helper()
	var reader io.Reader
	if body != "" {
		reader = strings.NewReader(body)
	}
	r := httptest.NewRequestWithContext(t.Context(), method, target, reader)
	if body != "" {
		r.Header.Set("Content-Type", "application/json")
	}
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w
}

// overNetwork serves the handler as HTTPServer does and gives its address.
func overNetwork(t *testing.T, h http.Handler) (address string) {
	t.Helper()
	server := httptest.NewUnstartedServer(nil)
	server.Config = gateway.HTTPServer(h)
	server.Start()
	t.Cleanup(server.Close)
	return server.URL
}

// send makes a request over the network. The client waits for leave to send a
// body where the request says so (RFC 9110, section 10.1.1).
func send(t *testing.T, r *http.Request) (code int, header http.Header, body []byte) {
	t.Helper()
	transport := &http.Transport{ExpectContinueTimeout: time.Minute}
	defer transport.CloseIdleConnections()
	answer, err := transport.RoundTrip(r)
	if err != nil {
		t.Fatal(err)
	}
	body, err = io.ReadAll(answer.Body)
	if err != nil {
		t.Fatal(err)
	}
	if err := answer.Body.Close(); err != nil {
		t.Fatal(err)
	}
	return answer.StatusCode, answer.Header, body
}

// statusOf reads the body of a refusal.
func statusOf(t *testing.T, w *httptest.ResponseRecorder) *spb.Status {
	t.Helper()
	if got := w.Header().Get("Content-Type"); got != "application/json" {
		t.Errorf("Content-Type %q", got)
	}
	st := &spb.Status{}
	if err := protojson.Unmarshal(w.Body.Bytes(), st); err != nil {
		t.Fatalf("HTTP %d: %v in %s", w.Code, err, w.Body)
	}
	return st
}

// plain reads any JSON object. The spaces of protojson differ from build to
// build, so that its text is never compared as it is.
func plain(t *testing.T, text []byte) map[string]any {
	t.Helper()
	var v map[string]any
	if err := json.Unmarshal(text, &v); err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	return v
}
