package trend

import (
	"math"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// The course of 49 CFR 575.104(e)(2): readings after break-in and after each 800
// miles, to 6,400 miles.
const (
	CourseReadings = 9
	courseStep     = 800  // mi
	courseLength   = 6400 // mi
)

// CourseWear is how a tire wore on the treadwear course: the depth at the end of
// break-in by the fit, and the rate after it. It grades a tire against others of
// the course and tells nothing of a tire in use.
type CourseWear struct {
	Start unit.Depth
	Rate  unit.WearRate
}

// NinePoint is the wear by least squares over all nine readings of a course
// (49 CFR 575.104(e)(2) and appendix C).
func NinePoint(depths [CourseReadings]unit.Depth) CourseWear {
	var points []Point
	for j, d := range depths {
		points = append(points, Point{Run: unit.MustDistance(float64(courseStep*j), unit.Miles), Depth: measure.Exact(d)})
	}
	l, _ := Fit(points) // nine distances, none alike
	return CourseWear{Start: l.At(0).Of, Rate: l.Rate().Of}
}

// TwoPoint is the wear by the first and the last reading of a course.
func TwoPoint(first, last unit.Depth) CourseWear {
	return CourseWear{Start: first, Rate: unit.WearRate(float64(first-last) / float64(unit.MustDistance(courseLength, unit.Miles)))}
}

// Severity is how much milder the course was on the day than by its base rate: the
// base course wear rate over the mean of the course monitoring tires. It panics
// without any.
func Severity(base unit.WearRate, monitoring ...unit.WearRate) unit.Ratio {
	var sum unit.WearRate
	for _, r := range monitoring {
		sum += r
	}
	return unit.Ratio(float64(base) * float64(len(monitoring)) / float64(sum))
}

// Adjusted is the wear with its rate multiplied by a severity.
func (c CourseWear) Adjusted(severity unit.Ratio) CourseWear {
	c.Rate = unit.WearRate(float64(c.Rate) * float64(severity))
	return c
}

// ProjectedMileage is the distance to 62 mils, which stand for 1/16 in, with the
// 800 miles of break-in; ok is false without wear. The two formulas are images in
// every copy that could be read: this one, 1000 (depth - 62) / rate + 800, is from
// memory, and the text about it agrees.
func (c CourseWear) ProjectedMileage() (d unit.Distance, ok bool) {
	if c.Rate <= 0 {
		return 0, false
	}
	left := float64(c.Start - unit.MustDepth(0.062, unit.Inches))
	return unit.Distance(left/float64(c.Rate)) + breakIn(), true
}

// Grade is the treadwear grade: projected mileage by base course wear rate over
// 402, rounded down to a multiple of 20 (49 CFR 575.104(e)(2)). It is a
// ratio: 150 wears one and a half times as well on the course as 100.
func Grade(projected unit.Distance, base unit.WearRate) int {
	percent := projected.In(unit.Miles) * base.In(unit.MilsPer1000Miles) / 402
	// A multiple of 20 stays one whatever unit its parts came in.
	return 20 * int(math.Floor(percent/20*(1+1e-9)))
}
