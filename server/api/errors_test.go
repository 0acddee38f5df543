package api

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/status"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/history"
	"gaugebook.dev/server/history/memory"
)

// breaking is a store whose commits fail.
type breaking struct {
	history.Store
	err error
}

func (b *breaking) Commit(ctx context.Context, d history.Draft) (history.Number, error) {
	if b.err != nil {
		return 0, b.err
	}
	return b.Store.Commit(ctx, d)
}

func (b *breaking) CommitAll(ctx context.Context, drafts []history.Draft) []history.Committed {
	if b.err == nil {
		return b.Store.CommitAll(ctx, drafts)
	}
	return slices.Repeat([]history.Committed{{Err: b.err}}, len(drafts))
}

// produced makes every reason that is given today, each through a real call.
var produced = map[pb.ErrorReason]func(t *testing.T, h *house) error{
	pb.ErrorReason_ERROR_REASON_FIELD_INVALID: func(_ *testing.T, h *house) error {
		return h.record(&pb.Inspection{})
	},
	pb.ErrorReason_ERROR_REASON_ID_TAKEN: func(_ *testing.T, h *house) error {
		v := car()
		in := visit(v)
		h.keep(v, in)
		in.DoneBy = "another"
		return h.record(in)
	},
	pb.ErrorReason_ERROR_REASON_NOT_FOUND: func(_ *testing.T, h *house) error {
		_, err := pb.NewInspectionServiceClient(h.conn).GetInspection(h.bench(), &pb.GetInspectionRequest{ShopId: shop, InspectionId: newID()})
		return err
	},
	pb.ErrorReason_ERROR_REASON_NOT_YET: func(_ *testing.T, h *house) error { return h.record(visit(car())) },
	pb.ErrorReason_ERROR_REASON_ALREADY_CORRECTED: func(_ *testing.T, h *house) error {
		v := car()
		old := visit(v)
		corrects := func() *pb.Inspection {
			in := visit(v)
			in.Corrects = &pb.Correction{InspectionId: old.GetId(), Reason: "invented"}
			return in
		}
		h.keep(v, old, corrects())
		return h.record(corrects())
	},
	pb.ErrorReason_ERROR_REASON_REVISION_STALE: func(_ *testing.T, h *house) error {
		shops := pb.NewShopServiceClient(h.conn)
		if _, err := shops.UpdateShop(h.counter(), &pb.UpdateShopRequest{ShopId: shop, Shop: &pb.Shop{Language: "en"}}); err != nil {
			return err
		}
		_, err := shops.UpdateShop(h.counter(), &pb.UpdateShopRequest{ShopId: shop, Shop: &pb.Shop{Language: "de"}})
		return err
	},
	pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH: func(t *testing.T, h *house) error {
		other := inMemory(t)
		out, err := pb.NewCounterServiceClient(other.conn).PullChanges(other.counter(), &pb.PullChangesRequest{ShopId: shop})
		if err != nil {
			t.Fatal(err)
		}
		return h.pull(out.GetResumeToken())
	},
	pb.ErrorReason_ERROR_REASON_TOKEN_TRIMMED: func(t *testing.T, h *house) error {
		h.keep(car())
		if err := h.store.Trim(t.Context(), shop, 1, nil); err != nil {
			t.Fatal(err)
		}
		return h.pull("")
	},
	pb.ErrorReason_ERROR_REASON_TOKEN_INVALID: func(_ *testing.T, h *house) error { return h.pull("x") },
	pb.ErrorReason_ERROR_REASON_RULEBOOK_UNKNOWN: func(_ *testing.T, h *house) error {
		_, err := pb.NewShopServiceClient(h.conn).GetRulebook(h.bench(), &pb.GetRulebookRequest{ShopId: shop, RulebookId: "us-lite"})
		return err
	},
	pb.ErrorReason_ERROR_REASON_TOO_LARGE: func(_ *testing.T, h *house) error {
		v := car()
		h.keep(v)
		in := visit(v)
		for range 600 {
			in.Wheels[0].Observations = append(in.Wheels[0].Observations, &pb.Observation{Words: strings.Repeat("x", 2000)})
		}
		return h.record(in)
	},
	pb.ErrorReason_ERROR_REASON_DISK_NEARLY_FULL: func(_ *testing.T, h *house) error {
		return h.breaks(&history.DiskNearlyFullError{Free: 12345, Needed: 67890})
	},
	pb.ErrorReason_ERROR_REASON_STORE_READ_ONLY: func(_ *testing.T, h *house) error {
		return h.breaks(&history.ReadOnlyError{Cause: errors.New("sync /secret/place")})
	},
	pb.ErrorReason_ERROR_REASON_SHUTTING_DOWN: func(_ *testing.T, h *house) error {
		_ = h.store.Close()
		return h.record(visit(car()))
	},
	pb.ErrorReason_ERROR_REASON_UNAUTHENTICATED: func(t *testing.T, h *house) error {
		_, err := pb.NewShopServiceClient(h.conn).GetShop(t.Context(), &pb.GetShopRequest{ShopId: shop})
		return err
	},
	pb.ErrorReason_ERROR_REASON_FORBIDDEN: func(_ *testing.T, h *house) error {
		_, err := pb.NewShopServiceClient(h.conn).UpdateShop(h.bench(), &pb.UpdateShopRequest{ShopId: shop})
		return err
	},
	pb.ErrorReason_ERROR_REASON_CONTENDED: func(_ *testing.T, h *house) error { return h.breaks(&history.StaleError{Key: "secret key"}) },
}

