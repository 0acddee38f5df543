package check

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/types/known/durationpb"
	"google.golang.org/protobuf/types/known/timestamppb"

	"gaugebook.dev/calc/rulebook"
	pb "gaugebook.dev/proto/gaugebook/v1"
)

// Ids of invented records.
const (
	vehicleID = "0f0a1c52-6f1e-4a57-9d0c-3a5a7e1b0001"
	visitID   = "0f0a1c52-6f1e-4a57-9d0c-3a5a7e1b0002"
	earlierID = "0f0a1c52-6f1e-4a57-9d0c-3a5a7e1b0003"
	tireID    = "0f0a1c52-6f1e-4a57-9d0c-3a5a7e1b0004"
	otherID   = "0f0a1c52-6f1e-4a57-9d0c-3a5a7e1b0005"
)

// visit is an invented visit of a van with dual rear wheels, with nothing wrong
// in the request.
func visit() *pb.AssessVisitRequest {
	return &pb.AssessVisitRequest{
		Vehicle: &pb.Vehicle{
			Id:           vehicleID,
			VehicleClass: pb.VehicleClass_VEHICLE_CLASS_LIGHT_TRUCK,
			Axles:        axles(&pb.Axle{ColdNormalLoad: psi(60)}, &pb.Axle{Wheels: pb.AxleWheels_AXLE_WHEELS_DUAL, ColdNormalLoad: psi(65)}),
			Spare:        &pb.Spare{Kind: pb.SpareKind_SPARE_KIND_FULL_SIZE_MATCHING},
			Use:          &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "US", State: "CA"}}},
			GrossRating:  pounds(9900),
		},
		Tires: []*pb.Tire{{Id: tireID}},
		Inspection: &pb.Inspection{
			Id:        visitID,
			VehicleId: vehicleID,
			TakenTime: timestamppb.New(time.Date(2026, 3, 2, 15, 0, 0, 0, time.UTC)),
			LocalDate: day(2026, 3, 2),
			Odometer:  miles(48_210),
			Conditions: &pb.Conditions{
				Air:        celsius(18),
				Outside:    celsius(-6),
				Atmosphere: &pb.Conditions_Altitude{Altitude: meters(240)},
				Driven:     &pb.DrivenBefore{Parked: durationpb.New(time.Hour)},
				Complaints: []*pb.Complaint{{Position: "2RO", SpeedFrom: mph(50), SpeedTo: mph(65)}},
			},
			Gauges: []*pb.Gauge{
				{Resolution: &pb.Gauge_Depth{Depth: thirtySeconds(1)}, Kind: pb.GaugeKind_GAUGE_KIND_DEPTH_PROBE},
				{
					Resolution: &pb.Gauge_Pressure{Pressure: psi(0.5)}, Kind: pb.GaugeKind_GAUGE_KIND_DIGITAL,
					Repeatability: &pb.Quantity{Amount: &pb.Quantity_Pressure{Pressure: psi(0.3)}},
					Accuracy:      &pb.Quantity{Amount: &pb.Quantity_Pressure{Pressure: psi(1)}},
				},
			},
			Wheels: []*pb.WheelReport{
				{
					Position: "1L", TireId: tireID,
					Tread: []*pb.TreadReading{
						across(pb.Across_ACROSS_INBOARD, thirtySeconds(6)),
						across(pb.Across_ACROSS_CENTER, thirtySeconds(7)),
						across(pb.Across_ACROSS_OUTBOARD, thirtySeconds(6.5)),
					},
					Pressures: []*pb.PressureReading{{Pressure: psi(54), TireTemperature: celsius(31)}},
					Looked:    []*pb.Looked{seen(pb.LookedAt_LOOKED_AT_OUTER_SIDEWALL)},
				},
				{Position: "2LI", Tread: []*pb.TreadReading{grooved(1, thirtySeconds(8))}},
				{Position: "S", Pressures: []*pb.PressureReading{{Pressure: psi(70)}}},
			},
		},
		Earlier: []*pb.Inspection{{Id: earlierID, VehicleId: vehicleID, LocalDate: day(2025, 9, 1), Wheels: []*pb.WheelReport{{Position: "1L"}}}},
		JudgeBy: &pb.JudgeBy{RulebookIds: []string{"us-light"}, AsOf: day(2026, 3, 2)},
		Reader:  &pb.Reader{Language: "en"},
	}
}

func thirtySeconds(n float64) *pb.Depth {
	return &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: n}}
}
func millimeters(n float64) *pb.Depth {
	return &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: n}}
}
func psi(n float64) *pb.Pressure { return &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: n}} }
func bar(n float64) *pb.Pressure { return &pb.Pressure{AsRead: &pb.Pressure_Bar{Bar: n}} }
func kPa(n float64) *pb.Pressure {
	return &pb.Pressure{AsRead: &pb.Pressure_Kilopascals{Kilopascals: n}}
}
func celsius(n float64) *pb.Temperature {
	return &pb.Temperature{AsRead: &pb.Temperature_Celsius{Celsius: n}}
}
func fahrenheit(n float64) *pb.Temperature {
	return &pb.Temperature{AsRead: &pb.Temperature_Fahrenheit{Fahrenheit: n}}
}
func meters(n float64) *pb.Height  { return &pb.Height{AsRead: &pb.Height_Meters{Meters: n}} }
func miles(n float64) *pb.Distance { return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: n}} }
func mph(n float64) *pb.Speed      { return &pb.Speed{AsRead: &pb.Speed_MilesPerHour{MilesPerHour: n}} }
func kmh(n float64) *pb.Speed {
	return &pb.Speed{AsRead: &pb.Speed_KilometersPerHour{KilometersPerHour: n}}
}
func pounds(n float64) *pb.Mass      { return &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: n}} }
func long(n float64) *pb.Length      { return &pb.Length{AsRead: &pb.Length_Millimeters{Millimeters: n}} }
func inches(n float64) *pb.Length    { return &pb.Length{AsRead: &pb.Length_Inches{Inches: n}} }
func poundFeet(n float64) *pb.Torque { return &pb.Torque{AsRead: &pb.Torque_PoundFeet{PoundFeet: n}} }
func hPa(n float64) *pb.Conditions_Barometer {
	return &pb.Conditions_Barometer{Barometer: &pb.AirPressure{AsRead: &pb.AirPressure_Hectopascals{Hectopascals: n}}}
}
func inHg(n float64) *pb.Conditions_Barometer {
	return &pb.Conditions_Barometer{Barometer: &pb.AirPressure{AsRead: &pb.AirPressure_InchesMercury{InchesMercury: n}}}
}
func day(y, m, d int32) *pb.CalendarDate { return &pb.CalendarDate{Year: y, Month: m, Day: d} }

func across(a pb.Across, d *pb.Depth) *pb.TreadReading {
	return &pb.TreadReading{Place: &pb.Place{Across: a}, Depth: d}
}

func grooved(n int32, d *pb.Depth) *pb.TreadReading {
	return &pb.TreadReading{Place: &pb.Place{Groove: n}, Depth: d}
}

func pair(high, low *pb.Depth) *pb.HighLowPair {
	return &pb.HighLowPair{Place: &pb.Place{Groove: 2}, High: high, Low: low}
}

func axles(all ...*pb.Axle) *pb.Axles { return &pb.Axles{Axles: all} }

func seen(what pb.LookedAt) *pb.Looked {
	return &pb.Looked{What: what, Looked: &pb.Looked_Seen{Seen: true}}
}

func notSeen(what pb.LookedAt, because pb.NotLookedReason) *pb.Looked {
	return &pb.Looked{What: what, Looked: &pb.Looked_NotBecause{NotBecause: because}}
}

func injured(i *pb.Injury) []*pb.Observation {
	return []*pb.Observation{{Kind: pb.ObservationKind_OBSERVATION_KIND_INJURY, Injury: i}}
}

func sizeOfInjury(i *pb.Injury) func(*pb.AssessVisitRequest) {
	return onWheel(func(w *pb.WheelReport) { w.Observations = injured(i) })
}

// onWheel breaks the first wheel of the visit, conditions its conditions.
func onWheel(f func(*pb.WheelReport)) func(*pb.AssessVisitRequest) {
	return func(r *pb.AssessVisitRequest) { f(r.Inspection.Wheels[0]) }
}

func conditions(f func(*pb.Conditions)) func(*pb.AssessVisitRequest) {
	return func(r *pb.AssessVisitRequest) { f(r.Inspection.Conditions) }
}

func firstDepth(d *pb.Depth) func(*pb.AssessVisitRequest) {
	return onWheel(func(w *pb.WheelReport) { w.Tread[0].Depth = d })
}

func firstPressure(p *pb.Pressure) func(*pb.AssessVisitRequest) {
	return onWheel(func(w *pb.WheelReport) { w.Pressures[0].Pressure = p })
}

func gauge(g *pb.Gauge) func(*pb.AssessVisitRequest) {
	return func(r *pb.AssessVisitRequest) { r.Inspection.Gauges = []*pb.Gauge{g} }
}

// wheelAt moves the first wheel to another position.
func wheelAt(s string) func(*pb.AssessVisitRequest) {
	return onWheel(func(w *pb.WheelReport) { w.Position = s })
}

