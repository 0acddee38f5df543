package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

// heavyRoad are the classes of trucks and buses in a State's own words.
var heavyRoad = []layout.Class{layout.LightTruck, layout.Heavy, layout.Bus}

const (
	northCarolinaLaw  = "N.C. Gen. Stat. 20-122.1"
	northCarolinaCopy = "reprint of the statute, undated"
)

// usNC asks for two places round the tire.
var usNC = Book{
	ID: "us-nc", Version: 1, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "NC", InPlace: true},
	Title: "North Carolina (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: TwoAdjacentTwoPlaces,
			Applies:   Scope{Classes: powered, RatingUpTo: tenThousandPounds, Text: "vehicles under safety inspection, 10,000 lb or less"},
			Authority: finding.LawInUse, Citation: northCarolinaLaw + "(a)", Known: finding.Read,
			Text: Text{By: Reprint, Copy: northCarolinaCopy, Words: "less than two thirty-seconds inch tread depth at two or more locations around the circumference of the tire in two adjacent major tread grooves"},
			Says: "Not under 2/32 in at two or more places round the tire in two adjacent major grooves, nor indicators that touch the road at two or more places.",
		},
		{
			ID: "trailer-depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: TwoAdjacentTwoPlaces,
			Applies:   Scope{Wheels: SingleWheels, Classes: []layout.Class{layout.Trailer}, RatingUpTo: tenThousandPounds, Text: "trailers, but those with dual wheels"},
			Authority: finding.LawInUse, Citation: northCarolinaLaw + "(a)", Known: finding.Read,
			Text: Text{By: Reprint, Copy: northCarolinaCopy},
			Says: "As for other vehicles; it does not bind trailers with dual wheels.",
		},
		{
			ID: "heavy-front-depth", Subject: TreadDepth, Value: thirtySeconds(4), Where: AnyPointMajorGroove,
			Applies:   Scope{Wheels: FrontWheels, RatingOver: tenThousandPounds, Text: "steering axle, 10,001 lb or more"},
			Authority: finding.LawInUse, Citation: northCarolinaLaw + "(a1)", Known: finding.Read,
			Text: Text{By: Reprint, Copy: northCarolinaCopy, Words: "The steering axle tire has less than four thirty-seconds inch tread depth at any location"},
			Says: "At least 4/32 in at any place on any major groove of the steering axle.",
		},
		{
			ID: "heavy-other-depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: AnyPointMajorGroove,
			Applies:   Scope{Wheels: OtherWheels, RatingOver: tenThousandPounds, Text: "other axles, 10,001 lb or more"},
			Authority: finding.LawInUse, Citation: northCarolinaLaw + "(a1), as reported", Known: finding.Reported,
			Text: Text{By: Reprint, Copy: northCarolinaCopy},
			Says: "At least 2/32 in on other axles; the copy ends before the words that say where.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "vehicles under safety inspection"},
			Authority: finding.LawInUse, Citation: northCarolinaLaw + "(a)", Known: finding.Read,
			Text: Text{By: Reprint, Copy: northCarolinaCopy},
			Says: "No cord exposed by a cut, crack or wear.",
		},
		{
			ID: "separation", Subject: finding.LawSeparation,
			Applies:   Scope{Text: "vehicles under safety inspection"},
			Authority: finding.LawInUse, Citation: northCarolinaLaw + "(a)", Known: finding.Read,
			Text: Text{By: Reprint, Copy: northCarolinaCopy},
			Says: "No visible separation of tread, no chunking.",
		},
	},
}

var usRI = Book{
	ID: "us-ri", Version: 1, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "RI", InPlace: true},
	Title: "Rhode Island (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "any vehicle moved on a highway"},
			Authority: finding.LawInUse, Citation: "R.I. Gen. Laws 31-23-45", Known: finding.Read, Binds: finding.BindsDriver | finding.BindsOwner,
			Text: Text{Copy: "State legislature's page, undated", Words: "less than two thirty-seconds (2/32) of an inch of tread depth"},
			Says: "At least 2/32 in. The law names no place and no number of readings: any one in a major groove is taken. Registration is suspended until it is mended.",
		},
	},
}

const (
	washingtonLaw  = "RCW 46.37.425"
	washingtonCopy = "reprint of the code, undated"
)

