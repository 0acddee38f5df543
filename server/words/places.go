package words

import (
	"fmt"
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// positions writes where tires are, to the technician in the trade's letters, to the
// customer in words, and of many how many. Of a pair of which nobody said where it is, the customer reads
// of the other tire alone.
func (m *rendering) positions(dst []byte, v *Value) []byte {
	if m.teller.audience == Customer && slices.Contains(v.at, layout.Beside) {
		return m.position(dst, v.vehicle, layout.Beside)
	}
	if m.teller.audience == Customer && len(v.at) > named {
		return m.within(dst, m.teller.locale.texts.many, Count(len(v.at)).amount)
	}
	if m.teller.audience == Customer {
		return m.together(dst, v)
	}
	for i, p := range v.at {
		if i > 0 {
			dst = append(dst, ' ')
		}
		dst = m.position(dst, v.vehicle, p)
	}
	return dst
}

// together writes places as a customer reads them: the wheels of an axle, and the two of a
// dual pair, are one.
func (m *rendering) together(dst []byte, v *Value) []byte {
	n := 0
	for i := range v.at {
		if first(v.at, i) {
			n++
		}
	}
	told := 0
	for i, p := range v.at {
		if !first(v.at, i) {
			continue
		}
		dst = m.between(dst, told, n)
		told++
		if p == (layout.Position{}) {
			continue
		}
		as := placeOn(v.vehicle, p)
		as.Position, as.wheels = common(v.at, p)
		dst = append(dst, m.teller.locale.texts.places[Customer][m.form][as]...)
	}
	return dst
}

// first tells that none before it has in common with the i-th place what that one has.
func first(at []layout.Position, i int) bool {
	as, _ := common(at, at[i])
	return !slices.ContainsFunc(at[:i], func(o layout.Position) bool {
		other, _ := common(at, o)
		return other == as
	})
}

// common is what a place has in common with those that are one with it, and how many they
// are; the place itself, and 0, where not all of them are there.
func common(at []layout.Position, p layout.Position) (as layout.Position, wheels int) {
	has := func(side layout.Side, dual layout.Dual) bool {
		return slices.Contains(at, layout.Position{Axle: p.Axle, Side: side, Dual: dual})
	}
	pair := func(side layout.Side) bool { return has(side, layout.Inner) && has(side, layout.Outer) }
	switch {
	case p.Axle == 0:
	case p.Dual == layout.Single && has(layout.Left, layout.Single) && has(layout.Right, layout.Single):
		return layout.Position{Axle: p.Axle}, 2
	case p.Dual != layout.Single && pair(layout.Left) && pair(layout.Right):
		return layout.Position{Axle: p.Axle}, 4
	case p.Dual != layout.Single && pair(p.Side):
		return layout.Position{Axle: p.Axle, Side: p.Side}, 2
	case p.Dual != layout.Single && has(layout.Left, p.Dual) && has(layout.Right, p.Dual) && !pair(layout.Left) && !pair(layout.Right):
		return layout.Position{Axle: p.Axle, Dual: p.Dual}, 2
	}
	return p, 0
}

// named is how many places a customer reads one by one: of more, how many they are.
const named = 4

// position writes one place as the audience reads it.
func (m *rendering) position(dst []byte, v *layout.Vehicle, p layout.Position) []byte {
	t := m.teller.locale.texts
	switch p {
	case layout.Beside:
		return m.within(dst, t.beside, unit.Amount{})
	case layout.Position{}:
		return dst
	}
	return append(dst, t.places[m.teller.audience][m.form][placeOn(v, p)]...)
}

// place is a position with the way its name is made: front and rear are of two axles.
type place struct {
	layout.Position
	frontRear bool
	wheels    int // that are one place; 0 of one by itself
}

func placeOn(v *layout.Vehicle, p layout.Position) place {
	return place{Position: p, frontRear: len(v.Axles) == 2 && v.Class != layout.Trailer && !p.Spare}
}

// placeNames are the names of all places that a vehicle may have, in one form: LF, RR,
// LRI on two axles, the axle first (2LO) on any other number; "the right rear", "the
// inner left wheel on axle 3".
type placeNames map[place]string

// maxAxles is how many axles positions tell apart.
const maxAxles = 9

// name tells once and for all how the labels of one way name the places.
func (t *texts) name(way, form string) (placeNames, error) {
	m := rendering{teller: &Teller{locale: &locale{texts: t, numerals: plainNumerals}}, form: form}
	label := func(code string) Value {
		return Plain(string(m.text(nil, Labels, way+"."+code, unit.Amount{})))
	}
	tell := func(code string, arguments ...Argument) string {
		inner := rendering{teller: m.teller, arguments: arguments, form: form}
		e := m.teller.find(Labels, way+"."+code)
		if e == nil {
			m.miss(way + "." + code)
			return ""
		}
		told := string(inner.tell(nil, e.of(0, form)))
		if inner.missing != "" {
			m.miss(inner.missing)
		}
		return told
	}
	sides := map[layout.Side]Value{layout.Left: label("left"), layout.Right: label("right")}
	duals := map[layout.Dual]Value{layout.Single: {}, layout.Inner: label("inner-dual"), layout.Outer: label("outer-dual")}
	ends := map[int]Value{1: label("front"), 2: label("rear")}
	names := placeNames{{Position: layout.Position{Spare: true}}: tell("spare")}
	for side, sideName := range sides {
		for dual, dualName := range duals {
			across := []Argument{{"side", sideName}, {"dual", dualName}}
			for axle := 1; axle <= maxAxles; axle++ {
				p := layout.Position{Axle: axle, Side: side, Dual: dual}
				names[place{Position: p}] = tell("on-axle", append(across, Argument{"n", Count(axle)})...)
				if end, named := ends[axle]; named {
					names[place{Position: p, frontRear: true}] = tell("front-rear", append(across, Argument{"end", end})...)
				}
			}
		}
	}
	if way == "place" {
		names.several(label, tell)
	}
	if m.missing != "" {
		return nil, fmt.Errorf("labels: %s: nothing is told of %s", way, m.missing)
	}
	return names, nil
}

// several adds the names of places that are one: of the wheels of an axle, of the two on one
// side of it, and of the inner or outer two.
func (names placeNames) several(label func(code string) Value, tell func(code string, arguments ...Argument) string) {
	sides := map[layout.Side]Value{0: {}, layout.Left: label("both.left"), layout.Right: label("both.right")}
	duals := map[layout.Dual]Value{layout.Single: {}, layout.Inner: label("both.inner-dual"), layout.Outer: label("both.outer-dual")}
	ends := map[int]Value{1: label("both.front"), 2: label("both.rear")}
	for axle := 1; axle <= maxAxles; axle++ {
		add := func(p layout.Position, wheels int, way string) {
			across := []Argument{sides[p.Side].As("side"), duals[p.Dual].As("dual")}
			names[place{Position: p, wheels: wheels}] = tell(way+".on-axle", append(across, Count(axle).As("n"))...)
			if end, named := ends[axle]; named {
				names[place{p, true, wheels}] = tell(way+".front-rear", append(across, end.As("end"))...)
			}
		}
		add(layout.Position{Axle: axle}, 4, "all")
		for side := range sides {
			add(layout.Position{Axle: axle, Side: side}, 2, "both")
		}
		for dual := range duals {
			add(layout.Position{Axle: axle, Dual: dual}, 2, "both")
		}
	}
}

// onTire writes where on a tire something lies, from the whole to the part.
func (m *rendering) onTire(dst []byte, p finding.Place) []byte {
	start := len(dst)
	add := func(code string, n int) {
		if len(dst) > start {
			dst = append(dst, ", "...)
		}
		var number unit.Amount
		if n > 0 {
			number = Count(n).amount
		}
		dst = m.text(dst, Labels, code, number)
	}
	if p.Side != "" {
		add("place.side."+string(p.Side), 0)
	}
	if p.Part != "" {
		add("place.part."+string(p.Part), 0)
	}
	if p.Across != layout.AcrossNotTold {
		add("place."+p.Across.String(), 0)
	}
	if p.Groove > 0 {
		add("place.groove", p.Groove)
	}
	if p.Station > 0 {
		add("place.station", p.Station)
	}
	return dst
}

// moves writes the changes of place of a rotation.
func (m *rendering) moves(dst []byte, v *Value) []byte {
	for i, move := range v.moves {
		if i > 0 {
			dst = append(dst, ", "...)
		}
		dst = m.position(dst, v.vehicle, move.From)
		dst = append(dst, "→"...)
		dst = m.position(dst, v.vehicle, move.To)
		if move.Turned {
			dst = m.text(append(dst, ' '), Labels, "map.turned", unit.Amount{})
		}
	}
	return dst
}
