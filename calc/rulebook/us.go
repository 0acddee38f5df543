package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// Weights at which American rules change.
var (
	tenThousandPounds    = unit.MustMass(10_000, unit.Pounds)
	tenThousandOnePounds = unit.MustMass(10_001, unit.Pounds)
)

// subpartA are the classes that 49 CFR Part 570 Subpart A speaks of: it leaves
// out motorcycles and trailers (570.3, from memory).
var subpartA = []layout.Class{layout.PassengerCar, layout.LightTruck, layout.Heavy, layout.Bus, layout.Motorhome}

// usLight is the federal model for States, 49 CFR Part 570 Subpart A. It binds
// nobody by itself: the State's own code does.
var usLight = Book{
	ID: "us-light", Version: 1, Country: "US", Repair: "repair-us",
	Binds: Binds{Model: true, RatingUpTo: tenThousandPounds},
	Title: "United States, vehicles of 10,000 lb or less (model standard)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: TwoAdjacentThreePlaces,
			Applies:   Scope{Classes: subpartA, RatingUpTo: tenThousandPounds, Text: "every tire, gross rating 10,000 lb or less, but trailers"},
			Authority: finding.ModelStandard, Citation: "49 CFR 570.9(a)", Known: finding.FromMemory,
			Says: "Not less than 2/32 in, judged in any two adjacent major grooves at three places spaced about equally round the tire.",
		},
		{
			ID: "structure", Subject: finding.LawSeparation,
			Applies:   Scope{Classes: subpartA, RatingUpTo: tenThousandPounds, Text: "every tire, gross rating 10,000 lb or less, but trailers"},
			Authority: finding.ModelStandard, Citation: "49 CFR 570.9(c)", Known: finding.FromMemory,
			Says: "No chunking, bump, knot or bulge that shows cord, ply or tread separation.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Classes: subpartA, RatingUpTo: tenThousandPounds, Text: "every tire, gross rating 10,000 lb or less, but trailers"},
			Authority: finding.ModelStandard, Citation: "49 CFR 570.9(d)", Known: finding.FromMemory,
			Says: "No cord or belt that the naked eye sees, or that shows when a cut or abrasion is probed.",
		},
		{
			ID: "wheel", Subject: finding.LawWheelCondition,
			Applies:   Scope{Classes: subpartA, RatingUpTo: tenThousandPounds, Text: "every wheel, gross rating 10,000 lb or less, but trailers"},
			Authority: finding.ModelStandard, Citation: "49 CFR 570.10(a)", Known: finding.Read,
			Says: "No visible cracks, elongated bolt holes, or indication of repair by welding.",
		},
		{
			ID: "fasteners", Subject: finding.LawFasteners,
			Applies:   Scope{Classes: subpartA, RatingUpTo: tenThousandPounds, Text: "every wheel, gross rating 10,000 lb or less, but trailers"},
			Authority: finding.ModelStandard, Citation: "49 CFR 570.10(c)", Known: finding.Read,
			Says: "All wheel nuts and bolts in place and tight.",
		},
	},
}

const heatTable = "49 CFR 393.75(i)(2)"

