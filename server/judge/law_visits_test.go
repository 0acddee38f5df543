package judge_test

import (
	"slices"
	"strings"
	"testing"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/judge"
)

// lawVisit is a visit whose answer depends on a limit of a law: a vehicle and a wheel of
// which it speaks, at its place, on a day and a road on which it holds, with the tire four
// fifths as deep as it asks, or in the condition that it forbids. nil where it only
// informs, or is about something else than a tire.
func lawVisit(b *rulebook.Book, l rulebook.Limit) *pb.AssessVisitRequest {
	const share = 0.8
	return lawVisitAt(b, l, share)
}

// lawVisitAt is the visit with this share of the depth that the limit asks for.
func lawVisitAt(b *rulebook.Book, l rulebook.Limit, share float64) *pb.AssessVisitRequest {
	v, at, ok := speaksOf(b, l)
	if b.Country == "" || b.Repairs != nil || l.Informs != "" || !ok {
		return nil
	}
	return visitTo(b, l, v, at, share)
}

// lawVisitOf is such a visit of a vehicle of this class and rating, not told where it is 0,
// whether the limit speaks of it or not.
func lawVisitOf(b *rulebook.Book, l rulebook.Limit, class layout.Class, kilograms float64) *pb.AssessVisitRequest {
	const share = 0.8
	v, at, ok := speaksOf(b, l)
	if !ok {
		return nil
	}
	v.Class, v.GrossRating = class, unit.MustMass(kilograms, unit.Kilograms)
	return visitTo(b, l, v, at, share)
}

// visitTo is a visit of a vehicle with this share of the depth that a limit asks for at one
// of its wheels, or in the condition that it forbids.
func visitTo(b *rulebook.Book, l rulebook.Limit, v layout.Vehicle, at layout.Position, share float64) *pb.AssessVisitRequest {
	place := &pb.Jurisdiction{Country: b.Country, State: b.Binds.State}
	if b.Floor {
		place.Country = "GR" // a member whose own law is not here
	}
	wheel := &pb.WheelReport{Position: at.String(), Sidewall: &pb.Sidewall{ThreePeakSnowflake: yes, MudAndSnow: yes, Studded: no}}
	if l.Winter != nil && l.Winter.DepthWillDo {
		wheel.Sidewall.ThreePeakSnowflake, wheel.Sidewall.MudAndSnow = no, no // a tire without the mark
	}
	visit := &pb.Inspection{Gauges: []*pb.Gauge{fineGauge()}, Wheels: []*pb.WheelReport{wheel}, LocalDate: dayIn(l), Conditions: &pb.Conditions{SnowSlushOrIce: yes}}
	if !broken(b, l, v, wheel, visit, share) {
		return nil
	}
	vehicle := vehicleOf(v, place)
	if l.Subject == rulebook.PairDiameter {
		vehicle.Axles.Axles[1].Wheels = pb.AxleWheels_AXLE_WHEELS_DUAL
	}
	switch l.Subject {
	case rulebook.SlowerTire:
		vehicle.MaximumSpeed = &pb.Speed{AsRead: &pb.Speed_KilometersPerHour{KilometersPerHour: 250}}
	case rulebook.TowingPressure:
		vehicle.Use.Tows = yes
		for _, a := range vehicle.Axles.Axles {
			a.ColdNormalLoad = kilopascals(220)
		}
	}
	if n := l.Applies.SeatsOver; n > 0 {
		vehicle.Use.Seats = new(int32(n + 1))
	}
	return &pb.AssessVisitRequest{Vehicle: vehicle, Inspection: visit}
}

