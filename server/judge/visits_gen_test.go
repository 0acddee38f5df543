package judge_test

import (
	"fmt"
	"math"
	"time"

	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"
	"google.golang.org/protobuf/types/known/durationpb"
	"pgregory.net/rapid"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/rulebook"

	"gaugebook.dev/server/check"
)

// anyVisit draws visits as a shop could send them: every one passes check. They
// shrink toward a visit of which little is told.
var anyVisit = rapid.Custom(func(t *rapid.T) *pb.AssessVisitRequest {
	d := &drawn{T: t, req: &pb.AssessVisitRequest{}}
	d.visit()
	for _, p := range check.AssessVisit(d.req) {
		t.Fatalf("a drawn visit cannot be judged: %v", p)
	}
	return d.req
})

// drawn is a visit in the making.
type drawn struct {
	*rapid.T
	req *pb.AssessVisitRequest

	kindOfVehicle build
	metric        bool      // the shop reads in millimeters, bar and kilometers
	tread         float64   // a usual depth of this vehicle, in thirty-seconds
	air           float64   // pressures as a share of their labels
	odometer      float64   // miles
	positions     []string  // of the vehicle
	ids           []string  // of the tires, by position; empty: not told
	day           time.Time // of the visit
	damage        int       // percent of the wheels on which something was seen
	sidewallsRead bool      // at this visit
	marking       string    // on the sidewalls of most of its tires
	way           wayOfReading
}

// build is what vehicles of a class look like.
type build struct {
	class        pb.VehicleClass
	axles        [2]int
	dualPercent  int
	label, depth [2]int // psi, thirty-seconds
	rating       [2]int // hundreds of pounds
	sizes        []string
}

var (
	carSizes   = []string{"P215/60R16 94T", "205/55R16 91V", "225/45ZR17 (94Y) XL", "145/80R13 75T", "195/65R15 91H"}
	vanSizes   = []string{"LT245/75R17 121/118S E", "LT225/75R16 C", "LT275/70R18 F", "LT235/75R15", "195/75R16C 107/105R", "31x10.50R15LT C"}
	truckSizes = []string{"11R22.5 144/142L G", "295/75R22.5 14PR", "315/80R22.5 154/150L", "10.00-20"}

	builds = []build{
		{pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, [2]int{2, 2}, 0, [2]int{24, 44}, [2]int{0, 12}, [2]int{25, 75}, carSizes},
		{pb.VehicleClass_VEHICLE_CLASS_PASSENGER_CAR, [2]int{2, 2}, 0, [2]int{24, 44}, [2]int{0, 12}, [2]int{25, 75}, carSizes},
		{pb.VehicleClass_VEHICLE_CLASS_LIGHT_TRUCK, [2]int{2, 2}, 20, [2]int{35, 80}, [2]int{0, 18}, [2]int{50, 140}, vanSizes},
		{pb.VehicleClass_VEHICLE_CLASS_LIGHT_TRUCK, [2]int{2, 2}, 20, [2]int{35, 80}, [2]int{0, 18}, [2]int{50, 140}, vanSizes},
		{pb.VehicleClass_VEHICLE_CLASS_HEAVY, [2]int{2, 5}, 80, [2]int{85, 120}, [2]int{0, 28}, [2]int{60, 800}, truckSizes},
		{pb.VehicleClass_VEHICLE_CLASS_HEAVY, [2]int{2, 4}, 80, [2]int{85, 120}, [2]int{0, 28}, [2]int{60, 800}, truckSizes},
		{pb.VehicleClass_VEHICLE_CLASS_BUS, [2]int{2, 3}, 70, [2]int{85, 120}, [2]int{0, 28}, [2]int{60, 500}, truckSizes},
		{pb.VehicleClass_VEHICLE_CLASS_TRAILER, [2]int{2, 4}, 30, [2]int{50, 105}, [2]int{0, 16}, [2]int{20, 800}, append([]string{"ST205/75R15 D", "ST225/75R15 10PR"}, truckSizes...)},
		{pb.VehicleClass_VEHICLE_CLASS_MOTORHOME, [2]int{2, 3}, 70, [2]int{60, 110}, [2]int{0, 18}, [2]int{80, 400}, append(append([]string(nil), vanSizes...), truckSizes...)},
		{pb.VehicleClass_VEHICLE_CLASS_UNSPECIFIED, [2]int{2, 3}, 30, [2]int{30, 100}, [2]int{0, 16}, [2]int{30, 300}, append(append([]string(nil), carSizes...), vanSizes...)},
		{pb.VehicleClass_VEHICLE_CLASS_MOTORCYCLE, [2]int{2, 2}, 0, [2]int{30, 42}, [2]int{0, 8}, [2]int{5, 15}, []string{""}},
		{pb.VehicleClass(99), [2]int{2, 2}, 0, [2]int{30, 42}, [2]int{0, 8}, [2]int{5, 150}, []string{""}}, // of a newer client
	}
)

