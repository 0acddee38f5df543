package check

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"google.golang.org/protobuf/reflect/protoreflect"

	"gaugebook.dev/calc/plausible"
	"gaugebook.dev/calc/unit"
	gaugebookv1 "gaugebook.dev/proto/gaugebook/v1"
)

const notFinite = "a finite number is wanted"

// scale is what one kind of quantity can be.
type scale struct {
	// in gives a number, read in the unit that the field is named after, in the
	// unit of low and high. Nil: any finite number will do.
	in              func(n float64, field protoreflect.Name) (float64, error)
	low, high       float64
	open            bool // low itself is refused
	tooLow, tooHigh string
	meant           func(unit.Amount) []unit.Amount // by more than the scale itself; nil: in any other unit that is in the scale
}

// units are those that a number's field is named after. Torque has its own.
var units = map[protoreflect.Name]unit.Unit{
	"thirty_seconds_inch": unit.ThirtySecondsInch, "millimeters": unit.Millimeters, "inches": unit.Inches,
	"psi": unit.PSI, "kilopascals": unit.Kilopascals, "bar": unit.Bar,
	"hectopascals": unit.Hectopascals, "inches_mercury": unit.InchesMercury,
	"fahrenheit": unit.Fahrenheit, "celsius": unit.Celsius,
	"miles": unit.Miles, "kilometers": unit.Kilometers, "feet": unit.Feet, "meters": unit.Meters,
	"pounds": unit.Pounds, "kilograms": unit.Kilograms,
	"miles_per_hour": unit.MilesPerHour, "kilometers_per_hour": unit.KilometersPerHour,
}

// torques gives the newton meters in each unit of torque. A pound-foot is
// 0.45359237 kg x 9.80665 m/s2 x 0.3048 m (NIST Special Publication 811, Appendix B).
var torques = map[protoreflect.Name]struct {
	symbol       string
	newtonMeters float64
}{
	"newton_meters": {"N m", 1},
	"pound_feet":    {"lb ft", 0.45359237 * 9.80665 * 0.3048},
}

const (
	perMile = 1.609344 // kilometers, exact by definition

	airRange    = "air is between -90 and 65 °C (-130 and 149 °F)"
	tireRange   = "a tire is between -90 and 200 °C (-130 and 392 °F)"
	barometer   = "a barometer shows 300 to 1100 hPa (8.86 to 32.48 inHg)"
	heights     = "a place is between -500 and 6000 m (-1640 and 19685 ft)"
	injurySize  = "an injury is at most 300 mm"
	askedFor    = "a pressure that is asked for is above zero"
	printedZero = "a printed pressure is above zero"
)

// scales are the quantities where nothing narrower is said of their field.
var scales = map[protoreflect.FullName]scale{
	"gaugebook.v1.Depth":       slipping(depthUpTo(40, "a depth is at most 40 mm"), plausible.TreadDepth),
	"gaugebook.v1.Length":      lengthUpTo(10_000, "a length is at most 10 m"),
	"gaugebook.v1.Pressure":    {meant: slip(plausible.TirePressure), in: in(unit.PressureOf, unit.Kilopascals), high: 1400, tooLow: "a tire gauge reads 0 or more", tooHigh: "a tire pressure is at most 1400 kPa (14 bar, 203 psi)"},
	"gaugebook.v1.AirPressure": {in: in(unit.AirPressureOf, unit.Hectopascals), low: 300, high: 1100, tooLow: barometer, tooHigh: barometer},
	"gaugebook.v1.Temperature": {in: in(unit.TemperatureOf, unit.Celsius), low: -90, high: 200, tooLow: tireRange, tooHigh: tireRange},
	"gaugebook.v1.Distance":    distance("a distance is zero or more"),
	"gaugebook.v1.Height":      {in: in(unit.HeightOf, unit.Meters), low: -500, high: 6000, tooLow: heights, tooHigh: heights},
	"gaugebook.v1.Mass":        {in: in(unit.MassOf, unit.Kilograms), high: 200_000, tooHigh: "a mass is at most 200000 kg"},
	"gaugebook.v1.Speed":       {in: speed, high: 500, tooLow: "a speed is zero or more", tooHigh: "a speed is at most 500 km/h (310 mph)"},
	"gaugebook.v1.Torque":      {in: torque, high: 2000, open: true, tooLow: "a torque is above zero", tooHigh: "a torque is at most 2000 N m (1475 lb ft)"},
}

