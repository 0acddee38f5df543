package gateway

import (
	"net"
	"net/http"
	"regexp"
	"strings"
)

// What may come in, beside the address of the client, and go out, beside what
// HTTP itself says of an answer. Nothing else crosses in either direction.
const (
	authorization = "Authorization"
	requestID     = "X-Request-Id"
	grpcTimeout   = "Grpc-Timeout"
	clientAddress = "Gaugebook-Client-Address" // ClientAddressKey as an HTTP header
)

// isMetadata matches what gRPC can carry as text: printable ASCII (gRPC over
// HTTP/2, ASCII-Value). What it cannot carry is as good as not sent.
var isMetadata = regexp.MustCompile(`^[ -~]*$`).MatchString

// innerHeader makes the header of the request that is put to the mux. It holds
// what was let in and nothing else.
func innerHeader(r *http.Request) http.Header {
	inner := http.Header{}
	for _, name := range []string{authorization, requestID, grpcTimeout} {
		for _, value := range r.Header.Values(name) {
			if isMetadata(value) {
				inner.Add(name, value)
			}
		}
	}
	if ip, _, err := net.SplitHostPort(r.RemoteAddr); err == nil {
		inner.Set(clientAddress, ip)
	}
	return inner
}

// toMetadata names the metadata key of a header of innerHeader. Authorization
// and Grpc-Timeout are carried over by the mux itself.
func toMetadata(header string) (key string, ok bool) {
	switch header {
	case requestID:
		return "x-request-id", true
	case clientAddress:
		return ClientAddressKey, true
	}
	return "", false
}

// toHeader names the header of an answer's metadata key.
func toHeader(key string) (header string, ok bool) {
	return requestID, key == "x-request-id"
}

// origins makes a set of allowed origins. A browser sends an origin in lower case
// and without a slash at its end (RFC 6454, section 6.2).
func origins(allowed []string) map[string]bool {
	set := map[string]bool{}
	for _, origin := range allowed {
		set[strings.TrimSuffix(strings.ToLower(origin), "/")] = true
	}
	return set
}

// share lets the page that sent the request read the answer, if its origin is
// allowed to. Credentials that a browser adds by itself are never asked for.
func (g *gateway) share(h http.Header, r *http.Request) bool {
	if len(g.origins) == 0 {
		return false
	}
	h.Add("Vary", "Origin")
	origin := r.Header.Get("Origin")
	if !g.origins[origin] {
		return false
	}
	h.Set("Access-Control-Allow-Origin", origin)
	h.Set("Access-Control-Expose-Headers", "Allow, Retry-After, WWW-Authenticate, "+requestID)
	return true
}

// preflight answers a browser's question whether a page may make a call.
func preflight(h http.Header, r *http.Request, methods string) {
	if r.Header.Get("Access-Control-Request-Method") == "" {
		return
	}
	h.Set("Access-Control-Allow-Methods", methods)
	h.Set("Access-Control-Allow-Headers", strings.Join([]string{authorization, "Content-Type", grpcTimeout, requestID}, ", "))
	h.Set("Access-Control-Max-Age", "600")
}