// odds is true in about so many of a hundred draws.
func (d *drawn) odds(percent int) bool { return d.between(0, 99) >= 100-percent }

func (d *drawn) between(low, high int) int { return rapid.IntRange(low, high).Draw(d.T, "n") }

func oneOf[V any](d *drawn, values ...V) V { return rapid.SampledFrom(values).Draw(d.T, "one of") }

// enum draws any value of an enum of the contract but the unspecified one.
func (d *drawn) enum(e protoreflect.EnumDescriptor) protoreflect.EnumNumber {
	return e.Values().Get(d.between(1, e.Values().Len()-1)).Number()
}

func (d *drawn) answer() pb.Answer { return pb.Answer(d.between(0, 3)) }

// flag is a yes or no that was given or not.
func (d *drawn) flag(percent int) pb.Answer {
	if !d.odds(percent) {
		return pb.Answer_ANSWER_UNSPECIFIED
	}
	return yesOr(oneOf(d, false, true))
}

func yesOr(yes bool) pb.Answer {
	if yes {
		return pb.Answer_ANSWER_YES
	}
	return pb.Answer_ANSWER_NO
}

func step(n, of float64) float64 { return math.Round(n/of) * of }

// decimal takes the dust of a multiplication off a number with few decimals.
func decimal(n float64) float64 { return math.Round(n*1e4) / 1e4 }

// depth gives a depth as a gauge of the shop shows it.
func (d *drawn) depth(thirtySeconds float64) *pb.Depth {
	thirtySeconds = max(thirtySeconds, 0)
	if d.metric != d.odds(3) {
		return &pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: decimal(step(thirtySeconds*25.4/32, oneOf(d, 0.1, 0.5)))}}
	}
	return &pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: decimal(step(thirtySeconds, oneOf(d, 1, 1, 0.5, 0.1)))}}
}

func (d *drawn) pressure(psi float64) *pb.Pressure {
	psi = min(max(psi, 0), 190)
	const kPa = 6.894757
	switch {
	case d.metric == d.odds(3):
		return &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: decimal(step(psi, oneOf(d, 1, 1, 0.5, 0.1)))}}
	case d.odds(50):
		return &pb.Pressure{AsRead: &pb.Pressure_Kilopascals{Kilopascals: decimal(step(psi*kPa, oneOf(d, 5.0, 1)))}}
	}
	return &pb.Pressure{AsRead: &pb.Pressure_Bar{Bar: decimal(step(psi*kPa/100, oneOf(d, 0.1, 0.05, 0.01)))}}
}

// label is a pressure that cannot be zero.
func (d *drawn) label(psi float64) *pb.Pressure { return d.pressure(max(psi, 20)) }

func (d *drawn) temperature(celsius float64) *pb.Temperature {
	if d.metric {
		return &pb.Temperature{AsRead: &pb.Temperature_Celsius{Celsius: decimal(celsius)}}
	}
	return &pb.Temperature{AsRead: &pb.Temperature_Fahrenheit{Fahrenheit: math.Round(celsius*9/5 + 32)}}
}

func (d *drawn) distance(mi float64) *pb.Distance {
	if d.metric {
		return &pb.Distance{AsRead: &pb.Distance_Kilometers{Kilometers: math.Round(mi * 1.609344)}}
	}
	return &pb.Distance{AsRead: &pb.Distance_Miles{Miles: math.Round(mi)}}
}

func (d *drawn) length(millimeters float64) *pb.Length {
	if d.metric {
		return &pb.Length{AsRead: &pb.Length_Millimeters{Millimeters: decimal(millimeters)}}
	}
	return &pb.Length{AsRead: &pb.Length_Inches{Inches: step(millimeters/25.4, 1.0/32)}}
}

func (d *drawn) weight(pounds float64) *pb.Mass {
	if d.metric {
		return &pb.Mass{AsRead: &pb.Mass_Kilograms{Kilograms: step(pounds*0.45359237, 10)}}
	}
	return &pb.Mass{AsRead: &pb.Mass_Pounds{Pounds: pounds}}
}

