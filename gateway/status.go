package gateway

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/grpc-ecosystem/grpc-gateway/v2/runtime"
	"google.golang.org/genproto/googleapis/rpc/errdetails" // links every type of detail
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/protoadapt"
	"google.golang.org/protobuf/types/known/anypb"

	"gaugebook.dev/gateway/strictjson"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

// domain is the ErrorInfo.domain of the contract.
const domain = "gaugebook"

// callFailed answers a call that the gRPC side has refused.
func callFailed(ctx context.Context, _ *runtime.ServeMux, _ runtime.Marshaler, w http.ResponseWriter, _ *http.Request, err error) {
	if sent, ok := runtime.ServerMetadataFromContext(ctx); ok {
		for key, values := range sent.HeaderMD {
			if header, ok := toHeader(key); ok {
				w.Header()[header] = values
			}
		}
	}
	refuse(w, withoutInside(status.Convert(err)).Err())
}

// withoutInside replaces the words of a failure that the server did not refuse
// in the contract's way: they may tell of addresses and other things inside.
func withoutInside(st *status.Status) *status.Status {
	for _, detail := range st.Details() {
		if info, ok := detail.(*errdetails.ErrorInfo); ok && info.GetDomain() == domain {
			return st
		}
	}
	p := st.Proto()
	switch st.Code() {
	case codes.Unavailable:
		p.Message = "the service cannot be reached"
	case codes.Unknown, codes.Internal, codes.DataLoss:
		p.Message = "the call failed inside the service"
	}
	return status.FromProto(p)
}

// httpCodes are of reasons that HTTP has a code of its own for, where that of the status
// would say something else: 429 bids a caller to slow down.
var httpCodes = map[string]int{
	reason(pb.ErrorReason_ERROR_REASON_TOO_LARGE):        http.StatusRequestEntityTooLarge,
	reason(pb.ErrorReason_ERROR_REASON_DISK_NEARLY_FULL): http.StatusInsufficientStorage, // RFC 4918, section 11.5
}

// refuse answers with the status of err as JSON, under the HTTP code that err
// asks for or, if it asks for none, that goes with its code.
func refuse(w http.ResponseWriter, err error) {
	var asked *runtime.HTTPStatusError
	if errors.As(err, &asked) {
		err = asked.Err
	}
	st := status.Convert(err)
	code := runtime.HTTPStatusFromCode(st.Code())
	h := w.Header()
	for _, detail := range st.Details() {
		switch detail := detail.(type) {
		case *errdetails.ErrorInfo:
			if own, ok := httpCodes[detail.GetReason()]; ok && detail.GetDomain() == domain {
				code = own
			}
		case *errdetails.RetryInfo:
			wait := detail.GetRetryDelay().AsDuration() // whole seconds, RFC 9110, section 10.2.3
			h.Set("Retry-After", strconv.FormatInt(int64((wait+time.Second-1)/time.Second), 10))
		}
	}
	if asked != nil {
		code = asked.HTTPStatus
	}
	if st.Code() == codes.Unauthenticated {
		h.Set("WWW-Authenticate", "Bearer")
	}
	h.Set("Content-Type", "application/json")
	w.WriteHeader(code)
	_, _ = w.Write(statusJSON(st)) //nolint:gosec // JSON with nosniff; and where writing fails there is nobody to tell
}

// statusJSON writes a status as JSON. A detail of a type that is not linked in
// cannot be written and is left out: with it the whole answer would be lost.
func statusJSON(st *status.Status) []byte {
	p := st.Proto()
	p.Details = slices.DeleteFunc(p.GetDetails(), func(detail *anypb.Any) bool {
		_, err := detail.UnmarshalNew()
		return err != nil
	})
	text, err := protojson.Marshal(p)
	if err != nil { // not UTF-8: nothing else can be wrong with what was just read
		text = fmt.Appendf(nil, `{"code":%d}`, p.GetCode())
	}
	return text
}

// reason is the ErrorInfo.reason of a value of the contract.
func reason(r pb.ErrorReason) string {
	return strings.TrimPrefix(r.String(), "ERROR_REASON_")
}

// failure makes a status of the contract's kind.
func failure(code codes.Code, why pb.ErrorReason, facts map[string]string, message string, details ...protoadapt.MessageV1) error {
	info := &errdetails.ErrorInfo{Reason: reason(why), Domain: domain, Metadata: facts}
	st, err := status.New(code, message).WithDetails(append([]protoadapt.MessageV1{info}, details...)...)
	if err != nil {
		return status.Error(code, message)
	}
	return st.Err()
}

// invalid makes one refusal of all problems of a request; there is at least one.
func invalid(problems []strictjson.Problem) error {
	bad := &errdetails.BadRequest{}
	for _, p := range problems {
		field := p.Path
		p.Path = ""
		bad.FieldViolations = append(bad.FieldViolations, &errdetails.BadRequest_FieldViolation{Field: field, Description: p.String()})
	}
	message := problems[0].String()
	if more := len(problems) - 1; more > 0 {
		message += fmt.Sprintf(" (and %d more)", more)
	}
	return failure(codes.InvalidArgument, pb.ErrorReason_ERROR_REASON_FIELD_INVALID, nil, message, bad)
}

// tooLarge refuses a body for its length.
func tooLarge() error {
	return failure(codes.ResourceExhausted, pb.ErrorReason_ERROR_REASON_TOO_LARGE,
		map[string]string{"max_bytes": strconv.Itoa(MaxBodyBytes)},
		fmt.Sprintf("the body is longer than %d bytes", MaxBodyBytes))
}
