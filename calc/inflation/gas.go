// Package inflation answers what a tire pressure means: its cold equivalent
// with how sure that is, what is wrong with it, whether the tire ran low, and
// what a gauge has to show now.
//
// A tire's volume and its mass of air are taken as constant, so its absolute
// pressure goes as its absolute temperature. Nothing here ever asks to let air
// out of a warm tire, and no target lies below the vehicle's label.
package inflation

import (
	"math"

	"gaugebook.dev/calc/unit"
)

// AtTemperature gives the gauge pressure at the temperature to of a tire that
// reads p at the temperature from, in surrounding air of the pressure air (zero:
// the standard atmosphere). Gas law at constant volume, absolute pressure and
// kelvin. Temperatures must be above absolute zero.
func AtTemperature(p unit.Pressure, from, to unit.Temperature, air unit.AirPressure) unit.Pressure {
	a := float64(orStandard(air))
	return unit.Pressure(float64((float64(p)+a)*float64(to)/float64(from)) - a)
}

// Elsewhere gives what a tire that reads p in the air pressure here reads in
// the air pressure there, at the same temperature: a gauge reads against the
// air around it. It is for setting a tire here and using it there; where the
// vehicle lives the label needs no correction.
func Elsewhere(p unit.Pressure, here, there unit.AirPressure) unit.Pressure {
	return p + unit.Pressure(here-there)
}

// The US Standard Atmosphere, 1976: Table 2 and section 1.2.
const (
	seaLevelKelvin = 288.15
	lapse          = 0.0065  // kelvin per geopotential meter
	gravity        = 9.80665 // m/s2
	molarMass      = 28.9644 // kg/kmol
	gasConstant    = 8314.32 // N m/(kmol K), as that standard has it
	earthRadius    = 6356766 // m
)

// The heights Air answers for: a little below the sea, as maps give it, to the
// geopotential top of the lowest layer.
const (
	lowest  unit.Height = -500
	highest unit.Height = 11000
)

// Geopotential turns a height as a map gives it (geometric) into geopotential
// height (US Standard Atmosphere 1976, equation 18).
func Geopotential(geometric unit.Height) unit.Height {
	return earthRadius * geometric / (earthRadius + geometric)
}

// Air gives the pressure of the US Standard Atmosphere 1976 at a height above
// sea level as maps give it. From -500 m to 11 km geopotential (11,019 m);
// any other height is refused.
func Air(geometric unit.Height) (unit.AirPressure, error) {
	h := Geopotential(geometric)
	if math.IsNaN(float64(h)) || geometric < lowest || h > highest {
		return 0, &unit.Error{Given: float64(geometric), Unit: unit.Meters, Want: "a height from 500 m below sea level to 11 km above it"}
	}
	return airAt(h), nil
}

// airAt is the pressure at a geopotential height (equation 33a).
func airAt(h unit.Height) unit.AirPressure {
	const exponent = gravity * molarMass / (gasConstant * lapse)
	return unit.StandardAtmosphere * unit.AirPressure(math.Pow(1-lapse/seaLevelKelvin*float64(h), exponent))
}

func orStandard(air unit.AirPressure) unit.AirPressure {
	if air == 0 {
		return unit.StandardAtmosphere
	}
	return air
}