// usWA takes any two major grooves, side by side or not.
var usWA = Book{
	ID: "us-wa", Version: 2, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "WA", InPlace: true},
	Title: "Washington (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: AnyTwoThreePlaces,
			Applies:   Scope{Text: "any registered vehicle"},
			Authority: finding.LawInUse, Citation: washingtonLaw, Known: finding.Read,
			Text: Text{By: Reprint, Copy: washingtonCopy, Words: "measured in any two major tread grooves at three locations equally spaced around the circumference of the tire"},
			Says: "Not under 2/32 in in any two major grooves, side by side or not, at three places equally spaced round the tire, nor indicators that touch the road there.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "any registered vehicle"},
			Authority: finding.LawInUse, Citation: washingtonLaw, Known: finding.Read,
			Text: Text{By: Reprint, Copy: washingtonCopy},
			Says: "No ply or cord bared, or found by probing.",
		},
		{
			ID: "separation", Subject: finding.LawSeparation,
			Applies:   Scope{Text: "any registered vehicle"},
			Authority: finding.LawInUse, Citation: washingtonLaw, Known: finding.Read,
			Text: Text{By: Reprint, Copy: washingtonCopy},
			Says: "No bump, bulge or knot that affects the structure.",
		},
		{
			ID: "not-for-highway", Subject: NotForHighway,
			Applies:   Scope{Text: "any registered vehicle"},
			Authority: finding.LawInUse, Citation: washingtonLaw, Known: finding.Read,
			Text: Text{By: Reprint, Copy: washingtonCopy},
			Says: "No tire marked as not for highway use.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{Text: "every axle"},
			Authority: finding.LawInUse, Citation: washingtonLaw, Known: finding.Read,
			Text: Text{By: Reprint, Copy: washingtonCopy},
			Says: "No mismatch of size, construction or profile on one axle. Not with a temporary spare that is used as it is meant.",
		},
		{
			ID: "studs", Subject: Studs,
			Applies:   Scope{Text: "any registered vehicle, but retractable studs"},
			Winter:    &Winter{Trigger: InSeason, From: Day{11, 1}, Until: Day{4, 1}},
			Authority: finding.LawInUse, Citation: "RCW 46.37.420(2)", Known: finding.Read,
			Text: Text{By: Reprint, Copy: washingtonCopy},
			Says: "No studs between April 1 and November 1; retractable ones may stay.",
		},
		{
			ID: "heavy-studs", Subject: Studs,
			Applies:   Scope{RatingOver: tenThousandPounds, Text: "vehicles of 10,000 lb and more"},
			Authority: finding.LawInUse, Citation: "RCW 46.37.420(2)", Known: finding.Read,
			Text: Text{By: Reprint, Copy: washingtonCopy},
			Says: "No studs on vehicles of 10,000 lb and more, at any time.",
		},
	},
}

const (
	virginiaLight = "19VAC30-70-130"
	virginiaHeavy = "19VAC30-70-500"
)

// usVA passes a tire when one of two adjacent grooves is deep enough.
var usVA = Book{
	ID: "us-va", Version: 3, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "VA", InPlace: true},
	Title: "Virginia (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: TwoAdjacentGrooves,
			Applies:   Scope{RatingUpTo: tenThousandPounds, Text: "vehicles of 10,000 lb or less, at inspection"},
			Authority: finding.LawInUse, Citation: virginiaLight, Known: finding.Read,
			Text: Text{By: Reprint, Copy: "reprint current to November 2024", Words: "If either of the grooves measure 2/32 of an inch or more, no further measurements are necessary"},
			Says: "Not under 2/32 in in two adjacent grooves where the tread is thinnest; if either of them has 2/32 in or more the tire passes.",
		},
		{
			ID: "heavy-front-depth", Subject: TreadDepth, Value: thirtySeconds(4), Where: AnyPointMajorGroove,
			Applies:   Scope{Wheels: FrontWheels, RatingOver: tenThousandPounds, Text: "front wheels of a bus, truck or tractor over 10,000 lb"},
			Authority: finding.LawInUse, Citation: virginiaHeavy, Known: finding.Read,
			Text: Text{Copy: "State's page of its code, undated", Words: "a tread groove pattern of less than 4/32 inch when measured at any point on a major tread groove"},
			Says: "At least 4/32 in at any point on a major groove.",
		},
		{
			ID: "heavy-other-depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: AnyPointMajorGroove,
			Applies:   Scope{Wheels: OtherWheels, RatingOver: tenThousandPounds, Text: "other wheels of vehicles over 10,000 lb"},
			Authority: finding.LawInUse, Citation: virginiaHeavy + ", as reported", Known: finding.Reported,
			Text: Text{Copy: "State's page of its code, undated"},
			Says: "At least 2/32 in; the words that say where were not read.",
		},
		{
			ID: "bus-retread", Subject: RetreadOnFront,
			Applies:   Scope{Wheels: FrontWheels, Classes: []layout.Class{layout.Bus}, RatingOver: tenThousandPounds, Text: "front wheels of a bus over 10,000 lb"},
			Authority: finding.LawInUse, Citation: virginiaHeavy, Known: finding.Read,
			Text: Text{Copy: "State's page of its code, undated"},
			Says: "No regrooved, recapped or retreaded tires on the front wheels of a bus.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{RatingUpTo: tenThousandPounds, Text: "every axle, vehicles of 10,000 lb or less"},
			Authority: finding.LawInUse, Citation: virginiaLight, Known: finding.Read,
			Text: Text{By: Reprint, Copy: "reprint current to November 2024"},
			Says: "No radial and bias tires on one axle.",
		},
		{
			ID: "radial-ahead", Subject: RadialAhead,
			Applies:   Scope{RatingUpTo: tenThousandPounds, Text: "vehicles of 10,000 lb or less"},
			Authority: finding.LawInUse, Citation: virginiaLight, Known: finding.Read,
			Text: Text{By: Reprint, Copy: "reprint current to November 2024"},
			Says: "No bias tires on the rear with radial tires in front.",
		},
		{
			ID: "space-saver", Subject: SpareOnRoad,
			Applies:   Scope{RatingUpTo: tenThousandPounds, Text: "any axle, vehicles of 10,000 lb or less, at inspection"},
			Authority: finding.LawInUse, Citation: virginiaLight, Known: finding.Read,
			Text: Text{By: Reprint, Copy: "reprint current to November 2024"},
			Says: "A vehicle with a space-saver spare on any axle is rejected.",
		},
	},
}