func (h *house) record(in *pb.Inspection) error {
	_, err := pb.NewInspectionServiceClient(h.conn).RecordInspection(h.bench(), &pb.RecordInspectionRequest{ShopId: shop, Inspection: in})
	return err
}

func (h *house) pull(token string) error {
	_, err := pb.NewCounterServiceClient(h.conn).PullChanges(h.counter(), &pb.PullChangesRequest{ShopId: shop, ResumeToken: token})
	return err
}

// breaks makes the next commits fail and records a vehicle.
func (h *house) breaks(err error) error {
	h.store.(*breaking).err = err
	_, err = pb.NewVehicleServiceClient(h.conn).RecordVehicle(h.bench(), &pb.RecordVehicleRequest{ShopId: shop, Vehicle: car()})
	return err
}

// comesLater are the reasons that nothing gives yet, with what will.
var comesLater = map[pb.ErrorReason]string{
	pb.ErrorReason_ERROR_REASON_RULEBOOK_LOOSER: "a shop's own rulebooks",
	pb.ErrorReason_ERROR_REASON_TOO_MANY:        "a limit on calls at once",
	pb.ErrorReason_ERROR_REASON_CALL_NOT_SERVED: "a call of a later contract",
}

// wantCode is what the comment on each reason in the contract begins with, and
// whether it says that sending the same again helps after a while.
var wantCode = map[pb.ErrorReason]struct {
	code     codes.Code
	metadata []string
	retry    bool
}{
	pb.ErrorReason_ERROR_REASON_FIELD_INVALID:     {codes.InvalidArgument, nil, false},
	pb.ErrorReason_ERROR_REASON_ID_TAKEN:          {codes.AlreadyExists, []string{"id"}, false},
	pb.ErrorReason_ERROR_REASON_NOT_FOUND:         {codes.NotFound, []string{"id"}, false},
	pb.ErrorReason_ERROR_REASON_NOT_YET:           {codes.FailedPrecondition, []string{"id"}, false},
	pb.ErrorReason_ERROR_REASON_ALREADY_CORRECTED: {codes.FailedPrecondition, []string{"by"}, false},
	pb.ErrorReason_ERROR_REASON_REVISION_STALE:    {codes.Aborted, []string{"revision"}, false},
	pb.ErrorReason_ERROR_REASON_TOKEN_OTHER_EPOCH: {codes.FailedPrecondition, []string{"why"}, false},
	pb.ErrorReason_ERROR_REASON_TOKEN_TRIMMED:     {codes.FailedPrecondition, []string{"trimmed"}, false},
	pb.ErrorReason_ERROR_REASON_TOKEN_INVALID:     {codes.InvalidArgument, nil, false},
	pb.ErrorReason_ERROR_REASON_RULEBOOK_UNKNOWN:  {codes.NotFound, []string{"id"}, false},
	pb.ErrorReason_ERROR_REASON_RULEBOOK_LOOSER:   {codes.InvalidArgument, nil, false},
	pb.ErrorReason_ERROR_REASON_TOO_LARGE:         {codes.ResourceExhausted, []string{"max_bytes"}, false},
	pb.ErrorReason_ERROR_REASON_TOO_MANY:          {codes.ResourceExhausted, nil, true},
	pb.ErrorReason_ERROR_REASON_DISK_NEARLY_FULL:  {codes.ResourceExhausted, nil, true},
	pb.ErrorReason_ERROR_REASON_STORE_READ_ONLY:   {codes.Unavailable, []string{"why"}, true},
	pb.ErrorReason_ERROR_REASON_SHUTTING_DOWN:     {codes.Unavailable, nil, true},
	pb.ErrorReason_ERROR_REASON_UNAUTHENTICATED:   {codes.Unauthenticated, nil, false},
	pb.ErrorReason_ERROR_REASON_FORBIDDEN:         {codes.PermissionDenied, nil, false},
	pb.ErrorReason_ERROR_REASON_CALL_NOT_SERVED:   {codes.Unimplemented, nil, false},
	pb.ErrorReason_ERROR_REASON_CONTENDED:         {codes.Aborted, nil, true},
}

