package trend_test

import (
	"math"
	"testing"

	. "gaugebook.dev/calc/trend"
	"gaugebook.dev/calc/unit"
)

func mils(n float64) unit.Depth { return unit.MustDepth(n/1000, unit.Inches) }
func rate(n float64) unit.WearRate {
	return unit.MustWearRate(n, unit.MilsPer1000Miles)
}

// TestCourse: the nine-point fit in the closed form of 49 CFR 575.104 appendix C
// (mean distance 3.2 thousand miles, sum of squares 38.4), and the two-point form.
func TestCourse(t *testing.T) {
	reading := [CourseReadings]float64{311, 306, 302, 296, 291, 288, 281, 277, 271}
	var depths [CourseReadings]unit.Depth
	var mean, slope float64
	for j, mil := range reading {
		depths[j] = mils(mil)
		mean += mil / 9
		slope += (0.8*float64(j) - 3.2) * mil / 38.4
	}
	nine := NinePoint(depths)
	if got := nine.Rate.In(unit.MilsPer1000Miles); math.Abs(got+slope) > 1e-9 {
		t.Errorf("nine points: %.9f mils per 1,000 mi, want %.9f", got, -slope)
	}
	if got := nine.Start.In(unit.Inches) * 1000; math.Abs(got-(mean-3.2*slope)) > 1e-5 {
		t.Errorf("nine points start at %.6f mils, want %.6f", got, mean-3.2*slope)
	}
	two := TwoPoint(depths[0], depths[8])
	if got := two.Rate.In(unit.MilsPer1000Miles); two.Start != depths[0] || math.Abs(got-40/6.4) > 1e-9 {
		t.Errorf("two points: %v, %.9f mils per 1,000 mi, want %.9f", two.Start, got, 40/6.4)
	}
}

// TestProjection: severity is base rate over the mean rate of four monitoring
// tires and multiplies the rate (49 CFR 575.104(e)(2)); the mileage by the formula
// 1000 (depth - 62) / rate + 800, which is from memory.
func TestProjection(t *testing.T) {
	if got := Severity(rate(4.44), rate(5), rate(5.5), rate(4.5), rate(5)); math.Abs(float64(got)-0.888) > 1e-12 {
		t.Errorf("severity %v, want 0.888", got)
	}
	c := CourseWear{Start: mils(302), Rate: rate(6)}
	if got := c.Adjusted(0.8).Rate.In(unit.MilsPer1000Miles); math.Abs(got-4.8) > 1e-12 {
		t.Errorf("adjusted rate %v, want 4.8", got)
	}
	if d, ok := c.Adjusted(0.8).ProjectedMileage(); !ok || math.Abs(d.In(unit.Miles)-50_800) > 1e-6 {
		t.Errorf("projected %v mi, want 240/4.8 thousand and 800", d.In(unit.Miles))
	}
	if _, ok := (CourseWear{Start: mils(302)}).ProjectedMileage(); ok {
		t.Error("a mileage without wear")
	}
}

// TestGrade: mileage by base rate over 402, rounded down to a multiple of 20 (49
// CFR 575.104(e)(2)). With a base rate of 402/300 it is the older form, 100 percent
// of 30,000 miles, of which an agency's letter of interpretation has an example:
// 5,000 miles are 16.67 and grade 00.
func TestGrade(t *testing.T) {
	for _, c := range []struct {
		miles, base float64
		want        int
	}{
		{5000, 1.34, 0},
		{30_000, 1.34, 100},
		{29_999, 1.34, 80},
		{35_999, 1.34, 100},
		{36_000, 1.34, 120},
		{50_800, 3.0, 360}, // 379.1
	} {
		if got := Grade(miles(c.miles), rate(c.base)); got != c.want {
			t.Errorf("%g mi at a base rate of %g: %d, want %d", c.miles, c.base, got, c.want)
		}
	}
}