func dayOf(t time.Time) *pb.CalendarDate {
	return &pb.CalendarDate{Year: int32(t.Year()), Month: int32(t.Month()), Day: int32(t.Day())}
}

// drawnID is a record's id: one letter for what it is of, and a number.
func drawnID(of byte, n int) string { return fmt.Sprintf("%c0000000-0000-4000-8000-%012d", of, n) }

// visit draws the whole request.
func (d *drawn) visit() {
	d.metric = d.odds(35)
	d.kindOfVehicle = oneOf(d, builds...)
	d.day = time.Date(2022, time.January, 1, 0, 0, 0, 0, time.UTC).AddDate(0, 0, d.between(0, 1800))
	d.odometer = float64(d.between(0, 120_000))
	d.tread = float64(d.between(d.kindOfVehicle.depth[0], d.kindOfVehicle.depth[1]))
	d.air = float64(oneOf(d, 100, 100, 100, 97, 104, 92, 85, 75)) / 100
	d.damage = oneOf(d, 0, 0, 20, 60)
	d.way = wayOfReading(d.between(0, int(ways)-1))
	d.sidewallsRead = d.odds(50)
	d.marking = oneOf(d, d.kindOfVehicle.sizes...)
	d.req.Reader = &pb.Reader{Language: oneOf(d, "", "en", "de")}
	d.vehicle()
	if d.odds(50) {
		for i := range d.positions {
			d.ids = append(d.ids, drawnID('a', i))
		}
	}
	in := &pb.Inspection{Conditions: d.conditions(), Gauges: d.gauges()}
	d.req.Inspection = in
	if d.odds(70) {
		in.LocalDate = dayOf(d.day)
	}
	if d.odds(20) {
		d.req.JudgeBy = &pb.JudgeBy{AsOf: dayOf(d.day.AddDate(0, 0, d.between(0, 60)))}
	}
	if d.odds(70) {
		in.Odometer = d.distance(d.odometer)
	}
	if d.odds(10) {
		books := rulebook.All()
		if d.req.JudgeBy == nil {
			d.req.JudgeBy = &pb.JudgeBy{}
		}
		d.req.JudgeBy.RulebookIds = []string{oneOf(d, books...).ID}
	}
	d.wheels(in)
	if d.ids != nil || d.odds(30) {
		d.history()
	}
	d.vehicleRecords(in)
	d.wheelEnds()
}

func (d *drawn) vehicle() {
	k := d.kindOfVehicle
	v := &pb.Vehicle{VehicleClass: k.class, Drive: pb.Drive(d.between(0, 4)), Tpms: pb.TpmsKind(d.between(0, 4))}
	v.Axles = &pb.Axles{}
	d.req.Vehicle = v
	if d.odds(70) {
		v.GrossRating = d.weight(float64(d.between(k.rating[0], k.rating[1])) * 100)
	}
	size := d.marking
	front := d.between(k.label[0], k.label[1])
	duals := d.odds(k.dualPercent)
	for i := range d.between(k.axles[0], k.axles[1]) {
		a := &pb.Axle{Size: size}
		if duals && i > 0 {
			a.Wheels = pb.AxleWheels_AXLE_WHEELS_DUAL
		}
		if d.odds(10) {
			a.Size = oneOf(d, "", oneOf(d, k.sizes...))
		}
		if d.odds(90) {
			a.ColdNormalLoad = d.label(float64(front + oneOf(d, 0, 0, 3, -3, 10)))
		}
		if d.odds(20) {
			a.ColdFullLoad = d.label(float64(front + d.between(0, 12)))
		}
		a.Steered, a.Driven = d.flag(5), d.flag(5)
		v.Axles.Axles = append(v.Axles.Axles, a)
		for _, side := range []string{"L", "R"} {
			at := fmt.Sprint(i+1) + side
			if a.GetWheels() == pb.AxleWheels_AXLE_WHEELS_DUAL {
				d.positions = append(d.positions, at+"I", at+"O")
			} else {
				d.positions = append(d.positions, at)
			}
		}
	}
	v.Use = d.use()
	if d.odds(40) {
		v.Spare = &pb.Spare{Kind: pb.SpareKind(d.between(0, 4))}
		if d.odds(60) {
			v.Spare.ColdPressure = d.label(float64(oneOf(d, 60, front)))
		}
		d.positions = append(d.positions, "S")
	}
	if d.odds(30) {
		v.Fasteners = &pb.Fasteners{Torque: &pb.Torque{AsRead: &pb.Torque_NewtonMeters{NewtonMeters: float64(d.between(80, 600))}}}
	}
}

