package gateway

import (
	"context"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"google.golang.org/grpc"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
)

// counted is the type of a request that remembers the messages made of it.
type counted struct {
	protoreflect.MessageType
	made []protoreflect.Message
}

func (c *counted) New() protoreflect.Message {
	m := c.MessageType.New()
	c.made = append(c.made, m)
	return m
}

// recorder is a gRPC side that remembers what it was sent and answers with nothing.
type recorder struct {
	method string
	sent   []any
}

func (r *recorder) Invoke(_ context.Context, method string, request, _ any, _ ...grpc.CallOption) error {
	r.method, r.sent = method, append(r.sent, request)
	return nil
}

func (*recorder) NewStream(context.Context, *grpc.StreamDesc, string, ...grpc.CallOption) (grpc.ClientStream, error) {
	panic("no call of the gateway is a stream")
}

// TestReadAndRoutedOnce holds for every call that one message is made of a
// request, that this very message is sent, so that nothing can have been read
// twice, and that after the path has chosen the call nobody looks at it again.
func TestReadAndRoutedOnce(t *testing.T) {
	for template, calls := range published() {
		for method, c := range calls {
			t.Run(c.method, func(t *testing.T) {
				conn := &recorder{}
				g := New(conn, Options{}).(*gateway)
				request := &counted{MessageType: c.request}
				mine := *c
				mine.request = request
				path := strings.NewReplacer("{", "", "}", "").Replace(template)
				found, params := g.find(&url.URL{Path: path})
				if found == nil || found.path != template {
					t.Fatalf("%s leads to %v", path, found)
				}

				r := httptest.NewRequestWithContext(t.Context(), method, "/nowhere", http.NoBody)
				if c.takesBody {
					r = httptest.NewRequestWithContext(t.Context(), method, "/nowhere", strings.NewReader("{}"))
					r.Header.Set("Content-Type", "application/json")
				}
				w := httptest.NewRecorder()
				if g.serve(&mine)(w, r, params); w.Code != http.StatusOK {
					t.Fatalf("HTTP %d: %s", w.Code, w.Body)
				}
				if conn.method != c.method || len(conn.sent) != 1 {
					t.Errorf("%d calls, the last of %q", len(conn.sent), conn.method)
				}
				if len(request.made) != 1 || request.made[0].Interface() != conn.sent[0].(proto.Message) {
					t.Errorf("%d messages were made of one request, or another was sent", len(request.made))
				}
			})
		}
	}
}
