package judge_test

import (
	"slices"

	"google.golang.org/protobuf/proto"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// lawDrills are visits beside those made for each limit of a law, on both sides of whom it
// speaks of, when it holds and how it is measured.
func lawDrills() (all []*pb.AssessVisitRequest) {
	for _, b := range rulebook.All() {
		if b.Country == "" || b.Repairs != nil {
			continue
		}
		for _, l := range b.Limits {
			if l.Informs == "" {
				all = slices.Concat(all, []*pb.AssessVisitRequest{lawVisit(b, l)}, byClass(b, l), byWeight(b, l), byMark(b, l), byDay(b, l), byPlaces(b, l))
			}
		}
	}
	return slices.Concat(all, rimDrills(), deepDrills())
}

// byClass are a visit of each class that a limit, or the choice of its book, names, and
// one of a class that the limit does not name.
func byClass(b *rulebook.Book, l rulebook.Limit) (all []*pb.AssessVisitRequest) {
	named := l.Applies.Classes
	if len(named)+len(l.Applies.AnyRating)+len(b.Binds.AnyRating) == 0 {
		return nil
	}
	other := false
	for class := layout.PassengerCar; class <= layout.Motorhome; class++ {
		switch {
		case slices.Contains(named, class) || slices.Contains(l.Applies.AnyRating, class) || slices.Contains(b.Binds.AnyRating, class):
		case len(named) > 0 && !other:
			other = true
		default:
			continue
		}
		for _, kilograms := range []float64{0, 1900, 4000, 9000} {
			all = append(all, lawVisitOf(b, l, class, kilograms))
		}
	}
	return all
}

// byWeight are visits of vehicles under and over each weight at which a limit changes.
func byWeight(b *rulebook.Book, l rulebook.Limit) (all []*pb.AssessVisitRequest) {
	const under, over = 0.8, 1.2
	v, _, ok := speaksOf(b, l)
	for _, weight := range []unit.Mass{l.Applies.RatingOver, l.Applies.RatingUpTo} {
		if ok && weight > 0 {
			kilograms := weight.Amount(unit.Kilograms).Number
			for _, class := range []layout.Class{v.Class, layout.LightTruck, layout.Heavy} {
				all = append(all, lawVisitOf(b, l, class, under*kilograms), lawVisitOf(b, l, class, over*kilograms))
			}
		}
	}
	return all
}

// byMark are visits with tires of each mark, on the days on which it matters.
func byMark(b *rulebook.Book, l rulebook.Limit) (all []*pb.AssessVisitRequest) {
	const deep = 1.25
	base := lawVisitAt(b, l, deep)
	if l.Winter == nil || base == nil {
		return nil
	}
	days := []*pb.CalendarDate{base.GetInspection().GetLocalDate()}
	if d := l.Winter.MudAndSnowUntil; !d.IsZero() {
		for _, d := range []unit.Date{d, d.After(1), {Year: d.Year - 1, Month: 12, Day: 15}, {Year: d.Year, Month: 12, Day: 15}, {Year: d.Year, Month: 2, Day: 15}} {
			days = append(days, &pb.CalendarDate{Year: int32(d.Year), Month: int32(d.Month), Day: int32(d.Day)})
		}
	}
	for _, day := range days {
		for _, marks := range [][3]pb.Answer{{yes, no, no}, {no, yes, no}, {no, no, yes}, {no, no, no}} {
			req := proto.CloneOf(base)
			req.Inspection.LocalDate = day
			s := req.GetInspection().GetWheels()[0].GetSidewall()
			s.ThreePeakSnowflake, s.MudAndSnow, s.Studded = marks[0], marks[1], marks[2]
			all = append(all, req)
		}
	}
	return all
}

// byDay are visits on the days about the first and the last of a season, with and without
// snow on the road.
func byDay(b *rulebook.Book, l rulebook.Limit) (all []*pb.AssessVisitRequest) {
	base := lawVisit(b, l)
	if l.Winter == nil || base == nil || !l.Winter.HasSeason() || l.Winter.AfterEaster > 0 {
		return nil
	}
	const year, near = 2027, 5
	for _, d := range []rulebook.Day{l.Winter.From, l.Winter.Until} {
		for _, by := range []int{-near, -1, 0, 1, near} {
			day := unit.Date{Year: year, Month: d.Month, Day: d.Day}.After(by)
			for _, road := range []pb.Answer{yes, no} {
				req := proto.CloneOf(base)
				req.Inspection.LocalDate = &pb.CalendarDate{Year: int32(day.Year), Month: int32(day.Month), Day: int32(day.Day)}
				req.Inspection.Conditions.SnowSlushOrIce = road
				all = append(all, req)
			}
		}
	}
	return all
}

// byPlaces are visits to each further State of a book, and with a tire that is low in one
// groove alone, or at one place.
func byPlaces(b *rulebook.Book, l rulebook.Limit) (all []*pb.AssessVisitRequest) {
	base := lawVisit(b, l)
	if base == nil {
		return nil
	}
	for _, state := range b.Binds.Also {
		req := proto.CloneOf(base)
		req.GetVehicle().GetUse().GetDrivenIn()[0].State = state
		all = append(all, req)
	}
	readings := func(req *pb.AssessVisitRequest) []*pb.TreadReading {
		return req.GetInspection().GetWheels()[0].GetTread()
	}
	if l.Where == rulebook.NoPlace || len(readings(base)) == 0 {
		return all
	}
	for _, low := range []func(p *pb.Place) bool{
		func(p *pb.Place) bool { return p.GetAcross() == pb.Across_ACROSS_CENTER },
		func(p *pb.Place) bool { return p.GetAcross() == pb.Across_ACROSS_INBOARD },
		func(p *pb.Place) bool { return p.GetStation() == 1 },
		func(p *pb.Place) bool { return p.GetStation() == 1 && p.GetAcross() == pb.Across_ACROSS_OUTBOARD },
		func(p *pb.Place) bool { return p.GetStation() <= 2 && p.GetAcross() != pb.Across_ACROSS_OUTBOARD },
		func(p *pb.Place) bool { return p.GetStation() <= 3 && p.GetAcross() != pb.Across_ACROSS_CENTER },
		func(p *pb.Place) bool { return p.GetStation() <= 3 && p.GetAcross() != pb.Across_ACROSS_OUTBOARD },
	} {
		req := proto.CloneOf(base)
		for _, r := range readings(req) {
			if !low(r.GetPlace()) {
				r.Depth = &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: 8}}
			}
		}
		all = append(all, req)
	}
	return all
}