// usCommercial binds commercial motor vehicles: interstate commerce and a gross
// vehicle or combination weight or rating of 10,001 lb or more (49 CFR 390.5), or at
// any weight more than 8 seats for hire, more than 15 not for hire, the driver's
// included, or hazardous materials that need placards (the same; these from memory).
var usCommercial = Book{
	ID: "us-commercial", Version: 3, Country: "US", Repair: "repair-us",
	Whom:  finding.BindsDriver | finding.BindsCarrier, // 49 CFR 390.11 and 393.1, from memory
	Binds: Binds{CommercialFrom: tenThousandOnePounds, CommercialSeatsOver: 15, CommercialForHireOver: 8}, Reuse: "other-depth",
	Title: "United States, commercial motor vehicles (law in use)",
	Limits: []Limit{
		{
			ID: "front-depth", Subject: TreadDepth, Value: thirtySeconds(4), Where: AnyPointMajorGroove,
			Applies: Scope{Wheels: FrontWheels, Classes: []layout.Class{layout.PassengerCar, layout.LightTruck, layout.Heavy, layout.Bus, layout.Motorhome},
				Text: "front wheels of a bus, truck or truck tractor"},
			Authority: finding.LawInUse, Citation: "49 CFR 393.75(b)", Known: finding.Read,
			Says: "At least 4/32 in when measured at any point on a major tread groove, not at tie bars, humps or fillets.",
		},
		{
			ID: "other-depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: AnyPointMajorGroove,
			Applies:   Scope{Wheels: OtherWheels, Text: "every other tire, and all tires of a trailer"},
			Authority: finding.LawInUse, Citation: "49 CFR 393.75(c)", Known: finding.Read,
			Says: "At least 2/32 in when measured in a major tread groove, not at tie bars, humps or fillets.",
		},
		{
			ID: "cord", Subject: finding.LawCordExposed,
			Applies:   Scope{Text: "any commercial motor vehicle"},
			Authority: finding.LawInUse, Citation: "49 CFR 393.75(a)(1)", Known: finding.Read,
			Says: "No body ply or belt material exposed through the tread or sidewall.",
		},
		{
			ID: "separation", Subject: finding.LawSeparation,
			Applies:   Scope{Text: "any commercial motor vehicle"},
			Authority: finding.LawInUse, Citation: "49 CFR 393.75(a)(2)", Known: finding.Read,
			Says: "No tread or sidewall separation.",
		},
		{
			ID: "flat", Subject: finding.LawFlatOrLeaking,
			Applies:   Scope{Text: "any commercial motor vehicle"},
			Authority: finding.LawInUse, Citation: "49 CFR 393.75(a)(3)", Known: finding.Read,
			Says: "Not flat and without an audible leak.",
		},
		{
			ID: "cut", Subject: finding.LawCut,
			Applies:   Scope{Text: "any commercial motor vehicle"},
			Authority: finding.LawInUse, Citation: "49 CFR 393.75(a)(4)", Known: finding.Read,
			Says: "No cut that exposes ply or belt.",
		},
		{
			ID: "construction", Subject: ConstructionMix,
			Applies:   Scope{Text: "every axle of a commercial motor vehicle"},
			Authority: finding.LawInUse, Citation: "49 CFR 396, Appendix A, item 10, as reported", Known: finding.Reported,
			Says: "A vehicle with bias and radial tires on one axle does not pass its periodic inspection. Read in the matching code of a State.",
		},
		{
			ID: "bus-retread", Subject: RetreadOnFront,
			Applies:   Scope{Wheels: FrontWheels, Classes: []layout.Class{layout.Bus}, Text: "front wheels of a bus"},
			Authority: finding.LawInUse, Citation: "49 CFR 393.75(d)", Known: finding.Read,
			Says: "No regrooved, recapped or retreaded tires on the front wheels of a bus.",
		},
		{
			ID: "truck-regrooved", Subject: RetreadOnFront, Value: unit.Amount{Number: 4920, Unit: unit.Pounds},
			Applies:   Scope{Wheels: FrontWheels, Classes: []layout.Class{layout.LightTruck, layout.Heavy}, Text: "front wheels of a truck or truck tractor"},
			Authority: finding.LawInUse, Citation: "49 CFR 393.75(e)", Known: finding.Read,
			Says: "No regrooved tire with a load capacity of 4,920 lb (2,232 kg) or more on the front wheels.",
		},
		{
			ID: "not-for-highway", Subject: NotForHighway,
			Applies:   Scope{Wheels: FrontWheels, Text: "steering axle of a power unit"},
			Authority: finding.LawInUse, Citation: "49 CFR 396, Appendix A, item 10, as reported", Known: finding.Reported,
			Says: "A vehicle with a tire marked as not for highway use on its steering axle does not pass its periodic inspection. Read in the matching code of a State.",
		},
		{
			ID: "heat-up-to", Subject: HeatAllowance, Value: unit.Amount{Number: 5, Unit: unit.PSI},
			Applies:   Scope{Text: "tires of a maximum load rating of 4,000 lb (1,814 kg) or less, run at 41 to 55 mph in the past hour"},
			Authority: finding.LawInUse, Citation: heatTable, Known: finding.Read,
			Says: "5 psi (34.5 kPa) is taken off a warm reading before it is held against the pressure for the load. It is a test of the law, and no estimate of the cold pressure.",
		},
		{
			ID: "heat-over", Subject: HeatAllowance, Value: unit.Amount{Number: 15, Unit: unit.PSI},
			Applies:   Scope{Text: "tires of a maximum load rating over 4,000 lb (1,814 kg), run at 41 to 55 mph in the past hour"},
			Authority: finding.LawInUse, Citation: heatTable, Known: finding.Read,
			Says: "15 psi (103.4 kPa) is taken off a warm reading before it is held against the pressure for the load. It is a test of the law, and no estimate of the cold pressure.",
		},
		{
			ID: "heat-rating", Subject: HeatAllowance, Value: unit.Amount{Number: 4000, Unit: unit.Pounds},
			Applies:   Scope{Text: "maximum load rating up to which the smaller allowance counts"},
			Authority: finding.LawInUse, Citation: heatTable, Known: finding.Read,
			Says: "The table has two rows: up to 4,000 lb (1,814 kg), and over it.",
		},
		{
			ID: "load", Subject: finding.LawLoad,
			Applies:   Scope{Text: "any commercial motor vehicle"},
			Authority: finding.LawInUse, Citation: "49 CFR 393.75(g)", Known: finding.Read,
			Says: "No load above the sidewall marking, unless under a special permit and at reduced speed.",
		},
		{
			ID: "pressure", Subject: finding.LawPressureForLoad,
			Applies:   Scope{Text: "any commercial motor vehicle"},
			Authority: finding.LawInUse, Citation: "49 CFR 393.75(i)(1)", Known: finding.Read,
			Says: "Cold inflation pressure not less than that specified for the load carried.",
		},
	},
}

