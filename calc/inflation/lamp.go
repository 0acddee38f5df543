package inflation

import (
	"math"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/unit"
)

// LoadClass is the class of tire by which 49 CFR 571.138 Table 1 sets the floor
// of the warning lamp.
type LoadClass uint8

// Classes of Table 1.
const (
	LoadClassNotTold LoadClass = iota
	StandardLoad               // P-metric
	ExtraLoad                  // P-metric
	LoadRangeC
	LoadRangeD
	LoadRangeE
)

var loadClassIDs = [...]string{"", "standard", "extra", "range-c", "range-d", "range-e"}

// ratedClasses are the rated pressures by which Table 1 knows a class.
var ratedClasses = []struct {
	id         string
	class      LoadClass
	lightTruck bool
}{
	{"standard-240", StandardLoad, false},
	{"standard-300", StandardLoad, false},
	{"standard-350", StandardLoad, false},
	{"extra-280", ExtraLoad, false},
	{"extra-340", ExtraLoad, false},
	{"range-c-350", LoadRangeC, true},
	{"range-d-450", LoadRangeD, true},
	{"range-e-550", LoadRangeE, true},
}

// ratedTolerance is how far, as a share, a pressure printed in whole psi may be
// from the kilopascals of Table 1 and still be the same row: 44 psi stands for
// 300 kPa there, 303.4 kPa by arithmetic.
const ratedTolerance = 0.015

// LoadClassOf gives the class of a tire from the rated or maximum pressure on
// its sidewall, where no load mark or range was read. LoadClassNotTold when
// Table 1 has no row for it.
func LoadClassOf(lightTruck bool, rated unit.Pressure) LoadClass {
	best, class := ratedTolerance, LoadClassNotTold
	for _, r := range ratedClasses {
		if r.lightTruck != lightTruck {
			continue
		}
		if off := math.Abs(float64(rated/limit("lamp-rated-"+r.id).Pressure()) - 1); off <= best {
			best, class = off, r.class
		}
	}
	return class
}

// LampThreshold gives the pressure at or below which the warning lamp of a
// light vehicle has to come on: the higher of a share of the label and the
// floor of the tire's class (49 CFR 571.138 S4.2(a)), and the rule that decides.
// With the class not told it is the share alone, which the floor could only raise.
func LampThreshold(label unit.Pressure, class LoadClass) (unit.Pressure, finding.Rule) {
	threshold, by := share("lamp-share", label), rule("lamp-share")
	if class == LoadClassNotTold || int(class) >= len(loadClassIDs) {
		return threshold, by
	}
	id := "lamp-floor-" + loadClassIDs[class]
	if floor := limit(id).Pressure(); floor > threshold {
		return floor, rule(id)
	}
	return threshold, by
}
