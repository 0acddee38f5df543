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

// steps are what a number is rounded to that was not read in its unit. Pressures
// are fine enough that a pressure to set never ends below its label by as much as
// a gauge shows.
var steps = map[unit.Unit]float64{
	unit.ThirtySecondsInch: 0.1, unit.Millimeters: 0.1, unit.Inches: 0.01, unit.PSI: 0.1, unit.Kilopascals: 1, unit.Bar: 0.01,
	unit.Miles: 1, unit.Kilometers: 1, unit.Pounds: 1, unit.Kilograms: 1, unit.MilesPerHour: 1, unit.KilometersPerHour: 1,
	unit.PoundFeet: 1, unit.NewtonMeters: 1, unit.Fahrenheit: 1, unit.Celsius: 1,
}

// wanted is the reader's unit for an amount.
func (w Units) wanted(a unit.Amount) unit.Unit {
	if a.Tread {
		return w.Depth
	}
	switch a.Unit {
	case unit.ThirtySecondsInch:
		return w.Depth
	case unit.Millimeters, unit.Inches:
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

// In gives an amount in the reader's unit; the amount itself where it is in that
// already, or the reader wants no other.
func (t *Teller) In(a unit.Amount) unit.Amount {
	wanted := t.units.wanted(a)
	if wanted == a.Unit {
		return a
	}
	to, ok := a.To(wanted)
	if !ok {
		return a
	}
	if wanted == unit.Miles || wanted == unit.Kilometers {
		to.Number = coarse(a.Number, to.Number)
		return to
	}
	per := math.Round(1 / steps[wanted])
	to.Number = math.Round(to.Number*per) / per
	return to
}

// coarse gives a number converted from another as coarse as that one: to the greatest
// power of ten that is no more than the one that the other ends with, and that changes
// it by no more than one part in forty. 100 miles are 160 kilometers, 8,000 are 13,000.
func coarse(from, to float64) float64 {
	step := 1.0
	for step < 1e6 && from != 0 && math.Mod(from, step*10) == 0 {
		step *= 10
	}
	for ; step > 1; step /= 10 {
		if n := step * math.Round(to/step); math.Abs(n-to) <= math.Abs(to)/40 {
			return n
		}
	}
	return math.Round(to)
}

// appendAmount writes a value that is an amount.
func (t *Teller) appendAmount(dst []byte, v *Value) []byte {
	n := &t.locale.numerals
	in := t.In(v.amount)
	switch v.kind {
	case numberValue:
		return n.append(dst, v.amount)
	case spanStartValue:
		return n.append(dst, in)
	case spanEndValue:
		return t.appendSpanEnd(dst, v.amount, v.end)
	case expandedValue:
		return t.appendExpanded(dst, v.amount)
	case amountValue:
		if in != v.amount {
			return append(t.appendExact(append(t.appendExact(dst, in), " ("...), v.amount), ')')
		}
	case derivedValue:
		return t.appendExact(dst, in)
	}
	return t.appendExact(dst, v.amount)
}

// appendExact writes an amount with its unit as it stands.
func (t *Teller) appendExact(dst []byte, a unit.Amount) []byte {
	return t.appendUnit(t.locale.numerals.append(dst, a), a)
}

func (t *Teller) appendSpanEnd(dst []byte, from, by unit.Amount) []byte {
	in := t.In(by)
	dst = t.appendExact(dst, in)
	if in == by {
		return dst
	}
	dst = append(dst, " ("...)
	if from != by {
		dst = append(t.locale.numerals.append(dst, from), '-')
	}
	return append(t.appendExact(dst, by), ')')
}

// appendExpanded writes twice a standard uncertainty, which is converted after it is
// doubled.
func (t *Teller) appendExpanded(dst []byte, std unit.Amount) []byte {
	twice := std
	twice.Number *= 2
	if in := t.In(twice); in != twice {
		return t.appendExact(dst, in)
	}
	var room [longest]byte
	dst = t.locale.numerals.point(dst, strconv.AppendFloat(room[:0], twice.Number, 'f', 2, 64))
	return t.appendUnit(dst, twice)
}

// wordedUnits are the units that are words and not symbols, which each language has
// its own of.
var wordedUnits = map[unit.Unit]string{
	unit.ThirtySecondsPer1000Miles:   "unit.thirty-seconds-per-thousand-miles",
	unit.MillimetersPer1000Kilometer: "unit.millimeters-per-thousand-kilometers",
	unit.PSIPerMonth:                 "unit.psi-per-month",
	unit.KilopascalsPerMonth:         "unit.kilopascals-per-month",
	unit.BarPerMonth:                 "unit.bar-per-month",
	unit.Days:                        "unit.days",
}

// appendUnit writes the unit of an amount after its number.
func (t *Teller) appendUnit(dst []byte, a unit.Amount) []byte {
	switch a.Unit {
	case unit.None, unit.Count, unit.Years:
		return dst
	case unit.Percent:
		return append(dst, t.locale.numerals.percent...)
	case unit.ThirtySecondsInch, unit.ThirtySecondsPer1000Miles, unit.Degrees:
	default:
		dst = append(dst, ' ')
	}
	if worded := t.locale.texts.units[a.Unit]; worded != nil {
		m := rendering{teller: t}
		return m.within(dst, worded, a)
	}
	return append(dst, a.Unit.String()...)
}