func (d *drawn) use() *pb.VehicleUse {
	if d.odds(10) {
		return nil
	}
	place := &pb.Jurisdiction{Country: oneOf(d, "US", "US", "US", "US", "GB", "DE", "AT", "AT", "FR", "CA", "NZ", "CZ", "SK", "SI", "EE", "FI", "SE", "NO", "LV", "PT", "")}
	u := &pb.VehicleUse{BusinessAcrossStateLines: d.answer(), Tows: d.answer()}
	switch place.Country {
	case "":
	case "US":
		place.State = oneOf(d, "OH", "", "CA", "IL", "MD")
	case "CA":
		place.State = oneOf(d, "BC", "QC", "ON", "")
	}
	if place.GetCountry() != "" {
		u.DrivenIn = []*pb.Jurisdiction{place}
	}
	if d.kindOfVehicle.class == pb.VehicleClass_VEHICLE_CLASS_BUS && d.odds(60) {
		u.Seats = new(int32(d.between(9, 60)))
	}
	if d.odds(20) {
		u.CombinedRating = d.weight(float64(d.between(60, 800)) * 100)
	}
	return u
}

func (d *drawn) conditions() *pb.Conditions {
	if d.odds(20) {
		return nil
	}
	c := &pb.Conditions{LampAsFound: pb.Lamp(d.between(0, 4)), SnowSlushOrIce: d.answer()}
	outside := float64(d.between(-20, 38))
	if d.odds(70) {
		c.Air = d.temperature(outside)
		if d.odds(30) {
			c.Air, c.Outside = d.temperature(outside+float64(d.between(-10, 25))), c.Air
		}
	}
	switch {
	case d.odds(15):
		c.Atmosphere = &pb.Conditions_Barometer{Barometer: &pb.AirPressure{AsRead: &pb.AirPressure_Hectopascals{Hectopascals: float64(d.between(800, 1040))}}}
	case d.odds(15):
		c.Atmosphere = &pb.Conditions_Altitude{Altitude: &pb.Height{AsRead: &pb.Height_Feet{Feet: float64(d.between(0, 9000))}}}
	}
	if d.odds(75) {
		b := &pb.DrivenBefore{DrivenHere: d.answer(), InSun: d.answer(), LoadedOrTowing: d.answer()}
		if d.odds(40) {
			b.Distance = d.distance(float64(d.between(0, 60)))
		}
		if d.odds(30) {
			b.Parked = durationpb.New(time.Duration(d.between(0, 40)) * 15 * time.Minute)
		}
		c.Driven = b
	}
	if d.odds(10) {
		c.Complaints = []*pb.Complaint{{Kind: pb.ComplaintKind(d.enum(pb.ComplaintKind(0).Descriptor())), Position: oneOf(d, d.positions...)}}
	}
	return c
}

func (d *drawn) gauges() []*pb.Gauge {
	var gs []*pb.Gauge
	if d.odds(60) {
		g := &pb.Gauge{Kind: oneOf(d, pb.GaugeKind_GAUGE_KIND_UNSPECIFIED, pb.GaugeKind_GAUGE_KIND_DEPTH_PROBE, pb.GaugeKind_GAUGE_KIND_DEPTH_ELECTRONIC, pb.GaugeKind_GAUGE_KIND_DEPTH_DIAL)}
		g.Resolution = &pb.Gauge_Depth{Depth: oneOf(d,
			&pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 1}},
			&pb.Depth{AsRead: &pb.Depth_ThirtySecondsInch{ThirtySecondsInch: 0.5}},
			&pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: 0.5}},
			&pb.Depth{AsRead: &pb.Depth_Millimeters{Millimeters: 0.01}})}
		gs = append(gs, g)
	}
	if d.odds(60) {
		g := &pb.Gauge{Kind: pb.GaugeKind(d.between(1, 5))}
		g.Resolution = &pb.Gauge_Pressure{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: oneOf(d, 1, 0.5, 0.1, 5)}}}
		if d.odds(20) {
			g.Accuracy = &pb.Quantity{Amount: &pb.Quantity_Pressure{Pressure: &pb.Pressure{AsRead: &pb.Pressure_Psi{Psi: oneOf(d, 0.3, 1, 4)}}}}
		}
		gs = append(gs, g)
	}
	return gs
}

