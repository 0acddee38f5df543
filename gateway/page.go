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

// document makes the handler of a JSON document that is always the same.
func document(text []byte) handler {
	return func(w http.ResponseWriter, _ *http.Request, _ map[string]string) {
		w.Header().Set("Content-Type", "application/json")
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
