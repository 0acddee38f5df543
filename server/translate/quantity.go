// Package translate turns the contract's messages into calc's values and back.
// It trusts that package check has accepted the message.
package translate

import (
	"google.golang.org/protobuf/proto"
	"google.golang.org/protobuf/reflect/protoreflect"

	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/unit"
)

// unitOfField names the unit that each field of a quantity stands for: in the
// contract the unit is the name of the field.
var unitOfField = map[protoreflect.Name]unit.Unit{
	"thirty_seconds_inch": unit.ThirtySecondsInch,
	"millimeters":         unit.Millimeters,
	"inches":              unit.Inches,
	"psi":                 unit.PSI,
	"kilopascals":         unit.Kilopascals,
	"bar":                 unit.Bar,
	"hectopascals":        unit.Hectopascals,
	"inches_mercury":      unit.InchesMercury,
	"fahrenheit":          unit.Fahrenheit,
	"celsius":             unit.Celsius,
	"miles":               unit.Miles,
	"kilometers":          unit.Kilometers,
	"feet":                unit.Feet,
	"meters":              unit.Meters,
	"pounds":              unit.Pounds,
	"kilograms":           unit.Kilograms,
	"miles_per_hour":      unit.MilesPerHour,
	"kilometers_per_hour": unit.KilometersPerHour,
	"degrees":             unit.Degrees,
	"percent":             unit.Percent,
	"count":               unit.Count,
	"years":               unit.Years,
	"newton_meters":       unit.NewtonMeters,
	"pound_feet":          unit.PoundFeet,

	"thirty_seconds_inch_per_1000_miles": unit.ThirtySecondsPer1000Miles,
	"millimeters_per_1000_kilometers":    unit.MillimetersPer1000Kilometer,
	"psi_per_month":                      unit.PSIPerMonth,
	"kilopascals_per_month":              unit.KilopascalsPerMonth,
	"bar_per_month":                      unit.BarPerMonth,
}

var fieldOfUnit = func() map[unit.Unit]protoreflect.Name {
	m := map[unit.Unit]protoreflect.Name{}
	for name, u := range unitOfField {
		m[u] = name
	}
	return m
}()

// Amount is the number and unit that a quantity of the contract holds: a Depth,
// a Pressure, a Quantity and so on. ok is false when it is absent or empty.
func Amount[M quantityMessage](q M) (a unit.Amount, ok bool) {
	var absent M
	if q == absent { // most are: a message that is absent is looked into at a cost
		return unit.Amount{}, false
	}
	return amount(q.ProtoReflect())
}

// quantityMessage is a pointer to a message of the contract.
type quantityMessage interface {
	comparable
	proto.Message
}

func amount(r protoreflect.Message) (unit.Amount, bool) {
	fd := numberField(r)
	switch {
	case fd == nil:
		return unit.Amount{}, false
	case fd.Message() != nil:
		return amount(r.Get(fd).Message())
	}
	u, known := unitOfField[fd.Name()]
	if !known {
		return unit.Amount{}, false
	}
	a := unit.Amount{Number: r.Get(fd).Float(), Unit: u}
	if r.Descriptor() == depthMessageType {
		a = a.OfTread()
	}
	return a, true
}

var depthMessageType = (*pb.Depth)(nil).ProtoReflect().Descriptor()

// numberField is the field that holds a quantity's number; nil: none is set.
func numberField(r protoreflect.Message) protoreflect.FieldDescriptor {
	d := r.Descriptor()
	if d.Oneofs().Len() > 0 {
		return r.WhichOneof(d.Oneofs().Get(0))
	}
	if fd := d.Fields().Get(0); r.Has(fd) { // an angle has one unit alone
		return fd
	}
	return nil
}

// of converts a message with the constructor of its quantity; a message that is
// absent gives the zero quantity and false.
func of[Q any, M quantityMessage](construct func(float64, unit.Unit) (Q, error), message M) (q Q, u unit.Unit, ok bool) {
	a, ok := Amount(message)
	if !ok {
		return q, unit.None, false
	}
	q, err := construct(a.Number, a.Unit)
	return q, a.Unit, err == nil
}

// fill writes an amount into an empty quantity message.
func fill[M proto.Message](m M, a unit.Amount) M {
	r := m.ProtoReflect()
	r.Set(r.Descriptor().Fields().ByName(fieldOfUnit[a.Unit]), protoreflect.ValueOfFloat64(a.Number))
	return m
}

// Date gives a calendar date; the zero date when it is absent.
func Date(d *pb.CalendarDate) unit.Date {
	return unit.Date{Year: int(d.GetYear()), Month: int(d.GetMonth()), Day: int(d.GetDay())}
}

func dateMessage(d unit.Date) *pb.CalendarDate {
	if d.IsZero() {
		return nil
	}
	return &pb.CalendarDate{Year: int32(d.Year), Month: int32(d.Month), Day: int32(d.Day)}
}

