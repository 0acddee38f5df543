package translate

import (
	pb "gaugebook.dev/proto/gaugebook/v1"

	"gaugebook.dev/calc/unit"

	"gaugebook.dev/server/words"
)

// Units gives what a reader wants to read in; what is not told, or not known here,
// stays as read.
func Units(m *pb.ReaderUnits) words.Units {
	return words.Units{
		Depth: map[pb.DepthUnit]unit.Unit{
			pb.DepthUnit_DEPTH_UNIT_THIRTY_SECONDS_INCH: unit.ThirtySecondsInch, pb.DepthUnit_DEPTH_UNIT_MILLIMETERS: unit.Millimeters,
		}[m.GetDepth()],
		Length: map[pb.LengthUnit]unit.Unit{
			pb.LengthUnit_LENGTH_UNIT_INCHES: unit.Inches, pb.LengthUnit_LENGTH_UNIT_MILLIMETERS: unit.Millimeters,
		}[m.GetLength()],
		Pressure: map[pb.PressureUnit]unit.Unit{
			pb.PressureUnit_PRESSURE_UNIT_PSI: unit.PSI, pb.PressureUnit_PRESSURE_UNIT_KILOPASCALS: unit.Kilopascals, pb.PressureUnit_PRESSURE_UNIT_BAR: unit.Bar,
		}[m.GetPressure()],
		Distance: map[pb.DistanceUnit]unit.Unit{
			pb.DistanceUnit_DISTANCE_UNIT_MILES: unit.Miles, pb.DistanceUnit_DISTANCE_UNIT_KILOMETERS: unit.Kilometers,
		}[m.GetDistance()],
		Mass: map[pb.MassUnit]unit.Unit{
			pb.MassUnit_MASS_UNIT_POUNDS: unit.Pounds, pb.MassUnit_MASS_UNIT_KILOGRAMS: unit.Kilograms,
		}[m.GetMass()],
		Speed: map[pb.SpeedUnit]unit.Unit{
			pb.SpeedUnit_SPEED_UNIT_MILES_PER_HOUR: unit.MilesPerHour, pb.SpeedUnit_SPEED_UNIT_KILOMETERS_PER_HOUR: unit.KilometersPerHour,
		}[m.GetSpeed()],
		Torque: map[pb.TorqueUnit]unit.Unit{
			pb.TorqueUnit_TORQUE_UNIT_POUND_FEET: unit.PoundFeet, pb.TorqueUnit_TORQUE_UNIT_NEWTON_METERS: unit.NewtonMeters,
		}[m.GetTorque()],
		Temperature: map[pb.TemperatureUnit]unit.Unit{
			pb.TemperatureUnit_TEMPERATURE_UNIT_FAHRENHEIT: unit.Fahrenheit, pb.TemperatureUnit_TEMPERATURE_UNIT_CELSIUS: unit.Celsius,
		}[m.GetTemperature()],
	}
}