// usHeavyModel is the federal model for States, 49 CFR Part 570 Subpart B.
var usHeavyModel = Book{
	ID: "us-heavy-model", Version: 2, Country: "US", Repair: "repair-us",
	Binds: Binds{Model: true, RatingOver: tenThousandPounds}, Reuse: "other-depth",
	Title: "United States, vehicles over 10,000 lb not in interstate commerce (model standard)",
	Limits: []Limit{
		{
			ID: "front-depth", Subject: TreadDepth, Value: thirtySeconds(4), Where: TwoAdjacentThreePlaces,
			Applies: Scope{Wheels: FrontWheels, RatingOver: tenThousandPounds,
				Text: "front tires of any vehicle other than a trailer, gross rating over 10,000 lb"},
			Authority: finding.ModelStandard, Citation: "49 CFR 570.62(a)", Known: finding.Read,
			Says: "Not less than 4/32 in, judged in any two adjacent major grooves at three places about 120 degrees apart.",
		},
		{
			ID: "other-depth", Subject: TreadDepth, Value: thirtySeconds(2), Where: TwoAdjacentThreePlaces,
			Applies:   Scope{Wheels: OtherWheels, RatingOver: tenThousandPounds, Text: "all other tires, gross rating over 10,000 lb"},
			Authority: finding.ModelStandard, Citation: "49 CFR 570.62(a)", Known: finding.Read,
			Says: "Not less than 2/32 in, judged in any two adjacent major grooves at three places about 120 degrees apart.",
		},
		{
			ID: "pair-diameter", Subject: PairDiameter, Value: inches(0.5),
			Applies:   Scope{RatingOver: tenThousandPounds, Text: "dual pairs, gross rating over 10,000 lb"},
			Authority: finding.ModelStandard, Citation: "49 CFR 570.62(b)", Known: finding.Read,
			Says: "Overall diameters of a dual pair within 1/2 in.",
		},
		{
			ID: "structure", Subject: finding.LawSeparation,
			Applies:   Scope{RatingOver: tenThousandPounds, Text: "every tire, gross rating over 10,000 lb"},
			Authority: finding.ModelStandard, Citation: "49 CFR 570.62", Known: finding.Read,
			Says: "No chunking, bumps, knots or bulges.",
		},
		{
			ID: "not-for-highway", Subject: NotForHighway,
			Applies:   Scope{RatingOver: tenThousandPounds, Text: "every tire, gross rating over 10,000 lb"},
			Authority: finding.ModelStandard, Citation: "49 CFR 570.62", Known: finding.Read,
			Says: "No tire marked as not for highway use or for farm use only.",
		},
	},
}
