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
		{Amount{Number: 1, Unit: PSI}, Kilopascals, 6.894757},
		{Amount{Number: 1, Unit: PSI}, Bar, 0.06894757},
		{Amount{Number: 250, Unit: Kilopascals}, Bar, 2.5},
		{Amount{Number: 1, Unit: Miles}, Kilometers, 1.609344},
		{Amount{Number: 1, Unit: Kilometers}, Miles, 0.6213712},
		{Amount{Number: 1, Unit: Pounds}, Kilograms, 0.45359237},
		{Amount{Number: 1, Unit: PoundFeet}, NewtonMeters, 1.355818},
		{Amount{Number: 60, Unit: MilesPerHour}, KilometersPerHour, 96.56064},
		{Amount{Number: 1, Unit: Inches}, Millimeters, 25.4},
		{Amount{Number: 32, Unit: ThirtySecondsInch}, Millimeters, 25.4},
		{Amount{Number: 1.6, Unit: Millimeters}, ThirtySecondsInch, 2.015748},
		{Amount{Number: 50, Unit: Fahrenheit}, Celsius, 10},
		{Amount{Number: -40, Unit: Celsius}, Fahrenheit, -40},
		{Amount{Number: -0.5, Unit: PSI}, Kilopascals, -3.4473786},
		{Amount{Number: 33, Unit: PSI}, PSI, 33},
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
		{Amount{Number: 1, Unit: PSI}, Miles}, {Amount{Number: 1, Unit: Percent}, Bar}, {Amount{}, Bar}, {Amount{}, None}, {Amount{Number: 1, Unit: Count}, None},
		{Amount{Number: 1, Unit: Celsius}, Kilometers}, {Amount{Number: 1, Unit: Millimeters}, Kilometers}, {Amount{Number: -500, Unit: Celsius}, Fahrenheit},
	} {
		if got, ok := c.from.To(c.to); ok {
			t.Errorf("%v in %v is %v", c.from, c.to, got)
		}
	}
}

// An amount knows whether its millimeters are of tread: where it comes from a depth, and
// after it was shown in another unit and back.
func TestOfTread(t *testing.T) {
	in := func(a Amount, u Unit) Amount {
		b, _ := a.To(u)
		return b
	}
	depth, length := MustDepth(4, ThirtySecondsInch), MustLength(1, Inches)
	for _, c := range []struct {
		name string
		a    Amount
		want bool
	}{
		{"a depth in millimeters", depth.Amount(Millimeters), true},
		{"rounded", depth.Amount(Millimeters).Rounded(), true},
		{"a depth in thirty-seconds needs no telling", depth.Amount(ThirtySecondsInch), false},
		{"told in millimeters", in(depth.Amount(ThirtySecondsInch), Millimeters), true},
		{"told in thirty-seconds", in(depth.Amount(Millimeters), ThirtySecondsInch), false},
		{"a length", length.Amount(Millimeters), false},
		{"told in millimeters", in(length.Amount(Inches), Millimeters), false},
		{"a pressure is never of tread", MustPressure(33, PSI).Amount(PSI).OfTread(), false},
	} {
		if c.a.Tread != c.want {
			t.Errorf("%s: %+v", c.name, c.a)
		}
	}
}
