package unit

import "math"

// Pressure is gauge pressure in kilopascals: above the surrounding air, as a
// tire gauge shows it.
type Pressure float64

// AirPressure is absolute pressure in kilopascals, as a barometer shows it.
type AirPressure float64

// StandardAtmosphere is the sea-level pressure of the US Standard Atmosphere
// 1976 and of ISO 2533.
const StandardAtmosphere AirPressure = 101.325

// Temperature is in kelvin.
type Temperature float64

// Distance is on the road, in micrometers. What is told in any unit is a whole number
// of them, exact to nine million kilometers (2^53): a mile is 1,609,344,000. So the
// difference of two odometers of 3,000 miles is no less when they are told in
// kilometers, and may be compared with a limit as it stands.
type Distance float64

// Height is above sea level, in meters.
type Height float64

// Mass is in kilograms.
type Mass float64

// Speed is in kilometers per hour.
type Speed float64

// Ratio is a share of one: 0.8 is 80 percent.
type Ratio float64

// Angle is in degrees.
type Angle float64

// kiloPerPSI is the kilopascals in one pound-force per square inch:
// 0.45359237 kg x 9.80665 m/s2 / (0.0254 m)2 / 1000.
const kiloPerPSI = 0.45359237 * 9.80665 / (0.0254 * 0.0254) / 1000

// kiloPerInchMercury is conventional mercury, 13,595.1 kg/m3 x 9.80665 m/s2 x
// 0.0254 m / 1000 (NIST Special Publication 811, Appendix B).
const kiloPerInchMercury = 13595.1 * 9.80665 * 0.0254 / 1000

var (
	kilopascals = map[Unit]float64{PSI: kiloPerPSI, Kilopascals: 1, Bar: 100, Hectopascals: 0.1, InchesMercury: kiloPerInchMercury}
	meters      = map[Unit]float64{Miles: 1609.344, Kilometers: 1000, Feet: 0.3048, Meters: 1}
	micrometers = map[Unit]float64{Miles: 1_609_344_000, Kilometers: 1e9, Feet: 304_800, Meters: 1e6}
	kilograms   = map[Unit]float64{Pounds: 0.45359237, Kilograms: 1}
)

func scaled(n float64, u Unit, factors map[Unit]float64, want string) (float64, error) {
	if err := finite(n, u); err != nil {
		return 0, err
	}
	f, ok := factors[u]
	if !ok {
		return 0, &Error{n, u, want}
	}
	return n * f, nil
}

// PressureOf makes a gauge pressure from PSI, Kilopascals or Bar. Below a
// vacuum at sea level (-101.325 kPa, -14.696 psi) it is refused.
func PressureOf(n float64, u Unit) (Pressure, error) {
	k, err := scaled(n, u, kilopascals, "psi, kPa or bar is wanted")
	if err == nil && k < -float64(StandardAtmosphere) {
		err = &Error{n, u, "no gauge can show less than a vacuum, -14.7 psi"}
	}
	return Pressure(k), err
}

// MustPressure is PressureOf for constants.
func MustPressure(n float64, u Unit) Pressure { return must(PressureOf(n, u)) }

// In gives the pressure in PSI, Kilopascals or Bar.
func (p Pressure) In(u Unit) float64 { return float64(p) / kilopascals[u] }

// Amount gives the pressure in the unit u, unrounded.
func (p Pressure) Amount(u Unit) Amount { return amount(p.In(u), u) }

// AirPressureOf makes an absolute pressure from Hectopascals, InchesMercury,
// Kilopascals, PSI or Bar; zero and less are refused.
func AirPressureOf(n float64, u Unit) (AirPressure, error) {
	k, err := scaled(n, u, kilopascals, "hPa or inHg is wanted")
	if err == nil && k <= 0 {
		err = &Error{n, u, "a barometer shows more than zero"}
	}
	return AirPressure(k), err
}

// In gives the air pressure in any unit of pressure.
func (p AirPressure) In(u Unit) float64 { return float64(p) / kilopascals[u] }

// AbsoluteZero is the lowest temperature, in degrees of either scale.
const (
	absoluteZeroCelsius    = -273.15
	absoluteZeroFahrenheit = -459.67
)

