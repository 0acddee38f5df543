package closing

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/fitment"
	"gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/sensor"
	"gaugebook.dev/calc/sidewall"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// What is left right at a wheel closes the kinds of finding that are about it and no
// other: 33 psi make no worn tread good (our own decision).
func TestWhatIsLeftRightClosesItsOwnKindsAlone(t *testing.T) {
	psi := func(n float64) visit.Pressure {
		return visit.Pressure{Of: unit.MustPressure(n, unit.PSI), Read: unit.PSI}
	}
	car := layout.Vehicle{Axles: []layout.Axle{{ColdNormal: psi(33).Of, LabelUnit: unit.PSI}, {ColdNormal: psi(33).Of, LabelUnit: unit.PSI}}}
	for _, row := range []struct {
		name string
		left func(*visit.Wheel, *visit.Visit)
		want []finding.Left
	}{
		{"nothing", func(*visit.Wheel, *visit.Visit) {}, nil},
		{"short of its label", func(w *visit.Wheel, _ *visit.Visit) { w.PressureLeft = psi(26) }, nil},
		{"pressure", func(w *visit.Wheel, _ *visit.Visit) { w.PressureLeft = psi(36) }, []finding.Left{finding.LeftPressure, finding.LeftWhereUsed}},
		{"arrow", func(w *visit.Wheel, _ *visit.Visit) { w.FitmentLeft.Marks.Arrow = fitment.ArrowAgrees }, []finding.Left{finding.LeftArrow}},
		{"outside", func(w *visit.Wheel, _ *visit.Visit) { w.FitmentLeft.Marks.Outside = fitment.FacesOut }, []finding.Left{finding.LeftOutside}},
		{"sensor", func(w *visit.Wheel, _ *visit.Visit) {
			w.SensedLeft = visit.Sensed{Sensor: &sensor.Reading{Answering: finding.Yes}}
		}, []finding.Left{finding.LeftSensor}},
		{"lamp", func(_ *visit.Wheel, v *visit.Visit) { v.LampLeft = inflation.LampOff }, []finding.Left{finding.LeftLamp}},
	} {
		w := visit.Wheel{Position: left, Tire: visit.Tire{Marking: sidewall.Parse("225/60R17 99T SL")}}
		v := visit.Visit{Vehicle: car}
		row.left(&w, &v)
		v.Wheels = []visit.Wheel{w}
		for k := range finding.Kinds() {
			f := finding.Finding{Code: k.Code, Urgency: finding.BeforeDriving, Positions: []layout.Position{left}, Limit: unit.Amount{Number: 1, Unit: unit.ThirtySecondsInch}}
			closed := AsLeft(In{Visit: v, Findings: []finding.Finding{f}}).Closed(f)
			if want := slices.Contains(row.want, k.Left); closed != want {
				t.Errorf("%s left right: %s closed %v, want %v", row.name, k.Code, closed, want)
			}
		}
	}
}
