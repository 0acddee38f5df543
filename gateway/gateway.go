// Package gateway puts every call of the contract on HTTP, as JSON.
//
// Which path is which call stands in gateway.yaml; from it come the generated
// routes and the OpenAPI document, and from the document comes what this
// package lets pass. A request is read whole and strictly before its call is
// made: an unknown field, a misspelled value, an unknown query parameter or a
// path that cannot be is refused with all its problems at once, each with the
// field path that a gRPC caller would be given. A problem passed over in silence
// would be a reading lost.
//
// Every answer that is not 200 is a google.rpc.Status as JSON, with the details
// that a gRPC caller would be given; GET /openapi.json describes all of it.
package gateway

import (
	"context"
	"errors"
	"net/http"
	"slices"
	"time"

	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/grpc"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/protobuf/encoding/protojson"

	routes "gaugebook.dev/gateway/routes/gaugebook/v1"
	"gaugebook.dev/gateway/strictjson"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

const (
	// MaxBodyBytes is the length in bytes beyond which a body is refused.
	MaxBodyBytes = strictjson.MaxBytes

	// CallTimeout is how long a call may take whose caller has set no shorter
	// time. PullChanges may be held for 60 s.
	CallTimeout = 70 * time.Second

	// ClientAddressKey is the metadata key under which the gRPC side is told the
	// IP address of the HTTP client. A gRPC listener that others can reach must
	// drop this key from what comes in.
	ClientAddressKey = "gaugebook-client-address"
)

// Options are what may differ between one server and another.
type Options struct {
	// AllowedOrigins are the web origins whose pages may call, scheme, host and
	// port as a browser sends them: "http://192.0.2.10:8080". None by default.
	// There is no way to allow all.
	AllowedOrigins []string
}

// New gives the handler of all calls of the contract, and of:
//
//	/healthz       200 while the process runs
//	/readyz        200 while the gRPC health service behind conn says SERVING, else 503
//	/openapi.json  the calls as an OpenAPI 3 document
//	/swagger.json  the calls as a Swagger 2 document
//
// Calls are made over conn, so that whatever guards the gRPC side guards these
// too. Conn must take messages from the server as large as the server sends.
func New(conn grpc.ClientConnInterface, o Options) http.Handler {
	mux := runtime.NewServeMux(
		runtime.WithMarshalerOption(runtime.MIMEWildcard, &runtime.JSONPb{
			MarshalOptions: protojson.MarshalOptions{EmitDefaultValues: true},
		}),
		runtime.WithErrorHandler(callFailed),
		runtime.WithIncomingHeaderMatcher(toMetadata),
		runtime.WithOutgoingHeaderMatcher(toHeader),
		runtime.WithOutgoingTrailerMatcher(func(string) (string, bool) { return "", false }),
		runtime.WithDisablePathLengthFallback(),
		runtime.WithDisableHTTPMethodOverride(),
	)
	if err := register(mux, conn); err != nil {
		panic(err) // generated code that cannot be registered; a test calls New
	}

	g := &gateway{mux: mux, health: healthpb.NewHealthClient(conn), origins: origins(o.AllowedOrigins)}
	doc := published()
	g.resources = []*resource{
		page("/healthz", document([]byte(`{"status":"ALIVE"}`))),
		page("/readyz", g.ready),
		page("/openapi.json", document(doc.openAPI3)),
		page("/swagger.json", document(swagger)),
	}
	for path, calls := range doc.calls {
		at := newResource(path)
		for method, c := range calls {
			at.methods[method] = g.serve(c)
		}
		g.resources = append(g.resources, at)
	}
	slices.SortFunc(g.resources, bySpecificity)
	return g
}

// register puts the generated routes of every service on the mux. They end with
// the request's own context; the one that they are given here is not used.
func register(mux *runtime.ServeMux, conn grpc.ClientConnInterface) error {
	ctx := context.Background()
	return errors.Join(
		routes.RegisterCalculatorServiceHandlerClient(ctx, mux, pb.NewCalculatorServiceClient(conn)),
		routes.RegisterCounterServiceHandlerClient(ctx, mux, pb.NewCounterServiceClient(conn)),
		routes.RegisterInspectionServiceHandlerClient(ctx, mux, pb.NewInspectionServiceClient(conn)),
		routes.RegisterOutboxServiceHandlerClient(ctx, mux, pb.NewOutboxServiceClient(conn)),
		routes.RegisterShopServiceHandlerClient(ctx, mux, pb.NewShopServiceClient(conn)),
		routes.RegisterTireServiceHandlerClient(ctx, mux, pb.NewTireServiceClient(conn)),
		routes.RegisterVehicleServiceHandlerClient(ctx, mux, pb.NewVehicleServiceClient(conn)),
	)
}

// HTTPServer gives a server for the handler that a slow or hostile client cannot
// hold for long. The caller sets its address or gives it a listener.
func HTTPServer(h http.Handler) *http.Server {
	return &http.Server{
		Handler:           h,
		ReadHeaderTimeout: 10 * time.Second,
		// When it ends while a call is under way, the call is canceled: it has to
		// be longer than any.
		ReadTimeout:    CallTimeout + 50*time.Second,
		WriteTimeout:   2*CallTimeout + 60*time.Second, // from the end of the header: body, call, answer
		IdleTimeout:    2 * time.Minute,
		MaxHeaderBytes: 16 << 10,
	}
}
