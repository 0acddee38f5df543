package gateway_test

import (
	"context"
	"errors"
	"net/http"
	"reflect"
	"testing"

	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/grpc"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"

	"gaugebook.dev/gateway"
	routes "gaugebook.dev/gateway/routes/gaugebook/v1"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

// library gives the routes that grpc-gateway generates from gateway.yaml, with
// its own reading of path, query and body.
func library(t *testing.T, conn grpc.ClientConnInterface) http.Handler {
	t.Helper()
	mux := runtime.NewServeMux(runtime.WithMarshalerOption(runtime.MIMEWildcard, &runtime.JSONPb{
		MarshalOptions: protojson.MarshalOptions{EmitDefaultValues: true},
	}))
	ctx := context.Background()
	if err := errors.Join(
		routes.RegisterCalculatorServiceHandlerClient(ctx, mux, pb.NewCalculatorServiceClient(conn)),
		routes.RegisterCounterServiceHandlerClient(ctx, mux, pb.NewCounterServiceClient(conn)),
		routes.RegisterInspectionServiceHandlerClient(ctx, mux, pb.NewInspectionServiceClient(conn)),
		routes.RegisterOutboxServiceHandlerClient(ctx, mux, pb.NewOutboxServiceClient(conn)),
		routes.RegisterPhotoServiceHandlerClient(ctx, mux, pb.NewPhotoServiceClient(conn)),
		routes.RegisterShopServiceHandlerClient(ctx, mux, pb.NewShopServiceClient(conn)),
		routes.RegisterTireServiceHandlerClient(ctx, mux, pb.NewTireServiceClient(conn)),
		routes.RegisterVehicleServiceHandlerClient(ctx, mux, pb.NewVehicleServiceClient(conn)),
	); err != nil {
		t.Fatal(err)
	}
	return mux
}

// apart are the requests that the library takes in another way, each with how.
var apart = map[string]string{
	"longest duration":               "reads no more than 64 bits of nanoseconds",
	"whole number written otherwise": "reads the digits of a whole number only",
	"head":                           "knows no HEAD",
}

// TestAgreesWithTheLibrary compares with grpc-gateway's own routes (v2.33.0): the
// same call is reached with the same message, and the same answer comes back.
func TestAgreesWithTheLibrary(t *testing.T) {
	conn := &atOnce{full: true}
	ours, theirs := gateway.New(conn, gateway.Options{}), library(t, conn)
	all := accepted()
	for _, r := range rules(t) {
		if r.Selector == "gaugebook.v1.PhotoService.GetPhoto" {
			continue // the library has its bytes as base64 in JSON, we as they are: TestPhoto
		}
		method, template := r.methodAndPath()
		request := example{name: r.Selector, method: method, target: variable.ReplaceAllString(template, "my-$1")}
		if r.Body != "" {
			request.body = "{}"
		}
		all = append(all, request)
	}
	for _, request := range all {
		t.Run(request.name, func(t *testing.T) {
			got, want := conn.take(t, ours, request), conn.take(t, theirs, request)
			same := got.code == want.code && got.method == want.method && proto.Equal(got.sent, want.sent) && sameAnswer(t, got.answer, want.answer)
			how, listed := apart[request.name]
			switch {
			case same && listed:
				t.Errorf("the library takes it just so; on the list: it %s", how)
			case !same && !listed:
				t.Errorf("got %v, the library %v", got, want)
			}
		})
	}
}

// outcome is what one request led to.
type outcome struct {
	code   int
	method string
	sent   proto.Message
	answer string
}

func (c *atOnce) take(t *testing.T, h http.Handler, request example) outcome {
	t.Helper()
	c.method, c.sent = "", nil
	w := ask(t, h, request.method, request.target, request.body)
	return outcome{w.Code, c.method, c.sent, w.Body.String()}
}

// sameAnswer compares our answer with the library's, which has also those lists that
// have no entries.
func sameAnswer(t *testing.T, ours, theirs string) bool {
	t.Helper()
	if ours == theirs || ours == "" || theirs == "" {
		return ours == theirs
	}
	return reflect.DeepEqual(plain(t, []byte(ours)), withoutEmptyLists(plain(t, []byte(theirs))))
}

func withoutEmptyLists(v any) any {
	switch v := v.(type) {
	case map[string]any:
		for name, value := range v {
			if list, ok := value.([]any); ok && len(list) == 0 {
				delete(v, name)
			} else {
				withoutEmptyLists(value)
			}
		}
	case []any:
		for _, entry := range v {
			withoutEmptyLists(entry)
		}
	}
	return v
}
