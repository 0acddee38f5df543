// Package api answers the contract's calls: each checks, hands the command to
// the book or the judgement, and answers. Errors become statuses in one place.
package api

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"maps"
	"runtime/debug"
	"strconv"
	"strings"
	"time"

	"google.golang.org/genproto/googleapis/rpc/errdetails"
	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"
	"google.golang.org/protobuf/protoadapt"
	"google.golang.org/protobuf/types/known/durationpb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/access"
	"gaugebook.dev/server/book"
	"gaugebook.dev/server/check"
	"gaugebook.dev/server/history"
)

// Domain of every ErrorInfo.
const Domain = "gaugebook"

// answers are the status code of each reason, and what to do about it. What waits on a
// phone is kept there and sent again until a server takes it that could not write.
var answers = map[pb.ErrorReason]struct {
	code   codes.Code
	remedy pb.Remedy
}{
	pb.ErrorReason_ERROR_REASON_FIELD_INVALID:     {codes.InvalidArgument, mend},
	pb.ErrorReason_ERROR_REASON_ID_TAKEN:          {codes.AlreadyExists, mend},
	pb.ErrorReason_ERROR_REASON_NOT_FOUND:         {codes.NotFound, mend},
	pb.ErrorReason_ERROR_REASON_NOT_YET:           {codes.FailedPrecondition, again},
	pb.ErrorReason_ERROR_REASON_ALREADY_CORRECTED: {codes.FailedPrecondition, mend},
	pb.ErrorReason_ERROR_REASON_REVISION_STALE:    {codes.Aborted, mend},
	pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH: {codes.FailedPrecondition, mend},
	pb.ErrorReason_ERROR_REASON_TOKEN_INVALID:     {codes.InvalidArgument, mend},
	pb.ErrorReason_ERROR_REASON_TOKEN_TRIMMED:     {codes.FailedPrecondition, mend},
	pb.ErrorReason_ERROR_REASON_RULEBOOK_UNKNOWN:  {codes.NotFound, mend},
	pb.ErrorReason_ERROR_REASON_RULEBOOK_LOOSER:   {codes.InvalidArgument, mend},
	pb.ErrorReason_ERROR_REASON_TOO_LARGE:         {codes.ResourceExhausted, mend},
	pb.ErrorReason_ERROR_REASON_TOO_MANY:          {codes.ResourceExhausted, again},
	pb.ErrorReason_ERROR_REASON_DISK_NEARLY_FULL:  {codes.ResourceExhausted, again},
	pb.ErrorReason_ERROR_REASON_STORE_READ_ONLY:   {codes.Unavailable, again},
	pb.ErrorReason_ERROR_REASON_SHUTTING_DOWN:     {codes.Unavailable, again},
	pb.ErrorReason_ERROR_REASON_UNAUTHENTICATED:   {codes.Unauthenticated, ask},
	pb.ErrorReason_ERROR_REASON_FORBIDDEN:         {codes.PermissionDenied, ask},
	pb.ErrorReason_ERROR_REASON_CALL_NOT_SERVED:   {codes.Unimplemented, ask},
	pb.ErrorReason_ERROR_REASON_CONTENDED:         {codes.Aborted, again},
}

const (
	again = pb.Remedy_REMEDY_SEND_AGAIN
	mend  = pb.Remedy_REMEDY_MEND_FIRST
	ask   = pb.Remedy_REMEDY_ASK_A_PERSON
)

// retryAfter is when sending the same again may help; reasons without a row are
// not mended by waiting.
var retryAfter = map[pb.ErrorReason]time.Duration{
	pb.ErrorReason_ERROR_REASON_TOO_MANY:         time.Second,
	pb.ErrorReason_ERROR_REASON_CONTENDED:        50 * time.Millisecond,
	pb.ErrorReason_ERROR_REASON_SHUTTING_DOWN:    time.Second,
	pb.ErrorReason_ERROR_REASON_DISK_NEARLY_FULL: 5 * time.Minute, // a person makes room
	pb.ErrorReason_ERROR_REASON_STORE_READ_ONLY:  time.Minute,     // a person mends it
}

