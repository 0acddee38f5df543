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

const (
	ontarioRules = "R.R.O. 1990 Reg. 625, s. "

	ontarioCopy = "reprint, undated"

	quebecRules = "C-24.2, r. 32, s. "
	quebecCopy  = "version of 2019-05-21"
)

var caON = Book{
	ID: "ca-on", Version: 2, Country: "CA",
	Binds: Binds{State: "ON"},
	Title: "Ontario (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.5), Where: TwoAdjacentThreePlaces,
			Applies:   Scope{Text: "all vehicles; a rule of its own for front tires of heavy ones was not read"},
			Authority: finding.LawInUse, Citation: ontarioRules + "3(1)", Known: finding.Read,
			Text: Text{By: Reprint, Copy: ontarioCopy, Words: "Less than 1.5 millimeters of tread depth remains"},
			Says: "Not worn so that in any two adjacent major grooves, at three places equally spaced round the tire, the indicators touch the road or less than 1.5 mm remains.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{Text: "every axle"},
			Authority: finding.LawInUse, Citation: ontarioRules + "4(1)", Known: finding.Read,
			Text: Text{By: Reprint, Copy: ontarioCopy, Words: "A combination of construction types or sizes of tires on an axle"},
			Says: "No mix of construction or size on one axle, unless they are equivalent.",
		},
		{
			ID: "radial-ahead", Subject: RadialAhead,
			Applies:   Scope{Text: "every vehicle"},
			Authority: finding.LawInUse, Citation: ontarioRules + "4(1)", Known: finding.Read,
			Text: Text{By: Reprint, Copy: ontarioCopy},
			Says: "No radial tires in front with bias or belted tires behind.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "every tire"},
			Authority: finding.LawInUse, Citation: ontarioRules + "2", Known: finding.Read,
			Text: Text{By: Reprint, Copy: ontarioCopy},
			Says: "No cord bared, no cut to the cords.",
		},
		{
			ID: "separation", Subject: finding.LawSeparation,
			Applies:   Scope{Text: "every tire"},
			Authority: finding.LawInUse, Citation: ontarioRules + "2", Known: finding.Read,
			Text: Text{By: Reprint, Copy: ontarioCopy},
			Says: "No bulge or bump.",
		},
	},
}

var caQC = Book{
	ID: "ca-qc", Version: 4, Country: "CA",
	Binds: Binds{State: "QC"},
	Title: "Quebec (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "all road vehicles"},
			Authority: finding.LawInUse, Citation: quebecRules + "159(1)", Known: finding.Read,
			Text: Text{Copy: quebecCopy, Words: "the depth of the tread measured in a main groove or tread design, elsewhere than at the wear indicator, is less than 1.6 mm"},
			Says: "At least 1.6 mm in a main groove away from the wear indicator, which may not touch the road. Below 0.8 mm it is a major defect (s. 178), with which the vehicle may not go on. In winter too: a legal limit of 3.5 mm was looked for and not found.",
		},
		{
			ID: "major-depth", Subject: MajorDefect, Value: tread(0.8), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "all road vehicles"},
			Authority: finding.LawInUse, Citation: quebecRules + "178", Known: finding.Read,
			Text: Text{Copy: quebecCopy, Words: "a tire that has a tread less than 0.8 mm in depth measured in a main groove or sculpture"},
			Says: "Less than 0.8 mm in a main groove is a major defect, with which the vehicle may not go on; from there to 1.6 mm it is a minor one.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "all road vehicles"},
			Authority: finding.LawInUse, Citation: quebecRules + "159(2)-(11)", Known: finding.Read,
			Text: Text{Copy: quebecCopy},
			Says: "No cord bared; where it shows the defect is a major one (s. 178).",
		},
		{
			ID: "separation", Subject: finding.LawSeparation,
			Applies:   Scope{Text: "all road vehicles"},
			Authority: finding.LawInUse, Citation: quebecRules + "159(2)-(11)", Known: finding.Read,
			Text: Text{Copy: quebecCopy},
			Says: "No bulge, no separation; a bulge of the casing is a major defect (s. 178).",
		},
		{
			ID: "flat", Subject: finding.LawFlatOrLeaking,
			Applies:   Scope{Text: "all road vehicles"},
			Authority: finding.LawInUse, Citation: quebecRules + "178", Known: finding.Read,
			Text: Text{Copy: quebecCopy},
			Says: "A leak of air is a major defect.",
		},
		{
			ID: "pressure", Subject: Fitness,
			Applies:   Scope{Text: "all road vehicles"},
			Authority: finding.LawInUse, Citation: quebecRules + "159(2)-(11)", Known: finding.Read,
			Text:    Text{Copy: quebecCopy, Words: "the air pressure in a tire shall not exceed the pressure written on the sidewall"},
			Says:    "Not above the pressure on the sidewall nor below the maker's value.",
			Informs: "pressures are held against the label and the sidewall themselves",
		},
		{
			ID: "winter-mark", Subject: WinterTire,
			Applies:   Scope{Classes: notHeavy, Text: "vehicles other than heavy ones"},
			Winter:    &Winter{Trigger: InSeason, From: Day{12, 1}, Until: Day{3, 15}, Mark: ThreePeaks, Required: true},
			Authority: finding.LawInUse, Citation: "Highway Safety Code s. 440.1, 441, as reported", Known: finding.Reported,
			Says: "From December 1 to March 15 tires with the mountain and snowflake, or studs; M+S alone is not enough. An earlier law began on December 15.",
		},
		{
			ID: "winter-advice", Subject: WinterAdvised, Value: tread(4.8),
			Applies:   Scope{Classes: notHeavy, Text: "winter tires of cars"},
			Winter:    &Winter{Trigger: InSeason, From: Day{12, 1}, Until: Day{3, 15}},
			Authority: finding.CommonPractice, Citation: "common practice of the trade in Quebec", Known: finding.Reported,
			Says: "4.8 mm (6/32 in) is advised on winter tires; it is no law.",
		},
		{
			ID: "studs", Subject: Studs,
			Applies:   Scope{Text: "all road vehicles"},
			Winter:    &Winter{Trigger: InSeason, From: Day{10, 15}, Until: Day{5, 1}},
			Authority: finding.LawInUse, Citation: "Quebec regulation on studded tires, r. 44, as reported", Known: finding.Reported,
			Says: "Studded tires from October 15 to May 1.",
		},
	},
}
