package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

const (
	slovakDecree = "Vyhláška 134/2018 § 14"
	slovakCopy   = "in force from 2025-01-01, as kept on 2026-06-23"
)

var euSK = Book{
	ID: "eu-sk", Version: 3, Country: "SK",
	Title: "Slovakia (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   Scope{Text: "all categories but mopeds"},
			Authority: finding.LawInUse, Citation: slovakDecree + "(10), (11)", Known: finding.Read,
			Text: Text{Copy: slovakCopy, Words: "1,6 mm na vozidlách ostatných kategórií"},
			Says: "At least 1.6 mm in the main grooves: the wide ones of about the central three-quarters of the tread.",
		},
		{
			ID: "winter-depth", Subject: WinterTire, Value: tread(3),
			Applies:   Scope{Classes: powered, RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "all axles of cars and goods vehicles up to 3,500 kg"},
			Winter:    &Winter{Trigger: InConditions, Mark: MudAndSnowAlone, Required: true, SparesSpare: true},
			Authority: finding.LawInUse, Citation: slovakDecree + "(10), (11); Zákon 8/2009 § 38(1)-(3)", Known: finding.Read,
			Text: Text{Copy: slovakCopy, Words: "3 mm, ak osobitný predpis ... ustanovuje povinnosť použiť ... zimnými pneumatikami"},
			Says: "On continuous snow, ice or frost, and where they are to be expected, tires marked M+S, M.S. or M & S with at least 3 mm on all axles. Not for a spare that is used after a puncture.",
		},
		{
			ID: "heavy-winter-depth", Subject: WinterTire, Value: tread(3),
			Applies:   Scope{Wheels: DrivenWheels, Classes: powered, RatingOver: thirtyFiveHundredKilograms, Text: "at least one driven axle of buses and goods vehicles over 3,500 kg"},
			Winter:    &Winter{Trigger: InSeasonAndConditions, From: Day{11, 15}, Until: Day{3, 31}, Mark: MudAndSnowAlone, Required: true, SparesSpare: true},
			Authority: finding.LawInUse, Citation: slovakDecree + "(10), (11); Zákon 8/2009 § 38(1)-(3)", Known: finding.Read,
			Text: Text{Copy: slovakCopy, Words: "v čase od 15. novembra do 31. marca"},
			Says: "From November 15 to March 31 on continuous snow, ice or frost tires marked M+S, M.S. or M & S with at least 3 mm on one driven axle; there is no higher figure for heavy vehicles.",
		},
		{
			ID: "regrooved", Subject: Regrooved,
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "cars"},
			Authority: finding.LawInUse, Citation: slovakDecree + "(18)", Known: finding.Read,
			Text: Text{Copy: slovakCopy},
			Says: "No regrooved tires on cars.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "every tire"},
			Authority: finding.LawInUse, Citation: slovakDecree + "(10), (11)", Known: finding.Read,
			Text: Text{Copy: slovakCopy},
			Says: "No cracks or damage that bare or harm the cord.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{Text: "every axle"},
			Authority: finding.LawInUse, Citation: slovakDecree + "(5)", Known: finding.Read,
			Text: Text{Copy: slovakCopy},
			Says: "Tires of one axle are alike in size, construction, use category, maker, load index, speed and section. A spare or run-on tire after a puncture is spared.",
		},
		{
			ID: "pair-diameter", Subject: PairDiameter, Value: percent(1.5),
			Applies:   Scope{Text: "dual pairs, unloaded"},
			Authority: finding.LawInUse, Citation: slovakDecree + "(5), (12)", Known: finding.Read,
			Text: Text{Copy: slovakCopy, Words: "nemôže byť väčší ako 1,5 % vonkajšieho priemeru"},
			Says: "Outer diameters of a dual pair within 1.5 percent of the diameter; that of the larger is taken.",
		},
		{
			ID: "axle-diameter", Subject: AxleDiameter, Value: percent(1.5),
			Applies:   Scope{Text: "the two tires of one axle, unloaded"},
			Authority: finding.LawInUse, Citation: slovakDecree + "(5), (12)", Known: finding.Read,
			Text: Text{Copy: slovakCopy, Words: "nemôže byť väčší ako 1,5 % vonkajšieho priemeru"},
			Says: "Outer diameters of the tires of one axle within 1.5 percent of the diameter; that of the larger is taken.",
		},
		{
			ID: "towing-pressure", Subject: TowingPressure, Value: kPa(20),
			Applies:   Scope{Wheels: OtherWheels, Classes: notHeavy, RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "rear wheels of cars and goods vehicles up to 3,500 kg that tow"},
			Authority: finding.LawInUse, Citation: slovakDecree + "(17)", Known: finding.Read,
			Text: Text{Copy: slovakCopy, Words: "najmenej o 20 kPa (0,2 bar) nad odporúčanú hodnotu tlaku pneumatiky"},
			Says: "When towing, rear tires at least 20 kPa (0.2 bar) above the recommended pressure, unless the vehicle's maker says otherwise.",
		},
		{
			ID: "studs", Subject: Studs,
			Applies:   Scope{Text: "every tire, but on rescue vehicles"},
			Authority: finding.LawInUse, Citation: slovakDecree + "(19)", Known: finding.Read,
			Text: Text{Copy: slovakCopy},
			Says: "No studded tires, but on vehicles of rescue services.",
		},
	},
}