// narrower are the quantities that their field says more about.
var narrower = map[protoreflect.FullName]scale{
	"gaugebook.v1.Conditions.air":              air,
	"gaugebook.v1.Conditions.outside":          air,
	"gaugebook.v1.Conditions.coldest_expected": air,

	"gaugebook.v1.Axle.cold_normal_load":     pressureAbove(askedFor),
	"gaugebook.v1.Axle.cold_full_load":       pressureAbove(askedFor),
	"gaugebook.v1.Spare.cold_pressure":       pressureAbove(askedFor),
	"gaugebook.v1.Sidewall.maximum_pressure": pressureAbove(printedZero),
	"gaugebook.v1.Valve.rating":              pressureAbove(printedZero),

	"gaugebook.v1.Injury.size":                 slipping(lengthUpTo(300, injurySize), plausible.HoleSize),
	"gaugebook.v1.Injury.size_after_preparing": slipping(lengthUpTo(300, injurySize), plausible.HoleSize),
	"gaugebook.v1.TapedSize.circumference":     taped,
	"gaugebook.v1.TapedSize.diameter":          taped,

	"gaugebook.v1.Inspection.odometer":       odometer,
	"gaugebook.v1.WorkDone.odometer":         odometer,
	"gaugebook.v1.TorqueRecheck.odometer":    odometer,
	"gaugebook.v1.TireMoves.odometer":        odometer,
	"gaugebook.v1.TireSet.came_off_odometer": odometer,
	"gaugebook.v1.Tire.fitted_odometer":      odometer,

	"gaugebook.v1.EstimateLifeRequest.per_day": aboveZero(distance(""), "a vehicle that is driven runs more than zero in a day"),

	"gaugebook.v1.Gauge.depth":       step(depthUpTo(3, "a depth gauge steps by 3 mm at most")),
	"gaugebook.v1.Gauge.length":      step(lengthUpTo(10, "a tape steps by 10 mm at most")),
	"gaugebook.v1.Gauge.pressure":    step(scale{in: in(unit.PressureOf, unit.PSI), high: 10, tooHigh: "a tire gauge steps by 10 psi at most"}),
	"gaugebook.v1.Gauge.temperature": step(scale{in: degrees, high: 20, tooHigh: "a thermometer steps by 20 °C at most"}),
}

// spreads are the quantities of an uncertainty, which is a difference.
var spreads = map[protoreflect.FullName]scale{
	"gaugebook.v1.Depth":       spread(depthUpTo(40, "an uncertainty of a depth is at most 40 mm")),
	"gaugebook.v1.Length":      spread(lengthUpTo(300, "an uncertainty of a length is at most 300 mm")),
	"gaugebook.v1.Pressure":    spread(scale{in: in(unit.PressureOf, unit.Kilopascals), high: 1400, tooHigh: "an uncertainty of a pressure is at most 1400 kPa"}),
	"gaugebook.v1.Temperature": spread(scale{in: degrees, high: 100, tooHigh: "an uncertainty of a temperature is at most 100 °C"}),
}

var (
	air      = scale{meant: slip(plausible.AirTemperature), in: in(unit.TemperatureOf, unit.Celsius), low: -90, high: 65, tooLow: airRange, tooHigh: airRange}
	odometer = distance("an odometer reads zero or more")
	taped    = aboveZero(scales["gaugebook.v1.Length"], "a tire's size is above zero")
)

func depthUpTo(millimeters float64, tooHigh string) scale {
	return scale{in: in(exactly(unit.DepthOf), unit.Millimeters), high: millimeters, tooLow: "a depth is zero or more", tooHigh: tooHigh}
}

func lengthUpTo(millimeters float64, tooHigh string) scale {
	return scale{in: in(exactly(unit.LengthOf), unit.Millimeters), high: millimeters, tooLow: "a length is zero or more", tooHigh: tooHigh}
}

func distance(tooLow string) scale {
	return scale{in: in(unit.DistanceOf, unit.Kilometers), high: 10_000_000, tooLow: tooLow, tooHigh: "a distance is at most 10000000 km"}
}

