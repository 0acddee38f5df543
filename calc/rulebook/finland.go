package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

const (
	finnishAct  = "Tieliikennelaki 729/2018, "
	finnishCopy = "consolidated to 2026-01-01"
)

var finnishWinter = &Winter{Trigger: InSeasonAndConditions, From: Day{11, 1}, Until: Day{3, 31}, Required: true, SparesSpare: true}

var euFI = Book{
	ID: "eu-fi", Version: 2, Country: "FI",
	Title: "Finland (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "motor vehicles and trailers"},
			Authority: finding.LawInUse, Citation: finnishAct + "104 §", Known: finding.Read,
			Text: Text{Copy: finnishCopy, Words: "pääurien syvyyden tulee olla vähintään 1,6 millimetriä"},
			Says: "At least 1.6 mm in the main grooves. Not where the highest speed allowed is 40 km/h or less.",
		},
		{
			ID: "winter-depth", Subject: WinterTire, Value: tread(3),
			Applies:   Scope{Classes: powered, RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "cars, special cars and vans up to 3,500 kg"},
			Winter:    finnishWinter,
			Authority: finding.LawInUse, Citation: finnishAct + "105 §", Known: finding.Read,
			Text: Text{Copy: finnishCopy, Words: "talvirenkaita, joiden kulutuspinnan pääurien syvyys on vähintään 3,0 millimetriä"},
			Says: "From November to March, if weather or road calls for it, winter tires of at least 3.0 mm in the main grooves. Not for a spare after a puncture, nor for a drive of up to 20 km to be mended or inspected.",
		},
		{
			ID: "trailer-winter-depth", Subject: WinterTire, Value: tread(3),
			Applies:   Scope{Classes: []layout.Class{layout.Trailer}, RatingOver: unit.MustMass(750, unit.Kilograms), RatingUpTo: thirtyFiveHundredKilograms, Text: "their trailers over 750 kg, up to 3,500 kg"},
			Winter:    finnishWinter,
			Authority: finding.LawInUse, Citation: finnishAct + "105 §", Known: finding.Read,
			Text: Text{Copy: finnishCopy, Words: "talvirenkaita, joiden kulutuspinnan pääurien syvyys on vähintään 3,0 millimetriä"},
			Says: "From November to March, if weather or road calls for it, winter tires of at least 3.0 mm in the main grooves.",
		},
		{
			ID: "heavy-winter-depth", Subject: WinterTire, Value: tread(5),
			Applies:   over3500(DrivenNotSteered, "driven axles that are not steered, over 3,500 kg"),
			Winter:    finnishWinter,
			Authority: finding.LawInUse, Citation: finnishAct + "105 §", Known: finding.Read,
			Text: Text{Copy: finnishCopy, Words: "talvirenkaita, joiden kulutuspinnan pääurien syvyys on vähintään 5,0 millimetriä"},
			Says: "From November to March, if weather or road calls for it, winter tires of at least 5.0 mm on driven axles.",
		},
		{
			ID: "heavy-other-depth", Subject: TreadDepth, Value: tread(3), Where: AnyPointMajorGroove,
			Applies:   over3500(NotDrivenOrSteered, "all other axles, trailers' among them, over 3,500 kg"),
			Winter:    finnishWinter,
			Authority: finding.LawInUse, Citation: finnishAct + "105 §", Known: finding.Read,
			Text: Text{Copy: finnishCopy},
			Says: "From November to March, if weather or road calls for it, at least 3.0 mm on any tire of the other axles.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{Text: "every axle"},
			Authority: finding.LawInUse, Citation: finnishAct + "104 §", Known: finding.Read,
			Text: Text{Copy: finnishCopy, Words: "renkaiden on oltava mitoiltaan, rakenteeltaan ja ominaisuuksiltaan samanlaiset"},
			Says: "Tires of one axle are alike in size, construction and properties. Not with a spare after a puncture.",
		},
		{
			ID: "studs", Subject: Studs,
			Applies:   Scope{Text: "every tire"},
			Winter:    &Winter{Trigger: InSeasonOrConditions, From: Day{11, 1}, Until: Day{3, 31}},
			Authority: finding.LawInUse, Citation: finnishAct + "106 §", Known: finding.Read,
			Text: Text{Copy: finnishCopy},
			Says: "Studded tires from November to the end of March, at other times where the weather calls for them; on a car or van on all wheels.",
		},
	},
}