// remedyOf is what to do about a status, as the contract says also of one without a reason.
func remedyOf(st *status.Status) pb.Remedy {
	for _, detail := range st.Details() {
		if info, ok := detail.(*errdetails.ErrorInfo); ok && info.GetDomain() == Domain {
			return pb.Remedy(pb.Remedy_value["REMEDY_"+info.GetMetadata()["remedy"]])
		}
	}
	switch st.Code() {
	case codes.Unavailable, codes.DeadlineExceeded, codes.Canceled:
		return pb.Remedy_REMEDY_SEND_AGAIN
	}
	return pb.Remedy_REMEDY_ASK_A_PERSON
}

// invalid is a request that cannot be carried out, with every problem.
type invalid struct{ problems []check.Problem }

func (e *invalid) Error() string {
	return fmt.Sprintf("the request cannot be carried out: %d problem(s), the first: %s", len(e.problems), e.problems[0])
}

// Errors is the interceptor that maps every error once. What a caller cannot
// understand is logged and answered as internal, without its text.
func Errors(log *slog.Logger) grpc.UnaryServerInterceptor {
	return func(ctx context.Context, req any, info *grpc.UnaryServerInfo, handler grpc.UnaryHandler) (any, error) {
		answer, err := handler(ctx, req)
		if err == nil {
			return answer, nil
		}
		st := statusOf(err)
		if st.Code() == codes.Internal {
			log.ErrorContext(ctx, "call failed", "call", info.FullMethod, "error", err)
		}
		return nil, st.Err()
	}
}

// statusOf is the one place where errors become statuses.
func statusOf(err error) *status.Status {
	var (
		bad      *invalid
		mismatch *book.Mismatch
		refusal  *book.Refusal
		denied   *access.Denied
		readOnly *history.ReadOnlyError
		cannot   *history.UnwritableError
		full     *history.DiskNearlyFullError
		large    *history.TooLargeError
	)
	switch {
	case errors.As(err, &bad):
		return withReason(pb.ErrorReason_ERROR_REASON_FIELD_INVALID, bad.Error(), nil, violations(bad.problems))
	case errors.As(err, &mismatch):
		return statusOf(&invalid{mismatch.Problems})
	case errors.As(err, &refusal):
		var fields *errdetails.BadRequest
		if refusal.Field != "" {
			fields = &errdetails.BadRequest{FieldViolations: []*errdetails.BadRequest_FieldViolation{{Field: jsonPath(refusal.Field), Description: refusal.Message}}}
		}
		return withReason(refusal.Reason, refusal.Message, refusal.Metadata, fields)
	case errors.As(err, &denied) && denied.Unauthenticated:
		return withReason(pb.ErrorReason_ERROR_REASON_UNAUTHENTICATED, denied.Message, nil, nil)
	case errors.As(err, &denied):
		return withReason(pb.ErrorReason_ERROR_REASON_FORBIDDEN, denied.Message, nil, nil)
	case errors.Is(err, history.ErrClosed):
		return withReason(pb.ErrorReason_ERROR_REASON_SHUTTING_DOWN, "the server is going down; send it again", nil, nil)
	case errors.As(err, &readOnly) && errors.Is(err, history.ErrDamaged):
		return withReason(pb.ErrorReason_ERROR_REASON_STORE_READ_ONLY, "the book was found damaged: nothing is written until that is mended", map[string]string{"why": "DAMAGED"}, nil)
	case errors.As(err, &readOnly):
		return withReason(pb.ErrorReason_ERROR_REASON_STORE_READ_ONLY, "a write to disk failed: nothing is written until the server is restarted", map[string]string{"why": "WRITE_FAILED"}, nil)
	case errors.As(err, &cannot):
		return withReason(pb.ErrorReason_ERROR_REASON_STORE_READ_ONLY, "the folder of the book cannot be written: nothing is written until that is mended", map[string]string{"why": "FOLDER"}, nil)
	case errors.As(err, &full):
		return withReason(pb.ErrorReason_ERROR_REASON_DISK_NEARLY_FULL, "the disk is nearly full: nothing is written", nil, nil)
	case errors.As(err, &large):
		return withReason(pb.ErrorReason_ERROR_REASON_TOO_LARGE, large.Error(), map[string]string{"max_bytes": strconv.Itoa(large.Limit)}, nil)
	case errors.Is(err, context.Canceled):
		return status.New(codes.Canceled, "the call was canceled")
	case errors.Is(err, context.DeadlineExceeded):
		return status.New(codes.DeadlineExceeded, "the deadline passed")
	}
	// Of gRPC's own services, such as health. What they cannot explain either may
	// tell of things inside.
	if st, ok := status.FromError(err); ok && st.Code() != codes.Unknown && st.Code() != codes.Internal {
		return st
	}
	return status.New(codes.Internal, inLog)
}

