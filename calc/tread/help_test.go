package tread_test

import (
	"math/rand/v2"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/tread"
	"gaugebook.dev/calc/unit"
)

// Gauges: an exact number, and two usual gauges with the repeatability of a
// practiced hand (common practice: 0.40/32 in, 0.32 mm).
var (
	exact        = measure.Gauge[unit.Depth]{}
	thirtySecond = measure.Gauge[unit.Depth]{Resolution: in32(1), Repeatability: in32(0.4)}
	halfMM       = measure.Gauge[unit.Depth]{Resolution: inMM(0.5), Repeatability: inMM(0.32)}
)

var (
	car     = layout.Vehicle{Class: layout.PassengerCar, GrossRating: unit.MustMass(4500, unit.Pounds), Axles: make([]layout.Axle, 2)}
	truck   = layout.Vehicle{Class: layout.Heavy, GrossRating: unit.MustMass(26_000, unit.Pounds), Axles: make([]layout.Axle, 2)}
	trailer = layout.Vehicle{Class: layout.Trailer, GrossRating: unit.MustMass(30_000, unit.Pounds), Axles: make([]layout.Axle, 2)}
)

func in32(n float64) unit.Depth { return unit.MustDepth(n, unit.ThirtySecondsInch) }
func inMM(n float64) unit.Depth { return unit.MustDepth(n, unit.Millimeters) }

// none marks a place that was not read.
const none = -1

func reading(groove, station int, n float64, u unit.Unit) tread.Reading {
	return tread.Reading{Groove: groove, Station: station, Depth: unit.MustDepth(n, u), AsRead: unit.Amount{Number: n, Unit: u}}
}

// around gives the readings of one tire, one row a station and one number a groove.
func around(u unit.Unit, stations ...[]float64) (rs []tread.Reading) {
	for s, row := range stations {
		for g, n := range row {
			if n != none {
				rs = append(rs, reading(g+1, s+1, n, u))
			}
		}
	}
	return rs
}

// all is one depth at three grooves and four stations: every rule's pattern.
func all(n float64, u unit.Unit) []tread.Reading {
	row := []float64{n, n, n}
	return around(u, row, row, row, row)
}

func at(p string, g measure.Gauge[unit.Depth], rs []tread.Reading) tread.Wheel {
	return tread.Wheel{Position: layout.MustParse(p), Gauge: g, Readings: rs}
}

func under(v layout.Vehicle, ids ...string) tread.Context {
	c := tread.Context{Vehicle: v}
	for _, id := range ids {
		c.Books = append(c.Books, rulebook.Applied{Book: rulebook.Must(id)})
	}
	return c
}

func candidate(c tread.Context) tread.Context {
	for i := range c.Books {
		c.Books[i].Candidate = true
	}
	return c
}

func judge(t *testing.T, c tread.Context, w tread.Wheel) tread.Result {
	t.Helper()
	r, ok := tread.Judge(c, w)
	if !ok {
		t.Fatal("nothing was read")
	}
	return r
}

func has(r tread.Result, code finding.Code) (finding.Finding, bool) {
	for _, f := range r.Findings {
		if f.Code == code {
			return f, true
		}
	}
	return finding.Finding{}, false
}

func ofRule(r tread.Result, rule string) (finding.Finding, bool) {
	for _, f := range r.Findings {
		if f.Rule.ID == rule {
			return f, true
		}
	}
	return finding.Finding{}, false
}

// outcome is what the rule came to: as found, or above when it is kept.
func outcome(t *testing.T, r tread.Result, rule string) measure.Outcome {
	t.Helper()
	f, found := ofRule(r, rule)
	met := false
	for _, k := range r.Met {
		met = met || k.Rule.ID == rule
	}
	switch {
	case found && met:
		t.Fatalf("%s is both found and kept", rule)
	case found:
		return f.Outcome
	case met:
		return measure.Above
	}
	return measure.NotCompared
}

func says(f finding.Finding, code finding.Fact) (finding.Evidence, bool) {
	for _, e := range f.Evidence {
		if e.Code == code {
			return e, true
		}
	}
	return finding.Evidence{}, false
}

// dice gives the same numbers at every run.
func dice() *rand.Rand { return rand.New(rand.NewPCG(7_937_500, 254_000_000)) }
