package judge_test

import (
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"
)

// drills are invented visits of every class of vehicle under every book of law: light,
// heavy, and what one law calls heavy and another light; on the first and the last day of its winter; with tires worn, and with tires
// damaged, old and barred. Where classes count as light at any weight the book is asked
// for by name too.
func drills() (all []*pb.AssessVisitRequest) {
	for _, b := range rulebook.All() {
		if b.Country == "" {
			continue
		}
		for class := pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR; class <= pb.VehicleClass_VEHICLE_CLASS_MOTORHOME; class++ {
			for _, kilograms := range []float64{3000, 4000, 6000} {
				for i, day := range winterDays(b) {
					all = append(all, drilled(b, class, kilograms, day, wornWheels(false)), drilled(b, class, kilograms, day, wornWheels(true)))
					if i == 0 {
						all = append(all, drilled(b, class, kilograms, day, barredWheels()))
					}
				}
			}
		}
	}
	for _, v := range slices.Clone(all) {
		if b := rulebook.Must(v.GetJudgeBy().GetRulebookIds()[0]).Binds; len(b.AnyRating) > 0 || b.RatingUpTo > 0 {
			named := proto.CloneOf(v)
			if named.GetVehicle().GetUse().Seats != nil {
				named.Vehicle.Use.Seats = new(int32(20))
			}
			all = append(all, named)
		}
		v.JudgeBy = nil
	}
	for class := pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR; class <= pb.VehicleClass_VEHICLE_CLASS_MOTORHOME; class++ {
		all = append(all, lowOnAir(class))
	}
	return append(all, unlikePair())
}

// lowOnAir is a vehicle on passenger tires that leave no reserve, each short of another
// share of its air, with more tread than a new one has.
func lowOnAir(class pb.VehicleClass) *pb.AssessVisitRequest {
	v := drilled(rulebook.Must("us-light"), class, 6000, &pb.CalendarDate{Year: 2026, Month: 6, Day: 2}, nil)
	v.JudgeBy = nil
	for _, a := range v.GetVehicle().GetAxles().GetAxles() {
		a.ColdNormalLoad, a.Rating, a.Size = inPsi(35), poundsOf(3900), "P235/75R15 105S"
	}
	for i, at := range []string{"1L", "1R", "2L", "2R"} {
		v.Inspection.Wheels = append(v.Inspection.Wheels, &pb.WheelReport{
			Position: at, Sidewall: &pb.Sidewall{Marking: "P235/75R15 105S", BodyPly: pb.BodyPly_BODY_PLY_STEEL},
			Pressures: []*pb.PressureReading{{Pressure: inPsi([]float64{35, 30, 26, 29}[i])}}, Tread: []*pb.TreadReading{{Depth: millimetersDeep(30)}},
		})
	}
	return v
}

// unlikePair is a bus with two tires side by side that are not of one size.
func unlikePair() *pb.AssessVisitRequest {
	v := drilled(rulebook.Must("us-heavy-model"), pb.VehicleClass_VEHICLE_CLASS_BUS, 6000, &pb.CalendarDate{Year: 2026, Month: 6, Day: 2}, nil)
	v.JudgeBy, v.Vehicle.Axles.Axles[1].Wheels = nil, pb.AxleWheels_AXLE_WHEELS_DUAL
	for i, at := range []string{"2LO", "2LI"} {
		v.Inspection.Wheels = append(v.Inspection.Wheels, &pb.WheelReport{
			Position: at, Sidewall: &pb.Sidewall{Marking: "11R22.5 144/142L"},
			Taped: &pb.TapedSize{Taped: &pb.TapedSize_Diameter{Diameter: millimetersOf([]float64{980, 1000}[i])}, SamePressure: pb.Answer_ANSWER_YES, InflatedADayBefore: pb.Answer_ANSWER_YES},
		})
	}
	return v
}

func millimetersDeep(n float64) *pb.Depth {
	return &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: n}}
}

// winterDays are the first and the last day of the seasons of a book's rules.
func winterDays(b *rulebook.Book) (days []*pb.CalendarDate) {
	for _, l := range b.Limits {
		if l.Winter != nil && l.Winter.HasSeason() {
			from, until := l.Winter.From, l.Winter.Until
			for _, d := range []*pb.CalendarDate{{Year: 2025, Month: int32(from.Month), Day: int32(from.Day)}, {Year: 2026, Month: int32(until.Month), Day: int32(until.Day)}} {
				if d.GetMonth() > 0 { // one that moves with Easter has its tests in calc/rulebook
					days = append(days, d)
				}
			}
		}
	}
	if len(days) > 4 {
		days = days[:4]
	}
	if len(days) == 0 {
		return []*pb.CalendarDate{{Year: 2026, Month: 1, Day: 10}}
	}
	return days
}

