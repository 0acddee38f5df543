package questions

import (
	"math"
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// What a fitment says of the tire goes to whom it concerns: one that is finished by its age and
// its cracks, a valve that is not rated for its label, and which tires are what the label asks for.
func TestWhatAFitmentLeadsTo(t *testing.T) {
	trailer := layout.Vehicle{Class: layout.Trailer, Axles: []layout.Axle{{ColdNormal: psi(80), LabelUnit: unit.PSI, Size: "ST205/75R15 D"}}}
	left, right := layout.MustParse("1L"), layout.MustParse("1R")
	old := sidewall.Made{Week: 20, Year: 2017}
	cracked := visit.Wheel{Position: left, Tire: visit.Tire{Made: old}, Observations: []visit.Observation{{Kind: finding.ObservedCracksJoined}}}
	mate := visit.Wheel{Position: right, Tire: visit.Tire{Made: old, Size: "ST205/75R15 D", Marking: sidewall.Parse("ST205/75R15 D")}}
	mate.Fitment.Valve = fitment.Valve{RubberSnapIn: true}
	out := Fitment(FitmentIn{Laws: Laws{Vehicle: trailer}, AsOf: unit.Date{Year: 2026, Month: 6, Day: 15}, Labels: visit.Labels{Vehicle: trailer}, Wheels: []visit.Wheel{cracked, mate}})
	if len(out.Fits) == 0 || !out.Scrapped[right] {
		t.Errorf("as old as one that is cracked: scrapped %v, of %q", out.Scrapped, doubtsOf(out.Findings))
	}
	if !slices.Equal(out.ValveWrong, []layout.Position{right}) {
		t.Errorf("valves %v", out.ValveWrong)
	}
	mate.Observations = []visit.Observation{{Kind: finding.ObservedValveUnderRated}}
	seen := Fitment(FitmentIn{Laws: Laws{Vehicle: trailer}, AsOf: unit.Date{Year: 2026, Month: 6, Day: 15}, Labels: visit.Labels{Vehicle: trailer}, Wheels: []visit.Wheel{mate}})
	if len(seen.ValveWrong) != 0 {
		t.Errorf("a valve that was seen and said already: %v", seen.ValveWrong)
	}
}

// A tire is as the label asks where size, load and speed are; one of another size is not.
func TestWhichTiresAreAsTheLabelAsks(t *testing.T) {
	axle := layout.Axle{ColdNormal: psi(33), LabelUnit: unit.PSI, Size: "P215/60R16 94T"}
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{axle, axle}}
	wheel := func(at, size string) visit.Wheel {
		return visit.Wheel{Position: layout.MustParse(at), Tire: visit.Tire{Size: size, Marking: sidewall.Parse(size)}}
	}
	out := Fitment(FitmentIn{Laws: Laws{Vehicle: car}, Labels: visit.Labels{Vehicle: car}, Wheels: []visit.Wheel{wheel("1L", "P215/60R16 94T"), wheel("1R", "P225/60R16 97T"), wheel("2L", "P215/60R16 95H"), wheel("2R", "")}})
	for at, want := range map[string]bool{"1L": true, "1R": false, "2L": true, "2R": false} {
		if out.AsLabel[layout.MustParse(at)] != want {
			t.Errorf("%s: %v", at, !want)
		}
	}
}

// The pressures by which a wear shape is told are those of earlier visits at which the tire ran
// where it was made, each a share of its label.
func TestPressuresWhereAShapeWasMade(t *testing.T) {
	car := layout.Vehicle{Class: layout.PassengerCar, Axles: []layout.Axle{{ColdNormal: psi(40), LabelUnit: unit.PSI}, {LabelUnit: unit.PSI}}}
	left, rear := layout.MustParse("1L"), layout.MustParse("2L")
	miles := func(n float64) *unit.Distance { d := unit.MustDistance(n, unit.Miles); return &d }
	earlier := func(ago *unit.Distance, at layout.Position, found float64) visit.Earlier {
		e := visit.Earlier{Ago: ago, Conditions: inflation.Conditions{DrivenHere: finding.No}}
		w := visit.EarlierWheel{Position: at}
		if found > 0 {
			w.Pressure = visit.Pressure{Of: psi(found), Read: unit.PSI}
		}
		e.Wheels = []visit.EarlierWheel{w}
		return e
	}
	for _, c := range []struct {
		name    string
		earlier []visit.Earlier
		history visit.Wheel
		wore    layout.Position
		want    []float64
	}{
		{"where it is", []visit.Earlier{earlier(miles(1_000), left, 30), earlier(miles(2_000), left, 36)}, visit.Wheel{}, left, []float64{0.75, 0.9}},
		{"made nowhere known", []visit.Earlier{earlier(miles(1_000), left, 30)}, visit.Wheel{}, layout.Position{}, nil},
		{"not read then", []visit.Earlier{earlier(miles(1_000), left, 0)}, visit.Wheel{}, left, nil},
		{"another place then", []visit.Earlier{earlier(miles(1_000), rear, 30)}, visit.Wheel{}, left, nil},
		{"a place without a label", []visit.Earlier{earlier(miles(1_000), rear, 30)}, visit.Wheel{Position: rear}, rear, nil},
	} {
		w := c.history
		if w.Position == (layout.Position{}) {
			w.Position = left
		}
		var got []float64
		for _, p := range (WearIn{Labels: visit.Labels{Vehicle: car}, Earlier: c.earlier}).pressures(w, c.wore) {
			got = append(got, float64(p.Share.Of))
		}
		if !slices.EqualFunc(got, c.want, func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
