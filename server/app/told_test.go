package app

import (
	"net/http"
	"slices"
	"strings"
	"testing"

	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// askedBy is what one reader asks of one vehicle and its visit, at either door.
func askedBy(v *pb.Vehicle, in *pb.Inspection, reader *pb.Reader) []struct {
	method, token, path string
	request             proto.Message
	answer              func() proto.Message
} {
	shopPath := "/v1/shops/" + testShop
	return []struct {
		method, token, path string
		request             proto.Message
		answer              func() proto.Message
	}{
		{
			pb.InspectionService_GetInspection_FullMethodName, testBench, shopPath + "/inspections/" + in.GetId() + "?",
			&pb.GetInspectionRequest{ShopId: testShop, InspectionId: in.GetId(), Reader: reader},
			func() proto.Message { return &pb.GetInspectionResponse{} },
		},
		{
			pb.InspectionService_ListInspections_FullMethodName, testBench, shopPath + "/vehicles/" + v.GetId() + "/inspections?",
			&pb.ListInspectionsRequest{ShopId: testShop, VehicleId: v.GetId(), Reader: reader},
			func() proto.Message { return &pb.ListInspectionsResponse{} },
		},
		{
			pb.VehicleService_GetVehicle_FullMethodName, testBench, shopPath + "/vehicles/" + v.GetId() + "?",
			&pb.GetVehicleRequest{ShopId: testShop, VehicleId: v.GetId(), Reader: reader},
			func() proto.Message { return &pb.GetVehicleResponse{} },
		},
		{
			pb.VehicleService_ListVehicles_FullMethodName, testCounter, shopPath + "/vehicles?order=VEHICLE_ORDER_URGENCY&",
			&pb.ListVehiclesRequest{ShopId: testShop, By: &pb.ListVehiclesRequest_Order{Order: pb.VehicleOrder_VEHICLE_ORDER_URGENCY}, Reader: reader},
			func() proto.Message { return &pb.ListVehiclesResponse{} },
		},
		{
			pb.CounterService_PullChanges_FullMethodName, testCounter, shopPath + "/changes?",
			&pb.PullChangesRequest{ShopId: testShop, Reader: reader},
			func() proto.Message { return &pb.PullChangesResponse{} },
		},
	}
}

// textsFor are the texts of an answer for the technician and for the customer.
func textsFor(m proto.Message) (technician, customer []string) {
	var walk func(m protoreflect.Message)
	walk = func(m protoreflect.Message) {
		m.Range(func(field protoreflect.FieldDescriptor, v protoreflect.Value) bool {
			switch {
			case field.Message() != nil && field.IsList():
				for i := range v.List().Len() {
					walk(v.List().Get(i).Message())
				}
			case field.Message() != nil:
				walk(v.Message())
			case field.Name() == "for_technician":
				technician = append(technician, v.String())
			case field.Name() == "for_customer":
				customer = append(customer, v.String())
			}
			return true
		})
	}
	walk(m.ProtoReflect())
	return technician, customer
}

// A visit that was recorded for a reader of Spanish is read in English, with what
// the customer reads in Spanish, at both doors: in the visit, the lists, the vehicle
// and the feed; and by the shop's own language where the reader says nothing.
func TestToldForWhoReads(t *testing.T) {
	r := inMemory(t)
	v, in := testCar(), testVisit(testCar())
	in.VehicleId = v.GetId()
	in.Wheels[0].Pressures[0].Pressure = &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: 12}}
	r.keep(v)
	spanish := &pb.Reader{Language: "es", CustomerLanguage: "es"}
	kept := &pb.RecordInspectionResponse{}
	if a := r.overGRPC(t.Context(), pb.InspectionService_RecordInspection_FullMethodName, testBench, &pb.RecordInspectionRequest{ShopId: testShop, Inspection: in, Reader: spanish}, kept); a.code != codes.OK {
		t.Fatal(a)
	}
	inSpanish, toSpanish := textsFor(kept)
	if !said(inSpanish, "DI") || !said(toSpanish, "delantera izquierda") || kept.GetTold().GetLanguage() != "es" || kept.GetTold().GetCustomerLanguage() != "es" {
		t.Fatalf("recorded: %q, %q, %v", inSpanish, toSpanish, kept.GetTold())
	}
	english := &pb.Reader{Language: "en", CustomerLanguage: "es"}
	for _, row := range askedBy(v, in, english) {
		got, overJSON := row.answer(), row.answer()
		if a := r.overGRPC(t.Context(), row.method, row.token, row.request, got); a.code != codes.OK {
			t.Fatalf("%s: %v", row.method, a)
		}
		_, code, body := r.overJSON(http.MethodGet, row.path+"reader.language=en&reader.customerLanguage=es", row.token, nil, nil)
		if err := protojson.Unmarshal(body, overJSON); err != nil || code != http.StatusOK || !proto.Equal(got, overJSON) {
			t.Errorf("%s over JSON: HTTP %d: %v: %s", row.method, code, err, body)
		}
		technician, customer := textsFor(got)
		if !said(technician, "LF") || said(technician, "DI") || !said(customer, "delantera izquierda") || said(customer, "left") {
			t.Errorf("%s: %q, %q", row.method, technician, customer)
		}
	}
	if _, err := pb.NewShopServiceClient(r.conn).UpdateShop(bearing(t.Context(), testCounter), &pb.UpdateShopRequest{ShopId: testShop, Shop: &pb.Shop{Language: "es"}}); err != nil {
		t.Fatal(err)
	}
	for _, row := range askedBy(v, in, nil) {
		got := row.answer()
		if a := r.overGRPC(t.Context(), row.method, row.token, row.request, got); a.code != codes.OK {
			t.Fatalf("%s: %v", row.method, a)
		}
		if technician, customer := textsFor(got); !said(technician, "DI") || said(technician, "LF") || len(customer) != 0 {
			t.Errorf("%s by the shop's language: %q, %q", row.method, technician, customer)
		}
	}
}

// said tells whether one of the texts holds a part.
func said(texts []string, part string) bool {
	return slices.ContainsFunc(texts, func(s string) bool { return strings.Contains(s, part) })
}
