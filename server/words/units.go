package words

import (
	"cmp"
	"math"
	"strconv"

	"gaugebook.dev/calc/unit"
)

// Units are those that a reader wants to read in; unit.None: as it was read.
type Units struct {
	Depth, Length, Pressure, Distance, Mass, Speed, Torque, Temperature unit.Unit
}

// steps are what a number is rounded to at the finest that was not read in its unit.
var steps = map[unit.Unit]float64{
	unit.ThirtySecondsInch: 0.1, unit.Millimeters: 0.1, unit.Inches: 0.01, unit.PSI: 0.1, unit.Kilopascals: 1, unit.Bar: 0.01,
	unit.Miles: 1, unit.Kilometers: 1, unit.Pounds: 1, unit.Kilograms: 1, unit.MilesPerHour: 1, unit.KilometersPerHour: 1,
	unit.PoundFeet: 1, unit.NewtonMeters: 1, unit.Fahrenheit: 1, unit.Celsius: 1,
	unit.ThirtySecondsPer1000Miles: 0.01, unit.MillimetersPer1000Kilometer: 0.01,
	unit.PSIPerMonth: 0.1, unit.KilopascalsPerMonth: 1, unit.BarPerMonth: 0.01,
}

// grains are what a number of a unit is taken to be known to at the least, for one that
// ends in zeros: a pressure to set is known to what a gauge shows, so that it never ends
// below its label by as much. Of units that are not here zeros count as they stand, and
// of 0 a number is told as fine as the steps are.
var grains = map[unit.Unit]float64{
	unit.PSI: 1, unit.Kilopascals: 5, unit.Bar: 0.1,
	unit.ThirtySecondsInch: 0, unit.Millimeters: 0, unit.Inches: 0, unit.MilesPerHour: 0, unit.KilometersPerHour: 0, unit.PoundFeet: 0, unit.NewtonMeters: 0,
	unit.Fahrenheit: 0, unit.Celsius: 0,
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
	case unit.ThirtySecondsPer1000Miles, unit.MillimetersPer1000Kilometer:
		return wearRates[cmp.Or(w.Depth, w.Distance)]
	case unit.PSIPerMonth, unit.KilopascalsPerMonth, unit.BarPerMonth:
		return lossRates[w.Pressure]
	}
	return unit.None
}

// The rates that go with a reader's units: of wear with the depth, or with the distance
// where no unit of depth was chosen.
var (
	wearRates = map[unit.Unit]unit.Unit{
		unit.ThirtySecondsInch: unit.ThirtySecondsPer1000Miles, unit.Miles: unit.ThirtySecondsPer1000Miles,
		unit.Millimeters: unit.MillimetersPer1000Kilometer, unit.Kilometers: unit.MillimetersPer1000Kilometer,
	}
	lossRates = map[unit.Unit]unit.Unit{
		unit.PSI: unit.PSIPerMonth, unit.Kilopascals: unit.KilopascalsPerMonth, unit.Bar: unit.BarPerMonth,
	}
)

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
	finest := steps[wanted]
	if grain := grainOf(a); grain > 0 {
		to.Number = coarse(to.Number, grain*math.Abs(to.Number/a.Number), finest)
		return to
	}
	to.Number = onto(to.Number, finest)
	return to
}

// grainOf is what a number is known to: the power of ten that it ends with, a hundredth
// at the finest. 0: it does not matter.
func grainOf(a unit.Amount) float64 {
	most, bounded := grains[a.Unit]
	if a.Tread || a.Number == 0 || bounded && most == 0 {
		return 0
	}
	grain := 0.01
	for grain < 1e6 && onto(a.Number, grain*10) == onto(a.Number, 0.01) {
		grain *= 10
	}
	if bounded {
		grain = min(grain, most)
	}
	return grain
}

// coarse rounds a converted number to what the one that it came from was known to: to
// the greatest 1, 2 or 5 of a power of ten that is no more than that, and that changes
// it by no more than one part in forty. 100 miles are 160 kilometers, 8,000 are 13,000,
// 40 psi are 2.75 bar.
func coarse(n, known, finest float64) float64 {
	for power := math.Pow10(int(math.Floor(math.Log10(known)))); power >= finest/2; power /= 10 {
		for _, times := range []float64{5, 2, 1} {
			step := times * power
			if step > known || step < finest {
				continue
			}
			if rounded := onto(n, step); math.Abs(rounded-n) <= math.Abs(n)/40 {
				return rounded
			}
		}
	}
	return onto(n, finest)
}

// onto rounds a number to a step, without a tail of digits.
func onto(n, step float64) float64 {
	if step < 1 {
		per := math.Round(1 / step)
		return math.Round(n*per) / per
	}
	return math.Round(n/step) * step
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
