package questions

import (
	"cmp"
	"slices"

	"gaugebook.dev/calc/layout"
)

// strictestKept leaves, of several laws that may bind a wheel and are kept, the strictest:
// what keeps that one keeps them all.
func strictestKept(all []Checked) []Checked {
	for i := range all {
		c := &all[i]
		c.Positions = slices.DeleteFunc(c.Positions, func(p layout.Position) bool {
			return c.Candidate && slices.ContainsFunc(all, func(o Checked) bool {
				return o.Candidate && o.Code == c.Code && slices.Contains(o.Positions, p) && stricterKept(o, *c)
			})
		})
	}
	return slices.DeleteFunc(all, func(c Checked) bool { return c.Candidate && len(c.Positions) == 0 })
}

func stricterKept(c, o Checked) bool {
	share := func(c Checked) float64 {
		if c.Measured.Number == 0 {
			return 0
		}
		return c.Limit.Number / c.Measured.Number
	}
	return cmp.Or(-cmp.Compare(share(c), share(o)), cmp.Compare(c.Rule.ID, o.Rule.ID)) < 0
}