// with are keys and one more, in order.
func with(keys []string, one string) []string {
	return slices.Sorted(slices.Values(append(slices.Clone(keys), one)))
}

func reasons() (all []pb.ErrorReason) {
	for n := range pb.ErrorReason_name {
		if n != 0 {
			all = append(all, pb.ErrorReason(n))
		}
	}
	slices.Sort(all)
	return all
}

func TestEveryReasonIsGivenAsTheContractSays(t *testing.T) {
	for _, reason := range reasons() {
		t.Run(reason.String(), func(t *testing.T) {
			want, told := wantCode[reason]
			_, wait := retryAfter[reason]
			if !told || answers[reason].code != want.code || wait != want.retry {
				t.Errorf("code %v and retry %v, want %v and %v", answers[reason].code, wait, want.code, want.retry)
			}
			produce, now := produced[reason]
			if _, later := comesLater[reason]; now == later {
				t.Fatalf("given by a call: %v, comes later: %v", now, later)
			}
			if !now {
				return
			}
			h := newHouse(t, &breaking{Store: memory.New()})
			r := read(t, produce(t, h))
			if r.reason != strings.TrimPrefix(reason.String(), "ERROR_REASON_") || r.Code() != want.code || (r.wait > 0) != want.retry {
				t.Errorf("%v %s, wait %v", r.Code(), r.reason, r.wait)
			}
			if keys := slices.Sorted(maps.Keys(r.metadata)); !slices.Equal(keys, with(want.metadata, "remedy")) {
				t.Errorf("metadata %v, want %v", r.metadata, want.metadata)
			}
			if told, waits := remedyOf(r.Status), r.wait > 0; told == pb.Remedy_REMEDY_UNSPECIFIED || waits && told != pb.Remedy_REMEDY_SEND_AGAIN {
				t.Errorf("the remedy is %v, the wait %v", told, r.wait)
			}
			for key, value := range r.metadata {
				if value == "" {
					t.Errorf("metadata %s is empty", key)
				}
			}
			if (reason == pb.ErrorReason_ERROR_REASON_FIELD_INVALID) && len(r.paths) == 0 {
				t.Error("no field is named")
			}
			if r.Message() == "" || strings.Contains(r.Message(), "secret") || strings.Contains(r.Message(), "12345") {
				t.Errorf("says %q", r.Message())
			}
		})
	}
}