// quantity gives an amount as evidence carries it, nil when there is none.
func quantity(a unit.Amount) *pb.Quantity {
	switch a.Unit {
	case unit.None, unit.Hours, unit.Days: // the contract has no span of time among its quantities: a rule's words tell it
		return nil
	case unit.ThirtySecondsInch:
		return depthQuantity(a)
	case unit.PSI, unit.Kilopascals, unit.Bar:
		return pressureQuantity(a)
	}
	if a.Tread {
		return depthQuantity(a)
	}
	q := &pb.Quantity{}
	switch a.Unit {
	case unit.Millimeters, unit.Inches:
		q.Amount = &pb.Quantity_Length{Length: fill(&pb.Length{}, a)}
	case unit.Hectopascals, unit.InchesMercury:
		q.Amount = &pb.Quantity_AirPressure{AirPressure: fill(&pb.AirPressure{}, a)}
	case unit.Fahrenheit, unit.Celsius:
		q.Amount = &pb.Quantity_Temperature{Temperature: fill(&pb.Temperature{}, a)}
	case unit.Miles, unit.Kilometers:
		q.Amount = &pb.Quantity_Distance{Distance: fill(&pb.Distance{}, a)}
	case unit.Feet, unit.Meters:
		q.Amount = &pb.Quantity_Height{Height: fill(&pb.Height{}, a)}
	case unit.Pounds, unit.Kilograms:
		q.Amount = &pb.Quantity_Mass{Mass: fill(&pb.Mass{}, a)}
	case unit.MilesPerHour, unit.KilometersPerHour:
		q.Amount = &pb.Quantity_Speed{Speed: fill(&pb.Speed{}, a)}
	case unit.NewtonMeters, unit.PoundFeet:
		q.Amount = &pb.Quantity_Torque{Torque: fill(&pb.Torque{}, a)}
	case unit.ThirtySecondsPer1000Miles, unit.MillimetersPer1000Kilometer:
		q.Amount = &pb.Quantity_WearRate{WearRate: fill(&pb.WearRate{}, a)}
	case unit.PSIPerMonth, unit.KilopascalsPerMonth, unit.BarPerMonth:
		q.Amount = &pb.Quantity_PressureLossRate{PressureLossRate: fill(&pb.PressureLossRate{}, a)}
	case unit.Degrees:
		q.Amount = &pb.Quantity_Angle{Angle: fill(&pb.Angle{}, a)}
	default: // percent, count, years stand in the quantity itself
		return fill(q, a)
	}
	return q
}

// inOne makes a message and what it holds in one piece: answers are full of amounts.
func inOne[M, W any]() (*M, *W) {
	piece := &struct {
		message M
		wrapped W
	}{}
	return &piece.message, &piece.wrapped
}

// depth and pressure fill the two that answers are full of, without reflection.
func depth(a unit.Amount) *pb.Depth {
	switch a.Unit {
	case unit.ThirtySecondsInch:
		m, in := inOne[pb.Depth, pb.Depth_ThirtySecondsInch]()
		m.AsRead, in.ThirtySecondsInch = in, a.Number
		return m
	case unit.Millimeters:
		m, in := inOne[pb.Depth, pb.Depth_Millimeters]()
		m.AsRead, in.Millimeters = in, a.Number
		return m
	}
	return fill(&pb.Depth{}, a)
}

func pressure(a unit.Amount) *pb.Pressure {
	switch a.Unit {
	case unit.PSI:
		m, in := inOne[pb.Pressure, pb.Pressure_Psi]()
		m.AsRead, in.Psi = in, a.Number
		return m
	case unit.Kilopascals:
		m, in := inOne[pb.Pressure, pb.Pressure_Kilopascals]()
		m.AsRead, in.Kilopascals = in, a.Number
		return m
	case unit.Bar:
		m, in := inOne[pb.Pressure, pb.Pressure_Bar]()
		m.AsRead, in.Bar = in, a.Number
		return m
	}
	return fill(&pb.Pressure{}, a)
}

func depthQuantity(a unit.Amount) *pb.Quantity {
	q, of := inOne[pb.Quantity, pb.Quantity_Depth]()
	q.Amount, of.Depth = of, depth(a)
	return q
}

func pressureQuantity(a unit.Amount) *pb.Quantity {
	q, of := inOne[pb.Quantity, pb.Quantity_Pressure]()
	q.Amount, of.Pressure = of, pressure(a)
	return q
}

func depthMessage(d unit.Depth, u unit.Unit) *pb.Depth { return depth(d.Amount(u).Rounded()) }

func pressureMessage(p unit.Pressure, u unit.Unit) *pb.Pressure {
	return pressure(p.Amount(u).Rounded())
}