// pressureAbove is a tire pressure that cannot be zero.
func pressureAbove(tooLow string) scale { return aboveZero(scales["gaugebook.v1.Pressure"], tooLow) }

// step is the scale of a gauge's resolution.
func step(s scale) scale { return aboveZero(s, "a gauge's step is above zero") }

func aboveZero(s scale, tooLow string) scale {
	s.low, s.open, s.tooLow = 0, true, tooLow
	return s
}

// slipping is a scale of which more is known of what a number may have been meant as.
func slipping(s scale, of plausible.Quantity) scale {
	s.meant = slip(of)
	return s
}

// spread is the scale of an uncertainty.
func spread(s scale) scale {
	s.tooLow = "an uncertainty is zero or more"
	return s
}

// in reads a number by its constructor of package unit and gives it in one unit.
func in[Q interface{ In(unit.Unit) float64 }](of func(float64, unit.Unit) (Q, error), as unit.Unit) func(float64, protoreflect.Name) (float64, error) {
	return func(n float64, field protoreflect.Name) (float64, error) {
		q, err := of(n, units[field])
		return q.In(as), err
	}
}

// exactly refuses a length that is finer than the exact unit of package unit.
// One that is past all limits is brought to 50 m, for the limits to refuse.
func exactly[Q ~int64](of func(float64, unit.Unit) (Q, error)) func(float64, unit.Unit) (Q, error) {
	return func(n float64, u unit.Unit) (Q, error) {
		far := unit.MustLength(50_000, unit.Millimeters).In(u)
		if n < -far || n > far {
			n = math.Copysign(math.Floor(far), n)
		}
		q, err := of(n, u)
		if err != nil {
			err = errors.New("no gauge reads finer than 0.1 nm")
		}
		return q, err
	}
}

// degrees reads a difference of temperatures, in kelvin.
func degrees(n float64, field protoreflect.Name) (float64, error) {
	if units[field] == unit.Fahrenheit {
		n = n * 5 / 9
	}
	return n, nil
}

func speed(n float64, field protoreflect.Name) (float64, error) {
	if units[field] == unit.MilesPerHour {
		n *= perMile
	}
	return n, nil
}

func torque(n float64, field protoreflect.Name) (float64, error) {
	return n * torques[field].newtonMeters, nil
}

// asRead is the oneof that every quantity has, and only quantities have.
const asRead = "as_read"

// scaleOf tells whether a field holds a quantity, and what it can be there.
func (w walker) scaleOf(fd protoreflect.FieldDescriptor) (scale, bool) {
	if fd.Message().Oneofs().ByName(asRead) == nil {
		return scale{}, false
	}
	if s, ok := narrower[fd.FullName()]; ok {
		return s, true
	}
	if w.spread {
		return spreads[fd.Message().FullName()], true
	}
	return scales[fd.Message().FullName()], true
}

// quantity checks the one number of a quantity.
func (w walker) quantity(m protoreflect.Message, s scale) {
	one := m.Descriptor().Oneofs().ByName(asRead)
	fd := m.WhichOneof(one)
	if fd == nil {
		w.add("", "no number is given", "name the unit: "+joinOr(members(one)))
		return
	}
	n := m.Get(fd).Float()
	given := fmt.Sprint(n) + symbol(fd.Name())
	if math.IsNaN(n) || math.IsInf(n, 0) {
		w.add(given, notFinite, "")
		return
	}
	if s.in == nil {
		return
	}
	v, err := s.in(n, fd.Name())
	var impossible *unit.Error
	switch {
	case errors.As(err, &impossible):
		w.add(given, impossible.Want, "")
	case err != nil:
		w.add(given, err.Error(), "")
	case s.bars(v) != "":
		w.add(given, s.bars(v), s.offer(n, fd))
	}
}

// slack lets a limit itself pass whatever unit it is written in.
func slack(limit float64) float64 { return 1e-9 * math.Abs(limit) }

// members names the fields of a oneof as JSON does.
func members(one protoreflect.OneofDescriptor) []string {
	var names []string
	for i := range one.Fields().Len() {
		names = append(names, one.Fields().Get(i).JSONName())
	}
	return names
}

