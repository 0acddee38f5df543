package api

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"google.golang.org/grpc"
	"google.golang.org/grpc/codes"
	"google.golang.org/grpc/metadata"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/access"
)

// may says who may make each call of the contract: b the bench, c the counter, a
// anyone.
var may = map[string]string{
	pb.InspectionService_RecordInspection_FullMethodName:   "b",
	pb.InspectionService_GetInspection_FullMethodName:      "bc",
	pb.InspectionService_ListInspections_FullMethodName:    "bc",
	pb.InspectionService_ReassessInspection_FullMethodName: "bc",
	pb.VehicleService_RecordVehicle_FullMethodName:         "bc",
	pb.VehicleService_GetVehicle_FullMethodName:            "bc",
	pb.VehicleService_ListVehicles_FullMethodName:          "bc",
	pb.VehicleService_MergeVehicles_FullMethodName:         "bc",
	pb.TireService_RecordTire_FullMethodName:               "b",
	pb.TireService_GetTire_FullMethodName:                  "bc",
	pb.TireService_ListTireHistory_FullMethodName:          "bc",
	pb.TireService_MoveTires_FullMethodName:                "b",
	pb.TireService_RecordRepair_FullMethodName:             "b",
	pb.OutboxService_SendBatch_FullMethodName:              "b",
	pb.PhotoService_PutPhoto_FullMethodName:                "b",
	pb.PhotoService_GetPhoto_FullMethodName:                "bc",
	pb.CounterService_PullChanges_FullMethodName:           "c",
	pb.CounterService_FollowChanges_FullMethodName:         "c",
	pb.InspectionService_ReassessBook_FullMethodName:       "c",
	pb.CounterService_ListOpenFindings_FullMethodName:      "bc",
	pb.CounterService_RecordOutcome_FullMethodName:         "bc",
	pb.VehicleService_RecordEvent_FullMethodName:           "bc",
	pb.VehicleService_ListWheelsOff_FullMethodName:         "bc",
	pb.CalculatorService_AssessVisit_FullMethodName:        "a",
	pb.CalculatorService_AssessTread_FullMethodName:        "a",
	pb.CalculatorService_CalculatePressure_FullMethodName:  "a",
	pb.CalculatorService_AssessRepair_FullMethodName:       "a",
	pb.CalculatorService_ReadSidewall_FullMethodName:       "a",
	pb.CalculatorService_CheckFitment_FullMethodName:       "a",
	pb.CalculatorService_EstimateLife_FullMethodName:       "a",
	pb.CalculatorService_PlanRotation_FullMethodName:       "a",
	pb.ShopService_GetShop_FullMethodName:                  "bc",
	pb.ShopService_UpdateShop_FullMethodName:               "c",
	pb.ShopService_ListComingDue_FullMethodName:            "c",
	pb.ShopService_EraseCustomer_FullMethodName:            "c",
	pb.ShopService_ListRulebooks_FullMethodName:            "bc",
	pb.ShopService_GetRulebook_FullMethodName:              "bc",
	pb.ShopService_ListKinds_FullMethodName:                "bc",
	pb.ShopService_GetServer_FullMethodName:                "a",
}

// contract are the calls of the contract, by name.
func contract(t *testing.T) map[string]protoreflect.MethodDescriptor {
	t.Helper()
	all := map[string]protoreflect.MethodDescriptor{}
	for _, name := range access.Calls() {
		service, method, _ := strings.Cut(strings.TrimPrefix(name, "/"), "/")
		if !strings.HasPrefix(service, "gaugebook.") {
			continue
		}
		d, err := protoregistry.GlobalFiles.FindDescriptorByName(protoreflect.FullName(service).Append(protoreflect.Name(method)))
		if err != nil {
			t.Fatal(err)
		}
		all[name] = d.(protoreflect.MethodDescriptor)
	}
	return all
}

func newMessage(t *testing.T, d protoreflect.MessageDescriptor) proto.Message {
	t.Helper()
	mt, err := protoregistry.GlobalTypes.FindMessageByName(d.FullName())
	if err != nil {
		t.Fatal(err)
	}
	return mt.New().Interface()
}

