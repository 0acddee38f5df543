package rulebook

import (
	"slices"

	"gaugebook.dev/calc/finding"
)

// former are the versions that a newer one has replaced, of each book the newest
// first. A kept answer names the version it was judged by, and can be judged by
// it again. They never change: a test holds every version to its digest. One
// that differs from its successor by more than what was added is written out.
var former = []*Book{
	without(&advice, "rotation-every"),
	without(&usCA, "regrooved"),
	without(without(&usCA, "regrooved"), "snow-instead-of-chains"),
	without(&usIL, "not-for-road"),
	without(&usCommercial, newInCommercial...),
	without(without(&usCommercial, newInCommercial...), "construction"),
	without(&usHeavyModel, "not-for-highway"),
	without(&ukLight, "construction", "radial-ahead"),
	without(without(&ukLight, "construction", "radial-ahead"), "minibus-age"),
	without(&ukHeavy, "construction", "radial-ahead"),
	without(without(&ukHeavy, "construction", "radial-ahead"), "minibus-age", "age"),
	without(&euDE, "winter-advice"),
	without(&euAT, "winter-depth", "heavy-winter-depth", "heavy-winter-cross-ply"),
	without(&euFR, "winter-depth"),
	instead(without(&pressure, "air-on-vehicle-steel", "deflate-damaged", "one-piece", "restrained", "under-air-first"), anyWheel...),
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

// instead is a version with limits of its own in the places of those of the same id.
func instead(b *Book, limits ...Limit) *Book {
	for _, l := range limits {
		b.Limits[slices.IndexFunc(b.Limits, func(o Limit) bool { return o.ID == l.ID })] = l
	}
	return b
}

// newInCommercial is what the third version of that book has added.
var newInCommercial = []string{"not-for-highway", "heat-up-to", "heat-over", "heat-rating"}

// without is the version before b, which had no limits of these ids, or did not
// judge by them.
func without(b *Book, ids ...string) *Book {
	old := *b
	old.Version--
	old.Limits = slices.DeleteFunc(slices.Clone(b.Limits), func(l Limit) bool { return slices.Contains(ids, l.ID) })
	return &old
}
