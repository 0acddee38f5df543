package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// notHeavy are the classes of a rule that leaves heavy vehicles out.
var notHeavy = []layout.Class{layout.PassengerCar, layout.LightTruck, layout.Motorhome}

var caBC = Book{
	ID: "ca-bc", Version: 1, Country: "CA",
	Binds: Binds{State: "BC"},
	Title: "British Columbia, winter tires alone (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "winter-depth", Subject: WinterTire, Value: tread(3.5),
			Applies:   Scope{Wheels: DrivenWheels, Classes: notHeavy, Text: "the driven wheels of passenger vehicles, on signed highways"},
			Winter:    &Winter{Trigger: OnSignedRoads, From: Day{10, 1}, Until: Day{3, 31}, Required: true},
			Authority: finding.LawInUse, Citation: "British Columbia winter tire rule, as reported", Known: finding.Reported,
			Says: "On signed highways from October 1 to March 31, on some passes to April 30, at least two matching winter tires on the driven axle: mountain with snowflake or M+S, at least 3.5 mm. Some reports end it on March 30; the later day is followed.",
		},
	},
}

var caQC = Book{
	ID: "ca-qc", Version: 1, Country: "CA",
	Binds: Binds{State: "QC"},
	Title: "Quebec (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "all vehicles"},
			Authority: finding.LawInUse, Citation: "Quebec Highway Safety Code, as the provincial government prints it", Known: finding.Read,
			Says: "At least 1.6 mm (2/32 in) in a main groove. In winter too: a legal limit of 3.5 mm was looked for and not found.",
		},
		{
			ID: "winter-mark", Subject: WinterTire,
			Applies:   Scope{Classes: notHeavy, Text: "vehicles other than heavy ones"},
			Winter:    &Winter{Trigger: InSeason, From: Day{12, 1}, Until: Day{3, 15}, Mark: ThreePeaks, Required: true},
			Authority: finding.LawInUse, Citation: "Quebec Highway Safety Code, as reported", Known: finding.Reported,
			Says: "From December 1 to March 15 tires with the mountain and snowflake, or studs; M+S alone is not enough. An earlier law began on December 15.",
		},
		{
			ID: "winter-advice", Subject: WinterAdvised, Value: tread(4.8),
			Applies:   Scope{Classes: notHeavy, Text: "winter tires of cars"},
			Winter:    &Winter{Trigger: InSeason, From: Day{12, 1}, Until: Day{3, 15}},
			Authority: finding.CommonPractice, Citation: "common practice of the trade in Quebec", Known: finding.Reported,
			Says: "4.8 mm (6/32 in) is advised on winter tires; it is no law.",
		},
	},
}
