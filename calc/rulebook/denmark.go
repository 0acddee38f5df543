package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

const danishRules = "Danish detail regulations on vehicles, as reported"

var euDK = Book{
	ID: "eu-dk", Version: 1, Country: "DK",
	Title: "Denmark (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "cars and vans"},
			Authority: finding.LawInUse, Citation: danishRules, Known: finding.Reported,
			Says: "At least 1.6 mm in the middle three-quarters of the tread. By motoring pages; the regulations were not read.",
		},
		{
			ID: "heavy-depth", Subject: TreadDepth, Value: tread(1), Where: CentralThreeQuarters,
			Applies:   over3500(AllWheels, "vehicles over 3,500 kg"),
			Authority: finding.LawInUse, Citation: danishRules, Known: finding.Reported,
			Says: "At least 1 mm on vehicles over 3,500 kg. By motoring pages; the regulations were not read.",
		},
	},
}
