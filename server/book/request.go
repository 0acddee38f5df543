package book

import (
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
	req := &pb.AssessVisitRequest{Vehicle: proto.CloneOf(v), Inspection: proto.CloneOf(visit), Language: settings.GetLanguage(), Units: settings.GetUnits()}
	in := req.GetInspection()
	if len(in.GetGauges()) == 0 {
		in.Gauges = settings.GetGauges()
	}
	in.LocalDate = day(visit, settings)
	if settings.GetAltitude() != nil && in.GetConditions().GetAtmosphere() == nil {
		if in.GetConditions() == nil {
			in.Conditions = &pb.Conditions{}
		}
		in.Conditions.Atmosphere = &pb.Conditions_Altitude{Altitude: settings.GetAltitude()}
	}
	if settings.GetCountry() != "" {
		if req.GetVehicle().GetUse() == nil {
			req.Vehicle.Use = &pb.VehicleUse{}
		}
		where(req.GetVehicle().GetUse(), settings)
	}
	return req
}

// where fills in the place of the shop as far as the use does not tell another.
func where(use *pb.VehicleUse, settings *pb.Shop) {
	if use.GetCountry() == "" {
		use.Country = settings.GetCountry()
	}
	if use.GetState() == "" && use.GetCountry() == settings.GetCountry() {
		use.State = settings.GetState()
	}
}

// day is the day of a visit at the shop, nil when it is not known.
func day(visit *pb.Inspection, settings *pb.Shop) *pb.CalendarDate {
	if visit.GetLocalDate() != nil {
		return visit.GetLocalDate()
	}
	return localDate(visit.GetTakenAt(), settings.GetTimeZone())
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