// symbol is the unit's, with the space that goes before it.
func symbol(field protoreflect.Name) string {
	if t, ok := torques[field]; ok {
		return " " + t.symbol
	}
	return spaced(units[field])
}

// spaced is a unit's symbol, with the space that goes before it.
func spaced(u unit.Unit) string {
	s := u.String()
	if s == "" || u == unit.ThirtySecondsInch {
		return s
	}
	return " " + s
}

// size gives a quantity's number in the unit of its scale; ok is false when it
// is absent or has none, which is reported elsewhere.
func size(q protoreflect.ProtoMessage) (v float64, ok bool) {
	m := q.ProtoReflect()
	fd := m.WhichOneof(m.Descriptor().Oneofs().ByName(asRead))
	if fd == nil {
		return 0, false
	}
	v, err := scales[m.Descriptor().FullName()].in(m.Get(fd).Float(), fd.Name())
	return v, err == nil
}

func shown(q protoreflect.ProtoMessage) string {
	m := q.ProtoReflect()
	fd := m.WhichOneof(m.Descriptor().Oneofs().ByName(asRead))
	return fmt.Sprint(m.Get(fd).Float()) + symbol(fd.Name())
}

// amount checks that a value of any kind has one.
func (w walker) amount(q *gaugebookv1.Quantity) {
	one := q.ProtoReflect().Descriptor().Oneofs().ByName("amount")
	if q.ProtoReflect().WhichOneof(one) == nil {
		w.add("", "no amount is given", "name what it is: "+joinOr(members(one)))
	}
}

// bounds are those of a plain number.
type bounds struct {
	low, high float64
	below     bool // high itself is refused
	rule      string
}

var (
	again = bounds{low: 0, high: 9, rule: "a repeat is 0 (the first reading) to 9"}
	studs = bounds{low: 0, high: 20, rule: "a wheel has at most 20 studs or bolts"}
)

// numbers are the plain numbers that have limits.
var numbers = map[protoreflect.FullName]bounds{
	"gaugebook.v1.Place.groove":           {low: 0, high: 9, rule: "a groove is 1 to 9, counted from the vehicle outward, or 0 when not told"},
	"gaugebook.v1.Place.station":          {low: 0, high: 36, rule: "a station is 1 to 36, or 0 when not told"},
	"gaugebook.v1.Place.clock_degrees":    {low: 0, high: 360, below: true, rule: "a place round the tire is 0 degrees or more and below 360; a full turn is 0"},
	"gaugebook.v1.TreadReading.repeat":    again,
	"gaugebook.v1.PressureReading.repeat": again,
	"gaugebook.v1.Observation.count":      {low: 1, high: 1000, rule: "a count is 1 to 1000; leave it out when nothing was counted"},
	"gaugebook.v1.Injury.angle_degrees":   {low: 0, high: 90, rule: "an injury's angle is 0 (straight in) to 90 degrees"},
	"gaugebook.v1.FastenerWork.counted":   studs,
	"gaugebook.v1.FastenerWork.damaged":   studs,
	"gaugebook.v1.FastenerWork.replaced":  studs,
	"gaugebook.v1.AxleWeight.axle":        {low: 1, high: maxAxles, rule: "an axle is 1 to 9, counted from the front"},
	"gaugebook.v1.VehicleUse.seats":       {low: 1, high: 200, rule: "a vehicle has 1 to 200 seats"},
	"gaugebook.v1.Fasteners.each_wheel":   {low: 3, high: 20, rule: "3 to 20 fasteners hold a wheel"},

	"gaugebook.v1.TireMakerPolicy.repairs_at_most":     {low: 0, high: 20, rule: "a tire is repaired 0 to 20 times"},
	"gaugebook.v1.TireMakerPolicy.replace_after_years": {low: 1, high: 100, rule: "an age in years is 1 to 100"},
}

// latest is the last year that a date may have.
const latest = 2200

// date gives a day of the calendar; ok is false when it is absent or no day.
func date(d *gaugebookv1.CalendarDate) (day unit.Date, ok bool) {
	if d == nil {
		return unit.Date{}, false
	}
	day, err := unit.DateOf(int(d.GetYear()), int(d.GetMonth()), int(d.GetDay()))
	return day, err == nil && day.Year <= latest
}

