package rulebook

import (
	"slices"

	"gaugebook.dev/calc/finding"
	"gaugebook.dev/calc/layout"
	"gaugebook.dev/calc/unit"
)

// formerPlaces are the former versions of books of law.
var formerPlaces = []*Book{
	&ukLightThird,
	without(&ukLightThird, "construction", "radial-ahead"),
	without(without(&ukLightThird, "construction", "radial-ahead"), "minibus-age"),
	&ukHeavyThird,
	without(&ukHeavyThird, "construction", "radial-ahead"),
	without(without(&ukHeavyThird, "construction", "radial-ahead"), "minibus-age", "age"),
	without(&euDE, "whole-construction", "winter-speed"),
	&euDESecond,
	without(&euDESecond, "winter-advice"),
	without(&euAT, "winter-depth", "heavy-winter-depth", "heavy-winter-cross-ply"),
	&euFRSecond,
	without(&euFRSecond, "winter-depth"),
	without(&euSK, "towing-pressure"),
	without(without(&euSK, "towing-pressure"), "cord", "construction", "pair-diameter", "axle-diameter", "studs"),
	without(&euCZ, "cord", "construction", "pair-diameter", "axle-diameter", "studs"),
	without(&euFI, "studs"),
	without(&ch, "whole-construction"),
	without(without(&ch, "whole-construction"), "regrooved"),
	without(&euES, "winter-speed"),
	without(&euIT, "winter-speed"),
	without(&euBE, "winter-speed"),
	without(&euPL, "winter-speed"),
	without(&nz, "space-saver"),
	without(without(&nz, "space-saver"), "cut", "cord", "separation", "construction"),
	without(&caON, "cord", "separation"),
	without(&caQC, "major-depth"),
	without(without(&caQC, "major-depth"), "studs"), &caQCFirst,
	without(&usWA, "studs", "heavy-studs"),
	without(&usVA, "space-saver"),
	without(without(&usVA, "space-saver"), "radial-ahead"),
	without(&usMN, "not-for-highway", "regrooved"),
	without(&auWA, "car-speed", "off-road-speed", "other-speed"),
	without(without(&auWA, "car-speed", "off-road-speed", "other-speed"), "regrooved"),
	before(&winterSI, nil, inSeasonAlone(winterSI.Limits)...), &winterSIFirst,
	before(&winterEE, []string{"studs"}, anyDay(winterEE.Limit("depth"))), &winterEEFirst,
	before(&winterLV, []string{"studs"}, anyDay(winterLV.Limit("depth"))), &winterLVFirst,
}

// retired are books that no newer one of their id has replaced: those of their place
// stand in for them. A kept answer may name one.
var retired = []*Book{&winterCZFirst, &winterSKFirst, &winterFIFirst, &winterSEFirst, &winterNOFirst}

// inSeasonAlone are rules on winter tires as they were before they held with wintry roads
// at any time too.
func inSeasonAlone(ls []Limit) []Limit {
	ls = slices.Clone(ls)
	for i := range ls {
		w := *ls[i].Winter
		w.Trigger = InSeason
		ls[i].Winter = &w
	}
	return ls
}

// anyDay is a rule on winter tires as it was before it had a last day of M+S.
func anyDay(l Limit) Limit {
	w := *l.Winter
	w.MudAndSnowUntil = unit.Date{}
	l.Winter = &w
	return l
}

// formerAge is a British rule on age as it was cited and told.
func formerAge(l Limit) Limit {
	l.Citation = "Road Vehicles (Construction and Use) Regulations 1986, reg. 27, as amended in 2020, as reported"
	l.Says = "No tire more than 10 years old, counted from the date on it, of a retread from its retreading; exactly 10 years is not over, where early notices said otherwise. A date that is missing or cannot be read fails a test too. Since February 1, 2021. Not for vehicles of 40 years and more that are not used commercially."
	return l
}

// ukLightThird went by weight alone, and by the class of a car.
var ukLightThird = *before(&ukLight, []string{"part-worn"}, formerAge(minibusAge), Limit{
	ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
	Applies: Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar},
		Text: "passenger vehicles with up to 8 seats besides the driver's, goods vehicles and light trailers up to 3,500 kg"},
	Authority: finding.LawInUse, Citation: reg27 + "(1)(g), (4)(f)", Known: finding.Read,
	Says: "At least 1.6 mm in a continuous band of the central three-quarters of the breadth of tread, round the whole circumference. Paragraph letters and the eight seats are as remembered.",
})

