package gateway_test

import (
	"bytes"
	"context"
	"net/http"
	"net/http/httptest"
	"os"
	"testing"

	"google.golang.org/grpc"
	"google.golang.org/protobuf/proto"

	"gaugebook.dev/gateway"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

// atOnce is a gRPC side that answers every call at once and remembers the last.
type atOnce struct {
	full   bool // something stands in every field of an answer; false: nothing
	method string
	sent   proto.Message
}

func (c *atOnce) Invoke(_ context.Context, method string, request, answer any, _ ...grpc.CallOption) error {
	c.method, c.sent = method, request.(proto.Message)
	if c.full {
		fill(answer.(proto.Message).ProtoReflect(), 4)
	}
	return nil
}

func (*atOnce) NewStream(context.Context, *grpc.StreamDesc, string, ...grpc.CallOption) (grpc.ClientStream, error) {
	panic("no call of the gateway is a stream")
}

// BenchmarkAssessVisit is what a visit costs on its way from HTTP to its call.
func BenchmarkAssessVisit(b *testing.B) {
	body, err := os.ReadFile("../testdata/demo/sedan-nail.json")
	if err != nil {
		b.Fatal(err)
	}
	conn := &atOnce{}
	h := gateway.New(conn, gateway.Options{})
	b.ReportAllocs()
	b.SetBytes(int64(len(body)))
	for b.Loop() {
		r := httptest.NewRequestWithContext(b.Context(), http.MethodPost, "/v1/calculate/visit", bytes.NewReader(body))
		r.Header.Set("Content-Type", "application/json")
		w := httptest.NewRecorder()
		if h.ServeHTTP(w, r); w.Code != http.StatusOK {
			b.Fatalf("HTTP %d: %s", w.Code, w.Body)
		}
	}
	if len(conn.sent.(*pb.AssessVisitRequest).GetInspection().GetWheels()) == 0 {
		b.Error("the visit did not arrive")
	}
}