func (d *drawn) wheels(in *pb.Inspection) {
	for i, at := range d.positions {
		if d.odds(8) {
			continue
		}
		w := &pb.WheelReport{Position: at}
		if d.ids != nil && d.odds(85) {
			w.TireId = d.ids[i]
		}
		in.Wheels = append(in.Wheels, w)
		if d.sidewallsRead && !d.odds(10) {
			w.Sidewall = d.sidewall()
		}
		w.Tread = d.treadOf()
		w.Pressures = d.pressures(at)
		if d.odds(d.damage) {
			for range d.between(1, 3) {
				w.Observations = append(w.Observations, d.observation())
			}
		}
		w.Looked = d.looked()
		if d.odds(10) {
			w.DrivenLow = &pb.DrivenLow{Driven: d.answer(), Loaded: d.answer()}
			if d.odds(50) {
				w.DrivenLow.Distance = d.distance(float64(d.between(1, 30)))
			}
		}
		for d.odds(4) {
			low := float64(d.between(1, 8))
			p := &pb.HighLowPair{Place: &pb.Place{Across: pb.Across_ACROSS_OUTBOARD}}
			p.Low, p.High = d.depth(low), d.depth(low+1+float64(d.between(0, 3)))
			w.HighLowPairs = append(w.HighLowPairs, p)
		}
		d.workOn(w)
		if d.odds(4) {
			d.nailHole(w)
		}
	}
	if len(in.Wheels) == 0 {
		in.Wheels = []*pb.WheelReport{{Position: d.positions[0]}}
	}
}

// nailHole makes the wheel one of which all is told that a repair asks for.
func (d *drawn) nailHole(w *pb.WheelReport) {
	w.Tread, w.Sidewall = nil, d.sidewall()
	w.Sidewall.Marking = d.marking
	for column := range 3 {
		w.Tread = append(w.Tread, &pb.TreadReading{Place: &pb.Place{Across: pb.Across(column + 1)}, Depth: d.depth(float64(d.between(1, 9)))})
	}
	w.Pressures = []*pb.PressureReading{{Pressure: d.label(d.labelAt(w.Position))}}
	w.Looked = []*pb.Looked{{What: pb.LookedAt_LOOKED_AT_INSIDE_OF_TIRE, Looked: &pb.Looked_Seen{Seen: true}}}
	w.Observations = nil
	for range oneOf(d, 1, 1, 1, 2, 3) {
		i := &pb.Injury{
			Place: &pb.Place{Part: pb.TirePart_TIRE_PART_CROWN}, ReachesThrough: pb.Answer_ANSWER_YES, HoldsAir: d.answer(), BetweenOuterGrooves: pb.Answer_ANSWER_YES,
		}
		i.Size, i.SizeAfterPreparing = d.length(float64(d.between(2, 9))), d.length(float64(d.between(3, 14)))
		i.OverlapsEarlierRepair = yesOr(d.odds(5))
		if d.odds(80) {
			i.AngleDegrees = new(float64(d.between(0, 45)))
		}
		if d.odds(50) {
			i.Place.FromShoulderEdge = d.length(float64(d.between(10, 70)))
		} else {
			i.Place.FromCenterLine = d.length(float64(d.between(0, 110)))
		}
		w.Observations = append(w.Observations, &pb.Observation{Kind: pb.ObservationKind_OBSERVATION_KIND_INJURY, Injury: i})
	}
	if d.odds(20) {
		w.Observations = append(w.Observations, d.observation())
	}
}

// workOn is what is recorded of a wheel and seldom judged.
func (d *drawn) workOn(w *pb.WheelReport) {
	if !d.odds(5) {
		return
	}
	w.Marks = []*pb.MountingMarks{{Arrow: pb.DirectionArrow(d.between(0, 3)), OutsideMark: pb.MarkFaces(d.between(0, 4))}}
	w.SensorReadings = []*pb.SensorReading{{Answering: d.answer(), Pressure: d.pressure(30)}}
	w.FastenerWork = &pb.FastenerWork{Counted: proto.Int32(5), FacesCleaned: d.answer()}
	w.Valve = &pb.Valve{Kind: pb.ValveKind(d.between(0, 5))}
	w.Taped = &pb.TapedSize{Taped: &pb.TapedSize_Circumference{Circumference: d.length(2000)}}
}