// rimDrills are large vehicles of each class with a damaged tire on a wheel of each kind.
func rimDrills() (all []*pb.AssessVisitRequest) {
	const large = 18_000
	for class := layout.Heavy; class <= layout.Motorhome; class++ {
		for _, kind := range []pb.WheelKind{pb.WheelKind_WHEEL_KIND_MULTI_PIECE, pb.WheelKind_WHEEL_KIND_SINGLE_PIECE} {
			v := vehicleOf(layout.Vehicle{Class: class, GrossRating: unit.MustMass(large, unit.Kilograms)}, &pb.Jurisdiction{Country: "US", State: "OH"})
			all = append(all, &pb.AssessVisitRequest{Vehicle: v, Inspection: &pb.Inspection{
				LocalDate: &pb.CalendarDate{Year: 2026, Month: 7, Day: 15},
				Wheels:    []*pb.WheelReport{{Position: "2L", WheelKind: kind, Observations: []*pb.Observation{{Kind: pb.ObservationKind_OBSERVATION_KIND_BULGE}}}},
			}})
		}
	}
	return all
}

// deepDrills are tires of each class, deeper than any that are usual.
func deepDrills() (all []*pb.AssessVisitRequest) {
	for class := layout.PassengerCar; class <= layout.Motorhome; class++ {
		for _, thirtySeconds := range []float64{14, 18, 24, 40} {
			v := vehicleOf(layout.Vehicle{Class: class}, &pb.Jurisdiction{Country: "US", State: "OH"})
			v.GrossRating = nil
			all = append(all, &pb.AssessVisitRequest{Vehicle: v, Inspection: &pb.Inspection{
				LocalDate: &pb.CalendarDate{Year: 2026, Month: 7, Day: 15},
				Wheels: []*pb.WheelReport{{Position: "2L", Tread: []*pb.TreadReading{{Place: &pb.Place{Across: pb.Across_ACROSS_CENTER},
					Depth: &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: thirtySeconds}}}}}},
			}})
		}
	}
	return all
}