const georgiaLaw = "O.C.G.A. 40-8-74(e)(1)"

// usGA speaks of every major groove.
var usGA = Book{
	ID: "us-ga", Version: 1, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "GA", InPlace: true},
	Title: "Georgia (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "all tires"},
			Authority: finding.LawInUse, Citation: georgiaLaw, Known: finding.Read,
			Text: Text{By: Reprint, Copy: "reprint of the code, undated", Words: "not less than 2/32 inch tread measurable in all major grooves"},
			Says: "At least 2/32 in in all major grooves, not at tie bars, humps or fillets.",
		},
		{
			ID: "front-depth", Subject: TreadDepth, Value: thirtySeconds(4), Where: AnyPointMajorGroove,
			Applies:   Scope{Wheels: FrontWheels, Classes: heavyRoad, RatingOver: tenThousandPounds, AnyRating: []layout.Class{layout.Bus}, Text: "front wheels of school buses and commercial vehicles (from 10,001 lb, from memory)"},
			Authority: finding.LawInUse, Citation: georgiaLaw, Known: finding.Read,
			Text: Text{By: Reprint, Copy: "reprint of the code, undated"},
			Says: "At least 4/32 in in all major grooves in front.",
		},
	},
}

const minnesotaLaw = "Minn. Stat. 169.723, as reported"

// usMN goes by the groove nearest the center.
var usMN = Book{
	ID: "us-mn", Version: 2, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "MN"},
	Title: "Minnesota (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: CenterThreePlaces,
			Applies:   Scope{RatingUpTo: tenThousandPounds, Text: "passenger cars and others"},
			Authority: finding.LawInUse, Citation: minnesotaLaw, Known: finding.Reported,
			Text: Text{By: Agency, Copy: "three notices of the State Patrol", Words: "measured in the tread groove nearest the center of the tire at three locations equally spaced around the circumference"},
			Says: "Not under 2/32 in in the groove nearest the center at three places equally spaced round the tire, tie bars left out.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{RatingUpTo: tenThousandPounds, Text: "passenger cars and others"},
			Authority: finding.LawInUse, Citation: minnesotaLaw, Known: finding.Reported,
			Text: Text{By: Agency, Copy: "three notices of the State Patrol"},
			Says: "No cord, no cut to the body cords.",
		},
		{
			ID: "separation", Subject: finding.LawSeparation,
			Applies:   Scope{RatingUpTo: tenThousandPounds, Text: "passenger cars and others"},
			Authority: finding.LawInUse, Citation: minnesotaLaw, Known: finding.Reported,
			Text: Text{By: Agency, Copy: "three notices of the State Patrol"},
			Says: "No bump, bulge or separation.",
		},
		{
			ID: "not-for-highway", Subject: NotForHighway,
			Applies:   Scope{RatingUpTo: tenThousandPounds, Text: "passenger cars and others"},
			Authority: finding.LawInUse, Citation: minnesotaLaw, Known: finding.Reported,
			Text: Text{By: Agency, Copy: "three notices of the State Patrol"},
			Says: "No race tire, and none marked as not for highway use.",
		},
		{
			ID: "regrooved", Subject: Regrooved,
			Applies:   Scope{RatingUpTo: tenThousandPounds, Text: "passenger cars and others, but special taxi tires"},
			Authority: finding.LawInUse, Citation: minnesotaLaw, Known: finding.Reported,
			Text: Text{By: Agency, Copy: "three notices of the State Patrol"},
			Says: "No regrooved tires; special taxi tires are excepted.",
		},
	},
}
