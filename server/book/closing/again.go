package closing

import (
	"slices"
	"strings"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// again tells whether a visit judged again what the findings of one family are about.
type again struct {
	// wheel tells it of one position. Nil: nothing in a visit tells that it was
	// looked at, so it stays open until work cures it.
	wheel func(v Visit, position string) bool
	// vehicle tells it of what is about no wheel. Nil: it is the warning lamp's.
	vehicle func(v Visit) bool
}

// families are the families of findings, by what stands before the dot of their code.
var families = map[string]again{
	"tread":     {wheel: seen(func(w Wheel) bool { return w.Depth })},
	"trend":     {wheel: seen(func(w Wheel) bool { return w.Depth })},
	"rotation":  {wheel: seen(func(w Wheel) bool { return w.Depth })},
	"wear":      {wheel: readAcross},
	"inflation": {wheel: seen(func(w Wheel) bool { return w.Pressure })},
	"puncture":  {wheel: seen(func(w Wheel) bool { return w.Whole || w.Injury })},
	"repair":    {wheel: seen(func(w Wheel) bool { return w.Whole || w.Injury })},
	"damage":    {wheel: seen(func(w Wheel) bool { return w.Whole })},
	"dual":      {wheel: seen(func(w Wheel) bool { return w.Whole })},
	"wheel":     {wheel: seen(func(w Wheel) bool { return w.Rim })},
	"fastener":  {wheel: seen(func(w Wheel) bool { return w.Fasteners })},
	"torque":    {wheel: seen(func(w Wheel) bool { return w.Torque })},
	"valve":     {wheel: seen(func(w Wheel) bool { return w.Valve })},
	"sensor":    {wheel: seen(func(w Wheel) bool { return w.Sensor })},
	"chassis":   {},
	"load":      {wheel: weighedAgain}, // of what lies on the axle as much as of the tire
	"age":       {wheel: seen(func(w Wheel) bool { return w.Identification })},
	"mount":     {wheel: seen(func(w Wheel) bool { return w.Arrow })},
	"fitment":   {wheel: markingRead}, // it names every tire that it compares
	"match":     {},
	"spare":     everywhere(func(v Visit) bool { return v.Spare }),
	"complaint": everywhere(func(v Visit) bool { return v.Complaints }), // and no more says this
}

// ofTheirOwn are findings that their family does not speak for.
var ofTheirOwn = map[finding.Code]again{
	"spare.kit-past-its-day":  {vehicle: func(Visit) bool { return true }}, // found again as long as it is so
	"trend.loses-alike":       families["inflation"],
	"trend.loses-faster":      families["inflation"],
	"sensor.relearn-owed":     {vehicle: func(v Visit) bool { return v.Relearned }},
	"complaint.thump":         {wheel: families["damage"].wheel, vehicle: func(v Visit) bool { return v.AllSeen }},
	"complaint.hit-something": {wheel: families["damage"].wheel, vehicle: func(v Visit) bool { return v.AllSeen }},

	"spare.in-service":          {wheel: families["spare"].wheel},
	"spare.matching-in-service": {wheel: families["spare"].wheel},

	"mount.outside-in": {wheel: seen(func(w Wheel) bool { return w.Outside })},

	// Against the label: the label may be told anew, too.
	"fitment.size-not-label":    foundGood("fitment.as-label"),
	"fitment.load-below-label":  foundGood("fitment.as-label"),
	"fitment.speed-below-label": foundGood("fitment.as-label"),
	"fitment.class-not-label":   foundGood("fitment.as-label"),
	"fitment.build-not-label":   foundGood("fitment.as-label"),
	"fitment.pressure-for-size": foundGood("fitment.as-label"),

	// What one method found another of less worth does not clear.
	"match.all-wheel-drive":        foundGood("match.all-wheel-drive", "match.all-wheel-drive-tape"),
	"match.all-wheel-drive-tape":   foundGood("match.all-wheel-drive-tape"),
	"match.all-wheel-drive-design": foundGood("match.all-wheel-drive", "match.all-wheel-drive-tape"),
	"match.dual":                   foundGood("match.dual"),
	"match.dual-tread":             foundGood("match.dual", "match.dual-tread"),
	"match.dual-design":            foundGood("match.dual", "match.dual-tread"),
	"match.dual-model-limit":       foundGood("match.dual"),
	"match.dual-legal-limit":       foundGood("match.dual"),
}

func againOf(c finding.Code) again {
	if own, ok := ofTheirOwn[c]; ok {
		return own
	}
	return families[family(c)]
}

// family is what stands before the dot of a code.
func family(c finding.Code) string {
	name, _, _ := strings.Cut(string(c), ".")
	return name
}

// seen asks one thing of the wheel.
func seen(what func(Wheel) bool) func(Visit, string) bool {
	return func(v Visit, position string) bool { return what(v.Wheels[position]) }
}

// everywhere asks the same of a wheel and of the vehicle.
func everywhere(what func(Visit) bool) again {
	return again{wheel: func(v Visit, _ string) bool { return what(v) }, vehicle: what}
}

// readAcross: where the depths do not tell a shape, it is asked for.
func readAcross(v Visit, position string) bool {
	return v.Wheels[position].Depth && !said(v.Asked, position, "ask.across")
}

// markingRead: the marking was read anew, and could be.
func markingRead(v Visit, position string) bool {
	return v.Wheels[position].Marking && !said(v.Asked, position, "fitment.ask-marking")
}

// weighedAgain: its axle was on a scale, and what its tire carries at the pressure
// read could be told.
func weighedAgain(v Visit, position string) bool {
	p, err := layout.Parse(position)
	return err == nil && v.Wheels[position].Pressure && slices.Contains(v.Weighed, p.Axle) && !said(v.Asked, position, "ask.load-rating", "ask.load-dual")
}

// foundGood is judged again where the comparison with one of the codes was made and
// found good.
func foundGood(codes ...finding.Code) again {
	return again{wheel: func(v Visit, position string) bool { return said(v.Good, position, codes...) }}
}

// said tells whether one of the codes was said of a wheel.
func said(all []Remark, position string, codes ...finding.Code) bool {
	return slices.ContainsFunc(all, func(r Remark) bool { return slices.Contains(codes, r.Code) && slices.Contains(r.Positions, position) })
}