const (
	depth    = "inspection.wheels[0].tread[0].depth: "
	pressure = "inspection.wheels[0].pressures[0].pressure: "
	position = "inspection.wheels[0].position: "
	form     = "the axle from the front and the side, with I or O on a dual axle (1L, 2RO), or S for the spare"
	noUUID   = "no UUID in the usual form; a UUID in lower case, such as 6b0c1f0e-8a53-4f0e-9d8e-2f1c5f0a7b10"
)

// rows break one thing each and say what is answered. Where a published
// standard decides, it is named beside the row; the other limits are those of
// the contract.
var rows = []struct {
	name  string
	spoil func(*pb.AssessVisitRequest)
	want  []string
}{
	{"nothing", func(*pb.AssessVisitRequest) {}, nil},

	// Quantities.
	{"negative depth", firstDepth(thirtySeconds(-3)), []string{depth + "-3/32 in: a depth is zero or more"}},
	{"depth over 40 mm", firstDepth(millimeters(40.1)), []string{depth + "40.1 mm: a depth is at most 40 mm; did you mean 4.01 mm?"}},
	{"depth far over 40 mm", firstDepth(thirtySeconds(1e300)), []string{depth + "1e+300/32 in: a depth is at most 40 mm"}},
	{"depth far below", firstDepth(millimeters(-1e300)), []string{depth + "-1e+300 mm: a depth is zero or more"}},
	{"depth of 40 mm", firstDepth(millimeters(40)), nil},
	{"depth of zero", firstDepth(thirtySeconds(0)), nil},
	{"depth finer than 0.1 nm", firstDepth(millimeters(3.00000001)), []string{depth + "3.00000001 mm: no gauge reads finer than 0.1 nm"}},
	{"length finer than 0.1 nm", sizeOfInjury(&pb.Injury{Size: inches(1. / 3)}),
		[]string{"inspection.wheels[0].observations[0].injury.size: 0.3333333333333333 in: no gauge reads finer than 0.1 nm"}},
	{"not a number", firstDepth(thirtySeconds(math.NaN())), []string{depth + "NaN/32 in: a finite number is wanted"}},
	{"infinite", firstPressure(psi(math.Inf(1))), []string{pressure + "+Inf psi: a finite number is wanted"}},
	{"depth without a number", firstDepth(&pb.Depth{}), []string{depth + "no number is given; name the unit: thirtySecondsInch or millimeters"}},
	{"pressure without a number", firstPressure(&pb.Pressure{}), []string{pressure + "no number is given; name the unit: psi, kilopascals or bar"}},
	{"no depth", firstDepth(nil), []string{depth + "missing; a depth; leave the reading out when none was taken"}},
	{"no pressure", firstPressure(nil), []string{pressure + "missing; a pressure; leave the reading out when none was taken"}},
	{"negative pressure", firstPressure(psi(-1)), []string{pressure + "-1 psi: a tire gauge reads 0 or more"}},
	{"flat", firstPressure(psi(0)), nil},
	{"below vacuum", firstPressure(bar(-1.1)), []string{pressure + "-1.1 bar: no gauge can show less than a vacuum, -14.7 psi"}},
	{"absurd pressure", firstPressure(psi(204)), []string{pressure + "204 psi: a tire pressure is at most 1400 kPa (14 bar, 203 psi); did you mean 204 kPa or 20.4 psi?"}},
	{"bar for psi", firstPressure(bar(33)), []string{pressure + "33 bar: a tire pressure is at most 1400 kPa (14 bar, 203 psi); did you mean 33 psi or 3.3 bar?"}},
	{"psi for kPa", firstPressure(psi(230)), []string{pressure + "230 psi: a tire pressure is at most 1400 kPa (14 bar, 203 psi); did you mean 230 kPa or 23 psi?"}},
	{"psi for kPa on a label", func(r *pb.AssessVisitRequest) { r.Vehicle.Axles.Axles[0].ColdNormalLoad = psi(450) },
		[]string{"vehicle.axles.axles[0].coldNormalLoad: 450 psi: a tire pressure is at most 1400 kPa (14 bar, 203 psi); did you mean 450 kPa or 45 psi?"}},
	{"a depth without its point", firstDepth(millimeters(70)), []string{depth + "70 mm: a depth is at most 40 mm; did you mean 7 mm?"}},
	{"Celsius for Fahrenheit", conditions(func(c *pb.Conditions) { c.Air = celsius(68) }),
		[]string{"inspection.conditions.air: 68 °C: air is between -90 and 65 °C (-130 and 149 °F); did you mean 68 °F?"}},
	{"a hole in inches for millimeters", sizeOfInjury(&pb.Injury{Size: inches(14)}),
		[]string{"inspection.wheels[0].observations[0].injury.size: 14 in: an injury is at most 300 mm; did you mean 14 mm?"}},
	{"a place in meters for feet", conditions(func(c *pb.Conditions) { c.Atmosphere = &pb.Conditions_Altitude{Altitude: meters(7200)} }),
		[]string{"inspection.conditions.altitude: 7200 m: a place is between -500 and 6000 m (-1640 and 19685 ft); did you mean 7200 ft?"}},
	{"in no unit", firstPressure(psi(3000)), []string{pressure + "3000 psi: a tire pressure is at most 1400 kPa (14 bar, 203 psi)"}},
	{"highest pressure", firstPressure(bar(14)), nil},
	{"barometer too low", conditions(func(c *pb.Conditions) { c.Atmosphere = hPa(299) }),
		[]string{"inspection.conditions.barometer: 299 hPa: a barometer shows 300 to 1100 hPa (8.86 to 32.48 inHg)"}},
	{"barometer in the wrong unit", conditions(func(c *pb.Conditions) { c.Atmosphere = inHg(1013) }),
		[]string{"inspection.conditions.barometer: 1013 inHg: a barometer shows 300 to 1100 hPa (8.86 to 32.48 inHg); did you mean 1013 hPa?"}},
	{"barometer of nothing", conditions(func(c *pb.Conditions) { c.Atmosphere = hPa(0) }),
		[]string{"inspection.conditions.barometer: 0 hPa: a barometer shows more than zero"}},
	{"altitude too low", conditions(func(c *pb.Conditions) { c.Atmosphere = &pb.Conditions_Altitude{Altitude: meters(-501)} }),
		[]string{"inspection.conditions.altitude: -501 m: a place is between -500 and 6000 m (-1640 and 19685 ft); did you mean -501 ft?"}},
	{"altitude too high", conditions(func(c *pb.Conditions) { c.AltitudeWhereDriven = meters(6001) }),
		[]string{"inspection.conditions.altitudeWhereDriven: 6001 m: a place is between -500 and 6000 m (-1640 and 19685 ft); did you mean 6001 ft?"}},
	{"air too hot", conditions(func(c *pb.Conditions) { c.Air = celsius(65.5) }),
		[]string{"inspection.conditions.air: 65.5 °C: air is between -90 and 65 °C (-130 and 149 °F); did you mean 65.5 °F?"}},
	{"air at the limit in the other unit", conditions(func(c *pb.Conditions) { c.Air, c.Outside = fahrenheit(149), fahrenheit(-130) }), nil},
	{"outside too cold", conditions(func(c *pb.Conditions) { c.Outside = celsius(-91) }),
		[]string{"inspection.conditions.outside: -91 °C: air is between -90 and 65 °C (-130 and 149 °F)"}},
	{"coldest morning too hot", conditions(func(c *pb.Conditions) { c.ColdestExpected = fahrenheit(200) }),
		[]string{"inspection.conditions.coldestExpected: 200 °F: air is between -90 and 65 °C (-130 and 149 °F)"}},
	{"below absolute zero", conditions(func(c *pb.Conditions) { c.Air = fahrenheit(-500) }),
		[]string{"inspection.conditions.air: -500 °F: nothing is colder than absolute zero, -459.67 °F"}},
	{"tire too hot", onWheel(func(w *pb.WheelReport) { w.Pressures[0].TireTemperature = celsius(201) }),
		[]string{"inspection.wheels[0].pressures[0].tireTemperature: 201 °C: a tire is between -90 and 200 °C (-130 and 392 °F); did you mean 201 °F?"}},
	{"hot tire", onWheel(func(w *pb.WheelReport) { w.Pressures[0].TireTemperature = celsius(110) }), nil},
	{"sensor too cold", onWheel(func(w *pb.WheelReport) { w.SensorReadings = []*pb.SensorReading{{Temperature: celsius(-95)}} }),
		[]string{"inspection.wheels[0].sensorReadings[0].temperature: -95 °C: a tire is between -90 and 200 °C (-130 and 392 °F); did you mean -95 °F?"}},
	{"negative odometer", func(r *pb.AssessVisitRequest) { r.Inspection.Odometer = miles(-1) },
		[]string{"inspection.odometer: -1 mi: an odometer reads zero or more"}},
	{"falling odometer", func(r *pb.AssessVisitRequest) { r.Earlier[0].Odometer = miles(90_000) }, nil},
	{"odometer too high", func(r *pb.AssessVisitRequest) { r.Inspection.Odometer = miles(1e7) },
		[]string{"inspection.odometer: 1e+07 mi: a distance is at most 10000000 km; did you mean 1e+07 km?"}},
	{"negative distance", conditions(func(c *pb.Conditions) { c.Driven.Distance = miles(-2) }),
		[]string{"inspection.conditions.driven.distance: -2 mi: a distance is zero or more"}},
	{"negative rating", func(r *pb.AssessVisitRequest) { r.Vehicle.GrossRating = pounds(-1) },
		[]string{"vehicle.grossRating: -1 lb: a rating or weight of zero or more"}},
	{"rating too high", func(r *pb.AssessVisitRequest) { r.Vehicle.Axles.Axles[1].Rating = pounds(500_000) },
		[]string{"vehicle.axles.axles[1].rating: 500000 lb: a mass is at most 200000 kg"}},
	{"negative speed", conditions(func(c *pb.Conditions) { c.Complaints[0].SpeedFrom = mph(-5) }),
		[]string{"inspection.conditions.complaints[0].speedFrom: -5 mph: a speed is zero or more"}},
	{"speed too high", conditions(func(c *pb.Conditions) { c.Complaints[0].SpeedTo = mph(311) }),
		[]string{"inspection.conditions.complaints[0].speedTo: 311 mph: a speed is at most 500 km/h (310 mph); did you mean 311 km/h?"}},
	{"torque of zero", onWheel(func(w *pb.WheelReport) { w.FastenerWork = &pb.FastenerWork{Torque: poundFeet(0)} }),
		[]string{"inspection.wheels[0].fastenerWork.torque: 0 lb ft: a torque is above zero"}},
	// 1 lbf ft = 1.355 818 N m (NIST Special Publication 811, Appendix B), so 1476 lbf ft is 2001.2 N m.
	{"torque too high", onWheel(func(w *pb.WheelReport) { w.FastenerWork = &pb.FastenerWork{Torque: poundFeet(1476)} }),
		[]string{"inspection.wheels[0].fastenerWork.torque: 1476 lb ft: a torque is at most 2000 N m (1475 lb ft); did you mean 1476 N m?"}},
	{"label pressure of zero", func(r *pb.AssessVisitRequest) { r.Vehicle.Axles.Axles[0].ColdNormalLoad = psi(0) },
		[]string{"vehicle.axles.axles[0].coldNormalLoad: 0 psi: a pressure that is asked for is above zero"}},
	{"negative pressure of the spare's label", func(r *pb.AssessVisitRequest) { r.Vehicle.Spare.ColdPressure = psi(-1) },
		[]string{"vehicle.spare.coldPressure: -1 psi: a pressure that is asked for is above zero"}},
	{"printed pressure of zero", onWheel(func(w *pb.WheelReport) { w.Sidewall = &pb.Sidewall{MaximumPressure: kPa(0)} }),
		[]string{"inspection.wheels[0].sidewall.maximumPressure: 0 kPa: a printed pressure is above zero"}},
	{"injury negative", sizeOfInjury(&pb.Injury{Size: long(-1)}),
		[]string{"inspection.wheels[0].observations[0].injury.size: -1 mm: a length is zero or more"}},
	{"injury too big", sizeOfInjury(&pb.Injury{SizeAfterPreparing: long(301)}),
		[]string{"inspection.wheels[0].observations[0].injury.sizeAfterPreparing: 301 mm: an injury is at most 300 mm"}},
	{"observation of negative size", onWheel(func(w *pb.WheelReport) { w.Observations = []*pb.Observation{{Size: inches(-0.5)}} }),
		[]string{"inspection.wheels[0].observations[0].size: -0.5 in: a length is zero or more"}},
	{"observation too long", onWheel(func(w *pb.WheelReport) { w.Observations = []*pb.Observation{{Size: inches(394)}} }),
		[]string{"inspection.wheels[0].observations[0].size: 394 in: a length is at most 10 m; did you mean 394 mm?"}},
	{"taped at zero", onWheel(func(w *pb.WheelReport) { w.Taped = &pb.TapedSize{Taped: &pb.TapedSize_Diameter{Diameter: long(0)}} }),
		[]string{"inspection.wheels[0].taped.diameter: 0 mm: a tire's size is above zero"}},
	{"nothing taped", onWheel(func(w *pb.WheelReport) { w.Taped = &pb.TapedSize{} }),
		[]string{"inspection.wheels[0].taped: nothing was taped; circumference or diameter"}},

	// Days and times. ISO 8601 uses the Gregorian calendar: 1900 and 2025 have
	// no 29 February, 2024 has.
	{"no such day of this year", func(r *pb.AssessVisitRequest) { r.Inspection.LocalDate = day(2025, 2, 29) },
		[]string{"inspection.localDate: 2025-02-29: no day of the calendar; year, month and day, from 1900 to 2200"}},
	{"no such day of the year 1900", conditions(func(c *pb.Conditions) { c.Driven.PressuresLastSetDate = day(1900, 2, 29) }),
		[]string{"inspection.conditions.driven.pressuresLastSetDate: 1900-02-29: no day of the calendar; year, month and day, from 1900 to 2200"}},
	{"leap day", func(r *pb.AssessVisitRequest) { r.Earlier[0].LocalDate = day(2024, 2, 29) }, nil},
	{"day without a number", func(r *pb.AssessVisitRequest) { r.JudgeBy.AsOf = &pb.CalendarDate{} },
		[]string{"judgeBy.asOf: 0000-00-00: no day of the calendar; year, month and day, from 1900 to 2200"}},
	{"month alone", func(r *pb.AssessVisitRequest) { r.Tires[0].FittedDate = &pb.CalendarDate{Year: 2024, Month: 5} },
		[]string{"tires[0].fittedDate: 2024-05-00: no day of the calendar; year, month and day, from 1900 to 2200"}},
	{"year too late", func(r *pb.AssessVisitRequest) { r.JudgeBy.AsOf = day(2201, 1, 1) },
		[]string{"judgeBy.asOf: 2201-01-01: no day of the calendar; year, month and day, from 1900 to 2200"}},
	{"judged for a day before the visit", func(r *pb.AssessVisitRequest) { r.JudgeBy.AsOf = day(2026, 3, 1) },
		[]string{"judgeBy.asOf: 2026-03-01: a visit is judged for its own day or a later one; not before 2026-03-02"}},
	{"earlier is later", func(r *pb.AssessVisitRequest) {
		r.Earlier = append(r.Earlier, &pb.Inspection{LocalDate: day(2026, 3, 3)})
	}, []string{"earlier[1].localDate: 2026-03-03: earlier[1] is not earlier; not after 2026-03-02"}},
	{"earlier is later than the day judged for", func(r *pb.AssessVisitRequest) {
		r.Inspection.LocalDate, r.Earlier[0].LocalDate = nil, day(2026, 3, 3)
	}, []string{"earlier[0].localDate: 2026-03-03: earlier[0] is not earlier; not after 2026-03-02"}},
	{"two visits on one day", func(r *pb.AssessVisitRequest) { r.Earlier[0].LocalDate = day(2026, 3, 2) }, nil},
	{"a wrong clock", func(r *pb.AssessVisitRequest) {
		r.Earlier[0].TakenTime = timestamppb.New(time.Date(2031, 1, 1, 0, 0, 0, 0, time.UTC))
	}, nil},
	{"no such time", func(r *pb.AssessVisitRequest) { r.Inspection.TakenTime = &timestamppb.Timestamp{Nanos: -1} },
		[]string{"inspection.takenTime: 0 s and -1 ns: no such time; a time of the years 1 to 9999"}},
	{"negative span", conditions(func(c *pb.Conditions) { c.Driven.Parked = durationpb.New(-time.Second) }),
		[]string{"inspection.conditions.driven.parked: -1 s and 0 ns: a span of time is zero or more"}},
	{"aired all the time", conditions(func(c *pb.Conditions) { c.Complaints[0].AiredEvery = &durationpb.Duration{} }),
		[]string{"inspection.conditions.complaints[0].airedEvery: 0 s: time between airings is above zero"}},

	// What there has to be.
	{"no inspection", func(r *pb.AssessVisitRequest) { r.Inspection = nil },
		[]string{"inspection: there is no visit to judge; an inspection"}},
	{"empty inspection", func(r *pb.AssessVisitRequest) { r.Inspection.Wheels = nil },
		[]string{"inspection: there is nothing to judge; wheels, the spare, work done, a photo, or what the customer notices or asks"}},
	{"spare only", func(r *pb.AssessVisitRequest) { r.Inspection.Wheels, r.Inspection.Spare = nil, &pb.SpareReport{} }, nil},
	{"work only", func(r *pb.AssessVisitRequest) {
		r.Inspection.Wheels, r.Inspection.WorkDone = nil, []*pb.WorkDone{{Positions: []string{"1L"}}}
	}, nil},
	{"changeover only", func(r *pb.AssessVisitRequest) { r.Inspection.Wheels, r.Inspection.Changeover = nil, &pb.Changeover{} }, nil},
	{"weights only", func(r *pb.AssessVisitRequest) {
		r.Inspection.Wheels, r.Inspection.AxleWeights = nil, []*pb.AxleWeight{{Axle: 1, Weight: pounds(4000)}}
	}, nil},
	{"earlier visit without readings", func(r *pb.AssessVisitRequest) { r.Earlier[0].Wheels = nil }, nil},
	{"no vehicle", func(r *pb.AssessVisitRequest) { r.Vehicle = nil }, nil},
	{"three numbers", func(r *pb.AssessVisitRequest) {
		wheel := &pb.WheelReport{Position: "1L", Tread: r.Inspection.Wheels[0].Tread}
		proto.Reset(r)
		r.Inspection = &pb.Inspection{Wheels: []*pb.WheelReport{wheel}}
	}, nil},
	{"a language without texts", func(r *pb.AssessVisitRequest) { r.Reader = &pb.Reader{Language: "xx-Latn", View: 99} }, nil},
	{"enum numbers of a newer client", func(r *pb.AssessVisitRequest) {
		r.Vehicle.VehicleClass, r.Vehicle.Spare.Kind, r.Vehicle.Axles.Axles[0].Kind, r.Vehicle.Axles.Axles[0].Wheels = 99, 99, 99, 99
		w := r.Inspection.Wheels[0]
		w.Tread[0].Phase, w.Tread[0].Gauge, w.Tread[1].Place = 99, 99, &pb.Place{Across: 99}
		w.Observations = []*pb.Observation{{Kind: 9999}}
		w.Looked = append(w.Looked, seen(99))
		r.Inspection.Gauges[0] = &pb.Gauge{Kind: 99}
	}, nil},

	// Positions.
	{"no position", wheelAt(""), []string{position + "missing; " + form}},
	{"front left by letters", wheelAt("LF"), []string{position + `"LF": no position; did you mean 1L?`}},
	{"lower case", wheelAt(" 1l"), []string{position + `" 1l": no position; did you mean 1L?`}},
	{"left rear by letters on a dual axle", wheelAt("LR"), []string{position + `"LR": no position; did you mean 2LI or 2LO?`}},
	{"spelled out spare", wheelAt("SPARE"), []string{position + `"SPARE": no position; did you mean S?`}},
	{"no position of any notation", wheelAt("front"), []string{position + `"front": no position; its wheels are 1L 1R 2LI 2LO 2RI 2RO`}},
	{"left rear on three axles", func(r *pb.AssessVisitRequest) {
		r.Vehicle.Axles.Axles = append(r.Vehicle.Axles.Axles, &pb.Axle{})
		r.Inspection.Wheels[0].Position = "LR"
	}, []string{position + `"LR": no position; its wheels are 1L 1R 2LI 2LO 2RI 2RO 3L 3R`}},
	{"a single on a dual axle", wheelAt("2L"), []string{position + `"2L": the vehicle has no such wheel; did you mean 2LI or 2LO?`}},
	{"a dual on a single axle", wheelAt("1RO"), []string{position + `"1RO": the vehicle has no such wheel; did you mean 1R?`}},
	{"no such axle", wheelAt("3L"), []string{position + `"3L": the vehicle has no such wheel; its wheels are 1L 1R 2LI 2LO 2RI 2RO`}},
	{"axles not told", func(r *pb.AssessVisitRequest) { r.Vehicle.Axles, r.Inspection.Wheels[0].Position = nil, "7RO" }, nil},
	{"axles not told, no position", func(r *pb.AssessVisitRequest) { r.Vehicle.Axles, r.Inspection.Wheels[0].Position = nil, "front" },
		[]string{position + `"front": no position; ` + form}},
	{"axles not told, front in other notation", func(r *pb.AssessVisitRequest) { r.Vehicle, r.Inspection.Wheels[0].Position = nil, "RF" },
		[]string{position + `"RF": no position; did you mean 1R?`}},
	{"axles not told, rear in other notation", func(r *pb.AssessVisitRequest) { r.Vehicle, r.Inspection.Wheels[0].Position = nil, "RR" },
		[]string{position + `"RR": no position; ` + form}},
	{"an earlier visit on other axles", func(r *pb.AssessVisitRequest) { r.Earlier[0].Wheels[0].Position = "2L" }, nil},
	{"an earlier visit's position", func(r *pb.AssessVisitRequest) { r.Earlier[0].Wheels[0].Position = "FL" },
		[]string{`earlier[0].wheels[0].position: "FL": no position; did you mean 1L?`}},
	{"twice at one position", func(r *pb.AssessVisitRequest) { r.Inspection.Wheels[1].Position = "1L" },
		[]string{`inspection.wheels[1].position: "1L": given twice: wheels[0] has it too`}},
	{"one tire at two positions", func(r *pb.AssessVisitRequest) { r.Inspection.Wheels[2].TireId = tireID },
		[]string{`inspection.wheels[2].tireId: "` + tireID + `": given twice: wheels[0] has it too`}},
	{"a complaint's position", conditions(func(c *pb.Conditions) { c.Complaints[0].Position = "RF" }),
		[]string{`inspection.conditions.complaints[0].position: "RF": no position; did you mean 1R?`}},
	{"where the spare is", func(r *pb.AssessVisitRequest) { r.Inspection.Spare = &pb.SpareReport{InServicePosition: "2R"} },
		[]string{`inspection.spare.inServicePosition: "2R": the vehicle has no such wheel; did you mean 2RI or 2RO?`}},
	{"where a sensor shows", onWheel(func(w *pb.WheelReport) { w.SensorReadings = []*pb.SensorReading{{ShownPosition: "OSF"}} }),
		[]string{`inspection.wheels[0].sensorReadings[0].shownPosition: "OSF": no position; did you mean 1R?`}},
	{"work at positions", func(r *pb.AssessVisitRequest) { r.WorkDone = []*pb.WorkDone{{Positions: []string{"9RO", "", "10L"}}} },
		[]string{`workDone[0].positions[1]: "": no position; ` + form, `workDone[0].positions[2]: "10L": no position; ` + form}},
	{"spare reported though there is none", func(r *pb.AssessVisitRequest) { r.Vehicle.Spare.Kind = pb.SpareKind_SPARE_KIND_NONE },
		[]string{`inspection.wheels[2].position: "S": the vehicle has no spare: SPARE_KIND_NONE; another kind of spare, or no report of it`}},
	{"spare reported beside a kit", func(r *pb.AssessVisitRequest) { r.Vehicle.Spare.Kind = pb.SpareKind_SPARE_KIND_NONE_SEALANT_KIT },
		[]string{`inspection.wheels[2].position: "S": the vehicle has no spare: SPARE_KIND_NONE_SEALANT_KIT; another kind of spare, or no report of it`}},
	{"spare of an earlier visit", func(r *pb.AssessVisitRequest) {
		r.Vehicle.Spare.Kind = pb.SpareKind_SPARE_KIND_NONE_SELF_SUPPORTING
		r.Inspection.Wheels[2].Position, r.Earlier[0].Wheels[0].Position = "2RO", "S"
	}, nil},

	// Readings of one tire.
	{"one spot twice", onWheel(func(w *pb.WheelReport) {
		again := across(pb.Across_ACROSS_CENTER, thirtySeconds(5))
		again.Phase = pb.Phase_PHASE_AS_FOUND // the first one's phase is not told: as found
		w.Tread = append(w.Tread, again)
	}), []string{"inspection.wheels[0].tread[3]: ACROSS_CENTER, station 0, as found, repeat 0: read twice: tread[1] is the same spot, phase and repeat; a repeat number for a second reading"}},
	{"one spot with a repeat, a phase, a station", onWheel(func(w *pb.WheelReport) {
		for i := range 3 {
			w.Tread = append(w.Tread, across(pb.Across_ACROSS_CENTER, thirtySeconds(5)))
			t := w.Tread[len(w.Tread)-1]
			switch i {
			case 0:
				t.Repeat = 1
			case 1:
				t.Phase = pb.Phase_PHASE_AS_LEFT
			case 2:
				t.Place.Station = 2
			}
		}
	}), nil},
	{"one groove twice", func(r *pb.AssessVisitRequest) {
		w := r.Inspection.Wheels[1]
		w.Tread[0].Place.Station, w.Tread[0].Phase = 3, pb.Phase_PHASE_AS_LEFT
		w.Tread = append(w.Tread, w.Tread[0])
	}, []string{"inspection.wheels[1].tread[1]: groove 1, station 3, as left, repeat 0: read twice: tread[0] is the same spot, phase and repeat; a repeat number for a second reading"}},
	{"places and grooves mixed", onWheel(func(w *pb.WheelReport) {
		w.Tread = append(w.Tread, grooved(1, thirtySeconds(5)), grooved(2, thirtySeconds(5)))
	}),
		[]string{"inspection.wheels[0].tread[3].place.groove: places across and groove numbers are mixed on one tire; only across, as in the first reading"}},
	{"no place", onWheel(func(w *pb.WheelReport) { w.Tread[1].Place = nil }), nil},
	{"three numbers only", func(r *pb.AssessVisitRequest) {
		depth := func(n float64) *pb.TreadReading { return &pb.TreadReading{Depth: thirtySeconds(n)} }
		*r = pb.AssessVisitRequest{Inspection: &pb.Inspection{Wheels: []*pb.WheelReport{{Position: "1L", Tread: []*pb.TreadReading{depth(5), depth(4), depth(5)}}}}}
	}, nil},
	{"groove -1", func(r *pb.AssessVisitRequest) { r.Inspection.Wheels[1].Tread[0] = grooved(-1, thirtySeconds(5)) },
		[]string{"inspection.wheels[1].tread[0].place.groove: -1: a groove is 1 to 9, counted from the vehicle outward, or 0 when not told"}},
	{"groove 10", func(r *pb.AssessVisitRequest) { r.Inspection.Wheels[1].Tread[0] = grooved(10, thirtySeconds(5)) },
		[]string{"inspection.wheels[1].tread[0].place.groove: 10: a groove is 1 to 9, counted from the vehicle outward, or 0 when not told"}},
	{"groove and place across of one reading", onWheel(func(w *pb.WheelReport) { w.Tread = w.Tread[:1]; w.Tread[0].Place.Groove = 2 }),
		[]string{"inspection.wheels[0].tread[0].place.groove: 2: the place across is told as well; one of the two"}},
	{"a depth on a sidewall", onWheel(func(w *pb.WheelReport) {
		w.Tread[0].Place.Part, w.Tread[1].Place.ClockDegrees = pb.TirePart_TIRE_PART_SIDEWALL, new(90.0)
		w.Tread[2].Place.FromCenterLine = long(40)
	}), []string{
		"inspection.wheels[0].tread[0].place.part: not how the place of a depth is told; only across, groove, station or fromCenterLine",
		"inspection.wheels[0].tread[1].place.clockDegrees: not how the place of a depth is told; only across, groove, station or fromCenterLine",
	}},
	{"a pair at a station", onWheel(func(w *pb.WheelReport) {
		w.HighLowPairs = []*pb.HighLowPair{{Place: &pb.Place{Station: 3}, High: thirtySeconds(8), Low: thirtySeconds(5)}}
	}), []string{"inspection.wheels[0].highLowPairs[0].place.station: not how the place of a depth is told; only across or groove"}},
	{"an injury measured from two lines", sizeOfInjury(&pb.Injury{Place: &pb.Place{FromCenterLine: long(20), FromShoulderEdge: long(50)}}),
		[]string{"inspection.wheels[0].observations[0].injury.place.fromShoulderEdge: measured from the center line as well; one of the two"}},
	{"station -1", onWheel(func(w *pb.WheelReport) { w.Tread[0].Place.Station = -1 }),
		[]string{"inspection.wheels[0].tread[0].place.station: -1: a station is 1 to 36, or 0 when not told"}},
	{"station 37", onWheel(func(w *pb.WheelReport) { w.Tread[0].Place.Station = 37 }),
		[]string{"inspection.wheels[0].tread[0].place.station: 37: a station is 1 to 36, or 0 when not told"}},
	{"repeat -1", onWheel(func(w *pb.WheelReport) { w.Tread[0].Repeat = -1 }),
		[]string{"inspection.wheels[0].tread[0].repeat: -1: a repeat is 0 (the first reading) to 9"}},
	{"repeat 10", onWheel(func(w *pb.WheelReport) { w.Pressures[0].Repeat = 10 }),
		[]string{"inspection.wheels[0].pressures[0].repeat: 10: a repeat is 0 (the first reading) to 9"}},
	{"one pressure twice", onWheel(func(w *pb.WheelReport) { w.Pressures = append(w.Pressures, &pb.PressureReading{Pressure: psi(55)}) }),
		[]string{"inspection.wheels[0].pressures[1]: as found, repeat 0: read twice: pressures[0] is the same phase and repeat; a repeat number for a second reading"}},
	{"pressure as found and as left", onWheel(func(w *pb.WheelReport) {
		w.Pressures = append(w.Pressures, &pb.PressureReading{Pressure: psi(60), Phase: pb.Phase_PHASE_AS_LEFT})
	}), nil},
	{"depth by a tire gauge", onWheel(func(w *pb.WheelReport) { w.Tread[0].Gauge = pb.GaugeKind_GAUGE_KIND_STICK }),
		[]string{"inspection.wheels[0].tread[0].gauge: GAUGE_KIND_STICK: this kind of gauge measures no depth"}},
	{"pressure by a caliper", onWheel(func(w *pb.WheelReport) { w.Pressures[0].Gauge = pb.GaugeKind_GAUGE_KIND_CALIPER }),
		[]string{"inspection.wheels[0].pressures[0].gauge: GAUGE_KIND_CALIPER: this kind of gauge measures no pressure"}},
	{"depth by a caliper", onWheel(func(w *pb.WheelReport) { w.Tread[0].Gauge = pb.GaugeKind_GAUGE_KIND_CALIPER }), nil},
	{"low above high", onWheel(func(w *pb.WheelReport) { w.HighLowPairs = []*pb.HighLowPair{pair(thirtySeconds(4), millimeters(3.2))} }),
		[]string{"inspection.wheels[0].highLowPairs[0].low: 3.2 mm: the shallower reading is deeper than the other, 4/32 in; the two the other way round"}},
	{"low equal to high", onWheel(func(w *pb.WheelReport) {
		w.HighLowPairs = []*pb.HighLowPair{pair(thirtySeconds(4), millimeters(3.175))}
	}), nil},
	{"half a pair", onWheel(func(w *pb.WheelReport) { w.HighLowPairs = []*pb.HighLowPair{{High: thirtySeconds(4)}} }), []string{
		"inspection.wheels[0].highLowPairs[0].low: missing; the shallower reading",
	}},
	{"the other half of a pair", onWheel(func(w *pb.WheelReport) { w.HighLowPairs = []*pb.HighLowPair{pair(nil, thirtySeconds(4))} }),
		[]string{"inspection.wheels[0].highLowPairs[0].high: missing; the deeper reading"}},
	{"angle of an injury", sizeOfInjury(&pb.Injury{AngleDegrees: new(90.5)}),
		[]string{"inspection.wheels[0].observations[0].injury.angleDegrees: 90.5: an injury's angle is 0 (straight in) to 90 degrees"}},
	{"straight in and at the valve", sizeOfInjury(&pb.Injury{AngleDegrees: proto.Float64(0), Place: &pb.Place{ClockDegrees: proto.Float64(0)}}), nil},
	{"a full turn", sizeOfInjury(&pb.Injury{Place: &pb.Place{ClockDegrees: proto.Float64(360)}}),
		[]string{"inspection.wheels[0].observations[0].injury.place.clockDegrees: 360: a place round the tire is 0 degrees or more and below 360; a full turn is 0"}},
	{"a negative turn", onWheel(func(w *pb.WheelReport) {
		w.Observations = []*pb.Observation{{Place: &pb.Place{ClockDegrees: proto.Float64(-10)}}}
	}),
		[]string{"inspection.wheels[0].observations[0].place.clockDegrees: -10: a place round the tire is 0 degrees or more and below 360; a full turn is 0"}},
	{"no turn at all", onWheel(func(w *pb.WheelReport) {
		w.Observations = []*pb.Observation{{Place: &pb.Place{ClockDegrees: new(math.NaN())}}}
	}),
		[]string{"inspection.wheels[0].observations[0].place.clockDegrees: NaN: a finite number is wanted"}},
	{"none counted", onWheel(func(w *pb.WheelReport) { w.Observations = []*pb.Observation{{Count: proto.Int32(0)}} }),
		[]string{"inspection.wheels[0].observations[0].count: 0: a count is 1 to 1000; leave it out when nothing was counted"}},
	{"looked at and not", onWheel(func(w *pb.WheelReport) {
		w.Looked = append(w.Looked, notSeen(pb.LookedAt_LOOKED_AT_OUTER_SIDEWALL, pb.NotLookedReason_NOT_LOOKED_REASON_COVERED))
	}), []string{"inspection.wheels[0].looked[1]: LOOKED_AT_OUTER_SIDEWALL: both looked at and not: looked[0] says otherwise; one of the two"}},
	{"looked at, which is not so", onWheel(func(w *pb.WheelReport) { w.Looked[0].Looked = &pb.Looked_Seen{} }),
		[]string{"inspection.wheels[0].looked[0].seen: false: neither seen nor told why not; seen: true, or notBecause with the reason"}},
	{"neither looked at nor not", onWheel(func(w *pb.WheelReport) { w.Looked[0].Looked = nil }),
		[]string{"inspection.wheels[0].looked[0]: neither seen nor told why not; seen: true, or notBecause with the reason"}},
	{"not looked at for no reason", onWheel(func(w *pb.WheelReport) { w.Looked[0] = notSeen(pb.LookedAt_LOOKED_AT_BEADS, 0) }),
		[]string{"inspection.wheels[0].looked[0].notBecause: NOT_LOOKED_REASON_UNSPECIFIED: neither seen nor told why not; seen: true, or notBecause with the reason"}},
	{"not looked at for a reason of a newer client", onWheel(func(w *pb.WheelReport) { w.Looked[0] = notSeen(pb.LookedAt_LOOKED_AT_BEADS, 77) }), nil},
	{"looked at twice", onWheel(func(w *pb.WheelReport) { w.Looked = append(w.Looked, w.Looked[0]) }), nil},
	{"marks twice", onWheel(func(w *pb.WheelReport) {
		w.Marks = []*pb.MountingMarks{{}, {Phase: pb.Phase_PHASE_AS_LEFT}, {Phase: pb.Phase_PHASE_AS_LEFT}}
	}), []string{"inspection.wheels[0].marks[2]: as left: marks[1] is of this phase too"}},
	{"sensor twice", onWheel(func(w *pb.WheelReport) { w.SensorReadings = []*pb.SensorReading{{Phase: 7}, {Phase: 7}} }),
		[]string{"inspection.wheels[0].sensorReadings[1]: phase 7: sensorReadings[0] is of this phase too"}},
	{"more damaged than there are", onWheel(func(w *pb.WheelReport) {
		w.FastenerWork = &pb.FastenerWork{Counted: proto.Int32(5), Damaged: proto.Int32(6), Replaced: proto.Int32(7)}
	}), []string{
		"inspection.wheels[0].fastenerWork.damaged: 6: more than the 5 that were counted",
		"inspection.wheels[0].fastenerWork.replaced: 7: more than the 5 that were counted",
	}},
	{"negative studs", onWheel(func(w *pb.WheelReport) { w.FastenerWork = &pb.FastenerWork{Damaged: proto.Int32(-1)} }),
		[]string{"inspection.wheels[0].fastenerWork.damaged: -1: a wheel has at most 20 studs or bolts"}},

	// Gauges.
	{"resolution of zero", gauge(&pb.Gauge{Resolution: &pb.Gauge_Depth{Depth: millimeters(0)}}),
		[]string{"inspection.gauges[0].depth: 0 mm: a gauge's step is above zero"}},
	{"negative resolution", gauge(&pb.Gauge{Resolution: &pb.Gauge_Temperature{Temperature: fahrenheit(-1)}}),
		[]string{"inspection.gauges[0].temperature: -1 °F: a gauge's step is above zero"}},
	{"a step of one degree is no temperature", gauge(&pb.Gauge{Resolution: &pb.Gauge_Temperature{Temperature: fahrenheit(1)}}), nil},
	{"coarse thermometer", gauge(&pb.Gauge{Resolution: &pb.Gauge_Temperature{Temperature: celsius(21)}}),
		[]string{"inspection.gauges[0].temperature: 21 °C: a thermometer steps by 20 °C at most; did you mean 21 °F?"}},
	{"coarse depth gauge", gauge(&pb.Gauge{Resolution: &pb.Gauge_Depth{Depth: thirtySeconds(4)}}),
		[]string{"inspection.gauges[0].depth: 4/32 in: a depth gauge steps by 3 mm at most"}},
	{"coarse tire gauge", gauge(&pb.Gauge{Resolution: &pb.Gauge_Pressure{Pressure: bar(1)}}),
		[]string{"inspection.gauges[0].pressure: 1 bar: a tire gauge steps by 10 psi at most; did you mean 1 psi or 1 kPa?"}},
	{"coarse tape", gauge(&pb.Gauge{Resolution: &pb.Gauge_Length{Length: inches(0.5)}}),
		[]string{"inspection.gauges[0].length: 0.5 in: a tape steps by 10 mm at most; did you mean 0.5 mm?"}},
	{"resolution without a number", gauge(&pb.Gauge{Resolution: &pb.Gauge_Depth{}}),
		[]string{"inspection.gauges[0].depth: no number is given; name the unit: thirtySecondsInch or millimeters"}},
	{"accuracy of another kind", func(r *pb.AssessVisitRequest) {
		r.Inspection.Gauges[1].Accuracy = &pb.Quantity{Amount: &pb.Quantity_Percent{Percent: 2}}
	}, []string{"inspection.gauges[1].accuracy: percent: not what the gauge measures; a pressure"}},
	{"repeatability of another kind than the gauge's", gauge(&pb.Gauge{Kind: pb.GaugeKind_GAUGE_KIND_CALIPER, Repeatability: &pb.Quantity{Amount: &pb.Quantity_Pressure{Pressure: psi(1)}}}),
		[]string{"inspection.gauges[0].repeatability: pressure: not what the gauge measures; a length or depth"}},
	{"negative accuracy", func(r *pb.AssessVisitRequest) {
		r.Inspection.Gauges[1].Accuracy = &pb.Quantity{Amount: &pb.Quantity_Pressure{Pressure: psi(-1)}}
	}, []string{"inspection.gauges[1].accuracy.pressure: -1 psi: an uncertainty is zero or more"}},
	{"accuracy in degrees", gauge(&pb.Gauge{
		Resolution: &pb.Gauge_Temperature{Temperature: fahrenheit(1)},
		Accuracy:   &pb.Quantity{Amount: &pb.Quantity_Temperature{Temperature: fahrenheit(3)}},
	}), nil},
	{"accuracy without an amount", func(r *pb.AssessVisitRequest) { r.Inspection.Gauges[1].Accuracy = &pb.Quantity{} },
		[]string{"inspection.gauges[1].accuracy: no amount is given; name what it is: depth, pressure, temperature, distance, mass, length, date, percent, count, airPressure, height, speed, angle, torque, years, wearRate or pressureLossRate"}},
	{"two gauges of a kind", func(r *pb.AssessVisitRequest) {
		r.Inspection.Gauges[0] = &pb.Gauge{Kind: pb.GaugeKind_GAUGE_KIND_DIGITAL}
	},
		[]string{"inspection.gauges[1]: GAUGE_KIND_DIGITAL: gauges[0] is of this kind too; one gauge of a kind"}},
	{"two tire gauges without a kind", func(r *pb.AssessVisitRequest) {
		r.Inspection.Gauges = []*pb.Gauge{{Resolution: &pb.Gauge_Pressure{Pressure: psi(1)}}, {Resolution: &pb.Gauge_Pressure{Pressure: psi(2)}}}
	}, []string{"inspection.gauges[1]: GAUGE_KIND_UNSPECIFIED: gauges[0] is of this kind too; one gauge of a kind"}},
	{"a stick that measures depth", gauge(&pb.Gauge{Kind: pb.GaugeKind_GAUGE_KIND_STICK, Resolution: &pb.Gauge_Depth{Depth: millimeters(1)}}),
		[]string{"inspection.gauges[0].kind: GAUGE_KIND_STICK: this kind of gauge measures no depth; a kind that does, or a pressure"}},
	{"a gauge of nothing", gauge(&pb.Gauge{}),
		[]string{"inspection.gauges[0]: what the gauge measures is not told; a resolution or a kind"}},

	// The vehicle.
	{"too many axles", func(r *pb.AssessVisitRequest) {
		for range 8 {
			r.Vehicle.Axles.Axles = append(r.Vehicle.Axles.Axles, &pb.Axle{})
		}
		r.Inspection.Wheels[0].Position = "9LO" // of which axle is not known then
	}, []string{"vehicle.axles.axles: 10 axles: a vehicle has at most 9 axles; a trailer is a vehicle of its own"}},
	{"an axle whose wheels are not told", func(r *pb.AssessVisitRequest) { r.Vehicle.Axles.Axles[1].Wheels = 0 },
		[]string{`inspection.conditions.complaints[0].position: "2RO": the vehicle has no such wheel; did you mean 2R?`, `inspection.wheels[1].position: "2LI": the vehicle has no such wheel; did you mean 2L?`}},
	{"axles and none", func(r *pb.AssessVisitRequest) { r.Vehicle.Axles = &pb.Axles{} },
		[]string{"vehicle.axles.axles: missing; 1 to 9 axles from the front; leave them all out when they are not told"}},
	{"state without country", func(r *pb.AssessVisitRequest) { r.Vehicle.Use.DrivenIn[0].Country = "" },
		[]string{`vehicle.use.drivenIn[0].state: "CA": a state without its country; the country too`}},
	{"driven nowhere", func(r *pb.AssessVisitRequest) {
		r.Vehicle.Use = &pb.VehicleUse{DrivenIn: []*pb.Jurisdiction{{Country: "US"}, {}}, RegisteredIn: &pb.Jurisdiction{}}
	}, []string{"vehicle.use.drivenIn[1]: no place is named; a country, such as US", "vehicle.use.registeredIn: no place is named; a country, such as US"}},
	{"driven twice in one place", func(r *pb.AssessVisitRequest) {
		r.Vehicle.Use.DrivenIn = []*pb.Jurisdiction{{Country: "US"}, {Country: "US", State: "NV"}, {Country: "US"}}
	}, []string{"vehicle.use.drivenIn[2]: given twice: drivenIn[0] is this place too"}},
	{"driven in too many places", func(r *pb.AssessVisitRequest) {
		r.Vehicle.Use.DrivenIn = nil
		for i := range 101 {
			r.Vehicle.Use.DrivenIn = append(r.Vehicle.Use.DrivenIn, &pb.Jurisdiction{Country: "US", State: fmt.Sprint(i)})
		}
	}, []string{"vehicle.use.drivenIn: 101 places: at most 100 places; those that count most"}},
	// ISO 3166-1 alpha-2 has GB for the United Kingdom, US for the United States.
	{"UK", func(r *pb.AssessVisitRequest) { r.Vehicle.Use.DrivenIn[0].Country = "UK" },
		[]string{`vehicle.use.drivenIn[0].country: "UK": no country's code; did you mean GB?`}},
	{"usa", func(r *pb.AssessVisitRequest) { r.Vehicle.Use.DrivenIn[0].Country = "usa" },
		[]string{`vehicle.use.drivenIn[0].country: "usa": no country's code; did you mean US?`}},
	{"country in lower case", func(r *pb.AssessVisitRequest) { r.Vehicle.Use.DrivenIn[0].Country = "de" },
		[]string{`vehicle.use.drivenIn[0].country: "de": no country's code; did you mean DE?`}},
	{"country by name", func(r *pb.AssessVisitRequest) { r.Vehicle.Use.DrivenIn[0].Country = "Austria" },
		[]string{`vehicle.use.drivenIn[0].country: "Austria": no country's code; two capital letters, such as US`}},
	// ISO 3166-2: country, hyphen, up to three letters or digits.
	{"state with its country", func(r *pb.AssessVisitRequest) { r.Vehicle.Use.DrivenIn[0].State = "US-ca" },
		[]string{`vehicle.use.drivenIn[0].state: "US-ca": no state's code; did you mean CA?`}},
	{"state by name", func(r *pb.AssessVisitRequest) { r.Vehicle.Use.DrivenIn[0].State = "California" },
		[]string{`vehicle.use.drivenIn[0].state: "California": no state's code; one to three letters or digits, such as CA`}},
	{"seats", func(r *pb.AssessVisitRequest) { r.Vehicle.Use.Seats = proto.Int32(0) },
		[]string{"vehicle.use.seats: 0: a vehicle has 1 to 200 seats"}},
	{"fasteners", func(r *pb.AssessVisitRequest) { r.Vehicle.Fasteners = &pb.Fasteners{EachWheel: proto.Int32(2)} },
		[]string{"vehicle.fasteners.eachWheel: 2: 3 to 20 fasteners hold a wheel"}},
	{"another vehicle", func(r *pb.AssessVisitRequest) { r.Inspection.VehicleId = otherID },
		[]string{`inspection.vehicleId: "` + otherID + `": not the vehicle that is given; "` + vehicleID + `"`}},
	{"an earlier visit of another vehicle", func(r *pb.AssessVisitRequest) { r.Earlier[0].VehicleId = otherID },
		[]string{`earlier[0].vehicleId: "` + otherID + `": not the vehicle that is given; "` + vehicleID + `"`}},
	{"axle that does not exist", func(r *pb.AssessVisitRequest) {
		r.Inspection.AxleWeights = []*pb.AxleWeight{{Axle: 3, Weight: pounds(4000)}}
	},
		[]string{"inspection.axleWeights[0].axle: 3: the vehicle has 2 axles"}},
	{"axle not told", func(r *pb.AssessVisitRequest) { r.Inspection.AxleWeights = []*pb.AxleWeight{{}} }, []string{
		"inspection.axleWeights[0].axle: 0: an axle is 1 to 9, counted from the front",
		"inspection.axleWeights[0].weight: missing; what the scale showed",
	}},
	{"axle weighed twice", func(r *pb.AssessVisitRequest) {
		r.Inspection.AxleWeights = []*pb.AxleWeight{{Axle: 1, Weight: pounds(4000)}, {Axle: 1, Weight: pounds(4100)}}
	}, []string{"inspection.axleWeights[1].axle: 1: weighed twice: axleWeights[0] is this axle too"}},
	// 60 mph is 96.56 km/h (NIST Special Publication 811, Appendix B: 1 mi = 1.609 344 km).
	{"speeds the wrong way round", conditions(func(c *pb.Conditions) { c.Complaints[0].SpeedFrom, c.Complaints[0].SpeedTo = mph(60), kmh(96) }),
		[]string{"inspection.conditions.complaints[0].speedTo: 96 km/h: the highest speed is below the lowest, 60 mph"}},

	// Ids (RFC 9562, section 4) and hashes (SHA-256 has 256 bits: FIPS 180-4).
	{"vehicle's id", func(r *pb.AssessVisitRequest) {
		r.Vehicle.Id, r.Inspection.VehicleId, r.Earlier[0].VehicleId = "17", "", ""
	},
		[]string{`vehicle.id: "17": ` + noUUID}},
	{"id in capitals", func(r *pb.AssessVisitRequest) { r.Inspection.Id = strings.ToUpper(visitID) },
		[]string{`inspection.id: "` + strings.ToUpper(visitID) + `": no UUID in the usual form; did you mean ` + visitID + "?"}},
	{"id in braces", func(r *pb.AssessVisitRequest) { r.Tires[0].Id = "{" + otherID + "}" },
		[]string{`tires[0].id: "{` + otherID + `}": no UUID in the usual form; did you mean ` + otherID + "?"}},
	{"id with a letter too far", func(r *pb.AssessVisitRequest) { r.Tires[0].Id = "g" + otherID[1:] },
		[]string{`tires[0].id: "g` + otherID[1:] + `": ` + noUUID}},
	{"id too short", onWheel(func(w *pb.WheelReport) { w.TireId = tireID[:35] }),
		[]string{`inspection.wheels[0].tireId: "` + tireID[:35] + `": ` + noUUID}},
	{"ids of history", func(r *pb.AssessVisitRequest) {
		r.Repairs = []*pb.Repair{{Id: "a", TireId: "b"}}
		r.Moves = []*pb.TireMoves{{Id: "c", Moves: []*pb.TireMove{{TireId: "d", To: &pb.TirePlace{Where: &pb.TirePlace_Mounted{
			Mounted: &pb.MountedPlace{VehicleId: "e", Position: "RF"}}}}}}}
	}, []string{
		`repairs[0].id: "a": ` + noUUID,
		`repairs[0].tireId: "b": ` + noUUID,
		`moves[0].id: "c": ` + noUUID,
		`moves[0].moves[0].tireId: "d": ` + noUUID,
		`moves[0].moves[0].to.mounted.vehicleId: "e": ` + noUUID,
		`moves[0].moves[0].to.mounted.position: "RF": no position; did you mean 1R?`,
	}},
	{"photo", func(r *pb.AssessVisitRequest) { r.Inspection.PhotoSha256 = []string{strings.Repeat("0a", 32), "ABCD"} },
		[]string{`inspection.photoSha256[1]: "ABCD": no SHA-256; 64 lower-case hex digits`}},
	{"tire twice", func(r *pb.AssessVisitRequest) { r.Tires = append(r.Tires, &pb.Tire{Id: tireID}) },
		[]string{`tires[1].id: "` + tireID + `": given twice: tires[0] has it too`}},
	{"earlier visit twice", func(r *pb.AssessVisitRequest) { r.Earlier = append(r.Earlier, &pb.Inspection{Id: earlierID}) },
		[]string{`earlier[1].id: "` + earlierID + `": given twice: earlier[0] has it too`}},
	{"the visit among the earlier ones", func(r *pb.AssessVisitRequest) { r.Earlier[0].Id = visitID },
		[]string{`earlier[0].id: "` + visitID + `": the visit to be judged has this id too`}},
	{"corrects itself", func(r *pb.AssessVisitRequest) {
		r.Inspection.Corrects = &pb.Correction{InspectionId: visitID, Reason: "wrong wheel"}
	},
		[]string{`inspection.corrects.inspectionId: "` + visitID + `": a visit does not correct itself; the id of the visit that was wrong`}},
	{"corrects nothing", func(r *pb.AssessVisitRequest) { r.Inspection.Corrects = &pb.Correction{Reason: " "} }, []string{
		"inspection.corrects.inspectionId: missing; the id of the visit that was wrong",
		"inspection.corrects.reason: missing; what was wrong with it",
	}},
	{"corrects by a wrong id", func(r *pb.AssessVisitRequest) {
		r.Inspection.Corrects = &pb.Correction{InspectionId: "1", Reason: "wrong wheel"}
	},
		[]string{`inspection.corrects.inspectionId: "1": ` + noUUID}},

	// Tires and their moves.
	{"one tire moved twice", func(r *pb.AssessVisitRequest) {
		to := &pb.TirePlace{Where: &pb.TirePlace_Stored{Stored: &pb.StoredPlace{}}}
		r.Moves = []*pb.TireMoves{{Moves: []*pb.TireMove{{TireId: tireID, To: to}, {TireId: tireID, To: to}}}}
	}, []string{`moves[0].moves[1].tireId: "` + tireID + `": given twice: moves[0] has it too`}},
	{"moved to nowhere", func(r *pb.AssessVisitRequest) {
		r.Moves = []*pb.TireMoves{{Moves: []*pb.TireMove{{}, {TireId: tireID, To: &pb.TirePlace{}}, {TireId: otherID, To: &pb.TirePlace{Where: &pb.TirePlace_Mounted{}}}}}}
	}, []string{
		"moves[0].moves[0].tireId: missing; the id of the tire",
		"moves[0].moves[0].to: missing; where the tire is afterwards",
		"moves[0].moves[1].to: no place is named; mounted, stored or scrapped",
		"moves[0].moves[2].to.mounted.position: missing; " + form,
	}},
	{"new depth", func(r *pb.AssessVisitRequest) {
		r.Tires[0].NewDepths = &pb.NewDepths{Grooves: []*pb.GrooveDepth{{}, {Depth: thirtySeconds(51), Place: &pb.Place{Station: 1}}}}
	}, []string{
		"tires[0].newDepths.grooves[0].depth: missing; a depth",
		"tires[0].newDepths.grooves[1].place.station: not how the place of a depth is told; only across or groove",
		"tires[0].newDepths.grooves[1].depth: 51/32 in: a depth is at most 40 mm",
	}},
	{"new depths and none", func(r *pb.AssessVisitRequest) { r.Tires[0].NewDepths = &pb.NewDepths{} },
		[]string{"tires[0].newDepths.grooves: missing; one depth for every groove, or one for each that is known"}},
	{"policy of the maker", func(r *pb.AssessVisitRequest) {
		r.Tires[0].MakerPolicy = &pb.TireMakerPolicy{RepairsAtMost: proto.Int32(-1), ReplaceAfterYears: proto.Int32(0)}
	}, []string{
		"tires[0].makerPolicy.repairsAtMost: -1: a tire is repaired 0 to 20 times",
		"tires[0].makerPolicy.replaceAfterYears: 0: an age in years is 1 to 100",
	}},
	{"set", func(r *pb.AssessVisitRequest) {
		r.Inspection.Changeover = &pb.Changeover{TakenOff: &pb.TireSet{Tires: []*pb.TireOfSet{{TireId: tireID, CameOffPosition: "NSF"}, {TireId: tireID}}}}
	}, []string{
		`inspection.changeover.takenOff.tires[0].cameOffPosition: "NSF": no position; did you mean 1L?`,
		`inspection.changeover.takenOff.tires[1].tireId: "` + tireID + `": given twice: tires[0] has it too`,
	}},

	// Rulebooks.
	{"rulebook misspelled", func(r *pb.AssessVisitRequest) { r.JudgeBy.RulebookIds[0] = "us-lite" },
		[]string{`judgeBy.rulebookIds[0]: "us-lite": no such rulebook; did you mean us-light? there are ` + allRulebooks()}},
	{"rulebook unlike any", func(r *pb.AssessVisitRequest) { r.JudgeBy.RulebookIds[0] = "xyzzy, the book of books" },
		[]string{`judgeBy.rulebookIds[0]: "xyzzy, the book of books": no such rulebook; there are ` + allRulebooks()}},
	{"rulebook twice", func(r *pb.AssessVisitRequest) { r.JudgeBy.RulebookIds = []string{"us-light", "uk-light", "us-light"} },
		[]string{`judgeBy.rulebookIds[2]: "us-light": named twice`}},

	// Too much of a thing.
	{"longest text", func(r *pb.AssessVisitRequest) { r.Vehicle.Tag = strings.Repeat("ß", 2000) }, nil},
	{"text too long", func(r *pb.AssessVisitRequest) { r.Vehicle.Tag = strings.Repeat("ß", 2001) },
		[]string{"vehicle.tag: 2001 characters: a text is at most 2000 characters"}},
	{"too many wheels", func(r *pb.AssessVisitRequest) {
		r.Vehicle, r.Inspection.Wheels = nil, nil
		for i := range 41 {
			r.Inspection.Wheels = append(r.Inspection.Wheels, &pb.WheelReport{Position: fmt.Sprintf("%d%c%s", i%9+1, "LR"[i/9%2], []string{"", "I", "O"}[i/18])})
		}
	}, []string{"inspection.wheels: 41 wheels: at most 40 wheels"}},
	{"too many readings", onWheel(func(w *pb.WheelReport) {
		w.Tread = nil
		for i := range 2000 {
			w.Tread = append(w.Tread, grooved(int32(i%9+1), thirtySeconds(5)))
			w.Tread[i].Place.Station, w.Tread[i].Repeat = int32(i/9%37), int32(i/9/37)
		}
	}), []string{"inspection.wheels: 2003 readings: at most 2000 readings of tread and pressure"}},
	{"too many earlier visits", func(r *pb.AssessVisitRequest) {
		for range 100 {
			r.Earlier = append(r.Earlier, &pb.Inspection{})
		}
	}, []string{"earlier: 101 visits: at most 100 earlier visits; the latest of them"}},
}

