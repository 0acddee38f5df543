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
	if in.Use.Country != "" && len(books) == 0 {
		out.notJudged(finding.RecordedLawCountryNotKnown)
	} else if !slices.ContainsFunc(books, func(b rulebook.Applied) bool { return len(b.About(rulebook.TreadDepth)) > 0 || b.Country == "" }) {
		out.notJudged(finding.RecordedLawDepthNotRead) // of this place the rules on winter tires alone are known
	}
	if in.AsOf.IsZero() {
		out.ask(finding.AskDate)
	}
	return out
}
