package words

import (
	"math"
	"strconv"

	"gaugebook.dev/calc/unit"
)

// Units are those that a reader wants to read in; unit.None: as it was read.
type Units struct {
	Depth, Length, Pressure, Distance, Mass, Speed, Torque, Temperature unit.Unit
}

// For gives the catalogue for a reader who reads in these units.
func (c *Catalogue) For(u Units) *Catalogue {
	with := *c
	with.units = u
	return &with
}

// steps are what a number is rounded to that was not read in its unit. Pressures
// are fine enough that a pressure to set never ends below its label by as much as
// a gauge shows.
var steps = map[unit.Unit]float64{
	unit.ThirtySecondsInch: 0.1, unit.Millimeters: 0.1, unit.Inches: 0.01, unit.PSI: 0.1, unit.Kilopascals: 1, unit.Bar: 0.01,
	unit.Miles: 1, unit.Kilometers: 1, unit.Pounds: 1, unit.Kilograms: 1, unit.MilesPerHour: 1, unit.KilometersPerHour: 1,
	unit.PoundFeet: 1, unit.NewtonMeters: 1, unit.Fahrenheit: 1, unit.Celsius: 1,
}

// wanted is the reader's unit for amounts in u. Millimeters are a length unless
// depth says that they are of tread.
func (w Units) wanted(u unit.Unit, depth bool) unit.Unit {
	switch u {
	case unit.ThirtySecondsInch:
		return w.Depth
	case unit.Millimeters, unit.Inches:
		if depth {
			return w.Depth
		}
		return w.Length
	case unit.PSI, unit.Kilopascals, unit.Bar:
		return w.Pressure
	case unit.Miles, unit.Kilometers:
		return w.Distance
	case unit.Pounds, unit.Kilograms:
		return w.Mass
	case unit.MilesPerHour, unit.KilometersPerHour:
		return w.Speed
	case unit.PoundFeet, unit.NewtonMeters:
		return w.Torque
	case unit.Fahrenheit, unit.Celsius:
		return w.Temperature
	}
	return unit.None
}

// Wanted gives an amount in the reader's unit; the amount itself where it is in
// that already, or the reader wants no other. depth tells millimeters of tread
// from those of anything else.
func (c *Catalogue) Wanted(a unit.Amount, depth bool) unit.Amount {
	u := c.units.wanted(a.Unit, depth)
	if u == a.Unit {
		return a
	}
	is, ok := a.To(u)
	if !ok {
		return a
	}
	per := math.Round(1 / steps[u])
	is.Number = math.Round(is.Number*per) / per
	return is
}

// Shown writes an amount in the reader's unit, and beside it as it was read, or
// as its law or label prints it: "1.6 mm (2/32 in)".
func (c *Catalogue) Shown(a unit.Amount, depth bool) string {
	is := c.Wanted(a, depth)
	if is == a {
		return c.Amount(a)
	}
	return c.Amount(is) + " (" + c.Amount(a) + ")"
}

// Derived writes what nobody read, in the reader's unit alone.
func (c *Catalogue) Derived(a unit.Amount, depth bool) string { return c.Amount(c.Wanted(a, depth)) }

// Expanded writes twice a standard uncertainty, to two decimals, in the reader's
// unit; "" for none.
func (c *Catalogue) Expanded(std unit.Amount, depth bool) string {
	if std.IsZero() || std.Number == 0 {
		return ""
	}
	twice := unit.Amount{Number: 2 * std.Number, Unit: std.Unit}
	if is := c.Wanted(twice, depth); is != twice {
		return c.Amount(is)
	}
	return c.withUnit(c.numerals.point(strconv.FormatFloat(twice.Number, 'f', 2, 64)), twice.Unit)
}