func (d *drawn) sidewall() *pb.Sidewall {
	s := &pb.Sidewall{Marking: d.marking, BodyPly: pb.BodyPly(d.between(0, 2))}
	if d.odds(10) {
		s.Marking = oneOf(d, "", oneOf(d, d.kindOfVehicle.sizes...))
	}
	switch {
	case d.odds(25):
		s.MaximumPressure = d.label(float64(d.kindOfVehicle.label[1] + oneOf(d, 0, 7, -6, 15)))
	case d.odds(25): // the rated pressures of 49 CFR 571.138 Table 1
		s.MaximumPressure = &pb.Pressure{AsRead: &pb.Pressure_Kilopascals{Kilopascals: oneOf(d, 240.0, 280, 300, 340, 350, 450, 550)}}
	}
	if d.odds(40) {
		s.Identification = fmt.Sprintf("%02d%02d", d.between(1, 53), d.between(8, 26))
	}
	if d.odds(20) {
		s.LoadRange = oneOf(d, "C", "D", "E", "F", "G", "H")
	}
	if d.odds(20) {
		s.TreadBreadth = d.length(float64(d.between(120, 260)))
	}
	s.SelfSupporting, s.FoamLined, s.SealantLined = d.flag(6), d.flag(6), d.flag(6)
	s.ThreePeakSnowflake, s.MudAndSnow, s.Studded = d.flag(40), d.flag(40), d.flag(40)
	return s
}

// wayOfReading is how a shop reads tread.
type wayOfReading int

const (
	byPlace wayOfReading = iota // inboard, center, outboard, once
	byPlaceAndStation
	byGroove
	byGrooveAndStation
	placeNotTold
	onePlace
	notRead
	ways
)

// worn is a shape across the tread: thirty-seconds lost at the inboard edge, in
// the center and at the outboard edge, for each step of severity.
var wornShapes = [][3]float64{{0, 0, 0}, {0, 0, 0}, {1, 0, 0}, {0, 0, 1}, {1, 0, 1}, {0, 1, 0}, {2, 1, 0}, {0, 1, 2}}

func (d *drawn) treadOf() []*pb.TreadReading {
	way := d.way
	if d.odds(5) {
		way = wayOfReading(d.between(0, int(ways)-1))
	}
	columns, stations := 3, 1
	switch way {
	case notRead:
		return nil
	case onePlace, placeNotTold:
		columns = 1
	case byGroove, byGrooveAndStation:
		columns = d.between(2, 5)
	}
	if way == byPlaceAndStation || way == byGrooveAndStation {
		stations = d.between(2, 5)
	}
	base := max(d.tread-float64(d.between(0, 3)), 0)
	shape := oneOf(d, wornShapes...)
	severity := float64(d.between(1, 5))
	low := d.between(0, 12) // a station that is low all across, when there is one of this number
	var rs []*pb.TreadReading
	for station := 1; station <= stations; station++ {
		for column := range columns {
			n := base - severity*across3(shape, column, columns) + float64(oneOf(d, 0, 0, 0, 0, 1, -1))
			if station == low {
				n -= severity
			}
			if d.odds(2) {
				n -= float64(d.between(2, 6)) // an odd reading
			}
			r := &pb.TreadReading{Place: &pb.Place{}, Depth: d.depth(n)}
			if stations > 1 || d.odds(10) {
				r.Place.Station = int32(station)
			}
			switch way {
			case byGroove, byGrooveAndStation:
				r.Place.Groove = int32(column + 1)
			case placeNotTold:
			default:
				r.Place.Across = pb.Across(column + 1)
			}
			if d.odds(5) {
				r.Place.FromCenterLine = d.length(float64(d.between(0, 120)))
			}
			rs = append(rs, r)
			if d.odds(4) {
				again := proto.Clone(r).(*pb.TreadReading)
				again.Repeat, again.Depth = 1, d.depth(n+float64(oneOf(d, 0, 1, -1)))
				rs = append(rs, again)
			}
			if d.odds(2) {
				left := proto.Clone(r).(*pb.TreadReading)
				left.Phase, left.Depth = pb.Phase_PHASE_AS_LEFT, d.depth(d.tread+6)
				rs = append(rs, left)
			}
		}
	}
	return rs
}

// across3 is the share of a shape at a column.
func across3(shape [3]float64, column, columns int) float64 {
	switch column {
	case 0:
		return shape[0]
	case columns - 1:
		return shape[2]
	}
	return shape[1]
}

// labelAt is the pressure that the label asks for at a position, in psi.
func (d *drawn) labelAt(at string) float64 {
	p := d.req.GetVehicle().GetSpare().GetColdPressure()
	if at != "S" {
		p = d.req.GetVehicle().GetAxles().GetAxles()[at[0]-'1'].GetColdNormalLoad()
	}
	if p == nil {
		return float64(d.kindOfVehicle.label[0])
	}
	return inBase(p.ProtoReflect()) / 6.894757
}