func drilled(b *rulebook.Book, class pb.VehicleClass, kilograms float64, day *pb.CalendarDate, wheels []*pb.WheelReport) *pb.AssessVisitRequest {
	use := &pb.VehicleUse{
		DrivenIn: []*pb.Jurisdiction{{Country: b.Country, State: b.Binds.State}}, BusinessAcrossStateLines: pb.Answer_ANSWER_NO, Tows: pb.Answer_ANSWER_NO,
	}
	if class == pb.VehicleClass_VEHICLE_CLASS_BUS {
		use.Seats = new(int32(12))
	}
	if b.Binds.CommercialFrom > 0 {
		use.BusinessAcrossStateLines = pb.Answer_ANSWER_YES
	}
	front, rear := &pb.Axle{Steered: pb.Answer_ANSWER_YES}, &pb.Axle{Driven: pb.Answer_ANSWER_YES, Steered: pb.Answer_ANSWER_NO}
	if class == pb.VehicleClass_VEHICLE_CLASS_TRAILER {
		front.Steered, rear.Driven = pb.Answer_ANSWER_NO, pb.Answer_ANSWER_NO
	}
	return &pb.AssessVisitRequest{
		Vehicle: &pb.Vehicle{
			VehicleClass: class, GrossRating: &pb.Mass{AsRead: &pb.Mass_Kilograms{Kilograms: kilograms}}, Axles: &pb.Axles{Axles: []*pb.Axle{front, rear}}, Use: use,
		},
		Inspection: &pb.Inspection{LocalDate: day, Conditions: &pb.Conditions{SnowSlushOrIce: pb.Answer_ANSWER_YES}, Wheels: wheels},
		JudgeBy:    &pb.JudgeBy{RulebookIds: []string{b.ID}}, Reader: full,
	}
}

// wornWheels are two winter tires and two that are none, each of another depth.
func wornWheels(crossPly bool) []*pb.WheelReport {
	marking, least := "225/75R16 116Q", 2.2
	if crossPly {
		marking, least = "10.00-20", 0.9
	}
	wheel := func(at string, mark pb.Answer, millimeters float64) *pb.WheelReport {
		w := &pb.WheelReport{Position: at, Sidewall: &pb.Sidewall{Marking: marking, ThreePeakSnowflake: mark, MudAndSnow: mark, Studded: pb.Answer_ANSWER_NO}}
		for _, across := range []pb.Across{pb.Across_ACROSS_INBOARD, pb.Across_ACROSS_CENTER, pb.Across_ACROSS_OUTBOARD} {
			w.Tread = append(w.Tread, &pb.TreadReading{Place: &pb.Place{Across: across}, Depth: millimetersDeep(millimeters)})
		}
		return w
	}
	const yes, no = pb.Answer_ANSWER_YES, pb.Answer_ANSWER_NO
	return []*pb.WheelReport{wheel("1L", yes, 2.3), wheel("1R", no, 6.5), wheel("2L", yes, 4.5), wheel("2R", yes, least)}
}

// barredWheels are tires that some law bars, each for other reasons.
func barredWheels() []*pb.WheelReport {
	saw := func(kinds ...pb.ObservationKind) (all []*pb.Observation) {
		for _, k := range kinds {
			all = append(all, &pb.Observation{Kind: k})
		}
		return all
	}
	const yes, old = pb.Answer_ANSWER_YES, "3B9X 4C2A1 1012"
	return []*pb.WheelReport{
		{Position: "1L", Sidewall: &pb.Sidewall{Marking: "225/75R16 116Q", Identification: old, Retread: yes}},
		{Position: "1R", Sidewall: &pb.Sidewall{Marking: "11R22.5 144/142L", Regrooved: yes}}, // of those that 49 CFR 393.75(e) bars
		{
			Position: "2L", Sidewall: &pb.Sidewall{Marking: "225/75R16 116Q", Identification: old, NotForHighway: yes},
			Observations: saw(pb.ObservationKind_OBSERVATION_KIND_CORD_SHOWING, pb.ObservationKind_OBSERVATION_KIND_BULGE),
		},
		{
			Position: "2R", Sidewall: &pb.Sidewall{Marking: "225/75R16 116Q", Regrooved: yes},
			Observations: saw(pb.ObservationKind_OBSERVATION_KIND_WHEEL_CRACK, pb.ObservationKind_OBSERVATION_KIND_FASTENER_MISSING),
		},
	}
}
