package verdict

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/measure/measuretest"
)

// worn is how a drawn car has worn beside what all its tires lost: more inboard, center
// and outboard, as shares of the size, by position.
type worn struct {
	name  string
	extra map[string][3]float64
	felt  finding.Observation // by the hand, where it wore; "": not felt
	label float64             // share of the label pressure found at earlier visits
	right string              // to say
}

var (
	evenly     = worn{name: "even", right: "nothing"}
	toeIn      = worn{name: "toe-in, not felt", extra: map[string][3]float64{"1L": {0, 0.5, 1}, "1R": {0, 0.5, 1}}, right: "toe or camber"}
	oneCorner  = worn{name: "one bent corner", extra: map[string][3]float64{"1L": {1, 0.5, 0}}, right: "one corner"}
	longRunLow = worn{name: "long run low", extra: map[string][3]float64{"1L": {1, 0, 1}, "1R": {1, 0, 1}, "2L": {1, 0, 1}, "2R": {1, 0, 1}}, label: 0.78, right: "both edges"}
)

var wears = []worn{
	evenly,
	{name: "toe-in, felt", extra: toeIn.extra, felt: "feathered-sharp-toward-vehicle", right: "toe"},
	toeIn,
	{name: "rear camber, felt smooth", extra: map[string][3]float64{"2L": {1, 0.5, 0}, "2R": {1, 0.5, 0}}, felt: "felt-smooth", right: "camber"},
	oneCorner,
	longRunLow,
	{name: "long too full", extra: map[string][3]float64{"1L": {0, 1, 0}, "1R": {0, 1, 0}, "2L": {0, 1, 0}, "2R": {0, 1, 0}}, label: 1.2, right: "center"},
	{name: "driven axle faster", extra: map[string][3]float64{"1L": {1, 1, 1}, "1R": {1, 1, 1}}, right: "drive torque"},
	{name: "one brake drags", extra: map[string][3]float64{"2R": {1, 1, 1}}, right: "one tire"},
}

// family groups causes that one can be told by depth, hand and pressure.
var family = map[finding.Code]string{
	finding.WearToeIn: "toe", finding.WearToeOut: "toe", finding.WearCamberNegative: "camber", finding.WearCamberPositive: "camber",
	finding.WearOneCorner: "one corner", finding.WearAxleNotSquare: "axle not square",
	finding.WearUnderinflatedLong: "both edges", finding.WearOverloaded: "both edges", finding.WearCornering: "both edges",
	finding.WearOverinflatedLong: "center", finding.WearLightLoadAtLabelPressure: "center",
	finding.WearDriveTorque: "drive torque", finding.WearDifferentTire: "one tire", finding.WearOneTireFaster: "one tire",
	finding.WearNotRound: "not round", finding.WearScalloped: "not round", finding.WearFlatSpot: "not round", finding.WearFlatSpotLockedWheel: "not round",
}

var saidOfWear = []string{"nothing", "toe", "camber", "toe or camber", "one corner", "axle not square", "both edges", "center", "drive torque", "one tire", "not round", "several"}

// leading is the family of the likeliest causes.
func leading(v Verdict) string {
	var lead []string
	for _, f := range v.Findings {
		if name := family[f.Code]; name != "" && f.Rank <= 1 && !slices.Contains(lead, name) {
			lead = append(lead, name)
		}
	}
	slices.Sort(lead)
	switch strings.Join(lead, " ") {
	case "":
		return "nothing"
	case "camber toe":
		return "toe or camber"
	}
	if len(lead) > 1 {
		return "several"
	}
	return lead[0]
}

// kinds writes what is said of each kind of wear, as it was at once and slightly.
func kinds(t *testing.T, b *strings.Builder, cars int) {
	t.Helper()
	b.WriteString("What is said in the end of cars that wore more where the row says by 3 to 4/32 in, or by 0.5 to\n1/32 in where it is slight and nothing need be said. Percent of the cars of each row, 300 each.\n\n")
	for hand, h := range hands {
		m := matrix{columns: saidOfWear}
		for _, w := range wears {
			for _, slight := range []bool{false, true} {
				row, low, high := w.name, 3.0, 4.0
				if slight {
					if w.extra == nil || w.felt != "" {
						continue // a hand that feels it needs no depth
					}
					row, low, high = w.name+", slight", 0.5, 1
				}
				m.rows = append(m.rows, row)
				right := measuretest.Share{}
				for i := range cars {
					at := seed(row+h.name, i)
					size := low + float64((high-low)*rand.New(rand.NewPCG(at, 2)).Float64())
					said := drawCar(at, hand, world{}, w, size).judge(t).last
					m.add(row, said)
					right = right.And(said == w.right || slight && said == "nothing")
				}
				if _, most := right.Interval(0.999); most < 97 {
					t.Errorf("%s: %s: %s are right", h.name, row, right)
				}
			}
		}
		fmt.Fprintf(b, "Gauge: %s.\n\n", h.name)
		m.write(b, "so")
	}
}
