package unit

import "math"

// Depth is a tread depth in units of 0.1 nm.
type Depth int64

// Length is a hole, a width, a diameter or a distance on the tire, in units of 0.1 nm.
type Length int64

// Exact sizes in units of 0.1 nm.
const (
	perThirtySecond = 7_937_500
	perMillimeter   = 10_000_000
	perInch         = 254_000_000
)

// longest is 100 m, far past any wheel and far inside an int64.
const longest = 100_000 * perMillimeter

var tenthNanometers = map[Unit]float64{
	ThirtySecondsInch: perThirtySecond,
	Millimeters:       perMillimeter,
	Inches:            perInch,
}

// DepthOf makes a depth from a number in ThirtySecondsInch, Millimeters or
// Inches. A number finer than 0.1 nm is refused, as are NaN and infinities;
// the sign is not judged here.
func DepthOf(n float64, u Unit) (Depth, error) {
	v, err := exactLength(n, u)
	return Depth(v), err
}

// MustDepth is DepthOf for constants.
func MustDepth(n float64, u Unit) Depth { return must(DepthOf(n, u)) }

// In gives the depth in ThirtySecondsInch, Millimeters or Inches.
func (d Depth) In(u Unit) float64 { return float64(d) / tenthNanometers[u] }

// Amount gives the depth in the unit u, unrounded.
func (d Depth) Amount(u Unit) Amount { return amount(d.In(u), u).OfTread() }

// LengthOf makes a length from a number in Inches, Millimeters or
// ThirtySecondsInch, with the same limits as DepthOf.
func LengthOf(n float64, u Unit) (Length, error) {
	v, err := exactLength(n, u)
	return Length(v), err
}

// MustLength is LengthOf for constants.
func MustLength(n float64, u Unit) Length { return must(LengthOf(n, u)) }

// In gives the length in Inches, Millimeters or ThirtySecondsInch.
func (l Length) In(u Unit) float64 { return float64(l) / tenthNanometers[u] }

// Amount gives the length in the unit u, unrounded.
func (l Length) Amount(u Unit) Amount { return amount(l.In(u), u) }

func exactLength(n float64, u Unit) (int64, error) {
	if err := finite(n, u); err != nil {
		return 0, err
	}
	per, ok := tenthNanometers[u]
	if !ok {
		return 0, &Error{n, u, "a unit of length is wanted"}
	}
	v := n * per
	if math.Abs(v) > longest {
		return 0, &Error{n, u, "at most 100 m"}
	}
	whole := math.Round(v)
	// A decimal number is not exact in binary: up to 1e-4 of a unit is that,
	// more is a finer reading than any gauge gives.
	if math.Abs(v-whole) > 1e-4 {
		return 0, &Error{n, u, "nothing finer than 0.1 nm, such as a tenth of a thirty-second or 0.01 mm"}
	}
	return int64(whole), nil
}
