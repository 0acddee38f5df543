package rulebook

import "slices"

// former are the versions that a newer one has replaced, of each book the newest
// first. A kept answer names the version it was judged by, and can be judged by
// it again. They never change: a test holds every version to its digest. One
// that differs from its successor by more than what was added is written out.
var former = []*Book{
	advice2,
	without(advice2, "rotation-every"),
	without(&gauges, "depth-zero"),
	without(&trend, "pace-changes"),
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
func without(b *Book, ids ...string) *Book {
	old := *b
	old.Version--
	old.Limits = slices.DeleteFunc(slices.Clone(b.Limits), func(l Limit) bool { return slices.Contains(ids, l.ID) })
	return &old
}
