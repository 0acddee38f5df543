package verdict

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
	"gaugebook.dev/calc/wear"
)

var update = flag.Bool("update", false, "write the golden files")

// hands are gauges as the product takes them where nothing finer is told (common
// practice).
var hands = []struct {
	name  string
	gauge measure.Gauge[unit.Depth]
}{
	{"1/32 in by hand", measure.Gauge[unit.Depth]{Resolution: unit.MustDepth(1, unit.ThirtySecondsInch), Repeatability: unit.MustDepth(0.4, unit.ThirtySecondsInch)}},
	{"0.5 mm by hand", measure.Gauge[unit.Depth]{Resolution: unit.MustDepth(0.5, unit.Millimeters), Repeatability: unit.MustDepth(0.32, unit.Millimeters)}},
	{"0.01 mm electronic", measure.Gauge[unit.Depth]{Resolution: unit.MustDepth(0.01, unit.Millimeters), Repeatability: unit.MustDepth(0.15, unit.Millimeters)}},
}

const drawn = 300 // tires, or cars, of each kind

// truth draws what is so, and reads it.
type truth struct {
	*rand.Rand
	gauge measure.Gauge[unit.Depth]
}

func (d truth) between(low, high float64) float64 { return low + float64((high-low)*d.Float64()) }

// read is what a hand reads of a true depth in thirty-seconds.
func (d truth) read(in32 float64) unit.Depth {
	hand := float64(in32*float64(unit.MustDepth(1, unit.ThirtySecondsInch))) + float64(d.NormFloat64()*float64(d.gauge.Repeatability))
	step := float64(d.gauge.Resolution)
	return unit.Depth(max(0, math.Round(hand/step)*step))
}

// matrix counts answers by what is so.
type matrix struct {
	rows, columns []string
	count         map[[2]string]int
}

func (m *matrix) add(row, column string) {
	if m.count == nil {
		m.count = map[[2]string]int{}
	}
	m.count[[2]string{row, column}]++
}

func (m *matrix) share(row, column string) float64 {
	return 100 * float64(m.count[[2]string{row, column}]) / drawn
}

func (m *matrix) write(b *strings.Builder, corner string) {
	fmt.Fprintf(b, "| %s | %s |\n|---|%s\n", corner, strings.Join(m.columns, " | "), strings.Repeat("---|", len(m.columns)))
	for _, r := range m.rows {
		fmt.Fprintf(b, "| %s |", r)
		for _, c := range m.columns {
			fmt.Fprintf(b, " %.1f |", m.share(r, c))
		}
		b.WriteString("\n")
	}
	b.WriteString("\n")
}

