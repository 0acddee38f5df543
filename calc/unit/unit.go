// Package unit holds the quantities of the trade, each its own type, so that
// none can be mistaken for another and no number travels without its unit.
//
// Depth and Length are exact integers of 0.1 nanometer: a thirty-second of an
// inch (7,937,500), its halves and tenths, a mil and a tenth of a millimeter
// are all exact, so a rule can be compared in its own unit by conversion alone,
// never by rounding. The other quantities are floating point in SI base units.
//
// Factors are exact by definition: inch 25.4 mm, pound 0.45359237 kg, standard
// gravity 9.80665 m/s2, mile 5280 ft (NIST Special Publication 811, Appendix B).
package unit

import (
	"fmt"
	"math"
)

// Unit names how a number was read or is to be shown.
type Unit uint8

// The units that gauges, labels and laws use.
const (
	None Unit = iota
	ThirtySecondsInch
	Millimeters
	Inches
	PSI
	Kilopascals
	Bar
	Hectopascals
	InchesMercury
	Fahrenheit
	Celsius
	Miles
	Kilometers
	Feet
	Meters
	Pounds
	Kilograms
	MilesPerHour
	KilometersPerHour
	Degrees
	Percent
	Count
	Years
	NewtonMeters
	PoundFeet
	Hours
	ThirtySecondsPer1000Miles
	MillimetersPer1000Kilometer
	PSIPerMonth
	KilopascalsPerMonth
	BarPerMonth
	Days
)

// units gives each unit's symbol and the resolution to which a number in it
// leaves calc: fine enough to show any rule exactly, coarse enough to hide the
// last bits of floating-point arithmetic, which differ between processors.
var units = [...]struct {
	symbol     string
	resolution float64
}{
	None:              {"", 1e-4},
	ThirtySecondsInch: {"/32 in", 0.01},
	Millimeters:       {"mm", 0.001},
	Inches:            {"in", 0.0001},
	PSI:               {"psi", 0.1},
	Kilopascals:       {"kPa", 0.1},
	Bar:               {"bar", 0.01},
	Hectopascals:      {"hPa", 0.1},
	InchesMercury:     {"inHg", 0.01},
	Fahrenheit:        {"°F", 0.1},
	Celsius:           {"°C", 0.1},
	Miles:             {"mi", 1},
	Kilometers:        {"km", 1},
	Feet:              {"ft", 1},
	Meters:            {"m", 1},
	Pounds:            {"lb", 1},
	Kilograms:         {"kg", 1},
	MilesPerHour:      {"mph", 1},
	KilometersPerHour: {"km/h", 1},
	Degrees:           {"°", 0.1},
	Percent:           {"%", 0.1},
	Count:             {"", 1},
	Years:             {"years", 0.1},
	NewtonMeters:      {"N·m", 1},
	PoundFeet:         {"lb·ft", 1},
	Hours:             {"h", 0.1},

	ThirtySecondsPer1000Miles:   {"/32 in per 1,000 mi", 0.001},
	MillimetersPer1000Kilometer: {"mm per 1,000 km", 0.001},
	PSIPerMonth:                 {"psi a month", 0.1},
	KilopascalsPerMonth:         {"kPa a month", 0.1},
	BarPerMonth:                 {"bar a month", 0.01},
	Days:                        {"days", 1},
}

// String is the unit's usual symbol, "/32 in" for thirty-seconds of an inch.
func (u Unit) String() string {
	if int(u) >= len(units) {
		return ""
	}
	return units[u].symbol
}

// Amount is a number with its unit, as shown to people and as sent: a reading
// as it was read, a limit as its law prints it, or a derived value.
type Amount struct {
	Number float64
	Unit   Unit
	Tread  bool `json:"-"` // millimeters of tread depth: see OfTread
}

// OfTread gives the amount as one of tread depth. Millimeters are of lengths and of
// tread, which people read in different units: 1.6 mm of tread and 25 mm of a cut.
// Thirty-seconds are of tread anyhow.
func (a Amount) OfTread() Amount {
	a.Tread = a.Unit == Millimeters
	return a
}

func amount(n float64, u Unit) Amount { return Amount{Number: n, Unit: u} }

// IsZero tells that there is no amount (an amount of zero still has a unit).
func (a Amount) IsZero() bool { return a.Unit == None }

// Rounded gives the amount at the resolution of its unit: 0.01 of a
// thirty-second, 0.001 mm, 0.0001 in, 0.1 psi, 0.1 kPa, 0.01 bar, 0.1 degree,
// 0.1 percent, whole miles, kilometers, pounds and kilograms.
// Every derived number that leaves calc goes through it, after all comparisons.
func (a Amount) Rounded() Amount {
	if int(a.Unit) >= len(units) {
		return a
	}
	inverse := math.Round(1 / units[a.Unit].resolution)
	a.Number = math.Round(a.Number*inverse) / inverse
	if a.Number == 0 {
		a.Number = 0 // no negative zero
	}
	return a
}

// AsFine gives the amount no finer than its standard uncertainty, in the same unit, lets
// it be known: to the power of ten that is no more than it. Never finer than Rounded.
func (a Amount) AsFine(std Amount) Amount {
	a = a.Rounded()
	u := math.Abs(std.Number)
	if u == 0 || a.Unit != std.Unit {
		return a
	}
	// A power of ten below one is told by its inverse, which is whole.
	switch e := math.Floor(math.Log10(u) + 1e-9); {
	case e >= 0:
		step := math.Pow(10, e)
		a.Number = step * math.Round(a.Number/step)
	default:
		per := math.Pow(10, -e)
		a.Number = math.Round(a.Number*per) / per
	}
	return a.Rounded()
}

// settings are what a pressure is set to on a gauge: whole psi, tenths of a bar.
var settings = map[Unit]float64{PSI: 1, Kilopascals: 1.0 / 5, Bar: 10}

// ToSet gives a pressure as somebody can set it, upward: whole psi, tenths of a bar, five
// kilopascals. Other amounts stay as they are.
func (a Amount) ToSet() Amount {
	per, ok := settings[a.Unit]
	if !ok {
		return a
	}
	a.Number = math.Ceil(a.Rounded().Number*per-1e-6) / per
	return a.Rounded()
}

// String prints the shortest decimal of the rounded amount with its symbol.
func (a Amount) String() string {
	n := a.Rounded()
	if n.Unit == ThirtySecondsInch || n.Unit == ThirtySecondsPer1000Miles || n.Unit == Percent || n.Unit == Degrees || n.Unit == Fahrenheit || n.Unit == Celsius {
		return trim(n.Number) + n.Unit.String()
	}
	if n.Unit.String() == "" {
		return trim(n.Number)
	}
	return trim(n.Number) + " " + n.Unit.String()
}

func trim(f float64) string { return fmt.Sprintf("%.10g", f) }

// Error says that a number cannot be the quantity it is given as.
type Error struct {
	Given float64
	Unit  Unit
	Want  string // what would be right, in words
}

func (e *Error) Error() string {
	return fmt.Sprintf("%s is not possible: %s", amount(e.Given, e.Unit).exact(), e.Want)
}

// exact prints the amount as given, unrounded: errors repeat what was typed.
func (a Amount) exact() string {
	s := fmt.Sprintf("%g", a.Number)
	if sym := a.Unit.String(); sym != "" {
		s += " " + sym
	}
	return s
}

func finite(n float64, u Unit) error {
	if math.IsNaN(n) || math.IsInf(n, 0) {
		return &Error{n, u, "a finite number is wanted"}
	}
	return nil
}

// must turns a constructor's error into a panic, for constants in code.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
