package unit_test

import (
	"math"
	"testing"

	. "gaugebook.dev/calc/unit"
)

// Factors of NIST Special Publication 811, Appendix B.8: psi 6.894757 kPa, mile
// 1.609344 km, pound 0.45359237 kg, foot-pound-force 1.355818 N·m, mi/h 1.609344
// km/h, inch 25.4 mm; t(°C) = (t(°F) - 32) / 1.8.
func TestAmountTo(t *testing.T) {
	for _, c := range []struct {
		from Amount
		to   Unit
		want float64
	}{
		{Amount{1, PSI}, Kilopascals, 6.894757},
		{Amount{1, PSI}, Bar, 0.06894757},
		{Amount{250, Kilopascals}, Bar, 2.5},
		{Amount{1, Miles}, Kilometers, 1.609344},
		{Amount{1, Kilometers}, Miles, 0.6213712},
		{Amount{1, Pounds}, Kilograms, 0.45359237},
		{Amount{1, PoundFeet}, NewtonMeters, 1.355818},
		{Amount{60, MilesPerHour}, KilometersPerHour, 96.56064},
		{Amount{1, Inches}, Millimeters, 25.4},
		{Amount{32, ThirtySecondsInch}, Millimeters, 25.4},
		{Amount{1.6, Millimeters}, ThirtySecondsInch, 2.015748},
		{Amount{50, Fahrenheit}, Celsius, 10},
		{Amount{-40, Celsius}, Fahrenheit, -40},
		{Amount{-0.5, PSI}, Kilopascals, -3.4473786},
		{Amount{33, PSI}, PSI, 33},
	} {
		got, ok := c.from.To(c.to)
		if !ok || got.Unit != c.to || math.Abs(got.Number-c.want) > 1e-6*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%v in %v is %v (%v), want %v", c.from, c.to, got, ok, c.want)
		}
	}
}

func TestAmountToAnotherQuantity(t *testing.T) {
	for _, c := range []struct {
		from Amount
		to   Unit
	}{
		{Amount{1, PSI}, Miles}, {Amount{1, Percent}, Bar}, {Amount{}, Bar}, {Amount{}, None}, {Amount{1, Count}, None},
		{Amount{1, Celsius}, Kilometers}, {Amount{1, Millimeters}, Kilometers}, {Amount{-500, Celsius}, Fahrenheit},
	} {
		if got, ok := c.from.To(c.to); ok {
			t.Errorf("%v in %v is %v", c.from, c.to, got)
		}
	}
}
