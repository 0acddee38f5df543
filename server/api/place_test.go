package api

import (
	"slices"
	"strings"
	"testing"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/reflect/protoregistry"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// worn is a truck of which every country's law has something to say: 26,000 lb, tires
// at 1/32 in, pressures far under the label.
func worn(use *pb.VehicleUse) (*pb.Vehicle, *pb.Inspection) {
	axle := &pb.Axle{ColdNormalLoad: psi(110), Size: "11R22.5 144/142L"}
	v := &pb.Vehicle{
		Id: newID(), VehicleClass: pb.VehicleClass_VEHICLE_CLASS_HEAVY, GrossRating: &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: 26_000}},
		Axles: &pb.Axles{Axles: []*pb.Axle{axle, axle}}, Use: use,
	}
	in := &pb.Inspection{Id: newID(), VehicleId: v.GetId(), LocalDate: firstOf(6), Odometer: inMiles(20_000)}
	for _, position := range []string{"1L", "1R", "2L", "2R"} {
		w := depths(position, 1, 1, 1)
		w.Pressures = []*pb.PressureReading{{Pressure: psi(60)}}
		w.Sidewall = &pb.Sidewall{Marking: "11R22.5 144/142L", Regrooved: pb.Answer_ANSWER_YES}
		in.Wheels = append(in.Wheels, w)
	}
	return v, in
}

// doors are the calls that judge, by their names, each with what it says of the truck,
// of which an earlier visit found more tread, so that another law was the strictest.
func (h *house) doors(use *pb.VehicleUse) map[string]func() (proto.Message, error) {
	v, in := worn(use)
	c, ctx := pb.NewCalculatorServiceClient(h.conn), h.t.Context()
	visits := pb.NewInspectionServiceClient(h.conn)
	wheel := in.GetWheels()[0]
	at := map[string]func() (proto.Message, error){
		"CalculatorService.AssessVisit": func() (proto.Message, error) {
			return c.AssessVisit(ctx, &pb.AssessVisitRequest{Vehicle: v, Inspection: in, Reader: whole})
		},
		"CalculatorService.AssessTread": func() (proto.Message, error) {
			return c.AssessTread(ctx, &pb.AssessTreadRequest{Wheel: wheel, VehicleClass: v.GetVehicleClass(), GrossRating: v.GetGrossRating(), Use: use, Reader: whole})
		},
		"CalculatorService.CalculatePressure": func() (proto.Message, error) {
			return c.CalculatePressure(ctx, &pb.CalculatePressureRequest{
				Measured: psi(40), LabelCold: psi(110), VehicleClass: v.GetVehicleClass(), GrossRating: v.GetGrossRating(), Use: use, Sidewall: wheel.GetSidewall(), Reader: whole,
			})
		},
		"CalculatorService.AssessRepair": func() (proto.Message, error) {
			return c.AssessRepair(ctx, &pb.AssessRepairRequest{
				LowestDepth: thirtySeconds(1), VehicleClass: v.GetVehicleClass(), GrossRating: v.GetGrossRating(), Use: use, Injuries: injured(5. / 16), Reader: whole,
			})
		},
		"CalculatorService.CheckFitment": func() (proto.Message, error) {
			return c.CheckFitment(ctx, &pb.CheckFitmentRequest{Vehicle: v, Wheels: in.GetWheels(), Reader: whole})
		},
		"CalculatorService.PlanRotation": func() (proto.Message, error) {
			return c.PlanRotation(ctx, &pb.PlanRotationRequest{Vehicle: v, Visits: []*pb.Inspection{in}, Reader: whole})
		},
		"InspectionService.RecordInspection": func() (proto.Message, error) {
			return visits.RecordInspection(h.bench(), &pb.RecordInspectionRequest{ShopId: shop, Inspection: in, Reader: whole})
		},
		"InspectionService.GetInspection": func() (proto.Message, error) {
			return visits.GetInspection(h.bench(), &pb.GetInspectionRequest{ShopId: shop, InspectionId: in.GetId(), Reader: whole})
		},
		"InspectionService.ListInspections": func() (proto.Message, error) {
			return visits.ListInspections(h.bench(), &pb.ListInspectionsRequest{ShopId: shop, VehicleId: v.GetId(), Reader: whole})
		},
		"InspectionService.ReassessInspection": func() (proto.Message, error) {
			return visits.ReassessInspection(h.bench(), &pb.ReassessInspectionRequest{ShopId: shop, InspectionId: in.GetId(), Reader: whole})
		},
		"VehicleService.GetVehicle": func() (proto.Message, error) {
			return pb.NewVehicleServiceClient(h.conn).GetVehicle(h.bench(), &pb.GetVehicleRequest{ShopId: shop, VehicleId: v.GetId(), Reader: whole})
		},
		"CounterService.PullChanges": func() (proto.Message, error) {
			return pb.NewCounterServiceClient(h.conn).PullChanges(h.counter(), &pb.PullChangesRequest{ShopId: shop, Reader: whole})
		},
		"CounterService.FollowChanges": func() (proto.Message, error) {
			stream, err := pb.NewCounterServiceClient(h.conn).FollowChanges(h.counter(), &pb.FollowChangesRequest{ShopId: shop, Reader: whole})
			if err != nil {
				return nil, err
			}
			return stream.Recv()
		},
	}
	h.keep(v)
	earlier := proto.CloneOf(in)
	earlier.Id, earlier.LocalDate, earlier.Odometer = newID(), firstOf(3), inMiles(15_000)
	for _, w := range earlier.GetWheels() { // another law was the strictest then
		w.Tread[0].Depth = thirtySeconds(3)
	}
	h.keep(v, earlier, in)
	return at
}

