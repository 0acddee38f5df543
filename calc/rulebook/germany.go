package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

const germanCopy = "federal laws as kept on 2022-03-26"

var euDE = Book{
	ID: "eu-de", Version: 4, Country: "DE",
	Title: "Germany (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   Scope{Text: "all motor vehicles and trailers, but small motorcycles and mopeds"},
			Authority: finding.LawInUse, Citation: "StVZO § 36 Abs. 3", Known: finding.Read,
			Text: Text{Copy: germanCopy, Words: "Das Hauptprofil muss am ganzen Umfang eine Profiltiefe von mindestens 1,6 mm aufweisen"},
			Says: "At least 1.6 mm round the whole tire in the main grooves: the wide ones of about the central three-quarters of the tread.",
		},
		{
			ID: "winter", Subject: WinterTire,
			Applies:   Scope{Classes: powered, RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "all wheels of motor vehicles up to 3,500 kg"},
			Winter:    germanWinter,
			Authority: finding.LawInUse, Citation: "StVO § 2 Abs. 3a", Known: finding.Read, Binds: finding.BindsDriver,
			Text: Text{Copy: germanCopy, Words: "nur fahren, wenn alle Räder mit Reifen ausgerüstet sind"},
			Says: "On glaze, packed snow, slush, ice or frost only with winter tires on all wheels, by the road and not by the date. A winter tire carries the mountain with the snowflake (StVZO § 36 Abs. 4); M+S alone counted to September 30, 2024, on tires made by the end of 2017. No depth of its own: 1.6 mm. Farm and some special vehicles are exempt.",
		},
		{
			ID: "heavy-winter", Subject: WinterTire,
			Applies:   Scope{Wheels: DrivenOrFront, Classes: powered, RatingOver: thirtyFiveHundredKilograms, Text: "driven and front steered axles of buses and goods vehicles over 3,500 kg"},
			Winter:    germanWinter,
			Authority: finding.LawInUse, Citation: "StVO § 2 Abs. 3a", Known: finding.Read, Binds: finding.BindsDriver,
			Text: Text{Copy: germanCopy, Words: "nur fahren, wenn alle Räder mit Reifen ausgerüstet sind"},
			Says: "On glaze, packed snow, slush, ice or frost winter tires on the permanently driven axles and the front steered ones.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{Text: "every axle"},
			Authority: finding.LawInUse, Citation: "StVZO § 36 Abs. 6", Known: finding.Read,
			Text: Text{Copy: germanCopy, Words: "dürfen die Räder einer Achse entweder nur mit Diagonal- oder nur mit Radialreifen ausgerüstet sein"},
			Says: "Bias or radial tires alone on one axle; on cars and vehicles up to 3,500 kg on the whole vehicle.",
		},
		{
			ID: "whole-construction", Subject: WholeVehicle,
			Applies:   Scope{Classes: powered, RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "cars, and motor vehicles up to 3,500 kg"},
			Authority: finding.LawInUse, Citation: "StVZO § 36 Abs. 6", Known: finding.Read,
			Text: Text{Copy: germanCopy},
			Says: "Bias or radial tires alone on the whole vehicle; of a combination each vehicle counts for itself.",
		},
		{
			ID: "winter-speed", Subject: SlowerTire, Shown: true,
			Applies:   Scope{Classes: powered, Text: "winter tires slower than the vehicle"},
			Winter:    &Winter{Mark: ThreePeaksAlone, MudAndSnowUntil: germanWinter.MudAndSnowUntil},
			Authority: finding.LawInUse, Citation: "StVZO § 36 Abs. 5", Known: finding.Read,
			Text: Text{Copy: germanCopy, Words: "im Blickfeld des Fahrzeugführers angegeben oder angezeigt wird"},
			Says: "Winter and off-road tires may be made for less than the vehicle's top speed where theirs is shown in the driver's view, and kept to.",
		},
		{
			ID: "winter-advice", Subject: WinterAdvised, Value: tread(4),
			Applies:   Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "winter tires of cars"},
			Winter:    &Winter{Trigger: InConditions},
			Authority: finding.CommonPractice, Citation: "German police advice on winter tires, as reported", Known: finding.Reported,
			Says: "Police advise 4 mm on winter tires; the law has no number of its own for winter.",
		},
	},
}

// germanWinter goes by the road alone.
var germanWinter = &Winter{Trigger: InConditions, Mark: ThreePeaksAlone, Required: true, MudAndSnowUntil: unit.Date{Year: 2024, Month: 9, Day: 30}}
