package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
)

const californiaCode = "California Vehicle Code 27465(b), as reported"

// usCA is California's own code. It binds every driver there; its text was not
// read, only a report of it, and which vehicles the heavy figures cover is from
// memory.
var usCA = Book{
	ID: "us-ca", Version: 3, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "CA", InPlace: true},
	Title: "California (law in use, as reported)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: thirtySeconds(1), Where: TwoAdjacentGrooves,
			Applies:   Scope{RatingUpTo: tenThousandPounds, Text: "cars and light vehicles"},
			Authority: finding.LawInUse, Citation: californiaCode, Known: finding.Reported,
			Says: "At least 1/32 in in any two adjacent grooves. A tire is worn out at its wear bars, 2/32 in, all the same.",
		},
		{
			ID: "front-depth", Subject: TreadDepth, Value: thirtySeconds(4), Where: AnyPointMajorGroove,
			Applies:   Scope{Wheels: FrontWheels, RatingOver: tenThousandPounds, Text: "steering axle of heavy vehicles (which ones, from memory)"},
			Authority: finding.LawInUse, Citation: californiaCode, Known: finding.Reported,
			Says: "At least 4/32 in at all points of all major grooves of the steering axle.",
		},
		{
			ID: "other-depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: AnyPointMajorGroove,
			Applies:   Scope{Wheels: OtherWheels, RatingOver: tenThousandPounds, Text: "other axles of heavy vehicles (which ones, from memory)"},
			Authority: finding.LawInUse, Citation: californiaCode, Known: finding.Reported,
			Says: "At least 2/32 in at all points of all major grooves of the other axles.",
		},
		{
			ID: "snow-instead-of-chains", Subject: WinterTire, Value: thirtySeconds(6),
			Applies:   Scope{Text: "snow tires used in place of chains"},
			Winter:    &Winter{Trigger: OnSignedRoads},
			Authority: finding.LawInUse, Citation: californiaCode, Known: finding.Reported,
			Says: "A snow tire counts in place of chains with at least 6/32 in at all points of all major grooves.",
		},
		{
			ID: "regrooved", Subject: Regrooved,
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar, layout.Motorhome}, Text: "motor vehicles other than commercial ones"},
			Authority: finding.LawInUse, Citation: "California Vehicle Code 27461", Known: finding.Read,
			Says: "No recut or regrooved tire on a motor vehicle that is no commercial vehicle.",
		},
		{
			ID: "sale", Subject: ToFit,
			Applies:   Scope{Text: "tires that are sold or installed for use on a highway"},
			Authority: finding.LawInUse, Citation: "California Vehicle Code 27501(a)", Known: finding.Read, Binds: finding.BindsInstallerOrSeller,
			Text: Text{By: Reprint, Copy: "research copy of the code, undated", Words: "sell, offer for sale, expose for sale, or install on a vehicle for use on a highway"},
			Says: "No tire is sold, offered or installed that is not in line with the rules on tires in use. Fitting the vehicle's own spare at the roadside is no sale.",
		},
	},
}

// usIL is what was read of Illinois' own code. It has no depth here: the model
// is judged beside it.
var usIL = Book{
	ID: "us-il", Version: 2, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "IL"},
	Title: "Illinois, passenger cars (law in use, in part)",
	Limits: []Limit{
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "tires of passenger cars"},
			Authority: finding.LawInUse, Citation: "92 Ill. Adm. Code 428.20(a)", Known: finding.Read,
			Says: "No ply or cord that can be seen, also after the edge of a cut, crack or flap was lifted.",
		},
		{
			ID: "bulge", Subject: finding.LawSeparation,
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "tires of passenger cars"},
			Authority: finding.LawInUse, Citation: "92 Ill. Adm. Code 428.20(b)-(d)", Known: finding.Read,
			Says: "No bulge, knot or separation; no tire marked as not for the road, or without a readable size or load marking.",
		},
		{
			ID: "not-for-road", Subject: NotForHighway,
			Applies:   Scope{Classes: []layout.Class{layout.PassengerCar}, Text: "tires of passenger cars"},
			Authority: finding.LawInUse, Citation: "92 Ill. Adm. Code 428.20(b)-(d)", Known: finding.Read,
			Says: "No tire marked as not for the road.",
		},
	},
}

// usMD is what was read of Maryland's own code and is clear in its scope. Its
// depth rules were read (COMAR 11.22.04.06) without the vehicles they cover, so
// they are no rule here.
var usMD = Book{
	ID: "us-md", Version: 2, Country: "US", Repair: "repair-us",
	Binds: Binds{State: "MD"},
	Title: "Maryland (law in use, in part)",
	Limits: []Limit{
		{
			ID: "pair-diameter", Subject: PairDiameter, Value: inches(0.5),
			Applies:   Scope{Text: "dual pairs"},
			Authority: finding.LawInUse, Citation: "COMAR 11.14.05.05", Known: finding.Read,
			Says: "Diameters of a dual pair within 1/2 in. Maryland's rules on depth were read without the vehicles they cover and are not judged.",
		},
		{
			ID: "sale", Subject: ToFit, Value: thirtySeconds(2), Where: AnyPointMajorGroove,
			Applies:   Scope{Text: "tires that are sold at retail, new or used"},
			Authority: finding.LawInUse, Citation: "Md. Code, Transp. 22-405.5", Known: finding.Read, Binds: finding.BindsInstallerOrSeller,
			Text: Text{By: Reprint, Copy: "three reprints of the statute, which agree", Words: "may not sell or offer for sale, at the point of final retail sale to the consumer, an unsafe tire"},
			Says: "No tire is sold at retail whose indicators are flush anywhere or, without indicators, with less than 2/32 in in any groove at three places, nor with cord, a cut to the cord, a bump or a break, regrooved, or marked for farm, off-highway or racing use; else only for use off the highway, and marked so.",
		},
	},
}
