package gateway_test

import (
	"context"
	"maps"
	"net/http"
	"slices"
	"testing"
	"time"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/metadata"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoregistry"
	"google.golang.org/protobuf/types/known/anypb"
	"google.golang.org/protobuf/types/known/durationpb"

	spb "google.golang.org/genproto/googleapis/rpc/status"

	"gaugebook.dev/gateway"
)

func packed(t *testing.T, m proto.Message) *anypb.Any {
	t.Helper()
	a, err := anypb.New(m)
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// TestHTTPCode compares with the HTTP mapping in the comments of google.rpc.Code
// (google/rpc/code.proto).
func TestHTTPCode(t *testing.T) {
	server, h := start(t, gateway.Options{})
	tests := []struct {
		code codes.Code
		http int
	}{
		{codes.Canceled, 499},
		{codes.Unknown, 500},
		{codes.InvalidArgument, 400},
		{codes.DeadlineExceeded, 504},
		{codes.NotFound, 404},
		{codes.AlreadyExists, 409},
		{codes.PermissionDenied, 403},
		{codes.Unauthenticated, 401},
		{codes.ResourceExhausted, 429},
		{codes.FailedPrecondition, 400},
		{codes.Aborted, 409},
		{codes.OutOfRange, 400},
		{codes.Unimplemented, 501},
		{codes.Internal, 500},
		{codes.Unavailable, 503},
		{codes.DataLoss, 500},
	}
	for _, test := range tests {
		t.Run(test.code.String(), func(t *testing.T) {
			server.answers(nil, status.Error(test.code, "why"))
			w := ask(t, h, http.MethodGet, "/v1/server", "")
			if w.Code != test.http {
				t.Errorf("HTTP %d, want %d", w.Code, test.http)
			}
			if got := statusOf(t, w); codes.Code(got.GetCode()) != test.code {
				t.Errorf("code %v", codes.Code(got.GetCode()))
			}
			// RFC 9110, section 11.6.1: with 401, and RFC 6750, section 3.
			wantChallenge := ""
			if test.http == http.StatusUnauthorized {
				wantChallenge = "Bearer"
			}
			if got := w.Header().Get("WWW-Authenticate"); got != wantChallenge {
				t.Errorf("WWW-Authenticate %q", got)
			}
		})
	}
}

// TestDetailsSurvive sends one of every type of google/rpc/error_details.proto.
func TestDetailsSurvive(t *testing.T) {
	server, h := start(t, gateway.Options{})
	types := errdetails.File_google_rpc_error_details_proto.Messages()
	for i := range types.Len() {
		t.Run(string(types.Get(i).Name()), func(t *testing.T) {
			found, err := protoregistry.GlobalTypes.FindMessageByName(types.Get(i).FullName())
			if err != nil {
				t.Fatal(err)
			}
			sent := &spb.Status{
				Code: int32(codes.FailedPrecondition), Message: "the visit was corrected already",
				Details: []*anypb.Any{packed(t, filled(found, 3))},
			}
			server.answers(nil, status.FromProto(sent).Err())
			got := statusOf(t, ask(t, h, http.MethodGet, "/v1/server", ""))
			if !proto.Equal(got, sent) {
				t.Errorf("got %v, want %v", got, sent)
			}
		})
	}
}

// TestFieldPathsPass holds that a gRPC refusal's paths reach HTTP as they are.
func TestFieldPathsPass(t *testing.T) {
	server, h := start(t, gateway.Options{})
	sent := &spb.Status{Code: int32(codes.InvalidArgument), Message: "2 problems", Details: []*anypb.Any{
		packed(t, &errdetails.ErrorInfo{Reason: "FIELD_INVALID", Domain: "gaugebook"}),
		packed(t, &errdetails.BadRequest{FieldViolations: []*errdetails.BadRequest_FieldViolation{
			{Field: "inspection.wheels[0].tread[2].depth", Description: "-3/32 in: a depth is zero or more"},
			{Field: "inspection.odometer", Description: "present with no number"},
		}}),
	}}
	server.answers(nil, status.FromProto(sent).Err())
	w := ask(t, h, http.MethodPost, inspections, "{}")
	if got := statusOf(t, w); !proto.Equal(got, sent) {
		t.Errorf("got %v, want %v", got, sent)
	}
	want := []string{"inspection.wheels[0].tread[2].depth", "inspection.odometer"}
	if fields, _ := violations(t, statusOf(t, w)); !slices.Equal(fields, want) {
		t.Errorf("fields %q, want %q", fields, want)
	}
}

// TestUnknownDetail sends a detail of a type that this program does not have.
func TestUnknownDetail(t *testing.T) {
	server, h := start(t, gateway.Options{})
	known := packed(t, &errdetails.ErrorInfo{Reason: "ID_TAKEN", Domain: "gaugebook"})
	server.answers(nil, status.FromProto(&spb.Status{
		Code: int32(codes.AlreadyExists), Message: "the id is taken",
		Details: []*anypb.Any{{TypeUrl: "type.googleapis.com/gaugebook.v9.Later", Value: []byte{8, 1}}, known},
	}).Err())
	w := ask(t, h, http.MethodGet, "/v1/server", "")
	want := &spb.Status{Code: int32(codes.AlreadyExists), Message: "the id is taken", Details: []*anypb.Any{known}}
	if got := statusOf(t, w); w.Code != http.StatusConflict || !proto.Equal(got, want) {
		t.Errorf("HTTP %d, %v", w.Code, got)
	}
}

func TestRetryAndSize(t *testing.T) {
	server, h := start(t, gateway.Options{})
	retry := func(d time.Duration) proto.Message { return &errdetails.RetryInfo{RetryDelay: durationpb.New(d)} }
	info := func(domain, reason string) proto.Message {
		return &errdetails.ErrorInfo{Domain: domain, Reason: reason}
	}
	tests := []struct {
		name       string
		details    []proto.Message
		code       int
		retryAfter string
	}{
		{"no hint", nil, http.StatusTooManyRequests, ""},
		{"whole seconds", []proto.Message{retry(3 * time.Second)}, http.StatusTooManyRequests, "3"},
		{"rounded up", []proto.Message{retry(1200 * time.Millisecond)}, http.StatusTooManyRequests, "2"},
		{"at once", []proto.Message{retry(0)}, http.StatusTooManyRequests, "0"},
		{"too many", []proto.Message{info("gaugebook", "TOO_MANY"), retry(time.Second)}, http.StatusTooManyRequests, "1"},
		{"too large", []proto.Message{info("gaugebook", "TOO_LARGE")}, http.StatusRequestEntityTooLarge, ""},
		{"disk full", []proto.Message{info("gaugebook", "DISK_NEARLY_FULL"), retry(5 * time.Minute)}, http.StatusInsufficientStorage, "300"},
		{"of another domain", []proto.Message{info("elsewhere", "TOO_LARGE")}, http.StatusTooManyRequests, ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			sent := &spb.Status{Code: int32(codes.ResourceExhausted), Message: "not now"}
			for _, m := range test.details {
				sent.Details = append(sent.Details, packed(t, m))
			}
			server.answers(nil, status.FromProto(sent).Err())
			w := ask(t, h, http.MethodGet, "/v1/server", "")
			if got := w.Header().Get("Retry-After"); w.Code != test.code || got != test.retryAfter {
				t.Errorf("HTTP %d, Retry-After %q; want %d, %q", w.Code, got, test.code, test.retryAfter)
			}
		})
	}
}

