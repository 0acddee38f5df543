package visit_test

import (
	"testing"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
)

// The lowest of repeats counts as found and the last as left; a coarser gauge makes
// nothing less sure (our own decision).
func TestRepeats(t *testing.T) {
	read := func(psi, repeatability float64) visit.Pressure {
		return visit.Pressure{Of: unit.MustPressure(psi, unit.PSI), Read: unit.PSI,
			Gauge: measure.Gauge[unit.Pressure]{Repeatability: unit.MustPressure(repeatability, unit.PSI)}}
	}
	for _, c := range []struct {
		name         string
		repeats      []visit.Pressure
		lowest, last visit.Pressure
	}{
		{"none", nil, visit.Pressure{}, visit.Pressure{}},
		{"one", []visit.Pressure{read(32, 1)}, read(32, 1), read(32, 1)},
		{"the lowest by the coarser gauge", []visit.Pressure{read(32, 0.3), read(30, 1), read(31, 0.5)}, read(30, 0.3), read(31, 0.5)},
		{"the lowest by the finer gauge", []visit.Pressure{read(30, 0.3), read(32, 1)}, read(30, 0.3), read(32, 1)},
	} {
		if got := visit.LowestOf(c.repeats); got != c.lowest {
			t.Errorf("%s: lowest %+v", c.name, got)
		}
		if got := visit.LastOf(c.repeats); got != c.last {
			t.Errorf("%s: last %+v", c.name, got)
		}
	}
}
