package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

const (
	czechDecree = "Vyhláška 153/2023, E"
	czechAct    = "Zákon 361/2000 § 40a"
	czechCopy   = "as kept on 2026-05-29"
)

var czechWinter = &Winter{Trigger: InSeasonAndConditions, From: Day{11, 1}, Until: Day{3, 31}, Mark: MudAndSnowAlone, Required: true, SparesSpare: true}

var euCZ = Book{
	ID: "eu-cz", Version: 2, Country: "CZ",
	Title: "Czech Republic (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "all vehicles but mopeds"},
			Authority: finding.LawInUse, Citation: czechDecree + ", 5", Known: finding.Read,
			Text: Text{Copy: czechCopy, Words: "u mopedů nejméně 1,0 mm a u vozidel ostatních kategorií nejméně 1,6 mm"},
			Says: "At least 1.6 mm round and across in the main grooves: those that have wear indicators.",
		},
		{
			ID: "winter-depth", Subject: WinterTire, Value: tread(4),
			Applies:   Scope{Classes: powered, RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "all wheels of motor vehicles up to 3,500 kg"},
			Winter:    czechWinter,
			Authority: finding.LawInUse, Citation: czechAct, Known: finding.Read,
			Text: Text{Copy: czechCopy, Words: "hloubku dezénu hlavních dezénových drážek nebo zářezů nejméně 4 mm"},
			Says: "From November 1 to March 31, with snow, ice or frost on the road or to be expected, winter tires of at least 4 mm on all wheels; where the sign for it stands, whatever date and weather. Not for a spare that is used after a puncture.",
		},
		{
			ID: "heavy-winter-depth", Subject: WinterTire, Value: tread(6),
			Applies:   Scope{Wheels: DrivenWheels, Classes: powered, RatingOver: thirtyFiveHundredKilograms, Text: "wheels of axles with permanent drive, over 3,500 kg"},
			Winter:    czechWinter,
			Authority: finding.LawInUse, Citation: czechAct, Known: finding.Read,
			Text: Text{Copy: czechCopy, Words: "převyšující 3 500 kg nejméně 6 mm"},
			Says: "From November 1 to March 31, with snow, ice or frost on the road or to be expected, winter tires of at least 6 mm on all wheels of permanently driven axles.",
		},
		{
			ID: "bus-retread", Subject: RetreadOnFront,
			Applies:   Scope{Wheels: FrontWheels, Classes: []layout.Class{layout.Bus}, Text: "front wheels of buses of classes II and III"},
			Authority: finding.LawInUse, Citation: czechDecree + ", 9", Known: finding.Read,
			Text: Text{Copy: czechCopy},
			Says: "No retreads on the front axle of buses of classes II and III.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "every tire"},
			Authority: finding.LawInUse, Citation: czechDecree + ", 5", Known: finding.Read,
			Text: Text{Copy: czechCopy},
			Says: "No cracks that bare or harm the carcass.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{Text: "every axle"},
			Authority: finding.LawInUse, Citation: czechDecree + ", 6", Known: finding.Read,
			Text: Text{Copy: czechCopy},
			Says: "Tires of one axle are alike in size, construction, kind of tread and brand. An emergency run-on is spared.",
		},
		{
			ID: "pair-diameter", Subject: PairDiameter, Value: percent(1.5),
			Applies:   Scope{Text: "dual pairs"},
			Authority: finding.LawInUse, Citation: czechDecree + ", 13", Known: finding.Read,
			Text: Text{Copy: czechCopy, Words: "nesmí být větší než 1,5 % vnějšího průměru"},
			Says: "Outer diameters of a dual pair within 1.5 percent; of the larger is taken.",
		},
		{
			ID: "axle-diameter", Subject: AxleDiameter, Value: percent(1.5),
			Applies:   Scope{Text: "the two tires of one axle"},
			Authority: finding.LawInUse, Citation: czechDecree + ", 13", Known: finding.Read,
			Text: Text{Copy: czechCopy, Words: "nesmí být větší než 1,5 % vnějšího průměru"},
			Says: "Outer diameters of the tires of one axle within 1.5 percent; of the larger is taken.",
		},
		{
			ID: "studs", Subject: Studs,
			Applies:   Scope{Text: "every tire"},
			Authority: finding.LawInUse, Citation: czechDecree + ", 11", Known: finding.Read,
			Text: Text{Copy: czechCopy},
			Says: "No studded tires.",
		},
	},
}
