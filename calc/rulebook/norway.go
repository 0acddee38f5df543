package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

const (
	norwegianRule = "Forskrift om bruk av kjøretøy § 1-4, as reported"
	norwegianSays = "In the winter season every tire, a summer tire too, has at least "
)

var (
	norwegianText = Text{By: Agency, Copy: "road agency's pages on tires, undated", Words: "På vintertid ... er det krav om å ha minimum 3 millimeter mønsterdybde"}

	seventyFiveHundredKilograms = unit.MustMass(7500, unit.Kilograms)
)

var no = Book{
	ID: "no", Version: 1, Country: "NO",
	Title: "Norway (law in use, as reported)",
	Limits: append([]Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "motor vehicles faster than 30 km/h and trailers"},
			Authority: finding.LawInUse, Citation: norwegianRule, Known: finding.Reported, Text: Text{By: Agency, Copy: norwegianText.Copy},
			Says: "At least 1.6 mm on summer tires outside of the winter season.",
		},
		{
			ID: "heavy-winter", Subject: WinterTire,
			Applies: Scope{Classes: []layout.Class{layout.LightTruck, layout.Heavy, layout.Bus, layout.Trailer}, RatingOver: thirtyFiveHundredKilograms,
				Text: "vehicles and trailers over 3,500 kg, but motorhomes up to 7,500 kg"},
			Winter:    &Winter{Trigger: InSeason, From: Day{11, 15}, Until: Day{3, 31}, Required: true},
			Authority: finding.LawInUse, Citation: norwegianRule, Known: finding.Reported,
			Text: Text{By: Agency, Copy: norwegianText.Copy, Words: "påbudt med vinterdekk i perioden 15. november til 31. mars"},
			Says: "Winter tires from November 15 to March 31: the mountain with the snowflake or M+S. Reports ask for the mountain on drive and front steer axles since 2020 or 2021.",
		},
	}, norwegianSeason(&Winter{Trigger: InSeason, From: Day{11, 1}, AfterEaster: 7})...),
}

// noNorth is the longer winter season of the northern counties, beside the law of the
// whole country.
var noNorth = Book{
	ID: "no-north", Version: 1, Country: "NO",
	Binds:  Binds{State: "18", Also: []string{"55", "56"}}, // Nordland, Troms, Finnmark
	Title:  "Norway, northern counties (law in use, as reported)",
	Limits: norwegianSeason(&Winter{Trigger: InSeason, From: Day{10, 16}, Until: Day{4, 30}}),
}

// norwegianSeason are the depths of the winter season: from November 1 to the first Sunday
// after Easter Monday, in the north from October 16 to April 30.
func norwegianSeason(w *Winter) []Limit {
	season := func(id string, mm float64, of Scope, says string) Limit {
		return Limit{
			ID: id, Subject: TreadDepth, Value: tread(mm), Where: AnyPointMajorGroove, Applies: of, Winter: w,
			Authority: finding.LawInUse, Citation: norwegianRule, Known: finding.Reported, Text: norwegianText, Says: norwegianSays + says,
		}
	}
	return []Limit{
		season("winter-depth", 3, upTo3500("every tire, up to 3,500 kg"), "3 mm."),
		season("heavy-winter-depth", 5, Scope{
			Classes: []layout.Class{layout.LightTruck, layout.Heavy, layout.Bus, layout.Trailer}, RatingOver: thirtyFiveHundredKilograms,
			Text: "every tire, over 3,500 kg"}, "5 mm."),
		season("motorhome-winter-depth", 3, Scope{
			Classes: []layout.Class{layout.Motorhome}, RatingOver: thirtyFiveHundredKilograms, RatingUpTo: seventyFiveHundredKilograms,
			Text: "every tire of motorhomes over 3,500 kg, up to 7,500 kg"}, "3 mm; of motorhomes up to 7,500 kg as well."),
		season("heavy-motorhome-winter-depth", 5, Scope{
			Classes: []layout.Class{layout.Motorhome}, RatingOver: seventyFiveHundredKilograms,
			Text: "every tire of motorhomes over 7,500 kg"}, "5 mm."),
	}
}