// TemperatureOf makes a temperature from Fahrenheit or Celsius; below absolute
// zero (-459.67 °F, -273.15 °C) it is refused.
func TemperatureOf(n float64, u Unit) (Temperature, error) {
	if err := finite(n, u); err != nil {
		return 0, err
	}
	switch u {
	case Fahrenheit:
		if n < absoluteZeroFahrenheit {
			return 0, &Error{n, u, "nothing is colder than absolute zero, -459.67 °F"}
		}
		return Temperature((n - absoluteZeroFahrenheit) * 5 / 9), nil
	case Celsius:
		if n < absoluteZeroCelsius {
			return 0, &Error{n, u, "nothing is colder than absolute zero, -273.15 °C"}
		}
		return Temperature(n - absoluteZeroCelsius), nil
	}
	return 0, &Error{n, u, "°F or °C is wanted"}
}

// MustTemperature is TemperatureOf for constants.
func MustTemperature(n float64, u Unit) Temperature { return must(TemperatureOf(n, u)) }

// In gives the temperature in Fahrenheit or Celsius.
func (t Temperature) In(u Unit) float64 {
	if u == Fahrenheit {
		return float64(t)*9/5 + absoluteZeroFahrenheit
	}
	return float64(t) + absoluteZeroCelsius
}

// Amount gives the temperature in the unit u, unrounded.
func (t Temperature) Amount(u Unit) Amount { return amount(t.In(u), u) }

// DistanceOf makes a distance from Miles, Kilometers, Feet or Meters, to the nearest
// micrometer.
func DistanceOf(n float64, u Unit) (Distance, error) {
	d, err := scaled(n, u, micrometers, "miles or kilometers are wanted")
	return Distance(math.Round(d)), err
}

// MustDistance is DistanceOf for constants.
func MustDistance(n float64, u Unit) Distance { return must(DistanceOf(n, u)) }

// In gives the distance in Miles, Kilometers, Feet or Meters.
func (d Distance) In(u Unit) float64 { return float64(d) / micrometers[u] }

// Amount gives the distance in the unit u, unrounded.
func (d Distance) Amount(u Unit) Amount { return amount(d.In(u), u) }

// HeightOf makes a height above sea level from Feet or Meters.
func HeightOf(n float64, u Unit) (Height, error) {
	m, err := scaled(n, u, meters, "feet or meters are wanted")
	return Height(m), err
}

// MustHeight is HeightOf for constants.
func MustHeight(n float64, u Unit) Height { return must(HeightOf(n, u)) }

// In gives the height in Feet or Meters.
func (h Height) In(u Unit) float64 { return float64(h) / meters[u] }

// SpeedOf makes a speed from KilometersPerHour or MilesPerHour; negative speeds are refused.
func SpeedOf(n float64, u Unit) (Speed, error) {
	v, err := scaled(n, u, kilometersPerHour, "miles or kilometers per hour are wanted")
	if err == nil && v < 0 {
		err = &Error{n, u, "a speed that is zero or more"}
	}
	return Speed(v), err
}

// MustSpeed is SpeedOf for constants.
func MustSpeed(n float64, u Unit) Speed { return must(SpeedOf(n, u)) }

// Amount is the speed in KilometersPerHour or MilesPerHour.
func (s Speed) Amount(u Unit) Amount { return amount(float64(s)/kilometersPerHour[u], u) }

// MassOf makes a mass from Pounds or Kilograms; negative masses are refused.
func MassOf(n float64, u Unit) (Mass, error) {
	kg, err := scaled(n, u, kilograms, "pounds or kilograms are wanted")
	if err == nil && kg < 0 {
		err = &Error{n, u, "a rating or weight of zero or more"}
	}
	return Mass(kg), err
}

// MustMass is MassOf for constants.
func MustMass(n float64, u Unit) Mass { return must(MassOf(n, u)) }

// In gives the mass in Pounds or Kilograms.
func (m Mass) In(u Unit) float64 { return float64(m) / kilograms[u] }

// Amount gives the mass in the unit u, unrounded.
func (m Mass) Amount(u Unit) Amount { return amount(m.In(u), u) }

// In gives the share in Percent.
func (r Ratio) In(Unit) float64 { return float64(r) * 100 }

// Amount gives the share in percent, unrounded.
func (r Ratio) Amount() Amount { return amount(r.In(Percent), Percent) }

// In gives the angle in Degrees.
func (a Angle) In(Unit) float64 { return float64(a) }

// Amount gives the angle in Degrees.
func (a Angle) Amount(u Unit) Amount { return amount(a.In(u), u) }