func (d *drawn) pressures(at string) []*pb.PressureReading {
	if d.odds(10) {
		return nil
	}
	label := d.labelAt(at)
	psi := label*d.air + float64(oneOf(d, 0, 0, 1, -1, 2, -2))
	switch {
	case d.odds(4):
		psi = float64(d.between(0, 3))
	case d.odds(8):
		psi = label * float64(d.between(20, 95)) / 100
	case d.odds(4):
		psi = label * float64(d.between(105, 140)) / 100
	}
	r := &pb.PressureReading{Pressure: d.pressure(psi), Gauge: pb.GaugeKind(d.between(0, 5))}
	if d.odds(15) {
		r.TireTemperature = d.temperature(float64(d.between(-10, 70)))
		r.Source = pb.TemperatureSource(d.between(0, 4))
	}
	rs := []*pb.PressureReading{r}
	if d.odds(8) {
		again := proto.Clone(r).(*pb.PressureReading)
		again.Repeat, again.Pressure = 1, d.pressure(psi+float64(oneOf(d, 0, 1, -1)))
		rs = append(rs, again)
	}
	if d.odds(10) {
		rs = append(rs, &pb.PressureReading{Phase: pb.Phase_PHASE_AS_LEFT, Pressure: d.pressure(label + float64(d.between(-1, 4))), Gauge: r.Gauge})
	}
	return rs
}

func (d *drawn) observation() *pb.Observation {
	o := &pb.Observation{Kind: pb.ObservationKind(d.enum(pb.ObservationKind(0).Descriptor()))}
	if d.odds(25) {
		o.Kind = oneOf(d, pb.ObservationKind_OBSERVATION_KIND_OBJECT_IN_TREAD, pb.ObservationKind_OBSERVATION_KIND_INJURY)
	}
	if d.odds(1) {
		o.Kind = 199 // of a newer client
	}
	switch o.Kind {
	case pb.ObservationKind_OBSERVATION_KIND_INJURY, pb.ObservationKind_OBSERVATION_KIND_OBJECT_IN_TREAD, pb.ObservationKind_OBSERVATION_KIND_OBJECT_REMOVED:
		if d.odds(80) {
			o.Injury = d.injury()
		}
	}
	if d.odds(30) {
		o.Size = d.length(float64(d.between(1, 60)))
	}
	o.Place = orNil(&pb.Place{Across: pb.Across(d.between(0, 3))})
	if d.odds(4) {
		o.Phase = pb.Phase_PHASE_AS_LEFT
	}
	return o
}

func (d *drawn) injury() *pb.Injury {
	at := &pb.Place{Part: pb.TirePart(d.between(0, 5))}
	i := &pb.Injury{ReachesThrough: d.answer(), HoldsAir: d.answer()}
	if d.odds(60) {
		i.Size = d.length(float64(d.between(1, 12)))
	}
	if d.odds(40) {
		i.SizeAfterPreparing = d.length(float64(d.between(3, 12)))
	}
	if d.odds(40) {
		i.AngleDegrees = new(float64(d.between(0, 60)))
	}
	switch {
	case d.odds(30):
		at.FromShoulderEdge = d.length(float64(d.between(5, 100)))
	case d.odds(30):
		at.FromCenterLine = d.length(float64(d.between(0, 110)))
	}
	i.Place = orNil(at)
	i.ObjectInPlace, i.BetweenOuterGrooves, i.OverlapsEarlierRepair = d.flag(30), d.flag(50), d.flag(30)
	return i
}

func (d *drawn) looked() []*pb.Looked {
	var ls []*pb.Looked
	if d.odds(25) {
		return nil
	}
	for what := 1; what < len(pb.LookedAt_name); what++ {
		l := &pb.Looked{What: pb.LookedAt(what), Looked: &pb.Looked_Seen{Seen: true}}
		switch {
		case d.odds(40):
			continue
		case d.odds(25):
			l.Looked = &pb.Looked_NotBecause{NotBecause: pb.NotLookedReason(d.enum(pb.NotLookedReason(0).Descriptor()))}
		}
		ls = append(ls, l)
	}
	return ls
}

