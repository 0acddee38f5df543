package gateway

import (
	"context"
	"net/http"
	"time"

	"google.golang.org/grpc/codes"
	healthpb "google.golang.org/grpc/health/grpc_health_v1"
	"google.golang.org/grpc/status"
)

// readyTimeout is how long the gRPC side may take to say whether it is ready.
const readyTimeout = 2 * time.Second

// welcome is what a browser finds at "/".
const welcome = `Gaugebook takes tire readings as the gauge gave them and answers, for every
tire, what was found, on what evidence, and what to do in which order.

This is its door for JSON over HTTP. Where to go from here:

  /openapi.json   every call that is served, as an OpenAPI 3 document
  /swagger.json   the same as a Swagger 2 document
  /v1/server      what this server is and how much it takes
  /healthz        whether the process runs
  /readyz         whether it takes calls

Calls on a shop's book carry a token: "Authorization: Bearer ...". A calculation
needs none: POST /v1/calculate/visit takes a whole visit and keeps nothing. The
same calls are served over gRPC at the other door. README shows a first visit.
`

// document makes the handler of a JSON document that is always the same.
func document(text []byte) handler { return fixed("application/json", text) }

// fixed makes the handler of a text that is always the same.
func fixed(contentType string, text []byte) handler {
	return func(w http.ResponseWriter, _ *http.Request, _ map[string]string) {
		w.Header().Set("Content-Type", contentType)
		_, _ = w.Write(text) // where it fails there is nobody to tell
	}
}

// ready answers whether the gRPC side takes calls.
func (g *gateway) ready(w http.ResponseWriter, r *http.Request, _ map[string]string) {
	ctx, cancel := context.WithTimeout(r.Context(), readyTimeout)
	defer cancel()
	answer, err := g.health.Check(ctx, &healthpb.HealthCheckRequest{})
	if err != nil || answer.GetStatus() != healthpb.HealthCheckResponse_SERVING {
		refuse(w, status.Error(codes.Unavailable, "not ready"))
		return
	}
	document([]byte(`{"status":"SERVING"}`))(w, r, nil)
}