func allRulebooks() string {
	var all []string
	for _, b := range rulebook.All() {
		all = append(all, b.ID)
	}
	return strings.Join(all, ", ")
}

func TestAssessVisit(t *testing.T) {
	for _, row := range rows {
		t.Run(row.name, func(t *testing.T) {
			r := visit()
			row.spoil(r)
			same(t, AssessVisit(r), row.want)
		})
	}
}

func same(t *testing.T, got []Problem, want []string) {
	t.Helper()
	var lines []string
	for _, p := range got {
		lines = append(lines, p.String())
	}
	if !slices.Equal(lines, want) {
		t.Errorf("got:\n\t%s\nwant:\n\t%s", strings.Join(lines, "\n\t"), strings.Join(want, "\n\t"))
	}
}

func TestEveryProblemAtOnceInTheOrderOfTheDocument(t *testing.T) {
	r := visit()
	r.Vehicle.Axles.Axles[1].Rating = pounds(-1)
	r.Vehicle.Use.DrivenIn[0].Country = "UK"
	r.Inspection.Odometer = miles(-1)
	r.Inspection.Gauges[0].Resolution = &pb.Gauge_Depth{Depth: millimeters(0)}
	r.Inspection.Wheels[0].Position = "LF"
	r.Inspection.Wheels[0].Tread[2].Depth = thirtySeconds(-3)
	r.Inspection.Wheels[2].TireId = tireID
	r.Earlier[0].LocalDate = day(2027, 1, 1)
	r.JudgeBy.RulebookIds = []string{"uk-light", "uk-light"}
	r.JudgeBy.AsOf = day(2026, 2, 30)
	same(t, AssessVisit(r), []string{
		"vehicle.axles.axles[1].rating: -1 lb: a rating or weight of zero or more",
		`vehicle.use.drivenIn[0].country: "UK": no country's code; did you mean GB?`,
		"inspection.odometer: -1 mi: an odometer reads zero or more",
		"inspection.gauges[0].depth: 0 mm: a gauge's step is above zero",
		position + `"LF": no position; did you mean 1L?`,
		"inspection.wheels[0].tread[2].depth: -3/32 in: a depth is zero or more",
		`inspection.wheels[2].tireId: "` + tireID + `": given twice: wheels[0] has it too`,
		"earlier[0].localDate: 2027-01-01: earlier[0] is not earlier; not after 2026-03-02",
		`judgeBy.rulebookIds[1]: "uk-light": named twice`,
		"judgeBy.asOf: 2026-02-30: no day of the calendar; year, month and day, from 1900 to 2200",
	})
}

