package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

const lithuanianRules = "KET 230, technical requirements, as reported"

var (
	fiveThousandKilograms = unit.MustMass(5000, unit.Kilograms)

	euLT = Book{
		ID: "eu-lt", Version: 1, Country: "LT",
		Binds: Binds{AnyRating: []layout.Class{layout.Bus}},
		Title: "Lithuania (law in use, as reported)",
		Limits: []Limit{
			{
				ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
				Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "category M1 (cars)"},
				Authority: finding.LawInUse, Citation: lithuanianRules, Known: finding.Reported,
				Says: "At least 1.6 mm on cars. By police texts in the press; where on the tread is not told.",
			},
			{
				ID: "bus-depth", Subject: TreadDepth, Value: tread(2), Where: AnyPointMajorGroove,
				Applies:   Scope{Classes: []layout.Class{layout.Bus}, Text: "categories M2 and M3 (buses)"},
				Authority: finding.LawInUse, Citation: lithuanianRules, Known: finding.Reported,
				Says: "At least 2 mm on buses. By police texts in the press.",
			},
			{
				ID: "heavy-depth", Subject: TreadDepth, Value: tread(1), Where: AnyPointMajorGroove,
				Applies: Scope{Classes: []layout.Class{layout.LightTruck, layout.Heavy, layout.Trailer}, RatingOver: thirtyFiveHundredKilograms,
					Text: "categories N2, N3, O3 and O4 (goods vehicles and trailers over 3,500 kg)"},
				Authority: finding.LawInUse, Citation: lithuanianRules, Known: finding.Reported,
				Says: "At least 1 mm on goods vehicles and trailers over 3,500 kg, by a table for hauliers.",
			},
			{
				ID: "winter-depth", Subject: WinterTire, Value: tread(3),
				Applies: Scope{Classes: []layout.Class{layout.PassengerCar, layout.Bus}, RatingUpTo: fiveThousandKilograms,
					Text: "categories M1 and M2 (cars; buses up to 5,000 kg)"},
				Winter:    &Winter{Trigger: InSeason, From: Day{11, 10}, Until: Day{3, 31}, Required: true},
				Authority: finding.LawInUse, Citation: lithuanianRules, Known: finding.Reported,
				Says: "From November 10 to March 31 no summer tires: the mountain with the snowflake or M+S, with at least 3 mm. That all-season tires count is from an older report.",
			},
		},
	}
)
