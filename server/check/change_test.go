package check

import (
	"slices"
	"testing"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/durationpb"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

func TestClear(t *testing.T) {
	const (
		ofVehicle = "tag, vehicleClass, drive, grossRating, axles, spare, use, customerData, fasteners, tpms, makerFigures, maximumSpeed"
		ofTire    = "sidewall, newDepths, fittedDate, fittedOdometer, sale or makerPolicy"
	)
	for _, row := range []struct {
		name   string
		record proto.Message
		clear  []string
		want   []string
	}{
		{"nothing", &pb.Vehicle{Id: vehicleID, Tag: "blue van"}, nil, nil},
		{"what was told before", &pb.Vehicle{Id: vehicleID}, []string{"spare", "grossRating"}, nil},
		{"settings", &pb.Shop{}, []string{"units", "gauges", "timeZone"}, nil},
		{"misspelled", &pb.Vehicle{}, []string{"spare", "sparre"},
			[]string{`clear[1]: "sparre": no such field; did you mean spare? there are ` + ofVehicle}},
		{"as the contract's files write it", &pb.Vehicle{}, []string{"gross_rating"},
			[]string{`clear[0]: "gross_rating": no such field; did you mean grossRating? there are ` + ofVehicle}},
		{"nameless", &pb.Vehicle{}, []string{""}, []string{`clear[0]: "": no such field; there are ` + ofVehicle}},
		{"a field of a field", &pb.Vehicle{}, []string{"spare.coldPressure"},
			[]string{`clear[0]: "spare.coldPressure": no such field; there are ` + ofVehicle}},
		{"the id", &pb.Tire{Id: tireID}, []string{"id"}, []string{`clear[0]: "id": not to be emptied; only ` + ofTire}},
		{"the revision", &pb.Tire{}, []string{"revision"}, []string{`clear[0]: "revision": not to be emptied; only ` + ofTire}},
		{"where the server says it is", &pb.Tire{}, []string{"place"}, []string{`clear[0]: "place": not to be emptied; only ` + ofTire}},
		{"emptied and given", &pb.Tire{Sidewall: &pb.Sidewall{}}, []string{"sidewall"},
			[]string{`clear[0]: "sidewall": given a value as well; one of the two`}},
		{"twice", &pb.Tire{}, []string{"sale", "sidewall", "sale"}, []string{`clear[2]: "sale": named twice`}},
	} {
		t.Run(row.name, func(t *testing.T) { same(t, Clear("clear", row.clear, row.record), row.want) })
	}
}

// What a client cannot empty is the id, the revision, and what the contract calls
// an output: nothing else, and nothing that is none of the contract.
func TestWhatCannotBeEmptiedIsOfTheContract(t *testing.T) {
	for _, m := range []proto.Message{&pb.Vehicle{}, &pb.Tire{}, &pb.Shop{}} {
		md := m.ProtoReflect().Descriptor()
		for _, name := range []protoreflect.Name{"id", "revision"} {
			if !fixed[md.Fields().ByName(name).FullName()] {
				t.Errorf("%s.%s can be emptied", md.FullName(), name)
			}
		}
		if len(clearable(md)) < 5 {
			t.Errorf("only %v of a %s can be emptied", clearable(md), md.FullName())
		}
	}
	for name := range fixed {
		all := slices.Concat(fieldNames(&pb.Vehicle{}), fieldNames(&pb.Tire{}), fieldNames(&pb.Shop{}))
		if !slices.Contains(all, name) {
			t.Errorf("%s is no field of a record", name)
		}
	}
}

func fieldNames(m proto.Message) []protoreflect.FullName {
	var all []protoreflect.FullName
	fields := m.ProtoReflect().Descriptor().Fields()
	for i := range fields.Len() {
		all = append(all, fields.Get(i).FullName())
	}
	return all
}

func TestListVehicles(t *testing.T) {
	for _, row := range []struct {
		name string
		req  *pb.ListVehiclesRequest
		want []string
	}{
		{"by an order", &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_Order{Order: pb.VehicleOrder_VEHICLE_ORDER_DUE}}, nil},
		{"by an order of a newer client", &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_Order{Order: 99}}, nil},
		{"by a code", &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_FindingCode{FindingCode: "tread.worn-to-bars"}}, nil},
		{"by nothing", &pb.ListVehiclesRequest{},
			[]string{"order: by what to list is not told; exactly one of order, text, findingCode, size, orderReference, plate or tag"}},
		{"by a text that is too short", &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_Text{Text: " v "}},
			[]string{`text: " v ": too short or too long to find by; 2 to 40 letters or digits`}},
		{"by no code", &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_FindingCode{}}, []string{"findingCode: no code; the code of a finding"}},
		{"by no size", &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_Size{}}, []string{`size: "": too short or too long to find by; 2 to 40 letters or digits`}},
		{"by a reference", &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_OrderReference{OrderReference: "7"}}, nil},
		{"by signs alone", &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_OrderReference{OrderReference: "- -"}},
			[]string{`orderReference: "- -": too short or too long to find by; 1 to 40 letters or digits`}},
		{"by one letter of a plate", &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_Plate{Plate: "A-"}},
			[]string{`plate: "A-": too short or too long to find by; 2 to 40 letters or digits`}},
		{"by a tag", &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_Tag{Tag: "bay 3"}}, nil},
		{"by an order that is none", &pb.ListVehiclesRequest{By: &pb.ListVehiclesRequest_Order{}},
			[]string{"order: VEHICLE_ORDER_UNSPECIFIED: by what to list is not told; an order"}},
	} {
		t.Run(row.name, func(t *testing.T) { same(t, ListVehicles(row.req), row.want) })
	}
}

