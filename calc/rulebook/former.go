package rulebook

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/unit"
)

// former are the versions that a newer one has replaced, of each book the newest
// first. A kept answer names the version it was judged by, and can be judged by
// it again. They never change: a test holds every version to its digest. One
// that differs from its successor by more than what was added is written out.
var former = slices.Concat([]*Book{
	advice2,
	without(advice2, "rotation-every"),
	without(&gauges, "depth-zero"),
	without(&trend, "pace-changes"),
	without(&usCA, "regrooved", "sale"),
	without(without(&usCA, "regrooved", "sale"), "snow-instead-of-chains"),
	without(&usIL, "not-for-road"),
	without(&usMD, "sale"),
	before(&usCommercial, newInCommercial, roadside...),
	without(before(&usCommercial, newInCommercial, roadside...), "construction"),
	without(&usHeavyModel, "not-for-highway"),
	before(&pressure, []string{"air-on-vehicle-steel", "deflate-damaged", "one-piece", "restrained", "under-air-first"}, anyWheel...),
}, formerPlaces)

// roadside are figures that the first two versions of that book told beside the law, and
// that are judged no more: an inspector holds a vehicle back, by the edition that he has.
var roadside = []Limit{
	{
		ID: "roadside-front", Subject: RoadsideDepth, Value: thirtySeconds(2), Where: TwoAdjacentThreePlaces,
		Applies:   Scope{Wheels: FrontWheels, Text: "front steering axle of a power unit"},
		Authority: finding.PublishedStandard, Citation: "North American roadside out-of-service criteria, tires", Known: finding.FromMemory,
		Says: "Roadside inspectors hold a vehicle back below this: a lower figure than the law, and not a limit to run down to.",
	},
	{
		ID: "roadside-other", Subject: RoadsideDepth, Value: thirtySeconds(1), Where: TwoAdjacentThreePlaces,
		Applies:   Scope{Wheels: OtherWheels, Text: "every tire not on the front steering axle"},
		Authority: finding.PublishedStandard, Citation: "North American roadside out-of-service criteria, tires, as reported", Known: finding.Reported,
		Says: "Roadside inspectors hold a vehicle back below this, in two adjacent major grooves at three places: a lower figure than the law, and not a limit to run down to.",
	},
}

// anyWheel is what the first version of the pressure book had of the wheels of large
// vehicles: it did not tell those with rings from those of one piece.
var anyWheel = []Limit{
	{
		ID: "air-on-vehicle", Subject: AirOnVehicle, Value: percent(80),
		Applies:   Scope{Classes: largeVehicles, Text: "rim wheels of large vehicles; not cars, nor pickups and vans on car tires or tires marked LT"},
		Authority: finding.LawInUse, Citation: "29 CFR 1910.177(f)(4)", Known: finding.Read,
		Says: "A tire may be inflated on the vehicle only when it has more than 80 percent of the recommended pressure, with remote equipment and nobody in the trajectory.",
	},
	{
		ID: "deflate-first", Subject: AirOnVehicle, Value: percent(80),
		Applies:   Scope{Classes: largeVehicles, Text: "rim wheels of large vehicles"},
		Authority: finding.LawInUse, Citation: "29 CFR 1910.177(f)(2)", Known: finding.FromMemory,
		Says:    "At 80 percent of the recommended pressure or less, or with damage suspected, the core comes out and the tire is let down fully before the wheel comes off the axle.",
		Informs: "air-on-vehicle judges the same share, and its caution says what this rule says",
	},
}

// advice2 called a shape by one set of readings, whatever sound tires show.
var advice2 = saying(without(&advice, "sound-spread", "shape-places", "shape-times"), "shape",
	"Inner and outer grooves of sound tires differ by 10 to 50 percent in wear (controlled tests, 1985 report, abstract). A wear shape is called only when it is provable and at least 2/32 in (two steps of the usual gauge) on at least one tire.")

// saying is a version in which one limit said something else.
func saying(b *Book, id, says string) *Book {
	old := *b
	old.Limits = slices.Clone(b.Limits)
	old.Limits[slices.IndexFunc(old.Limits, func(l Limit) bool { return l.ID == id })].Says = says
	return &old
}

// newInCommercial is what the third version of that book has added.
var newInCommercial = []string{"not-for-highway", "heat-up-to", "heat-over", "heat-rating"}

// without is the version before b, which had no limits of these ids, or did not
// judge by them.
func without(b *Book, ids ...string) *Book { return before(b, ids) }

// before is the version before b: it had no limits of these ids, and in place of the
// others of their ids, or behind them all, these.
func before(b *Book, ids []string, other ...Limit) *Book {
	old := *b
	old.Version--
	old.InForce = unit.Date{}
	old.Limits = slices.DeleteFunc(slices.Clone(b.Limits), func(l Limit) bool { return slices.Contains(ids, l.ID) })
	for _, o := range other {
		if i := slices.IndexFunc(old.Limits, func(l Limit) bool { return l.ID == o.ID }); i >= 0 {
			old.Limits[i] = o
		} else {
			old.Limits = append(old.Limits, o)
		}
	}
	return &old
}
