// Package trend answers how long a tire has left: how fast its tread wears over
// distance, where and when it reaches a limit and how sure that is, and how fast
// it loses pressure.
package trend

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// confidence is the share of intervals that hold the true value.
const confidence = 0.95

// normal is the two-sided quantile of the normal distribution, 1.96: the noise of
// the gauge is known, not estimated from the readings.
var normal = distuv.UnitNormal.Quantile((1 + confidence) / 2)

// Point is a depth of one tire at one place across its tread.
type Point struct {
	Run     unit.Distance // by the tire or the odometer, the same in all points of a line
	Depth   measure.Value[unit.Depth]
	Day     unit.Date // zero when not told
	Assumed bool      // the depth when new by design, not measured
	// Zero is the half-width by which the gauge may be off, alike at all measured points; no
	// part of the uncertainty of Depth.
	Zero unit.Depth
}

// Read is a depth as read with a gauge: what differs from reading to reading is its
// uncertainty, and the accuracy is apart, for it is common to all visits. Where none was
// told, the zero is off as the rulebook of gauges has it.
func Read(g measure.Gauge[unit.Depth], d unit.Depth) Point {
	p := Point{Depth: measure.Value[unit.Depth]{Of: d, Std: g.Scatter(1)}, Zero: g.Accuracy}
	if p.Zero == 0 {
		p.Zero = rulebook.Must("gauges").Limit("depth-zero").Depth()
	}
	return p
}

// Line is tread depth against distance, a straight line by weighted least
// squares. At its center of distances level and rate are not correlated.
//
// The noise of every reading is known from the gauge (JCGM 100:2008, 4.3), so two
// points already have an honest interval. From three points on the scatter about
// the line is held against that noise by the chi-squared test at 5 percent. What
// noise alone explains keeps the normal quantile, and the larger of noise and
// scatter widens it; what noise does not explain is scatter of the tire's own: it
// is estimated from the residuals, with Student's t at n - 2 degrees of freedom
// (JCGM 100:2008, G.3). With noise far below the scatter that is ordinary least
// squares.
type Line struct {
	center           float64 // as unit.Distance
	level, rate      float64 // depth at the center; its change for each unit of distance, negative with wear
	levelStd, rateSD float64 // standard uncertainties, scatter included
	scatter          float64 // residual standard deviation over known noise; 0 with two points
	quantile         float64
	points           int
	explained        bool // the gauge's noise alone explains the scatter
	squares, total   float64
}

// Fit draws the line through the points in any order; ok is false with fewer than
// two distances. Nothing is taken as known better than the step of unit.Depth.
func Fit(points []Point) (l Line, ok bool) {
	s := sumsOf(points)
	if len(points) < 2 || s.xx <= 0 {
		return Line{}, false
	}
	l = Line{center: s.x, level: s.y, rate: s.xy / s.xx, points: len(points), explained: true, quantile: normal}
	for _, p := range points {
		e := l.residual(p)
		l.squares += float64(weight(p) * e * e)
	}
	l.total = s.yy
	wider := 1.0
	if free := len(points) - 2; free > 0 {
		l.scatter = math.Sqrt(l.squares / float64(free))
		l.explained, l.quantile = judgeScatter(l.squares, free, confidence)
		wider = l.scatter
		if l.explained {
			wider = max(1, l.scatter)
		}
	}
	l.levelStd, l.rateSD = wider/math.Sqrt(s.w), wider/math.Sqrt(s.xx)
	return l, true
}

// judgeScatter tells whether known noise explains a sum of squared, weighted
// residuals, and the two-sided quantile for a level of confidence that follows.
func judgeScatter(squares float64, free int, level float64) (explained bool, quantile float64) {
	if (distuv.ChiSquared{K: float64(free)}).Survival(squares) >= 1-confidence {
		if level == confidence {
			return true, normal
		}
		return true, distuv.UnitNormal.Quantile((1 + level) / 2)
	}
	return false, distuv.StudentsT{Sigma: 1, Nu: float64(free)}.Quantile((1 + level) / 2)
}

// weight is one over the square of the standard uncertainty, never finer than a
// step of unit.Depth, in which it is.
func weight(p Point) float64 {
	u := max(p.Depth.Std, 1)
	return 1 / float64(u*u)
}

// sums are the weighted means and the sums of squares about them.
type sums struct{ w, x, y, xx, xy, yy float64 }

// sumsOf adds deviations from the means, in a second pass: depths and odometers
// are large against what they differ by.
func sumsOf(points []Point) (s sums) {
	for _, p := range points {
		w := weight(p)
		s.w += w
		s.x += float64(w * float64(p.Run))
		s.y += float64(w * float64(p.Depth.Of))
	}
	s.x, s.y = s.x/s.w, s.y/s.w
	var dx, dy float64
	for _, p := range points {
		w, x, y := weight(p), float64(p.Run)-s.x, float64(p.Depth.Of)-s.y
		dx, dy = dx+float64(w*x), dy+float64(w*y)
		s.xx += float64(w * x * x)
		s.xy += float64(w * x * y)
		s.yy += float64(w * y * y)
	}
	s.x, s.y = s.x+dx/s.w, s.y+dy/s.w // what rounding left in the first pass
	return s
}

