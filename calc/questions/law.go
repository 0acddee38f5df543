package questions

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/rulebook"
	"gaugebook.dev/calc/unit"
	"gaugebook.dev/calc/visit"
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
	in.Use.On = in.AsOf
	books, open := rulebook.Choose(in.Vehicle, in.Use, in.Books)
	books = rulebook.WithOwn(books, in.Own)
	out.Vehicle, out.Books = in.Vehicle, books
	for _, q := range open {
		out.ask(q)
	}
	if slices.ContainsFunc(books, in.modelAlone) {
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

// modelAlone tells of a model for States of a country of which a place was told, and no
// State.
func (in LawIn) modelAlone(b rulebook.Applied) bool {
	of := func(p rulebook.Place) bool { return p.Country == b.Country }
	return b.Binds.Model && slices.ContainsFunc(in.Use.Places, of) &&
		!slices.ContainsFunc(in.Use.Places, func(p rulebook.Place) bool { return of(p) && p.State != "" })
}

// told tells what of the law of each place is not known.
func (out *LawAnswer) told(in LawIn) {
	if len(in.Books) > 0 {
		return
	}
	several := len(in.Use.Places) > 1
	for _, p := range in.Use.Places {
		use, of := in.Use, ""
		use.Places = []rulebook.Place{p}
		books := out.Books
		if several {
			of = p.String()
			books, _ = rulebook.Choose(in.Vehicle, use, nil)
		}
		if code := out.unread(books); code != "" {
			out.NotJudged = append(out.NotJudged, visit.NotJudged{Code: code, Of: of})
		}
	}
}

// unread is what of the law of a place was not read, by the books chosen for it; "" for
// nothing that matters here.
func (out *LawAnswer) unread(books []rulebook.Applied) finding.Recorded {
	has := func(match func(rulebook.Applied) bool) bool { return slices.ContainsFunc(books, match) }
	switch {
	case !has(func(b rulebook.Applied) bool { return b.ID != "" }):
		return finding.RecordedLawCountryNotKnown
	case has(func(b rulebook.Applied) bool { return b.Floor }):
		return finding.RecordedLawCommonMinimum // of its own law the rules on winter tires at most
	case !has(out.hasDepth):
		return finding.RecordedLawDepthNotRead
	}
	return ""
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