// TestNothingOfTheInside holds that words which the server did not mean for a
// caller are not passed on.
func TestNothingOfTheInside(t *testing.T) {
	server, h := start(t, gateway.Options{})
	ours := packed(t, &errdetails.ErrorInfo{Reason: "SHUTTING_DOWN", Domain: "gaugebook"})
	const inside = "dial tcp 192.0.2.7:5432: refused"
	tests := []struct {
		code    codes.Code
		details []*anypb.Any
		want    string
	}{
		{codes.Unavailable, nil, "the service cannot be reached"},
		{codes.Internal, nil, "the call failed inside the service"},
		{codes.Unknown, nil, "the call failed inside the service"},
		{codes.DataLoss, nil, "the call failed inside the service"},
		{codes.Unavailable, []*anypb.Any{ours}, inside},
		{codes.NotFound, nil, inside},
	}
	for _, test := range tests {
		t.Run(test.code.String(), func(t *testing.T) {
			server.answers(nil, status.FromProto(&spb.Status{Code: int32(test.code), Message: inside, Details: test.details}).Err())
			if got := statusOf(t, ask(t, h, http.MethodGet, "/v1/server", "")).GetMessage(); got != test.want {
				t.Errorf("says %q, want %q", got, test.want)
			}
		})
	}
}