// broken writes down what the limit forbids; false where this knows none.
func broken(b *rulebook.Book, l rulebook.Limit, v layout.Vehicle, w *pb.WheelReport, visit *pb.Inspection, share float64) bool {
	seen := map[rulebook.Subject]pb.ObservationKind{
		finding.LawCordExposed: pb.ObservationKind_OBSERVATION_KIND_CORD_SHOWING, finding.LawSeparation: pb.ObservationKind_OBSERVATION_KIND_BULGE,
		finding.LawFlatOrLeaking: pb.ObservationKind_OBSERVATION_KIND_AIR_LEAK,
	}
	switch {
	case seen[l.Subject] != 0:
		w.Observations = []*pb.Observation{{Kind: seen[l.Subject]}}
	case l.Subject == rulebook.TreadDepth, l.Subject == rulebook.MajorDefect, l.Subject == rulebook.WinterTire && !l.Value.IsZero():
		w.Tread = allOver(share, l, pb.Phase_PHASE_AS_FOUND)
	case l.Subject == rulebook.WinterTire:
		w.Sidewall.ThreePeakSnowflake, w.Sidewall.MudAndSnow = no, no
	case l.Subject == rulebook.ToFit:
		visit.WorkDone = []*pb.WorkDone{{Kind: pb.WorkKind_WORK_KIND_TIRES_REPLACED, Positions: []string{w.GetPosition()}, DoneBy: "invented"}}
		depth := l
		for _, o := range b.About(rulebook.TreadDepth) {
			if l.Value.IsZero() && o.AppliesTo(v, layout.MustParse(w.GetPosition())) {
				depth = o
			}
		}
		w.Tread = allOver(share, depth, pb.Phase_PHASE_AS_LEFT)
	case l.Subject == rulebook.RetreadOnFront:
		w.Sidewall.Retread = yes
	case l.Subject == rulebook.Regrooved:
		w.Sidewall.Regrooved = yes
	case l.Subject == rulebook.NotForHighway:
		w.Sidewall.NotForHighway = yes
	case l.Subject == rulebook.ConstructionMix, l.Subject == rulebook.RadialAhead, l.Subject == rulebook.WholeVehicle:
		mixed(l, w, visit)
	case l.Subject == rulebook.SlowerTire:
		w.Sidewall.Marking, visit.Conditions.TireSpeedShown = "195/65R15 91"+symbolBelow(l), no
	case l.Subject == rulebook.SpareOnRoad:
		w.Sidewall.Marking = "T125/70D16 96M"
	case l.Subject == rulebook.TowingPressure:
		w.Pressures = []*pb.PressureReading{{Pressure: kilopascals(220 + share*l.Value.Number)}}
		visit.Conditions.Driven = &pb.DrivenBefore{DrivenHere: no, LoadedOrTowing: yes}
	case l.Subject == rulebook.Studs:
		w.Sidewall.Studded, visit.Conditions.SnowSlushOrIce = yes, no
	case l.Subject == rulebook.AxleDiameter:
		w.Taped = tapedRound(2000)
		visit.Wheels = append(visit.Wheels, &pb.WheelReport{Position: layout.MustParse(w.GetPosition()).Mirror().String(), Taped: tapedRound(2000 * (1 + l.Value.Number/50))})
	case l.Subject == rulebook.PairDiameter:
		w.Position, w.Taped = "2LI", tapedRound(2000)
		visit.Wheels = append(visit.Wheels, &pb.WheelReport{Position: "2LO", Taped: tapedRound(2200)})
	case l.Subject == rulebook.TireAge:
		w.Sidewall.Identification = "0115" // the first week of 2015
	case l.Subject == finding.LawCut && (l.Value.Unit == unit.Millimeters || l.Value.Unit == unit.Inches):
		long := &pb.Length{AsRead: &pb.Length_Millimeters{Millimeters: 2 * l.Length().In(unit.Millimeters)}}
		w.Observations = []*pb.Observation{{Kind: pb.ObservationKind_OBSERVATION_KIND_CUT_TO_CORD, Size: long}}
	default:
		return false
	}
	return true
}

// mixed puts bias tires beside radial ones, or behind them.
func mixed(l rulebook.Limit, w *pb.WheelReport, visit *pb.Inspection) {
	const radial, bias = "P195/75R14 92S", "P195/75D14 92S"
	w.Sidewall.Marking = radial
	for _, at := range []string{"1L", "1R", "2L", "2R"} {
		marking := radial
		if l.Subject != rulebook.ConstructionMix && at[0] == '2' || l.Subject == rulebook.ConstructionMix && at == "1R" {
			marking = bias
		}
		if at != w.GetPosition() {
			visit.Wheels = append(visit.Wheels, &pb.WheelReport{Position: at, Sidewall: &pb.Sidewall{Marking: marking}})
		}
	}
}

// symbolBelow is a speed symbol below what the limit asks for; any below the vehicle's
// where it has no figure.
func symbolBelow(l rulebook.Limit) string {
	of := map[string]float64{"T": 190, "P": 150, "M": 130, "K": 110} // testdata/published/speed_symbol.csv
	for _, s := range []string{"T", "P", "M", "K"} {
		if l.Value.IsZero() || of[s] < l.Value.Number {
			return s
		}
	}
	return ""
}

func kilopascals(n float64) *pb.Pressure {
	return &pb.Pressure{AsRead: &pb.Pressure_Kilopascals{Kilopascals: n}}
}

func tapedRound(millimeters float64) *pb.TapedSize {
	return &pb.TapedSize{Taped: &pb.TapedSize_Circumference{Circumference: &pb.Length{AsRead: &pb.Length_Millimeters{Millimeters: millimeters}}}, SamePressure: yes, InflatedADayBefore: yes}
}

// allOver is one depth at three grooves and four places round the tire.
func allOver(share float64, l rulebook.Limit, phase pb.Phase) (all []*pb.TreadReading) {
	depth := &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: share * l.Value.Number}}
	if l.Value.Unit == unit.ThirtySecondsInch {
		depth = &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: share * l.Value.Number}}
	}
	const stations = 4
	for _, across := range []pb.Across{pb.Across_ACROSS_INBOARD, pb.Across_ACROSS_CENTER, pb.Across_ACROSS_OUTBOARD} {
		for station := range int32(stations) {
			all = append(all, &pb.TreadReading{Place: &pb.Place{Across: across, Station: station + 1}, Depth: depth, Phase: phase})
		}
	}
	return all
}