// Of the depth that is so, what is said of a tire whose three grooves are read once
// each: the lowest within a band, the others up to 1/32 in deeper.
func TestDepthErrorRates(t *testing.T) {
	var b strings.Builder
	b.WriteString("## Depth: what is so, and what is said\n\nThree grooves read once each; the lowest is in the band, the others are up to 1/32 in deeper.\nPercent of the tires of each row.\n\n")
	bands := [][2]float64{{1, 1.5}, {1.5, 2}, {2, 2.5}, {2.5, 3}, {3, 4}, {4, 5}, {5, 8}}
	for _, h := range hands {
		d := truth{rand.New(rand.NewPCG(570, 9)), h.gauge}
		bars := matrix{columns: []string{"worn out, below", "worn out, cannot tell", "worn for wet roads", "nothing"}}
		law := matrix{columns: []string{"not legal", "cannot tell", "kept"}}
		for _, band := range bands {
			row := fmt.Sprintf("%g to %g", band[0], band[1])
			bars.rows, law.rows = append(bars.rows, row), append(law.rows, row)
			for range drawn {
				lowest := d.between(band[0], band[1])
				v := car(33)
				v.DepthGauge = h.gauge
				v.Wheels[0].Depths = nil
				thin := d.IntN(3)
				for i := range 3 {
					deep := lowest
					if i != thin {
						deep += d.Float64()
					}
					v.Wheels[0].Depths = append(v.Wheels[0].Depths, tread.Reading{Depth: d.read(deep), AsRead: unit.Amount{Unit: unit.ThirtySecondsInch}, Across: layout.Across(i + 1)})
				}
				bars.add(row, saidOfBars(Judge(v)))
				v.Use.Country, v.Vehicle.GrossRating = "GB", unit.MustMass(1900, unit.Kilograms)
				law.add(row, saidOfLaw(Judge(v)))
			}
		}
		fmt.Fprintf(&b, "Gauge: %s. Wear bars at 2/32 in, advice for wet roads at 4/32 in.\n\n", h.name)
		bars.write(&b, "true depth, /32 in")
		fmt.Fprintf(&b, "The same tires by a law in use that asks for 1.6 mm, 2.02/32 in, in the central three quarters.\n\n")
		law.write(&b, "true depth, /32 in")
		for row, most := range map[string]float64{"1 to 1.5": 1, "1.5 to 2": 5} {
			if said := bars.share(row, "worn for wet roads") + bars.share(row, "nothing"); said > most {
				t.Errorf("%s, %s/32: %.1f percent are not said to be worn out", h.name, row, said)
			}
		}
		for row, most := range map[string]float64{"1 to 1.5": 1, "1.5 to 2": 5} {
			if said := law.share(row, "kept"); said > most {
				t.Errorf("%s, %s/32: the law is said to be kept by %.1f percent", h.name, row, said)
			}
		}
		for _, row := range []string{"3 to 4", "4 to 5", "5 to 8"} {
			if wrong := bars.share(row, "worn out, below") + law.share(row, "not legal"); wrong > 0 {
				t.Errorf("%s, %s/32: %.1f percent are said to be below", h.name, row, wrong)
			}
		}
	}
	golden(t, "depth", b.String())
}

func saidOfBars(v Verdict) string {
	if f, worn := find(v, finding.TreadWornToBars); worn {
		if f.Outcome == measure.Below {
			return "worn out, below"
		}
		return "worn out, cannot tell"
	}
	if _, wet := find(v, finding.TreadWetAdvice); wet {
		return "worn for wet roads"
	}
	return "nothing"
}

func saidOfLaw(v Verdict) string {
	f, said := find(v, finding.TreadLegalLimit)
	switch {
	case !said:
		return "kept"
	case f.Outcome == measure.Below:
		return "not legal"
	}
	return "cannot tell"
}

// worn is how a drawn car has worn beside the even 3/32 in of all its tires: more
// inboard, center and outboard, as shares of the severity, by position.
type worn struct {
	name  string
	extra map[string][3]float64
	felt  finding.Observation // by the hand, where it wore; "": not felt
	label float64             // share of the label pressure found at earlier visits
	right string              // to say
}

var wears = []worn{
	{name: "even", right: "nothing"},
	{name: "toe-in, felt", extra: map[string][3]float64{"1L": {0, 0.5, 1}, "1R": {0, 0.5, 1}}, felt: "feathered-sharp-toward-vehicle", right: "toe"},
	{name: "toe-in, not felt", extra: map[string][3]float64{"1L": {0, 0.5, 1}, "1R": {0, 0.5, 1}}, right: "toe or camber"},
	{name: "rear camber, felt smooth", extra: map[string][3]float64{"2L": {1, 0.5, 0}, "2R": {1, 0.5, 0}}, felt: "felt-smooth", right: "camber"},
	{name: "one bent corner", extra: map[string][3]float64{"1L": {1, 0.5, 0}}, right: "one corner"},
	{name: "long run low", extra: map[string][3]float64{"1L": {1, 0, 1}, "1R": {1, 0, 1}, "2L": {1, 0, 1}, "2R": {1, 0, 1}}, label: 0.78, right: "both edges"},
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
}

