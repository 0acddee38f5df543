package rulebook

import "gaugebook.dev/calc/finding"

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
