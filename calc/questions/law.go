package questions

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
)

// LawIn is what decides which rulebooks bind a vehicle.
type LawIn struct {
	Vehicle layout.Vehicle
	Use     rulebook.Use
	Books   []string       // asked for by id, in place of the choice by use
	Own     *rulebook.Book // the shop's own limits, nil without any
	AsOf    unit.Date
}

// LawAnswer are the rulebooks chosen. Its vehicle is the one to judge.
type LawAnswer struct {
	Answer
	Laws
}

// Law picks the rulebooks. A class that contradicts the rating (a car of
// 26,000 lb) is taken as neither: both laws are judged and named.
func Law(in LawIn) (out LawAnswer) {
	if rulebook.Contradicts(in.Vehicle) {
		out.ask(finding.AskClassOrRating)
		in.Vehicle.GrossRating, in.Vehicle.Class = 0, layout.ClassNotTold
		in.Vehicle.Doubted = true
	}
	books, open := rulebook.Choose(in.Vehicle, in.Use, in.Books)
	books = rulebook.WithOwn(books, in.Own)
	out.Vehicle, out.Books = in.Vehicle, books
	for _, q := range open {
		out.ask(q)
	}
	model := slices.ContainsFunc(books, func(b rulebook.Applied) bool { return b.Binds.Model && b.Country == in.Use.Country })
	if model && in.Use.State == "" {
		out.ask(finding.AskState) // the models bind nobody: the State's own code does
	}
	out.told(in)
	if out.commercial() {
		out.notJudged(finding.RecordedLawNotInspection)
	}
	if in.AsOf.IsZero() {
		out.ask(finding.AskDate)
	}
	return out
}

// told tells what of the law of the place is not known.
func (out *LawAnswer) told(in LawIn) {
	has := func(match func(rulebook.Applied) bool) bool { return slices.ContainsFunc(out.Books, match) }
	switch {
	case in.Use.Country == "" || len(in.Books) > 0:
	case !has(func(b rulebook.Applied) bool { return b.ID != "" }):
		out.notJudged(finding.RecordedLawCountryNotKnown)
	case has(func(b rulebook.Applied) bool { return b.Floor }):
		out.notJudged(finding.RecordedLawCommonMinimum) // of its own law the rules on winter tires at most
	case !has(out.hasDepth):
		out.notJudged(finding.RecordedLawDepthNotRead)
	}
}

// hasDepth tells of a book with a least depth for a wheel of this vehicle.
func (out *LawAnswer) hasDepth(b rulebook.Applied) bool {
	return slices.ContainsFunc(b.Limits, func(l rulebook.Limit) bool {
		return l.Subject == rulebook.TreadDepth && l.Winter == nil && (len(out.Vehicle.Axles) == 0 ||
			slices.ContainsFunc(out.Vehicle.Positions(), func(p layout.Position) bool { return l.AppliesTo(out.Vehicle, p) }))
	})
}

// commercial tells of a vehicle that carries goods or people in business: by the law that
// binds it, or as large ones do.
func (out *LawAnswer) commercial() bool {
	switch out.Vehicle.Class {
	case layout.Heavy, layout.Bus:
		return true
	}
	return slices.ContainsFunc(out.Books, func(b rulebook.Applied) bool { return b.Binds.CommercialFrom > 0 && !b.Candidate })
}