func TestDeadline(t *testing.T) {
	server, h := start(t, gateway.Options{})
	tests := []struct {
		timeout string // gRPC over HTTP/2: at most 8 digits and a unit
		most    time.Duration
	}{
		{"", gateway.CallTimeout},
		{"5S", 5 * time.Second},
		{"99999999H", gateway.CallTimeout},
	}
	for _, test := range tests {
		t.Run(test.timeout, func(t *testing.T) {
			before := time.Now()
			if w := ask(t, h, http.MethodGet, "/v1/server", "", "Grpc-Timeout", test.timeout); w.Code != http.StatusOK {
				t.Fatalf("HTTP %d", w.Code)
			}
			call, _ := server.last()
			if call.deadline.IsZero() {
				t.Fatal("no deadline")
			}
			// The server counts from when the call reaches it.
			if took := time.Since(before); call.deadline.After(before.Add(test.most + took)) {
				t.Errorf("deadline %v after the call, want at most %v", call.deadline.Sub(before), test.most)
			}
		})
	}

	t.Run("malformed", func(t *testing.T) {
		if w := ask(t, h, http.MethodGet, "/v1/server", "", "Grpc-Timeout", "soon"); w.Code != http.StatusBadRequest {
			t.Errorf("HTTP %d", w.Code)
		}
	})
	t.Run("passed", func(t *testing.T) {
		server.answer = func(ctx context.Context, _ proto.Message) (proto.Message, error) {
			<-ctx.Done()
			return nil, status.FromContextError(ctx.Err()).Err()
		}
		w := ask(t, h, http.MethodGet, "/v1/server", "", "Grpc-Timeout", "1m") // a millisecond
		if got := statusOf(t, w); w.Code != http.StatusGatewayTimeout || codes.Code(got.GetCode()) != codes.DeadlineExceeded {
			t.Errorf("HTTP %d, %v", w.Code, got)
		}
	})
}