// The contract's comment on each reason shows its ErrorInfo as JSON and begins
// with its code.
func TestTheContractDocumentsWhatIsGiven(t *testing.T) {
	data, err := fs.ReadFile(rootFS, "proto/gaugebook/v1/error_reason.proto")
	if err != nil {
		t.Fatal(err)
	}
	comment := regexp.MustCompile(`((?:  //[^\n]*\n)+)  (ERROR_REASON_[A-Z_]+) = `)
	found := 0
	for _, m := range comment.FindAllStringSubmatch(string(data), -1) {
		reason := pb.ErrorReason(pb.ErrorReason_value[m[2]])
		want, told := wantCode[reason]
		if !told {
			continue
		}
		found++
		said := strings.ReplaceAll(m[1], "  // ", "")
		if name := screaming(want.code); !strings.HasPrefix(said, name+".") {
			t.Errorf("%v: %s: %s", reason, name, said)
		}
		var example struct {
			Reason   string            `json:"reason"`
			Domain   string            `json:"domain"`
			Metadata map[string]string `json:"metadata"`
		}
		_, object, _ := strings.Cut(said, "{")
		if err := json.Unmarshal([]byte("{"+object), &example); err != nil {
			t.Errorf("%v: %v", reason, err)
			continue
		}
		if "ERROR_REASON_"+example.Reason != m[2] || example.Domain != Domain || !slices.Equal(slices.Sorted(maps.Keys(example.Metadata)), with(want.metadata, "remedy")) ||
			"REMEDY_"+example.Metadata["remedy"] != answers[reason].remedy.String() {
			t.Errorf("%v: the example is %v", reason, example)
		}
		if strings.Contains(said, "RetryInfo") != want.retry && reason != pb.ErrorReason_ERROR_REASON_SHUTTING_DOWN {
			t.Errorf("%v: RetryInfo: %s", reason, said)
		}
	}
	if found != len(wantCode) {
		t.Errorf("%d comments of %d reasons", found, len(wantCode))
	}
}

// screaming writes a code as gRPC's documents do.
func screaming(c codes.Code) string {
	name := regexp.MustCompile(`([a-z])([A-Z])`).ReplaceAllString(c.String(), "${1}_$2")
	return strings.ToUpper(name)
}