func fineGauge() *pb.Gauge {
	fine := &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: 0.01}}
	return &pb.Gauge{Kind: pb.GaugeKind_GAUGE_KIND_DEPTH_ELECTRONIC, Resolution: &pb.Gauge_Depth{Depth: fine},
		Accuracy: &pb.Quantity{Amount: &pb.Quantity_Depth{Depth: fine}}, Repeatability: &pb.Quantity{Amount: &pb.Quantity_Depth{Depth: fine}}}
}

// dayIn is a day on which a limit holds.
func dayIn(l rulebook.Limit) *pb.CalendarDate {
	day := unit.Date{Year: 2026, Month: 1, Day: 15}
	holds := finding.Yes
	if l.Subject == rulebook.Studs {
		holds = finding.No // it bars them out of the season
	}
	for l.Winter != nil && l.Winter.Covers(day) != holds {
		day = day.After(15)
	}
	return &pb.CalendarDate{Year: int32(day.Year), Month: int32(day.Month), Day: int32(day.Day)}
}

// speaksOf is a vehicle, and one of its wheels, which a book binds and of which a limit of
// it speaks.
func speaksOf(b *rulebook.Book, l rulebook.Limit) (v layout.Vehicle, at layout.Position, ok bool) {
	for class := layout.PassengerCar; class <= layout.Motorhome; class++ {
		for _, kilograms := range []float64{1900, 3000, 5000, 9000, 18_000} {
			v := layout.Vehicle{Class: class, GrossRating: unit.MustMass(kilograms, unit.Kilograms), Axles: []layout.Axle{{Steered: class != layout.Trailer}, {Driven: class != layout.Trailer}}}
			for _, p := range []string{"1L", "2L"} {
				if at := layout.MustParse(p); !rulebook.Contradicts(v) && l.AppliesTo(v, at) && binds(b, v) {
					return v, at, true
				}
			}
		}
	}
	return v, at, false
}

// binds tells that a book is chosen for a vehicle at its place, outside of business.
func binds(b *rulebook.Book, v layout.Vehicle) bool {
	books, _ := rulebook.Choose(v, rulebook.Use{Places: []rulebook.Place{{Country: b.Country, State: b.Binds.State}}, Interstate: finding.No, Tows: finding.No}, nil)
	return b.Floor || slices.ContainsFunc(books, func(a rulebook.Applied) bool { return a.Book == b && !a.For(rulebook.Limit{}).Candidate })
}

func vehicleOf(v layout.Vehicle, place *pb.Jurisdiction) *pb.Vehicle {
	axles := []*pb.Axle{{}, {}}
	if v.Class != layout.Trailer {
		axles[1].Driven = yes
	}
	var rating *pb.Mass
	if v.GrossRating > 0 {
		rating = &pb.Mass{AsRead: &pb.Mass_Kilograms{Kilograms: v.GrossRating.Amount(unit.Kilograms).Number}}
	}
	return &pb.Vehicle{
		VehicleClass: pb.VehicleClass(v.Class), GrossRating: rating, Axles: &pb.Axles{Axles: axles},
		Use: &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{place}, BusinessAcrossStateLines: no, Tows: no},
	}
}

// Every limit of a law of a place decides of a visit made for it, whatever else is found.
func TestEveryLawDecides(t *testing.T) {
	made := 0
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			req := lawVisit(b, l)
			if req == nil || b.ID == "us-commercial" || b.Binds.Model || l.Applies.CrossPly {
				continue
			}
			made++
			stands := false
			for _, f := range judge.Visit(req).GetFindings() {
				for _, r := range f.GetRules() {
					stands = stands || r.GetId() == b.ID+"."+l.ID && r.GetCandidate() == l.MayBe
				}
			}
			if !stands {
				t.Errorf("%s.%s: nothing is found by it\n%s", b.ID, l.ID, shownJSON(req))
			}
		}
	}
	if made < 100 {
		t.Errorf("only %d laws have a visit", made)
	}
}

// Every least depth of a law of a place is witnessed by visits below, at and above it: it
// is not met, cannot be told with a gauge that reads it, and is kept.
func TestEveryLawBelowAtAndAbove(t *testing.T) {
	for _, b := range rulebook.All() {
		for _, l := range b.Limits {
			id := b.ID + "." + l.ID
			depth := l.Subject == rulebook.TreadDepth || l.Subject == rulebook.MajorDefect || l.Subject == rulebook.WinterTire || l.Subject == rulebook.ToFit
			if lawVisit(b, l) == nil || !depth || l.Value.IsZero() || b.ID == "us-commercial" || b.Binds.Model || l.Applies.CrossPly {
				continue
			}
			for share, want := range map[float64]string{0.8: "BELOW", 1: "CANNOT_TELL", 1.25: "kept"} {
				req := lawVisitAt(b, l, share)
				got := ""
				a := judge.Visit(req)
				for _, f := range a.GetFindings() {
					if r := ruleOf(f); r.GetId() == id && !r.GetCandidate() {
						got = strings.TrimPrefix(f.GetComparison().String(), "COMPARISON_")
					}
				}
				for _, c := range a.GetNothingFound() {
					if c.GetRule().GetId() == id {
						got = "kept"
					}
				}
				if got != want {
					t.Errorf("%s at %v of it: %q, want %s", id, share, got, want)
				}
			}
		}
	}
}