func TestShop(t *testing.T) {
	feet := &pb.Height{AsRead: &pb.Height_Feet{Feet: 30_000}}
	for _, row := range []struct {
		name string
		shop *pb.Shop
		want []string
	}{
		{"none", nil, []string{"shop: missing; what changes, with the revision that was read"}},
		{"nothing changes", &pb.Shop{}, nil},
		{"all of it", &pb.Shop{
			TimeZone: "America/Denver", Place: &pb.Jurisdiction{Country: "US", State: "CO"}, Altitude: meters(1600), Language: "en",
			Gauges: &pb.ShopGauges{Gauges: []*pb.Gauge{{Kind: pb.GaugeKind_GAUGE_KIND_DIGITAL}}},
		}, nil},
		{"changes kept for a month", &pb.Shop{KeepChanges: durationpb.New(30 * 24 * time.Hour)}, nil},
		{"changes kept for too short a time", &pb.Shop{KeepChanges: durationpb.New(29 * 24 * time.Hour)}, []string{
			"shop.keepChanges: 696h0m0s: too short a time; 30 days at least, 2592000s: a counter may be off for a while",
		}},
		{"nowhere", &pb.Shop{TimeZone: "Local", Place: &pb.Jurisdiction{State: "CO"}, Altitude: feet}, []string{
			"shop.timeZone: Local: no such time zone; an IANA name such as America/Denver",
			`shop.place.state: "CO": a state without its country; the country too`,
			"shop.altitude: 30000 ft: a place is between -500 and 6000 m (-1640 and 19685 ft)",
		}},
		{"a place and none", &pb.Shop{Place: &pb.Jurisdiction{}}, []string{"shop.place: no place is named; a country, such as US"}},
		{"gauges and none", &pb.Shop{Gauges: &pb.ShopGauges{}},
			[]string{"shop.gauges.gauges: missing; the gauges of the shop; to have none, clear them"}},
		{"two gauges of a kind", &pb.Shop{Gauges: &pb.ShopGauges{Gauges: []*pb.Gauge{
			{Kind: pb.GaugeKind_GAUGE_KIND_DIAL}, {Kind: pb.GaugeKind_GAUGE_KIND_DIAL},
		}}}, []string{"shop.gauges.gauges[1]: GAUGE_KIND_DIAL: gauges[0] is of this kind too; one gauge of a kind"}},
	} {
		t.Run(row.name, func(t *testing.T) { same(t, Shop("shop", row.shop), row.want) })
	}
}
