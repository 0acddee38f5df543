package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// States of which a figure is reported, and its text was not read: their books stand
// beside the federal model.

const pennsylvaniaCode = "67 Pa. Code 175.80, as reported"

var usPA = Book{
	ID: "us-pa", Version: 1, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "PA"},
	Title: "Pennsylvania (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: AnyPointMajorGroove,
			Applies:   Scope{RatingUpTo: tenThousandPounds, AnyRating: []layout.Class{layout.PassengerCar}, Text: "cars and light trucks"},
			Authority: finding.LawInUse, Citation: pennsylvaniaCode, Known: finding.Reported,
			Says: "At least 2/32 in at inspection. The item on depth was not read.",
		},
		{
			ID: "heavy-front-depth", Subject: TreadDepth, Value: thirtySeconds(4), Where: AnyPointMajorGroove,
			Applies:   Scope{Wheels: FrontWheels, RatingOver: tenThousandPounds, Text: "front wheels of vehicles over 10,000 lb"},
			Authority: finding.LawInUse, Citation: pennsylvaniaCode, Known: finding.Reported,
			Says: "At least 4/32 in in front. The item on depth was not read.",
		},
	},
}

var usMI = Book{
	ID: "us-mi", Version: 1, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "MI"},
	Title: "Michigan (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: TwoAdjacentGrooves,
			Applies:   Scope{Text: "any vehicle"},
			Authority: finding.LawInUse, Citation: "MCL 257.710, as reported", Known: finding.Reported,
			Says: "Not under 2/32 in in two adjacent major grooves, by a law office; in the copy that was read the paragraph on tread is cut off.",
		},
	},
}

var usCO = Book{
	ID: "us-co", Version: 1, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "CO"},
	Title: "Colorado, traction law alone (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "traction", Subject: WinterTire, Value: thirtySeconds(6),
			Applies:   Scope{Text: "motor vehicles on I-70 from Dotsero to Morrison, and on other State highways when the law is called"},
			Winter:    &Winter{Trigger: OnSignedRoads, From: Day{9, 1}, Until: Day{5, 31}},
			Authority: finding.LawInUse, Citation: "C.R.S. 42-4-106, HB 19-1207, as reported", Known: finding.Reported,
			Says: "From September 1 to May 31 on I-70 from Dotsero to Morrison: M+S or snowflake tires with at least 3/16 in, or four-wheel drive with tires of that depth fit for the conditions, or chains or an alternative device carried or in use. New words of 2025 let kind and depth of tires count for every drive.",
		},
	},
}

const (
	oregonLaw  = "ORS 815.145, 815.165"
	oregonCopy = "reprints of the statutes, undated"
)

// usOR names no depth of a traction tire.
var usOR = Book{
	ID: "us-or", Version: 1, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "OR"},
	Title: "Oregon, traction tires and studs alone (law in use)",
	Limits: []Limit{
		{
			ID: "studs", Subject: Studs,
			Applies:   Scope{Text: "every tire"},
			Winter:    &Winter{Trigger: InSeason, From: Day{11, 1}, Until: Day{4, 1}},
			Authority: finding.LawInUse, Citation: oregonLaw, Known: finding.Read,
			Text: Text{By: Reprint, Copy: oregonCopy},
			Says: "Studded tires from November 1 to April 1.",
		},
		{
			ID: "traction", Subject: Fitness,
			Applies:   Scope{Text: "vehicles on highways where a sign asks for chains or traction tires"},
			Authority: finding.LawInUse, Citation: oregonLaw, Known: finding.Read,
			Text:    Text{By: Reprint, Copy: oregonCopy, Words: "Is equipped with tires, on all wheels, that are vehicle traction tires"},
			Says:    "Where a sign asks for it chains, or traction tires: on passenger vehicles up to 6,500 lb with the front and rear axles driven, traction tires on all wheels, chains on board and nothing in tow.",
			Informs: "it names no depth, and which tires meet the department's standard is not told",
		},
	},
}

const texasCode = "37 TAC 23.41, as reported"

var usTX = Book{
	ID: "us-tx", Version: 1, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "TX"},
	Title: "Texas (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: TwoAdjacentGrooves,
			Applies:   Scope{Text: "any vehicle, at inspection"},
			Authority: finding.LawInUse, Citation: texasCode, Known: finding.Reported,
			Says: "Not under 2/32 in at the lowest points of two adjacent major grooves, on both tires of a dual pair, by trade pages. The item was not read, nor whether cars are still inspected at intervals.",
		},
		{
			ID: "cut", Subject: finding.LawCut, Value: inches(1),
			Applies:   Scope{Text: "any vehicle, at inspection"},
			Authority: finding.LawInUse, Citation: texasCode, Known: finding.Reported,
			Says: "No cut in tread or sidewall longer than one inch, by trade pages.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "any vehicle, at inspection"},
			Authority: finding.LawInUse, Citation: texasCode, Known: finding.Reported,
			Says: "No cord bared, by trade pages.",
		},
	},
}