func (w walker) calendarDate(d *gaugebookv1.CalendarDate) {
	if _, ok := date(d); !ok {
		given := unit.Date{Year: int(d.GetYear()), Month: int(d.GetMonth()), Day: int(d.GetDay())}
		w.add(given.String(), "no day of the calendar", fmt.Sprintf("year, month and day, from 1900 to %d", latest))
	}
}

// gaugesOf tells what a gauge of a kind can measure, by the fields of
// Gauge.resolution. A caliper's rod and a ruler also serve in a groove.
var gaugesOf = map[gaugebookv1.GaugeKind][]protoreflect.Name{
	gaugebookv1.GaugeKind_GAUGE_KIND_STICK:            {"pressure"},
	gaugebookv1.GaugeKind_GAUGE_KIND_DIAL:             {"pressure"},
	gaugebookv1.GaugeKind_GAUGE_KIND_DIGITAL:          {"pressure"},
	gaugebookv1.GaugeKind_GAUGE_KIND_INFLATOR:         {"pressure"},
	gaugebookv1.GaugeKind_GAUGE_KIND_TPMS_TOOL:        {"pressure", "temperature"},
	gaugebookv1.GaugeKind_GAUGE_KIND_DEPTH_PROBE:      {"depth"},
	gaugebookv1.GaugeKind_GAUGE_KIND_DEPTH_ELECTRONIC: {"depth"},
	gaugebookv1.GaugeKind_GAUGE_KIND_DEPTH_DIAL:       {"depth"},
	gaugebookv1.GaugeKind_GAUGE_KIND_DEPTH_SCANNER:    {"depth"},
	gaugebookv1.GaugeKind_GAUGE_KIND_RULER_OR_TAPE:    {"length", "depth"},
	gaugebookv1.GaugeKind_GAUGE_KIND_CALIPER:          {"length", "depth"},
	gaugebookv1.GaugeKind_GAUGE_KIND_INFRARED:         {"temperature"},
	gaugebookv1.GaugeKind_GAUGE_KIND_THERMOMETER:      {"temperature"},
}

func (w walker) gauge(g *gaugebookv1.Gauge) {
	measures, known := gaugesOf[g.GetKind()]
	if of := oneof(g, "resolution"); of != "" {
		if known && !slices.Contains(measures, of) {
			w.to("kind").add(g.GetKind().String(), "this kind of gauge measures no "+string(of), "a kind that does, or a "+alternatives(measures))
		}
		measures, known = []protoreflect.Name{of}, true
	}
	if !known {
		if g.GetKind() == gaugebookv1.GaugeKind_GAUGE_KIND_UNSPECIFIED {
			w.add("", "what the gauge measures is not told", "a resolution or a kind")
		}
		return
	}
	w.sameKind("repeatability", g.GetRepeatability(), measures)
	w.sameKind("accuracy", g.GetAccuracy(), measures)
}

// sameKind wants an uncertainty to be of a kind that the gauge measures.
func (w walker) sameKind(field protoreflect.Name, q *gaugebookv1.Quantity, measures []protoreflect.Name) {
	if of := oneof(q, "amount"); of != "" && !slices.Contains(measures, of) {
		w.to(field).add(string(of), "not what the gauge measures", "a "+alternatives(measures))
	}
}

// takenWith checks that the gauge of a reading measures what was read.
func (w walker) takenWith(kind gaugebookv1.GaugeKind, of protoreflect.Name) {
	if measures, known := gaugesOf[kind]; known && !slices.Contains(measures, of) {
		w.to("gauge").add(kind.String(), "this kind of gauge measures no "+string(of), "")
	}
}

// oneof names the field of a oneof that is set, "" for none.
func oneof(m protoreflect.ProtoMessage, name protoreflect.Name) protoreflect.Name {
	r := m.ProtoReflect()
	if fd := r.WhichOneof(r.Descriptor().Oneofs().ByName(name)); fd != nil {
		return fd.Name()
	}
	return ""
}

func alternatives(names []protoreflect.Name) string {
	var all []string
	for _, n := range names {
		all = append(all, string(n))
	}
	return joinOr(all)
}