// ukHeavyThird went by weight alone.
var ukHeavyThird = *before(&ukHeavy, []string{"part-worn"}, formerAge(minibusAge), formerAge(ukHeavy.Limit("age")), Limit{
	ID: "depth", Subject: TreadDepth, Value: tread(1.0), Where: AnyThreeQuarters,
	Applies:   Scope{RatingOver: thirtyFiveHundredKilograms, Text: "vehicles and trailers over 3,500 kg"},
	Authority: finding.LawInUse, Citation: reg27 + "(1)(g), (4)(e)", Known: finding.Read,
	Says: "At least 1.0 mm in a continuous band of at least three-quarters of the breadth of tread, not necessarily central, round the whole circumference. Paragraph letters are as remembered.",
})

var euDESecond = Book{
	ID: "eu-de", Version: 2, Country: "DE",
	Title: "Germany (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies:   Scope{Text: "all motor vehicles and trailers, but small motorcycles and mopeds"},
			Authority: finding.LawInUse, Citation: "StVZO § 36 Abs. 2", Known: finding.Read,
			Says: "At least 1.6 mm round the whole tire in the main grooves of about the central three-quarters of the tread.",
		},
		{
			ID: "winter-advice", Subject: WinterAdvised, Value: tread(4),
			Applies:   Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "winter tires of cars"},
			Winter:    &Winter{Trigger: InConditions},
			Authority: finding.CommonPractice, Citation: "German police advice on winter tires, as reported", Known: finding.Reported,
			Says: "Police advise 4 mm on winter tires; the law has no number of its own for winter. Which mark it asks for in wintry conditions was not read: ask.",
		},
	},
}

var euFRSecond = Book{
	ID: "eu-fr", Version: 2, Country: "FR",
	Binds: Binds{AnyRating: []layout.Class{layout.PassengerCar, layout.Bus}}, // their class alone leads to a limit
	Title: "France (law in use)",
	Limits: []Limit{
		{
			ID: "depth", Subject: TreadDepth, Value: tread(1.6), Where: CentralThreeQuarters,
			Applies: Scope{
				Classes:    []layout.Class{layout.PassengerCar, layout.LightTruck, layout.Heavy, layout.Trailer, layout.Motorhome},
				RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar},
				Text: "categories M1, N1, O1 and O2 (cars; goods vehicles and trailers up to 3,500 kg)"},
			Authority: finding.LawInUse, Citation: frenchOrder, Known: finding.Read,
			Says: "At least 1.6 mm in the main grooves. That these lie in about the central three-quarters is from the directive, as remembered.",
		},
		{
			ID: "heavy-depth", Subject: TreadDepth, Value: tread(1), Where: FourPointsOneMayFail,
			Applies: Scope{
				Classes:    []layout.Class{layout.LightTruck, layout.Heavy, layout.Bus, layout.Trailer, layout.Motorhome},
				RatingOver: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.Bus},
				Text: "other categories (buses; goods vehicles and trailers over 3,500 kg)"},
			Authority: finding.LawInUse, Citation: frenchOrder, Known: finding.Read,
			Says: "Of four points equally spaced round the tire, no more than one may show less than 1 mm.",
		},
		{
			ID: "axle-difference", Subject: DepthDifference, Value: tread(5),
			Applies:   Scope{Text: "the two tires of one axle"},
			Authority: finding.LawInUse, Citation: frenchOrder, Known: finding.Read,
			Says: "Main-groove depths of the two tires of one axle differ by no more than 5 mm.",
		},
		{
			ID: "winter-depth", Subject: WinterTire, Value: tread(3.5),
			Applies:   Scope{RatingUpTo: thirtyFiveHundredKilograms, AnyRating: []layout.Class{layout.PassengerCar}, Text: "winter tires of cars, where a sign calls for them"},
			Winter:    &Winter{Trigger: OnSignedRoads},
			Authority: finding.LawInUse, Citation: "French order on winter equipment, as reported by a magazine", Known: finding.Reported,
			Says: "At least 3.5 mm where winter tires are called for. Weakly sourced: ask before relying on it.",
		},
	},
}

