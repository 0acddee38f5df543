package verdict_test

import (
	"testing"

	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/verdict"
)

// The lowest of repeats counts as found and the last as left; a coarser gauge makes
// nothing less sure (our own decision).
func TestRepeats(t *testing.T) {
	read := func(psi, repeatability float64) verdict.Pressure {
		return verdict.Pressure{Of: unit.MustPressure(psi, unit.PSI), Read: unit.PSI,
			Gauge: measure.Gauge[unit.Pressure]{Repeatability: unit.MustPressure(repeatability, unit.PSI)}}
	}
	for _, c := range []struct {
		name         string
		repeats      []verdict.Pressure
		lowest, last verdict.Pressure
	}{
		{"none", nil, verdict.Pressure{}, verdict.Pressure{}},
		{"one", []verdict.Pressure{read(32, 1)}, read(32, 1), read(32, 1)},
		{"the lowest by the coarser gauge", []verdict.Pressure{read(32, 0.3), read(30, 1), read(31, 0.5)}, read(30, 0.3), read(31, 0.5)},
		{"the lowest by the finer gauge", []verdict.Pressure{read(30, 0.3), read(32, 1)}, read(30, 0.3), read(32, 1)},
	} {
		if got := verdict.LowestOf(c.repeats); got != c.lowest {
			t.Errorf("%s: lowest %+v", c.name, got)
		}
		if got := verdict.LastOf(c.repeats); got != c.last {
			t.Errorf("%s: last %+v", c.name, got)
		}
	}
}