// TestHeadersIn holds that exactly what is let in reaches the gRPC side.
func TestHeadersIn(t *testing.T) {
	server, h := start(t, gateway.Options{})
	// Of gRPC itself, on every call.
	own := []string{":authority", "content-type", "grpc-accept-encoding", "user-agent"}
	tests := []struct {
		name   string
		header []string
		want   map[string]string
	}{
		{"nothing", nil, nil},
		{"let in", []string{"Authorization", "Bearer t0ken", "X-Request-Id", "r-1"},
			map[string]string{"authorization": "Bearer t0ken", "x-request-id": "r-1"}},
		{"metadata from outside", []string{"Grpc-Metadata-Shop", "south", "Grpc-Metadata-Authorization", "Bearer other", "Grpc-Metadata-Key-Bin", "AA=="}, nil},
		{"the address from outside", []string{"Gaugebook-Client-Address", "203.0.113.9", "Grpc-Metadata-Gaugebook-Client-Address", "203.0.113.9"}, nil},
		{"forwarding from outside", []string{"X-Forwarded-For", "203.0.113.9", "X-Forwarded-Host", "inside", "Forwarded", "for=203.0.113.9"}, nil},
		{"what browsers add", []string{"Cookie", "a=b", "Origin", "null", "Referer", "x", "User-Agent", "y", "Accept", "*/*"}, nil},
		{"what metadata cannot hold", []string{"X-Request-Id", "r\xff", "Authorization", "Bearer \xff"}, nil},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			if w := ask(t, h, http.MethodGet, "/v1/server", "", test.header...); w.Code != http.StatusOK {
				t.Fatalf("HTTP %d: %s", w.Code, w.Body)
			}
			call, _ := server.last()
			// The address that net/http/httptest gives a request, of RFC 5737.
			want := map[string]string{gateway.ClientAddressKey: "192.0.2.1"}
			maps.Copy(want, test.want)
			for key, values := range call.metadata {
				if slices.Contains(own, key) {
					continue
				}
				if want[key] == "" || !slices.Equal(values, []string{want[key]}) {
					t.Errorf("%s: %q, want %q", key, values, want[key])
				}
				delete(want, key)
			}
			for key := range want {
				t.Errorf("%s did not arrive", key)
			}
		})
	}
}

// TestHeadersOut holds that of what the gRPC side sends beside its answer only
// the request's id goes out.
func TestHeadersOut(t *testing.T) {
	server, h := start(t, gateway.Options{})
	for name, err := range map[string]error{"answer": nil, "refusal": status.Error(codes.NotFound, "no such shop")} {
		t.Run(name, func(t *testing.T) {
			server.answer = func(ctx context.Context, _ proto.Message) (proto.Message, error) {
				if err := grpc.SetHeader(ctx, metadata.Pairs("x-request-id", "r-1", "x-node", "inside-7")); err != nil {
					return nil, err
				}
				if err := grpc.SetTrailer(ctx, metadata.Pairs("x-node", "inside-7")); err != nil {
					return nil, err
				}
				return emptyAnswer("/gaugebook.v1.ShopService/GetServer"), err
			}
			w := ask(t, h, http.MethodGet, "/v1/server", "", "Te", "trailers")
			want := http.Header{
				"Cache-Control": {"no-store"}, "Content-Type": {"application/json"},
				"X-Content-Type-Options": {"nosniff"}, "X-Request-Id": {"r-1"},
			}
			for key, values := range w.Header() {
				if !slices.Equal(values, want[key]) {
					t.Errorf("%s: %q", key, values)
				}
				delete(want, key)
			}
			for key := range want {
				t.Errorf("%s is missing", key)
			}
			if len(w.Result().Trailer) != 0 {
				t.Errorf("trailer %v", w.Result().Trailer)
			}
		})
	}
}

// TestGuards holds that what guards the gRPC side guards HTTP too.
func TestGuards(t *testing.T) {
	server, h := start(t, gateway.Options{})
	server.answer = func(ctx context.Context, _ proto.Message) (proto.Message, error) {
		md, _ := metadata.FromIncomingContext(ctx)
		if !slices.Equal(md.Get("authorization"), []string{"Bearer t0ken"}) {
			return nil, status.Error(codes.Unauthenticated, "who are you?")
		}
		return emptyAnswer("/gaugebook.v1.ShopService/GetShop"), nil
	}
	if w := ask(t, h, http.MethodGet, "/v1/shops/north", ""); w.Code != http.StatusUnauthorized {
		t.Errorf("without token HTTP %d", w.Code)
	}
	if w := ask(t, h, http.MethodGet, "/v1/shops/north", "", "Authorization", "Bearer t0ken"); w.Code != http.StatusOK {
		t.Errorf("with token HTTP %d", w.Code)
	}
}
