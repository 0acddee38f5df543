package tell

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/words"
)

// Units gives what a reader wants to read in; what is not told, or not known here,
// stays as read.
func Units(m *pb.ReaderUnits) words.Units {
	return words.Units{
		Depth: depthUnits[m.GetDepth()], Length: lengthUnits[m.GetLength()], Pressure: pressureUnits[m.GetPressure()],
		Distance: distanceUnits[m.GetDistance()], Mass: massUnits[m.GetMass()], Speed: speedUnits[m.GetSpeed()],
		Torque: torqueUnits[m.GetTorque()], Temperature: temperatureUnits[m.GetTemperature()],
	}
}

var (
	depthUnits = map[pb.DepthUnit]unit.Unit{
		pb.DepthUnit_DEPTH_UNIT_THIRTY_SECONDS_INCH: unit.ThirtySecondsInch, pb.DepthUnit_DEPTH_UNIT_MILLIMETERS: unit.Millimeters,
	}
	lengthUnits = map[pb.LengthUnit]unit.Unit{
		pb.LengthUnit_LENGTH_UNIT_INCHES: unit.Inches, pb.LengthUnit_LENGTH_UNIT_MILLIMETERS: unit.Millimeters,
	}
	pressureUnits = map[pb.PressureUnit]unit.Unit{
		pb.PressureUnit_PRESSURE_UNIT_PSI: unit.PSI, pb.PressureUnit_PRESSURE_UNIT_KILOPASCALS: unit.Kilopascals, pb.PressureUnit_PRESSURE_UNIT_BAR: unit.Bar,
	}
	distanceUnits = map[pb.DistanceUnit]unit.Unit{
		pb.DistanceUnit_DISTANCE_UNIT_MILES: unit.Miles, pb.DistanceUnit_DISTANCE_UNIT_KILOMETERS: unit.Kilometers,
	}
	massUnits = map[pb.MassUnit]unit.Unit{
		pb.MassUnit_MASS_UNIT_POUNDS: unit.Pounds, pb.MassUnit_MASS_UNIT_KILOGRAMS: unit.Kilograms,
	}
	speedUnits = map[pb.SpeedUnit]unit.Unit{
		pb.SpeedUnit_SPEED_UNIT_MILES_PER_HOUR: unit.MilesPerHour, pb.SpeedUnit_SPEED_UNIT_KILOMETERS_PER_HOUR: unit.KilometersPerHour,
	}
	torqueUnits = map[pb.TorqueUnit]unit.Unit{
		pb.TorqueUnit_TORQUE_UNIT_POUND_FEET: unit.PoundFeet, pb.TorqueUnit_TORQUE_UNIT_NEWTON_METERS: unit.NewtonMeters,
	}
	temperatureUnits = map[pb.TemperatureUnit]unit.Unit{
		pb.TemperatureUnit_TEMPERATURE_UNIT_FAHRENHEIT: unit.Fahrenheit, pb.TemperatureUnit_TEMPERATURE_UNIT_CELSIUS: unit.Celsius,
	}
)

// Amount is what a quantity holds. An absent quantity, and a date, has none.
func Amount(q *pb.Quantity) unit.Amount {
	switch v := q.GetAmount().(type) {
	case *pb.Quantity_Depth:
		return read(v.Depth.GetAsRead()).OfTread()
	case *pb.Quantity_Pressure:
		return read(v.Pressure.GetAsRead())
	case *pb.Quantity_Temperature:
		return read(v.Temperature.GetAsRead())
	case *pb.Quantity_Distance:
		return read(v.Distance.GetAsRead())
	case *pb.Quantity_Mass:
		return read(v.Mass.GetAsRead())
	case *pb.Quantity_Length:
		return read(v.Length.GetAsRead())
	case *pb.Quantity_AirPressure:
		return read(v.AirPressure.GetAsRead())
	case *pb.Quantity_Height:
		return read(v.Height.GetAsRead())
	case *pb.Quantity_Speed:
		return read(v.Speed.GetAsRead())
	case *pb.Quantity_Torque:
		return read(v.Torque.GetAsRead())
	case *pb.Quantity_WearRate:
		return rate(v.WearRate.GetAsRead())
	case *pb.Quantity_PressureLossRate:
		return rate(v.PressureLossRate.GetAsRead())
	case *pb.Quantity_Angle:
		return unit.Amount{Number: v.Angle.GetDegrees(), Unit: unit.Degrees}
	case *pb.Quantity_Percent:
		return unit.Amount{Number: v.Percent, Unit: unit.Percent}
	case *pb.Quantity_Count:
		return unit.Amount{Number: v.Count, Unit: unit.Count}
	case *pb.Quantity_Years:
		return unit.Amount{Number: v.Years, Unit: unit.Years}
	}
	return unit.Amount{}
}