// residual is a point's depth less the line's, in 0.1 nm.
func (l Line) residual(p Point) float64 {
	return float64(p.Depth.Of) - l.level - float64(l.rate*(float64(p.Run)-l.center))
}

// Rate is how fast the tread wears.
func (l Line) Rate() measure.Value[unit.WearRate] {
	m := float64(unit.MustDistance(1, unit.Meters))
	return measure.Value[unit.WearRate]{Of: unit.WearRate(-l.rate * m), Std: l.rateSD * m}
}

// Wears tells that the depths go down by more than noise explains.
func (l Line) Wears() bool { return l.rate < -l.quantile*l.rateSD }

// Explained tells that the gauge's noise alone explains the scatter.
func (l Line) Explained() bool { return l.explained }

// RSquared is the share of the variation of the depths that the line explains.
func (l Line) RSquared() unit.Ratio {
	if l.total == 0 {
		return 0
	}
	return unit.Ratio(1 - l.squares/l.total)
}

// Crossing is where a line reaches a limit. The interval is for 95 percent; an end
// that cannot be told is nil.
type Crossing struct {
	Limit    unit.Depth
	At       *unit.Distance // nil: not in sight
	Earliest *unit.Distance // nil: it may have been reached at any time before
	Latest   *unit.Distance // nil: no end can be told
}

// Crossing tells where the line reaches a limit: inverse prediction of a distance
// from a depth, by Fieller's theorem. Earliest is the last distance at which the
// interval of the depth lies above the limit, Latest the first at which it lies
// below. Where wear is not told from none, there is no latest; where the depths
// provably grow, there is nothing to tell.
func (l Line) Crossing(limit unit.Depth) Crossing {
	c := Crossing{Limit: limit}
	if l.rate >= l.quantile*l.rateSD {
		return c
	}
	above := l.level - float64(limit)
	if l.rate < 0 {
		c.At = l.run(-above / l.rate)
	}
	// The ends are the roots t of (above + rate t)² = q² (level² + rate² t²) in
	// standard uncertainties: a t² + 2 b t + c = 0.
	q2 := float64(l.quantile * l.quantile)
	for _, t := range roots(
		float64(l.rate*l.rate)-float64(q2*l.rateSD*l.rateSD),
		above*l.rate,
		float64(above*above)-float64(q2*l.levelStd*l.levelStd),
	) {
		switch run := l.run(t); {
		case above+float64(l.rate*t) >= 0:
			if run == nil && t > 0 {
				end := unit.Distance(l.center) + farthest
				run = &end
			}
			c.Earliest = later(c.Earliest, run)
		case c.Latest == nil || run != nil && *run < *c.Latest:
			c.Latest = run
		}
	}
	return c
}

// farthest is more than any tire runs, a million kilometers: what lies beyond is
// not in sight.
const farthest unit.Distance = 1e15

func (l Line) run(t float64) *unit.Distance {
	if math.Abs(t) > float64(farthest) {
		return nil
	}
	d := unit.Distance(l.center + t)
	return &d
}

func later(a, b *unit.Distance) *unit.Distance {
	if a == nil || b != nil && *b > *a {
		return b
	}
	return a
}

// Reaches tells where a tire reaches a limit, with an interval that allows for more than the
// noise about the line: for a gauge that is off alike at all visits, and for wear that comes
// faster or slower than it was, as far as the rulebook has either.
func (t Trend) Reaches(limit unit.Depth) Crossing {
	c := t.offBy().Crossing(limit)
	paces := float64(book.Limit("pace-changes").Ratio())
	if len(t.Used) == 0 {
		return c
	}
	now := t.Used[len(t.Used)-1].Run
	c.Earliest, c.Latest = ahead(c.Earliest, now, 1/paces), ahead(c.Latest, now, paces)
	return c
}

// offBy is the line with the gauge's zero in its uncertainty: its level is off by it. Beside a
// depth when new, which no gauge read, so is its rate.
func (t Trend) offBy() Line {
	l := t.Line
	var zero, span float64
	for _, p := range t.Used {
		zero = max(zero, float64(p.Zero)/math.Sqrt(3))
		if p.Assumed {
			span = float64(t.Used[len(t.Used)-1].Run - p.Run)
		}
	}
	l.levelStd = math.Hypot(l.levelStd, zero)
	if span > 0 {
		l.rateSD = math.Hypot(l.rateSD, zero/span)
	}
	return l
}

// ahead is an end of an interval that lies so many times as far ahead; nil where it is out
// of sight.
func ahead(end *unit.Distance, now unit.Distance, times float64) *unit.Distance {
	if end == nil || *end <= now {
		return end
	}
	left := float64(*end-now) * times
	if left > float64(farthest) && times > 1 {
		return nil
	}
	d := now + unit.Distance(math.Round(left))
	return &d
}

// roots of a t² + 2 b t + c, without the loss of digits of the school formula.
func roots(a, b, c float64) []float64 {
	d := float64(b*b) - float64(a*c)
	if d < 0 {
		return nil
	}
	q := -(b + math.Copysign(math.Sqrt(d), b))
	var out []float64
	if q != 0 {
		out = append(out, c/q)
	}
	if a != 0 {
		out = append(out, q/a)
	}
	return out
}
