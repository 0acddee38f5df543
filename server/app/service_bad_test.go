package app

import (
	"maps"
	"math"
	"net/http"
	"slices"
	"strings"
	"testing"

	"google.golang.org/grpc/codes"
	"google.golang.org/protobuf/encoding/protojson"
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/durationpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/server/check"
)

// spot is a field that a request can hold, with the fields that lead to it.
type spot []protoreflect.FieldDescriptor

// spots lists every field below a message once, by the shortest way to it.
func spots(md protoreflect.MessageDescriptor) []spot {
	var all []spot
	seen := map[string]bool{}
	for next := []spot{nil}; len(next) > 0; next = next[1:] {
		message := md
		if way := next[0]; len(way) > 0 {
			message = way[len(way)-1].Message()
		}
		for i := range message.Fields().Len() {
			fd := message.Fields().Get(i)
			in := "" // a quantity means another thing in every field
			if len(next[0]) > 0 {
				in = string(next[0][len(next[0])-1].FullName()) + " "
			}
			if name := in + string(fd.FullName()); !seen[name] {
				seen[name] = true
				s := append(slices.Clone(next[0]), fd)
				all = append(all, s)
				if fd.Message() != nil {
					next = append(next, s)
				}
			}
		}
	}
	return all
}

// put sets the field in a request, in the first entry of every list.
func (s spot) put(req proto.Message, v protoreflect.Value) {
	m := req.ProtoReflect()
	for i, fd := range s {
		last := i == len(s)-1
		switch {
		case fd.IsList() && last:
			if list := m.Mutable(fd).List(); list.Len() == 0 {
				list.Append(v)
			} else {
				list.Set(0, v)
			}
		case fd.IsList():
			if list := m.Mutable(fd).List(); list.Len() == 0 {
				m = list.AppendMutable().Message()
			} else {
				m = list.Get(0).Message()
			}
		case last:
			m.Set(fd, v)
		default:
			m = m.Mutable(fd).Message()
		}
	}
}

const notFinite = "not finite"

// badValues are what a field might be given that it cannot hold.
func badValues(fd protoreflect.FieldDescriptor) map[string]protoreflect.Value {
	switch fd.Kind() {
	case protoreflect.DoubleKind:
		return map[string]protoreflect.Value{
			"far below": protoreflect.ValueOfFloat64(-1e12), "far above": protoreflect.ValueOfFloat64(1e12),
			"fine": protoreflect.ValueOfFloat64(1. / 3), notFinite: protoreflect.ValueOfFloat64(math.NaN()),
		}
	case protoreflect.Int32Kind:
		return map[string]protoreflect.Value{"below": protoreflect.ValueOfInt32(-1), "none": protoreflect.ValueOfInt32(0), "above": protoreflect.ValueOfInt32(math.MaxInt32)}
	case protoreflect.StringKind:
		return map[string]protoreflect.Value{
			"long": protoreflect.ValueOfString(strings.Repeat("x", 2001)), "no id": protoreflect.ValueOfString("17"), "empty": protoreflect.ValueOfString(""),
			"another notation": protoreflect.ValueOfString("LF"), "capitals": protoreflect.ValueOfString("0F0A1C52-6F1E-4A57-9D0C-3A5A7E1B0001"),
		}
	case protoreflect.MessageKind:
		var m proto.Message
		switch fd.Message().FullName() {
		case "google.protobuf.Timestamp":
			m = &timestamppb.Timestamp{Seconds: math.MaxInt64}
		case "google.protobuf.Duration":
			m = durationpb.New(-5)
		case "gaugebook.v1.CalendarDate":
			m = &pb.CalendarDate{Year: 2025, Month: 2, Day: 29}
		default:
			return nil // there is one below it
		}
		return map[string]protoreflect.Value{"no such": protoreflect.ValueOfMessage(m.ProtoReflect())}
	}
	return nil
}

// emptied is a message without its number: a quantity that says nothing.
func emptied(fd protoreflect.FieldDescriptor) bool {
	return fd.Message() != nil && fd.Message().Oneofs().ByName("as_read") != nil && !fd.IsList()
}

// door is one call at both doors, with the check that stands before it.
type door struct {
	grpc, path string
	token      string
	req        func() proto.Message
	check      func(proto.Message) []check.Problem
	out        proto.Message
}

