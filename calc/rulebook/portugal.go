package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

const (
	portugueseRules = "Decreto-Lei 2/98, decreto regulamentar, art. 6"
	portugueseCopy  = "reprint of the decree, which shows no number of it"
)

var euPT = Book{
	ID: "eu-pt", Version: 1, Country: "PT",
	Title: "Portugal (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   smallVehicles,
			Authority: finding.LawInUse, Citation: portugueseRules, Known: finding.Read,
			Text: Text{By: Reprint, Copy: portugueseCopy, Words: "desenhos com uma altura de, pelo menos, 1,6 mm nos relevos principais"},
			Says: "At least 1.6 mm in the main grooves, the wide ones of about the central three-quarters, all round. It holds for the spare too where one is required; a spare that is not in use is not judged here.",
		},
		{
			ID: "heavy-depth", Subject: TreadDepth, Value: tread(1), Where: CentralThreeQuarters,
			Applies: Scope{
				Classes:    []layout.Class{layout.LightTruck, layout.Heavy, layout.Bus, layout.Trailer, layout.Motorhome},
				RatingOver: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.Bus},
				Text: "all other vehicles (buses; goods vehicles and trailers over 3,500 kg)"},
			Authority: finding.LawInUse, Citation: portugueseRules, Known: finding.Read,
			Text: Text{By: Reprint, Copy: portugueseCopy},
			Says: "At least 1 mm in the main grooves, the wide ones of about the central three-quarters, all round.",
		},
	},
	Binds: Binds{AnyRating: []layout.Class{layout.PassengerCar, layout.Bus}},
}