// judging are the served calls whose answer holds a judgement or what is open of one.
func judging(t *testing.T) (names []string) {
	t.Helper()
	for _, name := range Served() {
		d, err := protoregistry.GlobalFiles.FindDescriptorByName(protoreflect.FullName(name))
		if err != nil {
			t.Fatal(err)
		}
		out := d.(protoreflect.MethodDescriptor).Output()
		if holds(out, map[protoreflect.FullName]bool{}, "Assessment", "VehicleState") {
			names = append(names, strings.TrimPrefix(name, "gaugebook.v1."))
		}
	}
	return names
}

// holds tells whether messages of a kind have one of these in them.
func holds(d protoreflect.MessageDescriptor, seen map[protoreflect.FullName]bool, names ...protoreflect.Name) bool {
	if seen[d.FullName()] {
		return false
	}
	seen[d.FullName()] = true
	if slices.Contains(names, d.Name()) {
		return true
	}
	for i := range d.Fields().Len() {
		if m := d.Fields().Get(i).Message(); m != nil && holds(m, seen, names...) {
			return true
		}
	}
	return false
}

// inside gives the messages of a kind in a message.
func inside[M proto.Message](m protoreflect.Message) (all []M) {
	if is, ok := m.Interface().(M); ok {
		return []M{is}
	}
	m.Range(func(fd protoreflect.FieldDescriptor, v protoreflect.Value) bool {
		switch {
		case fd.Message() == nil:
		case fd.IsList():
			for i := range v.List().Len() {
				all = append(all, inside[M](v.List().Get(i).Message())...)
			}
		default:
			all = append(all, inside[M](v.Message())...)
		}
		return true
	})
	return all
}

// without are the doors that judge by no law.
var without = []string{"CalculatorService.EstimateLife"}

// TestWhereItRunsIsAskedOnceAndFirst: where country or State were not told, every call
// that judges asks for them once, before all else, and says the laws that may apply in
// one entry, the strictest first.
func TestWhereItRunsIsAskedOnceAndFirst(t *testing.T) {
	in := func(country, state string) *pb.VehicleUse {
		return &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: country, State: state}}, BusinessAcrossStateLines: pb.Answer_ANSWER_NO}
	}
	for _, row := range []struct {
		name string
		use  *pb.VehicleUse
		ask  string
	}{
		{"nothing told", nil, "ask.country"},
		{"the country told", in("US", ""), "ask.state"},
		{"a country of provinces", in("CA", ""), "ask.province"},
		{"both told", in("US", "CA"), ""},
		{"a country without States", in("DE", ""), ""},
	} {
		t.Run(row.name, func(t *testing.T) {
			h := inMemory(t)
			doors := h.doors(row.use)
			for _, name := range judging(t) {
				if slices.Contains(without, name) {
					continue
				}
				call := doors[name]
				if call == nil {
					t.Errorf("%s judges, and no row calls it", name)
					continue
				}
				out, err := call()
				if err != nil {
					t.Fatalf("%s: %v", name, err)
				}
				for _, a := range inside[*pb.Assessment](out.ProtoReflect()) {
					askedFirst(t, name, a, row.ask)
					for _, w := range a.GetWork() {
						for _, id := range w.GetFindingIds() {
							if !slices.ContainsFunc(a.GetFindings(), func(f *pb.Finding) bool { return f.GetId() == id }) {
								t.Errorf("%s: %s answers a finding that is not there: %s", name, w.GetCode(), id)
							}
						}
					}
					eachOnce(t, name, a.GetFindings())
				}
				for _, s := range inside[*pb.VehicleState](out.ProtoReflect()) {
					var open []*pb.Finding
					for _, f := range s.GetOpen() {
						open = append(open, f.GetFinding())
					}
					eachOnce(t, name, open)
				}
			}
		})
	}
}

