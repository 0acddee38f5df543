package inflation_test

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	. "gaugebook.dev/calc/inflation"
	"gaugebook.dev/calc/layout"
)

// The mate of a dual that was flat carried its load, whichever of the two it is and wherever
// the two stand in the report; told by what the flat one read (common practice).
func TestTheMateCarriedTheLoad(t *testing.T) {
	wheel := func(at string, psi float64) Wheel {
		w := truckAt(psi, cold)
		w.At = layout.MustParse(at)
		return w
	}
	for _, c := range []struct {
		name    string
		axles   []layout.Axle
		wheels  []Wheel
		carried string // "": none did
	}{
		{"the inner one, told first", []layout.Axle{{}, {Dual: true}}, []Wheel{wheel("2LI", 10), wheel("2LO", 100)}, "2LO"},
		{"the outer one, told last", []layout.Axle{{}, {Dual: true}}, []Wheel{wheel("2LI", 100), wheel("2LO", 10)}, "2LI"},
		{"told alone: its mate, which nobody reported", []layout.Axle{{}, {Dual: true}}, []Wheel{wheel("2LO", 10)}, "2LI"},
		{"on the first axle", []layout.Axle{{Dual: true}}, []Wheel{wheel("1LI", 10), wheel("1LO", 100)}, "1LO"},
		{"both sound", []layout.Axle{{}, {Dual: true}}, []Wheel{wheel("2LI", 100), wheel("2LO", 100)}, ""},
		{"both were flat", []layout.Axle{{}, {Dual: true}}, []Wheel{wheel("2LI", 10), wheel("2LO", 10)}, ""},
		{"a single wheel", []layout.Axle{{}, {Dual: true}}, []Wheel{wheel("1L", 10), wheel("1R", 100)}, ""},
	} {
		r := JudgeVehicle(Vehicle{Layout: layout.Vehicle{Class: layout.Heavy, Axles: c.axles}, Wheels: c.wheels})
		f := find(r.Findings, finding.InflationDualMateCarriedLoad)
		if (f.Code != "") != (c.carried != "") || c.carried != "" && f.Positions[0].String() != c.carried {
			t.Errorf("%s: %+v", c.name, r.Findings)
		}
		if c.carried == "" {
			continue
		}
		if !slices.ContainsFunc(f.Evidence, func(e finding.Evidence) bool { return e.Code == finding.FactInflationMateRead && e.Amount.Number == 10 }) {
			t.Errorf("%s: %+v", c.name, f.Evidence)
		}
		for i, w := range c.wheels {
			mate := r.Wheels[i]
			if w.At.String() == c.carried && (!mate.Demount || !mate.NoAir || !mate.Deflate || !mate.RestrainingDevice) {
				t.Errorf("%s: the mate is treated as %+v", c.name, mate)
			}
		}
	}
}

// A tire that carried two loads is above its label by that, and not on purpose: it is told of
// no other tire, wherever the two stand in the report.
func TestAMateAboveItsLabel(t *testing.T) {
	for _, order := range [][]string{{"2LI", "2LO", "2RI", "2RO"}, {"2RO", "2RI", "2LO", "2LI"}} {
		v := Vehicle{Layout: layout.Vehicle{Class: layout.Heavy, Axles: []layout.Axle{{}, {Dual: true}}}}
		for _, at := range order {
			w := truckAt(map[string]float64{"2LI": 115, "2LO": 10, "2RI": 115, "2RO": 115}[at], cold)
			w.At = layout.MustParse(at)
			v.Wheels = append(v.Wheels, w)
		}
		for i, w := range JudgeVehicle(v).Wheels {
			if above := w.Has(finding.InflationAboveLabel); above != (order[i] == "2RI" || order[i] == "2RO") {
				t.Errorf("%v: %s above its label: %v", order, order[i], above)
			}
		}
	}
}
