package sensor

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// A sensor that is shown at another wheel is told by that; pressures that fit other wheels, by
// theirs; both by both.
func TestWhereSensorsAreShown(t *testing.T) {
	shownAt := func(w Wheel, at string) Wheel { w.Sensor.ShownAt = layout.MustParse(at); return w }
	const shown, fit = finding.FactSensorShownAtOtherWheels, finding.FactSensorPressuresFitOtherWheels
	for _, c := range []struct {
		name   string
		wheels []Wheel
		want   []finding.Fact
		at     []string
	}{
		{"each at its own", []Wheel{shownAt(read("1L", 33, 33), "1L"), shownAt(read("1R", 33, 33), "1R")}, nil, nil},
		{"two at each other's", []Wheel{shownAt(read("1L", 33, 33), "1R"), shownAt(read("1R", 33, 33), "1L")}, []finding.Fact{shown}, []string{"1L", "1R"}},
		{"their pressures are each other's", []Wheel{read("1L", 33, 40), read("1R", 40, 33)}, []finding.Fact{fit}, []string{"1L", "1R"}},
		{"both", []Wheel{shownAt(read("1L", 33, 40), "1R"), shownAt(read("1R", 40, 33), "1L")}, []finding.Fact{shown, fit}, []string{"1L", "1R"}},
	} {
		r := Judge(Direct, c.wheels)
		var got []finding.Fact
		var at []string
		for _, f := range r.Findings {
			if f.Code != finding.SensorNotLearned {
				continue
			}
			for _, e := range f.Evidence {
				got = append(got, e.Code)
			}
			for _, p := range f.Positions {
				if !slices.Contains(at, p.String()) {
					at = append(at, p.String())
				}
			}
		}
		slices.Sort(at)
		if !slices.Equal(got, c.want) || !slices.Equal(at, c.at) {
			t.Errorf("%s: %v at %v: %v", c.name, got, at, says(r))
		}
	}
}
