package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// The directive behind these (89/459/EEC) binds States, not drivers: each book
// is the country's own law.

var euDE = Book{
	ID: "eu-de", Version: 2, Country: "DE",
	Title: "Germany (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   Scope{Text: "all motor vehicles and trailers, but small motorcycles and mopeds"},
			Authority: finding.LawInUse, Citation: "StVZO § 36 Abs. 2", Known: finding.Read,
			Says: "At least 1.6 mm round the whole tire in the main grooves of about the central three-quarters of the tread.",
		},
		{
			ID: "winter-advice", Subject: WinterAdvised, Value: tread(4),
			Applies:   Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "winter tires of cars"},
			Winter:    &Winter{Trigger: InConditions},
			Authority: finding.CommonPractice, Citation: "German police advice on winter tires, as reported", Known: finding.Reported,
			Says: "Police advise 4 mm on winter tires; the law has no number of its own for winter. Which mark it asks for in wintry conditions was not read: ask.",
		},
	},
}

var euAT = Book{
	ID: "eu-at", Version: 2, Country: "AT",
	Title: "Austria (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   Scope{RatingUpTo: thirtyFiveHundredKilograms, Text: "vehicles faster than 25 km/h, up to 3,500 kg"},
			Authority: finding.LawInUse, Citation: "KDV § 4 Abs. 4", Known: finding.Read,
			Says: "At least 1.6 mm in about the central three-quarters of the tread, round the whole circumference.",
		},
		{
			ID: "heavy-depth", Subject: TreadDepth, Value: tread(2), Where: CentralThreeQuarters,
			Applies:   Scope{RatingOver: thirtyFiveHundredKilograms, Text: "vehicles faster than 25 km/h, over 3,500 kg"},
			Authority: finding.LawInUse, Citation: "KDV § 4 Abs. 4", Known: finding.Read,
			Says: "At least 2 mm in about the central three-quarters of the tread, round the whole circumference.",
		},
		{
			ID: "winter-depth", Subject: WinterTire, Value: tread(4),
			Applies:   Scope{RatingUpTo: thirtyFiveHundredKilograms, Text: "winter tires, M+S all-season and studded tires among them, up to 3,500 kg"},
			Winter:    austrianWinter,
			Authority: finding.LawInUse, Citation: "KDV § 4 Abs. 4", Known: finding.Read,
			Says: "A radial winter tire has at least 4 mm; below that it does not count as one. From November 1 to April 15 (dates as reported) on snow, slush or ice. For cross-ply tires a government page prints 4 mm too, where 5 mm is remembered; 4 mm is followed.",
		},
		{
			ID: "heavy-winter-depth", Subject: WinterTire, Value: tread(5),
			Applies:   Scope{RatingOver: thirtyFiveHundredKilograms, Text: "winter tires, over 3,500 kg"},
			Winter:    austrianWinter,
			Authority: finding.LawInUse, Citation: "KDV § 4 Abs. 4", Known: finding.Read,
			Says: "A radial winter tire has at least 5 mm; below that it does not count as one.",
		},
		{
			ID: "heavy-winter-cross-ply", Subject: WinterTire, Value: tread(6),
			Applies:   Scope{RatingOver: thirtyFiveHundredKilograms, CrossPly: true, Text: "cross-ply winter tires, over 3,500 kg"},
			Winter:    austrianWinter,
			Authority: finding.LawInUse, Citation: "KDV § 4 Abs. 4", Known: finding.Read,
			Says: "A cross-ply winter tire has at least 6 mm; below that it does not count as one.",
		},
	},
}

// austrianWinter asks for winter tires by date and road together.
var austrianWinter = &Winter{Trigger: InSeasonAndConditions, From: Day{11, 1}, Until: Day{4, 15}, Required: true}

const frenchOrder = "French order on tires in use, applying Directive 89/459/EEC"

var euFR = Book{
	ID: "eu-fr", Version: 2, Country: "FR",
	Binds: Binds{AnyRating: []layout.Class{layout.PassengerCar, layout.Bus}}, // their class alone leads to a limit
	Title: "France (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies: Scope{
				Classes:    []layout.Class{layout.PassengerCar, layout.LightTruck, layout.Heavy, layout.Trailer, layout.Motorhome},
				RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar},
				Text: "categories M1, N1, O1 and O2 (cars; goods vehicles and trailers up to 3,500 kg)"},
			Authority: finding.LawInUse, Citation: frenchOrder, Known: finding.Read,
			Says: "At least 1.6 mm in the main grooves. That these lie in about the central three-quarters is from the directive, as remembered.",
		},
		{
			ID: "heavy-depth", Subject: TreadDepth, Value: tread(1), Where: FourPointsOneMayFail,
			Applies: Scope{
				Classes:    []layout.Class{layout.LightTruck, layout.Heavy, layout.Bus, layout.Trailer, layout.Motorhome},
				RatingOver: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.Bus},
				Text: "other categories (buses; goods vehicles and trailers over 3,500 kg)"},
			Authority: finding.LawInUse, Citation: frenchOrder, Known: finding.Read,
			Says: "Of four points equally spaced round the tire, no more than one may show less than 1 mm.",
		},
		{
			ID: "axle-difference", Subject: DepthDifference, Value: tread(5),
			Applies:   Scope{Text: "the two tires of one axle"},
			Authority: finding.LawInUse, Citation: frenchOrder, Known: finding.Read,
			Says: "Main-groove depths of the two tires of one axle differ by no more than 5 mm.",
		},
		{
			ID: "winter-depth", Subject: WinterTire, Value: tread(3.5),
			Applies:   Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "winter tires of cars, where a sign calls for them"},
			Winter:    &Winter{Trigger: OnSignedRoads},
			Authority: finding.LawInUse, Citation: "French order on winter equipment, as reported by a magazine", Known: finding.Reported,
			Says: "At least 3.5 mm where winter tires are called for. Weakly sourced: ask before relying on it.",
		},
	},
}
