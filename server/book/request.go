package book

import (
	"maps"
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"
)

// earlierVisits is how many of a vehicle's visits before this one are evidence
// for it at most.
const earlierVisits = 20

// withDefaults is a visit as it is judged: where visit or vehicle say nothing, the
// shop's settings do. The visit itself is kept as it came.
func withDefaults(settings *pb.Shop, v *pb.Vehicle, visit *pb.Inspection) *pb.AssessVisitRequest {
	req := &pb.AssessVisitRequest{Vehicle: proto.CloneOf(v), Inspection: proto.CloneOf(visit)}
	in := req.GetInspection()
	if len(in.GetGauges()) == 0 {
		in.Gauges = settings.GetGauges().GetGauges()
	}
	in.LocalDate = day(visit, settings)
	if settings.GetAltitude() != nil && in.GetConditions().GetAtmosphere() == nil {
		if in.GetConditions() == nil {
			in.Conditions = &pb.Conditions{}
		}
		in.Conditions.Atmosphere = &pb.Conditions_Altitude{Altitude: settings.GetAltitude()}
	}
	if settings.GetPlace() != nil {
		if req.GetVehicle().GetUse() == nil {
			req.Vehicle.Use = &pb.VehicleUse{}
		}
		where(req.GetVehicle().GetUse(), settings.GetPlace())
	}
	return req
}

// request is a visit at its place in the vehicle's record as it is judged.
func (v view) request(shop string, vehicle *pb.Vehicle, visit *pb.Inspection, place course, arrivals map[string]*pb.Tire) (*pb.AssessVisitRequest, error) {
	settings, _, err := v.shop(shop)
	if err != nil {
		return nil, err
	}
	req := withDefaults(settings, vehicle, visit)
	for i, id := range tiresOf(place.before.tires, place.root, req.GetInspection().GetWheels()) {
		req.Inspection.Wheels[i].TireId = id
	}
	req.Tires, req.Moves = place.between.tires(place.before.tires), place.between.moves
	for _, id := range slices.Sorted(maps.Keys(arrivals)) {
		req.Tires = append(req.Tires, arrivals[id])
	}
	if req.Repairs, err = v.repairsOf(req.GetTires(), req.GetInspection(), place.known); err != nil {
		return nil, err
	}
	req.Earlier = evidence(place.earlier, req.GetInspection(), settings)
	return req, nil
}

// where fills in the place of the shop as far as the use tells none.
func where(use *pb.VehicleUse, shop *pb.Jurisdiction) {
	switch told := judgedIn(use); {
	case told == nil:
		use.DrivenIn = []*pb.Jurisdiction{shop}
	case told.GetState() == "" && told.GetCountry() == shop.GetCountry():
		told.State = shop.GetState()
	}
}

// judgedIn is the place that is judged by: the first where the vehicle is driven, else
// where it is registered; nil where none was told.
func judgedIn(use *pb.VehicleUse) *pb.Jurisdiction {
	if len(use.GetDrivenIn()) > 0 {
		return use.GetDrivenIn()[0]
	}
	return use.GetRegisteredIn()
}

// placeOfShop is the place that a request is judged by, where the shop told it or its
// State and the vehicle did not; else nil.
func placeOfShop(of *pb.Vehicle, req *pb.AssessVisitRequest) *pb.Jurisdiction {
	in := judgedIn(req.GetVehicle().GetUse())
	if proto.Equal(judgedIn(of.GetUse()), in) {
		return nil
	}
	return in
}

// day is the day of a visit at the shop, nil when it is not known.
func day(visit *pb.Inspection, settings *pb.Shop) *pb.CalendarDate {
	if visit.GetLocalDate() != nil {
		return visit.GetLocalDate()
	}
	return localDate(visit.GetTakenTime(), settings.GetTimeZone())
}

func after(a, b *pb.CalendarDate) bool {
	ymd := func(d *pb.CalendarDate) []int32 { return []int32{d.GetYear(), d.GetMonth(), d.GetDay()} }
	return a != nil && b != nil && slices.Compare(ymd(a), ymd(b)) > 0
}

// evidence are the earlier visits that bear on a visit of which the tires are
// known: none of a later day, which came late from a phone without a network, and
// no readings of a tire that is on none of its wheels any more; what was done about
// the wheel's fasteners is the vehicle's.
func evidence(earlier []*pb.Inspection, visit *pb.Inspection, settings *pb.Shop) []*pb.Inspection {
	now, on := map[string]string{}, map[string]bool{}
	for _, w := range visit.GetWheels() {
		now[w.GetPosition()] = w.GetTireId()
		on[w.GetTireId()] = true
	}
	var out []*pb.Inspection
	for _, e := range earlier {
		if after(day(e, settings), day(visit, settings)) {
			continue
		}
		e = proto.CloneOf(e)
		var wheels []*pb.WheelReport
		for _, w := range e.GetWheels() {
			switch tire, told := now[w.GetPosition()]; {
			case !told || tire == w.GetTireId() || on[w.GetTireId()]:
				wheels = append(wheels, w)
			case w.GetFastenerWork() != nil || w.GetTorqueRecheck() != nil:
				wheels = append(wheels, &pb.WheelReport{Position: w.GetPosition(), FastenerWork: w.GetFastenerWork(), TorqueRecheck: w.GetTorqueRecheck()})
			}
		}
		e.Wheels = wheels
		out = append(out, e)
	}
	return out[max(0, len(out)-earlierVisits):]
}
