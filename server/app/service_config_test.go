package app_test

import (
	"context"
	"encoding/json"
	"fmt"
	"iter"
	"maps"
	"net"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/credentials/insecure"
	"google.golang.org/grpc/status"
	"google.golang.org/grpc/test/bufconn"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"
	"google.golang.org/protobuf/types/known/emptypb"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// sentOnce lists the calls that a client must not repeat by itself, each with
// why. All others are reads, calculations, or records under an id of the client's
// making, which are safe to repeat for ever.
var sentOnce = map[protoreflect.FullName]string{
	"gaugebook.v1.ShopService.UpdateShop": "repeated, it answers REVISION_STALE though it was kept",
}

// openEnded lists the calls that have no deadline, each with why.
var openEnded = map[protoreflect.FullName]string{
	"gaugebook.v1.CounterService.FollowChanges":   "it lasts as long as the counter follows",
	"gaugebook.v1.InspectionService.ReassessBook": "it lasts as long as there are visits",
}

// patience is how long a client waits where that is not as long as for most reads:
// records are synced to disk first, batches and photos are large, and a pull is
// held for up to a minute.
var patience = map[protoreflect.FullName]time.Duration{
	"gaugebook.v1.CounterService.PullChanges":         75 * time.Second,
	"gaugebook.v1.CounterService.RecordOutcome":       20 * time.Second,
	"gaugebook.v1.InspectionService.RecordInspection": 20 * time.Second,
	"gaugebook.v1.OutboxService.SendBatch":            60 * time.Second,
	"gaugebook.v1.PhotoService.GetPhoto":              60 * time.Second,
	"gaugebook.v1.PhotoService.PutPhoto":              60 * time.Second,
	"gaugebook.v1.ShopService.EraseCustomer":          20 * time.Second,
	"gaugebook.v1.TireService.MoveTires":              20 * time.Second,
	"gaugebook.v1.TireService.RecordRepair":           20 * time.Second,
	"gaugebook.v1.TireService.RecordTire":             20 * time.Second,
	"gaugebook.v1.VehicleService.MergeVehicles":       20 * time.Second,
	"gaugebook.v1.VehicleService.RecordEvent":         20 * time.Second,
	"gaugebook.v1.VehicleService.RecordVehicle":       20 * time.Second,
}

// patienceWith gives how long a client waits for the answer of a call; 0 is without end.
func patienceWith(call protoreflect.FullName) time.Duration {
	if openEnded[call] != "" {
		return 0
	}
	if told, ok := patience[call]; ok {
		return told
	}
	return 10 * time.Second
}

// methodConfig is what gRPC reads of one group of calls
// (grpc.service_config.MethodConfig).
type methodConfig struct {
	Name []struct {
		Service string `json:"service"`
		Method  string `json:"method"`
	} `json:"name"`
	Timeout      string `json:"timeout"`
	WaitForReady *bool  `json:"waitForReady"`
	RetryPolicy  *struct {
		RetryableStatusCodes []string `json:"retryableStatusCodes"`
	} `json:"retryPolicy"`
	HedgingPolicy any `json:"hedgingPolicy"`
}

// methodConfigs gives what the service config says of each call that it names.
func methodConfigs(t *testing.T) map[protoreflect.FullName]methodConfig {
	t.Helper()
	var file struct {
		MethodConfig []methodConfig `json:"methodConfig"`
	}
	if err := json.Unmarshal([]byte(serviceConfig(t)), &file); err != nil {
		t.Fatal(err)
	}
	all := map[protoreflect.FullName]methodConfig{}
	for _, config := range file.MethodConfig {
		for _, n := range config.Name {
			name := protoreflect.FullName(n.Service).Append(protoreflect.Name(n.Method))
			if _, twice := all[name]; twice {
				t.Errorf("%s stands in the service config twice", name)
			}
			all[name] = config
		}
	}
	return all
}

// serviceConfig gives the service config, but for its waits, which are cut short.
func serviceConfig(t *testing.T) string {
	t.Helper()
	text, err := os.ReadFile(root + "/proto/gaugebook/v1/service_config.json")
	if err != nil {
		t.Fatal(err)
	}
	hurried := strings.ReplaceAll(string(text), `"initialBackoff": "0.3s"`, `"initialBackoff": "0.001s"`)
	if hurried == string(text) {
		t.Fatal("no wait found to cut short")
	}
	return hurried
}

// calls gives every call of the contract.
func calls() map[protoreflect.FullName]protoreflect.MethodDescriptor {
	all := map[protoreflect.FullName]protoreflect.MethodDescriptor{}
	protoregistry.GlobalFiles.RangeFilesByPackage(pb.File_gaugebook_v1_shop_service_proto.Package(), func(f protoreflect.FileDescriptor) bool {
		for i := range f.Services().Len() {
			methods := f.Services().Get(i).Methods()
			for j := range methods.Len() {
				all[methods.Get(j).FullName()] = methods.Get(j)
			}
		}
		return true
	})
	return all
}

// Every call stands in the service config once, as told above.
func TestServiceConfigNamesEveryCall(t *testing.T) {
	all, named := calls(), methodConfigs(t)
	for name, config := range named {
		if all[name] == nil {
			t.Errorf("%s is in the service config and not in the contract", name)
		}
		if (config.RetryPolicy == nil) != (sentOnce[name] != "") {
			t.Errorf("%s: repeated %v, must be sent once: %q", name, config.RetryPolicy != nil, sentOnce[name])
		}
		want := ""
		if wait := patienceWith(name); wait != 0 {
			want = fmt.Sprintf("%gs", wait.Seconds())
		}
		if config.Timeout != want {
			t.Errorf("%s: timeout %q, want %q", name, config.Timeout, want)
		}
		if r := config.RetryPolicy; r != nil && !slices.Equal(r.RetryableStatusCodes, []string{"UNAVAILABLE"}) {
			t.Errorf("%s: repeated on %v", name, r.RetryableStatusCodes)
		}
		if config.HedgingPolicy != nil || config.WaitForReady != nil {
			t.Errorf("%s: sent several times at once, or held back until there is a connection", name)
		}
	}
	for name := range all {
		if _, ok := named[name]; !ok {
			t.Errorf("%s is not in the service config", name)
		}
	}
	for _, list := range []iter.Seq[protoreflect.FullName]{maps.Keys(sentOnce), maps.Keys(openEnded), maps.Keys(patience)} {
		for name := range list {
			if all[name] == nil {
				t.Errorf("%s is on a list and not in the contract", name)
			}
		}
	}
}

// refuser is a server that refuses every call with a code until it has refused
// often enough.
type refuser struct {
	code    codes.Code
	refuses int

	mu       sync.Mutex
	attempts int
	left     time.Duration // until the deadline, at the first attempt; 0: no deadline
}

func (r *refuser) handle(_ any, stream grpc.ServerStream) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	r.attempts++
	if deadline, ok := stream.Context().Deadline(); ok && r.attempts == 1 {
		r.left = time.Until(deadline)
	}
	if r.attempts <= r.refuses {
		return status.Error(r.code, "refused")
	}
	if err := stream.RecvMsg(&emptypb.Empty{}); err != nil {
		return err
	}
	return stream.SendMsg(&emptypb.Empty{})
}