func TestPartsUnderTheirPath(t *testing.T) {
	v := visit().Vehicle
	v.Axles.Axles[0].ColdFullLoad = &pb.Pressure{}
	same(t, Vehicle("vehicle", v), []string{"vehicle.axles.axles[0].coldFullLoad: no number is given; name the unit: psi, kilopascals or bar"})

	i := visit().Inspection
	i.Wheels[0].Position = "2R"
	i.VehicleId = otherID
	same(t, Inspection("items[4].inspection", i, visit().Vehicle), []string{
		`items[4].inspection.vehicleId: "` + otherID + `": not the vehicle that is given; "` + vehicleID + `"`,
		`items[4].inspection.wheels[0].position: "2R": the vehicle has no such wheel; did you mean 2RI or 2RO?`,
	})
	same(t, Inspection("inspection", i, nil), nil)
}

// What nature has shown has to pass. The records are those of the archive of
// weather and climate extremes of the World Meteorological Organization, from
// memory.
func TestWhatNatureHasShownPasses(t *testing.T) {
	for _, row := range []struct {
		source string
		set    func(*pb.Conditions)
	}{
		{"coldest air, -89.2 °C, from memory", func(c *pb.Conditions) { c.Outside = celsius(-89.2) }},
		{"hottest air, 56.7 °C, from memory", func(c *pb.Conditions) { c.Outside = celsius(56.7) }},
		{"highest pressure at sea level, 1084.8 hPa, from memory", func(c *pb.Conditions) { c.Atmosphere = hPa(1084.8) }},
		{"lowest pressure at sea level, 870 hPa, from memory", func(c *pb.Conditions) { c.Atmosphere = hPa(870) }},
		{"US Standard Atmosphere 1976, sea level: 29.92 inHg", func(c *pb.Conditions) { c.Atmosphere = inHg(29.92) }},
		{"US Standard Atmosphere 1976, 4000 m: 616.4 hPa", func(c *pb.Conditions) { c.Atmosphere = hPa(616.4) }},
	} {
		r := visit()
		row.set(r.Inspection.Conditions)
		if ps := AssessVisit(r); ps != nil {
			t.Errorf("%s: %v", row.source, ps)
		}
	}
}

