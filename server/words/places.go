package words

import (
	"strconv"
	"strings"

	"gaugebook.dev/calc/layout"
)

// Places writes where tires are in a customer's words: "the right rear", "the
// inner left wheel on axle 3"; several are joined.
func (c *Catalogue) Places(v layout.Vehicle, at []layout.Position) string {
	names := make([]string, len(at))
	for i, p := range at {
		names[i] = c.located(v, p, "place.")
	}
	return c.List(names)
}

// List joins names: "a, b and c".
func (c *Catalogue) List(names []string) string {
	n := len(names)
	if n < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:n-1], ", ") + " " + c.Labels["place.and"] + " " + names[n-1]
}

// Short writes a position as the trade does in the language: LF, RR, LRI on two
// axles, the axle first (2LO) on any other number.
func (c *Catalogue) Short(v layout.Vehicle, p layout.Position) string {
	return c.located(v, p, "short.")
}

// located fills in the pattern of one way to write places.
func (c *Catalogue) located(v layout.Vehicle, p layout.Position, way string) string {
	if p.Spare {
		return c.Labels[way+"spare"]
	}
	label := func(code string) string { return c.Labels[way+code] }
	values := map[string]string{
		"side": label([...]string{"", "left", "right"}[p.Side]),
		"dual": label([...]string{"", "inner-dual", "outer-dual"}[p.Dual]),
		"n":    strconv.Itoa(p.Axle),
	}
	if len(v.Axles) != 2 || v.Class == layout.Trailer {
		return Fill(label("on-axle"), values)
	}
	values["end"] = label([...]string{"front", "rear"}[p.Axle-1])
	return Fill(label("front-rear"), values)
}
