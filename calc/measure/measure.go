// Package measure compares measured values with limits and says how sure the
// answer is: above, below, or cannot tell.
//
// Uncertainty follows JCGM 100:2008, 4.3.7: a graduation of width q and an
// accuracy of half-width a are rectangular distributions (q/√12, a/√3), which
// add in squares to the repeatability of the hand that reads. Comparisons use
// twice the standard uncertainty (k = 2).
package measure

import "math"

// Coverage is the factor k from standard to expanded uncertainty.
const Coverage = 2

// closeness is the relative difference below which two floating-point numbers
// are the same number: unit conversion must not move a value across a limit.
const closeness = 1e-9

// Quantity is any of the typed quantities of package unit.
type Quantity interface{ ~int64 | ~float64 }

// Gauge says how fine and how good an instrument is, in the quantity's own base unit.
type Gauge[Q Quantity] struct {
	Resolution    Q // one graduation or display step
	Repeatability Q // standard deviation of repeated readings
	Accuracy      Q // half-width of the stated accuracy
}

// Std is the standard uncertainty of one reading, in the base unit of Q.
func (g Gauge[Q]) Std() float64 {
	q, r, a := float64(g.Resolution), float64(g.Repeatability), float64(g.Accuracy)
	return math.Sqrt(float64(q*q/12) + float64(r*r) + float64(a*a/3))
}

// Scatter is the standard uncertainty of the mean of n readings beside other readings of
// the same gauge, in the base unit of Q: what differs from reading to reading is averaged.
// The accuracy is common to all of them: more readings do not average it away, and it
// falls out of a difference between two of them (JCGM 100:2008, 4.2.7 and F.1.1.3).
func (g Gauge[Q]) Scatter(n int) float64 {
	q, r := float64(g.Resolution), float64(g.Repeatability)
	return math.Sqrt((float64(q*q/12) + float64(r*r)) / float64(n))
}

// Value is a quantity with its standard uncertainty, both in the base unit of Q.
// A zero Std means an exact number.
type Value[Q Quantity] struct {
	Of  Q
	Std float64
}

// Exact is a value without uncertainty.
func Exact[Q Quantity](q Q) Value[Q] { return Value[Q]{Of: q} }

// Read is one reading of a gauge.
func (g Gauge[Q]) Read(q Q) Value[Q] { return Value[Q]{q, g.Std()} }

// Minus is the difference of two independent values.
func (v Value[Q]) Minus(w Value[Q]) Value[Q] {
	return Value[Q]{v.Of - w.Of, math.Hypot(v.Std, w.Std)}
}

// Mean is the mean of independent values. It panics on no values.
func Mean[Q Quantity](vs ...Value[Q]) Value[Q] {
	var sum, squares float64
	for _, v := range vs {
		sum += float64(v.Of)
		squares += float64(v.Std * v.Std)
	}
	n := float64(len(vs))
	return Value[Q]{Q(sum / n), math.Sqrt(squares) / n}
}

// Outcome is where a value lies against a limit.
type Outcome uint8

// The three answers of a comparison.
const (
	NotCompared Outcome = iota
	Below
	Above
	CannotTell
)

// String names the outcome.
func (o Outcome) String() string {
	return [...]string{"not compared", "below", "above", "cannot tell"}[o]
}

// Comparison is the answer with its evidence, in the base unit of the quantity.
type Comparison struct {
	Outcome  Outcome
	Margin   float64 // value minus limit
	Expanded float64 // k = 2
}

// AtLeast compares with a minimum. Above: the minimum is met; exactly at it,
// with no uncertainty, it is met. Below: it is not. Otherwise cannot tell.
func AtLeast[Q Quantity](v Value[Q], minimum Q) Comparison {
	c := against(v, minimum)
	if c.Margin == 0 && c.Expanded == 0 {
		c.Outcome = Above
	}
	return c
}

// AtMost compares with a maximum. Below: the maximum is met; exactly at it,
// with no uncertainty, it is met. Above: it is not. Otherwise cannot tell.
func AtMost[Q Quantity](v Value[Q], maximum Q) Comparison {
	c := against(v, maximum)
	if c.Margin == 0 && c.Expanded == 0 {
		c.Outcome = Below
	}
	return c
}

func against[Q Quantity](v Value[Q], limit Q) Comparison {
	c := Comparison{CannotTell, float64(v.Of) - float64(limit), Coverage * v.Std}
	if math.Abs(c.Margin) <= closeness*math.Abs(float64(limit)) {
		c.Margin = 0
	}
	switch {
	case c.Margin > c.Expanded:
		c.Outcome = Above
	case c.Margin < -c.Expanded:
		c.Outcome = Below
	}
	return c
}
