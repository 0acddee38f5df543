package words

import (
	"strconv"
	"strings"

	"gaugebook.dev/calc/layout"
)

// Places writes where tires are in a customer's words: "the right rear", "the
// inner left on axle 3"; several are joined.
func (c *Catalogue) Places(v layout.Vehicle, at []layout.Position) string {
	names := make([]string, len(at))
	for i, p := range at {
		names[i] = c.place(v, p)
	}
	switch n := len(names); n {
	case 0, 1:
		return strings.Join(names, "")
	default:
		return strings.Join(names[:n-1], ", ") + " " + c.Labels["place.and"] + " " + names[n-1]
	}
}

func (c *Catalogue) place(v layout.Vehicle, p layout.Position) string {
	if p.Spare {
		return c.Labels["place.spare"]
	}
	side := c.Labels["place."+[...]string{"", "left", "right"}[p.Side]]
	dual := c.Labels["place."+[...]string{"single", "inner-dual", "outer-dual"}[p.Dual]]
	end := Fill(c.Labels["place.axle"], map[string]string{"n": strconv.Itoa(p.Axle)})
	if len(v.Axles) == 2 && v.Class != layout.Trailer {
		end = c.Labels["place."+[...]string{"front", "rear"}[p.Axle-1]]
	}
	return strings.Join(strings.Fields(dual+" "+side+" "+end), " ")
}
