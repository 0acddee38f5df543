package rotation

import (
	"slices"
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/measure"
	"gaugebook.dev/calc/unit"
)

// What stands against every map: a tire or a wheel that goes nowhere now, a key that is
// missing, and tires that changed places too short a while ago (common practice).
func TestRefusedWhateverTheMap(t *testing.T) {
	car := func() Vehicle {
		v := Vehicle{Layout: layout.Vehicle{Class: layout.PassengerCar, Drive: layout.FrontDrive, Axles: make([]layout.Axle, 2)}}
		for _, p := range v.Layout.Positions() {
			d := measure.Exact(unit.MustDepth(7, unit.ThirtySecondsInch))
			v.Tires = append(v.Tires, Tire{At: p, Depth: &d, Mean: d.Of, Directional: finding.No, Studded: finding.No})
		}
		return v
	}
	ran := func(miles float64) *unit.Distance { d := unit.MustDistance(miles, unit.Miles); return &d }
	for _, c := range []struct {
		name   string
		change func(*Vehicle)
		why    finding.Reason // "": one is allowed
	}{
		{"nothing", func(*Vehicle) {}, ""},
		{"hurt", func(v *Vehicle) { v.Tires[2].Against = []finding.Reason{finding.ReasonTireHurt} }, finding.ReasonTireHurt},
		{"temporary spare", func(v *Vehicle) { v.Tires[0].Against = []finding.Reason{finding.ReasonTemporarySpare} }, finding.ReasonTemporarySpare},
		{"no key", func(v *Vehicle) { v.NoKey = true }, finding.ReasonNoKey},
		{"2,900 miles ago", func(v *Vehicle) { v.Last = ran(2900) }, finding.ReasonTooSoon},
		{"3,000 miles ago", func(v *Vehicle) { v.Last = ran(3000) }, ""},
	} {
		v := car()
		c.change(&v)
		for _, p := range For(v).Plans {
			usual := p.Map.ID == "forward-cross"
			if usual && (slices.Contains(p.WhyNot, c.why) != (c.why != "") || c.why == "" && !p.Allowed()) {
				t.Errorf("%s: %s: %v", c.name, p.Map.ID, p.WhyNot)
			}
		}
	}
}
