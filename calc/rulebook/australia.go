package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

const (
	westernRules = "Road Traffic (Vehicles) Regulations 2014 (WA), reg. 270(2)"
	westernCopy  = "consolidated regulations, undated"
)

var (
	westernText      = Text{Copy: westernCopy, Words: "must have a tread pattern at least 1.5 mm deep in all principal grooves on the tyre in a band that runs continuously"}
	fortyFiveHundred = unit.MustMass(4500, unit.Kilograms)
)

var auWA = Book{
	ID: "au-wa", Version: 2, Country: "AU",
	Binds: Binds{State: "WA", AnyRating: []layout.Class{layout.PassengerCar}},
	Title: "Western Australia (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.5), Where: AnyPointMajorGroove,
			Applies:   Scope{RatingUpTo: fortyFiveHundred, AnyRating: []layout.Class{layout.PassengerCar}, Text: "light vehicles and trailers (up to 4,500 kg, from memory)"},
			Authority: finding.LawInUse, Citation: westernRules, Known: finding.Read, Text: westernText,
			Says: "At least 1.5 mm in all principal grooves, those that have wear indicators, over the whole breadth that touches the road and all round, away from the indicators.",
		},
		{
			ID: "heavy-depth", Subject: TreadDepth, Value: tread(1.5), Where: AnyThreeQuarters,
			Applies:   Scope{RatingOver: fortyFiveHundred, Text: "heavy vehicles and trailers (over 4,500 kg, from memory)"},
			Authority: finding.LawInUse, Citation: westernRules, Known: finding.Read, Text: westernText,
			Says: "At least 1.5 mm in all principal grooves, those that have wear indicators, over at least 75 percent of the breadth that touches the road and all round, away from the indicators.",
		},
		{
			ID: "regrooved", Subject: Regrooved,
			Applies:   Scope{Text: "every tire that was not made for it"},
			Authority: finding.LawInUse, Citation: "Road Traffic (Vehicles) Regulations 2014 (WA), reg. 270(3)", Known: finding.Read,
			Text: Text{Copy: westernCopy},
			Says: "Regrooved only tires that were made for it.",
		},
	},
}