var caQCFirst = Book{
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

// winterOnly names in its title a book of which the rules on winter tires alone
// are known: the country's ordinary limit was not read.
func winterAlone(id, country, name string, limits ...Limit) Book {
	return Book{ID: id, Version: 1, Country: country, Title: name + ", winter tires alone", Limits: limits}
}

var (
	czechFirst = &Winter{Trigger: InSeasonAndConditions, From: Day{11, 1}, Until: Day{3, 31}, Required: true}

	winterCZFirst = winterAlone("winter-cz", "CZ", "Czech Republic (law in use, as reported)",
		Limit{
			ID: "depth", Subject: WinterTire, Value: tread(4),
			Applies: upTo3500("all wheels, up to 3,500 kg"), Winter: czechFirst,
			Authority: finding.LawInUse, Citation: "Act 361/2000 § 40a, as reported", Known: finding.Reported,
			Says: "Winter tires of at least 4 mm on all wheels from November 1 to March 31; that the road has to be wintry too is as remembered.",
		},
		Limit{
			ID: "heavy-depth", Subject: WinterTire, Value: tread(6),
			Applies: Scope{Wheels: DrivenWheels, RatingOver: thirtyFiveHundredKilograms, Text: "driven wheels, over 3,500 kg"}, Winter: czechFirst,
			Authority: finding.LawInUse, Citation: "Act 361/2000 § 40a, as reported", Known: finding.Reported,
			Says: "Winter tires of at least 6 mm on the driven wheels from November 1 to March 31; that the road has to be wintry too is as remembered.",
		},
	)
	winterSKFirst = winterAlone("winter-sk", "SK", "Slovakia (law in use, as reported)",
		Limit{
			ID: "depth", Subject: WinterTire, Value: tread(3),
			Applies: upTo3500("winter tires, up to 3,500 kg"), Winter: &Winter{Trigger: InConditions},
			Authority: finding.LawInUse, Citation: "Slovak winter tire duty, as reported by the national news agency", Known: finding.Reported,
			Says: "At least 3 mm on winter tires. That the state of the road calls for them, not a date, is as remembered.",
		},
		Limit{
			ID: "heavy-depth", Subject: WinterTire, Value: tread(6),
			Applies: Scope{RatingOver: thirtyFiveHundredKilograms, Text: "winter tires, over 3,500 kg"}, Winter: &Winter{Trigger: InConditions},
			Authority: finding.LawInUse, Citation: "Slovak winter tire duty, as reported by the national news agency", Known: finding.Reported,
			Says: "At least 6 mm on winter tires over 3,500 kg. That the state of the road calls for them, not a date, is as remembered.",
		},
	)
	slovenianFirst = &Winter{Trigger: InSeason, From: Day{11, 15}, Until: Day{3, 15}, Required: true}
	winterSIFirst  = winterAlone("winter-si", "SI", "Slovenia (law in use, as reported)",
		Limit{
			ID: "season", Subject: WinterTire, Applies: upTo3500("cars"), Winter: slovenianFirst,
			Authority: finding.LawInUse, Citation: "Slovenian winter equipment duty, as reported", Known: finding.Reported,
			Says: "Winter tires from November 15 to March 15.",
		},
		Limit{
			ID: "depth", Subject: WinterAdvised, Value: tread(3), Applies: upTo3500("winter tires of cars"),
			Winter:    &Winter{Trigger: InSeason, From: Day{11, 15}, Until: Day{3, 15}},
			Authority: finding.CommonPractice, Citation: "common practice: a national minimum that is remembered", Known: finding.FromMemory,
			Says: "3 mm on winter tires, as remembered and not read: ask what the law asks for.",
		},
	)
	winterEEFirst = winterAlone("winter-ee", "EE", "Estonia (law in use, as reported)", baltic("Estonian winter tire duty, as reported by a magazine"))
	winterFIFirst = winterAlone("winter-fi", "FI", "Finland (law in use, as reported)", baltic("Finnish winter tire duty, as reported by a magazine"))
	winterSEFirst = winterAlone("winter-se", "SE", "Sweden (as remembered)", remembered(3))
	winterNOFirst = winterAlone("winter-no", "NO", "Norway (as remembered)", remembered(3))
	winterLVFirst = winterAlone("winter-lv", "LV", "Latvia (as remembered)", remembered(4))
)

// baltic is 3 mm by the road, of which no date was read.
func baltic(citation string) Limit {
	return Limit{
		ID: "depth", Subject: WinterTire, Value: tread(3), Applies: upTo3500("winter tires of cars"), Winter: &Winter{Trigger: InConditions},
		Authority: finding.LawInUse, Citation: citation, Known: finding.Reported,
		Says: "At least 3 mm on winter tires. When they are called for was not read; it is taken to be by the state of the road.",
	}
}

// remembered is a national minimum that nobody has read for this book: it is
// never called law.
func remembered(mm float64) Limit {
	return Limit{
		ID: "depth", Subject: WinterAdvised, Value: tread(mm), Applies: upTo3500("winter tires of cars"), Winter: &Winter{Trigger: InConditions},
		Authority: finding.CommonPractice, Citation: "common practice: a national minimum that is remembered", Known: finding.FromMemory,
		Says: "A national minimum for winter tires, as remembered and not read: ask what the law asks for.",
	}
}
