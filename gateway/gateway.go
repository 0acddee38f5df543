// Package gateway puts every call of the contract on HTTP, as JSON.
//
// Which path is which call stands in gateway.yaml; from it comes the OpenAPI
// document, and from the document this package knows its calls. A request is
// routed once, and path, query and body are read once, strictly, into the message
// that is sent: an unknown field, a misspelled value, an unknown query parameter
// or a path that cannot be is refused with all its problems at once, each with
// the field path that a gRPC caller would be given. A problem passed over in
// silence would be a reading lost.
//
// Every answer that is not 200 is a google.rpc.Status as JSON, with the details
// that a gRPC caller would be given; GET /openapi.json describes all of it. A photo alone
// is answered as itself, and in the ways that HTTP has for such: a range of it, or that it
// has not changed.
package gateway

import (
	"net/http"
	"slices"
	"time"

	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/grpc"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"

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

	// Served are the full names of the calls that are served, as GetServer gives
	// them; nil: all of the contract. Both documents leave the others out. What is
	// answered to these is the gRPC side's to say.
	Served []string
}

// New gives the handler of all calls of the contract, and of:
//
//	/              what this is and where to go, as text
//	/healthz       200 while the process runs
//	/readyz        200 while the gRPC health service behind conn says SERVING, else 503
//	/openapi.json  the calls that are served as an OpenAPI 3 document
//	/swagger.json  the same as a Swagger 2 document
//
// Calls are made over conn, so that whatever guards the gRPC side guards these
// too. Conn must take messages from the server as large as the server sends.
func New(conn grpc.ClientConnInterface, o Options) http.Handler {
	g := &gateway{
		conn: conn,
		mux: runtime.NewServeMux(
			runtime.WithErrorHandler(callFailed),
			runtime.WithIncomingHeaderMatcher(toMetadata),
			runtime.WithOutgoingHeaderMatcher(toHeader),
		),
		health:  healthpb.NewHealthClient(conn),
		origins: origins(o.AllowedOrigins),
	}
	docs := documentsOf(o.Served)
	g.resources = []*resource{
		page("/", fixed("text/plain; charset=utf-8", []byte(welcome))),
		page("/healthz", document([]byte(`{"status":"ALIVE"}`))),
		page("/readyz", g.ready),
		page("/openapi.json", document(docs.openAPI3)),
		page("/swagger.json", document(docs.swagger)),
	}
	for path, calls := range published() {
		r := newResource(path)
		for method, c := range calls {
			r.methods[method] = g.serve(c)
			if c.method == pb.PhotoService_GetPhoto_FullMethodName {
				r.methods[method] = g.servePhoto(c)
			}
		}
		g.resources = append(g.resources, r)
	}
	slices.SortFunc(g.resources, bySpecificity)
	return g
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