func TestLongTextsAreCutInTheAnswer(t *testing.T) {
	r := visit()
	r.Inspection.Wheels[0].Position = strings.Repeat("x", 61)
	same(t, AssessVisit(r), []string{position + `"` + strings.Repeat("x", 60) + `…": no position; its wheels are 1L 1R 2LI 2LO 2RI 2RO`})
}

func TestProblemsAreListedUpToALimit(t *testing.T) {
	r := &pb.AssessVisitRequest{Inspection: &pb.Inspection{Wheels: []*pb.WheelReport{{Position: "1L"}}}, JudgeBy: &pb.JudgeBy{}}
	for i := range MaxProblems + 37 {
		r.JudgeBy.RulebookIds = append(r.JudgeBy.RulebookIds, fmt.Sprint("no", i))
	}
	r.JudgeBy.AsOf = &pb.CalendarDate{}
	ps := AssessVisit(r)
	if len(ps) != MaxProblems+1 {
		t.Fatalf("%d problems", len(ps))
	}
	if last := ps[MaxProblems].String(); last != "and more" {
		t.Error(last)
	}
	r.JudgeBy.RulebookIds, r.JudgeBy.AsOf = r.JudgeBy.RulebookIds[:MaxProblems], nil
	if ps = AssessVisit(r); len(ps) != MaxProblems || ps[MaxProblems-1].Path == "" {
		t.Errorf("%d problems, the last %v", len(ps), ps[len(ps)-1])
	}
}