// read is what a quantity was read as: the contract names the unit by the field.
func read(asRead any) unit.Amount {
	switch v := asRead.(type) {
	case *pb.Depth_ThirtySecondsInch:
		return unit.Amount{Number: v.ThirtySecondsInch, Unit: unit.ThirtySecondsInch}
	case *pb.Depth_Millimeters:
		return unit.Amount{Number: v.Millimeters, Unit: unit.Millimeters}
	case *pb.Pressure_Psi:
		return unit.Amount{Number: v.Psi, Unit: unit.PSI}
	case *pb.Pressure_Kilopascals:
		return unit.Amount{Number: v.Kilopascals, Unit: unit.Kilopascals}
	case *pb.Pressure_Bar:
		return unit.Amount{Number: v.Bar, Unit: unit.Bar}
	case *pb.AirPressure_Hectopascals:
		return unit.Amount{Number: v.Hectopascals, Unit: unit.Hectopascals}
	case *pb.AirPressure_InchesMercury:
		return unit.Amount{Number: v.InchesMercury, Unit: unit.InchesMercury}
	case *pb.Temperature_Fahrenheit:
		return unit.Amount{Number: v.Fahrenheit, Unit: unit.Fahrenheit}
	case *pb.Temperature_Celsius:
		return unit.Amount{Number: v.Celsius, Unit: unit.Celsius}
	case *pb.Distance_Miles:
		return unit.Amount{Number: v.Miles, Unit: unit.Miles}
	case *pb.Distance_Kilometers:
		return unit.Amount{Number: v.Kilometers, Unit: unit.Kilometers}
	case *pb.Height_Feet:
		return unit.Amount{Number: v.Feet, Unit: unit.Feet}
	case *pb.Height_Meters:
		return unit.Amount{Number: v.Meters, Unit: unit.Meters}
	case *pb.Length_Inches:
		return unit.Amount{Number: v.Inches, Unit: unit.Inches}
	case *pb.Length_Millimeters:
		return unit.Amount{Number: v.Millimeters, Unit: unit.Millimeters}
	case *pb.Mass_Pounds:
		return unit.Amount{Number: v.Pounds, Unit: unit.Pounds}
	case *pb.Mass_Kilograms:
		return unit.Amount{Number: v.Kilograms, Unit: unit.Kilograms}
	case *pb.Speed_MilesPerHour:
		return unit.Amount{Number: v.MilesPerHour, Unit: unit.MilesPerHour}
	case *pb.Speed_KilometersPerHour:
		return unit.Amount{Number: v.KilometersPerHour, Unit: unit.KilometersPerHour}
	case *pb.Torque_NewtonMeters:
		return unit.Amount{Number: v.NewtonMeters, Unit: unit.NewtonMeters}
	case *pb.Torque_PoundFeet:
		return unit.Amount{Number: v.PoundFeet, Unit: unit.PoundFeet}
	}
	return unit.Amount{}
}

// rate is read for what is so much of one thing for each of another.
func rate(asRead any) unit.Amount {
	switch v := asRead.(type) {
	case *pb.WearRate_ThirtySecondsInchPer_1000Miles:
		return unit.Amount{Number: v.ThirtySecondsInchPer_1000Miles, Unit: unit.ThirtySecondsPer1000Miles}
	case *pb.WearRate_MillimetersPer_1000Kilometers:
		return unit.Amount{Number: v.MillimetersPer_1000Kilometers, Unit: unit.MillimetersPer1000Kilometer}
	case *pb.PressureLossRate_PsiPerMonth:
		return unit.Amount{Number: v.PsiPerMonth, Unit: unit.PSIPerMonth}
	case *pb.PressureLossRate_KilopascalsPerMonth:
		return unit.Amount{Number: v.KilopascalsPerMonth, Unit: unit.KilopascalsPerMonth}
	case *pb.PressureLossRate_BarPerMonth:
		return unit.Amount{Number: v.BarPerMonth, Unit: unit.BarPerMonth}
	}
	return unit.Amount{}
}

// shown is a quantity as words tell it.
func shown(q *pb.Quantity) words.Value { return words.Shown(Amount(q)) }

// dayOf is a day of the contract; the zero day when it is absent.
func dayOf(d *pb.CalendarDate) unit.Date {
	return unit.Date{Year: int(d.GetYear()), Month: int(d.GetMonth()), Day: int(d.GetDay())}
}