var saidOfWear = []string{"nothing", "toe", "camber", "toe or camber", "one corner", "axle not square", "both edges", "center", "drive torque", "one tire", "several"}

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

// drawCar is a front-wheel-drive car of 15,000 miles, new at 10/32 in, that has worn in
// a way by so much; each groove is read at so many places. Tires of one car wear apart
// by a twentieth.
func drawCar(d truth, w worn, severity float64, places int) visit.Visit {
	v := car(33)
	base := v.Wheels[0]
	v.Wheels, v.DepthGauge = nil, d.gauge
	run := unit.MustDistance(15_000, unit.Miles)
	early := visit.Earlier{Ago: new(unit.Distance)}
	*early.Ago = unit.MustDistance(5_000, unit.Miles)
	early.Conditions = v.Conditions
	for _, at := range []string{"1L", "1R", "2L", "2R"} {
		t := base
		t.Position, t.Depths = layout.MustParse(at), nil
		t.History = visit.History{OnTire: &run, Here: &run}
		t.Tire.New = map[int]unit.Depth{0: unit.MustDepth(10, unit.ThirtySecondsInch)}
		pace := 1 + float64(0.05*d.NormFloat64())
		for groove := range 3 {
			deep := 10 - float64(3*pace) - float64(severity*w.extra[at][groove])
			for station := range places {
				r := tread.Reading{Depth: d.read(deep), AsRead: unit.Amount{Unit: unit.ThirtySecondsInch}, Across: layout.Across(groove + 1)}
				if places > 1 {
					r.Station = station + 1
				}
				t.Depths = append(t.Depths, r)
			}
		}
		if w.felt != "" && w.extra[at] != [3]float64{} {
			t.Observations = []visit.Observation{{Kind: w.felt}}
		}
		v.Wheels = append(v.Wheels, t)
		if w.label > 0 {
			early.Wheels = append(early.Wheels, visit.EarlierWheel{Position: t.Position, Pressure: visit.Pressure{Of: unit.Pressure(w.label * float64(unit.MustPressure(33, unit.PSI))), Read: unit.PSI, Gauge: base.Pressure.Gauge}})
		}
	}
	if w.label > 0 {
		v.Earlier = []visit.Earlier{early, early}
	}
	lately := unit.MustDistance(4_000, unit.Miles)
	v.Work = []wear.Work{{Kind: wear.Rotated, Ago: &lately}} // so that none is due
	return v
}

// readings are how the drawn cars are read: mostly each groove once; least of them
// are right.
var readings = []struct {
	hand, places int
	least        float64
}{{0, 1, 88}, {0, 3, 97}, {1, 1, 94}, {2, 1, 99}}

func TestWearErrorRates(t *testing.T) {
	var b strings.Builder
	b.WriteString("## Causes of wear: what is so, and what is said to be likeliest\n\nCars of four tires, new at 10/32 in, that lost 3/32 in evenly and more where the row says, by\n3 to 4/32 in where it wore most, or by 0.5 to 1/32 in where it is slight and nothing need be said.\nPercent of the cars of each row.\n\n")
	for _, r := range readings {
		h := hands[r.hand]
		d := truth{rand.New(rand.NewPCG(1985, 2)), h.gauge}
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
				for range drawn {
					m.add(row, leading(Judge(drawCar(d, w, d.between(low, high), r.places))))
				}
				right := m.share(row, w.right)
				if slight {
					right += m.share(row, "nothing")
				}
				if right < r.least {
					t.Errorf("%s, %d places: %s: %.1f percent are right", h.name, r.places, row, right)
				}
			}
		}
		fmt.Fprintf(&b, "Gauge: %s, %s.\n\n", h.name, placesRead[r.places])
		m.write(&b, "so")
	}
	sweep(t, &b)
	golden(t, "wear", b.String())
}

