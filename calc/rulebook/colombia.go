package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// co is what is told of Colombia.
var co = Book{
	ID: "co", Version: 1, Country: "CO",
	Title: "Colombia (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "vehicles up to 3,500 kg"},
			Authority: finding.LawInUse, Citation: "Ley 769/2002 art. 28, NTC 5375, as reported", Known: finding.Reported,
			Says: "At least 1.6 mm where the tread is worn most, or the wear marks, by the inspection standard as the press and an inspection station tell it. Heavier vehicles have a figure of their own, which was not read.",
		},
	},
}
