package access

import (
	"context"
	"crypto/sha256"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"

	"google.golang.org/grpc"
	"google.golang.org/grpc/metadata"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// services are all services of the contract.
func services(t *testing.T) []protoreflect.ServiceDescriptor {
	t.Helper()
	var all []protoreflect.ServiceDescriptor
	protoregistry.GlobalFiles.RangeFilesByPackage("gaugebook.v1", func(file protoreflect.FileDescriptor) bool {
		for i := range file.Services().Len() {
			all = append(all, file.Services().Get(i))
		}
		return true
	})
	if len(all) < 8 {
		t.Errorf("only %d services: %v", len(all), all)
	}
	return all
}

func methods(t *testing.T) map[string]protoreflect.MethodDescriptor {
	t.Helper()
	all := map[string]protoreflect.MethodDescriptor{}
	for _, s := range services(t) {
		for i := range s.Methods().Len() {
			m := s.Methods().Get(i)
			all["/"+string(s.FullName())+"/"+string(m.Name())] = m
		}
	}
	return all
}

// Calls of gRPC's own services that the server registers too.
var ofGRPC = []string{
	"/grpc.health.v1.Health/Check", "/grpc.health.v1.Health/List", "/grpc.health.v1.Health/Watch",
	"/grpc.reflection.v1.ServerReflection/ServerReflectionInfo", "/grpc.reflection.v1alpha.ServerReflection/ServerReflectionInfo",
}

func TestEveryCallHasARowAndEveryRowACall(t *testing.T) {
	all := methods(t)
	for name := range all {
		if !slices.Contains(Calls(), name) {
			t.Errorf("%s has no row: nobody may make it", name)
		}
	}
	for _, name := range Calls() {
		if all[name] == nil && !slices.Contains(ofGRPC, name) {
			t.Errorf("there is no call %s", name)
		}
		roles := table[name]
		if len(roles) == 0 || slices.Contains(roles, anyone) && len(roles) > 1 {
			t.Errorf("%s: %v", name, roles)
		}
	}
}

// noShop are the calls that need no shop: they keep nothing and tell nothing of one.
func noShop(m protoreflect.MethodDescriptor) bool {
	return m.Parent().Name() == "CalculatorService" || m.Name() == "GetServer"
}

func TestEveryRequestOfAShopHasItAsFieldOne(t *testing.T) {
	for name, m := range methods(t) {
		fd := m.Input().Fields().ByNumber(1)
		has := fd != nil && fd.Name() == "shop_id" && fd.Kind() == protoreflect.StringKind && fd.Cardinality() != protoreflect.Repeated
		if has == noShop(m) {
			t.Errorf("%s: shop_id is field 1: %v", name, has)
		}
		if anyones := slices.Contains(table[name], anyone); anyones != noShop(m) {
			t.Errorf("%s: anyone may make it: %v", name, anyones)
		}
		if m.IsStreamingClient() {
			t.Errorf("%s: a stream has no request to read the shop from", name)
		}
	}
}

func TestShopOf(t *testing.T) {
	for _, row := range []struct {
		req  any
		shop string
	}{
		{&pb.GetShopRequest{ShopId: "north"}, "north"},
		{&pb.GetShopRequest{}, ""},
		{(*pb.GetShopRequest)(nil), ""},
		{&pb.GetServerRequest{}, ""},
		{&pb.Shop{Id: "north"}, ""},
		{nil, ""},
		{"north", ""},
	} {
		if shop, ok := ShopOf(row.req); shop != row.shop || ok != (row.shop != "") {
			t.Errorf("%v: %q, %v", row.req, shop, ok)
		}
	}
}

const (
	benchToken   = "bench-token-for-tests"
	counterToken = "counter-token-for-tests"
)

func guard() *Guard {
	return NewGuard(
		NewKey(benchToken, "bench phone", Bench, "north", "south"),
		NewKey(counterToken, "front counter", Counter, "north"),
	)
}

// try makes a call and gives who the handler saw.
func try(call string, req any, authorization ...string) (Caller, error) {
	md := metadata.MD{}
	md.Append("authorization", authorization...)
	var seen Caller
	_, err := guard().Unary(metadata.NewIncomingContext(context.Background(), md), req, &grpc.UnaryServerInfo{FullMethod: call},
		func(ctx context.Context, _ any) (any, error) { seen = CallerOf(ctx); return nil, nil }) //nolint:nilnil // the answer does not matter
	return seen, err
}

func TestWhoIsWho(t *testing.T) {
	const getShop = pb.ShopService_GetShop_FullMethodName
	bench, counter := Caller{"bench phone", Bench}, Caller{"front counter", Counter}
	north := &pb.GetShopRequest{ShopId: "north"}
	for _, row := range []struct {
		name   string
		call   string
		req    proto.Message
		auth   []string
		caller Caller
		denied string // "" when it may be made; U or F
	}{
		{"bench", getShop, north, []string{"Bearer " + benchToken}, bench, ""},
		{"counter", getShop, north, []string{"Bearer " + counterToken}, counter, ""},
		{"a second shop", getShop, &pb.GetShopRequest{ShopId: "south"}, []string{"Bearer " + benchToken}, bench, ""},
		{"scheme in lower case", getShop, north, []string{"bearer " + benchToken}, bench, ""}, // RFC 9110, section 11.1
		{"no token", getShop, north, nil, Caller{}, "U"},
		{"empty", getShop, north, []string{""}, Caller{}, "U"},
		{"no scheme", getShop, north, []string{benchToken}, Caller{}, "U"},
		{"another scheme", getShop, north, []string{"Basic " + benchToken}, Caller{}, "U"},
		{"scheme alone", getShop, north, []string{"Bearer "}, Caller{}, "U"},
		{"two tokens", getShop, north, []string{"Bearer " + benchToken, "Bearer " + benchToken}, Caller{}, "U"},
		{"unknown token", getShop, north, []string{"Bearer " + benchToken + "x"}, Caller{}, "U"},
		{"part of a token", getShop, north, []string{"Bearer " + benchToken[:8]}, Caller{}, "U"},
		{"the hash of a token", getShop, north, []string{fmt.Sprintf("Bearer %x", sha256.Sum256([]byte(benchToken)))}, Caller{}, "U"},
		{"other shop", getShop, &pb.GetShopRequest{ShopId: "south"}, []string{"Bearer " + counterToken}, Caller{}, "F"},
		{"no shop", getShop, &pb.GetShopRequest{}, []string{"Bearer " + benchToken}, Caller{}, "F"},
		{"shop in capitals", getShop, &pb.GetShopRequest{ShopId: "North"}, []string{"Bearer " + benchToken}, Caller{}, "F"},
		{"not its role", pb.CounterService_PullChanges_FullMethodName, &pb.PullChangesRequest{ShopId: "north"}, []string{"Bearer " + benchToken}, Caller{}, "F"},
		{"unknown call", "/gaugebook.v1.ShopService/CloseShop", north, []string{"Bearer " + benchToken}, Caller{}, "F"},
		{"another package", "/gaugebook.v2.ShopService/GetShop", north, []string{"Bearer " + benchToken}, Caller{}, "F"},
		{"open call", pb.ShopService_GetServer_FullMethodName, &pb.GetServerRequest{}, nil, Caller{}, ""},
		{"open call, unknown token", pb.ShopService_GetServer_FullMethodName, &pb.GetServerRequest{}, []string{"Bearer x"}, Caller{}, ""},
	} {
		caller, err := try(row.call, row.req, row.auth...)
		var d *Denied
		switch {
		case row.denied == "" && (err != nil || caller != row.caller):
			t.Errorf("%s: %v, %v", row.name, caller, err)
		case row.denied != "" && (!errors.As(err, &d) || d.Unauthenticated != (row.denied == "U")):
			t.Errorf("%s: %v", row.name, err)
		case err != nil && (strings.Contains(err.Error(), "token-for") || strings.Contains(err.Error(), "south")):
			t.Errorf("%s: says too much: %v", row.name, err)
		}
	}
}

// A key forgets its token: what is printed of it tells nothing.
func TestKeysHoldNoToken(t *testing.T) {
	for _, verb := range []string{"%v", "%+v", "%#v", "%s", "%q"} {
		if s := fmt.Sprintf(verb, guard().keys); strings.Contains(s, benchToken) || strings.Contains(s, counterToken) {
			t.Errorf("%s shows a token", verb)
		}
	}
}

// stream gives one request.
type stream struct {
	grpc.ServerStream
	ctx context.Context
	req proto.Message
}

func (s stream) Context() context.Context { return s.ctx }

func (s stream) RecvMsg(m any) error {
	proto.Merge(m.(proto.Message), s.req)
	return nil
}

func TestStreams(t *testing.T) {
	const follow, watch = pb.CounterService_FollowChanges_FullMethodName, "/grpc.health.v1.Health/Watch"
	for name, row := range map[string]struct {
		call, token, shop string
		begins, reads     bool
	}{
		"health, which has no shop":   {watch, "", "", true, true},
		"a call that is on no list":   {"/grpc.channelz.v1.Channelz/GetServers", counterToken, "north", false, false},
		"the counter in its shop":     {follow, counterToken, "north", true, true},
		"the counter in another shop": {follow, counterToken, "south", true, false},
		"the counter in no shop":      {follow, counterToken, "", true, false},
		"the bench":                   {follow, benchToken, "north", false, false},
		"nobody":                      {follow, "", "north", false, false},
	} {
		md := metadata.MD{}
		if row.token != "" {
			md.Append("authorization", "Bearer "+row.token)
		}
		in := stream{ctx: metadata.NewIncomingContext(t.Context(), md), req: &pb.FollowChangesRequest{ShopId: row.shop}}
		begun, caller := false, Caller{}
		err := guard().Stream(nil, in, &grpc.StreamServerInfo{FullMethod: row.call}, func(_ any, ss grpc.ServerStream) error {
			begun, caller = true, CallerOf(ss.Context())
			return ss.RecvMsg(&pb.FollowChangesRequest{})
		})
		if begun != row.begins || (err == nil) != row.reads {
			t.Errorf("%s: begun %v: %v", name, begun, err)
		}
		var denied *Denied
		if err != nil && !errors.As(err, &denied) {
			t.Errorf("%s: %v", name, err)
		}
		if known := caller != (Caller{}); known != (row.begins && row.call == follow) {
			t.Errorf("%s: the handler knows %v", name, caller)
		}
	}
}

func TestNoCallerWithoutAGuard(t *testing.T) {
	if c := CallerOf(t.Context()); c != (Caller{}) {
		t.Errorf("%v", c)
	}
}