// askOnce makes a call as a client with the service config does, and gives what
// came of it and how often the server was asked.
func askOnce(t *testing.T, call protoreflect.MethodDescriptor, r *refuser) codes.Code {
	t.Helper()
	listener := bufconn.Listen(1 << 16)
	server := grpc.NewServer(grpc.UnknownServiceHandler(r.handle))
	go func() { _ = server.Serve(listener) }()
	defer server.Stop()
	conn, err := grpc.NewClient("passthrough:", grpc.WithDefaultServiceConfig(serviceConfig(t)),
		grpc.WithTransportCredentials(insecure.NewCredentials()),
		grpc.WithContextDialer(func(context.Context, string) (net.Conn, error) { return listener.Dial() }))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = conn.Close() }()
	method := "/" + string(call.Parent().FullName()) + "/" + string(call.Name())
	if !call.IsStreamingClient() && !call.IsStreamingServer() {
		return status.Code(conn.Invoke(t.Context(), method, &emptypb.Empty{}, &emptypb.Empty{}))
	}
	ctx, cancel := context.WithCancel(t.Context())
	defer cancel()
	stream, err := conn.NewStream(ctx, &grpc.StreamDesc{ServerStreams: call.IsStreamingServer(), ClientStreams: call.IsStreamingClient()}, method)
	if err != nil {
		return status.Code(err)
	}
	// An error of sending says only that the stream has ended; receiving says why.
	_ = stream.SendMsg(&emptypb.Empty{})
	_ = stream.CloseSend()
	return status.Code(stream.RecvMsg(&emptypb.Empty{}))
}

// A server that is away twice and then comes back is asked again, but for calls
// that must be sent once; the deadline is the one of the service config.
func TestServiceConfigRepeatsWhatMayBeRepeated(t *testing.T) {
	for name, call := range calls() {
		t.Run(string(name), func(t *testing.T) {
			r := &refuser{code: codes.Unavailable, refuses: 2}
			code := askOnce(t, call, r)
			want, attempts := codes.OK, 3
			if sentOnce[name] != "" {
				want, attempts = codes.Unavailable, 1
			}
			if code != want || r.attempts != attempts {
				t.Errorf("%v after %d attempts, want %v after %d", code, r.attempts, want, attempts)
			}
			timeout := patienceWith(name)
			if r.left > timeout || r.left < timeout/2 {
				t.Errorf("the server sees %v until the deadline, want %v", r.left, timeout)
			}
		})
	}
}

// No other refusal is answered by asking again: the same request would be wrong,
// late or too much once more.
func TestServiceConfigRepeatsNothingElse(t *testing.T) {
	for name, call := range calls() {
		t.Run(string(name), func(t *testing.T) {
			for code := codes.Canceled; code <= codes.Unauthenticated; code++ {
				if code == codes.Unavailable {
					continue
				}
				r := &refuser{code: code, refuses: 10}
				if got := askOnce(t, call, r); got != code || r.attempts != 1 {
					t.Errorf("%v after %d attempts, want %v after 1", got, r.attempts, code)
				}
			}
		})
	}
}
