package rulebook

import (
	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

var thirtyFiveHundredKilograms = unit.MustMass(3500, unit.Kilograms)

const reg26 = "Road Vehicles (Construction and Use) Regulations 1986, reg. 26"

const reg27 = "Road Vehicles (Construction and Use) Regulations 1986, reg. 27"

// ukDamage are the conditions that regulation 27 forbids on every vehicle.
var ukDamage = []Limit{
	{
		ID: "fit-for-use", Subject: Fitness,
		Applies:   Scope{Text: "every tire"},
		Authority: finding.LawInUse, Citation: reg27 + "(1)(a), (b)", Known: finding.Read,
		Says:    "Suitable for the use and inflated so as to be fit for it.",
		Informs: "it has no number and names no condition that is recorded",
	},
	{
		ID: "cut", Subject: finding.LawCut, Value: millimeters(25),
		Applies:   Scope{Text: "every tire"},
		Authority: finding.LawInUse, Citation: reg27 + "(1)(c)", Known: finding.Read,
		Says: "No cut longer than 25 mm or 10 percent of the section width, whichever is greater, in any direction on the outside, that is deep enough to reach ply or cord.",
	},
	{
		ID: "cut-share", Subject: finding.LawCut, Value: percent(10),
		Applies:   Scope{Text: "every tire: share of the section width"},
		Authority: finding.LawInUse, Citation: reg27 + "(1)(c)", Known: finding.Read,
		Says: "The greater of 25 mm and 10 percent of the section width is the limit for a cut that reaches ply or cord.",
	},
	{
		ID: "bulge", Subject: finding.LawSeparation,
		Applies:   Scope{Text: "every tire"},
		Authority: finding.LawInUse, Citation: reg27 + "(1)(d)", Known: finding.Read,
		Says: "No lump, bulge or tear caused by separation or partial failure of the structure.",
	},
	{
		ID: "cord", Subject: finding.LawCordExposed,
		Applies:   Scope{Text: "every tire"},
		Authority: finding.LawInUse, Citation: reg27 + "(1)(e)", Known: finding.Read,
		Says: "No ply or cord exposed.",
	},
	{
		ID: "construction", Subject: ConstructionMix,
		Applies:   Scope{Text: "every axle"},
		Authority: finding.LawInUse, Citation: reg26 + ", as reported", Known: finding.Reported,
		Says: "No tires of different structure on one axle.",
	},
	{
		ID: "radial-ahead", Subject: RadialAhead,
		Applies:   Scope{Text: "vehicles of two axles with single rear wheels"},
		Authority: finding.LawInUse, Citation: reg26 + ", as reported", Known: finding.Reported,
		Says: "No radial tires on the front axle with bias tires on the rear one.",
	},
	{
		ID: "part-worn", Subject: ToFit, Value: tread(2), Where: WholeTread,
		Applies:   Scope{Text: "part-worn tires that are supplied"},
		Authority: finding.LawInUse, Citation: "Motor Vehicle Tyres (Safety) Regulations 1994, reg. 7, as reported", Known: finding.Reported, Binds: finding.BindsInstallerOrSeller,
		Text: Text{By: Agency, Copy: "trading standards guide for business, undated", Words: "the grooves of the original tread pattern of the tyre must be at least 2 mm deep across the full breadth of the tread"},
		Says: "A part-worn tire is supplied only with at least 2 mm across the full breadth of the tread and round the whole circumference, no cut over 25 mm or 10 percent of the section width to the ply, no bulge, no ply bared, no hole that is not repaired to the British standard, judged inflated to its highest pressure too, and marked PART-WORN in capitals of at least 4 mm.",
	},
}

// seatsOfACar are the most that leave a passenger vehicle light at any weight: eight
// besides the driver's.
const seatsOfACar = 9

const (
	ukAge     = "Road Vehicles (Construction and Use) Regulations 1986, reg. 27, as amended by SI 2020/1178 reg. 2(4), as reported"
	ukAgeSays = "No tire more than 10 years old, counted from the date on it, of a retread from its retreading; exactly 10 years is not over, where early notices said otherwise. A date that is missing or cannot be read fails a test too. Since February 1, 2021. Not for vehicles of 40 years and more that are not used commercially. In Northern Ireland by SR 2023/168."
)

// minibusAge is in the books of both weights: a minibus is one by its seats.
var minibusAge = Limit{
	ID: "minibus-age", Subject: TireAge, Value: unit.Amount{Number: 10, Unit: unit.Years},
	Applies:   Scope{Wheels: SingleWheels, Classes: []layout.Class{layout.Bus}, SeatsOver: 9, SeatsUpTo: 17, Text: "single wheels of minibuses of 9 to 16 passenger seats"},
	Authority: finding.LawInUse, Citation: ukAge, Known: finding.Reported,
	Says: ukAgeSays,
}

var ukLight = Book{
	ID: "uk-light", Version: 4, Country: "GB", Repair: "repair-uk",
	Binds: Binds{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, BySeats: seatsOfACar},
	Title: "United Kingdom, cars, goods vehicles and light trailers up to 3,500 kg (law in use)",
	Limits: append([]Limit{
		minibusAge,
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies: Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, BySeats: seatsOfACar,
				Text: "passenger vehicles with up to 8 seats besides the driver's at any weight, goods vehicles and light trailers up to 3,500 kg"},
			Authority: finding.LawInUse, Citation: reg27 + "(1)(g), (4)(f)", Known: finding.Read,
			Says: "At least 1.6 mm in a continuous band of the central three-quarters of the breadth of tread, round the whole circumference. Paragraph letters and the eight seats are as remembered.",
		},
	}, ukDamage...),
}

var ukHeavy = Book{
	ID: "uk-heavy", Version: 4, Country: "GB", Repair: "repair-uk",
	Binds: Binds{RatingOver: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, BySeats: seatsOfACar},
	Title: "United Kingdom, vehicles and trailers over 3,500 kg (law in use)",
	Limits: append([]Limit{
		minibusAge,
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.0), Where: AnyThreeQuarters,
			Applies:   Scope{RatingOver: thirtyFiveHundredKilograms, BySeats: seatsOfACar, Text: "goods vehicles and trailers over 3,500 kg; passenger vehicles with more than 8 seats besides the driver's at any weight"},
			Authority: finding.LawInUse, Citation: reg27 + "(1)(g), (4)(e)", Known: finding.Read,
			Says: "At least 1.0 mm in a continuous band of at least three-quarters of the breadth of tread, not necessarily central, round the whole circumference. Paragraph letters are as remembered.",
		},
		{
			ID: "groove-base", Subject: Fitness,
			Applies:   Scope{RatingOver: thirtyFiveHundredKilograms, Text: "vehicles and trailers over 3,500 kg"},
			Authority: finding.LawInUse, Citation: reg27 + "(1)(f)", Known: finding.Read,
			Says:    "The base of every groove of the original pattern clearly visible on the remaining quarter.",
			Informs: "whether the base of a groove is visible is not recorded",
		},
		{
			ID: "age", Subject: TireAge, Value: unit.Amount{Number: 10, Unit: unit.Years},
			Applies: Scope{Wheels: SteeredWheels, Classes: []layout.Class{layout.LightTruck, layout.Heavy, layout.Bus}, RatingOver: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.Bus},
				Text: "front steered axles of goods vehicles over 3,500 kg, buses and coaches"},
			Authority: finding.LawInUse, Citation: ukAge, Known: finding.Reported,
			Says: ukAgeSays,
		},
	}, ukDamage...),
}