// askedFirst demands that of the questions on the place this one is asked, once, and
// before all others.
func askedFirst(t *testing.T, name string, a *pb.Assessment, ask string) {
	t.Helper()
	var asked []string
	for i, q := range a.GetQuestions() {
		if slices.Contains([]string{"ask.country", "ask.state", "ask.province"}, q.GetCode()) {
			if asked = append(asked, q.GetCode()); i > 0 {
				t.Errorf("%s: %s is asked after %s", name, q.GetCode(), a.GetQuestions()[i-1].GetCode())
			}
		}
	}
	if want := strings.Fields(ask); !slices.Equal(asked, want) {
		t.Errorf("%s: asked %v, want %v", name, asked, want)
	}
}

// eachOnce demands that what several laws may say of one matter is one entry, the
// strictest first.
func eachOnce(t *testing.T, name string, found []*pb.Finding) {
	t.Helper()
	entries := map[string]string{}
	for _, f := range found {
		r := ruleOf(f)
		if !r.GetCandidate() || r.GetId() == "" || strings.HasPrefix(f.GetCode(), "repair.") {
			continue
		}
		matter := f.GetCode() + " " + strings.Join(f.GetPositions(), ",") + f.GetPlace().GetPart().String()
		if other, there := entries[matter]; there {
			t.Errorf("%s: %s is two entries: %s and %s", name, matter, other, r.GetId())
		}
		entries[matter] = r.GetId()
		for _, o := range f.GetRules()[1:] {
			if !o.GetCandidate() || o.GetId() == r.GetId() {
				t.Errorf("%s: %s by %s, and beside it %v", name, matter, r.GetId(), o)
			}
		}
	}
}

// TestAnAnswerSaysWhereTheShopStoodIn: where the vehicle tells no country or State, the
// shop's own is judged by, and every view but the least says so.
func TestAnAnswerSaysWhereTheShopStoodIn(t *testing.T) {
	for _, row := range []struct {
		name string
		told *pb.Jurisdiction
		want *pb.Jurisdiction
	}{
		{"nothing told", nil, &pb.Jurisdiction{Country: "US", State: "CA"}},
		{"the State not told", &pb.Jurisdiction{Country: "US"}, &pb.Jurisdiction{Country: "US", State: "CA"}},
		{"another State", &pb.Jurisdiction{Country: "US", State: "IL"}, nil},
		{"another country", &pb.Jurisdiction{Country: "DE"}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			h := inMemory(t)
			_, err := pb.NewShopServiceClient(h.conn).UpdateShop(h.counter(), &pb.UpdateShopRequest{ShopId: shop, Shop: &pb.Shop{Place: &pb.Jurisdiction{Country: "US", State: "CA"}}})
			if err != nil {
				t.Fatal(err)
			}
			use := &pb.VehicleUse{BusinessAcrossStateLines: pb.Answer_ANSWER_NO}
			if row.told != nil {
				use.DrivenIn = []*pb.Jurisdiction{row.told}
			}
			v, in := worn(use)
			h.keep(v)
			visits := pb.NewInspectionServiceClient(h.conn)
			for view := pb.View_VIEW_UNSPECIFIED; view <= pb.View_VIEW_FULL; view++ {
				reader := &pb.Reader{View: view}
				recorded, err := visits.RecordInspection(h.bench(), &pb.RecordInspectionRequest{ShopId: shop, Inspection: in, Reader: reader})
				if err != nil {
					t.Fatal(err)
				}
				again, err := visits.ReassessInspection(h.bench(), &pb.ReassessInspectionRequest{ShopId: shop, InspectionId: in.GetId(), Reader: reader})
				if err != nil {
					t.Fatal(err)
				}
				want := row.want
				if view == pb.View_VIEW_GLANCE {
					want = nil
				}
				for _, a := range []*pb.Assessment{recorded.GetAssessment(), again.GetAssessment()} {
					if got := a.GetBasis().GetPlaceOfShop(); !proto.Equal(got, want) {
						t.Errorf("%v: the place of the shop is %v, want %v", view, got, want)
					}
					if view != pb.View_VIEW_GLANCE && row.want != nil {
						askedFirst(t, row.name, a, "")
					}
				}
			}
		})
	}
}