// Nothing in the program gives a reason that is said to come later.
func TestReasonsThatComeLaterAreGivenNowhere(t *testing.T) {
	given := map[string]string{}
	err := fs.WalkDir(rootFS, ".", func(path string, e fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		if e.IsDir() && strings.HasPrefix(path, ".") && path != "." {
			return fs.SkipDir
		}
		if !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") || strings.HasSuffix(path, ".pb.go") {
			return nil
		}
		source, err := fs.ReadFile(rootFS, path)
		if err != nil {
			return err
		}
		file, err := parser.ParseFile(token.NewFileSet(), path, source, 0)
		if err != nil {
			return err
		}
		keys := map[ast.Node]bool{} // rows of tables give nothing
		ast.Inspect(file, func(n ast.Node) bool {
			if kv, ok := n.(*ast.KeyValueExpr); ok {
				keys[kv.Key] = true
			}
			if s, ok := n.(*ast.SelectorExpr); ok && !keys[n] && strings.HasPrefix(s.Sel.Name, "ErrorReason_ERROR_REASON_") {
				given[strings.TrimPrefix(s.Sel.Name, "ErrorReason_")] = path
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	for _, reason := range reasons() {
		where, seen := given[reason.String()]
		if _, later := comesLater[reason]; seen == later {
			t.Errorf("%v: given in %q, comes later: %v", reason, where, later)
		}
	}
}

func TestUnknownErrorsTellNothing(t *testing.T) {
	leak := errors.New("open /secret/place: no such file")
	for _, row := range []struct {
		name string
		err  error
		code codes.Code
	}{
		{"unknown", leak, codes.Internal},
		{"wrapped", fmt.Errorf("read: %w", leak), codes.Internal},
		{"status unknown", status.Error(codes.Unknown, "secret"), codes.Internal},
		{"status internal", fmt.Errorf("secret: %w", status.Error(codes.Internal, "secret")), codes.Internal},
		{"a mistake of ours", &history.InvalidError{Reason: "secret"}, codes.Internal},
		{"canceled", fmt.Errorf("secret: %w", context.Canceled), codes.Canceled},
		{"deadline", fmt.Errorf("secret: %w", context.DeadlineExceeded), codes.DeadlineExceeded},
		{"of gRPC's own services", status.Error(codes.NotFound, "unknown service"), codes.NotFound},
		{"read-only", fmt.Errorf("secret: %w", &history.ReadOnlyError{Cause: leak}), codes.Unavailable},
		{"closed", fmt.Errorf("secret: %w", history.ErrClosed), codes.Unavailable},
		{"stale where nobody tries again", &history.StaleError{Key: "secret"}, codes.Internal},
	} {
		t.Run(row.name, func(t *testing.T) {
			var log safeBuffer
			_, err := Errors(logTo(&log))(t.Context(), nil, &grpc.UnaryServerInfo{FullMethod: "/call"},
				func(context.Context, any) (any, error) { return nil, row.err })
			stream := StreamErrors(logTo(&log))(nil, aStream{ctx: t.Context()}, &grpc.StreamServerInfo{FullMethod: "/stream"},
				func(any, grpc.ServerStream) error { return row.err })
			for _, err := range []error{err, stream} {
				if r := read(t, err); r.Code() != row.code || strings.Contains(err.Error(), "secret") {
					t.Errorf("%v", err)
				}
			}
			for _, call := range []string{"call=/call error=", "call=/stream error="} {
				if strings.Contains(log.String(), call) != (row.code == codes.Internal) {
					t.Errorf("logged %q", log.String())
				}
			}
		})
	}
}

func TestPanicsEndTheirOwnCallOnly(t *testing.T) {
	var log safeBuffer
	_, err := Recover(logTo(&log))(t.Context(), nil, &grpc.UnaryServerInfo{FullMethod: "/call"},
		func(context.Context, any) (any, error) { panic("secret") })
	stream := StreamRecover(logTo(&log))(nil, aStream{ctx: t.Context()}, &grpc.StreamServerInfo{FullMethod: "/stream"},
		func(any, grpc.ServerStream) error { panic("secret") })
	for _, err := range []error{err, stream} {
		if r := read(t, err); r.Code() != codes.Internal || strings.Contains(r.Message(), "secret") {
			t.Errorf("%v", err)
		}
	}
	for _, want := range []string{"secret", "/call", "/stream", "errors_test.go"} {
		if !strings.Contains(log.String(), want) {
			t.Errorf("the log does not tell of %s", want)
		}
	}
	if answer, err := Recover(logTo(&log))(t.Context(), nil, &grpc.UnaryServerInfo{}, func(context.Context, any) (any, error) { return "answer", nil }); answer != "answer" || err != nil {
		t.Errorf("%v, %v", answer, err)
	}
}

func TestPathsAreWrittenInJSONNames(t *testing.T) {
	for path, want := range map[string]string{
		"inspection.id": "inspection.id", "inspection.vehicle_id": "inspection.vehicleId",
		"inspection.corrects.inspection_id": "inspection.corrects.inspectionId", "a_1": "a1", "": "",
	} {
		if got := jsonPath(path); got != want {
			t.Errorf("%s: %s", path, got)
		}
	}
}
