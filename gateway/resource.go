package gateway

import (
	"cmp"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/status"
)

// gateway is the handler of New.
type gateway struct {
	conn      grpc.ClientConnInterface
	mux       *runtime.ServeMux // how HTTP and gRPC tell each other of headers and failures; it routes nothing
	health    healthpb.HealthClient
	origins   map[string]bool
	resources []*resource // by specificity
}

// handler answers one method of a resource. Params are the variable parts of
// the path by name; they may still be anything.
type handler func(w http.ResponseWriter, r *http.Request, params map[string]string)

// resource is what lies under one path.
type resource struct {
	path string
	// template has a segment "{name}" for each variable part.
	template []string
	// verb follows the last segment after a colon: "reassess". Empty: there is none.
	verb    string
	methods map[string]handler
}

// newResource makes an empty resource of a path such as "/v1/shops/{shopId}".
func newResource(path string) *resource {
	res := &resource{path: path, methods: map[string]handler{}}
	path, res.verb, _ = strings.Cut(path, ":")
	res.template = strings.Split(path, "/")
	return res
}

// page makes a resource that is only looked at.
func page(path string, get handler) *resource {
	res := newResource(path)
	res.methods[http.MethodGet] = get
	return res
}

// match compares the segments of a path with the template and gives the variable
// parts.
func (res *resource) match(segments []string) (params map[string]string, ok bool) {
	if len(segments) != len(res.template) {
		return nil, false
	}
	if res.verb != "" {
		last := len(segments) - 1
		stem, ok := strings.CutSuffix(segments[last], ":"+res.verb)
		if !ok {
			return nil, false
		}
		segments = append(slices.Clone(segments[:last]), stem)
	}
	params = map[string]string{}
	for i, want := range res.template {
		if name, variable := strings.CutPrefix(want, "{"); variable {
			params[strings.TrimSuffix(name, "}")] = segments[i]
		} else if segments[i] != want {
			return nil, false
		}
	}
	return params, true
}

// allow lists the methods of the resource as the Allow header has them
// (RFC 9110, section 10.2.1).
func (res *resource) allow() string {
	methods := append(slices.Collect(maps.Keys(res.methods)), http.MethodOptions)
	if res.methods[http.MethodGet] != nil {
		methods = append(methods, http.MethodHead)
	}
	slices.Sort(methods)
	return strings.Join(methods, ", ")
}

// bySpecificity orders resources so that of those that match a path the one
// meant stands first: with a verb before without, fewer variable parts before more.
func bySpecificity(a, b *resource) int {
	return cmp.Or(
		cmp.Compare(strings.Count(b.path, ":"), strings.Count(a.path, ":")),
		cmp.Compare(strings.Count(a.path, "{"), strings.Count(b.path, "{")),
		cmp.Compare(a.path, b.path),
	)
}

// find gives the resource of a URL. Each segment is unescaped by itself, so that
// an escaped slash stays part of its segment.
func (g *gateway) find(u *url.URL) (res *resource, params map[string]string) {
	segments := strings.Split(u.EscapedPath(), "/")
	for i, segment := range segments {
		plain, err := url.PathUnescape(segment)
		if err != nil {
			return nil, nil
		}
		segments[i] = plain
	}
	for _, res := range g.resources {
		if params, ok := res.match(segments); ok {
			return res, params
		}
	}
	return nil, nil
}

// ServeHTTP answers a request for whatever lies under its path.
func (g *gateway) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Cache-Control", "no-store")
	shared := g.share(h, r)

	res, params := g.find(r.URL)
	if res == nil {
		refuse(w, &runtime.HTTPStatusError{
			HTTPStatus: http.StatusNotFound,
			Err:        status.Error(codes.NotFound, "nothing lies under this path"),
		})
		return
	}
	method := r.Method
	if method == http.MethodHead { // the server leaves the body out
		method = http.MethodGet
	}
	switch serve := res.methods[method]; {
	case serve != nil:
		serve(w, r, params)
	case method == http.MethodOptions:
		h.Set("Allow", res.allow())
		if shared {
			preflight(h, r, res.allow())
		}
		w.WriteHeader(http.StatusNoContent)
	default:
		h.Set("Allow", res.allow())
		refuse(w, &runtime.HTTPStatusError{
			HTTPStatus: http.StatusMethodNotAllowed,
			Err:        status.Error(codes.Unimplemented, "this path does not have the method; see the header Allow"),
		})
	}
}
