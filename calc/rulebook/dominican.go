package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

const dominicanResolution = "Intrant, resolución 002-2019, as reported"

// dominican has the one age limit of cars among the laws that are told of here.
var dominican = Book{
	ID: "do", Version: 1, Country: "DO",
	Title: "Dominican Republic (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "light vehicles (up to 3,500 kg, from memory)"},
			Authority: finding.LawInUse, Citation: dominicanResolution, Known: finding.Reported,
			Says: "At least 1.6 mm on light vehicles, by a news page.",
		},
		{
			ID: "heavy-depth", Subject: TreadDepth, Value: tread(2.5), Where: AnyPointMajorGroove,
			Applies:   over3500(AllWheels, "heavy vehicles (over 3,500 kg, from memory)"),
			Authority: finding.LawInUse, Citation: dominicanResolution, Known: finding.Reported,
			Says: "At least 2.5 mm on heavy vehicles, by a news page.",
		},
		{
			ID: "age", Subject: TireAge, Value: unit.Amount{Number: 4, Unit: unit.Years},
			Applies:   Scope{Text: "every tire"},
			Authority: finding.LawInUse, Citation: dominicanResolution, Known: finding.Reported,
			Says: "A tire is expired four years after the date of its making, by a news page.",
		},
	},
}