var placesRead = map[int]string{1: "each groove read once", 3: "each groove read at three places round the tire"}

// sweep tells how often a shape would be called, at each size that could count as one.
// The one that does is the least at which an even car is said to have one in less than
// one of ten when each groove is read once, and of a hundred at three places, whatever
// the gauge.
func sweep(t *testing.T, b *strings.Builder) {
	t.Helper()
	sizes := []float64{0, 0.5, 1, 1.5, 2, 2.5}
	fmt.Fprintf(b, "Share of cars of which a shape is called, by the least difference that counts as one and is\nlarger than its uncertainty (k = 2), /32 in. The shapes are 3/32 in.\n\n| cars | gauge | places |")
	for _, s := range sizes {
		fmt.Fprintf(b, " %g |", s)
	}
	fmt.Fprintf(b, "\n|---|---|---|%s\n", strings.Repeat("---|", len(sizes)))
	falsely := map[int][]float64{1: make([]float64, len(sizes)), 3: make([]float64, len(sizes))}
	for _, w := range []worn{wears[0], {name: "toe-in", extra: wears[2].extra}, {name: "run low", extra: wears[5].extra}} {
		for _, h := range hands {
			for _, places := range []int{1, 3} {
				d := truth{rand.New(rand.NewPCG(1985, 3)), h.gauge}
				called := make([]float64, len(sizes))
				for range drawn {
					largest := largestShape(drawCar(d, w, 3, places))
					for i, s := range sizes {
						if largest > 0 && largest >= s-1e-6 {
							called[i] += 100.0 / drawn
						}
					}
				}
				fmt.Fprintf(b, "| %s | %s | %d |", w.name, h.name, places)
				for i, share := range called {
					fmt.Fprintf(b, " %.1f |", share)
					if w.extra == nil {
						falsely[places][i] = max(falsely[places][i], share)
					}
				}
				b.WriteString("\n")
			}
		}
	}
	b.WriteString("\n")
	least := slices.IndexFunc(sizes, func(s float64) bool {
		i := slices.Index(sizes, s)
		return falsely[1][i] < 10 && falsely[3][i] < 1
	})
	if fault := rulebook.Must("advice").Limit("shape").Value.Number; fault != sizes[least] {
		t.Errorf("a shape counts from %g/32 in on; called falsely are %v percent at %v", fault, falsely, sizes)
	}
}

// largestShape is the largest difference from edge to edge, or of the center from the
// edges, of any tire of a car that is larger than its uncertainty, in thirty-seconds.
func largestShape(v visit.Visit) (most float64) {
	for _, w := range v.Wheels {
		s, _ := tread.Summarize(tread.Wheel{Readings: w.Depths, Gauge: v.DepthGauge})
		in, mid, out, _ := s.Edges()
		for _, shape := range []measure.Value[unit.Depth]{in.Minus(out), mid.Minus(measure.Mean(in, out))} {
			if size := math.Abs(float64(shape.Of)); size > measure.Coverage*shape.Std {
				most = max(most, unit.Depth(size).In(unit.ThirtySecondsInch))
			}
		}
	}
	return most
}

// golden holds a part of the published error rates against what was computed now.
func golden(t *testing.T, part, computed string) {
	t.Helper()
	const file = "../../testdata/error-rates.md"
	begin, end := "<!-- begin "+part+" -->\n", "<!-- end "+part+" -->"
	all, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	before, rest, found := strings.Cut(string(all), begin)
	have, after, closed := strings.Cut(rest, end)
	if !found || !closed {
		t.Fatalf("%s has no part %s", file, part)
	}
	if have == computed {
		return
	}
	if !*update {
		t.Errorf("%s: %s is not what is computed now; see the difference with -update", file, part)
		return
	}
	if err := os.WriteFile(file, []byte(before+begin+computed+end+after), 0o644); err != nil {
		t.Fatal(err)
	}
}
