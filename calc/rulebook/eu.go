package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// smallVehicles are what Directive 89/459/EEC speaks of.
var smallVehicles = Scope{
	Classes:    []layout.Class{layout.PassengerCar, layout.LightTruck, layout.Heavy, layout.Trailer, layout.Motorhome},
	RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar},
	Text: "categories M1, N1, O1 and O2 (cars; goods vehicles and trailers up to 3,500 kg)",
}

// euFloor stands in for the law of a member State whose own was not read. It binds
// States, not drivers.
var euFloor = Book{
	ID: "eu", Version: 1, Country: union, Floor: true,
	Title: "European Union, common minimum (model standard)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   smallVehicles,
			Authority: finding.ModelStandard, Citation: "Directive 89/459/EEC, as reported", Known: finding.Reported,
			Says: "At least 1.6 mm in the main grooves, the wide ones of about the central three-quarters of the tread. It binds member States, and national law may ask for more. The number is that of the Spanish, Italian, Slovak and Portuguese texts that carry it over; its own first article was not read.",
		},
	},
}