// Every input that cannot be gets the same answer at both doors: what the check
// says, at the same paths; and nothing is stored.
func TestBadInputIsRefusedAlikeAtBothDoors(t *testing.T) {
	r := inMemory(t)
	v := testCar()
	v.Axles = &pb.Axles{Axles: []*pb.Axle{{}, {Wheels: pb.AxleWheels_AXLE_WHEELS_DUAL}}}
	in := testVisit(v)
	assess := &pb.AssessVisitRequest{Vehicle: v, Inspection: in}
	doors := []door{
		{
			pb.CalculatorService_AssessVisit_FullMethodName, "/v1/calculate/visit", "", func() proto.Message { return proto.CloneOf(assess) },
			func(m proto.Message) []check.Problem { return check.AssessVisit(m.(*pb.AssessVisitRequest)) }, &pb.AssessVisitResponse{},
		},
		{
			pb.InspectionService_RecordInspection_FullMethodName, "/v1/shops/" + testShop + "/inspections", testBench,
			func() proto.Message {
				return &pb.RecordInspectionRequest{ShopId: testShop, Inspection: proto.CloneOf(in)}
			},
			func(m proto.Message) []check.Problem {
				_, problems := check.NewVisit("inspection", m.(*pb.RecordInspectionRequest).GetInspection())
				return problems
			}, &pb.RecordInspectionResponse{},
		},
		{
			pb.VehicleService_RecordVehicle_FullMethodName, "/v1/shops/" + testShop + "/vehicles", testBench,
			func() proto.Message { return &pb.RecordVehicleRequest{ShopId: testShop, Vehicle: proto.CloneOf(v)} },
			func(m proto.Message) []check.Problem {
				return withIDs(m.(*pb.RecordVehicleRequest).GetVehicle().GetId(), "vehicle.id", check.Vehicle("vehicle", m.(*pb.RecordVehicleRequest).GetVehicle()))
			}, &pb.RecordVehicleResponse{},
		},
	}
	tried := 0
	for _, d := range doors {
		for _, s := range spots(d.req().ProtoReflect().Descriptor()) {
			name := s[0].Name()
			if fd := s[len(s)-1]; name == "inspection" || name == "vehicle" || d.token == "" {
				values := badValues(fd)
				for _, what := range slices.Sorted(maps.Keys(values)) {
					req := d.req()
					s.put(req, values[what])
					n := r.refusedAlike(d, s, what, req, what == notFinite)
					if tried += n; n > 0 && d.token != "" {
						break // the rest of them went through the first door
					}
				}
				if emptied(fd) {
					req := d.req()
					s.put(req, protoreflect.ValueOfMessage(newQuantity(fd)))
					tried += r.refusedAlike(d, s, "no number", req, true)
				}
			}
		}
	}
	if tried < 500 {
		t.Errorf("only %d inputs were refused", tried)
	}
	t.Logf("%d inputs", tried)
	if r.drafts() != 0 {
		t.Errorf("%d drafts are stored", r.drafts())
	}
}

func newQuantity(fd protoreflect.FieldDescriptor) protoreflect.Message {
	return map[protoreflect.FullName]proto.Message{
		"gaugebook.v1.Depth": &pb.Depth{}, "gaugebook.v1.Pressure": &pb.Pressure{}, "gaugebook.v1.AirPressure": &pb.AirPressure{},
		"gaugebook.v1.Temperature": &pb.Temperature{}, "gaugebook.v1.Distance": &pb.Distance{}, "gaugebook.v1.Height": &pb.Height{},
		"gaugebook.v1.Length": &pb.Length{}, "gaugebook.v1.Mass": &pb.Mass{}, "gaugebook.v1.Speed": &pb.Speed{}, "gaugebook.v1.Torque": &pb.Torque{},
		"gaugebook.v1.WearRate": &pb.WearRate{}, "gaugebook.v1.PressureLossRate": &pb.PressureLossRate{},
	}[fd.Message().FullName()].ProtoReflect()
}

// withIDs adds what the call itself demands: a record that is kept has an id.
func withIDs(id, path string, problems []check.Problem) []check.Problem {
	if id == "" {
		problems = append([]check.Problem{{Path: path}}, problems...)
	}
	return problems
}

// refusedAlike compares the doors; 1 when the input is one that cannot be.
func (r *running) refusedAlike(d door, s spot, what string, req proto.Message, byReader bool) int {
	r.t.Helper()
	problems := d.check(req)
	if len(problems) == 0 {
		return 0
	}
	want := answer{code: codes.InvalidArgument, reason: "FIELD_INVALID"}
	for _, p := range problems {
		want.paths = append(want.paths, p.Path)
	}
	field := s[len(s)-1].FullName()
	if visit, ok := req.(*pb.RecordInspectionRequest); ok && visit.GetInspection().GetVehicleId() == "" {
		want.paths = slices.Insert(want.paths, 0, "inspection.vehicleId")
	}
	if got := r.overGRPC(r.t.Context(), d.grpc, d.token, req, d.out); !got.same(want) {
		r.t.Errorf("%s: %s: over gRPC %v, want %v", field, what, got, want)
	}
	body, err := protojson.Marshal(req)
	if err != nil {
		if !slices.ContainsFunc(s, func(fd protoreflect.FieldDescriptor) bool {
			return fd.Message() != nil && fd.Message().ParentFile().Package() == "google.protobuf"
		}) {
			r.t.Errorf("%s: %s: %v", field, what, err)
		}
		return 1 // a time that JSON has no form for
	}
	got, code, _ := r.overJSON(http.MethodPost, d.path, d.token, nil, body)
	if byReader && got.code == want.code && got.reason == want.reason && len(got.paths) > 0 {
		// The reader names what it cannot take, a number by its own field, and only that.
		for _, p := range got.paths {
			if !slices.ContainsFunc(want.paths, func(w string) bool { return within(p, w) }) {
				r.t.Errorf("%s: %s: over JSON at %s, over gRPC at %v", field, what, p, want.paths)
			}
		}
		return 1
	}
	if !got.same(want) || code != http.StatusBadRequest {
		r.t.Errorf("%s: %s: over JSON HTTP %d, %v, want %v", field, what, code, got, want)
	}
	return 1
}
