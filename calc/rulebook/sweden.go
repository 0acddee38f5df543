package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

const (
	swedishOrdinance = "Trafikförordning 1998:1276, 4 kap. "
	swedishCopy      = "as kept on 2026-04-27"
	swedishRules     = "Swedish transport agency's rules, as reported"
)

var euSE = Book{
	ID: "eu-se", Version: 1, Country: "SE",
	Title: "Sweden (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "all vehicles"},
			Authority: finding.LawInUse, Citation: swedishRules, Known: finding.Reported,
			Says: "At least 1.6 mm. The agency's rules were not read: motoring and trade pages agree.",
		},
		{
			ID: "winter", Subject: WinterTire,
			Applies:   upTo3500("cars, light trucks, light buses and their trailers"),
			Winter:    &Winter{Trigger: InSeasonAndConditions, From: Day{12, 1}, Until: Day{3, 31}, Required: true},
			Authority: finding.LawInUse, Citation: swedishOrdinance + "18 a §", Known: finding.Read,
			Text: Text{Copy: swedishCopy, Words: "vara försedda med vinterdäck eller likvärdig utrustning när vinterväglag råder"},
			Says: "From December 1 to March 31, with winter conditions on the road, winter tires or the like of them. Which mark makes one was not read: by reports the mountain with the snowflake, or studs, since December 1, 2024.",
		},
		{
			ID: "heavy-winter", Subject: WinterTire,
			Applies:   over3500(AllWheels, "heavy trucks, heavy buses and their trailers"),
			Winter:    &Winter{Trigger: InSeason, From: Day{11, 10}, Until: Day{4, 10}, Required: true},
			Authority: finding.LawInUse, Citation: swedishOrdinance + "18 b §", Known: finding.Read,
			Text: Text{Copy: swedishCopy, Words: "under perioden den 10 november-10 april"},
			Says: "From November 10 to April 10 winter tires or the like of them, whatever the road.",
		},
		{
			ID: "winter-depth", Subject: WinterTire, Value: tread(3),
			Applies:   Scope{Classes: powered, RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "winter tires of vehicles up to 3,500 kg"},
			Winter:    &Winter{Trigger: InSeasonAndConditions, From: Day{12, 1}, Until: Day{3, 31}},
			Authority: finding.LawInUse, Citation: swedishRules, Known: finding.Reported,
			Says: "At least 3 mm on winter tires. The agency's rules were not read: motoring and trade pages agree.",
		},
		{
			ID: "heavy-winter-depth", Subject: WinterTire, Value: tread(5),
			Applies:   Scope{Classes: powered, RatingOver: thirtyFiveHundredKilograms, Text: "winter tires of vehicles over 3,500 kg, not of trailers"},
			Winter:    &Winter{Trigger: InSeason, From: Day{11, 10}, Until: Day{4, 10}},
			Authority: finding.LawInUse, Citation: swedishRules, Known: finding.Reported,
			Says: "At least 5 mm on winter tires of heavy vehicles. The agency's rules were not read: motoring and trade pages agree.",
		},
	},
}