// inLog is all that a caller is told of what only the server's log can explain.
const inLog = "something went wrong here; it is in the server's log"

func withReason(r pb.ErrorReason, message string, metadata map[string]string, fields *errdetails.BadRequest) *status.Status {
	metadata = maps.Clone(metadata)
	if metadata == nil {
		metadata = map[string]string{}
	}
	metadata["remedy"] = strings.TrimPrefix(answers[r].remedy.String(), "REMEDY_")
	details := []protoadapt.MessageV1{protoadapt.MessageV1Of(&errdetails.ErrorInfo{
		Reason: strings.TrimPrefix(r.String(), "ERROR_REASON_"), Domain: Domain, Metadata: metadata,
	})}
	if fields != nil {
		details = append(details, protoadapt.MessageV1Of(fields))
	}
	if wait, ok := retryAfter[r]; ok {
		details = append(details, protoadapt.MessageV1Of(&errdetails.RetryInfo{RetryDelay: durationpb.New(wait)}))
	}
	st := status.New(answers[r].code, message)
	if full, err := st.WithDetails(details...); err == nil {
		return full
	}
	return st
}

func violations(problems []check.Problem) *errdetails.BadRequest {
	out := &errdetails.BadRequest{}
	for _, p := range problems {
		out.FieldViolations = append(out.FieldViolations, &errdetails.BadRequest_FieldViolation{
			Field: p.Path, Description: strings.TrimPrefix(p.String(), p.Path+": "),
		})
	}
	return out
}

// StreamErrors is Errors for streams.
func StreamErrors(log *slog.Logger) grpc.StreamServerInterceptor {
	return func(srv any, ss grpc.ServerStream, info *grpc.StreamServerInfo, handler grpc.StreamHandler) error {
		err := handler(srv, ss)
		if err == nil {
			return nil
		}
		st := statusOf(err)
		if st.Code() == codes.Internal {
			log.ErrorContext(ss.Context(), "call failed", "call", info.FullMethod, "error", err)
		}
		return st.Err()
	}
}

// Recover turns a panic of one call into an internal error of that call.
func Recover(log *slog.Logger) grpc.UnaryServerInterceptor {
	return func(ctx context.Context, req any, info *grpc.UnaryServerInfo, handler grpc.UnaryHandler) (answer any, err error) {
		defer func() {
			if p := recover(); p != nil {
				answer, err = nil, panicked(ctx, log, info.FullMethod, p)
			}
		}()
		return handler(ctx, req)
	}
}

// StreamRecover is Recover for streams.
func StreamRecover(log *slog.Logger) grpc.StreamServerInterceptor {
	return func(srv any, ss grpc.ServerStream, info *grpc.StreamServerInfo, handler grpc.StreamHandler) (err error) {
		defer func() {
			if p := recover(); p != nil {
				err = panicked(ss.Context(), log, info.FullMethod, p)
			}
		}()
		return handler(srv, ss)
	}
}

func panicked(ctx context.Context, log *slog.Logger, call string, p any) error {
	log.ErrorContext(ctx, "call panicked", "call", call, "panic", p, "stack", string(debug.Stack()))
	return status.Error(codes.Internal, inLog)
}