// history draws the tires' records, earlier visits, moves and work.
func (d *drawn) history() {
	fitted, known := d.between(0, 40_000), d.odds(70)
	for i, id := range d.ids {
		if d.odds(15) {
			continue
		}
		t := &pb.Tire{Id: id}
		if d.odds(50) {
			t.Sidewall = d.sidewall()
		}
		if d.odds(60) {
			t.NewDepths = d.newDepths()
		}
		if known {
			ago := fitted
			if d.odds(10) {
				ago = d.between(0, 40_000)
			}
			t.FittedOdometer = d.distance(max(d.odometer-float64(ago), 0))
			t.FittedDate = dayOf(d.day.AddDate(0, 0, -1-ago/40))
		}
		if d.odds(20) {
			t.Place = &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{Position: d.positions[i]}}}
		}
		t.MakerPolicy = oneOf(d, nil, &pb.TireMakerPolicy{RepairPermitted: d.answer()})
		d.req.Tires = append(d.req.Tires, t)
		if d.odds(8) {
			d.req.Repairs = append(d.req.Repairs, &pb.Repair{Id: drawnID('b', len(d.req.Repairs)), TireId: id, Method: pb.RepairMethod(d.between(0, 5))})
		}
	}
	ago := 0
	for i := range d.between(0, 3) {
		ago += d.between(1, 9000)
		e := &pb.Inspection{Id: drawnID('c', i), LocalDate: dayOf(d.day.AddDate(0, 0, -1-ago/40)), Conditions: d.conditions()}
		if d.odds(90) {
			e.Odometer = d.distance(max(d.odometer-float64(ago), 0))
		}
		for k, at := range d.positions {
			if d.odds(80) {
				w := &pb.WheelReport{Position: at, Pressures: d.pressures(at)}
				if d.ids != nil {
					w.TireId = d.ids[k]
				}
				e.Wheels = append(e.Wheels, w)
			}
		}
		d.req.Earlier = append(d.req.Earlier, e)
	}
	d.moves()
	for range d.between(0, 3) {
		d.req.WorkDone = append(d.req.WorkDone, d.workDone())
	}
}

// newDepths is one depth for all grooves, or one for each place across.
func (d *drawn) newDepths() *pb.NewDepths {
	whenNew := d.tread + float64(d.between(1, 8))
	if d.odds(60) {
		return &pb.NewDepths{Grooves: []*pb.GrooveDepth{{Depth: d.depth(whenNew)}}}
	}
	gs := &pb.NewDepths{}
	for column := 1; column <= 3; column++ {
		gs.Grooves = append(gs.Grooves, &pb.GrooveDepth{Place: &pb.Place{Across: pb.Across(column)}, Depth: d.depth(whenNew - float64(oneOf(d, 0, 0, 1)))})
	}
	return gs
}

// moves draws rotations, each at an odometer of its own.
func (d *drawn) moves() {
	ago := 0
	for i := range d.between(0, 2) {
		ago += d.between(10, 7000)
		m := &pb.TireMoves{Id: drawnID('d', i), Odometer: d.distance(d.odometer + 200_000 - float64(ago))}
		if d.odometer > float64(ago) {
			m.Odometer = d.distance(d.odometer - float64(ago))
		}
		for k, id := range d.ids {
			to := d.positions[(k+len(d.positions)/2)%len(d.positions)]
			m.Moves = append(m.Moves, &pb.TireMove{TireId: id, Turned: d.flag(10),
				To: &pb.TirePlace{Where: &pb.TirePlace_Mounted{Mounted: &pb.MountedPlace{Position: to}}}})
		}
		if len(m.Moves) > 0 {
			d.req.Moves = append(d.req.Moves, m)
		}
	}
}

func (d *drawn) workDone() *pb.WorkDone {
	w := &pb.WorkDone{Kind: pb.WorkKind(d.enum(pb.WorkKind(0).Descriptor())), InRange: d.answer()}
	if d.odds(60) {
		w.Kind = pb.WorkKind(d.between(1, 6))
	}
	if d.odds(40) {
		w.Positions = []string{oneOf(d, d.positions...)}
	}
	if d.odds(70) {
		w.Odometer = d.distance(max(d.odometer-float64(d.between(0, 20_000)), 0))
	}
	return w
}

// vehicleRecords is what a visit records beside its wheels.
func (d *drawn) vehicleRecords(in *pb.Inspection) {
	if d.odds(10) {
		in.WorkDone = []*pb.WorkDone{d.workDone()}
	}
	if d.odds(5) {
		in.AxleWeights = []*pb.AxleWeight{{Axle: 1, Weight: d.weight(3000)}}
		in.Spare = &pb.SpareReport{Reachable: d.answer()}
		in.Changeover = &pb.Changeover{TakenOff: &pb.TireSet{Name: "winter"}}
	}
}
