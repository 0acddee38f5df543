package fitment

import (
	"testing"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// The diameters of the two tires of an axle differ by at most 1.5 percent of the larger, by the
// Slovak and the Czech law (rulebook, as cited there): met where both were taped as they should be.
func TestDiametersOfOneAxleByLaw(t *testing.T) {
	for _, c := range []struct {
		name        string
		left, right float64 // inches round
		found, met  bool
	}{
		{"alike", 80, 80, false, true},
		{"one percent", 80, 80.8, false, true},
		{"two percent", 80, 81.6, true, false},
		{"the left is larger", 81.6, 80, true, false},
	} {
		v := Vehicle{Layout: car(layout.RearDrive), Books: []rulebook.Applied{{Book: rulebook.Must("eu-sk")}}, Wheels: []Wheel{
			{At: layout.MustParse("1L"), Taped: taped(c.left)}, {At: layout.MustParse("1R"), Taped: taped(c.right)},
		}}
		v.Layout.GrossRating = unit.MustMass(1900, unit.Kilograms)
		r := Judge(v)
		if got := len(found(r, finding.MatchAxleLegalLimit)) == 1; got != c.found || met(r, finding.CheckedMatchAxle) != c.met {
			t.Errorf("%s: found %v, met %v: %v", c.name, got, met(r, finding.CheckedMatchAxle), r.Findings)
		}
	}
}