// call makes a call with nothing in its request but, where it has one, the shop.
func (h *house) call(m protoreflect.MethodDescriptor, name, inShop string, authorization ...string) error {
	req, answer := newMessage(h.t, m.Input()), newMessage(h.t, m.Output())
	if fd := m.Input().Fields().ByName("shop_id"); fd != nil {
		req.ProtoReflect().Set(fd, protoreflect.ValueOfString(inShop))
	}
	md := metadata.MD{}
	md.Append("authorization", authorization...)
	ctx := metadata.NewOutgoingContext(h.t.Context(), md)
	if !m.IsStreamingServer() {
		return h.conn.Invoke(ctx, name, req, answer)
	}
	stream, err := h.conn.NewStream(ctx, &grpc.StreamDesc{ServerStreams: true}, name)
	if err == nil {
		err = errors.Join(stream.SendMsg(req), stream.CloseSend())
	}
	if err != nil {
		h.t.Fatal(err)
	}
	return stream.RecvMsg(answer)
}

// allowed tells whether a call went past the guard.
func allowed(t *testing.T, err error) bool {
	t.Helper()
	if err == nil {
		return true
	}
	r := read(t, err)
	return r.Code() != codes.Unauthenticated && r.Code() != codes.PermissionDenied
}

// Every cell of the table, over a connection.
func TestWhoMayMakeWhichCall(t *testing.T) {
	h := inMemory(t)
	bench, counter := "Bearer "+benchToken, "Bearer "+counterToken
	for name, m := range contract(t) {
		who, told := may[name]
		if !told {
			t.Errorf("%s: nobody said who may make it", name)
		}
		open := who == "a"
		for _, row := range []struct {
			as   string
			auth []string
			shop string
			may  bool
			code codes.Code
		}{
			{"bench", []string{bench}, shop, strings.Contains(who, "b"), codes.PermissionDenied},
			{"counter", []string{counter}, shop, strings.Contains(who, "c"), codes.PermissionDenied},
			{"bench in another shop", []string{bench}, "south", false, codes.PermissionDenied},
			{"counter in another shop", []string{counter}, "south", false, codes.PermissionDenied},
			{"bench in no shop", []string{bench}, "", false, codes.PermissionDenied},
			{"counter in no shop", []string{counter}, "", false, codes.PermissionDenied},
			{"nobody", nil, shop, false, codes.Unauthenticated},
			{"an unknown token", []string{"Bearer unknown-token-unknown"}, shop, false, codes.Unauthenticated},
			{"two tokens", []string{bench, counter}, shop, false, codes.Unauthenticated},
			{"another scheme", []string{"Basic " + benchToken}, shop, false, codes.Unauthenticated},
		} {
			err := h.call(m, name, row.shop, row.auth...)
			if got := allowed(t, err); got != (row.may || open) {
				t.Errorf("%s: %s: %v", name, row.as, err)
			} else if !got && read(t, err).Code() != row.code {
				t.Errorf("%s: %s: %v, want %v", name, row.as, err, row.code)
			}
			if err != nil && (strings.Contains(err.Error(), "token-for-tests") || strings.Contains(err.Error(), "unknown-token")) {
				t.Errorf("%s: %s: tells a token: %v", name, row.as, err)
			}
		}
	}
	if len(may) != len(contract(t)) {
		t.Errorf("%d rows of %d calls", len(may), len(contract(t)))
	}
	if h.drafts() != 0 {
		t.Errorf("%d drafts", h.drafts())
	}
	if said := h.said.String(); strings.Contains(said, "token") {
		t.Errorf("the log tells a token: %s", said)
	}
}

// Every call of the contract is served, and the server says so.
func TestEveryCallIsServed(t *testing.T) {
	h := inMemory(t)
	server, err := pb.NewShopServiceClient(h.conn).GetServer(t.Context(), &pb.GetServerRequest{})
	if err != nil || len(server.GetServedCalls()) != len(contract(t)) || !slices.IsSorted(server.GetServedCalls()) {
		t.Fatalf("%v: %v", server.GetServedCalls(), err)
	}
	for name, m := range contract(t) {
		token := benchToken
		if !strings.Contains(may[name], "b") {
			token = counterToken
		}
		if full := strings.ReplaceAll(strings.TrimPrefix(name, "/"), "/", "."); !slices.Contains(server.GetServedCalls(), full) {
			t.Errorf("%s is not told", name)
		}
		err := h.call(m, name, shop, "Bearer "+token)
		if err == nil {
			continue
		}
		if r := read(t, err); r.Code() == codes.Unimplemented || r.reason == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}
