// Package plausible tells what a quantity of the trade may be on a kind of vehicle, and
// what was probably meant where a number is none in the unit that it came in: a slip of
// the hand. It refuses nothing and judges nothing.
package plausible

import (
	"math"

	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Quantity is what a number is typed for.
type Quantity uint8

// Quantities.
const (
	TirePressure   Quantity = iota // asked for, printed or read, of a tire in use
	TreadDepth                     // of a tire in use
	AirTemperature                 // where tires are worked on
	HoleSize                       // of a hole that a nail or a screw makes
)

// Range is what a quantity may be, both ends among it. The zero Range tells nothing.
type Range struct {
	Low, High float64
	Unit      unit.Unit // of both
}

// ranges are what the quantities may be, by the kind of vehicle (common practice, from
// memory). A kind that is not told may be any: the row of ClassNotTold. The depths are
// those of the practice book's rows on likely depths of new tires.
var ranges = map[Quantity]map[layout.Class]Range{
	TirePressure: {
		layout.ClassNotTold: {15, 135, unit.PSI},
		layout.PassengerCar: {20, 65, unit.PSI},
		layout.LightTruck:   {20, 110, unit.PSI},
		layout.Heavy:        {60, 135, unit.PSI},
		layout.Bus:          {60, 135, unit.PSI},
		layout.Trailer:      {15, 135, unit.PSI},
		layout.Motorhome:    {35, 130, unit.PSI},
	},
	TreadDepth: {
		layout.ClassNotTold: {0, 32, unit.ThirtySecondsInch},
		layout.PassengerCar: {0, 14, unit.ThirtySecondsInch},
		layout.LightTruck:   {0, 21, unit.ThirtySecondsInch},
	},
	AirTemperature: {layout.ClassNotTold: {-45, 50, unit.Celsius}},
	HoleSize:       {layout.ClassNotTold: {0, 25, unit.Millimeters}},
}

// typed are the units that one quantity is typed in: the number stays, and the unit is
// another one's.
var typed = map[Quantity][]unit.Unit{
	TirePressure:   {unit.PSI, unit.Kilopascals, unit.Bar},
	TreadDepth:     {unit.ThirtySecondsInch, unit.Millimeters},
	AirTemperature: {unit.Fahrenheit, unit.Celsius},
	HoleSize:       {unit.Millimeters, unit.Inches},
}

// tenths are the units that are typed with a decimal, whose point may be lost.
var tenths = map[Quantity][]unit.Unit{
	TirePressure: {unit.PSI, unit.Bar},
	TreadDepth:   {unit.Millimeters},
}

// Of is what a quantity may be on a kind of vehicle.
func Of(q Quantity, c layout.Class) Range {
	if r, known := ranges[q][c]; known {
		return r
	}
	return ranges[q][layout.ClassNotTold]
}

// Around is a range by shares of an amount: from 0.5 to 1.6 of a label's pressure.
func Around(a unit.Amount, from, to float64) Range {
	return Range{from * a.Number, to * a.Number, a.Unit}
}

// slack lets an end of a range be in it whatever unit it is told in.
const slack = 1e-9

// Has tells whether an amount is in the range. One of another quantity is not.
func (r Range) Has(a unit.Amount) bool {
	in, ok := a.To(r.Unit)
	wide := slack * math.Max(math.Abs(r.Low), math.Abs(r.High))
	return ok && in.Number >= r.Low-wide && in.Number <= r.High+wide
}

// Meant are what the number of an amount that is not in the range may have been meant
// as, all of them in the range, the likeliest first: the same number in another unit,
// then its tenth where a decimal point may have been lost. None for one that is in it.
func (r Range) Meant(q Quantity, read unit.Amount) (all []unit.Amount) {
	if r.Has(read) {
		return nil
	}
	for _, u := range typed[q] {
		if a := (unit.Amount{Number: read.Number, Unit: u}); u != read.Unit && r.Has(a) {
			all = append(all, a)
		}
	}
	for _, u := range tenths[q] {
		if a := (unit.Amount{Number: read.Number / 10, Unit: u}); u == read.Unit && r.Has(a) {
			all = append(all, a.Rounded())
		}
	}
	return all
}
