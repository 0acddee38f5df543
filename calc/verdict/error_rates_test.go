package verdict

import (
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/measure/measuretest"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

var (
	update = flag.Bool("update", false, "write the golden files")
	full   = flag.Bool("full", false, "draw as many cars as the published page of error rates")
)

const errorRates = "../../testdata/error-rates.md"

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
				v.Use.Places, v.Vehicle.GrossRating = []rulebook.Place{{Country: "GB"}}, unit.MustMass(1900, unit.Kilograms)
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

// golden holds a part of the published error rates against what was computed now.
func golden(t *testing.T, part, computed string) {
	t.Helper()
	with := ""
	if *update {
		with = computed
	}
	if pageOf(t, part, with) != computed {
		t.Errorf("%s: %s is not what is computed now; see the difference with -update", errorRates, part)
	}
}

// pageOf is a part of the page of error rates, written anew where with is not empty.
func pageOf(t *testing.T, part, with string) string {
	t.Helper()
	page, err := os.ReadFile(errorRates)
	if err != nil {
		t.Fatal(err)
	}
	stands, ok := measuretest.Part(string(page), part)
	switch {
	case !ok:
		t.Fatalf("%s has no part %s", errorRates, part)
	case with == "" || with == stands:
		return stands
	}
	if err := os.WriteFile(errorRates, []byte(measuretest.WithPart(string(page), part, with)), 0o644); err != nil {
		t.Fatal(err)
	}
	return with
}
